// For everyone: what axe-core finds in every state, the words, the sizes of screens, the wishes of person and machine.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import {
  ANSWERS,
  answerCard,
  answerQuestion,
  asked,
  comesTo,
  coverIsUp,
  goOn,
  pictures,
  press,
  stage,
  startLesson,
  toRest,
  toSummary,
} from "./hands.mjs";
import { atEach, PAGE_ROOT, SCREENS, visit } from "./harness.mjs";
import { framesAsked, LIMIT_MS, PATIENCE_MS, runsTo, soon, still } from "./waits.mjs";

/** @typedef {import("playwright-core").Page} Page */

/** The size of a main control, CSS px: what a finger needs. */
const TARGET_PX = 44;
/** A laptop with the bars of the browser and the system. */
const LOW_LAPTOP = { width: 1366, height: 600 };
const NARROWEST = { width: 320, height: 640 };

/** Keys of sentences that the page shows instead of the sentences. @param {Page} page @returns {Promise<string[]>} */
function missingSentences(page) {
  return page.evaluate(() => document.body.innerText.match(/\b[a-z]+(?:\.[a-zA-Z]+)+\b(?!\/)/g) ?? []);
}

/**
 * Walks through every state that the page has, and looks at each.
 * @param {Page} page
 * @param {(state: string) => Promise<void>} look
 */
async function walk(page, look) {
  await look("brief");
  await page.locator("#card .term").first().click();
  await look("a term and its sentence");
  await page.keyboard.press("Escape");
  await startLesson(page);
  await page.click("#card button[type=submit]");
  await look("a question left open");
  while ((await stage(page)) === "ask") {
    await look(`asking ${await asked(page)}`);
    await answerQuestion(page, ANSWERS);
  }
  await coverIsUp(page);
  await runsTo(page, 0);
  await look("watching");
  await page.keyboard.press("h");
  await look("held");
  await page.keyboard.press("h");
  await toRest(page);
  await look("seeing");
  await page.keyboard.press("ArrowLeft");
  await look("looking back");
  await answerCard(page, ANSWERS);
  await look("what happened");
  const forward = page.locator("#card .primary");
  for (let pages = 2; (await forward.innerText()) !== "Next dose"; pages++) {
    await forward.click();
    await look(`explanation, page ${pages}`);
  }
  await press(page, "Trace");
  await look("trace");
  await press(page, "Ledger");
  await look("ledger");
  await press(page, "My own");
  await page.getByRole("button", { name: "Check my ledger" }).click();
  await look("one's own ledger");
  await press(page, "Plan");
  await look("plan");
  await page.fill("#plan-waterMl", "abc");
  await page.getByRole("button", { name: "Use this recipe" }).click();
  await look("plan with an error");
  // A lesson of one dose comes to its end at once.
  await page.fill("#plan-waterMl", "500");
  await page.fill("#plan-acidDoses", "1");
  await page.fill("#plan-baseDoses", "0");
  await page.getByRole("button", { name: "Use this recipe" }).click();
  await startLesson(page);
  await answerCard(page, ANSWERS);
  await toRest(page);
  await answerCard(page, ANSWERS);
  await goOn(page);
  assert.equal(await stage(page), "end");
  await look("a last question");
  await answerQuestion(page, ANSWERS);
  await look("what was asked");
  await toSummary(page);
  await look("end");
  await page.click("#card .primary");
  assert.equal(await stage(page), "free");
  for (const part of await page.locator("#card summary").all()) await part.click();
  await look("free bench");
  await page.fill("#free-volume", "1e9");
  await page.getByRole("button", { name: "Pour acid" }).click();
  await look("free bench with an error");
}

/**
 * What a state breaks of one rule, a line for each place.
 * @typedef {(page: Page) => Promise<string[]>} Rule
 */

/** @type {Rule} */
async function notWider(page) {
  const { wide, tops } = await page.evaluate(() => ({
    wide: document.documentElement.scrollWidth,
    tops: [...document.querySelectorAll(".glass canvas")].map((canvas) =>
      Math.round(canvas.getBoundingClientRect().top),
    ),
  }));
  const broken = [];
  if (wide > screen(page).width) broken.push(`${wide} px wide`);
  if (new Set(tops).size !== 1) broken.push(`pictures begin at ${tops}`);
  return broken;
}

