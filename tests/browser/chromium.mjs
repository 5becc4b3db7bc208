// How Chromium is started, by the tests and by the benchmark.

import { chromium } from "playwright-core";

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
