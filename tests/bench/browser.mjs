// Times the workloads in Chromium, at full speed and with the processor slowed
// six times. Prints one JSON object a line, for report.mjs.
//
//   node tests/bench/browser.mjs DIRECTORY_WITH_THE_GLUE

import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { launchChromium } from "../browser/chromium.mjs";
import { serve } from "../tools/serve.mjs";

/** A measurement repeats the work for at least so many milliseconds ... */
const LEAST_MS = 40;
/** ... and the median of so many measurements counts. */
const MEASUREMENTS = 9;
/** What the DevTools protocol is asked for; what comes of it is measured. */
const SLOWED_TIMES = 6;

const [directory] = process.argv.slice(2);
await writeFile(
  join(directory, "index.html"),
  '<!doctype html><html lang="en"><title>Workbench</title><link rel="icon" href="data:,">',
);
const server = await serve({ root: directory });
const browser = await launchChromium();
try {
  const page = await browser.newPage();
  await page.goto(server.origin);
  await page.evaluate(async () => {
    const { default: start, Workbench } = await import(/** @type {any} */ ("/workloads.js"));
    await start();
    Object.assign(globalThis, { workbench: new Workbench() });
  });
  console.log(JSON.stringify({ machine: `Chromium ${browser.version()}` }));
  await time(page, "chromium");
  const processor = await page.context().newCDPSession(page);
  await processor.send("Emulation.setCPUThrottlingRate", { rate: SLOWED_TIMES });
  await time(page, "chromiumSlowed");
} finally {
  await browser.close();
  await server.close();
}

/**
 * Time every problem and print it.
 * @param {import("../browser/harness.mjs").Page} page
 * @param {string} where
 */
async function time(page, where) {
  const problems = await page.evaluate(() => /** @type {any} */ (globalThis).workbench.problems());
  for (const problem of problems) {
    const { milliseconds, ph } = await page.evaluate(measure, { problem, least: LEAST_MS, measurements: MEASUREMENTS });
    console.log(JSON.stringify({ problem, who: "Turnback", where, milliseconds, ph }));
  }
}

/**
 * Runs in the page.
 * @param {{ problem: string, least: number, measurements: number }} what
 */
function measure({ problem, least, measurements }) {
  const { workbench } = /** @type {any} */ (globalThis);
  const once = (/** @type {number} */ times) => {
    const started = performance.now();
    workbench.work(problem, times);
    return performance.now() - started;
  };
  let repeats = 1;
  while (once(repeats) < least) repeats *= 2;
  const each = Array.from({ length: measurements }, () => once(repeats) / repeats).sort((one, other) => one - other);
  return { milliseconds: each[Math.floor(measurements / 2)], ph: Array.from(workbench.ph(problem)) };
}
