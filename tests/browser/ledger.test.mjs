// The Ledger's blank twin: filled in and checked cell by cell, by keyboard; nothing typed is lost, no figure told unasked.

import assert from "node:assert/strict";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import { ledgerRows, playDose, press, startLesson, tabTo } from "./hands.mjs";
import { SCREENS, screenshot, visit } from "./harness.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** By hand (teaching table of our scenario): HCl, NaOH, solid used, solid left in mmol, in g, acid left; what ran out. */
const BY_HAND = [
  ["0.00", "0.00", "0.00", "20.58", "1.200", "0.00", "\u2013"],
  ["6.00", "0.00", "3.00", "17.58", "1.025", "0.00", "acid"],
  ["12.00", "0.00", "6.00", "14.58", "0.850", "0.00", "acid"],
];
const COLUMNS = ["hclMmol", "naohMmol", "solidUsedMmol", "solidLeftMmol", "solidLeftG", "hydrogenLeftMmol"];

/** @param {Page} page @param {number} row @param {string} column */
const cell = (page, row, column) => page.locator(`#own-${row}-${column}`);

/** What is said of a cell. @param {Page} page @param {number} row @param {string} column */
const said = (page, row, column) => page.locator(`#own-${row}-${column}-said`).innerText();

test("capability 18: the run fills the Ledger row by row, to the last figure of the hand table", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  for (let dose = 1; dose <= 2; dose++) {
    await playDose(page);
    const rows = await ledgerRows(page);
    assert.deepEqual(
      rows.map(([, ...cells]) => cells),
      BY_HAND.slice(0, dose + 1),
    );
  }
});

test("capability 18: by keyboard alone one's own Ledger is filled in, checked, mended, and kept as the run goes on", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await playDose(page);
  await press(page, "Ledger");
  await press(page, "My own");
  assert.ok(await page.locator("#ledger-place caption", { hasText: "Amounts in one beaker" }).isHidden());
  for (const [row, figures] of BY_HAND.slice(0, 2).entries())
    for (const [at, column] of COLUMNS.entries()) {
      await tabTo(page, await cell(page, row, column).getAttribute("aria-label").then(String));
      // Decimal commas in one row, points in the other.
      await page.keyboard.type(row === 0 ? figures[at].replace(".", ",") : figures[at]);
    }
  await tabTo(page, "Acid dose 1: Ran out");
  await page.keyboard.press("a");
  await press(page, "Check my ledger");
  assert.match(await page.locator(".twin-told").innerText(), /^13 right, 0 not yet, 0 still empty\.$/);
  for (const column of COLUMNS) assert.equal(await said(page, 1, column), "right");

  await cell(page, 1, "solidLeftG").fill("1.02");
  assert.equal(await said(page, 1, "solidLeftG"), "", "what was said of a cell goes with its figure");
  await cell(page, 1, "solidLeftMmol").fill("20");
  await cell(page, 1, "solidUsedMmol").fill("three");
  await page.getByRole("button", { name: "Check my ledger" }).click();
  assert.deepEqual(
    [await said(page, 1, "solidLeftG"), await said(page, 1, "solidLeftMmol"), await said(page, 1, "solidUsedMmol")],
    ["not yet", "not yet", "no number"],
  );
  const looks = await page.locator(".twin-looks").innerText();
  assert.match(looks, /Solid left, g\. Close\./);
  assert.match(looks, /Solid left, mmol\. Solid at the start, less solid used/);
  assert.match(looks, /Type a number such as/);
  const place = await page.locator("#ledger-place").innerText();
  for (const figure of ["17.58", "1.025", "3.00"]) assert.ok(!place.includes(figure), `${figure} is told unasked`);
  await tabTo(page, "Show the value of Acid dose 1: Solid left, mmol");
  await page.keyboard.press("Enter");
  assert.match(await page.locator(".twin-looks").innerText(), /It is 17\.58\./);
  assert.equal(await cell(page, 1, "solidLeftMmol").inputValue(), "20", "what was typed stays");
  assert.deepEqual(await barriers(page), []);
  await screenshot(page, "ledger-own", { fullPage: true });

  await press(page, "Bench");
  await playDose(page);
  await press(page, "Ledger");
  assert.equal(await cell(page, 0, "solidLeftG").inputValue(), "1,200");
  assert.equal(await cell(page, 1, "solidUsedMmol").inputValue(), "three");
  assert.equal(await cell(page, 2, "hclMmol").inputValue(), "", "a new dose has a new row");
  await press(page, "Filled by the run");
  await press(page, "My own");
  assert.equal(await cell(page, 0, "solidLeftG").inputValue(), "1,200");
  await page.getByRole("button", { name: "Empty all cells" }).click();
  assert.equal(await cell(page, 0, "solidLeftG").inputValue(), "");
});

for (const screen of [SCREENS.zoomed, SCREENS.phone]) {
  test(`at ${screen.width} x ${screen.height} one's own Ledger scrolls in its own box`, async (t) => {
    const { page } = await visit(t, { screen });
    const asks = () => page.evaluate(() => !dispatchEvent(new Event("beforeunload", { cancelable: true })));
    assert.ok(!(await asks()));
    await press(page, "Ledger");
    await press(page, "My own");
    assert.deepEqual(await barriers(page), []);
    assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= screen.width);
    await cell(page, 0, "hydrogenLeftMmol").fill("0");
    await page.getByRole("button", { name: "Check my ledger" }).click();
    assert.equal(await said(page, 0, "hydrogenLeftMmol"), "right");
    await press(page, "Bench");
    assert.ok(!(await asks()), "what is typed is kept on the device, and waits there");
    await page.evaluate(() => {
      Storage.prototype.setItem = () => {
        throw new DOMException("full", "QuotaExceededError");
      };
    });
    await press(page, "Ledger");
    await cell(page, 0, "hydrogenLeftMmol").fill("0.0");
    assert.ok(await asks(), "what can't be kept is not left behind unasked");
    await screenshot(page, `ledger-own-${screen.width}x${screen.height}`, { fullPage: true });
  });
}
