// What a student's hands do: the lesson played on the page, by keyboard alone.
// Nothing here reaches into the page's scripts; it presses keys and reads what
// is shown.

import assert from "node:assert/strict";
// Not the harness: whoever measures has these hands too, and is no test.
import { BROWSER } from "./chromium.mjs";
import { PATIENCE_MS, settled } from "./waits.mjs";

/** @typedef {import("./harness.mjs").Page} Page */
/** @typedef {Record<string, string>} Answers one for each question that may be asked; seconds as a number or "never" */

/** No page has so many places where the keyboard can stand. */
const MOST_TABS = 120;

/** @param {Page} page @returns {Promise<string>} the stage of the lesson: brief, ask, watch, see, explain, end, free */
export async function stage(page) {
  return (await page.locator("#bench-place").getAttribute("data-stage")) ?? "";
}

/**
 * Where the keyboard stands.
 * @param {Page} page
 * @returns {Promise<{ name: string, type: string, value: string }>}
 */
export function focused(page) {
  return page.evaluate(() => {
    const here = document.activeElement;
    if (!(here instanceof HTMLElement) || here === document.body) return { name: "", type: "", value: "" };
    const input = here instanceof HTMLInputElement ? here : null;
    const name = here.getAttribute("aria-label") ?? input?.labels?.[0]?.innerText ?? here.innerText;
    return { name: name.trim(), type: input?.type ?? here.localName, value: input?.value ?? "" };
  });
}

/** Press Tab. @param {Page} page */
export async function tab(page) {
  if (BROWSER === "firefox" && (await page.evaluate(comeRound))) return;
  await page.keyboard.press("Tab");
}

/**
 * Behind the page's last stop Firefox goes on to its own bar, where the driver's keys do not reach, and then to the page's
 * first stop. Goes there at once, and tells whether it did. Runs in the page.
 */
function comeRound() {
  const here = document.activeElement;
  if (!here || here === document.body) return false;
  const group = here instanceof HTMLInputElement && here.type === "radio" ? here.name : null;
  const stops = /** @type {NodeListOf<HTMLElement>} */ (
    document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex='0']")
  );
  const follows = [...stops].some(
    (one) =>
      (here.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_FOLLOWING) !== 0 &&
      one.tabIndex >= 0 &&
      !one.matches(":disabled") &&
      // Of a group of radio buttons the keyboard stops at one.
      !(group !== null && one instanceof HTMLInputElement && one.name === group) &&
      one.checkVisibility({ visibilityProperty: true }),
  );
  if (!follows) /** @type {HTMLElement | null} */ (document.querySelector(".skip"))?.focus();
  return !follows;
}

/**
 * Press Tab until the keyboard stands on a control.
 * @param {Page} page
 * @param {string} name as it is shown or spoken
 * @param {string} [type] "button", "radio", "text" ...
 */
export async function tabTo(page, name, type) {
  /** @type {string[]} */
  const passed = [];
  for (let tabs = 0; tabs < MOST_TABS; tabs++) {
    const here = await focused(page);
    if (here.name === name && (type === undefined || here.type === type)) return;
    passed.push(`${here.type} "${here.name}"`);
    await tab(page);
  }
  assert.fail(`the keyboard never came to ${type ?? "anything"} "${name}"; it passed ${passed.join(", ")}`);
}

/** Press Tab until the keyboard stands on a control of a type. @param {Page} page @param {string} type */
async function tabToType(page, type) {
  for (let tabs = 0; (await focused(page)).type !== type; tabs++) {
    assert.ok(tabs < MOST_TABS, `the keyboard never came to a ${type}`);
    await tab(page);
  }
}

/**
 * Types a value in place of what stands in a field, and ends it with Enter. Firefox does not count what the driver fills in as
 * a change, so that nothing would follow on Enter.
 * @param {Page} page
 * @param {string} field
 * @param {string} words
 */
export async function enter(page, field, words) {
  await page.focus(field);
  await page.keyboard.press("Control+A");
  await page.keyboard.type(words);
  await page.keyboard.press("Enter");
}

/** Press a button, found with Tab. @param {Page} page @param {string} name */
export async function press(page, name) {
  await tabTo(page, name, "button");
  await page.keyboard.press("Enter");
}

/** @param {Page} page @param {string} wanted the stage to come */
export async function comesTo(page, wanted) {
  await page.waitForFunction((name) => document.getElementById("bench-place")?.dataset.stage === name, wanted, {
    timeout: PATIENCE_MS,
  });
}

/** The question that the card asks now. @param {Page} page @returns {Promise<string>} atOnce, atRest, clarity, seconds, first, why */
export async function asked(page) {
  return (await page.locator("fieldset.question").getAttribute("data-question")) ?? "";
}

/**
 * Choose one of the radio buttons that the card shows.
 * @param {Page} page
 * @param {string} value
 */
