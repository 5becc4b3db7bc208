// The class view on a projector: one key leads through a dose, hands are counted, and nothing cuts the thinking short.

import assert from "node:assert/strict";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import { asked, comesTo, stage, toRest } from "./hands.mjs";
import { screenshot, visit } from "./harness.mjs";
import { LIMIT_MS, soon, still } from "./waits.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

const PROJECTOR = { width: 1920, height: 1080 };
/** What a class must read from the back row, CSS px on a projector of 1080 lines: one thirtieth of its height. */
const BACK_ROW_PX = 36;

/** The key of a presenter's remote. @param {Page} page */
const forward = (page) => page.keyboard.press("PageDown");

/** Types the hands for some choices, by their words. @param {Page} page @param {Record<string, string>} hands */
async function count(page, hands) {
  for (const [choice, number] of Object.entries(hands))
    await page.getByLabel(`Hands for ${choice}`, { exact: true }).fill(number);
}

/** @param {Page} page @param {string} selector @returns {Promise<number>} */
const fontSize = (page, selector) =>
  page
    .locator(selector)
    .first()
    .evaluate((one) => Number.parseFloat(getComputedStyle(one).fontSize));

/** What the one button says. @param {Page} page */
const key = (page) => page.locator("#class-key").innerText();

test("a class is led through a dose by one key, with hands counted and told beside the outcome", {
  timeout: LIMIT_MS,
}, async (t) => {
  const { page } = await visit(t, { screen: PROJECTOR });
  await page.locator("#big").press("Enter");
  assert.equal(await key(page), "Start the lesson");
  await forward(page);
  assert.equal(await asked(page), "2.whatAcidDoes");
  await count(page, { "they react, and both turn into something else": "9", "it only mixes with it": "14" });
  await forward(page);
  await comesTo(page, "ask");

  // Nothing is revealed without a guess of the class, however often the key is pressed.
  for (let presses = 0; presses < 3; presses++) await forward(page);
  assert.equal(await asked(page), "atOnce");
  assert.match(await page.locator("#card .error").innerText(), /Choose one/);

  // Think time: it counts up, and nothing ends it.
  const before = await page.locator(".thinking").innerText();
  await soon(async () => assert.notEqual(await page.locator(".thinking").innerText(), before));
  assert.equal(await asked(page), "atOnce");

  await count(page, { red: "12", blue: "12" });
  assert.equal(
    await page.locator("fieldset.question input:checked").count(),
    0,
    "as many for both: the teacher decides",
  );
  await count(page, { red: "13" });
  assert.equal(await page.locator("fieldset.question input:checked").inputValue(), "red");
  assert.deepEqual(await barriers(page), []);
  await screenshot(page, "teach-1-ask");
  await forward(page);
  assert.equal(await asked(page), "atRest");
  await page.keyboard.press("PageUp");
  assert.equal(await asked(page), "atOnce", "and back again");
  await forward(page);
  await count(page, { blue: "11", violet: "8", green: "4" });
  await forward(page);
  await count(page, { "cloudy: the mark hardly shows": "16" });
  await forward(page);
  await page.fill("#ask-seconds-typed", "20");
  await forward(page);
  await count(page, { "the 34 °C beaker": "19" });
  await forward(page);
  assert.equal(await asked(page), "why");
  await forward(page);
  await count(page, { "it shows how acidic or basic the water is": "5", "it makes acid and base react": "10" });
  assert.equal(await key(page), "Reveal");
  await forward(page);

  await comesTo(page, "watch");
  assert.ok(await page.locator("#card").isHidden(), "the card has left");
  assert.equal(await key(page), "Hold");
  assert.ok((await fontSize(page, ".colour-word")) >= BACK_ROW_PX, "the colour is a large word");
  await soon(async () => assert.match(await page.locator(".colour-word").first().innerText(), /red/));
  await screenshot(page, "teach-2-watch");
  assert.deepEqual(await barriers(page), []);
  await forward(page);
  assert.equal(await key(page), "Carry on");
  await still(page);
  const held = await page.locator(".time").innerText();
  await page.waitForTimeout(1300);
  assert.equal(await page.locator(".time").innerText(), held, "hold stops the clock");
  await forward(page);
  await page.locator("#stage").focus();
  while ((await stage(page)) === "watch") await page.keyboard.press("n");
  assert.match(await page.locator(".class-say").innerText(), /What did you see/);
  assert.equal(await page.locator(".walk [aria-current=step]").innerText(), "Say");
  await screenshot(page, "teach-3-see");

  await forward(page);
  await comesTo(page, "explain");
  const told = await page.locator("#card").innerText();
  assert.match(told, /You said blue\. It was violet\./);
  assert.deepEqual(await page.locator(".raised").nth(1).locator("li span:first-child").allInnerTexts(), [
    "green 4",
    "blue 11",
    "violet 8",
  ]);
  assert.equal(await page.locator(".raised").nth(1).locator(".came-true").innerText(), "violet 8");
  assert.deepEqual(await barriers(page), []);
  await screenshot(page, "teach-4-explain");
  /** @type {string[]} */
  const pages = [];
  while ((await stage(page)) === "explain") {
    pages.push(await page.locator("#card-heading ~ .card-body").innerText());
    assert.ok(pages.length < 8, "the explanation never ends");
    await forward(page);
  }
  const all = pages.join("\n");
  assert.match(all, /it makes acid and base react 10/);
  assert.match(all, /Set up a beaker without indicator/, "an idea leads on to a question");
  assert.equal(await stage(page), "ask");
  await page.locator("#big").press("Enter");
  assert.ok(await page.locator("#class-key").isHidden());
  assert.equal(await page.locator(".hands").first().isVisible(), false, "a student sees no place for hands");
});

