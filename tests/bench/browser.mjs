// Times the workloads in Chromium, at full speed and with the processor slowed
// six times: by the browser's own measure, then by the clock. Prints one JSON object a line, for report.mjs.
//
//   node tests/bench/browser.mjs DIRECTORY_WITH_THE_GLUE

import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { launchChromium, slowProcessor } from "../browser/chromium.mjs";
import { serve } from "../tools/serve.mjs";

/** A measurement repeats the work for at least so many milliseconds ... */
const LEAST_MS = 40;
/** ... and the median of so many measurements counts. */
const MEASUREMENTS = 9;
/**
 * Before all of them the lesson is repeated for so long: the browser's second compiler works beside the first measurements,
 * which came out at 1.8 to 3.1 ms for the same beaker.
 */
const WARM_UP_MS = 3000;
/** What the DevTools protocol is asked for first; what comes of it is measured. */
const SLOWED_TIMES = 6;
/** Then it is asked for what makes a plain sum take so many times as long, within this part, in so many attempts. */
const WITHIN = 0.05;
const ATTEMPTS = 8;

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
  await page.evaluate(warmUp, WARM_UP_MS);
  await time(page, "chromium");
  await slowProcessor(page, SLOWED_TIMES);
  await time(page, "chromiumSlowed");
  console.log(JSON.stringify({ slowing: await slowByTheClock(page) }));
  await time(page, "chromiumSixTimes");
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
 * Leaves the processor slowed so that it does a plain sum in six times the time.
 * @param {import("../browser/harness.mjs").Page} page
 * @returns {Promise<{ asked: number, first: number, last: number }>} what the browser had to be asked for, and how many times
 *   as long the sum took with what it is asked for first, and with this
 */
async function slowByTheClock(page) {
  const what = { problem: "", least: LEAST_MS, measurements: MEASUREMENTS };
  const slowed = async (/** @type {number} */ rate) => {
    // By turns: what else the machine does then meets both alike.
    await slowProcessor(page, 1);
    const { milliseconds: swift } = await page.evaluate(measure, what);
    await slowProcessor(page, rate);
    return (await page.evaluate(measure, what)).milliseconds / swift;
  };
  let asked = SLOWED_TIMES;
  const first = await slowed(asked);
  let last = first;
  for (let attempt = 0; attempt < ATTEMPTS && Math.abs(last / SLOWED_TIMES - 1) > WITHIN; attempt++) {
    // One time of what it takes is the work itself.
    asked = 1 + ((asked - 1) * (SLOWED_TIMES - 1)) / Math.max(0.5, last - 1);
    last = await slowed(asked);
  }
  return { asked, first, last };
}

/** Runs in the page: works until the browser has compiled the core as well as it will. @param {number} forMs */
function warmUp(forMs) {
  const { workbench } = /** @type {any} */ (globalThis);
  const started = performance.now();
  while (performance.now() - started < forMs) for (const problem of workbench.problems()) workbench.work(problem, 1);
}

/**
 * Runs in the page; a problem without a name is a plain sum.
 * @param {{ problem: string, least: number, measurements: number }} what
 */
function measure({ problem, least, measurements }) {
  const { workbench } = /** @type {any} */ (globalThis);
  const once = (/** @type {number} */ times) => {
    const started = performance.now();
    if (problem) workbench.work(problem, times);
    else for (let n = 1, sum = 0; n < 1e5 * times && sum >= 0; n++) sum += 1 / n;
    return performance.now() - started;
  };
  let repeats = 1;
  while (once(repeats) < least) repeats *= 2;
  const each = Array.from({ length: measurements }, () => once(repeats) / repeats).sort((one, other) => one - other);
  return {
    milliseconds: each[Math.floor(measurements / 2)],
    ph: problem ? Array.from(workbench.ph(problem)) : [],
  };
}
