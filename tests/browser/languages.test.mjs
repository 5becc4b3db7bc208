// The page in another language: chosen by the browser, the address or a hand, kept on the device, and changed without a loss.

import assert from "node:assert/strict";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import { stage } from "./hands.mjs";
import { atEach, open, SCREENS, screenshot, visit } from "./harness.mjs";
import { still } from "./waits.mjs";
import { readWords } from "./words.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** The driver tells no more of a failed request that the page warns of. */
const FAILED_IN_FIREFOX = /^console warning: Error \(\)$/;

const { sentences: es } = await readWords("es");

/** @param {Page} page @returns {Promise<string>} */
function spoken(page) {
  return page.evaluate(() => document.documentElement.lang);
}

/** The files of words that were asked for. @param {import("./harness.mjs").Seen} seen */
function asked(seen) {
  return seen.requests.filter((address) => address.includes("/locales/")).map((address) => address.split("/").pop());
}

test("a Spanish browser gets the page in Spanish, and fetches no other words", async (t) => {
  const { page, seen } = await visit(t, { context: { locale: "es-MX" } });
  assert.equal(await spoken(page), "es");
  assert.equal(await page.evaluate(() => document.documentElement.dir), "ltr");
  assert.deepEqual(asked(seen), ["es.json"]);
  assert.equal(await page.title(), es["page.title"]);
  assert.equal(await page.locator("#card-heading").innerText(), es["brief.heading"]);
  assert.deepEqual(await barriers(page), []);
  // Nothing of the visible page is left in English.
  assert.doesNotMatch(await page.locator("main").innerText(), /\b(the|and|of|with|your|beaker|water)\b/i);
});

test("the address may ask for a language, and a browser of an unknown language gets English", async (t) => {
  const { page, seen } = await visit(t, { path: "/?lang=es", context: { locale: "fi-FI" } });
  assert.equal(await spoken(page), "es");
  assert.deepEqual(asked(seen), ["es.json"]);
  const { page: other } = await visit(t, { context: { locale: "fi-FI" } });
  assert.equal(await spoken(other), "en");
});

test("a language is chosen by hand: the guess under way, a locked guess and a typed recipe stay", async (t) => {
  const { page, seen } = await visit(t);
  await page.click("#card .primary");
  while ((await stage(page)) === "brief") {
    await page.locator("fieldset.question input[type=radio]").first().check();
    await page.click("#card button[type=submit]");
  }
  // A recipe that is typed, not used.
  await page.click("[data-place=plan]");
  await page.fill("#plan-waterMl", "432,5");
  await page.fill("#plan-title", "Room 12");
  await page.click("[data-place=bench]");
  const question = await page.locator("fieldset.question").getAttribute("data-question");
  await page.locator("fieldset.question input[type=radio]").nth(3).check();
  const chosen = await page.locator("fieldset.question input:checked").inputValue();
  await page.click("#card button[type=submit]");
  const second = await page.locator("fieldset.question").getAttribute("data-question");
  assert.notEqual(second, question);
  await page.locator("fieldset.question input[type=radio]").nth(1).check();
  const other = await page.locator("fieldset.question input:checked").inputValue();

  await page.selectOption("#language", "es");
  await page.waitForFunction(() => document.documentElement.lang === "es");
  assert.equal(await page.evaluate(() => document.activeElement?.id), "language", "the keyboard stays where it was");
  assert.equal(await page.locator("#card-heading").innerText(), es["dose.acid"].replace("{number}", "1"));
  assert.equal(await page.locator("fieldset.question").getAttribute("data-question"), second);
  assert.equal(await page.locator("fieldset.question input:checked").inputValue(), other);
  await page.getByRole("button", { name: es["ask.back"] }).click();
  assert.equal(await page.locator("fieldset.question input:checked").inputValue(), chosen);
  await page.click("[data-place=plan]");
  assert.equal(await page.inputValue("#plan-waterMl"), "432,5");
  assert.equal(await page.inputValue("#plan-title"), "Room 12");
  assert.equal(await stage(page), "ask");
  assert.deepEqual(asked(seen), ["en.json", "es.json"]);
  // The one request after loading that a person asked for.
  assert.equal(seen.lateRequests.splice(0).length, 1);
});

test("the choice is kept on this device, before the address and the browser", async (t) => {
  const { page, seen, origin } = await visit(t);
  await page.selectOption("#language", "es");
  await page.waitForFunction(() => document.documentElement.lang === "es");
  await open(page, `${origin}/?lang=en`);
  assert.equal(await spoken(page), "es");
  seen.lateRequests.splice(0);
});

