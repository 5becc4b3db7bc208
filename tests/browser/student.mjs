// A student at the page: what tests need to play the lesson, with the mouse or with nothing but the keyboard.

import assert from "node:assert/strict";

/** @typedef {import("playwright-core").Page} Page */

/** What a student answers; a key that is not asked is left out. */
export const ANSWERS = /** @type {Record<string, string>} */ ({
  atOnce: "red",
  atRest: "blue",
  clarity: "milky",
  seconds: "20",
  first: "2",
  why: "The solid dissolves when the acid needs it.",
});

/** Where the lesson stands. @param {Page} page @returns {Promise<string>} */
export async function stage(page) {
  return String(await page.getAttribute("#bench-place", "data-stage"));
}

/** Waits until the bench stands there. @param {Page} page */
export async function benchIsReady(page) {
  await page.waitForSelector("#bench-place:not([hidden]) .beaker canvas");
}

/** From the brief to the first card. @param {Page} page */
export async function startLesson(page) {
  await benchIsReady(page);
  await page.click("#card .primary");
  assert.equal(await stage(page), "ask");
}

/** The key of the question that stands on the card. @param {Page} page */
export async function question(page) {
  return String(await page.getAttribute("#card fieldset.question", "data-question"));
}

/**
 * Answers every question of the card with the mouse and locks the guess.
 * @param {Page} page
 * @param {Record<string, string>} [answers]
 */
export async function lockGuess(page, answers = {}) {
  const said = { ...ANSWERS, ...answers };
  while ((await stage(page)) === "ask") {
    await answer(page, said[await question(page)]);
    await page.click("#card button[type=submit]");
  }
}

/** @param {Page} page @param {string} said */
async function answer(page, said) {
  const key = await question(page);
  if (key === "why") await page.fill("#card textarea", said);
  else if (key === "seconds" && said !== "never") await page.fill("#card input[type=text]", said);
  else await page.check(`#card input[value="${said}"]`);
}

/** Goes from event to event until the beakers are at rest. @param {Page} page */
export async function toRest(page) {
  await coverIsUp(page);
  await page.focus("#stage");
  for (let press = 0; press < 60 && (await stage(page)) === "watch"; press++) await page.keyboard.press("n");
  assert.equal(await stage(page), "see");
}

/** Waits until the card has lifted. @param {Page} page */
export async function coverIsUp(page) {
  await page.waitForFunction(() => {
    const sheet = document.querySelector(".cover-sheet");
    return sheet !== null && getComputedStyle(sheet).visibility === "hidden";
  });
}

/** Says what was seen. @param {Page} page @param {Record<string, string>} [answers] */
export async function saySeen(page, answers = {}) {
  const said = { ...ANSWERS, ...answers };
  while ((await stage(page)) === "see") {
    await answer(page, said[await question(page)]);
    await page.click("#card button[type=submit]");
  }
  assert.equal(await stage(page), "explain");
}

/** Reads the explanation to its end and goes on. @param {Page} page */
export async function goOn(page) {
  for (let turn = 0; turn < 3 && (await stage(page)) === "explain"; turn++) await page.click("#card .primary");
}

/** Plays a whole dose. @param {Page} page */
export async function playDose(page) {
  await lockGuess(page);
  await toRest(page);
  await saySeen(page);
  await goOn(page);
}

/**
 * The explanation's table: of each beaker the time of turning back in seconds, or null for never.
 * @param {Page} page
 * @returns {Promise<(number | null)[]>}
 */
export async function turnedBack(page) {
  const cells = await page.locator("#card table.numbers tbody td:nth-of-type(1)").allTextContents();
  return cells.map((cell) => (/^\d/.test(cell) ? Number.parseFloat(cell) : null));
}

/** The colour word of each beaker. @param {Page} page */
export async function colourWords(page) {
  return page.locator(".colour-word").allTextContents();
}

/** The words under the colour word of each beaker. @param {Page} page */
export async function details(page) {
  return page.locator(".details").allTextContents();
}

/**
 * The Ledger as numbers, row by row without its heads; "–" is null.
 * @param {Page} page
 * @returns {Promise<string[][]>}
 */
export async function ledgerRows(page) {
  await page.click("[data-place=ledger]");
  const rows = await page.locator("#ledger-place tbody tr").all();
  const read = await Promise.all(rows.map((row) => row.locator("th, td").allTextContents()));
  await page.click("[data-place=bench]");
  return read;
}

/** Pixels of every picture, as one text that changes when any of them does. @param {Page} page */
export async function pictures(page) {
  return page.evaluate(() => [...document.querySelectorAll("canvas")].map((canvas) => canvas.toDataURL()).join("\n"));
}

/** Keys of sentences that the page shows instead of the sentences. @param {Page} page @returns {Promise<string[]>} */
export async function missingSentences(page) {
  return page.evaluate(() => document.body.innerText.match(/\b[a-z]+(?:\.[a-zA-Z]+)+\b(?!\/)/g) ?? []);
}
