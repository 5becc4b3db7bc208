// Before the guess is locked, nothing of the outcome can be got at.

import assert from "node:assert/strict";
import { test } from "node:test";
import { visit } from "./harness.mjs";
import {
  ledgerRows,
  lockGuess,
  pictures,
  playDose,
  saySeen,
  stage,
  startLesson,
  toRest,
  turnedBack,
} from "./student.mjs";

/** @typedef {import("playwright-core").Page} Page */

/** All words of the page but those of the card with its chips. @param {Page} page */
async function wordsOutsideTheCard(page) {
  return page.evaluate(() =>
    ["#stage", ".controls", "#status"]
      .map((part) => /** @type {HTMLElement} */ (document.querySelector(part)).innerText)
      .join("\n"),
  );
}

/** Tries everything that could show a dose before its guess. @param {Page} page */
async function tryToPeek(page) {
  await page.focus("#stage");
  for (const key of ["n", "h", " ", "+", "ArrowRight", "End", "n", "-", "-", "Home", "ArrowRight", "h", "n"])
    await page.keyboard.press(key);
  for (const button of ["#next", "#hold", "#next"]) await page.locator(button).click({ force: true });
  await page.check("input[name=speed][value='16']");
  await page.check("input[name=reach][value=lesson]");
  await page.evaluate(() => {
    const slider = /** @type {HTMLInputElement} */ (document.querySelector(".look"));
    for (const value of [slider.max, slider.min, "1", slider.max]) {
      slider.value = value;
      slider.dispatchEvent(new Event("input", { bubbles: true }));
    }
  });
  for (const place of ["ledger", "plan", "bench"]) await page.click(`[data-place=${place}]`);
  // Time would show it, if the clock ran behind the card.
  await page.waitForTimeout(1500);
  await page.check("input[name=reach][value=dose]");
  await page.check("input[name=speed][value='1']");
}

/** Whether a sheet of card lies over the middle of every picture. @param {Page} page */
async function everythingIsCovered(page) {
  return page.evaluate(() =>
    [...document.querySelectorAll(".glass canvas")].every((canvas) => {
      const { left, top, width, height } = canvas.getBoundingClientRect();
      const sheet = /** @type {HTMLElement} */ (document.querySelector(".cover-sheet"));
      const over = sheet.getBoundingClientRect();
      const covers =
        over.left <= left + 1 &&
        over.top <= top + 1 &&
        over.right >= left + width - 1 &&
        over.bottom >= top + height - 1;
      // The card lets presses through, so the browser is asked with that set aside.
      const cover = /** @type {HTMLElement} */ (sheet.parentElement);
      cover.style.pointerEvents = "auto";
      const topmost = document.elementFromPoint(left + width / 2, top + height / 2);
      cover.style.pointerEvents = "";
      return covers && topmost !== null && cover.contains(topmost);
    }),
  );
}

for (const dose of [1, 2]) {
  test(`no attempt to peek at dose ${dose} before the lock shows anything of it`, async (t) => {
    const { page } = await visit(t);
    await startLesson(page);
    for (let played = 1; played < dose; played++) await playDose(page);
    await page.waitForTimeout(1000);

    const picturesBefore = await pictures(page);
    const wordsBefore = await wordsOutsideTheCard(page);
    const ledgerBefore = await ledgerRows(page);
    await page.waitForTimeout(300);
    await tryToPeek(page);

    assert.equal(await stage(page), "ask");
    assert.ok(await everythingIsCovered(page), "the card stands before every beaker");
    assert.ok((await pictures(page)) === picturesBefore, "not a pixel behind the card or on the ribbons has changed");
    assert.equal(await wordsOutsideTheCard(page), wordsBefore);
    assert.deepEqual(await ledgerRows(page), ledgerBefore);
    assert.equal(ledgerBefore.length, dose, "the ledger has the start and the doses before");
    for (const word of await page.locator(".colour-word").allTextContents()) assert.equal(word, "covered");
    assert.equal(await page.getByRole("button", { name: "Free bench" }).count(), 0, "the free bench stays closed");
  });
}

test("the same checks do see a dose that is no longer covered", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await page.waitForTimeout(1000);
  const before = await pictures(page);
  const words = await wordsOutsideTheCard(page);
  await lockGuess(page);
  await toRest(page);
  await page.waitForTimeout(500);
  assert.equal(await everythingIsCovered(page), false);
  assert.ok((await pictures(page)) !== before);
  assert.notEqual(await wordsOutsideTheCard(page), words);
  assert.equal((await ledgerRows(page)).length, 2);
});

test("a locked guess can't be changed, and its flag stays pinned on the ribbon at the guessed second", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await lockGuess(page, { seconds: "150", atRest: "violet" });
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

test("speed and holds change no time that is measured", async (t) => {
  /** @param {Page} page @param {boolean} hurried */
  const times = async (page, hurried) => {
    await startLesson(page);
    if (hurried) await page.check("input[name=speed][value='16']");
    await lockGuess(page);
    if (hurried) {
      await page.waitForTimeout(1500);
      await page.keyboard.press("h");
      await page.waitForTimeout(400);
      await page.keyboard.press("h");
      await page.waitForTimeout(1500);
    }
    await toRest(page);
    await saySeen(page);
    return turnedBack(page);
  };
  const slow = await visit(t);
  const fast = await visit(t);
  assert.deepEqual(await times(fast.page, true), await times(slow.page, false));
});
