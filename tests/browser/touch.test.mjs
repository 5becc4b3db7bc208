// With a finger, or with a mouse held by an unsteady hand (WCAG 2.2, success criteria 2.5.1 to 2.5.8): sizes at every stage
// and place of a phone, what lies together, nothing done before the release, nothing by dragging alone, names as written.

import assert from "node:assert/strict";
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { touch } from "./finger.mjs";
import { ANSWERS, answerCard, coverIsUp, stage, startLesson, toRest, tour } from "./hands.mjs";
import { PAGE_ROOT, SCREENS, screenshot, visit } from "./harness.mjs";
import { soon, still } from "./waits.mjs";

/** @typedef {import("playwright-core").Page} Page */

/** The size of a control, CSS px: what a finger needs (2.5.8 asks for 24). */
const TARGET_PX = 44;
const PHONE = { screen: SCREENS.phone, context: { hasTouch: true, isMobile: true } };
/** What a phone of 844 px leaves to the page between the bars of its browser, px: common practice, no source. */
const BETWEEN_BARS = 664;
/** What can be pressed, chosen, typed into or slid. */
const CONTROLS = "button, select, summary, textarea, a[href], input:not([type=hidden])";
/** Modules that hear of a pointer that is held down, each with what does the same without. */
const DRAGS = new Map([
  ["plot.js", "keys and buttons move the reading mark and the window: trace.test.mjs"],
  ["alignment.js", "typed seconds and keys move the doses on a recording: recordings.test.mjs"],
  [
    "glossary.js",
    "it only keeps the focus where it is until the word is released; Enter does the same: spoken.test.mjs",
  ],
]);

/** What a finger meets beside the stages and places: a time that was taken, and what folds up. @param {Page} page @param {(where: string) => Promise<void>} look */
const everywhere = (page, look) =>
  tour(page, look, {
    held: async () => {
      await page.locator(".timing-buttons button").first().click();
      await look("watch, a time taken");
    },
    at: async (place) => {
      for (const box of await page.locator(`#${place}-place summary:visible`).all()) await box.click();
    },
  });

test("at 390 x 844 every control of every stage and place is large enough for a finger", async (t) => {
  const { page } = await visit(t, PHONE);
  let measured = 0;
  await everywhere(page, async (where) => {
    const found = await page.evaluate(
      ({ controls, least }) => {
        /** A small box is pressed by its label. @param {Element} one */
        const target = (one) => {
          const isBox = one instanceof HTMLInputElement && /^(radio|checkbox)$/.test(one.type);
          return isBox ? (one.labels?.[0] ?? one) : one;
        };
        // What stands in a sentence is as high as its line (2.5.8, "inline"); a term is a little higher.
        const isInline = (/** @type {Element} */ one) =>
          (one.localName === "a" && one.parentElement?.textContent !== one.textContent) ||
          (one.matches(".term") && Math.min(one.clientHeight, one.clientWidth) >= 24);
        const seen = [...document.querySelectorAll(controls)]
          .filter((one) => one.checkVisibility({ visibilityProperty: true }) && !one.closest(".unseen, .skip"))
          .filter((one) => !one.matches(".skip") && !isInline(one))
          .map((one) => ({
            words: `${one.localName}#${one.id} ${one.textContent}`,
            box: target(one).getBoundingClientRect(),
          }));
        return {
          count: seen.length,
          small: seen
            .filter(({ box }) => box.height < least - 0.5 || box.width < least - 0.5)
            .map(({ words, box }) => `${words.slice(0, 60)}: ${box.width.toFixed(1)} x ${box.height.toFixed(1)}`),
        };
      },
      { controls: CONTROLS, least: TARGET_PX },
    );
    measured += found.count;
    assert.deepEqual(found.small, [], where);
  });
  t.diagnostic(`${measured} controls`);
  assert.ok(measured > 150, `${measured} controls were found`);
});

for (const beakers of [3, 2])
  test(`on a phone the ${beakers} beakers, what is pressed when one is back, and the clock are seen at once`, async (t) => {
    const { page } = await visit(t, PHONE);
    if (beakers < 3) {
      await page.click("[data-place=plan]");
      await page.getByRole("button", { name: "One beaker less" }).click();
      await page.getByRole("button", { name: "Use this recipe" }).click();
    }
    await startLesson(page);
    await answerCard(page, { ...ANSWERS, first: "1" });
    await coverIsUp(page);
    await page.evaluate(() => scrollTo(0, 0));
    assert.equal(await stage(page), "watch");
    const boxes = await page.evaluate(() => {
      const of = (/** @type {string} */ selector) =>
        [...document.querySelectorAll(selector)].map((one) => {
          const { left, right, top, bottom } = one.getBoundingClientRect();
          return { left, right, top, bottom };
        });
      return { glasses: of(".glass"), backs: of(".timing-buttons button"), hold: of("#hold"), head: of(".masthead") };
    });
    assert.equal(boxes.backs.length, boxes.glasses.length);
    for (const [beaker, glass] of boxes.glasses.entries()) {
      const back = boxes.backs[beaker];
      assert.ok(
        glass.top >= 0 && back.bottom <= BETWEEN_BARS,
        `beaker ${beaker}: from ${glass.top} to ${back.bottom} px`,
      );
      const middle = (back.left + back.right) / 2;
      assert.ok(middle > glass.left && middle < glass.right, `the button of beaker ${beaker} stands below it`);
    }
    assert.ok(boxes.hold[0].bottom <= SCREENS.phone.height, `hold ends at ${boxes.hold[0].bottom} px`);
    assert.ok(boxes.head[0].bottom <= 48, `the head takes ${boxes.head[0].bottom} px`);
    // The order of the keyboard is that of the eye: beakers, times, clock.
    const tops = await page.evaluate(() =>
      ["stage", "finish", "hold", "next"].map((id) => document.getElementById(id)?.getBoundingClientRect().top ?? -1),
    );
    assert.deepEqual(
      tops,
      [...tops].sort((one, other) => one - other),
    );
    await screenshot(page, `phone-watch-${beakers}`);
  });

