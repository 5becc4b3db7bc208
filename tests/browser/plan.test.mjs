// Plan: what is told while a recipe is typed, and steps and questions that a teacher alters by the keyboard alone.

import assert from "node:assert/strict";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import { focused, press, startLesson, tabTo } from "./hands.mjs";
import { saved, screenshot, visit } from "./harness.mjs";
import { soon } from "./waits.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** Open the list of the doses, where it is closed. @param {Page} page */
async function openSteps(page) {
  if (await page.locator(".steps").isHidden()) await page.getByText("Doses and questions, one by one").click();
}

/** The panel beside the form, when it matches. @param {Page} page @param {RegExp} wanted */
async function foretold(page, wanted) {
  await page.waitForFunction(
    ([source, flags]) =>
      new RegExp(source, flags).test(document.querySelector(".forecast")?.textContent?.replace(/\u00a0/g, " ") ?? ""),
    [wanted.source, wanted.flags],
  );
  return (await page.locator(".forecast").innerText()).replace(/\u00a0/g, " ");
}

/** Seconds of the panel's table: dose by dose, beaker by beaker. @param {Page} page */
async function seconds(page) {
  await page.waitForFunction(() => {
    const table = document.querySelector(".forecast table");
    return table !== null && !table.textContent?.includes("\u2026");
  });
  return page
    .locator(".forecast tbody tr")
    .evaluateAll((found) => found.map((row) => [...row.children].slice(1).map((cell) => cell.textContent ?? "")));
}

test("capability 2 and 7: our scenario foretells seven doses, perhaps eight, the warm beaker first, and all three cleared by the same dose", async (t) => {
  const { page } = await visit(t);
  await page.click("[data-place=plan]");
  await foretold(page, /7, perhaps 8: 6\.86 doses by the label.*6\.17 to 7\.89/);
  const doses = await seconds(page);
  assert.equal(doses.length, 7);
  for (const [cold, room, warm] of doses.slice(0, 6).map((row) => row.map(Number))) {
    assert.ok(warm < room && room < cold, `${warm} s, ${room} s, ${cold} s`);
    assert.ok(warm > 1 && cold < 300);
  }
  assert.deepEqual(doses[6], ["never", "never", "never"]);
});

test("each key changes what is told: doses, glass, amounts, and the slot with its speed", async (t) => {
  const { page } = await visit(t);
  await page.click("[data-place=plan]");
  // Half the suspension: 20.58 mmol of acid are 3.43 doses.
  await page.fill("#plan-suspensionMl", "7,5");
  await foretold(page, /4: 3\.43 doses by the label/);
  // 446 + 15 + 5 + 14 = 480 mL are 80 % of 600 mL: too much only with the base.
  await page.fill("#plan-suspensionMl", "15");
  await page.fill("#plan-waterMl", "446");
  const reversal = await foretold(page, /With the base the beaker gets too full: 488 mL/);
  assert.match(reversal, /water: 1\.338 L/);
  await page.fill("#plan-waterMl", "400");
  await foretold(page, /442 mL in the end, 74 % of 600 mL/);
  assert.doesNotMatch(await page.locator(".forecast").innerText(), /too full/);
  // 7 x 300 s + 4 x 60 s are 39 min of watching.
  await page.fill("#plan-minutes", "45");
  const slot = await foretold(page, /Time, of 45 min.*At speed 16×: \d+ min, it fits/);
  assert.match(slot, /At speed 1×: \d+ min, too long/);
  await page.fill("#plan-minutes", "5");
  await foretold(page, /5 min are too short at every speed/);
});

test("a lesson that cannot reach its end point says so, and how to mend it", async (t) => {
  const { page } = await visit(t);
  await page.click("[data-place=plan]");
  await page.fill("#plan-acidDoses", "4");
  await foretold(page, /4 acid doses do not reach the end point: it needs 7\. Add doses/);
  await page.fill("#plan-acidMolL", "0");
  await foretold(page, /carry no acid/);
});

test("an overflow and a bad number are told beside the form while typing, and nothing typed is lost", async (t) => {
  const { page } = await visit(t);
  await page.click("[data-place=plan]");
  await page.fill("#plan-vesselMl", "500");
  await foretold(page, /Size of the beaker: The beaker would overflow|Size of the beaker.*overflow/);
  await page.fill("#plan-vesselMl", "600");
  await page.fill("#plan-doseMl", "abc");
  await foretold(page, /One dose\. That is not a number/);
  assert.equal(await page.inputValue("#plan-doseMl"), "abc");
  await page.fill("#plan-doseMl", "2,0");
  await foretold(page, /7, perhaps 8/);
});