test("where the words can't be fetched the page says so and goes on in the language that it has", async (t) => {
  const { page, seen } = await visit(t, { expected: [/es\.json/, /ERR_FAILED|Failed to fetch/, FAILED_IN_FIREFOX] });
  await page.route("**/locales/es.json", (route) => route.abort());
  await page.selectOption("#language", "es");
  await page.waitForSelector("#trouble:not([hidden])");
  assert.match(await page.locator("#trouble").innerText(), /Nothing has changed/);
  assert.equal(await page.inputValue("#language"), "en");
  assert.equal(await spoken(page), "en");
  seen.lateRequests.splice(0);
});

test("of two languages that were chosen one after the other the last one stays, whichever words come first", async (t) => {
  const { page, seen } = await visit(t);
  /** @type {() => void} */
  let release = () => {};
  const held = new Promise((done) => {
    release = () => done(undefined);
  });
  await page.route("**/locales/es.json", async (route) => {
    await held;
    await route.continue();
  });
  const answered = page.waitForResponse("**/locales/es.json");
  await page.selectOption("#language", "es");
  const english = page.waitForResponse("**/locales/en.json");
  await page.selectOption("#language", "en");
  await (await english).finished();
  release();
  await (await answered).finished();
  await page.locator("#status", { hasText: "The page speaks English now" }).waitFor();
  await still(page);
  assert.equal(await spoken(page), "en");
  assert.equal(await page.inputValue("#language"), "en");
  seen.lateRequests.splice(0);
});

test("a device that forbids storage still lets a language be chosen", async (t) => {
  const { page, seen } = await visit(t, {
    beforeLoad: (target) =>
      target.addInitScript(() => {
        Object.defineProperty(globalThis, "localStorage", {
          get() {
            throw new DOMException("forbidden", "SecurityError");
          },
        });
      }),
  });
  await page.selectOption("#language", "es");
  await page.waitForFunction(() => document.documentElement.lang === "es");
  seen.lateRequests.splice(0);
});

test("capability 23: in Spanish a decimal comma is shown and typed, and the same lesson comes of it", async (t) => {
  const { page } = await visit(t, { context: { locale: "es-ES" } });
  assert.match(await page.locator(".beaker").first().innerText(), /\d,\d °C/);
  await page.click("[data-place=plan]");
  assert.equal(await page.inputValue("#plan-acidMolL"), "3,0");
  assert.match(await page.locator("#plan-doseMl-hint").innerText(), /^de \d+,?\d* a \d+,?\d*\u00a0?mL$/);
  await page.fill("#plan-doseMl", "1,5");
  await page.fill("#plan-waterMl", "450.5");
  await page.getByRole("button", { name: es["plan.use"] }).click();
  await page.waitForSelector("#bench-place:not([hidden])");
  assert.match(await page.locator("#card").innerText(), /450,5 mL de agua/);
  // The link is what an English page makes of 1.5 mL and 450.5 mL.
  const address = page.url();
  const { page: english } = await visit(t);
  await english.click("[data-place=plan]");
  await english.fill("#plan-doseMl", "1.5");
  await english.fill("#plan-waterMl", "450.5");
  await english.getByRole("button", { name: "Use this recipe" }).click();
  await english.waitForSelector("#bench-place:not([hidden])");
  assert.equal(english.url(), address);
});

/**
 * What of the page's numbers is turned round: text in which a number with a unit or a sign stands on the screen in another
 * order than it is written in. Runs in the page.
 * @returns {{ looked: number, turned: string[], unseen: string[] }} how many were looked at; fields that hold unseen signs
 */