test("on a phone every place is reached along the head, and its sign comes into sight", async (t) => {
  const { page } = await visit(t, PHONE);
  const places = await page
    .locator("#places button:visible")
    .evaluateAll((all) => all.map((sign) => String(/** @type {HTMLElement} */ (sign).dataset.place)));
  assert.ok(places.length >= 9);
  const language = page.locator("#language");
  for (const place of [...places, ...places.reverse()]) {
    await page.evaluate(
      (key) => document.querySelector(`[data-place=${key}]`)?.scrollIntoView({ inline: "end" }),
      places[0],
    );
    await page.locator(`[data-place=${place}]`).focus();
    await page.keyboard.press("Enter");
    const sign = await page.locator(`[data-place=${place}]`).boundingBox();
    const end = await language.boundingBox();
    assert.ok(sign && end);
    assert.ok(
      sign.x >= -0.5 && sign.x + sign.width <= end.x + 0.5,
      `${place} from ${sign.x} to ${sign.x + sign.width}, before ${end.x}`,
    );
    assert.ok(end.x + end.width <= SCREENS.phone.width + 0.5, "the language stays in sight");
  }
});

test("whoever slips off a control before letting go has pressed nothing", async (t) => {
  const { page } = await visit(t);
  let tried = 0;
  const slip = async (/** @type {string} */ where) => {
    await still(page);
    const before = await page.locator("main").innerHTML();
    const here = page.url();
    const controls = page.locator(
      "button:visible, summary:visible, .chip:visible, .option:visible, .segments label:visible",
    );
    for (const control of await controls.all()) {
      await control.scrollIntoViewIfNeeded();
      const box = await control.boundingBox();
      if (!box) continue;
      await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
      await page.mouse.down();
      // Nothing can be pressed on the heading of the page.
      await page.mouse.move(2, 2);
      await page.mouse.up();
      tried++;
      assert.equal(await page.locator("main").innerHTML(), before, `${where}: ${await control.textContent()}`);
    }
    assert.equal(page.url(), here, where);
  };
  await slip("brief");
  await startLesson(page);
  await slip("ask");
  await answerCard(page, ANSWERS);
  await coverIsUp(page);
  await page.click("#hold");
  await slip("watch, held");
  t.diagnostic(`${tried} controls were left before the release`);
  assert.ok(tried > 40);
});

test("nothing is done by dragging alone", async () => {
  const names = (await readdir(PAGE_ROOT)).filter((name) => name.endsWith(".js"));
  for (const name of names) {
    const script = await readFile(join(PAGE_ROOT, name), "utf8");
    const follows = /\b(pointerdown|pointermove|mousedown|mousemove|touchstart|touchmove|dragstart)\b/.exec(script);
    assert.ok(!follows || DRAGS.has(name), `${name} follows ${follows?.[0]}: what does the same without dragging?`);
  }
});

test("a tap on the slider looks back as a drag would", async (t) => {
  const { page } = await visit(t, PHONE);
  await startLesson(page);
  await answerCard(page, ANSWERS);
  await toRest(page);
  await still(page);
  const slider = page.locator("input.look");
  await slider.scrollIntoViewIfNeeded();
  const box = await slider.boundingBox();
  assert.ok(box);
  const before = Number(await slider.inputValue());
  await touch(slider);
  // The browser makes a click of it only after the finger has left the screen.
  await soon(async () => {
    const after = Number(await slider.inputValue());
    assert.ok(after < before && after > 0, `${before} s, then ${after} s`);
  });
});

test("what is written on a control is in its name", async (t) => {
  const { page } = await visit(t);
  let named = 0;
  await everywhere(page, async (where) => {
    const others = await page.evaluate((controls) => {
      const plain = (/** @type {string} */ words) => words.toLowerCase().replace(/\s+/g, " ").trim();
      const named = [...document.querySelectorAll(controls)].filter(
        (one) =>
          one.checkVisibility({ visibilityProperty: true }) &&
          (one.hasAttribute("aria-label") || one.hasAttribute("aria-labelledby")),
      );
      const wrong = named.flatMap((one) => {
        const by = (one.getAttribute("aria-labelledby") ?? "").split(" ").filter(Boolean);
        const name = by.length
          ? by.map((id) => document.getElementById(id)?.textContent ?? "").join(" ")
          : String(one.getAttribute("aria-label"));
        const labels = /** @type {HTMLInputElement} */ (one).labels;
        const written = labels?.length ? labels[0].innerText : /** @type {HTMLElement} */ (one).innerText;
        const isChoice = one.localName === "select" || one.localName === "textarea";
        return isChoice && !labels?.length ? [] : plain(name).includes(plain(written)) ? [] : [`${written} / ${name}`];
      });
      return { count: named.length, wrong };
    }, CONTROLS);
    named += others.count;
    assert.deepEqual(others.wrong, [], where);
  });
  t.diagnostic(`${named} controls have a name of their own`);
  assert.ok(named > 0);
});