/** @type {Rule} */
async function withoutScrolling(page) {
  if (!(await page.isVisible("#bench-place"))) return [];
  const wanted = ["#stage", ".glass canvas", ".ribbons", "#hold", "#next", ".look", "#big"];
  if (await page.locator("#card-heading").isVisible()) wanted.push("#card-heading");
  if (await page.locator("#card .card-foot button").count()) wanted.push("#card .card-foot button");
  if (await page.locator("#card fieldset.question").count()) wanted.push("#card fieldset.question");
  const broken = [];
  for (const selector of wanted) {
    const box = await page.locator(selector).first().boundingBox();
    if (!box) broken.push(`${selector} has no place`);
    else if (box.y < 0 || box.y + box.height > screen(page).height + 0.5)
      broken.push(`${selector} ends at ${box.y + box.height}`);
  }
  if (await page.evaluate(() => document.documentElement.scrollHeight > innerHeight)) broken.push("it scrolls");
  return broken;
}

/** @type {Rule} */
function largeEnough(page) {
  return page.evaluate((least) => {
    const targets = [
      ...document.querySelectorAll("button, select, summary, .chip, .option, .segments label, input[type=text]"),
    ];
    return targets
      .filter((one) => one.getClientRects().length > 0 && !one.closest(".unseen, .term"))
      .map((one) => ({ words: one.textContent || one.id, box: one.getBoundingClientRect() }))
      .filter(({ box }) => box.height < least - 0.5 || box.width < least - 0.5)
      .map(({ words, box }) => `${words}: ${box.width} x ${box.height}`);
  }, TARGET_PX);
}

/** @param {Page} page */
function screen(page) {
  return /** @type {{width: number, height: number}} */ (page.viewportSize());
}

/** What holds in every state, on every screen. @type {Record<string, Rule>} */
const EVERYWHERE = { "nothing is cut off sideways and the beakers stand in one row": notWider };
/** And what holds besides on one of them; the walk is made on the first. @type {[{ width: number, height: number }, Record<string, Rule>][]} */
const ON_SCREENS = [
  [
    LOW_LAPTOP,
    {
      "axe-core finds no barrier": barriers,
      "every state speaks in sentences": missingSentences,
      "the whole bench and every main control can be seen without scrolling": withoutScrolling,
    },
  ],
  [SCREENS.laptop, {}],
  [SCREENS.zoomed, {}],
  [
    SCREENS.phone,
    { "axe-core finds no barrier": barriers, "main controls are large enough for a finger": largeEnough },
  ],
  [NARROWEST, {}],
];

test("in every state and at every size nothing is cut off, nothing bars the way, and what is needed is in sight", {
  timeout: LIMIT_MS,
}, async (t) => {
  const { page } = await visit(t, { screen: LOW_LAPTOP });
  let states = 0;
  await walk(page, async (state) => {
    states++;
    const rules = new Map(ON_SCREENS);
    await atEach(page, [...rules.keys()], async (size) => {
      for (const [rule, breaks] of Object.entries({ ...EVERYWHERE, ...rules.get(size) }))
        assert.deepEqual(await breaks(page), [], `${state} at ${size.width} x ${size.height}: ${rule}`);
    });
  });
  t.diagnostic(`${states} states`);
  assert.ok(states >= 18);
});

test("axe-core finds no barrier at a phone's width and after a refused link", async (t) => {
  const { page } = await visit(t, { screen: SCREENS.phone, path: "/#v1.broken" });
  await page.waitForSelector("#trouble:not([hidden])");
  assert.deepEqual(await barriers(page), []);
  await startLesson(page);
  assert.deepEqual(await barriers(page), []);
});

test("what the canvas shows also stands in words, and colour is never alone", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  for (const chip of await page.locator(".chip").all()) {
    assert.match(await chip.innerText(), /[ROYLGTBV]\s*\w+/, "a chip has its letter and its word");
    assert.equal(await chip.locator("svg rect").count(), 2, "and its pattern");
  }
  await answerCard(page, ANSWERS);
  await toRest(page);
  await still(page);
  for (const figure of await page.locator(".beaker").all()) {
    const words = await figure.innerText();
    assert.match(words, /\d+\.\d °C/);
    assert.match(words, /red|orange|yellow|lime|green|teal|blue|violet/);
    assert.match(words, /clear|hazy|cloudy|milky/);
    assert.match(words, /300 s after dose 1/);
    // Without its role a picture's name is told to nobody.
    const label = String(await figure.locator("canvas[role=img]").getAttribute("aria-label"));
    assert.ok(label.length <= 80, `a short name: ${label}`);
    assert.match(label, /°C: (pale )?\w+, (clear|hazy|cloudy|milky)/);
    assert.equal(await figure.locator(".letters .here").count(), 1);
  }
});

