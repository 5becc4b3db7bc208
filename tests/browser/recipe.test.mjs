// Numbers that cannot be: each is refused at its field, with its limits, and
// everything else keeps what was typed.

import assert from "node:assert/strict";
import { test } from "node:test";
import { press } from "./hands.mjs";
import { screenshot, visit } from "./harness.mjs";

/** @type {[string, string, RegExp][]} */
const WRONG = [
  ["waterMl", "1e9", /Too big.*to/],
  ["waterMl", "-5", /Too small|not a number/],
  ["doseMl", "abc", /not a number/],
  ["acidMolL", "", /Type a number from/],
  ["suspensionMl", "NaN", /not a number/],
  ["acidDoses", "Infinity", /not a number|Too big/],
  ["roomC", "  ", /Type a number from/],
];

test("a number that cannot be is refused at its field, and nothing that was typed is lost", async (t) => {
  const { page } = await visit(t);
  await press(page, "Plan");
  await page.locator("#plan-indicatorMl").fill("4,5");
  for (const [field, typed, expected] of WRONG) {
    const input = page.locator(`#plan-${field}`);
    const before = await input.inputValue();
    await input.fill(typed);
    await page.getByRole("button", { name: "Use this recipe" }).click();
    assert.match(await page.locator(`#plan-${field}-error`).innerText(), expected, `${field} = "${typed}"`);
    assert.equal(await input.getAttribute("aria-invalid"), "true");
    assert.equal(await input.inputValue(), typed, "what was typed stays");
    assert.equal(await page.locator("#plan-indicatorMl").inputValue(), "4,5", "other fields keep what was typed");
    await input.fill(before);
  }
  await screenshot(page, "recipe-refused", { fullPage: true });
});

test("several wrong numbers are all told at once", async (t) => {
  const { page } = await visit(t);
  await press(page, "Plan");
  await page.locator("#plan-waterMl").fill("x");
  await page.locator("#plan-baseMolL").fill("99");
  await page.getByRole("button", { name: "Use this recipe" }).click();
  assert.match(await page.locator("#plan-waterMl-error").innerText(), /not a number/);
  assert.match(await page.locator("#plan-baseMolL-error").innerText(), /Too big/);
});
