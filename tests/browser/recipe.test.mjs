// Numbers that cannot be: each is refused at its field, with its limits, and
// everything else keeps what was typed.

import assert from "node:assert/strict";
import { test } from "node:test";
import { ANSWERS, answerCard, press, startLesson, toRest } from "./hands.mjs";
import { screenshot, visit } from "./harness.mjs";
import { soon, still } from "./waits.mjs";

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

/** @typedef {import("./harness.mjs").Page} Page */

/** The sentence that a field's aria-describedby leads to. @param {Page} page @param {string} id */
async function complaint(page, id) {
  return page.locator(`#${id}`).evaluate((field) => {
    const ids = (field.getAttribute("aria-describedby") ?? "").split(" ");
    return ids
      .filter((one) => one.endsWith("-error"))
      .map((one) => document.getElementById(one)?.innerText ?? "")
      .join(" ")
      .trim();
  });
}

test("each bad number of the recipe is explained at its field with its limits, and all that was typed stays", async (t) => {
  const { page } = await visit(t);
  await press(page, "Plan");
  const typed = /** @type {Record<string, string>} */ ({
    "plan-waterMl": "abc",
    "plan-suspensionMl": "-3",
    "plan-suspensionMgMl": "1e9",
    "plan-indicatorMl": "",
    "plan-acidMolL": "NaN",
    "plan-doseMl": "0",
    "plan-pourS": "1,5",
    "plan-restS": "Infinity",
    "plan-beaker-0-celsius": "200",
  });
  const good = new Set(["plan-pourS"]);
  for (const [id, text] of Object.entries(typed)) await page.fill(`#${id}`, text);
  await page.getByRole("button", { name: "Use this recipe" }).click();
  for (const [id, text] of Object.entries(typed)) {
    assert.equal(await page.inputValue(`#${id}`), text, `${id} keeps what was typed`);
    const said = await complaint(page, id);
    if (good.has(id)) assert.equal(said, "", id);
    else assert.match(said, /\d.* to \d/, `${id}: ${said}`);
    assert.equal(await page.getAttribute(`#${id}`, "aria-invalid"), String(!good.has(id)), id);
  }
  const bad = Object.keys(typed).length - good.size;
  assert.match(await page.locator("#plan-place form [role=alert]").innerText(), new RegExp(`^\\W*${bad} numbers`));
  assert.equal(await page.evaluate(() => document.activeElement?.id), "plan-waterMl", "the first one has the focus");

  // Mended, the same form is taken, the decimal comma too.
  for (const [id, text] of [
    ["plan-waterMl", "400"],
    ["plan-suspensionMl", "10"],
    ["plan-suspensionMgMl", "80"],
    ["plan-indicatorMl", "5"],
    ["plan-acidMolL", "2"],
    ["plan-doseMl", "3"],
    ["plan-restS", "120"],
    ["plan-beaker-0-celsius", "4"],
  ])
    await page.fill(`#${id}`, text);
  await page.getByRole("button", { name: "Use this recipe" }).click();
  assert.match(await page.locator("#card").innerText(), /400 mL of water/);
  await press(page, "Plan");
  assert.equal(await page.inputValue("#plan-pourS"), "1.5");
});

test("what was typed into the recipe form waits there while another place is looked at", async (t) => {
  const { page } = await visit(t);
  await press(page, "Plan");
  await page.fill("#plan-waterMl", "abc");
  await press(page, "Ledger");
  await press(page, "Plan");
  assert.equal(await page.inputValue("#plan-waterMl"), "abc");
});

test("a dose on the free bench is refused at its field, and a good one is poured", async (t) => {
  const { page } = await visit(t);
  await page.getByRole("button", { name: "Free bench" }).click();
  for (const [text, words] of [
    ["", /Type a number/],
    ["abc", /not a number/],
    ["0", /Too small/],
    ["-1", /Too small/],
    ["1e9", /Too big|overflow/],
    ["NaN", /not a number/],
  ]) {
    await page.fill("#free-volume", String(text));
    await page.getByRole("button", { name: "Pour acid" }).click();
    assert.match(await complaint(page, "free-volume"), /** @type {RegExp} */ (words), String(text));
    assert.equal(await page.inputValue("#free-volume"), String(text));
  }
  await page.fill("#free-volume", "2,0");
  for (const box of await page.locator(".row input[type=checkbox]").all()) await box.uncheck();
  await page.getByRole("button", { name: "Pour acid" }).click();
  assert.match(await page.locator("#free-beakers-error").innerText(), /at least one/);
  await page.locator(".row input[type=checkbox]").nth(1).check();
  await page.getByRole("button", { name: "Pour acid" }).click();
  await soon(async () => {
    const [cold, room] = await page.locator(".colour-word").allTextContents();
    assert.match(room, /red/, "the chosen beaker is acid");
    assert.doesNotMatch(cold, /red/, "the others are not");
    assert.match(await page.locator(".details").nth(1).innerText(), /after dose 1/);
  });
});

for (const [name, recipe] of /** @type {[string, Record<string, string>][]} */ ([
  ["no solid", { "plan-suspensionMl": "0" }],
  ["no acid", { "plan-acidMolL": "0" }],
  ["hardly any solid", { "plan-suspensionMl": "0.01" }],
  ["a huge amount of solid", { "plan-suspensionMgMl": "400", "plan-suspensionMl": "50" }],
])) {
  test(`a recipe with ${name} runs through a dose without a number that is none`, async (t) => {
    const { page } = await visit(t);
    await press(page, "Plan");
    for (const [id, text] of Object.entries(recipe)) await page.fill(`#${id}`, text);
    await page.getByRole("button", { name: "Use this recipe" }).click();
    await startLesson(page);
    await answerCard(page, ANSWERS);
    await toRest(page);
    await still(page);
    assert.doesNotMatch(await page.locator("#stage").innerText(), /NaN|Infinity|undefined|null/);
    await answerCard(page, ANSWERS);
    assert.doesNotMatch(await page.locator("#card").innerText(), /NaN|Infinity|undefined|null/);
  });
}
