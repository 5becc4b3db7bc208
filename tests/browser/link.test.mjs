// A lesson goes round as a link: a good one opens the same lesson, any other is refused in words and leaves a working page.

import assert from "node:assert/strict";
import { test } from "node:test";
import { visit } from "./harness.mjs";
import { benchIsReady, playDose, stage, startLesson } from "./student.mjs";

/** @typedef {import("playwright-core").Page} Page */

/** The shortest address that a school platform or a chat may cut or wrap. */
const LINK_BUDGET = 300;

/** What stands in every field of the recipe form. @param {Page} page @returns {Promise<Record<string, string>>} */
async function formValues(page) {
  await page.click("[data-place=plan]");
  const values = await page
    .locator("#plan-place form")
    .evaluate((form) =>
      Object.fromEntries(
        [...form.querySelectorAll("input, select")].map((field) => [
          field.id,
          /** @type {HTMLInputElement | HTMLSelectElement} */ (field).value,
        ]),
      ),
    );
  return values;
}

/** The fragment of the lesson in use, with its #. @param {Page} page */
async function fragment(page) {
  await page.click("[data-place=plan]");
  const link = await page.inputValue("#plan-link");
  return link.slice(link.indexOf("#"));
}

test("a link opens the same lesson in another browser, to the last number", async (t) => {
  const maker = await visit(t);
  await benchIsReady(maker.page);
  await maker.page.click("[data-place=plan]");
  await maker.page.fill("#plan-doseMl", "2,5");
  await maker.page.fill("#plan-waterMl", "450");
  await maker.page.fill("#plan-acidDoses", "6");
  await maker.page.fill("#plan-beaker-0-celsius", "3.5");
  await maker.page.getByRole("button", { name: "One beaker less" }).click();
  await maker.page.getByRole("button", { name: "Use this recipe" }).click();
  assert.equal(await stage(maker.page), "brief");
  const link = await fragment(maker.page);
  const wanted = await formValues(maker.page);

  const taker = await visit(t, { path: `/${link}` });
  await benchIsReady(taker.page);
  assert.equal(await taker.page.locator("#trouble").isVisible(), false);
  assert.equal(await taker.page.locator(".beaker").count(), 2);
  assert.match(await taker.page.locator("#card").innerText(), /450 mL of water/);
  assert.deepEqual(await formValues(taker.page), wanted);
  assert.equal(wanted["plan-doseMl"], "2.5");
  assert.equal(await fragment(taker.page), link);
});

test("the link of our own lesson is short enough for any school's platform", async (t) => {
  const { page, origin } = await visit(t);
  await benchIsReady(page);
  const link = await fragment(page);
  t.diagnostic(`${link.length} characters: ${link}`);
  assert.ok(`${origin}/${link}`.length <= LINK_BUDGET);
});

test("a refused link is explained in words, and our own lesson works instead", async (t) => {
  const { page } = await visit(t);
  await benchIsReady(page);
  const good = await fragment(page);
  const ours = await formValues(page);
  const middle = Math.floor(good.length / 2);
  const changed = good[middle] === "A" ? "B" : "A";
  /** @type {[string, string, RegExp][]} */
  const cases = [
    ["damaged", good.slice(0, middle) + changed + good.slice(middle + 1), /damaged/],
    ["cut", good.slice(0, middle), /incomplete|cut off/],
    ["much too long", good + "A".repeat(3000), /too long/],
    ["of a newer version", good.replace("#v1.", "#v7."), /newer version/],
    ["with a strange sign", `${good.slice(0, middle)}%21${good.slice(middle + 3)}`, /damaged/],
    ["not ours", "#section-2", /no lesson/],
  ];
  for (const [name, link, words] of cases) {
    await t.test(name, async (sub) => {
      const { page: opened } = await visit(sub, { path: `/${link}` });
      await benchIsReady(opened);
      const alert = opened.getByRole("alert");
      assert.match(await alert.innerText(), words);
      assert.match(await alert.innerText(), /our own lesson/);
      assert.deepEqual(await formValues(opened), ours);
      await opened.click("[data-place=bench]");
      await opened.getByRole("button", { name: "Close this message" }).click();
      assert.equal(await alert.isVisible(), false);
      await startLesson(opened);
      await playDose(opened);
      assert.equal(await stage(opened), "ask");
    });
  }
});

test("a link that is opened in the same tab takes its place, a bad one leaves the lesson as it is", async (t) => {
  const { page } = await visit(t);
  await benchIsReady(page);
  const ours = await fragment(page);
  await page.fill("#plan-doseMl", "4.0");
  await page.getByRole("button", { name: "Use this recipe" }).click();
  const other = await fragment(page);
  assert.notEqual(other, ours);
  assert.ok(page.url().endsWith(other), "the address holds the lesson in use");
  await page.evaluate((link) => {
    location.hash = link;
  }, ours);
  await page.waitForFunction(
    () => /** @type {HTMLInputElement} */ (document.querySelector("#plan-doseMl")).value === "2.0",
  );
  await page.evaluate(() => {
    location.hash = "#v1.broken";
  });
  await page.waitForSelector("#trouble:not([hidden])");
  assert.equal((await formValues(page))["plan-doseMl"], "2.0");
});

test("the copy button puts the whole link on the clipboard, and says what to do where that is forbidden", async (t) => {
  const { page } = await visit(t, { context: { permissions: ["clipboard-read", "clipboard-write"] } });
  await benchIsReady(page);
  await page.click("[data-place=plan]");
  await page.getByRole("button", { name: "Copy the link" }).click();
  await page.waitForFunction(() => document.querySelector("#plan-link-said")?.textContent === "Copied.");
  assert.equal(await page.evaluate(() => navigator.clipboard.readText()), await page.inputValue("#plan-link"));

  const barred = await visit(t, {
    beforeLoad: async (target) => {
      await target.addInitScript(() => {
        Object.defineProperty(navigator, "clipboard", { value: undefined });
      });
    },
  });
  await benchIsReady(barred.page);
  await barred.page.click("[data-place=plan]");
  await barred.page.getByRole("button", { name: "Copy the link" }).click();
  await barred.page.waitForFunction(() =>
    /selected/.test(document.querySelector("#plan-link-said")?.textContent ?? ""),
  );
});
