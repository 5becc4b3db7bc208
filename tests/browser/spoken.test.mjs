// Level 2 to its end, by keyboard alone.

import assert from "node:assert/strict";
import { test } from "node:test";
import { ANSWERS, comesTo, focused, playDose, press, stage, startLesson, tabTo, toSummary } from "./hands.mjs";
import { visit } from "./harness.mjs";

/** @typedef {import("playwright-core").Page} Page */

test("capability 6: the mouse unplugged, level 2 is played to its end", async (t) => {
  const { page } = await visit(t);
  // Two doses of acid and one of base, planned by keyboard: the whole of a lesson, and not eleven times the same.
  await press(page, "Plan");
  for (const [field, count] of [
    ["Acid doses", "2"],
    ["Base doses after them", "1"],
  ]) {
    await tabTo(page, field, "text");
    await page.keyboard.press("Control+A");
    await page.keyboard.type(count);
  }
  await press(page, "Use this recipe");
  await comesTo(page, "brief");
  for (let tabs = 0; (await page.evaluate(() => document.activeElement?.id)) !== "level"; tabs++) {
    assert.ok(tabs < 120);
    await page.keyboard.press("Tab");
  }
  await page.keyboard.press("2");
  await page.waitForTimeout(1200);
  assert.equal(await page.locator("#level").inputValue(), "2");
  assert.equal(await page.evaluate(() => document.activeElement?.id), "level", "the keyboard stays where it was");
  await startLesson(page);
  for (let dose = 1; dose <= 3; dose++) {
    assert.equal(await stage(page), "ask");
    await playDose(page, ANSWERS);
  }
  await toSummary(page);
  assert.match(await page.locator("#card").innerText(), /2 doses of acid and 1 doses? of base/);
  assert.notEqual((await focused(page)).name, "", "the keyboard stands somewhere");
});
