// The page in the second engine: a lesson planned, played to its end, handed on by its link, in another language, and
// each screen size. Its driver is not the other tests', so that the hands here are fewer and press what can be seen.

import assert from "node:assert/strict";
import { test } from "node:test";
import { visitFirefox } from "./firefox.mjs";
import { SCREENS } from "./harness.mjs";

/** @typedef {import("puppeteer-core").Page} Page */

/** @param {Page} page @returns {Promise<string>} */
const stage = (page) => page.$eval("#bench-place", (bench) => /** @type {HTMLElement} */ (bench).dataset.stage ?? "");

/** @param {Page} page @param {string} selector */
const press = (page, selector) => page.$eval(selector, (one) => /** @type {HTMLElement} */ (one).click());

/** @param {Page} page @param {string} selector @param {string} typed by keys, over what stood there */
async function type(page, selector, typed) {
  await page.focus(selector);
  await page.$eval(selector, (field) => /** @type {HTMLInputElement} */ (field).select());
  await page.keyboard.type(typed);
}

/** Plans a short lesson: two doses of acid, one of base. @param {Page} page */
async function plan(page) {
  await press(page, "[data-place=plan]");
  await page.waitForSelector("#plan-acidDoses");
  await type(page, "#plan-acidDoses", "2");
  await type(page, "#plan-baseDoses", "1");
  await type(page, "#plan-doseMl", "1,5");
  await press(page, "#plan-place button.primary");
  await page.waitForSelector("#bench-place:not([hidden])");
}

/** @param {Page} page @param {(where: string) => Promise<void>} look at each new stage */
async function play(page, look) {
  let last = "";
  for (let presses = 0; ; presses++) {
    const here = await stage(page);
    assert.ok(presses < 600, `stuck in ${here}`);
    if (here !== last) await look(here);
    last = here;
    if ((await page.$("#card .code")) !== null) return;
    if (here === "watch") {
      await press(page, "#next");
      await new Promise((done) => setTimeout(done, 40));
      continue;
    }
    await page.evaluate(() => {
      const radios = /** @type {HTMLInputElement[]} */ ([
        ...document.querySelectorAll("fieldset.question input[type=radio]"),
      ]);
      const never = radios.find(({ value }) => value === "never");
      if (!radios.some(({ checked }) => checked)) (never ?? radios[0])?.click();
    });
    await press(page, "#card .card-foot button");
  }
}

test("a lesson is planned in Firefox, played to its end, and its link opens the same lesson", async (t) => {
  const page = await visitFirefox(t);
  await plan(page);
  const link = page.url();
  assert.match(link, /#./);
  /** @type {string[]} */
  const stages = [];
  await play(page, async (here) => {
    stages.push(here);
  });
  assert.deepEqual([...new Set(stages)], ["brief", "ask", "watch", "see", "explain", "end"]);
  const words = await page.$eval("#card", (card) => card.textContent ?? "");
  assert.match(words, /2 doses of acid and 1 doses? of base/);
  assert.match(words, /[0-9A-Z]{4}-[0-9A-Z]{4}/);

  const other = await visitFirefox(t, { path: new URL(link).pathname + new URL(link).hash });
  await other.waitForSelector("#card .primary");
  await press(other, "[data-place=plan]");
  await other.waitForSelector("#plan-doseMl");
  assert.equal(await other.$eval("#plan-doseMl", (field) => /** @type {HTMLInputElement} */ (field).value), "1.5");
});

test("in Firefox a language is chosen and kept on the device", async (t) => {
  const page = await visitFirefox(t);
  await page.select("#language", "es");
  await page.waitForFunction(() => document.documentElement.lang === "es");
  assert.match(await page.$eval("#card", (card) => card.textContent ?? ""), /Empezar la lección|Antes de empezar|vaso/);
  await page.reload({ waitUntil: "load" });
  await page.waitForSelector("#language");
  assert.equal(await page.evaluate(() => document.documentElement.lang), "es");
  assert.match(await page.$eval(".beaker", (beaker) => beaker.textContent ?? ""), /\d,\d/);
});

test("in Firefox nothing is cut off sideways on any screen", async (t) => {
  const page = await visitFirefox(t);
  for (const screen of Object.values(SCREENS)) {
    await page.setViewport(screen);
    for (const place of ["plan", "prep", "safety", "paper", "about", "bench"]) {
      await press(page, `[data-place=${place}]`);
      await new Promise((done) => setTimeout(done, 150));
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      assert.ok(wide <= screen.width, `${place} at ${screen.width}: ${wide} px wide`);
    }
  }
});
