// Before the guess is locked, nothing of the outcome can be had: not by eye, not
// by key, not by sliding the time, and not by asking the core itself.

import assert from "node:assert/strict";
import { test } from "node:test";
import { comesTo, press, stage } from "./hands.mjs";
import { colourfulness, screenshot, visit } from "./harness.mjs";

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

/** What is in the canvases, as text. @param {Page} page */
function pictures(page) {
  return page
    .locator("#bench-place canvas")
    .evaluateAll((found) => found.map((canvas) => /** @type {HTMLCanvasElement} */ (canvas).toDataURL()));
}

/** The card is of paper: its pixels differ by less than this between red, green and blue; any liquid's by far more. */
const PAPER = 30;

test("a card of paper stands before every beaker until the guess is locked", async (t) => {
  const { page } = await visit(t);
  const beakers = page.locator(".beaker canvas");
  assert.equal(await beakers.count(), 3);
  for (const beaker of await beakers.all())
    assert.ok((await colourfulness(page, beaker)) > PAPER, "before the dose is announced the liquid is seen");
  await press(page, "Start the lesson");
  await comesTo(page, "ask");
  await page.waitForTimeout(1000);
  for (const beaker of await beakers.all())
    assert.ok((await colourfulness(page, beaker)) < PAPER, "some of the liquid's colour is seen");
  assert.equal((await page.locator(".beaker .colour-word").allInnerTexts()).join(" "), "covered covered covered");
  await screenshot(page, "peeking-covered");
});

test("no key and no button moves the clock or the pictures before the lock", async (t) => {
  const { page } = await visit(t);
  await press(page, "Start the lesson");
  await comesTo(page, "ask");
  await page.waitForTimeout(1000);
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
  await page.waitForTimeout(1500);

  assert.equal(await stage(page), "ask");
  assert.equal(await words(page), wordsBefore);
  assert.deepEqual(await pictures(page), picturesBefore);

  await press(page, "Ledger");
  assert.equal(await page.locator("#ledger-place tbody tr").count(), 1, "the ledger has the start and no dose");
});

test("the core knows nothing beyond now, whoever asks it", async (t) => {
  const { page } = await visit(t);
  const seen = await page.evaluate(async () => {
    const { default: start, Turnback } = await import(/** @type {any} */ ("/pkg/turnback.js"));
    await start();
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
