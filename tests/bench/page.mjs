// Times the real page in Chromium: how soon it can be used on a slow machine and
// line, what its frames cost while three beakers run, how long a fit of a class's
// times takes, and what it weighs. Prints one JSON object a line, for report.mjs.
//
//   node tests/bench/page.mjs

import { launchChromium, PAGE_ROOT, SCREENS, slowNetwork, slowProcessor } from "../browser/chromium.mjs";
import { CLASS_TIMES } from "../browser/classtimes.mjs";
import { answerCard, comesTo, startLesson } from "../browser/hands.mjs";
import { sums, weights } from "../browser/weights.mjs";
import { serve } from "../tools/serve.mjs";

const SLOWED_TIMES = 6;
const LINE = { megabitsPerSecond: 10, roundTripMs: 100 };
const LOADS = 5;
/** So often a fit is asked for; the median counts. */
const FITS = 9;
/** How long the frames are watched, s, and how often: the median counts. */
const WATCHED_S = 10;
const WATCHES = 3;

console.log(JSON.stringify({ page: "weight", ...sums(await weights(), "brotli") }));
const server = await serve({ root: PAGE_ROOT });
const browser = await launchChromium();
try {
  const loads = [];
  for (let load = 0; load < LOADS; load++) loads.push(await usableAfter());
  loads.sort((one, other) => one - other);
  console.log(JSON.stringify({ page: "usable", milliseconds: loads[Math.floor(LOADS / 2)] }));
  for (const times of [1, SLOWED_TIMES]) {
    const watched = [];
    for (let watch = 0; watch < WATCHES; watch++) watched.push(await frames(times));
    watched.sort((one, other) => one.perSecondP95 - other.perSecondP95);
    console.log(JSON.stringify({ page: "frames", times, ...watched[Math.floor(WATCHES / 2)] }));
  }
  console.log(JSON.stringify({ page: "fit", milliseconds: await fit(["acidFactor", "carbonate", "energy"]) }));
  console.log(
    JSON.stringify({ page: "fitStrength", milliseconds: await fit(["acidFactor", "carbonate", "energy", "strength"]) }),
  );
} finally {
  await browser.close();
  await server.close();
}

/** Milliseconds from asking for the page until the lesson can be started, with nothing cached. */
async function usableAfter() {
  const context = await browser.newContext({ viewport: SCREENS.laptop });
  const page = await context.newPage();
  await slowProcessor(page, SLOWED_TIMES);
  await slowNetwork(page, LINE);
  await page.addInitScript(() => {
    const look = () => {
      if (!document.getElementById("bench-place")?.dataset.stage) return requestAnimationFrame(look);
      Object.assign(globalThis, { usableAt: performance.now() });
    };
    look();
  });
  await page.goto(server.origin);
  await comesTo(page, "brief");
  await page.waitForFunction(() => "usableAt" in globalThis);
  const at = await page.evaluate(() => /** @type {any} */ (globalThis).usableAt);
  await context.close();
  return at;
}

/**
 * Frames of the first dose's first seconds, in which everything moves.
 * @param {number} times how much slower the processor is made
 * @returns {Promise<{ perSecondP95: number, scriptMs: number, frames: number }>}
 *   frames a second that 95 % of the frames reach, script in a frame, frames watched
 */
async function frames(times) {
  const context = await browser.newContext({ viewport: SCREENS.laptop });
  const page = await context.newPage();
  await page.goto(server.origin);
  await comesTo(page, "brief");
  await startLesson(page);
  await slowProcessor(page, times);
  await answerCard(page, { atOnce: "red", atRest: "violet", clarity: "milky", seconds: "20", first: "2", why: "" });
  await comesTo(page, "watch");
  const session = await context.newCDPSession(page);
  await session.send("Performance.enable");
  const script = async () => {
    const { metrics } = await session.send("Performance.getMetrics");
    return (metrics.find(({ name }) => name === "ScriptDuration")?.value ?? Number.NaN) * 1000;
  };
  const before = await script();
  const intervals = await page.evaluate(
    (seconds) =>
      new Promise((/** @type {(found: number[]) => void} */ done) => {
        /** @type {number[]} */
        const found = [];
        const started = performance.now();
        let last = 0;
        const frame = (/** @type {number} */ at) => {
          if (last > 0) found.push(at - last);
          last = at;
          if (performance.now() - started < seconds * 1000) requestAnimationFrame(frame);
          else done(found);
        };
        requestAnimationFrame(frame);
      }),
    WATCHED_S,
  );
  const scriptMs = ((await script()) - before) / intervals.length;
  intervals.sort((one, other) => one - other);
  await context.close();
  return { perSecondP95: 1000 / intervals[Math.floor(0.95 * intervals.length)], scriptMs, frames: intervals.length };
}

/**
 * Milliseconds from the press of "Fit the times" until the result stands in the page, 18 times in the table.
 * @param {string[]} wanted the unknowns
 */
async function fit(wanted) {
  const context = await browser.newContext({ viewport: SCREENS.laptop });
  const page = await context.newPage();
  await page.goto(server.origin);
  await comesTo(page, "brief");
  await page.locator('[data-place="data"]').click();
  await page.fill("#data-paste", CLASS_TIMES);
  await page.getByRole("button", { name: "Take the pasted rows", exact: true }).click();
  for (const box of await page.locator('input[id^="data-times-"]').all())
    await box.setChecked(wanted.includes((await box.getAttribute("value")) ?? ""));
  const button = await page.getByRole("button", { name: "Fit the times" }).elementHandle();
  const found = await page.evaluate(
    ({ button, times }) =>
      Array.from({ length: times }, () => {
        const started = performance.now();
        /** @type {HTMLElement} */ (button).click();
        return performance.now() - started;
      }),
    { button, times: FITS },
  );
  await page.waitForSelector("#data-result-heading");
  await context.close();
  return found.sort((one, other) => one - other)[Math.floor(FITS / 2)];
}
