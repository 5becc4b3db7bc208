// Five levels on one engine: each in its own words, with its own instruments, and one run behind all of them.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import { ANSWERS, answerCard, comesTo, goOn, press, stage, startLesson, toRest } from "./hands.mjs";
import { PAGE_ROOT, screenshot, visit } from "./harness.mjs";
import { LIMIT_MS, openLink, still } from "./waits.mjs";

/** @typedef {import("./harness.mjs").Page} Page */
/** @typedef {{level: number, expected: number, shows: string[], moments: {choices: {key: string, choices: {key: string, idea: string | null}[]}[]}[]}} LevelView */

const LEVELS = [1, 2, 3, 4, 5];
/** The terms that the brief of each level has sentences for. */
const IN_THE_BRIEF = [
  ["indicator"],
  ["acid", "base", "antacid"],
  ["limiting reactant", "end point", "moles", "acid", "indicator"],
  ["indicator"],
  ["ph", "base", "indicator"],
];
/** Most words of a sentence for grades 6 to 8. */
const MOST_WORDS = 15;

/** @returns {Promise<Record<string, string>>} */
const sentences = async () => JSON.parse(await readFile(join(PAGE_ROOT, "locales/en.json"), "utf8"));

/** The levels as the core has them, from a copy beside the page's own. @param {Page} page @returns {Promise<LevelView[]>} */
const levels = (page) =>
  page.evaluate(async () => {
    const { Turnback } = await import(/** @type {any} */ ("/pkg/turnback.js"));
    return new Turnback().desk().levels();
  });

/** @param {Page} page @param {number} level */
async function choose(page, level) {
  await page.selectOption("#level", String(level));
  await still(page);
}

test("every level, question, choice and idea has its words, and none is left over", async (t) => {
  const { page } = await visit(t, { core: true });
  const words = await sentences();
  const wanted = new Set();
  const ideas = new Set(["baseAtOnce", "warmthNoMatter"]);
  for (const { level, expected, moments } of await levels(page)) {
    wanted.add(`level.${level}.name`).add(`level.${level}.goal`).add(`level.${level}.lead`);
    for (let one = 1; one <= expected; one++) wanted.add(`level.${level}.expect.${one}`);
    for (const { key, choices } of moments.flatMap(({ choices }) => choices)) {
      wanted.add(`level.${key}`).add(`level.${key}.because`);
      for (const choice of choices) {
        wanted.add(`level.${key}.${choice.key}`);
        if (choice.idea) ideas.add(choice.idea);
      }
    }
  }
  for (const idea of ideas)
    for (const part of ["name", "idea", "followUp"]) wanted.add(`misconception.${idea}.${part}`);
  const there = Object.keys(words).filter(
    (key) => /^(level|misconception)\./.test(key) && !/^level\.\d\.(why|end)\.|\.source$/.test(key),
  );
  assert.deepEqual(
    [...wanted].filter((key) => !(key in words)),
    [],
    "without words",
  );
  assert.deepEqual(
    there.filter((key) => !wanted.has(key)),
    [],
    "left over",
  );
});

/** Syllables of an English word, as groups of vowels without a silent ending. @param {string} word */
function syllables(word) {
  const letters = word.toLowerCase().replace(/[^a-z]/g, "");
  const spoken =
    letters.length > 3 ? letters.replace(/(?:[^laeiouy]es|[^dt]ed|[^laeiouy]e)$/, (end) => end[0]) : letters;
  return Math.max(1, spoken.match(/[aeiouy]{1,2}/g)?.length ?? 1);
}

/**
 * The grade that a text asks for: 0.39 words in a sentence + 11.8 syllables in a word - 15.59 (Kincaid, Fishburne, Rogers
 * and Chissom 1975, Naval Technical Training Command, report 8-75; from memory).
 * @param {string[]} texts
 */
function grade(texts) {
  const spoken = texts.flatMap((text) => text.replace(/\{[^}]*\}/g, "5").split(/(?<=[.?!])\s+/));
  const words = spoken.flatMap((sentence) => sentence.split(/\s+/).filter((word) => /[a-z0-9]/i.test(word)));
  const heard = words.reduce((sum, word) => sum + syllables(word), 0);
  return (0.39 * words.length) / spoken.length + (11.8 * heard) / words.length - 15.59;
}