function turnedNumbers() {
  const quantity = /(pH |[+\u2212]?)(\d+(?:[.,]\d+)*)[ \u00a0]?(°C|K|mm|cm|mL|L|mg|g|s|min|mmol|mol|kJ|%|rpm|lx|)/g;
  const words = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const range = document.createRange();
  const seen = { looked: 0, turned: /** @type {string[]} */ ([]), unseen: /** @type {string[]} */ ([]) };
  for (let node = words.nextNode(); node; node = words.nextNode()) {
    const text = /** @type {Text} */ (node).data;
    const where = (/** @type {number} */ from, /** @type {number} */ to) => {
      range.setStart(/** @type {Node} */ (node), from);
      range.setEnd(/** @type {Node} */ (node), to);
      return range.getBoundingClientRect();
    };
    if (!node.parentElement?.checkVisibility({ visibilityProperty: true })) continue;
    for (const { 0: whole, 1: sign, 3: unit, index } of text.matchAll(quantity)) {
      if (!sign && !unit) continue;
      const first = where(index, index + 1);
      const last = where(index + whole.length - 1, index + whole.length);
      if (first.width === 0 || Math.abs(first.bottom - last.bottom) > first.height / 2) continue;
      seen.looked++;
      if (first.left > last.left) seen.turned.push(`${node.parentElement.className}: ${text.slice(0, 80)}`);
    }
  }
  for (const unit of document.querySelectorAll(".typed .unit:not(:empty)")) {
    const field = unit.previousElementSibling?.getBoundingClientRect();
    if (field && field.left > unit.getBoundingClientRect().left) seen.turned.push(`field: ${unit.textContent}`);
  }
  for (const field of /** @type {NodeListOf<HTMLInputElement>} */ (document.querySelectorAll("input, textarea")))
    if (/[\u2066-\u2069]/.test(field.value)) seen.unseen.push(field.id);
  return seen;
}

test("Spanish fits every screen, and so does a page that is read from right to left", async (t) => {
  const { page, seen } = await visit(t, { context: { locale: "es-ES" } });
  let looked = 0;
  for (const direction of ["ltr", "rtl"]) {
    if (direction === "rtl") {
      // The same words as a language that is read from right to left, numbers and all.
      await page.route("**/locales/es.json", (route) =>
        route.fulfill({ json: { ...es, "language.direction": "rtl" } }),
      );
      for (const tag of ["en", "es"]) {
        await page.selectOption("#language", tag);
        await page.waitForFunction((wanted) => document.documentElement.lang === wanted, tag);
      }
      seen.lateRequests.splice(0);
    }
    await page.evaluate((dir) => {
      document.documentElement.dir = dir;
    }, direction);
    for (const place of [
      "trace",
      "slip",
      "retell",
      "plan",
      "prep",
      "safety",
      "paper",
      "data",
      "tally",
      "about",
      "bench",
    ]) {
      await page.click(`[data-place=${place}]`);
      await still(page);
      const numbers = await page.evaluate(turnedNumbers);
      assert.deepEqual([...numbers.turned, ...numbers.unseen], [], `${place}, ${direction}`);
      looked += numbers.looked;
      if (direction === "ltr") assert.doesNotMatch(await page.locator("body").innerText(), /[\u2066-\u2069]/, place);
      await atEach(page, Object.values(SCREENS), async ({ width, height }) => {
        const { wide, outside } = await page.evaluate(() => ({
          wide: document.documentElement.scrollWidth,
          outside: [...document.querySelectorAll("main *")]
            .filter(
              (one) => one.getBoundingClientRect().right > innerWidth + 0.5 || one.getBoundingClientRect().left < -0.5,
            )
            .filter((one) => !one.closest(".unseen"))
            .map((one) => `${one.localName}.${one.className} ${one.textContent?.slice(0, 40)}`),
        }));
        const where = `${place}, ${direction}, ${width} x ${height}`;
        assert.ok(wide <= width, `${where}: ${wide} px wide: ${outside.slice(-3).join("; ")}`);
        if (place === "bench" && width > 1000) {
          const bar = await page.locator("#hold").boundingBox();
          assert.ok(bar && bar.y + bar.height <= height, `${where}: the clock is held at ${bar?.y} px`);
          const [caution, foot] = await Promise.all(
            ["#card .caution", "#card .card-foot"].map((part) => page.locator(part).first().boundingBox()),
          );
          assert.ok(caution && foot && caution.y + caution.height <= foot.y + 0.5, `${where}: the caution is whole`);
        }
        if (place === "bench") await screenshot(page, `es-${direction}-${width}x${height}`);
      });
    }
  }
  assert.ok(looked > 100, `only ${looked} numbers were looked at`);
  // Time still runs from left to right, and the card changes sides.
  assert.equal(await page.locator(".ribbons").evaluate((ribbons) => getComputedStyle(ribbons).direction), "ltr");
  const [card, stageBox] = await Promise.all(["#card", "#stage"].map((part) => page.locator(part).boundingBox()));
  assert.ok(card && stageBox && card.x < stageBox.x);
});
