// Runs every file of browser tests, two at a time, with what they can share made once.
//
//   node tests/browser/run.mjs [NAME ...]          over the last build; only the files that are named

import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { run } from "node:test";
import { spec } from "node:test/reporters";
import { fileURLToPath } from "node:url";
import { bundle } from "../tools/bundle.mjs";
import { PAGE_ROOT } from "./chromium.mjs";

const HERE = fileURLToPath(new URL(".", import.meta.url));
/** A browser waits for its page as often as it works. */
const AT_A_TIME = 2;
/** What takes longest begins first, so that nobody waits for it at the end. */
const LONGEST = ["trace", "access", "record", "everyone", "sheets", "levels", "lesson", "screens", "whatif"];

/** How early a file begins: the place of its name in `LONGEST`. @param {string} name */
function turn(name) {
  const place = LONGEST.indexOf(name.replace(".test.mjs", ""));
  return place < 0 ? LONGEST.length : place;
}

await bundle(PAGE_ROOT);
process.env.TURNBACK_JOINED = "1";
const wanted = process.argv.slice(2);
const names = (await readdir(HERE))
  .filter((name) => name.endsWith(".test.mjs"))
  .filter((name) => wanted.length === 0 || wanted.includes(name.replace(".test.mjs", "")));
const files = names.sort((one, other) => turn(one) - turn(other)).map((name) => join(HERE, name));
let passed = 0;
let failed = 0;
const tests = run({ files, concurrency: AT_A_TIME });
tests.on("test:pass", () => {
  passed++;
});
tests.on("test:fail", () => {
  failed++;
});
tests.on("end", () => {
  // A run in which nothing was run must not pass for a good one.
  process.exitCode = passed > 0 && failed === 0 ? 0 : 1;
});
tests.compose(new spec()).pipe(process.stdout);