test("what students read at levels 1 and 2, and on every card, asks for no more than grade 8", async (t) => {
  const words = Object.entries(await sentences());
  const kinds = {
    "level 1": /^level\.1\.(lead|why|end|.*because)/,
    "level 2": /^level\.2\.(lead|why|end|.*because)/,
    questions: /^level\.[12]\.\w+$/,
    cards: /^(before|brief|ask|watch|see|why|end)\./,
    terms: /^term\.\w+$/,
    "follow-up": /followUp$/,
  };
  for (const [kind, keys] of Object.entries(kinds)) {
    const texts = words.filter(([key, text]) => keys.test(key) && text.includes(" ")).map(([, text]) => text);
    assert.ok(texts.length > 5, kind);
    t.diagnostic(`${kind}: grade ${grade(texts).toFixed(1)}`);
    assert.ok(grade(texts) <= 8, `${kind}: grade ${grade(texts)}`);
  }
  // The measure does find a text for older readers.
  assert.ok(
    grade([
      words.find(([key]) => key === "about.equation.rate")?.[1] ?? "",
      "Heterogeneous equilibria necessitate consideration of activity coefficients.",
    ]) > 8,
  );
});

test("levels 1 and 2 speak in short sentences", async () => {
  // What a student reads: not the goal, nor the teacher's list of what there is to see.
  const words = Object.entries(await sentences()).filter(
    ([key]) =>
      (/^level\.[12]\./.test(key) && !/\.(goal|expect)/.test(key)) || /^misconception\..*\.followUp$/.test(key),
  );
  assert.ok(words.length > 50);
  for (const [key, text] of words)
    for (const sentence of text.split(/(?<=[.?!:])\s+/))
      assert.ok(sentence.split(/\s+/).length <= MOST_WORDS, `${key}: "${sentence}"`);
});

test("a run has the same check code at every level, whatever is asked and answered", {
  timeout: LIMIT_MS,
}, async (t) => {
  /** @type {string[]} */
  const codes = [];
  for (const level of LEVELS) {
    const { page } = await visit(t);
    await choose(page, level);
    // One dose, then the code at the lesson's end.
    await press(page, "Plan");
    await page.fill("#plan-acidDoses", "1");
    await page.fill("#plan-baseDoses", "0");
    await page.getByRole("button", { name: "Use this recipe" }).click();
    await choose(page, level);
    assert.equal(await page.inputValue("#level"), String(level), "the level stays with the lesson");
    const terms = async () => (await page.locator("#card .term").allInnerTexts()).map((term) => term.toLowerCase());
    // No sentence of the glossary answers what this level is still to ask.
    assert.deepEqual(await terms(), IN_THE_BRIEF[level - 1]);
    await startLesson(page);
    await answerCard(page, { ...ANSWERS, "2.whatIndicator": "makesReact" });
    await toRest(page);
    if ((await page.locator("fieldset.question").count()) > 0) await answerCard(page, ANSWERS);
    else await press(page, "Show me why");
    await comesTo(page, "explain");
    assert.deepEqual(await barriers(page), [], `level ${level}`);
    await screenshot(page, `level-${level}-explain`);
    await goOn(page);
    await comesTo(page, "end");
    const forward = page.locator("#card .card-foot button.primary");
    /** @type {string[]} */
    const explained = [];
    while ((await page.locator("#card .code").count()) === 0) {
      explained.push(...(await terms()));
      if ((await page.locator("fieldset.question").count()) > 0)
        await page.locator("fieldset.question input[type=radio]").first().check();
      await forward.click();
    }
    codes.push(await page.locator("#card .code").innerText());
    if (level === 1) assert.ok(explained.includes("suspension"), `at the end: ${explained}`);
    await screenshot(page, `level-${level}-end`);
  }
  assert.match(codes[0], /^[0-9A-Z]{4}-[0-9A-Z]{4}$/);
  assert.deepEqual(
    codes,
    LEVELS.map(() => codes[0]),
  );
});

