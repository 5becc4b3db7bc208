// The main job, end to end: Room 12's lesson, from the brief to its end, with
// the keyboard alone.

import assert from "node:assert/strict";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import {
  answerCard,
  answerQuestion,
  asked,
  comesTo,
  explained,
  goOn,
  ledgerRows,
  press,
  stage,
  startLesson,
  toRest,
  toSummary,
} from "./hands.mjs";
import { screenshot, visit } from "./harness.mjs";
import { LIMIT_MS, still } from "./waits.mjs";

/** A guess that is locked for every dose; whether it is right does not matter here. */
const GUESS = {
  atOnce: "red",
  atRest: "green",
  clarity: "cloudy",
  seconds: "20",
  first: "2",
  why: "Warm water makes everything faster.",
};
const LONG = ["atOnce", "atRest", "clarity", "seconds", "first", "why"];
/** What level 2 asks for besides, by dose. */
const CHOICES = new Map([
  [1, ["2.whatIndicator"]],
  [3, ["2.whyRed", "2.whyBack"]],
  [7, []],
]);
/** Base brings the colour back as fast as the stirrer mixes, in every beaker alike, so its card asks for no seconds. */
const LONG_FOR_BASE = ["atOnce", "atRest", "clarity", "why"];

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
/** Grams left after each dose. */
const SOLID_LEFT_G = HAND_TABLE.slice(1).map((row) => Number(row[5]));
/**
 * The explanation weighs what is undissolved; the hand table does not count the
 * little that is dissolved at rest: a saturated solution holds less than 0.5
 * mmol/L beyond what the acid took (the pH at rest is above 8), 15 mg in half a
 * litre.
 */
const DISSOLVED_G = 0.015;

test("the whole lesson is played with the keyboard alone, and ends as the bottle says", {
  timeout: LIMIT_MS,
}, async (t) => {
  const { page } = await visit(t);
  assert.equal(await stage(page), "brief");
  await screenshot(page, "lesson-01-brief");
  await startLesson(page);

  for (let dose = 1; dose <= 11; dose++) {
    await comesTo(page, "ask");
    if (dose === 1) await screenshot(page, "lesson-02-before-the-lock");
    const questions = await answerCard(page, GUESS);
    const choice = CHOICES.get(dose);
    const expected = choice ? [...LONG, ...choice] : dose === 8 ? LONG_FOR_BASE : ["atRest"];
    assert.deepEqual(questions, expected, `the card of dose ${dose}`);
    await comesTo(page, "watch");
    await toRest(page);
    await still(page);
    if ([1, 7, 8].includes(dose)) await screenshot(page, `lesson-03-rest-of-dose-${dose}`);
    const colours = await page.locator(".colour-word").allInnerTexts();
    const details = await page.locator(".details").allInnerTexts();
    if (dose === 7) {
      assert.deepEqual(colours, ["red", "red", "red"], "the seventh dose stays acid");
      for (const words of details) assert.match(words, /^clear/, "and clear");
    } else for (const words of details) assert.doesNotMatch(words, /^clear/, `dose ${dose} leaves a cloud`);
    if (dose > 7) for (const colour of colours) assert.match(colour, /blue|violet/, "base brings the blue back");
    await answerCard(page, GUESS);
    await comesTo(page, "explain");
    const beakers = await explained(page);
    assert.equal(beakers.length, 3);
    const seconds = beakers.map(({ turnedBackS }) => turnedBackS);
    if (dose <= 6) {
      const [cold, room, warm] = seconds.map(Number);
      assert.ok(
        seconds.every((at) => at !== null),
        `dose ${dose} turns back in every beaker: ${seconds}`,
      );
      assert.ok(warm < room && room < cold, `dose ${dose}: warm first, cold last: ${seconds}`);
      for (const { solidG } of beakers)
        assert.ok(Math.abs(solidG - SOLID_LEFT_G[dose - 1]) < DISSOLVED_G, `dose ${dose} leaves ${solidG} g`);
    } else if (dose === 7) {
      assert.deepEqual(seconds, [null, null, null], "dose 7 turns back nowhere");
      for (const { ph, solidG } of beakers) {
        assert.ok(ph > 2.5 && ph < 3.1, `dose 7 stays acid: pH ${ph}`);
        assert.ok(solidG < 0.001, `dose 7 leaves ${solidG} g`);
      }
    } else if (dose === 8) {
      for (const { ph, solidG } of beakers) {
        assert.ok(ph > 8.5, `the first base dose goes to the blue side: pH ${ph}`);
        assert.ok(solidG > 0.1, `the first base dose brings solid back: ${solidG} g`);
      }
    }
    await goOn(page);
  }

  await toSummary(page);
  const end = await page.locator("#card").innerText();
  assert.match(end, /7 doses of acid and 4 doses of base/);
  assert.match(end, /[0-9A-Z]{4}-[0-9A-Z]{4}/);
  await screenshot(page, "lesson-04-end");
  assert.deepEqual(await barriers(page), []);

  assert.deepEqual(await ledgerRows(page), HAND_TABLE, "the ledger is the hand table to the last figure");
  await press(page, "Ledger");
  await screenshot(page, "lesson-05-ledger", { fullPage: true });
});

