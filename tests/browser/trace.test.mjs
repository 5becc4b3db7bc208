// The Trace: every plotted point stands in the table and is the core's own reading; nothing is shown of what has not come;
// it is read by keyboard, by pointer and in grey; and its files are what other programs read.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import Papa from "papaparse";
import { barriers } from "./axe.mjs";
import { ANSWERS, answerCard, comesTo, coverIsUp, goOn, playDose, press, startLesson, tab, toRest } from "./hands.mjs";
import { atEach, colourfulness, PAGE_ROOT, SCREENS, saved, screenshot, visit } from "./harness.mjs";
import { framesAsked, PATIENCE_MS, runsTo, soon, still } from "./waits.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** A point's place is written to a hundredth of a pixel, and its value to so many digits that it is as sure as this, px. */
const ROUNDED_PX = 0.4;

/** The page at a level with some doses played, at the Trace. @param {import("node:test").TestContext} t @param {{level: number, doses: number, visit?: Parameters<typeof visit>[1]}} how */
async function traced(t, { level, doses, visit: how = {} }) {
  const { page } = await visit(t, how);
  await page.selectOption("#level", String(level));
  await startLesson(page);
  for (let dose = 0; dose < doses; dose++) await playDose(page);
  await press(page, "Trace");
  await page.locator(".chart-drawing").first().waitFor();
  return page;
}

/** The keys of the charts that are shown, in their order. @param {Page} page @returns {Promise<string[]>} */
function charts(page) {
  return page.locator(".trace-chart").evaluateAll((all) => all.map((one) => one.getAttribute("data-chart") ?? ""));
}

/** The table of a chart, cell by cell, without its head. @param {Page} page @param {string} key @returns {Promise<string[][]>} */
async function tableOf(page, key) {
  const chart = page.locator(`[data-chart=${key}]`);
  if (!(await chart.locator("details").evaluate((box) => /** @type {HTMLDetailsElement} */ (box).open)))
    await chart.locator("summary").click();
  await chart.locator("tbody tr").first().waitFor();
  return chart
    .locator("tbody tr")
    .evaluateAll((rows) => rows.map((row) => [...row.children].map((cell) => cell.textContent ?? "")));
}

