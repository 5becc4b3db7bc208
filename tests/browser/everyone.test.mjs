// For everyone, measured: contrast on the drawn page, focus, text of other sizes and spacings, greyscale, touch. What
// axe-core finds, reflow, targets, motion and the live region are in access.test.mjs, flashes in flash.test.mjs.

import assert from "node:assert/strict";
import { test } from "node:test";
import { touch } from "./finger.mjs";
import { ANSWERS, answerCard, coverIsUp, stage, startLesson, toRest, tour } from "./hands.mjs";
import { atEach, BROWSER, colourfulness, SCREENS, visit } from "./harness.mjs";
import { changed, contrasts, pieces } from "./pixels.mjs";
import { LIMIT_MS, soon, still } from "./waits.mjs";

/** @typedef {import("playwright-core").Page} Page */

/** WCAG 2.2, success criterion 1.4.3, text of any size. */
const TEXT_RATIO = 4.5;
/** WCAG 2.2, success criterion 1.4.11: what shows where a control is, or what a mark says. */
const EDGE_RATIO = 3;
/** WCAG 2.2, success criterion 1.4.6, for whoever asks the machine for more contrast. */
const MORE_RATIO = 7;
/** No page has so many places where the keyboard can stand. */
const MOST_TABS = 150;
/** WCAG 2.2, success criterion 1.4.12. */
const SPACING =
  "* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important } p { margin-bottom: 2em !important }";

/** What a machine may be asked for, and the least contrast of words then. @type {{ name: string, media: Parameters<Page["emulateMedia"]>[0], ratio: number }[]} */
const WISHES = [
  { name: "nothing", media: { forcedColors: "none", contrast: "no-preference" }, ratio: TEXT_RATIO },
  { name: "forced colours", media: { forcedColors: "active", contrast: "no-preference" }, ratio: TEXT_RATIO },
  { name: "more contrast", media: { forcedColors: "none", contrast: "more" }, ratio: MORE_RATIO },
];

/** A few pixels across the left edge of each control and mark: ground, edge, and what is inside. @param {Page} page */
function edges(page) {
  return page.evaluate(() => {
    const all = document.querySelectorAll(
      "button, select, textarea, input[type=text], .chip, .segments span, .letters .here, .ribbons .cursor, .flag-letter",
    );
    return [...all].flatMap((one) => {
      const { borderInlineStartWidth, backgroundColor } = getComputedStyle(one);
      // A way sign has no edge: its words say where it is, and they are measured as words.
      const hasEdge = borderInlineStartWidth !== "0px" || one.matches(".cursor, .here, .flag-letter");
      if (!hasEdge || !one.checkVisibility({ visibilityProperty: true })) return [];
      if (one.closest("[aria-disabled=true], .unseen, .skip")) return [];
      const { x, y, width, height } = one.getBoundingClientRect();
      const top = document.elementFromPoint(x + width / 2, y + height / 2);
      if (!top || !(one.contains(top) || top.contains(one) || one.closest("label")?.contains(top))) return [];
      if (x < 3 || y < 0 || y + height > innerHeight) return [];
      const words = `${one.localName}#${one.id}.${one.className} ${one.textContent?.slice(0, 20)} on ${backgroundColor}`;
      return [{ words, x: Math.round(x) - 3, y: Math.round(y + height / 2), width: 7, height: 2 }];
    });
  });
}

/** What is asked for in one tour: in Firefox one thing, which it is told as it starts. */
const TOURS = BROWSER === "firefox" ? WISHES.map((wish) => [wish]) : [WISHES];

