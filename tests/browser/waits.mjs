// Waiting for what the page does by itself, or in its next frame: for its state, never for a time. On a busy machine a frame
// comes a second late, and a test that asks before it fails one time in a hundred.

import assert from "node:assert/strict";

/** @typedef {import("playwright-core").Page} Page */

/** Longest wait for one thing that the page does by itself, on the busiest machine, ms. Only what is broken takes so long. */
export const PATIENCE_MS = 120_000;
/** Longest that a test may take that plays lessons or looks at every state, ms: what takes longer hangs. */
export const LIMIT_MS = 600_000;
/** Between two looks at a state, ms. */
const LOOK_AGAIN_MS = 20;

/**
 * Asserts until it holds; what failed last is told when patience ends.
 * @template T
 * @param {() => Promise<T>} check reads and asserts
 * @returns {Promise<T>} what `check` gives in the end
 */
export async function soon(check) {
  for (const until = performance.now() + PATIENCE_MS; ; ) {
    try {
      return await check();
    } catch (error) {
      if (!(error instanceof assert.AssertionError) || performance.now() > until) throw error;
    }
    await new Promise((done) => setTimeout(done, LOOK_AGAIN_MS));
  }
}

/** @typedef {{ waiting: Set<number>, ask: typeof requestAnimationFrame, asked: number }} Drawing the frames that wait, and how many were asked for */

/**
 * Waits until nothing moves and nothing waits to be drawn: words, ribbons and pictures follow in frames, and the page asks for
 * frames for as long as one of them is behind. It never comes while a lesson's clock runs. The page must be the one in front.
 * @param {Page} page
 */
export function still(page) {
  return page.evaluate(async (patienceMs) => {
    const kept = /** @type {{ drawing?: Drawing }} */ (globalThis);
    if (!kept.drawing) {
      const waiting = new Set();
      const ask = globalThis.requestAnimationFrame.bind(globalThis);
      const cancel = globalThis.cancelAnimationFrame.bind(globalThis);
      globalThis.requestAnimationFrame = (act) => {
        const frame = ask((at) => {
          waiting.delete(frame);
          act(at);
        });
        drawing.asked++;
        waiting.add(frame);
        return frame;
      };
      globalThis.cancelAnimationFrame = (frame) => {
        waiting.delete(frame);
        cancel(frame);
      };
      const drawing = { waiting, ask, asked: 0 };
      kept.drawing = drawing;
    }
    const { waiting, ask } = kept.drawing;
    const late = new Promise((_, failed) =>
      setTimeout(() => failed(new Error("the page never stands still")), patienceMs),
    );
    // Twice: what follows the layout of one frame is asked for in it, and drawn in the next.
    for (let quiet = 0; quiet < 2; ) {
      await Promise.race([new Promise((done) => ask(done)), late]);
      quiet = waiting.size === 0 && document.getAnimations().length === 0 ? quiet + 1 : 0;
    }
  }, PATIENCE_MS);
}

/** How many frames the page has asked for since `still` was first called. @param {Page} page @returns {Promise<number>} */
export function framesAsked(page) {
  return page.evaluate(() => /** @type {{ drawing: Drawing }} */ (/** @type {unknown} */ (globalThis)).drawing.asked);
}

/** Waits until everything stands that the page sets up by itself, and asks the network for: the desk is last. @param {Page} page */
export function settled(page) {
  return page.waitForFunction(() => "loaded" in document.documentElement.dataset, null, { timeout: PATIENCE_MS });
}

/** Lets the lesson's clock run until the bar tells so many seconds. @param {Page} page @param {number} seconds */
export async function runsTo(page, seconds) {
  await page.waitForFunction(
    (wanted) => Number.parseFloat(document.querySelector(".controls .time")?.textContent ?? "") >= wanted,
    seconds,
    { timeout: PATIENCE_MS },
  );
}

/**
 * Opens a link in the same tab, as one that is put into its address, and waits until the page has taken it or said why not.
 * @param {Page} page
 * @param {string} link another than the one that stands there
 */
export function openLink(page, link) {
  return page.evaluate(
    (fragment) =>
      new Promise((done) => {
        // The page listens since its start, so this hears of it after the page.
        addEventListener("hashchange", () => done(undefined), { once: true });
        location.hash = fragment;
      }),
    link,
  );
}

/** Waits until a worker keeps the page for days without a network. Runs in the page. @throws where none does */
export async function isKept() {
  const late = new Promise((_, failed) => setTimeout(() => failed(new Error("the page is not kept")), 120_000));
  const { active } = /** @type {ServiceWorkerRegistration} */ (
    await Promise.race([navigator.serviceWorker.ready, late])
  );
  // The next load is the worker's only once it has taken over.
  while (active?.state !== "activated") await Promise.race([new Promise((done) => setTimeout(done, 20)), late]);
}