test("on a laptop the class view fits without scrolling, whatever it shows", async (t) => {
  const { page } = await visit(t, { screen: { width: 1366, height: 600 } });
  await page.locator("#big").press("Enter");
  const fits = async (/** @type {string} */ moment) => {
    const beyond = await page.evaluate(() => document.documentElement.scrollHeight - innerHeight);
    assert.ok(beyond <= 0, `${moment}: ${beyond} px below the screen`);
    const box = await page.locator("#class-key").boundingBox();
    assert.ok(box && box.y + box.height <= 600, moment);
    const glass = await page.locator(".glass").first().boundingBox();
    assert.ok(glass && glass.height > 80, `${moment}: the beakers are ${glass?.height} px high`);
  };
  await fits("brief");
  await forward(page);
  await count(page, { "it eats the solid away": "3" });
  await forward(page);
  await comesTo(page, "ask");
  await fits("ask");
});

for (const screen of [{ width: 1366, height: 768 }, PROJECTOR])
  test(`a class is shown every line of the card at ${screen.width} x ${screen.height}, hands and all`, {
    timeout: LIMIT_MS,
  }, async (t) => {
    const { page } = await visit(t, { screen });
    await page.locator("#big").press("Enter");
    const whole = async (/** @type {string} */ moment) => {
      const beyond = await page
        .locator("#card .card-body")
        .evaluate((body) => [body.scrollHeight - body.clientHeight, body.scrollWidth - body.clientWidth]);
      assert.ok(Math.max(...beyond) <= 1, `${moment}: ${beyond} px of the card are not seen`);
    };
    const fillHands = async () => {
      const hands = page.locator("fieldset.question input.hands");
      const places = Math.min(await hands.count(), 4);
      for (let at = 0; at < places; at++) await hands.nth(at).fill(String(12 - 3 * at));
      if ((await asked(page)) === "seconds") await page.check("fieldset.question input[value=never]");
    };
    await whole("brief");
    await forward(page);
    while ((await stage(page)) === "brief") {
      await fillHands();
      await whole("a question of the brief");
      await forward(page);
    }
    while ((await stage(page)) === "ask") {
      await fillHands();
      await whole(await asked(page));
      await forward(page);
    }
    await toRest(page);
    await still(page);
    const bar = await page.locator(".class-bar").boundingBox();
    const button = await page.locator("#class-key").boundingBox();
    assert.ok(bar && button && bar.height < 1.6 * button.height, "the bar is one line");
    // At rest the time shown is the end of the ribbon, however wide that is.
    const short = await page.locator(".ribbons .cursor").evaluate((cursor) => {
      const row = /** @type {Element} */ (cursor.parentElement).getBoundingClientRect();
      return row.right - cursor.getBoundingClientRect().left;
    });
    assert.ok(Math.abs(short) < 4, `the line stands ${short} px before the end`);
    await forward(page);
    for (let pages = 0; (await stage(page)) === "explain"; pages++) {
      assert.ok(pages < 10, "the explanation never ends");
      await whole(`page ${pages + 1} of the explanation`);
      await forward(page);
    }
  });
