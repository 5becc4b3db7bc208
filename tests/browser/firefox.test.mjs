// The ordinary tests again, in the second engine: one Firefox for all of these files. run.mjs chooses among them what runs
// each time; `node --test tests/browser/firefox.test.mjs` runs them all but for what Firefox cannot do (firefox.mjs).
// Not here: server, words, weight and pace have no browser.

import { describe } from "node:test";

process.env.TURNBACK_BROWSER = "firefox";
// First, so that the browser is closed after the last of them.
await import("./harness.mjs");

for (const name of [
  "record",
  "lesson",
  "share",
  "plan",
  "trace",
  "recipe",
  "whatif",
  "languages",
  "our-data",
  "offline",
  "release",
  "page",
  "sheets",
  "same-bits",
  "mishaps",
  "about",
  "ledger",
  "link",
  "our-data-times",
  "teach",
  "levels",
  "peeking",
  "policy",
  "recordings",
  "overlaid",
  "spoken",
  "flash",
  "access",
  "everyone",
  "touch",
  "killed",
  "harness",
])
  describe(`${name} in Firefox`, async () => {
    await import(`./${name}.test.mjs`);
  });
