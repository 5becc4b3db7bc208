// How Chromium is started and slowed, by the tests and by the benchmark.

import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

/** @typedef {import("playwright-core").Page} Page */

/** The page as it is built. */
export const PAGE_ROOT = fileURLToPath(new URL("../../www", import.meta.url));

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

/** The system's Chromium, without a window and with a profile of its own. */
export function launchChromium() {
  return chromium.launch({ executablePath: "/usr/bin/chromium", args: FLAGS });
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
