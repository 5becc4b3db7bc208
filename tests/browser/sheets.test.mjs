// The teacher's sheets of paper: their numbers by hand, their cautions, and how they come out of a printer.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import { press, startLesson } from "./hands.mjs";
import { atEach, needs, SCREENS, screenshot, visit } from "./harness.mjs";
import { darkest, margins, onPaper } from "./paper.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

const FORMATS = /** @type {const} */ (["A4", "Letter"]);
/** Printers leave a rim of a page unprinted; ours keep at least this much free, mm. */
const LEAST_MARGIN_MM = 9;
/** Ink that is read in grey is darker than this even at 50 dots per inch. */
const READABLE_GREY = 110;

/** @param {Page} page @param {string} place @param {string} [show] what of Paper is shown */
async function goTo(page, place, show) {
  await press(page, place);
  if (show) {
    await page.selectOption("#paper-show", show);
    // The key is computed one beaker after the other.
    if (show === "key") await page.waitForSelector("#paper-place table");
  }
}

/** The rows of a table, cell by cell. @param {Page} page @param {string} place @param {number} table from 0 */
function rows(page, place, table) {
  return page
    .locator(`${place} table`)
    .nth(table)
    .locator("tbody tr")
    .evaluateAll((found) =>
      found.map((row) => [...row.children].map((cell) => (cell.textContent ?? "").replace(/\u00a0/g, " "))),
    );
}

/** Change the recipe in Plan. @param {Page} page @param {Record<string, string>} typed */
async function plan(page, typed) {
  await press(page, "Plan");
  for (const [field, text] of Object.entries(typed)) await page.fill(`#plan-${field}`, text);
  await page.getByRole("button", { name: "Use this recipe" }).click();
}

/*
 * By hand, for three beakers: 3 x 500 mL of water, 3 x 15 mL of suspension (80 mg/mL: 3 x 1.20 g), 3 x 5 mL of indicator;
 * 3 x 7 x 2.0 mL = 42 mL of acid, with a spare dose each 3 x 8 x 2.0 mL = 48 mL; 3 x 4 x 2.0 mL = 24 mL of base, spare
 * 30 mL. 41.15 mmol of acid are wanted, 6.00 mmol to a dose: 6.86 doses; 90 % of the label 6.17, 115 % 7.89.
 * 3.0 mol/L x 100 mL / 12.1 mol/L = 24.8 mL. 500 + 15 + 5 + 14 + 8 = 542 mL; four fifths of 600 mL are 480 mL.
 */
test("capability 8: the prep sheet of our scenario holds the amounts that a hand works out", async (t) => {
  const { page } = await visit(t);
  await goTo(page, "Prep sheet");
  assert.deepEqual(await rows(page, "#prep-place", 0), [
    ["Water", "500 mL", "1.5 L"],
    ["Suspension, 80 mg/mL", "15 mL", "45 mL"],
    ["magnesium hydroxide in it, by the label", "1.20 g", "3.60 g"],
    ["Universal indicator", "5 mL", "15 mL"],
    ["Hydrochloric acid, 3.0 mol/L, 7 doses", "14 mL", "42 mL"],
    ["with 1 spare dose", "16 mL", "48 mL"],
    ["Sodium hydroxide, 3.0 mol/L, 4 doses", "8 mL", "24 mL"],
    ["with 1 spare dose", "10 mL", "30 mL"],
  ]);
  const text = (await page.locator("#prep-place").innerText()).replace(/\u00a0/g, " ");
  assert.match(text, /7, perhaps 8: 6\.86 doses by the label/);
  assert.match(text, /6\.17 to 7\.89 doses/);
  assert.match(text, /3\.0 mol\/L × 100 mL ÷ 12\.1 mol\/L = 24\.8 mL of stock/);
  assert.match(text, /534 mL after the acid and 542 mL in the end/);
  assert.match(text, /480 mL at most/);
  assert.match(text, /Take 800 mL beakers/);
});

test("spare doses and the stock on the shelf change the prep sheet as a hand would", async (t) => {
  const { page } = await visit(t);
  await goTo(page, "Prep sheet");
  await page.fill("#prep-spare", "3");
  // 3 x (7 + 3) x 2.0 mL.
  assert.deepEqual((await rows(page, "#prep-place", 0))[5], ["with 3 spare doses", "20 mL", "60 mL"]);
  await page.selectOption("#prep-acid", "acid6");
  await page.selectOption("#prep-base", "other");
  await page.fill("#prep-base-other", "10,5");
  const text = (await page.locator("#prep-place").innerText()).replace(/\u00a0/g, " ");
  assert.match(text, /3\.0 mol\/L × 100 mL ÷ 6\.0 mol\/L = 50\.0 mL of stock/);
  // 3.0 x 100 / 10.5 = 28.57.
  assert.match(text, /3\.0 mol\/L × 100 mL ÷ 10\.5 mol\/L = 28\.6 mL of stock/);
});

