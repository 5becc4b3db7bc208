// The guided lesson from the brief to the end, with nothing but the keyboard.

import assert from "node:assert/strict";
import { test } from "node:test";
import { visit } from "./harness.mjs";
import {
  ANSWERS,
  benchIsReady,
  colourWords,
  coverIsUp,
  details,
  ledgerRows,
  question,
  stage,
  turnedBack,
} from "./student.mjs";

/** @typedef {import("playwright-core").Page} Page */

/**
 * The bookkeeping of our scenario, worked by hand: 15 mL x 80 mg/mL / 58.32 g/mol = 20.58 mmol of solid, each acid dose
 * 2.0 mL x 3.0 mol/L = 6.00 mmol, two of acid for one of solid; 20.58 x 2 / 6.00 = 6.86 doses. Then 6.00 mmol of base a
 * dose: it first takes the 0.85 mmol of acid that is left, and half of the rest comes down as solid.
 * HCl and NaOH in all, solid used and left (mmol), solid left (g), acid left (mmol), what ran out.
 */
const HAND_TABLE = [
  ["Start", "0.00", "0.00", "0.00", "20.58", "1.200", "0.00", "\u2013"],
  ["Acid dose 1", "6.00", "0.00", "3.00", "17.58", "1.025", "0.00", "acid"],
  ["Acid dose 2", "12.00", "0.00", "6.00", "14.58", "0.850", "0.00", "acid"],
  ["Acid dose 3", "18.00", "0.00", "9.00", "11.58", "0.675", "0.00", "acid"],
  ["Acid dose 4", "24.00", "0.00", "12.00", "8.58", "0.500", "0.00", "acid"],
  ["Acid dose 5", "30.00", "0.00", "15.00", "5.58", "0.325", "0.00", "acid"],
  ["Acid dose 6", "36.00", "0.00", "18.00", "2.58", "0.150", "0.00", "acid"],
  ["Acid dose 7", "42.00", "0.00", "20.58", "0.00", "0.000", "0.85", "solid"],
  ["Base dose 1", "42.00", "6.00", "18.00", "2.58", "0.150", "0.00", "\u2013"],
  ["Base dose 2", "42.00", "12.00", "15.00", "5.58", "0.325", "0.00", "\u2013"],
  ["Base dose 3", "42.00", "18.00", "12.00", "8.58", "0.500", "0.00", "\u2013"],
  ["Base dose 4", "42.00", "24.00", "9.00", "11.58", "0.675", "0.00", "\u2013"],
];
const ACID_DOSES = 7;

/**
 * Presses Tab until the focus stands on what is sought.
 * @param {Page} page
 * @param {string} selector
 */
async function tabTo(page, selector) {
  for (let press = 0; press < 60; press++) {
    await page.keyboard.press("Tab");
    if (await page.evaluate((sought) => document.activeElement?.matches(sought) ?? false, selector)) return;
  }
  assert.fail(`the Tab key never reached ${selector}`);
}

/** Answers the question at which the focus stands, by keys. @param {Page} page @param {string} said */
async function answerByKeys(page, said) {
  const key = await question(page);
  if (key === "why") {
    await tabTo(page, "#card textarea");
    await page.keyboard.type(said);
  } else if (key === "seconds") {
    await tabTo(page, "#card input[type=radio]");
    await page.keyboard.press("Space");
    await page.keyboard.type(said);
  } else {
    const values = await page
      .locator("#card input[type=radio]")
      .evaluateAll((all) => all.map((one) => /** @type {HTMLInputElement} */ (one).value));
    assert.ok(values.includes(said), `${key} offers ${values}`);
    if (!(await page.evaluate(() => document.activeElement?.matches("#card input[type=radio]"))))
      await tabTo(page, "#card input[type=radio]");
    await page.keyboard.press("Space");
    for (let step = values.indexOf(said); step > 0; step--) await page.keyboard.press("ArrowDown");
  }
  await tabTo(page, "#card button[type=submit]");
  await page.keyboard.press("Enter");
}

test("the keyboard alone plays the guided lesson to its end, and the chemistry is right on the way", async (t) => {
  const { page } = await visit(t);
  await benchIsReady(page);
  await tabTo(page, "#card .primary");
  await page.keyboard.press("Enter");

  for (let dose = 1; dose < HAND_TABLE.length; dose++) {
    while ((await stage(page)) === "ask") await answerByKeys(page, ANSWERS[await question(page)]);
    assert.equal(await stage(page), "watch", `dose ${dose} runs once the guess is locked`);
    await coverIsUp(page);
    for (let press = 0; press < 60 && (await stage(page)) === "watch"; press++) await page.keyboard.press("n");
    assert.equal(await stage(page), "see", `dose ${dose} comes to rest`);
    await page.waitForTimeout(300);

    const words = await colourWords(page);
    const said = await details(page);
    if (dose < ACID_DOSES) for (const detail of said) assert.doesNotMatch(detail, /clear/, `cloudy after dose ${dose}`);
    if (dose === ACID_DOSES) {
      for (const word of words) assert.equal(word, "red", "the seventh dose stays acid");
      for (const detail of said) assert.match(detail, /^clear/, "and clear");
    }
    if (dose > ACID_DOSES) {
      for (const word of words) assert.match(word, /blue|violet/, "base brings the blue back");
      for (const detail of said) assert.doesNotMatch(detail, /clear/, "and the cloud");
    }

    while ((await stage(page)) === "see") await answerByKeys(page, ANSWERS[await question(page)]);
    const [cold, room, warm] = await turnedBack(page);
    if (dose < ACID_DOSES) {
      assert.ok(cold !== null && room !== null && warm !== null, `every beaker turns back after dose ${dose}`);
      assert.ok(warm < room && room < cold, `warm first, cold last: ${warm}, ${room}, ${cold} s`);
    } else if (dose === ACID_DOSES) assert.deepEqual([cold, room, warm], [null, null, null]);

    for (let turn = 0; turn < 3 && (await stage(page)) === "explain"; turn++) {
      await tabTo(page, "#card .primary");
      await page.keyboard.press("Enter");
    }
  }
  assert.equal(await stage(page), "end");
  assert.match(await page.locator("#card .code").innerText(), /^[0-9A-Z]{4}-[0-9A-Z]{4}$/);
  assert.deepEqual(await ledgerRows(page), HAND_TABLE);
});
