// The what-ifs of the free bench and its torch, with the keyboard alone.

import assert from "node:assert/strict";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import { comesTo, press, tab, tabTo } from "./hands.mjs";
import { atEach, SCREENS, screenshot, visit } from "./harness.mjs";
import { soon } from "./waits.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** Open a part of the card. @param {Page} page @param {string} name */
async function open(page, name) {
  await tabTo(page, name, "summary");
  await page.keyboard.press("Enter");
}

/** Leave only some beakers chosen. @param {Page} page @param {string[]} wanted names */
async function chooseOnly(page, wanted) {
  for (const name of ["2 °C", "21 °C", "34 °C"]) {
    await tabTo(page, name, "checkbox");
    const is = await page.evaluate(() => /** @type {HTMLInputElement} */ (document.activeElement).checked);
    if (is !== wanted.includes(name)) await page.keyboard.press("Space");
  }
}

/** Pick a what-if in the open part. @param {Page} page @param {string} value @param {string} letters typed to find it */
async function whatIf(page, value, letters) {
  const isThere = () => page.evaluate(() => document.activeElement?.id === "free-what-if");
  for (let tabs = 0; !(await isThere()); tabs++) {
    assert.ok(tabs < 60, "the keyboard never came to the what-ifs");
    await tab(page);
  }
  await page.keyboard.type(letters);
  assert.equal(await page.inputValue("#free-what-if"), value);
}

test("capability 25: one beaker is changed beside its neighbours, and says so", async (t) => {
  const { page } = await visit(t);
  await press(page, "Free bench");
  await comesTo(page, "free");
  await chooseOnly(page, ["34 °C"]);
  await open(page, "What if …");
  await whatIf(page, "finer", "finer");
  assert.match(await page.locator("#free-what-if-does").innerText(), /twice the surface/);
  await press(page, "Change the chosen beakers");
  await chooseOnly(page, ["2 °C"]);
  await whatIf(page, "noIndicator", "no ");
  await press(page, "Change the chosen beakers");
  await soon(async () => {
    const names = await page.locator(".beaker-name").allInnerTexts();
    assert.match(names[0], /no indicator/);
    assert.doesNotMatch(names[1], /indicator|finer/);
    assert.match(names[2], /finer solid/);
    const words = await page.locator(".colour-word").allInnerTexts();
    assert.equal(words[0], "white", "without a dye there is no colour to name");
    assert.match(words[1], /violet/);
  });
  const changes = await page.locator(".changes li").allInnerTexts();
  assert.equal(changes.length, 2);
  for (const line of changes) assert.match(line, /Changed: .* The same: |and nothing else/);
  assert.deepEqual(await barriers(page), []);
  await screenshot(page, "whatif-1-changed");
  await press(page, "Take changes back");
  await soon(async () => {
    const [cold, , warm] = await page.locator(".beaker-name").allInnerTexts();
    assert.doesNotMatch(cold, /indicator/);
    assert.match(warm, /finer solid/, "only the chosen ones");
  });
});

test("capability 26: the torch is held to the glass", async (t) => {
  // The test's own look at the pixels, which the page itself never takes.
  const { page } = await visit(t, { expected: [/willReadFrequently/] });
  await press(page, "Free bench");
  await comesTo(page, "free");
  await open(page, "Mark and torch");
  await tabTo(page, "Lamp off, black card, torch", "checkbox");
  await page.keyboard.press("Space");
  await soon(async () => {
    const details = await page.locator(".detail").allInnerTexts();
    assert.ok(
      details.some((words) => /torch: it glows/.test(words)),
      `what the torch shows stands in words: ${details}`,
    );
  });
  // The corner of the picture is the black card now.
  const corner = () =>
    page.evaluate(() => {
      const canvas = /** @type {HTMLCanvasElement} */ (document.querySelector(".glass canvas"));
      const context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
      return [...context.getImageData(2, 2, 1, 1).data];
    });
  /** The picture follows the words in a frame of its own. @param {boolean} dark @param {string} why */
  const cornerIs = (dark, why) =>
    soon(async () => {
      const [red, , , opaque] = await corner();
      assert.ok(opaque === 255 && (dark ? red < 80 : red === 255), `${why}: ${red}`);
    });
  await cornerIs(true, "dark");
  await atEach(page, [SCREENS.laptop, SCREENS.phone], async ({ width, height }) => {
    assert.deepEqual(await barriers(page), []);
    await screenshot(page, `whatif-2-torch-${width}x${height}`);
  });
  await page.keyboard.press("Space");
  await cornerIs(false, "the lamp is on again");
  // Whoever goes to a lesson finds it in the light.
  await page.keyboard.press("Space");
  await cornerIs(true, "dark once more");
  await press(page, "Guided lesson");
  await comesTo(page, "brief");
  await cornerIs(false, "in the light");
});

test("capability 25: with the stirrer off the solid settles, the top clears, and the beaker says why", async (t) => {
  // The test's own look at the pixels, which the page itself never takes.
  const { page } = await visit(t, { expected: [/willReadFrequently/] });
  await press(page, "Free bench");
  await comesTo(page, "free");
  await chooseOnly(page, ["21 °C"]);
  await open(page, "Stirrer");
  await press(page, "Stirrer off");
  await page.locator("label", { hasText: "16×" }).click();
  // Dark where the light of the paper behind comes through the dye, pale where the solid throws it back.
  const light = (/** @type {number} */ share) =>
    page.evaluate((share) => {
      const canvas = document.querySelectorAll(".glass canvas")[1];
      const { width, height } = /** @type {HTMLCanvasElement} */ (canvas);
      const context = /** @type {CanvasRenderingContext2D} */ (
        /** @type {HTMLCanvasElement} */ (canvas).getContext("2d")
      );
      const [r, g, b] = context.getImageData(Math.round(0.6 * width), Math.round(share * height), 1, 1).data;
      return r + g + b;
    }, share);
  await soon(async () => {
    const names = await page.locator(".beaker-name").allInnerTexts();
    assert.match(names[1], /stirrer off/);
    assert.doesNotMatch(names[0] + names[2], /stirrer off/);
    assert.ok((await light(0.75)) > 0, "the picture stands");
  });
  const [top, low] = [await light(0.385), await light(0.75)];
  // Eleven minutes of the lesson at the very most: 15 mm of 80, at 2.2e-5 m/s.
  await soon(async () => assert.ok((await light(0.385)) < top - 60, `the top clears: ${top}`));
  assert.ok((await light(0.75)) > low - 30, `below it stays pale: ${low}, then ${await light(0.75)}`);
  await screenshot(page, "whatif-3-settled");
});