test("a stock that is weaker than what is wanted is refused in words", async (t) => {
  const { page } = await visit(t);
  await plan(page, { acidMolL: "6" });
  await goTo(page, "Prep sheet");
  await page.selectOption("#prep-acid", "acid5");
  assert.match(await page.locator("#prep-place").innerText(), /weaker than 6\.0 mol\/L.*stronger stock/s);
  await page.selectOption("#prep-acid", "other");
  await page.fill("#prep-acid-other", "abc");
  assert.match(await page.locator("#prep-place").innerText(), /no stock's concentration/);
  assert.equal(await page.inputValue("#prep-acid-other"), "abc");
});

test("capability 9: the safety card follows the concentrations, and always says what is always true", async (t) => {
  const { page } = await visit(t);
  /** The card's text for these concentrations. @param {string} acid @param {string} base */
  const card = async (acid, base) => {
    await plan(page, { acidMolL: acid, baseMolL: base });
    await press(page, "Safety card");
    const text = (await page.locator("#safety-place").innerText()).replace(/\u00a0/g, " ");
    for (const always of [
      /Eye protection/,
      /Acid into water/,
      /No bleach/,
      /Disposal/,
      /local rules/,
      /safety data sheet/,
      /qualified (supervising )?adult/,
      /Not medical advice/,
      /1272\/2008/,
      /1910\.1200 \(2012\)/,
      /\(2022\)/,
      /\* .*from memory: look it up/,
    ])
      assert.match(text, always);
    return text;
  };
  // 29 CFR 1910.1200, Appendix A: acid of 19.9 % burns as that of 10.4 %; the adult alone pours above 3 mol/L.
  const [mild, acid6] = [await card("3", "1"), await card("6", "1")];
  assert.match(mild, /Hydrochloric acid 3\.0 mol\/L \(10 %\)/);
  assert.match(acid6, /Hydrochloric acid 6\.0 mol\/L \(20 %\)/);
  assert.doesNotMatch(mild, /Only the supervising adult pours/);
  assert.match(acid6, /Only the supervising adult pours/);
  // Regulation 1272/2008, Annex VI: 3.9 % of base (40.00 g/mol, 1.038 g/mL) is category 1B, 10.8 % is 1A.
  const base3 = await card("3", "3");
  assert.match(mild, /Sodium hydroxide 1\.0 mol\/L \(3\.9 %\)\s+Danger: H314 1B/);
  assert.match(base3, /Sodium hydroxide 3\.0 mol\/L \(11 %\)\s+Danger: H314 1A/);
});

test("capability 2 and 18: the key holds the hand table to its last figure, six doses that turn back and a seventh that stays", async (t) => {
  const { page } = await visit(t);
  await goTo(page, "Paper", "key");
  const [times, books] = [await rows(page, "#paper-place", 0), await rows(page, "#paper-place", 1)];
  // The hand table: moles of acid and solid, dose by dose (6.00 mmol to a dose, 20.58 mmol of solid at first).
  const hand = [
    ["Start", "0.00", "0.00", "0.00", "20.58", "1.200", "0.00", "\u2013"],
    ["Acid dose 1", "6.00", "0.00", "3.00", "17.58", "1.025", "0.00", "acid"],
    ["Acid dose 2", "12.00", "0.00", "6.00", "14.58", "0.850", "0.00", "acid"],
    ["Acid dose 3", "18.00", "0.00", "9.00", "11.58", "0.675", "0.00", "acid"],
    ["Acid dose 4", "24.00", "0.00", "12.00", "8.58", "0.500", "0.00", "acid"],
    ["Acid dose 5", "30.00", "0.00", "15.00", "5.58", "0.325", "0.00", "acid"],
    ["Acid dose 6", "36.00", "0.00", "18.00", "2.58", "0.150", "0.00", "acid"],
    ["Acid dose 7", "42.00", "0.00", "20.58", "0.00", "0.000", "0.85", "solid"],
  ];
  assert.deepEqual(books.slice(0, 8), hand);
  for (const [dose, ...beakers] of times.slice(0, 6)) {
    const [cold, room, warm] = beakers.map((cell) => Number.parseFloat(cell));
    assert.ok(warm < room && room < cold, `${dose}: warm, room, cold in that order (${beakers.join(" | ")})`);
  }
  assert.ok(
    times[6].slice(1).every((cell) => /^never; R, then R; clear/.test(cell)),
    "dose 7 stays in all three",
  );
});

test("capability 18: the student's ledger is the blank twin of the filled one, with the numbers that it takes", async (t) => {
  const { page } = await visit(t);
  const heads = () =>
    page
      .locator(".sheet:visible table")
      .evaluateAll((tables) =>
        tables.map((table) => [...table.querySelectorAll("thead th")].map((cell) => cell.textContent)),
      );
  await goTo(page, "Paper", "key");
  const filled = (await heads())[1];
  const names = (await rows(page, "#paper-place", 1)).map(([name]) => name);
  await page.selectOption("#paper-show", "student");
  assert.deepEqual((await heads())[2], filled);
  const blank = await rows(page, "#paper-place", 2);
  assert.deepEqual(
    blank.map(([name]) => name),
    names,
  );
  assert.ok(blank.every(([, ...cells]) => cells.length === 7 && cells.every((cell) => cell === "")));
  const text = (await page.locator("#paper-place").innerText()).replace(/\u00a0/g, " ");
  assert.match(text, /15 mL with 80 mg\/mL of magnesium hydroxide \(58\.32 g\/mol\)/);
  assert.match(text, /2\.0 mL of 3\.0 mol\/L acid or 3\.0 mol\/L base/);
});

test("the student's sheets follow the level: no moles and no thermometer at level 1", async (t) => {
  const { page } = await visit(t);
  const sheets = async (/** @type {string} */ level) => {
    await page.selectOption("#level", level);
    await goTo(page, "Paper", "student");
    const text = await page.locator("#paper-place").innerText();
    await press(page, "Bench");
    return text;
  };
  const [first, third] = [await sheets("1"), await sheets("3")];
  assert.doesNotMatch(first, /mmol|mol\/L|°C|Read the temperature/);
  assert.match(first, /Photograph the code/);
  assert.match(third, /HCl in all, mmol/);
  assert.match(third, /Read the temperature/);
});

test("the key says what stands behind a wrong choice, and what to ask then", async (t) => {
  const { page } = await visit(t);
  await goTo(page, "Paper", "key");
  assert.match(
    await page.locator("#paper-place").innerText(),
    /“it makes acid and base react”: the indicator did it\. Ask: Set up a beaker without indicator/,
  );
});

test("the edges of the colour words on paper are those of the core", async (t) => {
  const { page } = await visit(t);
  await goTo(page, "Paper", "student");
  const bands = await readFile(new URL("../../src/colour/bands.rs", import.meta.url), "utf8");
  const edges = [...bands.matchAll(/Band::\w+ => (\d+\.\d+),/g)].slice(0, 7).map(([, edge]) => edge);
  const told = await page.locator(".colour-key .ph").allTextContents();
  assert.equal(told.length, 8);
  assert.deepEqual(
    told.map((text) => text.match(/\d+\.\d+/g)),
    [[edges[0]], ...edges.slice(1).map((edge, index) => [edges[index], edge]), [edges[6]]],
  );
});

/** Every sheet: its place, what is chosen there, and words that each of its pages must hold. */
const SHEETS = /** @type {[string, string, string | undefined, number][]} */ ([
  ["prep", "Prep sheet", undefined, 4],
  ["safety", "Safety card", undefined, 3],
  ["student", "Paper", "student", 5],
  ["key", "Paper", "key", 4],
]);

for (const [name, place, show, most] of SHEETS) {
  test(
    `the ${name} sheet prints on A4 and Letter, in grey, with its head on every page and no row cut`,
    needs("paper"),
    async (t) => {
      const { page } = await visit(t);
      await goTo(page, place, show);
      const cells = await page
        .locator(".sheet:visible tbody tr")
        .evaluateAll((found) => found.map((row) => [...row.children].map((cell) => cell.textContent ?? "")));
      const code = (await page.locator(".sheet-code strong").first().innerText()).trim();
      for (const format of FORMATS) {
        const pages = await onPaper(page, name, format);
        t.diagnostic(`${format}: ${pages.length} pages`);
        assert.ok(pages.length >= 2 && pages.length <= most, `${format}: ${pages.length} pages`);
        for (const [index, printedPage] of pages.entries()) {
          const where = `${format}, page ${index + 1}`;
          assert.ok(printedPage.text.includes(code), `${where} has the check code`);
          assert.match(printedPage.text, /Date/, where);
          assert.match(printedPage.text, show === "student" ? /Name or code/ : /Prepared by/, where);
          assert.doesNotMatch(
            printedPage.text,
            /Bench|A4 or Letter|undefined|NaN/,
            `${where} has nothing of the screen`,
          );
          for (const [edge, mm] of Object.entries(margins(printedPage)))
            assert.ok(mm >= LEAST_MARGIN_MM, `${where}: ${mm.toFixed(1)} mm free at the ${edge}`);
          assert.ok(darkest(printedPage) < READABLE_GREY, where);
        }
        uncut(cells, pages, format);
      }
    },
  );
}

/**
 * Every row stands whole on one page: all its words are there, the first cell's before the others.
 * @param {string[][]} cells
 * @param {import("./paper.mjs").Printed[]} pages
 * @param {string} format
 */
function uncut(cells, pages, format) {
  const words = (/** @type {string} */ text) => text.split(/\s+/).filter(Boolean);
  const bags = pages.map(({ text }) => words(text));
  for (const row of cells) {
    const wanted = row.flatMap(words);
    assert.ok(
      bags.some((bag) => wanted.every((word) => bag.includes(word))),
      `${format}: the row "${row.join(" | ")}" stands on no page as a whole`,
    );
  }
}

test(
  "rows, parts and labels are told never to break, and heads to come again on every page",
  needs("paper"),
  async (t) => {
    const { page } = await visit(t);
    await page.emulateMedia({ media: "print" });
    for (const [, place, show] of SHEETS) {
      await page.emulateMedia({ media: "screen" });
      await goTo(page, place, show);
      await page.emulateMedia({ media: "print" });
      const broken = await page
        .locator(".sheet:visible")
        .evaluateAll((sheets) =>
          sheets.flatMap((sheet) =>
            [...sheet.querySelectorAll("tr, li, .bottle-label, .axes, .paper-question, .sheet-head")]
              .filter((part) => getComputedStyle(part).breakInside !== "avoid")
              .map((part) => `${part.localName} ${part.textContent?.slice(0, 40)}`),
          ),
        );
      assert.deepEqual(broken, [], place);
      const heads = await page
        .locator(".sheet:visible .sheet-head")
        .evaluateAll((found) => found.map((head) => getComputedStyle(head).display));
      assert.ok(heads.length > 0 && heads.every((display) => display === "table-header-group"));
      const small = await page
        .locator(".sheet:visible")
        .evaluateAll((sheets) =>
          sheets.flatMap((sheet) =>
            [...sheet.querySelectorAll("p, li, td, th, dt, dd, caption, h4")]
              .filter((part) => Number.parseFloat(getComputedStyle(part).fontSize) < 15.9)
              .map((part) => `${part.localName} ${part.textContent?.slice(0, 40)}`),
          ),
        );
      assert.deepEqual(small, [], `${place}: 12 pt are 16 px`);
    }
  },
);

test("a lesson of sixty doses prints every row whole, page after page", needs("paper"), async (t) => {
  const { page } = await visit(t);
  await plan(page, { vesselMl: "2000", acidDoses: "30", baseDoses: "30", restS: "10", baseRestS: "10" });
  await goTo(page, "Paper", "student");
  const pages = await onPaper(page, "student-long", "Letter");
  const heads = pages.filter(({ text }) => /Name or code/.test(text));
  assert.equal(heads.length, pages.length);
  const cells = await page
    .locator(".sheet:visible tbody tr")
    .evaluateAll((found) => found.map((row) => [row.children[0].textContent ?? ""]));
  for (const printedPage of pages)
    for (const mm of Object.values(margins(printedPage))) assert.ok(mm >= LEAST_MARGIN_MM);
  uncut(cells, pages, "Letter");
});

test("while a guided lesson is under way, nothing on paper gives its outcome away, and the cautions stay", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  for (const [place, show] of [["Prep sheet"], ["Paper", "key"]]) {
    await press(page, place);
    if (show) await page.selectOption("#paper-show", show);
    assert.match(await page.locator(".place:visible").innerText(), /would give the outcome away/);
    assert.equal(await page.locator(".place:visible table").count(), 0);
  }
  await press(page, "Plan");
  assert.match(await page.locator(".forecast").innerText(), /would give the outcome away/);
  assert.equal(await page.locator(".forecast table").count(), 0);
  await press(page, "Safety card");
  const card = await page.locator("#safety-place").innerText();
  assert.match(card, /Acid into water/);
  assert.doesNotMatch(card, /by the bookkeeping/);
});

test("the desk fits every screen, and axe-core finds no barrier in it", async (t) => {
  const { page } = await visit(t);
  for (const [key, place, show] of [["plan", "Plan"], ...SHEETS]) {
    await goTo(page, /** @type {string} */ (place), /** @type {string | undefined} */ (show));
    await atEach(
      page,
      [{ width: 1366, height: 600 }, SCREENS.phone, { width: 320, height: 640 }],
      async ({ width, height }) => {
        const where = `${key} at ${width} x ${height}`;
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        assert.ok(wide <= 0, `${where}: ${wide} px too wide`);
        assert.deepEqual(await barriers(page), [], where);
        await screenshot(page, `desk-${key}-${width}x${height}`, { fullPage: true });
      },
    );
  }
});
