// The main job, end to end: Room 12's lesson, from the brief to its end, with
// the keyboard alone.

import assert from "node:assert/strict";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import { answerCard, comesTo, explained, goOn, press, stage, tabTo, toRest } from "./hands.mjs";
import { screenshot, visit } from "./harness.mjs";

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

/**
 * The hand table of Room 12: 20.58 mmol of solid, 6.0 mmol of acid a dose, two
 * of acid for one of solid. Grams left after doses 1 to 6 (own arithmetic:
 * 1.200 g less 3.0 mmol x 58.32 mg/mmol a dose).
 */
const SOLID_LEFT_G = [1.025, 0.85, 0.675, 0.5, 0.325, 0.15];
/**
 * The explanation weighs what is undissolved; the hand table does not count the
 * little that is dissolved at rest: a saturated solution holds less than 0.5
 * mmol/L beyond what the acid took (the pH at rest is above 8), 15 mg in half a
 * litre.
 */
const DISSOLVED_G = 0.015;

test("the whole lesson is played with the keyboard alone, and ends as the bottle says", {
  timeout: 240_000,
}, async (t) => {
  const { page } = await visit(t);
  assert.equal(await stage(page), "brief");
  await screenshot(page, "lesson-01-brief");
  await press(page, "Start the lesson");

  for (let dose = 1; dose <= 11; dose++) {
    await comesTo(page, "ask");
    if (dose === 1) await screenshot(page, "lesson-02-before-the-lock");
    const questions = await answerCard(page, GUESS);
    assert.deepEqual(questions, [1, 3, 7, 8].includes(dose) ? LONG : ["atRest"], `the card of dose ${dose}`);
    await comesTo(page, "watch");
    await toRest(page);
    if ([1, 7, 8].includes(dose)) await screenshot(page, `lesson-03-rest-of-dose-${dose}`);
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

  await comesTo(page, "end");
  const end = await page.locator("#card").innerText();
  assert.match(end, /7 doses of acid and 4 doses of base/);
  assert.match(end, /[0-9A-Z]{4}-[0-9A-Z]{4}/);
  await screenshot(page, "lesson-04-end");
  assert.deepEqual(await barriers(page), []);

  await press(page, "Ledger");
  const ledger = await page
    .locator("#ledger-place table tbody tr")
    .evaluateAll((rows) => rows.map((row) => [...row.children].map((cell) => cell.textContent ?? "")));
  assert.equal(ledger.length, 12);
  // Rows: start, seven doses of acid, four of base. Column 5 is the solid left, g.
  assert.deepEqual(
    ledger.slice(1, 7).map((row) => row[5]),
    SOLID_LEFT_G.map((grams) => grams.toFixed(3)),
    "the ledger is the hand table to the last figure",
  );
  await screenshot(page, "lesson-05-ledger", { fullPage: true });
});

test("without a choice the card does not go on, and says what it wants", async (t) => {
  const { page } = await visit(t);
  await press(page, "Start the lesson");
  await comesTo(page, "ask");
  await tabTo(page, "Next question", "button");
  await page.keyboard.press("Enter");
  assert.equal(await stage(page), "ask");
  assert.match(await page.locator("fieldset.question .error").innerText(), /Choose one/);
});