async function choose(page, value) {
  const onCard = () => page.evaluate(() => document.activeElement?.closest("fieldset.question") !== null);
  for (let tabs = 0; !(await onCard()) || (await focused(page)).type !== "radio"; tabs++) {
    assert.ok(tabs < MOST_TABS, "the keyboard never came to an answer");
    await tab(page);
  }
  // Space chooses where the keyboard stands; an arrow goes on and chooses there.
  if ((await focused(page)).value === value) await page.keyboard.press("Space");
  const chosen = page.locator("fieldset.question input[type=radio]:checked");
  for (let steps = 0; (await chosen.count()) === 0 || (await chosen.inputValue()) !== value; steps++) {
    assert.ok(steps < 12, `there is no answer "${value}"`);
    await page.keyboard.press("ArrowDown");
  }
}

/** The value of the first choice that the card shows. @param {Page} page @returns {Promise<string>} */
function firstChoice(page) {
  return page.locator("fieldset.question input[type=radio]").first().inputValue();
}

/**
 * Answer the question that the card asks now, and go on from it.
 * @param {Page} page
 * @param {Answers} answers
 * @returns {Promise<string>} the question
 */
export async function answerQuestion(page, answers) {
  const question = await asked(page);
  // A level's question with choices: unless the test says otherwise, the first choice.
  const answer = answers[question] ?? (question.includes(".") ? await firstChoice(page) : undefined);
  assert.ok(answer !== undefined, `the test has no answer to "${question}"`);
  if (question === "why") {
    await tabTo(page, "Why, in your own words. You may leave it empty.");
    await page.keyboard.type(answer);
    // Enter begins a new line here, so the button is wanted.
    await tab(page);
  } else if (question === "seconds" && answer !== "never") {
    await choose(page, "after");
    await tabToType(page, "text");
    await page.keyboard.type(answer);
  } else await choose(page, answer);
  await page.keyboard.press("Enter");
  return question;
}

/**
 * Answer every question of the card that stands there, and hand it in.
 * @param {Page} page
 * @param {Answers} answers
 * @returns {Promise<string[]>} the questions that were asked
 */
export async function answerCard(page, answers) {
  const before = await stage(page);
  /** @type {string[]} */
  const questions = [];
  while ((await stage(page)) === before) {
    const question = await answerQuestion(page, answers);
    assert.ok(!questions.includes(question), `"${question}" is asked again: the answer was refused`);
    questions.push(question);
  }
  return questions;
}

/** Wait until the card has lifted from before the beakers. @param {Page} page */
export async function coverIsUp(page) {
  await page.waitForFunction(
    () => {
      const sheet = document.querySelector(".cover-sheet");
      return sheet !== null && getComputedStyle(sheet).visibility === "hidden";
    },
    null,
    { timeout: PATIENCE_MS },
  );
}

/** From the brief, and what it asks, to the first card. @param {Page} page @param {Answers} [answers] */
export async function startLesson(page, answers = {}) {
  await press(page, "Start the lesson");
  if ((await stage(page)) === "brief") await answerCard(page, answers);
  await comesTo(page, "ask");
}

/** @type {Answers} a guess for every question, and what was seen; whether it is right does not matter where this is used. */
export const ANSWERS = {
  atOnce: "red",
  atRest: "blue",
  clarity: "milky",
  seconds: "20",
  first: "2",
  why: "The solid dissolves when the acid needs it.",
};

/** A whole dose, from its card to the next. @param {Page} page @param {Answers} [answers] */
export async function playDose(page, answers = ANSWERS) {
  await answerCard(page, answers);
  await toRest(page);
  await answerCard(page, answers);
  await comesTo(page, "explain");
  await goOn(page);
}

/** The Ledger's rows, cell by cell. @param {Page} page @returns {Promise<string[][]>} */
export async function ledgerRows(page) {
  await press(page, "Ledger");
  const rows = await page
    .locator("#ledger-rows tr")
    .evaluateAll((found) => found.map((row) => [...row.children].map((cell) => cell.textContent ?? "")));
  await press(page, "Bench");
  return rows;
}

/** Columns and rows of a picture's coarse look. */
const LOOK = { columns: 24, rows: 28 };
/** A picture painted with half its pixels differs from the whole one by less than this, of 255; another liquid by more. */
const SAME_COLOUR = 12;

/**
 * What is in the pictures and ribbons, coarsely: the same however many pixels a slow machine paints them with.
 * @param {Page} page
 * @returns {Promise<number[][]>} red, green and blue of the parts of each
 */
export function pictures(page) {
  return page.locator("#bench-place canvas").evaluateAll(
    (found, { columns, rows }) =>
      found.map((canvas) => {
        const context = /** @type {OffscreenCanvasRenderingContext2D} */ (
          new OffscreenCanvas(columns, rows).getContext("2d")
        );
        context.imageSmoothingQuality = "high";
        context.drawImage(/** @type {HTMLCanvasElement} */ (canvas), 0, 0, columns, rows);
        return [...context.getImageData(0, 0, columns, rows).data];
      }),
    LOOK,
  );
}