test("the live region tells events, and lets each be heard before the next", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  assert.equal(await page.locator("[role=status], [aria-live]:not([aria-live=off])").count(), 1, "one region speaks");
  await page.evaluate(() => {
    const region = /** @type {HTMLElement} */ (document.getElementById("status"));
    const heard = /** @type {any} */ (globalThis);
    heard.heard = [];
    new MutationObserver(() => heard.heard.push([performance.now(), region.textContent])).observe(region, {
      childList: true,
      characterData: true,
      subtree: true,
    });
  });
  await page.check("input[name=speed][value='16']");
  await answerCard(page, ANSWERS);
  await comesTo(page, "see");
  // What waits is said within two and a half seconds; what was said already must not come again with it.
  await page.waitForTimeout(3000);
  await page.waitForFunction(
    () => /** @type {any} */ (globalThis).heard.some((/** @type {string[]} */ [, said]) => said.includes("At rest")),
    null,
    { timeout: PATIENCE_MS },
  );
  const heard = await page.evaluate(() => /** @type {[number, string][]} */ (/** @type {any} */ (globalThis).heard));
  const all = heard.map(([, sentence]) => sentence).join(" ");
  t.diagnostic(heard.map(([at, sentence]) => `${(at / 1000).toFixed(1)} s: ${sentence}`).join("\n"));
  assert.match(all, /Acid dose 1 poured/);
  for (const celsius of ["2", "21", "34"])
    assert.match(all, new RegExp(`\\b${celsius} °C turned back after \\d+ seconds`));
  assert.match(all, /At rest/);
  // Each event once: in one message, and over all of them.
  const told = all.match(/[^.!?]+[.!?](?=\s|$)/g)?.map((sentence) => sentence.trim()) ?? [];
  assert.ok(told.length >= 5, all);
  assert.deepEqual(
    told.filter((sentence, index) => told.indexOf(sentence) < index),
    [],
    "nothing is told twice",
  );
  for (let message = 1; message < heard.length; message++)
    assert.ok(heard[message][0] - heard[message - 1][0] >= 2000, "two seconds apart");
});

test("the skip link leads to the card and leaves the address, which belongs to the lesson, alone", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  const address = page.url();
  await page.focus(".skip");
  await page.keyboard.press("Enter");
  assert.equal(await page.evaluate(() => document.activeElement?.id), "card-heading");
  assert.equal(page.url(), address);
  assert.equal(await stage(page), "ask");
  assert.ok(await page.locator("#trouble").isHidden());
});

test("in the big view the card leaves while a dose runs, and the pictures grow", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await answerCard(page, ANSWERS);
  await coverIsUp(page);
  const small = await page.locator(".glass").first().boundingBox();
  await page.click("#big");
  assert.ok(await page.locator("#card").isHidden());
  const big = await page.locator(".glass").first().boundingBox();
  assert.ok(small && big && big.width > 1.3 * small.width, `${small?.width} px, then ${big?.width} px`);
  await toRest(page);
  assert.ok(await page.locator("#card").isHidden(), "the class says aloud what it saw");
  await page.click("#class-key");
  await comesTo(page, "explain");
  assert.ok(await page.locator("#card").isVisible(), "and it comes back with what happened");
});

test("letters are shortcuts only while the stage has the focus", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await answerCard(page, ANSWERS);
  await coverIsUp(page);
  await page.focus("#big");
  await page.keyboard.press("n");
  await page.keyboard.press("h");
  assert.equal(await stage(page), "watch");
  assert.equal(await page.locator("#hold").innerText(), "Hold");
  await page.focus("#stage");
  await page.keyboard.press("h");
  assert.equal(await page.locator("#hold").innerText(), "Carry on");
});

test("capability 5: hold stops the clock and the work, carry on goes on where it was", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await answerCard(page, ANSWERS);
  await coverIsUp(page);
  await runsTo(page, 1);
  await page.click("#hold");
  await still(page);
  const frames = await framesAsked(page);
  const held = await pictures(page);
  const words = await page.locator(".controls .time").innerText();
  await page.waitForTimeout(1500);
  assert.equal(await framesAsked(page), frames, "no frame is asked for");
  assert.deepEqual(await pictures(page), held);
  assert.equal(await page.locator(".controls .time").innerText(), words);
  await page.click("#hold");
  await soon(async () => assert.notEqual(await page.locator(".controls .time").innerText(), words));
  assert.ok((await framesAsked(page)) > frames, "and frames are counted");
});