/** The corners of every line of a chart, px. @param {Page} page @param {string} key @returns {Promise<[number, number][][]>} */
function cornersOf(page, key) {
  return page
    .locator(`[data-chart=${key}] path.data`)
    .evaluateAll((lines) =>
      lines.map((line) =>
        [...(line.getAttribute("d") ?? "").matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(
          ([, x, y]) => /** @type {[number, number]} */ ([Number(x), Number(y)]),
        ),
      ),
    );
}

/** A number as the page writes it. @param {string} written */
function number(written) {
  const [mantissa, power = ""] = written.replaceAll("\u2212", "-").split("\u00a0\u00d7\u00a010");
  const raised = "\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079";
  const exponent = [...power].map((sign) => (sign === "\u207b" ? "-" : String(raised.indexOf(sign)))).join("");
  return Number(mantissa) * 10 ** Number(exponent || 0);
}

/**
 * The core itself, outside of any page, with the same doses played as `playDose` plays them.
 * @param {number} doses
 */
async function core(doses) {
  const { default: start, Turnback } = await import(new URL(`file://${join(PAGE_ROOT, "pkg/turnback.js")}`).href);
  await start({ module_or_path: await readFile(join(PAGE_ROOT, "pkg/turnback_bg.wasm")) });
  const twin = new Turnback();
  twin.goOn();
  for (let dose = 0; dose < doses; dose++) {
    assert.equal(twin.lock({ ...ANSWERS, seconds: 20 }).ok, true);
    while (twin.state().stage === "watch") twin.nextEvent();
    twin.see(ANSWERS);
    twin.goOn();
  }
  return twin;
}

/** The core's column for a chart, and the decimals that its table shows. @type {Record<string, [string, number]>} */
const COLUMNS = {
  ph: ["ph", 2],
  solid: ["solidG", 3],
  dissolved: ["dissolvedMmol", 2],
  celsius: ["temperatureC", 2],
};

test("capability 14: every plotted point is in the table, and is the core's own reading", async (t) => {
  const page = await traced(t, { level: 5, doses: 2 });
  assert.deepEqual(await charts(page), ["ph", "solid", "dissolved", "celsius", "saturation", "seconds", "rate"]);
  const twin = await core(2);
  let points = 0;
  for (const [key, [column, decimals]] of Object.entries(COLUMNS)) {
    const rows = await tableOf(page, key);
    const times = Float64Array.from(rows, ([time]) => number(time));
    assert.equal(times[0], 0);
    assert.equal(times.at(-1), twin.state().now, "the last point is now");
    const lines = await cornersOf(page, key);
    assert.equal(lines.length, 3);
    for (const [beaker, line] of lines.entries()) {
      const readings = twin.columnAt(column, beaker, times);
      assert.deepEqual(
        rows.map((row) => number(row[beaker + 1])),
        Array.from(readings, (reading) => Number(reading.toFixed(decimals))),
        `${key}, beaker ${beaker}`,
      );
      assert.equal(line.length, rows.length, `${key}: as many corners as rows`);
      straight(
        line.map(([x], row) => [times[row], x]),
        `${key}: times`,
      );
      straight(
        line.map(([, y], row) => [readings[row], y]),
        `${key}: readings`,
      );
      points += line.length;
    }
  }
  const [saturation] = await cornersOf(page, "saturation");
  const rows = await tableOf(page, "saturation");
  const ratios = twin.columnAt(
    "saturationRatio",
    0,
    Float64Array.from(rows, ([time]) => number(time)),
  );
  for (const [row, [, written]] of rows.entries())
    assert.ok(Math.abs(number(written) / ratios[row] - 1) < 0.006, `${written} is ${ratios[row]} to three figures`);
  straight(
    saturation.map(([, y], row) => [Math.log10(ratios[row]), y]),
    "saturation by powers of ten",
  );
  t.diagnostic(`${points} points of four charts, and ${saturation.length} of Q against Ksp`);
});

/** Places follow values along a straight line: what is drawn is what is told. @param {number[][]} pairs value and px @param {string} what */
function straight(pairs, what) {
  const low = pairs.reduce((one, other) => (other[0] < one[0] ? other : one));
  const high = pairs.reduce((one, other) => (other[0] > one[0] ? other : one));
  assert.ok(high[0] > low[0], `${what}: all alike`);
  const slope = (high[1] - low[1]) / (high[0] - low[0]);
  for (const [value, place] of pairs)
    assert.ok(Math.abs(low[1] + slope * (value - low[0]) - place) < ROUNDED_PX, `${what}: ${value} at ${place} px`);
}

test("seconds and rates are those of the explanation, with the slope, the energy and its range", async (t) => {
  const page = await traced(t, { level: 5, doses: 2 });
  const twin = await core(2);
  const turned = twin.marks().events.filter((/** @type {any} */ { key }) => key === "turnedBack");
  const seconds = [0, 1, 2].map((beaker) =>
    turned
      .filter((/** @type {any} */ event) => event.beaker === beaker)
      .map((/** @type {any} */ event) => event.seconds),
  );
  assert.deepEqual(
    (await tableOf(page, "seconds")).map((row) => row.map(Number)),
    [0, 1].map((dose) => [dose + 1, ...seconds.map((beaker) => Number(beaker[dose].toFixed(1)))]),
  );
  assert.equal(await page.locator("[data-chart=seconds] path.point").count(), 6);
  await page.selectOption("#trace-dose", "2");
  const rows = await tableOf(page, "rate");
  assert.deepEqual(
    rows.map(([name]) => name),
    ["34 °C", "21 °C", "2 °C"],
  );
  for (const [, celsius, time, inverse, rate] of rows.map((row) => row.map(number))) {
    assert.ok(Math.abs(1000 / (celsius + 273.15) - inverse) < 1.1e-4, `${inverse} of ${celsius} °C`);
    assert.ok(Math.abs(Math.log(1 / time) - rate) < 0.006, `${rate} of ${time} s`);
  }
  // The slope by the textbook's sums over the table's own figures; R = 8.314 J/(mol K).
  const [x, y] = [3, 4].map((column) => rows.map((row) => number(row[column])));
  const mean = (/** @type {number[]} */ all) => all.reduce((sum, one) => sum + one, 0) / all.length;
  const over = x.map((one, at) => (one - mean(x)) * (y[at] - mean(y)));
  const slope = (1000 * mean(over)) / mean(x.map((one) => (one - mean(x)) ** 2));
  const note = (await page.locator("[data-chart=rate] .quiet").innerText()).replaceAll("\u2212", "-");
  const [told, energy, low, high] = [...note.matchAll(/-?\d+(\.\d+)?(?= K\.| kJ| to)/g)].map(([found]) =>
    Number(found),
  );
  assert.ok(Math.abs(told / slope - 1) < 0.005, `${note}: ${slope}`);
  assert.ok(Math.abs(energy + (slope * 8.314) / 1000) < 0.2, note);
  assert.ok(low < energy && energy < high, note);
  assert.equal(await page.locator("[data-chart=rate] path.slant").count(), 1);
});

test("capability 1 and 14: nothing is shown of a dose before its lock, nor its seconds before they are explained", async (t) => {
  const { page } = await visit(t);
  await page.selectOption("#level", "4");
  await startLesson(page);
  await press(page, "Trace");
  assert.equal(Number((await tableOf(page, "ph")).at(-1)?.[0]), 10, "the lesson's clock begins at 10 s");
  assert.ok(await page.locator("[data-chart=seconds] .plot").isHidden());
  assert.match(await page.locator("[data-chart=seconds]").innerText(), /nothing to show yet/);
  assert.equal(await page.locator("#trace-span option").count(), 1);
  await press(page, "Bench");
  await answerCard(page, ANSWERS);
  await coverIsUp(page);
  await runsTo(page, 1);
  await page.click("#hold");
  await press(page, "Trace");
  const last = Number((await tableOf(page, "ph")).at(-1)?.[0]);
  assert.ok(last > 10 && last < 30, `${last} s`);
  await press(page, "Bench");
  await page.click("#hold");
  await toRest(page);
  await press(page, "Trace");
  assert.ok(await page.locator("[data-chart=seconds] .plot").isHidden(), "first the student says what was seen");
  await press(page, "Bench");
  await answerCard(page, ANSWERS);
  await comesTo(page, "explain");
  await press(page, "Trace");
  assert.equal((await tableOf(page, "seconds")).length, 1);
});

test("where a level hides the pH the colours stand in its place, and no number more than it shows", async (t) => {
  const page = await traced(t, { level: 1, doses: 1 });
  assert.deepEqual(await charts(page), ["colour", "seconds"]);
  const rows = await tableOf(page, "colour");
  for (const row of rows)
    for (const cell of row.slice(1)) assert.match(cell, /^(red|orange|yellow|lime|green|teal|blue|violet)$/);
  assert.ok(new Set(rows.flatMap((row) => row.slice(1))).size > 3);
  assert.ok(await page.getByRole("button", { name: "Whole run as CSV" }).isHidden());
  assert.doesNotMatch(await page.locator("#trace-place").innerText(), /\bpH \d/);
});

test("by keyboard alone a chart is read point by point, told by the one status region, and zoomed", async (t) => {
  const page = await traced(t, { level: 3, doses: 1 });
  for (let tabs = 0; tabs < 30; tabs++) {
    if (await page.evaluate(() => document.activeElement?.closest("[data-chart=ph] .plot") !== null)) break;
    await tab(page);
  }
  const words = page.locator("[data-chart=ph] .reading-words");
  assert.match(
    await words.innerText(),
    /^300 s after Acid dose 1\. 2 °C: pH \d+\.\d\d; 21 °C: pH \d+\.\d\d; 34 °C: pH \d+\.\d\d\.$/,
  );
  await page.keyboard.press("Home");
  assert.match(await words.innerText(), /^0 s from the start, before the first dose\. 2 °C: pH/);
  await page.keyboard.press("ArrowRight");
  const read = await words.innerText();
  assert.doesNotMatch(read, /^0 s from/);
  await page.waitForFunction((said) => document.querySelector("#status")?.textContent?.includes(said), read, {
    timeout: PATIENCE_MS,
  });
  assert.equal(await page.locator("[data-chart=ph] .reading-mark circle").count(), 3);
  const [[from, ...whole]] = await tableOf(page, "ph");
  assert.equal(from, "0");
  assert.ok(whole.length === 3);
  await page.locator("[data-chart=ph] .plot").focus();
  for (let points = 0; points < 12; points++) await page.keyboard.press("ArrowRight");
  const kept = await words.innerText();
  await page.keyboard.press("+");
  await page.keyboard.press("+");
  assert.equal(await words.innerText(), kept, "the point that is read stays");
  const times = (await tableOf(page, "ph")).map(([time]) => Number(time));
  assert.ok((times.at(-1) ?? 0) - times[0] < 100, `${times[0]} to ${times.at(-1)} s`);
});

test("a pointer reads the nearest point, a stretch drawn with the mouse is zoomed, and the list shows it all again", async (t) => {
  const page = await traced(t, { level: 3, doses: 1 });
  const box = await page.locator("[data-chart=ph] .plot").boundingBox();
  assert.ok(box);
  await page.mouse.move(box.x + box.width / 2, box.y + 100);
  await soon(async () =>
    assert.match(await page.locator("[data-chart=ph] .reading-words").innerText(), /s after Acid dose 1/),
  );
  await page.mouse.move(box.x + 100, box.y + 100);
  await page.mouse.down();
  await page.mouse.move(box.x + 200, box.y + 100);
  await page.mouse.up();
  const near = await tableOf(page, "ph");
  assert.ok(Number(near.at(-1)?.[0]) < 200, `${near.at(-1)?.[0]} s`);
  await page.selectOption("#trace-span", "0");
  const dose = await tableOf(page, "ph");
  assert.deepEqual([dose[0][0], dose.at(-1)?.[0]], ["0", "300"], "seconds since the pour");
});

test("capability 14: lines are told apart by dash and name, in ink alone", async (t) => {
  const page = await traced(t, { level: 3, doses: 1 });
  for (const key of await charts(page)) {
    const chart = page.locator(`[data-chart=${key}]`);
    const dashes = await chart
      .locator("path.data")
      .evaluateAll((all) => all.map((one) => one.getAttribute("stroke-dasharray")));
    assert.equal(new Set(dashes).size, 3, key);
    const words = await chart.locator(".chart-drawing text").allTextContents();
    for (const name of ["2 °C", "21 °C", "34 °C"]) assert.ok(words.includes(name), `${key}: ${name}`);
    await chart.scrollIntoViewIfNeeded();
    // Between paper and ink nothing is further from grey than the ink is.
    assert.ok((await colourfulness(page, chart.locator(".chart-drawing"))) <= 12, key);
  }
});

/** What a button hands out. @param {Page} page @param {import("playwright-core").Locator} button */
const download = (page, button) => saved(page, () => button.click());

test("CSV files are read back by another program, cell by cell, with commas or semicolons", async (t) => {
  const page = await traced(t, { level: 4, doses: 1 });
  for (const comma of [false, true]) {
    await page.setChecked("#trace-comma", comma);
    for (const key of await charts(page)) {
      const { name, bytes } = await download(
        page,
        page.locator(`[data-chart=${key}]`).getByRole("button", { name: "CSV" }),
      );
      assert.match(name, /^turnback-[a-z-]+-[0-9A-Z]{4}-[0-9A-Z]{4}\.csv$/);
      const text = bytes.toString("utf8");
      assert.ok(text.endsWith("\r\n") && !/[^\r]\n/.test(text), "lines end as RFC 4180 asks");
      const { data, errors, meta } = Papa.parse(text.trimEnd(), { header: true });
      assert.deepEqual(errors, []);
      assert.equal(meta.delimiter, comma ? ";" : ",");
      const rows = await tableOf(page, key);
      assert.equal(data.length, rows.length, key);
      for (const [at, row] of rows.entries()) {
        const cells = Object.values(/** @type {Record<string, string>} */ (data[at]));
        assert.equal(cells.length, row.length);
        for (const [column, cell] of cells.entries()) {
          if (/^-?\d/.test(cell) && !cell.includes("°"))
            assert.ok(
              Math.abs(Number(cell.replace(",", ".")) - number(row[column])) < 1e-9,
              `${key}: ${cell} is ${row[column]}`,
            );
          else assert.equal(cell, row[column]);
          assert.doesNotMatch(cell, comma ? /\d\.\d/ : /\d,\d/);
        }
      }
    }
  }
  const { name, bytes } = await download(page, page.getByRole("button", { name: "Whole run as CSV" }));
  assert.match(name, /^turnback-run-/);
  const { data, meta } = Papa.parse(bytes.toString("utf8").trimEnd(), { header: true });
  assert.deepEqual(meta.fields, ["time_s", "beaker", "temperature_C", "dose", "pH", "colour", "cloudy", "solid_g"]);
  assert.equal(data.length, 3 * 311);
});

test("PNG and SVG files stand alone: black on white, with title, dashes and names", async (t) => {
  const page = await traced(t, { level: 3, doses: 1 });
  const chart = page.locator("[data-chart=ph]");
  const svg = await download(page, chart.getByRole("button", { name: "SVG" }));
  assert.match(svg.name, /^turnback-ph-.*\.svg$/);
  const text = svg.bytes.toString("utf8");
  for (const wanted of [
    "pH against time",
    "34 °C",
    'stroke-dasharray="8 4"',
    'fill="#ffffff"',
    'xmlns="http://www.w3.org/2000/svg"',
  ])
    assert.ok(text.includes(wanted), wanted);
  assert.doesNotMatch(text, /var\(|<script|style=/);
  const png = await download(page, chart.getByRole("button", { name: "PNG" }));
  assert.match(png.name, /^turnback-ph-.*\.png$/);
  assert.equal(png.bytes.subarray(1, 4).toString("latin1"), "PNG");
  const [width, height] = [png.bytes.readUInt32BE(16), png.bytes.readUInt32BE(20)];
  assert.deepEqual([width, height], [2016, 1056]);
  assert.ok(png.bytes.length > 20_000, "there is something on it");
});

test("at every size every chart fits, axe-core finds no barrier, and targets are large enough", async (t) => {
  const page = await traced(t, { level: 5, doses: 1 });
  await tableOf(page, "ph");
  await atEach(page, Object.values(SCREENS), async (screen) => {
    const where = `${screen.width} x ${screen.height}`;
    assert.deepEqual(await barriers(page), [], where);
    assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= screen.width, where);
    const small = await page.evaluate(() =>
      [...document.querySelectorAll("#trace-place button, #trace-place select, #trace-place summary")]
        .filter((one) => one.getClientRects().length > 0 && one.getBoundingClientRect().height < 43.5)
        .map((one) => one.textContent),
    );
    assert.deepEqual(small, [], where);
    for (const drawing of await page.locator(".chart-drawing").all()) {
      const out = await drawing.evaluate((svg) => {
        const wordsOutside = () => {
          const whole = svg.getBoundingClientRect();
          return [...svg.querySelectorAll("text")]
            .filter((one) => {
              const box = one.getBoundingClientRect();
              return box.left < whole.left - 1 || box.right > whole.right + 1 || box.bottom > whole.bottom + 1;
            })
            .map((one) => one.textContent);
        };
        const out = wordsOutside();
        // Nor where the page is read from right to left.
        document.documentElement.dir = "rtl";
        out.push(...wordsOutside());
        document.documentElement.dir = "ltr";
        return out;
      });
      assert.deepEqual(out, [], `${where}: no word is cut off`);
    }
    await page.evaluate(() => scrollTo(0, 0));
    await screenshot(page, `trace-${screen.width}x${screen.height}`, { fullPage: true });
  });
});

test("forced colours reach the charts, and nothing moves by itself", async (t) => {
  const page = await traced(t, {
    level: 3,
    doses: 1,
    visit: { context: { forcedColors: "active", reducedMotion: "reduce" } },
  });
  const stroke = await page
    .locator("[data-chart=ph] path.data")
    .first()
    .evaluate((line) => getComputedStyle(line).stroke);
  const ink = await page.evaluate(() => getComputedStyle(document.body).color);
  assert.equal(stroke, ink);
  await still(page);
  const frames = await framesAsked(page);
  await page.waitForTimeout(800);
  assert.equal(await framesAsked(page), frames);
});

test("on the free bench a chart tells doses of one beaker from those of another", async (t) => {
  const { page } = await visit(t);
  await page.selectOption("#level", "5");
  await page
    .getByRole("button", { name: /free bench/i })
    .first()
    .click();
  await page.fill("#free-volume", "2,0");
  await page.getByRole("button", { name: "Pour acid" }).click();
  await page.focus("#stage");
  for (let events = 0; events < 3; events++) await page.keyboard.press("n");
  await press(page, "Trace");
  const [row] = await tableOf(page, "seconds");
  assert.equal(row.length, 4);
  for (const cell of row.slice(1)) assert.ok(Number(cell) > 5, cell);
});

test("a look at the Trace in the middle of an explanation loses nothing", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await answerCard(page, ANSWERS);
  await toRest(page);
  await answerCard(page, ANSWERS);
  await press(page, "Trace");
  await press(page, "Bench");
  await goOn(page);
  await comesTo(page, "ask");
});

test("on a projector the words of a chart grow with the page", async (t) => {
  const page = await traced(t, { level: 4, doses: 1, visit: { screen: { width: 1920, height: 1080 } } });
  const height = await page
    .locator("[data-chart=ph] .chart-drawing text")
    .first()
    .evaluate((text) => text.getBoundingClientRect().height);
  const plain = await page.evaluate(() => Number.parseFloat(getComputedStyle(document.documentElement).fontSize));
  assert.ok(plain > 16 && height > plain * 0.85, `${height} px beside letters of ${plain} px`);
  const box = await page.locator("[data-chart=ph] .plot").boundingBox();
  assert.ok(box);
  await page.mouse.move(box.x + box.width / 2, box.y + 150);
  await soon(async () => {
    const mark = await page.locator("[data-chart=ph] .reading-mark").boundingBox();
    assert.ok(
      mark && Math.abs(mark.x + mark.width / 2 - (box.x + box.width / 2)) < 20,
      "the mark is under the pointer",
    );
  });
  await screenshot(page, "trace-1920x1080");
});