for (const wishes of TOURS)
  test(`asked for ${wishes.map(({ name }) => name).join(", ")}, every word on the drawn page stands out from its ground by ${TEXT_RATIO}:1, by ${MORE_RATIO}:1 where more contrast is wished, every edge and mark by ${EDGE_RATIO}:1`, {
    timeout: LIMIT_MS,
  }, async (t) => {
    const { page } = await visit(t, { context: wishes[0].media ?? {} });
    const read = new Map(wishes.map(({ name }) => [name, { count: 0, least: Number.POSITIVE_INFINITY }]));
    let seen = 0;
    await tour(page, async (where) => {
      for (const { name, media, ratio } of wishes) {
        await page.emulateMedia(media);
        await still(page);
        const measured = await contrasts(page, await pieces(page));
        const sum = /** @type {{ count: number, least: number }} */ (read.get(name));
        sum.count += measured.length;
        sum.least = Math.min(sum.least, ...measured.map((piece) => piece.ratio));
        assert.deepEqual(
          measured.filter((piece) => piece.ratio < ratio),
          [],
          `${where}, asked for ${name}`,
        );
      }
      if (wishes[0] !== WISHES[0]) return;
      await page.emulateMedia(WISHES[0].media);
      await still(page);
      const around = await edges(page);
      seen += around.length;
      assert.deepEqual(
        (await contrasts(page, around)).filter(({ ratio }) => ratio < EDGE_RATIO),
        [],
        where,
      );
    });
    for (const [name, { count, least }] of read) {
      t.diagnostic(`${count} pieces of text, asked for ${name}: the least contrast ${least.toFixed(2)}:1`);
      assert.ok(count > 200, name);
    }
    if (wishes[0] !== WISHES[0]) return;
    t.diagnostic(`${seen} edges`);
    assert.ok(seen > 100, `${seen} edges were seen`);
  });

test("held at the fastest speed nothing on the screen moves; let go it does", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await page.check("input[name=speed][value='16']");
  await answerCard(page, ANSWERS);
  await coverIsUp(page);
  await page.click("#hold");
  await still(page);
  assert.equal(await page.evaluate(() => document.getAnimations().length), 0);
  const before = await page.screenshot();
  await page.waitForTimeout(1500);
  assert.ok(before.equals(await page.screenshot()), "the same screen, to the last pixel");
  await page.click("#hold");
  await soon(async () => assert.ok(!before.equals(await page.screenshot())));
});

test("the keyboard walks the page in the order in which it is read, is always seen, and comes round", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await still(page);
  assert.equal(await page.locator("[tabindex]:not([tabindex='0']):not([tabindex='-1'])").count(), 0);
  // From the top of the page: the first stop is the way past its head.
  await page.focus(".skip");
  /** @type {string[]} */
  const walked = [];
  for (let tabs = 0; tabs < MOST_TABS; tabs++) {
    if (tabs > 0) await page.keyboard.press("Tab");
    const here = await page.evaluate(() => {
      const one = document.activeElement;
      if (!one || one === document.body) return null;
      const seen = /** @type {any} */ (globalThis);
      const isLater =
        !seen.lastStop || Boolean(seen.lastStop.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_FOLLOWING);
      seen.lastStop = one;
      // The ring of a hidden radio button is drawn around its label.
      const drawn = one.closest(".chip, .option, .segments label") ?? one;
      const box = drawn.getBoundingClientRect();
      const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
      const isFree = top !== null && (drawn.contains(top) || top.contains(drawn));
      return {
        name: one.id || one.getAttribute("aria-label") || one.textContent || one.localName,
        isLater,
        isFree,
        box: { x: box.x, y: box.y, width: box.width, height: box.height },
      };
    });
    if (!here) break;
    walked.push(here.name);
    assert.ok(here.isLater, `${here.name} comes before ${walked.at(-2)} in the page`);
    assert.ok(here.isFree, `${here.name} lies under something else`);
    const clip = {
      x: Math.max(0, here.box.x - 6),
      y: Math.max(0, here.box.y - 6),
      width: here.box.width + 12,
      height: here.box.height + 12,
    };
    const focused = await page.screenshot({ clip, animations: "disabled" });
    await page.evaluate(() => {
      const kept = /** @type {any} */ (globalThis);
      kept.here = document.activeElement;
      kept.here.blur();
    });
    const blurred = await page.screenshot({ clip, animations: "disabled" });
    await page.evaluate(() => /** @type {any} */ (globalThis).here.focus({ focusVisible: true, preventScroll: true }));
    // A ring of one pixel along the longer sides at the very least (2.4.13 asks for two around the whole).
    const least = Math.max(here.box.width, here.box.height);
    assert.ok((await changed(page, focused, blurred)) >= least, `${here.name}: its focus can hardly be seen`);
  }
  t.diagnostic(walked.join(", "));
  assert.ok(walked.length > 12 && walked.length < MOST_TABS, "no trap");
  // Look and clock lie on the stage, the question behind it, as it is read.
  const place = (/** @type {string} */ id) => walked.indexOf(id);
  assert.ok(place("stage") >= 0 && place("stage") < place("hold"));
});