/*
 * Six doses turned back and the ninth was the first to stay: 48 to 54 mmol of acid, so 24 to 27 mmol of solid in 15 mL,
 * 93.3 to 105.0 mg/mL, 117 to 131 % of the label's 80; the middle is 99.1.
 */
test("a counted end point corrects the strength, or agrees with the label", async (t) => {
  const { page } = await visit(t);
  await page.click("[data-place=plan]");
  const ask = page.getByRole("button", { name: "What does that say of the bottle?" });
  await page.fill("#plan-counted", "9");
  await ask.click();
  assert.equal(await page.inputValue("#plan-suspensionMgMl"), "99.1");
  assert.match(await page.locator(".beside").innerText(), /93\.3 to 105\.0 mg\/mL, 117 to 131 %/);
  await foretold(page, /9/);
  await page.getByRole("button", { name: "Undo my changes" }).click();
  await page.fill("#plan-counted", "7");
  await ask.click();
  assert.match(await page.locator(".beside").innerText(), /agrees with the label/);
  assert.equal(await page.inputValue("#plan-suspensionMgMl"), "80");
  await page.fill("#plan-counted", "many");
  await ask.click();
  assert.match(await page.locator("#plan-counted-error").innerText(), /Type the number of that dose/);
});

/** Names of the rows of the steps. @param {Page} page */
function steps(page) {
  return page.locator(".steps .step-name").allTextContents();
}

test("steps are moved, added, removed and taken back with the keyboard alone", async (t) => {
  const { page } = await visit(t);
  await page.click("[data-place=plan]");
  await openSteps(page);
  const before = await steps(page);
  assert.equal(before.length, 13);
  // A base dose wanders up before the last acid dose.
  await tabTo(page, "Up: Base dose 1", "button");
  await page.keyboard.press("Enter");
  assert.deepEqual((await steps(page)).slice(6, 10), ["Acid dose 6", "Base dose 1", "Acid dose 7", "Base dose 2"]);
  assert.equal((await focused(page)).name, "Up: Base dose 1", "the keyboard goes along");
  await soon(async () =>
    assert.match(await page.locator("#status").innerText(), /Base dose 1 moved\. It is now dose 7 of 11/),
  );
  await page.getByRole("button", { name: "Take back the last change" }).click();
  assert.deepEqual(await steps(page), before);
  await page.getByRole("button", { name: "Add an acid dose" }).click();
  assert.equal((await steps(page)).length, 14);
  assert.equal((await focused(page)).name, "Edit: Acid dose 8");
  await page.getByRole("button", { name: "Remove: Acid dose 1", exact: true }).click();
  assert.equal((await steps(page)).length, 13);
  assert.ok(await page.locator("#plan-acidDoses").isHidden(), "the count is planned here now");
  await page.getByRole("button", { name: "Use this recipe" }).click();
  await page.click("[data-place=plan]");
  assert.equal((await steps(page)).length, 13);
});

test("a dose gets a volume, a rest and questions of its own", async (t) => {
  const { page } = await visit(t);
  await page.click("[data-place=plan]");
  await openSteps(page);
  await page.getByRole("button", { name: "Edit: Acid dose 2", exact: true }).click();
  await page.fill("#step-volumeMl", "3,5");
  await page.fill("#step-restS", "120");
  await page.waitForFunction(() => /3\.5\smL, watched 120 s/.test(document.querySelector(".steps")?.textContent ?? ""));
  // What the level asks there is one prediction; a question of one's own comes first, another prediction behind it.
  await page.selectOption("#ask-kind", "own");
  await page.getByRole("button", { name: "Add this question" }).click();
  await page.keyboard.type("What will Room 12 hear?");
  await page.fill("#ask-1-choices", "nothing\na hiss\n");
  await page.getByRole("button", { name: "Up: question 2" }).click();
  await page.selectOption("#ask-kind", "clarity");
  await page.getByRole("button", { name: "Add this question" }).click();
  assert.equal((await focused(page)).name, "Remove: question 3");
  assert.deepEqual(await barriers(page), []);
  await screenshot(page, "plan-step-open", { fullPage: true });
  await page.getByRole("button", { name: "Use this recipe" }).click();
  await page.click("[data-place=paper]");
  const paper = await page.locator("#paper-place").innerText();
  assert.match(paper, /Before acid dose 2\s+What will Room 12 hear\?\s+nothing\s+a hiss/);
  await page.click("[data-place=plan]");
  await openSteps(page);
  await page.getByRole("button", { name: "Edit: Acid dose 2", exact: true }).click();
  assert.equal(await page.inputValue("#ask-0-text"), "What will Room 12 hear?");
  assert.equal(await page.inputValue("#step-volumeMl"), "3.5");
  await page.getByRole("button", { name: "Ask what the level asks" }).click();
  assert.equal(await page.locator(".asks li").count(), 1);
});