test("a level shows its instruments and no others", async (t) => {
  const { page } = await visit(t);
  const details = () => page.locator(".beaker .details").first().innerText();
  await choose(page, 1);
  await screenshot(page, "level-1-brief");
  assert.doesNotMatch(await page.locator("#stage").innerText(), /°C|pH/, "level 1 shows neither degrees nor pH");
  assert.deepEqual(await page.locator(".beaker-name .large").allInnerTexts(), ["cold", "room", "warm"]);
  assert.ok(await page.getByRole("button", { name: "Ledger" }).isHidden());
  await startLesson(page);
  assert.match(await page.locator("fieldset.question legend").innerText(), /the room beaker/);
  await choosePlanLevel(page, 5);
  assert.match(await details(), /pH/);
  assert.ok(await page.getByRole("button", { name: "Ledger" }).isVisible());
});

/** Back to the brief, and there another level. @param {Page} page @param {number} level */
async function choosePlanLevel(page, level) {
  await press(page, "Plan");
  await page.getByRole("button", { name: "Use this recipe" }).click();
  await choose(page, level);
}

test("capability 21: level 5 tells which cause took the pH down, and the causes add up", async (t) => {
  const { page } = await visit(t);
  await choose(page, 5);
  await startLesson(page);
  for (let dose = 1; dose <= 2; dose++) {
    await answerCard(page, ANSWERS);
    await toRest(page);
    await answerCard(page, ANSWERS);
    const forward = page.locator("#card .card-foot button.primary");
    while ((await page.locator("table.terms").count()) === 0) await forward.click();
    const rows = await page
      .locator("table.terms tbody tr")
      .evaluateAll((found) => found.map((row) => [...row.children].map((cell) => cell.textContent ?? "")));
    const number = (/** @type {string} */ text) => Number(text.replace("−", "-"));
    for (const column of [1, 2]) {
      const causes = rows.slice(0, -1).map((row) => number(row[column]));
      const whole = number(rows[rows.length - 1][column]);
      // Four numbers and their sum, each rounded to a hundredth.
      assert.ok(Math.abs(causes.reduce((sum, one) => sum + one, 0) - whole) < 0.026, `dose ${dose}: ${rows}`);
      assert.ok(whole < 0, `dose ${dose}: the pH fell`);
      assert.ok(
        causes[0] < 0 && causes.slice(1).every((other) => Math.abs(other) < Math.abs(causes[0])),
        `dose ${dose}: dissolved magnesium did it: ${causes}`,
      );
    }
    await screenshot(page, `level-5-terms-${dose}`);
    await goOn(page);
    assert.equal(await stage(page), "ask");
  }
});

test("a teacher's own question is shown as it was typed, whatever it holds, and never runs", async (t) => {
  const { page } = await visit(t, { core: true });
  const text =
    "<img src=x onerror=\"document.title='run'\"> \u202e\u0645\u0631\u062d\u0628\u0627 \u{1f9ea} {beaker} why?";
  const fragment = await page.evaluate(async (text) => {
    const { Turnback } = await import(/** @type {any} */ ("/pkg/turnback.js"));
    const core = new Turnback();
    const desk = core.desk();
    const lesson = desk.lesson();
    lesson.steps[0].asks = [
      { text, choices: ["<b>bold</b>", "\u05e9\u05dc\u05d5\u05dd"] },
      { text: "In your words?", choices: [] },
    ];
    const taken = desk.setLesson(lesson);
    if (!taken.ok) throw new Error(JSON.stringify(taken));
    return desk.share().fragment;
  }, text);
  await openLink(page, fragment);
  await startLesson(page);
  const legend = await page.locator("fieldset.question legend").innerText();
  assert.ok(
    legend.includes("<img src=x onerror=") && legend.includes("\u{1f9ea}") && legend.includes("{beaker}"),
    legend,
  );
  assert.equal(await page.locator("#card img, #card b").count(), 0);
  assert.equal(await page.locator("fieldset.question").getAttribute("dir"), "auto");
  assert.deepEqual(await barriers(page), []);
  await screenshot(page, "level-own-question");
  await page.locator("fieldset.question input[type=radio]").nth(0).check();
  await page.click("#card button[type=submit]");
  await page.locator("fieldset.question textarea").fill("<script>1</script>");
  await page.click("#card button[type=submit]");
  await comesTo(page, "watch");
  await toRest(page);
  await press(page, "Show me why");
  await comesTo(page, "explain");
  const forward = page.locator("#card .card-foot button.primary");
  while (!/You said/.test(await page.locator("#card").innerText())) await forward.click();
  assert.match(await page.locator("#card").innerText(), /You said: <b>bold<\/b>\./);
  assert.doesNotMatch(await page.title(), /run/);
});
