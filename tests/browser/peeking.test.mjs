// Before the guess is locked, nothing of the outcome can be had: not by eye, not
// by key, not by sliding the time, and not by asking the core itself.

import assert from "node:assert/strict";
import { test } from "node:test";
import {
  ANSWERS,
  answerCard,
  explained,
  ledgerRows,
  lookAlike,
  pictures,
  playDose,
  stage,
  startLesson,
  toRest,
} from "./hands.mjs";
import { colourfulness, screenshot, visit } from "./harness.mjs";
import { runsTo, still } from "./waits.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** All the words that the bench shows or speaks. @param {Page} page */
async function words(page) {
  const shown = await page.locator("#bench-place .stage").innerText();
  const spoken = await page
    .locator("#bench-place [aria-label]")
    .evaluateAll((found) =>
      found.map((one) => `${one.getAttribute("aria-label")} ${one.getAttribute("aria-valuetext") ?? ""}`),
    );
  return [shown, ...spoken].join("\n");
}

/** The card is of paper: its pixels differ by less than this between red, green and blue; any liquid's by far more. */
const PAPER = 30;

test("capability 1: a card of paper stands before every beaker until the guess is locked", async (t) => {
  const { page } = await visit(t);
  const beakers = page.locator(".beaker canvas");
  assert.equal(await beakers.count(), 3);
  await still(page);
  for (const beaker of await beakers.all())
    assert.ok((await colourfulness(page, beaker)) > PAPER, "before the dose is announced the liquid is seen");
  await startLesson(page);
  await still(page);
  for (const beaker of await beakers.all())
    assert.ok((await colourfulness(page, beaker)) < PAPER, "some of the liquid's colour is seen");
  assert.equal((await page.locator(".beaker .colour-word").allInnerTexts()).join(" "), "covered covered covered");
  await screenshot(page, "peeking-covered");
});

test("capability 1: no key and no button moves the clock or the pictures before the lock", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  for (const played of [0, 1]) {
    if (played > 0) await playDose(page);
    await still(page);
    const [wordsBefore, picturesBefore] = [await words(page), await pictures(page)];

    await page.locator("#stage").focus();
    for (const key of ["n", "N", " ", "h", "+", "+", "ArrowRight", "ArrowLeft", "End", "Home", "PageUp", "Enter"])
      await page.keyboard.press(key);
    for (const name of ["Hold", "Next event"]) await page.getByRole("button", { name }).click({ force: true });
    for (const value of ["4×", "16×", "Whole lesson", "This dose"])
      await page.getByText(value, { exact: true }).click({ force: true });
    await page.locator("input.look").evaluate((slider) => {
      const range = /** @type {HTMLInputElement} */ (slider);
      range.disabled = false;
      range.value = range.max;
      range.dispatchEvent(new Event("input", { bubbles: true }));
    });
    // What moved would have moved by then.
    await page.waitForTimeout(1500);
    await still(page);

    assert.equal(await stage(page), "ask");
    assert.equal(await words(page), wordsBefore);
    assert.ok(lookAlike(await pictures(page), picturesBefore), "a picture has changed");

    assert.equal((await ledgerRows(page)).length, 1 + played, "the ledger has the start and the doses before");
    assert.equal(await page.getByRole("button", { name: "Free bench" }).count(), 0, "the free bench stays closed");
  }
});

test("capability 1: the core knows nothing beyond now, whoever asks it", async (t) => {
  const { page } = await visit(t, { core: true });
  const seen = await page.evaluate(async () => {
    const { Turnback } = await import(/** @type {any} */ ("/pkg/turnback.js"));
    const core = new Turnback();
    core.goOn();
    const { now, stage } = core.state();
    const atNow = JSON.stringify(core.labels(now));
    const picture = (/** @type {number} */ time) => core.paint(0, time, 60, 68, true).join();
    const ribbon = core.ribbon(now, now + 300, 50, 0);
    return {
      stage,
      labelsSame: JSON.stringify(core.labels(now + 300)) === atNow,
      pictureSame: picture(now) === picture(now + 300),
      // One row of columns or several: opacity is every fourth number.
      ribbonOpaque: ribbon.filter((/** @type {number} */ _, /** @type {number} */ at) => at % 4 === 3).some(Boolean),
      ticked: core.tick(1000).now - now,
      hopped: core.nextEvent().now - now,
      doses: core.marks().doses.length,
      ledgerRows: core.ledger().length,
      poured: core.pour({ beakers: [0, 1, 2], reagent: "acid", volumeMl: "2.0" }).ok,
      freed: core.begin("free").ok,
      lockedEmpty: core.lock({}).ok,
      stageAfter: core.state().stage,
    };
  });
  assert.deepEqual(seen, {
    stage: "ask",
    labelsSame: true,
    pictureSame: true,
    ribbonOpaque: false,
    ticked: 0,
    hopped: 0,
    doses: 0,
    ledgerRows: 1,
    poured: false,
    freed: false,
    lockedEmpty: false,
    stageAfter: "ask",
  });
});

test("the same checks do see a dose that is no longer covered", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await still(page);
  const before = await pictures(page);
  const wordsBefore = await words(page);
  await answerCard(page, ANSWERS);
  await toRest(page);
  await still(page);
  assert.ok(!lookAlike(await pictures(page), before));
  assert.notEqual(await words(page), wordsBefore);
  assert.equal((await ledgerRows(page)).length, 2);
});

test("capability 1: a locked guess can't be changed, and its flag stays pinned on the ribbon at the guessed second", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await answerCard(page, { ...ANSWERS, seconds: "150", atRest: "violet" });
  assert.equal(await page.locator("#card input, #card textarea").count(), 0);
  const flag = page.locator(".flag");
  assert.equal(await flag.innerText(), "V");
  // Dose 1 is watched for 300 s, so 150 s stand in the middle of the ribbon.
  const at = await flag.evaluate((pole) => {
    const row = /** @type {Element} */ (pole.parentElement).getBoundingClientRect();
    return (pole.getBoundingClientRect().left - row.left) / row.width;
  });
  assert.ok(Math.abs(at - 0.5) < 0.01, `the flag stands at ${at} of the ribbon`);
  await toRest(page);
  assert.equal(await flag.innerText(), "V");
});

test("capability 5: speed and holds change no time that is measured", async (t) => {
  /** @param {Page} page @param {boolean} hurried */
  const times = async (page, hurried) => {
    await page.bringToFront();
    await startLesson(page);
    if (hurried) await page.check("input[name=speed][value='16']");
    await answerCard(page, ANSWERS);
    if (hurried) {
      await runsTo(page, 5);
      await page.locator("#stage").focus();
      await page.keyboard.press("h");
      await still(page);
      await page.keyboard.press("h");
      await runsTo(page, 30);
    }
    await toRest(page);
    await answerCard(page, ANSWERS);
    return (await explained(page)).map(({ turnedBackS }) => turnedBackS);
  };
  const slow = await visit(t);
  const fast = await visit(t);
  assert.deepEqual(await times(fast.page, true), await times(slow.page, false));
});