/** Words that are cut off, where nothing scrolls to them. @param {Page} page @returns {Promise<string[]>} */
function cutOff(page) {
  return page.evaluate(() =>
    [...document.querySelectorAll("button, label, legend, summary, p, h1, h2, h3, td, th, dt, dd, li")]
      .filter((one) => one.checkVisibility({ visibilityProperty: true }) && !one.closest(".unseen, .skip"))
      .filter((one) => /hidden|clip/.test(getComputedStyle(one).overflow) && getComputedStyle(one).clipPath === "none")
      .filter((one) => one.scrollWidth > one.clientWidth + 1 || one.scrollHeight > one.clientHeight + 1)
      .map((one) => `${one.localName} "${one.textContent?.slice(0, 50)}"`),
  );
}

/** Nobody has to scroll sideways, and no word is cut off. @param {Page} page @param {string} where */
async function fits(page, where) {
  assert.deepEqual(await cutOff(page), [], where);
  const { wide, limit, outside } = await page.evaluate(() => {
    const far = [...document.querySelectorAll("body *")].filter(
      (one) => one.getBoundingClientRect().right > innerWidth + 0.5,
    );
    return {
      wide: document.documentElement.scrollWidth,
      limit: innerWidth,
      outside: far.filter((one) => !one.closest(".unseen")).map((one) => `${one.localName}.${one.className}#${one.id}`),
    };
  });
  assert.ok(wide <= limit, `${where}: ${wide} px wide: ${outside.join("; ")}`);
}

/** What is a control is the browser's own, and what is a picture has a name. @param {Page} page @param {string} where */
async function named(page, where) {
  const found = await page.evaluate(() => {
    const played = document.querySelectorAll(
      "[role=button], [role=link], [role=checkbox], [role=radio], [role=slider], [role=tab], [role=textbox], [onclick]",
    );
    const shown = (/** @type {Element} */ one) => one.checkVisibility({ visibilityProperty: true });
    const pictures = [...document.querySelectorAll("canvas, svg")].filter(
      (one) => shown(one) && !one.closest("[aria-hidden=true]"),
    );
    // What only shows when a mouse rests on it is lost to a finger and to the keyboard.
    const hovered = document.querySelectorAll("body [title]");
    return {
      played: [...played, ...hovered].map((one) => one.outerHTML.slice(0, 80)),
      nameless: pictures
        .filter((one) => !one.closest("[role=img][aria-label]") && !one.closest("button, label, figure"))
        .map((one) => one.outerHTML.slice(0, 80)),
    };
  });
  assert.deepEqual(found.played, [], where);
  assert.deepEqual(found.nameless, [], where);
}

/** Puts a style over the page's own, in place of the one before. @param {Page} page @param {string} rules */
function dressed(page, rules) {
  return page.evaluate((rules) => {
    const own = new CSSStyleSheet();
    own.replaceSync(rules);
    document.adoptedStyleSheets = [own];
  }, rules);
}

