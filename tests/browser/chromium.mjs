// How Chromium is started and slowed, by the tests and by the benchmark.

import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

/** @typedef {import("playwright-core").Page} Page */

/** The page as it is built. */
export const PAGE_ROOT = fileURLToPath(new URL("../../www", import.meta.url));

/**
 * The browser that a file's tests visit with: `TURNBACK_BROWSER=firefox node --test tests/browser/NAME.test.mjs`.
 * @type {"chromium" | "firefox"}
 */
export const BROWSER = process.env.TURNBACK_BROWSER === "firefox" ? "firefox" : "chromium";

/** The screens that a class has (width x height in CSS pixels). */
export const SCREENS = {
  laptop: { width: 1366, height: 768 },
  /** The same laptop at 200 % zoom. */
  zoomed: { width: 683, height: 300 },
  phone: { width: 390, height: 844 },
};

/** Keeps Chromium from looking for its maker's servers; without the sandbox because root may not have one. */
const FLAGS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/**
 * A Chromium that keeps its profile, as a device does, and can be killed as by the loss of power.
 * @param {string} profile a directory
 * @returns {Promise<{ page: Page, signal: (signal: NodeJS.Signals) => void, kill: () => Promise<void> }>} its one page, what
 *   all its processes get at once, and what ends them
 */
export async function launchDevice(profile) {
  const where = [`--user-data-dir=${profile}`, "--remote-debugging-port=0", "--headless", "about:blank"];
  // A group of its own, so that it can be ended as a whole, and nothing else with it.
  const running = spawn("/usr/bin/chromium", [...FLAGS, ...where], {
    detached: true,
    stdio: ["ignore", "ignore", "pipe"],
  });
  const gone = new Promise((done) => running.once("close", done));
  /** @type {string} */
  const address = await new Promise((done, failed) => {
    let said = "";
    running.stderr.on("data", (chunk) => {
      said += chunk;
      const [, found] = /listening on (ws:\S+)/.exec(said) ?? [];
      if (found) done(found);
    });
    running.once("close", () => failed(new Error(`Chromium did not start: ${said}`)));
  });
  const browser = await chromium.connectOverCDP(address);
  const [context] = browser.contexts();
  const page = context.pages()[0] ?? (await context.newPage());
  await page.setViewportSize(SCREENS.laptop);
  const signal = (/** @type {NodeJS.Signals} */ sent) => {
    process.kill(-Number(running.pid), sent);
  };
  return {
    page,
    signal,
    kill: async () => {
      signal("SIGKILL");
      await gone;
      await browser.close();
    },
  };
}

/** The system's Chromium, without a window and with a profile of its own. @param {string[]} [flags] more of the command line */
export function launchChromium(flags = []) {
  return chromium.launch({ executablePath: "/usr/bin/chromium", args: [...FLAGS, ...flags] });
}

/**
 * Slow the page's processor, as a school laptop would.
 * @param {Page} page
 * @param {number} times 1 is this machine's own speed
 */
export async function slowProcessor(page, times) {
  const session = await page.context().newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: times });
}

/**
 * Slow the page's network.
 * @param {Page} page
 * @param {{ megabitsPerSecond: number, roundTripMs: number }} line
 */
export async function slowNetwork(page, { megabitsPerSecond, roundTripMs }) {
  const session = await page.context().newCDPSession(page);
  const bytesPerSecond = (megabitsPerSecond * 1e6) / 8;
  await session.send("Network.enable");
  await session.send("Network.emulateNetworkConditions", {
    offline: false,
    latency: roundTripMs,
    downloadThroughput: bytesPerSecond,
    uploadThroughput: bytesPerSecond,
  });
}
