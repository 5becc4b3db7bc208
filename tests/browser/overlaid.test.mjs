// A class's recording over the Trace's chart of pH: where the lesson on the bench is the one that was measured, and a plain word
// where it is not.

import assert from "node:assert/strict";
import { test } from "node:test";
import Papa from "papaparse";
import { barriers } from "./axe.mjs";
import { enter, playDose, press, startLesson } from "./hands.mjs";
import { colourfulness, SCREENS, saved, screenshot, visit } from "./harness.mjs";
import { core, file, recorded } from "./recorded.mjs";
import { openLink } from "./waits.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** The electrode of these recordings is so late, s; their doses were poured at these seconds. */
const LAG_S = 4;
const DOSES = [20, 140, 260];

/** The page with a recording laid in Our data, at the bench. @param {import("node:test").TestContext} t @param {{level?: number, lay?: boolean, visit?: Parameters<typeof visit>[1]}} [how] */
async function measured(t, { level = 5, lay = true, visit: how = {} } = {}) {
  const { page } = await visit(t, how);
  await page.selectOption("#level", String(level));
  await page.locator("[data-place=data]").press("Enter");
  await page.setInputFiles("#data-file", [file("room-12.csv", await recorded(21, DOSES, 360, LAG_S))]);
  await page.locator("#data-0-celsius").fill("21");
  if (lay) {
    await enter(page, "#data-lag", String(LAG_S));
    await page
      .locator(".recording")
      .getByText(/root mean square|media cuadrática/)
      .waitFor();
  } else {
    await page.fill("#data-lag", String(LAG_S));
    await page.fill("#data-0-celsius", "");
  }
  await page.locator("[data-place=bench]").press("Enter");
  return page;
}

const chart = (/** @type {Page} */ page) => page.locator("[data-chart=ph]");
const lines = (/** @type {Page} */ page) => chart(page).locator("path.data");

/** A file that a chart hands out. @param {Page} page @param {string} ending */
const handedOut = async (page, ending) =>
  (await saved(page, () => chart(page).getByRole("button", { name: ending }).press("Enter"))).bytes;