test("text spaced wider or twice as large is cut off nowhere, controls are the browser's own, help stands in one place", async (t) => {
  const { page } = await visit(t);
  const corners = new Set();
  await tour(page, async (where) => {
    await named(page, where);
    const help = await page.locator("[data-place=about]").boundingBox();
    corners.add(`${Math.round(help?.x ?? Number.NaN)}, ${Math.round(help?.y ?? Number.NaN)}`);
    await dressed(page, SPACING);
    await atEach(page, [SCREENS.laptop, SCREENS.phone], ({ width }) =>
      fits(page, `${where}, spaced wider, ${width} px`),
    );
    await dressed(page, "html { font-size: 200% !important }");
    await fits(page, `${where}, twice as large`);
    await dressed(page, "");
  });
  assert.equal(corners.size, 1, [...corners].join("; "));
});

test("in greyscale every colour keeps a pattern of its own beside its letter and its word", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  const chips = await page.locator("fieldset.question .chip").all();
  assert.equal(chips.length, 8);
  assert.ok((await colourfulness(page, chips[0])) > 0);
  await dressed(page, "html { filter: grayscale(1) }");
  assert.equal(await colourfulness(page, chips[0]), 0);
  const drawn = await Promise.all(
    chips.map(async (chip) => (await chip.locator("svg").screenshot()).toString("base64")),
  );
  assert.equal(new Set(drawn).size, chips.length, "no two chips look alike");
  // Not even where a poor print leaves no grey: their lines differ too.
  const lines = await page.locator("pattern path").evaluateAll((all) => all.map((one) => one.getAttribute("d")));
  assert.equal(new Set(lines).size, chips.length, "no two have the same pattern");
  const letters = await Promise.all(chips.map((chip) => chip.innerText()));
  assert.equal(new Set(letters.map((words) => words.trim()[0])).size, chips.length, letters.join(" "));
  // And what is seen at rest can be named from the words beneath the beakers.
  await answerCard(page, ANSWERS);
  await toRest(page);
  await still(page);
  for (const beaker of await page.locator(".beaker").all())
    assert.match(
      await beaker.innerText(),
      /(red|orange|yellow|lime|green|teal|blue|violet)[\s\S]*(clear|hazy|cloudy|milky)/,
    );
  // These words are seen in grey as well, and the letter of the band stands out of its strip.
  const words = await page.locator(".beaker-words").evaluateAll((all) => all.map((one) => one.textContent ?? ""));
  const read = (await contrasts(page, await pieces(page))).filter((piece) =>
    words.some((all) => all.includes(piece.words)),
  );
  assert.ok(read.length >= 9, `${read.length} pieces`);
  assert.deepEqual(
    read.filter(({ ratio }) => ratio < TEXT_RATIO),
    [],
  );
});

test("a finger alone plays a dose on a phone", async (t) => {
  const { page } = await visit(t, {
    screen: SCREENS.phone,
    context: { hasTouch: true, isMobile: true },
  });
  await page.evaluate(() => {
    const counted = /** @type {any} */ (globalThis);
    counted.clicks = 0;
    addEventListener("click", () => counted.clicks++, true);
  });
  const clicks = () => page.evaluate(() => /** @type {any} */ (globalThis).clicks);
  /** The browser makes a click of it only after the finger has left the screen. @param {import("playwright-core").Locator} control */
  const tap = async (control) => {
    const before = await clicks();
    await touch(control);
    await soon(async () => assert.ok((await clicks()) > before, "a tap was lost"));
  };
  const onward = page.locator("#card .primary");
  await tap(onward);
  for (let taps = 0; (await stage(page)) !== "explain"; taps++) {
    assert.ok(taps < 400, `stuck in ${await stage(page)}`);
    const here = await stage(page);
    if (here === "watch") {
      await coverIsUp(page);
      await tap(page.locator("#next"));
      continue;
    }
    const never = page.locator("fieldset.question input[value=never]");
    const radio = (await never.count()) ? never : page.locator("fieldset.question input[type=radio]").first();
    if (await radio.count()) await tap(radio.locator("xpath=ancestor::label[1]"));
    await tap(onward);
  }
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth));
});