test("a card half filled in waits while another place is looked at", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await page.check("#card input[value=red]");
  await press(page, "Ledger");
  await press(page, "Bench");
  assert.ok(await page.isChecked("#card input[value=red]"));
});

test("choosing to type seconds leaves the keyboard where it is, and typing chooses it", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  while ((await asked(page)) !== "seconds") await answerQuestion(page, GUESS);
  await page.locator("fieldset.question input[value=after]").focus();
  await page.keyboard.press("Space");
  // WCAG 2.2, 3.2.2: a choice is no change of context.
  assert.deepEqual(await page.evaluate(() => /** @type {HTMLInputElement} */ (document.activeElement).value), "after");
  await page.keyboard.press("ArrowDown");
  assert.ok(await page.locator("fieldset.question input[value=never]").isChecked());
  await page.locator("fieldset.question input[type=text]").focus();
  await page.keyboard.type("45");
  assert.ok(await page.locator("fieldset.question input[value=after]").isChecked());
});

test("a card with an open question says so there and does not lock", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await page.click("#card button[type=submit]");
  assert.match(await page.locator("#card .error").innerText(), /Choose one/);
  await page.check("#card input[value=red]");
  await page.click("#card button[type=submit]");
  await page.check("#card input[value=violet]");
  await page.click("#card button[type=submit]");
  await page.check("#card input[value=milky]");
  await page.click("#card button[type=submit]");
  await page.fill("#ask-seconds-typed", "soon");
  for (let next = 0; next < 4; next++) {
    for (const value of ["2", "makesReact"])
      if (await page.locator(`#card input[value='${value}']`).count())
        await page.check(`#card input[value='${value}']`);
    await page.click("#card button[type=submit]");
  }
  assert.match(await page.locator("#card .error").innerText(), /not a number/);
  assert.equal(await page.inputValue("#ask-seconds-typed"), "soon");
});

test("capability 5: at sixteen times the speed the same seconds are recorded as by going from event to event", {
  timeout: LIMIT_MS,
}, async (t) => {
  const { page } = await visit(t);
  /** @type {(number | null)[][]} */
  const recorded = [];
  for (const live of [false, true]) {
    await startLesson(page);
    await answerCard(page, GUESS);
    if (live) {
      await page.locator("label", { hasText: "16×" }).click();
      // 300 s of the lesson in 19 s of the room.
      await comesTo(page, "see");
    } else await toRest(page);
    await answerCard(page, GUESS);
    await comesTo(page, "explain");
    recorded.push((await explained(page)).map(({ turnedBackS }) => turnedBackS));
    if (!live) {
      await press(page, "Plan");
      await page.getByRole("button", { name: "Use this recipe" }).click();
    }
  }
  assert.ok(recorded[0].every((seconds) => seconds !== null));
  assert.deepEqual(recorded[1], recorded[0]);
});