/** Whether two looks at the pictures show the same. @param {number[][]} one @param {number[][]} other */
export function lookAlike(one, other) {
  return one.every((picture, index) =>
    picture.every((value, at) => Math.abs(value - (other[index]?.[at] ?? Number.NaN)) < SAME_COLOUR),
  );
}

/** Go from event to event, until the beakers are at rest and the card asks what was seen. @param {Page} page */
export async function toRest(page) {
  await coverIsUp(page);
  await page.locator("#stage").focus();
  for (let events = 0; (await stage(page)) === "watch"; events++) {
    assert.ok(events < 200, "the beakers never come to rest");
    await page.keyboard.press("n");
    // One event in each frame, as a hand that is quick.
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(done)));
  }
  assert.equal(await stage(page), "see");
}

/**
 * The table of the explanation.
 * @param {Page} page
 * @returns {Promise<{ beaker: string, turnedBackS: number | null, ph: number, solidG: number }[]>}
 */
export async function explained(page) {
  const rows = await page
    .locator("#card table.numbers tbody tr")
    .evaluateAll((found) => found.map((row) => [...row.children].map((cell) => cell.textContent ?? "")));
  return rows.map(([beaker, back, ph, solid]) => ({
    beaker,
    turnedBackS: back === "never" ? null : Number.parseFloat(back),
    ph: Number.parseFloat(ph),
    solidG: Number.parseFloat(solid),
  }));
}

/** From the explanation, page by page, to the next card or to the end. @param {Page} page */
export async function goOn(page) {
  const forward = page.locator("#card .card-foot button.primary");
  for (let pages = 0; (await stage(page)) === "explain"; pages++) {
    assert.ok(pages < 8, "the explanation never ends");
    await press(page, await forward.innerText());
  }
}

/** Through what the end asks and tells, to its last page. @param {Page} page @param {Answers} [answers] */
export async function toSummary(page, answers = {}) {
  await comesTo(page, "end");
  const forward = page.locator("#card .card-foot button.primary");
  for (let pages = 0; (await page.locator("#card .code").count()) === 0; pages++) {
    assert.ok(pages < 8, "the end never comes to its last page");
    if ((await page.locator("fieldset.question").count()) > 0) await answerQuestion(page, answers);
    else await press(page, await forward.innerText());
  }
}

/**
 * The bench at each stage of a dose, then every other place.
 * @param {Page} page
 * @param {(where: string) => Promise<void>} look
 * @param {{ held?: () => Promise<void>, at?: (place: string) => Promise<void> }} [also] what else is done while the clock is held,
 *   and on coming to a place
 */
export async function tour(page, look, { held, at } = {}) {
  await look("brief");
  await startLesson(page);
  await look("ask");
  await answerCard(page, ANSWERS);
  await coverIsUp(page);
  await page.click("#hold");
  await look("watch");
  await held?.();
  await page.click("#hold");
  await toRest(page);
  await look("see");
  await answerCard(page, ANSWERS);
  await look("explain");
  const signs = page.locator("#places button:visible");
  for (const place of await signs.evaluateAll((all) =>
    all.map((sign) => String(/** @type {HTMLElement} */ (sign).dataset.place)),
  )) {
    if (place === "bench") continue;
    await page.click(`[data-place=${place}]`);
    await at?.(place);
    await look(place);
  }
}

/** Leaving with an unsaved slip asks first; here the answer is yes. @param {Page} page */
export function letLeave(page) {
  page.on("dialog", (dialog) => dialog.accept());
}

/**
 * A second tab of the same device, at the page with all its parts, where whoever leaves is let go.
 * @param {{ page: Page, origin: string }} first
 * @param {string} [fragment] of its address
 */
export async function nextTab({ page, origin }, fragment = "") {
  const tab = await page.context().newPage();
  letLeave(tab);
  await tab.goto(`${origin}/${fragment}`);
  await settled(tab);
  return tab;
}

/** The seconds that the bar tells. @param {Page} page @returns {Promise<number>} */
export async function seconds(page) {
  return Number.parseFloat(await page.locator(".controls .time").innerText());
}

/** What stands on the card. @param {Page} page */
export async function onCard(page) {
  const fields = page.locator("#card input:not([type=radio]), #card textarea");
  return {
    stage: await stage(page),
    heading: await page.locator("#card-heading").innerText(),
    question: await page
      .locator("#card fieldset.question")
      .evaluateAll((found) => found.map((one) => one.dataset.question)),
    chosen: await page
      .locator("#card input[type=radio]:checked")
      .evaluateAll((found) => found.map((one) => /** @type {HTMLInputElement} */ (one).value)),
    typed: await fields.evaluateAll((found) => found.map((one) => /** @type {HTMLInputElement} */ (one).value)),
    flags: await page.locator(".flag, .guess-flag").count(),
  };
}