test("with reduced motion the card lifts at once and the pictures change at most once a second", async (t) => {
  const { page } = await visit(t, { context: { reducedMotion: "reduce" } });
  await startLesson(page);
  assert.equal(
    await page.evaluate(
      () => getComputedStyle(/** @type {Element} */ (document.querySelector(".cover-sheet"))).transitionDuration,
    ),
    "0s",
  );
  await page.evaluate(() => {
    const counted = /** @type {any} */ (globalThis);
    counted.painted = 0;
    const put = CanvasRenderingContext2D.prototype.putImageData;
    CanvasRenderingContext2D.prototype.putImageData = function (/** @type {any[]} */ ...given) {
      if (this.canvas.closest(".glass")) counted.painted++;
      return /** @type {any} */ (put).apply(this, given);
    };
  });
  await answerCard(page, ANSWERS);
  assert.equal(
    await page.evaluate(
      () => getComputedStyle(/** @type {Element} */ (document.querySelector(".cover-sheet"))).visibility,
    ),
    "hidden",
  );
  const look = () => page.evaluate(() => ({ at: performance.now(), painted: /** @type {any} */ (globalThis).painted }));
  const before = await look();
  await page.waitForTimeout(4000);
  await soon(async () => assert.ok((await look()).painted - before.painted >= 6, "they do change"));
  const after = await look();
  const [painted, seconds] = [after.painted - before.painted, (after.at - before.at) / 1000];
  t.diagnostic(`${painted} pictures of three beakers in ${seconds.toFixed(1)} s`);
  assert.ok(painted <= 3 * (seconds + 1), `${painted} pictures in ${seconds} s`);
});

test("forced colours leave every word, the chosen chip and the beakers to be seen", async (t) => {
  const { page } = await visit(t, { screen: LOW_LAPTOP, context: { forcedColors: "active" } });
  await startLesson(page);
  await page.check("#card input[value=red]");
  assert.deepEqual(await barriers(page), []);
  const outline = await page
    .locator(".chip:has(input:checked)")
    .evaluate((chip) => getComputedStyle(chip).outlineStyle);
  assert.equal(outline, "solid");
  // What is chosen has another ground than what isn't.
  for (const [chosen, other] of [
    [".chip:has(input:checked) .letter", ".chip:not(:has(input:checked)) .letter"],
    [".segments input:checked + span", ".segments input:not(:checked) + span"],
    [".masthead button[aria-current]", ".masthead button:not([aria-current])"],
  ]) {
    const ground = (/** @type {string} */ selector) =>
      page
        .locator(selector)
        .first()
        .evaluate((one) => getComputedStyle(one).backgroundColor);
    assert.notEqual(await ground(chosen), await ground(other), chosen);
  }
});

test("the words that stand in the page before scripts run are the words of the language file", async () => {
  const page = await readFile(join(PAGE_ROOT, "index.html"), "utf8");
  const sentences = JSON.parse(await readFile(join(PAGE_ROOT, "locales/en.json"), "utf8"));
  const marked = [...page.matchAll(/data-t="([^"]+)"[^>]*>([^<]*)</g)];
  assert.ok(marked.length >= 6);
  for (const [, key, words] of marked) assert.equal(words, sentences[key], key);
});

test("the bench asks for six files, none of which waits for the whole script to name it, and the desk for two more", async (t) => {
  const { page, seen, origin } = await visit(t);
  assert.deepEqual(seen.requests.map((address) => address.slice(origin.length)).sort(), [
    "/",
    "/locales/en.json",
    "/pkg/desk.js",
    "/pkg/page.css",
    "/pkg/page.js",
    "/pkg/start.js",
    "/pkg/turnback_bg.wasm",
    "/pkg/turnback_desk.wasm",
  ]);
  const named = await page.evaluate(() =>
    performance
      .getEntriesByType("resource")
      // The words are asked for by start.js, which alone knows the language.
      .filter(({ name }) => !/\/locales\/|desk/.test(name))
      .map(({ name }) => document.head.innerHTML.includes(new URL(name).pathname.slice(1))),
  );
  assert.deepEqual(named, [true, true, true, true]);
});