test("a question of 5,000 characters is refused at its field, and all of it stays", async (t) => {
  const { page } = await visit(t);
  await page.click("[data-place=plan]");
  await openSteps(page);
  await page.getByRole("button", { name: "Edit: Before the first dose" }).click();
  await page.selectOption("#ask-kind", "own");
  await page.getByRole("button", { name: "Add this question" }).click();
  const text = "Why? ".repeat(1000).trim();
  const own = page.locator(".own-question textarea").first();
  await own.fill(text);
  await page.fill("#plan-notes", "Keep the bottle of last year.");
  await page.getByRole("button", { name: "Use this recipe" }).click();
  assert.match(await page.locator(".own-question .error").first().innerText(), /Too long: 400 characters at most/);
  assert.equal(await own.inputValue(), text);
  assert.equal(await page.inputValue("#plan-notes"), "Keep the bottle of last year.");
  assert.equal(await page.evaluate(() => document.activeElement?.localName), "textarea");
});

/** Words that must be shown as they are: markup, right-to-left, emoji, and signs that would turn the page's own words. */
const WORDS = {
  markup: `<img src=x onerror="document.title='run'"><b>bold?</b>`,
  arabic: "ما هو اللون التالي؟",
  emoji: "Which colour 🧪 next, 👩🏽‍🔬?",
};

test("markup, right-to-left words and emoji are shown as they were typed and never run", async (t) => {
  const { page } = await visit(t);
  await page.click("[data-place=plan]");
  await page.fill("#plan-title", `${WORDS.markup} ${WORDS.arabic}`);
  await openSteps(page);
  await page.getByRole("button", { name: "Edit: Before the first dose" }).click();
  for (const [index, words] of Object.values(WORDS).entries()) {
    await page.selectOption("#ask-kind", "own");
    await page.getByRole("button", { name: "Add this question" }).click();
    await page
      .locator(".own-question textarea")
      .nth(2 * index)
      .fill(words);
  }
  await page.locator(".own-question textarea").nth(1).fill(`<script>alert(1)</script>\n${WORDS.emoji}`);
  await page.getByRole("button", { name: "Use this recipe" }).click();
  await page.click("[data-place=paper]");
  const paper = page.locator("#paper-place");
  for (const words of Object.values(WORDS)) assert.ok((await paper.innerText()).includes(words), words);
  assert.equal(await paper.locator("img:not(.qr), b, script").count(), 0);
  assert.match(await page.title(), /^Turnback/);
  const direction = await paper
    .getByText(WORDS.arabic, { exact: true })
    .evaluate((found) => getComputedStyle(found).direction);
  assert.equal(direction, "rtl");
  assert.equal(
    await paper
      .locator(".sheet-date")
      .first()
      .evaluate((found) => getComputedStyle(found).direction),
    "ltr",
  );
});

test("leaving the page asks first while something typed is in no lesson and no file", async (t) => {
  const { page } = await visit(t);
  const asks = () =>
    page.evaluate(() => {
      const leaving = new Event("beforeunload", { cancelable: true });
      window.dispatchEvent(leaving);
      return leaving.defaultPrevented;
    });
  await page.click("[data-place=plan]");
  assert.equal(await asks(), false);
  await page.fill("#plan-notes", "Ask Ms Ito for the big beakers.");
  assert.equal(await asks(), true);
  await page.getByRole("button", { name: "Use this recipe" }).click();
  assert.equal(await asks(), true, "the notes are in no link");
  await page.click("[data-place=plan]");
  await saved(page, () => page.getByRole("button", { name: "Save the lesson in use as a file" }).click());
  assert.equal(await asks(), false);
  await press(page, "Bench");
  await startLesson(page);
  assert.equal(await asks(), true);
});