test("capability 17: the recording stands over the run's chart of pH, in its table and in its files", async (t) => {
  const page = await measured(t);
  await startLesson(page);
  await playDose(page);
  await playDose(page);
  await press(page, "Trace");
  await lines(page).first().waitFor();
  assert.equal(await lines(page).count(), 3, "the nearest beaker, the recording, the model for it");
  const looks = await lines(page).evaluateAll((all) =>
    all.map((line) => [line.getAttribute("stroke-dasharray"), line.getAttribute("stroke-linecap")].join()),
  );
  assert.equal(new Set(looks).size, 3, "each line has its own look");
  assert.ok((await colourfulness(page, chart(page).locator(".plot"))) < 16, "and reads in grey");
  const names = await chart(page).locator(".chart-drawing text").allTextContents();
  assert.ok(names.includes("recorded") && names.includes("model, lagging"), names.join());
  const note = await chart(page).innerText();
  assert.match(note, /Recorded: room-12\.csv, at 21\.0 °C/);
  // The recording is the model's own with that lag: a hundredth of pH of shaking, and nothing of a second.
  assert.match(note, /Computed less recorded: [\u2212-]?0\.0\d pH on average, 0\.0\d pH root mean square/);
  assert.match(
    note,
    /Seconds to pH 7, computed less recorded: dose 1: [\u2212-]?0\.[01] s; dose 2: [\u2212-]?0\.[01] s/,
  );
  await screenshot(page, "trace-recorded", { fullPage: true });
  await chart(page).locator("summary").click();
  // The browser says that it has opened only after the click is over.
  await chart(page).locator("tbody tr").first().waitFor();
  const heads = await chart(page).locator("thead th").allInnerTexts();
  assert.deepEqual(heads.slice(-2), ["pH: recorded", "pH: model, lagging"]);
  const table = await chart(page)
    .locator("tbody tr")
    .evaluateAll((rows) => rows.map((row) => [...row.children].map((cell) => cell.textContent ?? "")));
  // The recording begins 20 s before its first dose and ends 100 s after its third.
  const both = table.filter((row) => row[4] !== "–");
  assert.ok(both.length > 40 && both.length < table.length, `${both.length} of ${table.length}`);
  for (const row of both) assert.ok(Math.abs(Number(row[4]) - Number(row[5])) < 0.06, row.join());
  const csv = Papa.parse((await handedOut(page, "CSV")).toString().replace(/^\uFEFF/, ""), {
    header: true,
    skipEmptyLines: true,
  });
  assert.deepEqual(csv.meta.fields?.slice(-2), ["pH_recorded", "pH_computed_lag_4.0_s"]);
  assert.equal(csv.data.length, table.length);
  const svg = (await handedOut(page, "SVG")).toString();
  assert.ok(svg.includes(">recorded<") && svg.includes('stroke-linecap="round"'));
  // Who reads by keyboard hears it at each point.
  await chart(page).locator(".plot").focus();
  await page.keyboard.press("Home");
  for (let pages = 0; pages < 30; pages++) {
    if (/recorded: pH \d/.test(await chart(page).locator(".reading-words").innerText())) break;
    await page.keyboard.press("PageDown");
  }
  assert.match(await chart(page).locator(".reading-words").innerText(), /recorded: pH \d.*; model, lagging: pH \d/);
  assert.deepEqual(await barriers(page), []);
  // Each of the two can be switched off.
  await page.locator("#trace-lag").uncheck();
  assert.ok((await chart(page).locator(".chart-drawing text").allTextContents()).includes("model for it"));
  assert.doesNotMatch(await chart(page).innerText(), /0\.0\d pH root mean square/, "without the lag it lies off");
  await page.locator("#trace-recorded").uncheck();
  assert.equal(await lines(page).count(), 3);
  assert.equal(await page.locator("#trace-recorded").isChecked(), false);
  assert.equal(await chart(page).locator("thead th").count(), 4);
});

test("where the recording cannot stand over the run, the Trace says why", async (t) => {
  const page = await measured(t, { lay: false });
  const why = async () => {
    await page.locator("[data-place=trace]").press("Enter");
    return chart(page).innerText();
  };
  await page.locator("[data-place=bench]").press("Enter");
  assert.match(await why(), /not laid beside the model yet/);
  await page.locator("[data-place=data]").press("Enter");
  await enter(page, "#data-0-celsius", "21");
  assert.match(await why(), /comes with the first dose/);
  await page.locator("[data-place=bench]").press("Enter");
  // Another level is the same lesson in the beakers; other beakers are not.
  await page.selectOption("#level", "4");
  assert.match(await why(), /comes with the first dose/);
  await page.locator("[data-place=bench]").press("Enter");
  await press(page, "Free bench");
  assert.match(await why(), /free bench has doses of its own/);
  const twin = await core();
  const other = twin.desk().lesson();
  twin.desk().setLesson({ ...other, level: 5, recipe: { ...other.recipe, waterMl: 400 } });
  await openLink(page, twin.link());
  assert.match(await why(), /laid beside another lesson/);
  // Gone to, Our data lays it beside the lesson in use.
  await page.locator("[data-place=data]").press("Enter");
  assert.match(await why(), /comes with the first dose/);
});

test("without a recording the Trace has no word of one; on a phone and in Spanish it has all of it", async (t) => {
  const plain = await visit(t);
  await plain.page.selectOption("#level", "5");
  await press(plain.page, "Trace");
  await chart(plain.page).waitFor();
  assert.equal(await plain.page.locator("#trace-recorded").isVisible(), false);
  const page = await measured(t, { visit: { path: "/?lang=es", screen: SCREENS.phone } });
  await page.locator("[data-place=trace]").press("Enter");
  assert.match(await chart(page).innerText(), /El registro llega con la primera dosis/);
  assert.deepEqual(await barriers(page), []);
  await screenshot(page, "trace-recorded-phone", { fullPage: true });
});
