// Runs the files of browser tests, several at a time, with what they can share made once: all of them in Chromium, and in
// Firefox what depends most on the engine.
//
//   node tests/browser/run.mjs                      over the last build
//   node tests/browser/run.mjs NAME ...             only these files, in Chromium
//   node tests/browser/run.mjs --firefox NAME ...   only these files, in Firefox, with all their tests
//
// A file that failed is run once more when the others are over. If it then passes, the run passes and says so at its end: on
// a machine as busy as three browsers make it, a test that asks too soon fails one time in a hundred, and is to be mended
// (TURNBACK_SLOWED in harness.mjs finds it). What is broken fails twice.

import { spawn } from "node:child_process";
import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { bundle } from "../tools/bundle.mjs";
import { PAGE_ROOT } from "./chromium.mjs";

const HERE = fileURLToPath(new URL(".", import.meta.url));
/** On two processors: a browser waits for its page about as often as it works. */
const AT_A_TIME = 3;
/**
 * What runs in Firefox each time, by the beginnings of the tests' names: where engines differ most. Firefox takes four times
 * as long to start and twice as long to open the page, so that all of it there (`node --test firefox.test.mjs`) takes longer
 * than all of it in Chromium, and mostly looks at the same.
 */
const IN_FIREFOX = [
  // record: what is kept on the device, in every step of a lesson
  "a reload in the middle",
  "where storage is ",
  // share: links and files
  "a link carries",
  "a saved file opens elsewhere",
  // trace: charts as files
  "PNG and SVG",
  // our-data: a file is read and fitted
  "capability 17: ",
  // offline and release
  "with the server stopped",
  "the one-file page opens",
  // same-bits
  "firefox, from event to event",
];
/** More files than this do not fail by chance: none of them is run again. */
const MOST_AGAIN = 3;
/** What takes longest begins first, so that nobody waits for it at the end. */
const LONGEST = ["firefox", "mishaps", "trace", "record", "lesson", "access", "everyone", "sheets", "levels", "link"];

/** @typedef {{ name: string, browser: "chromium" | "firefox", only: string[] }} Job a file, and the tests of it that are wanted */
/** @typedef {{ job: Job, ok: boolean, passed: number, seconds: number, told: string }} Done */

/** How early a job begins: the place of its file in `LONGEST`. @param {Job} job */
function turn({ name }) {
  const place = LONGEST.indexOf(name);
  return place < 0 ? LONGEST.length : place;
}

/** @param {Job} job @returns {Promise<Done>} */
function done(job) {
  const begin = performance.now();
  const file = join(HERE, `${job.name}.test.mjs`);
  const patterns = job.only.map((name) => `--test-name-pattern=^${name}`);
  const child = spawn(process.execPath, ["--test", "--test-reporter=spec", ...patterns, file], {
    env: { ...process.env, TURNBACK_JOINED: "1", TURNBACK_BROWSER: job.browser },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let told = "";
  for (const stream of [child.stdout, child.stderr])
    stream.setEncoding("utf8").on("data", (part) => {
      told += part;
    });
  return new Promise((settle) =>
    child.on("close", (code) => {
      const passed = Number(/^\S+ pass (\d+)$/m.exec(told)?.[1] ?? 0);
      const seconds = Math.round((performance.now() - begin) / 1000);
      settle({ job, ok: code === 0 && passed > 0, passed, seconds, told });
    }),
  );
}

/** @param {Done} end @param {string} [which] */
function tell({ job, ok, seconds, told }, which = "") {
  console.log(`\n--- ${job.name} in ${job.browser}${which}: ${seconds} s${ok ? "" : ", FAILED"}\n${told}`);
}

const all = (await readdir(HERE))
  .filter((name) => name.endsWith(".test.mjs"))
  .map((name) => name.replace(".test.mjs", ""));
const wanted = process.argv.slice(2).filter((word) => word !== "--firefox");
const unknown = wanted.filter((name) => !all.includes(name));
if (unknown.length > 0) {
  console.error(`no such file of tests: ${unknown.join(", ")}`);
  process.exit(2);
}
const inFirefox = process.argv.includes("--firefox");
const jobs = (wanted.length > 0 ? wanted : all).map((name) => {
  const only = name === "firefox" && wanted.length === 0 ? IN_FIREFOX : [];
  return /** @type {Job} */ ({ name, browser: inFirefox || name === "firefox" ? "firefox" : "chromium", only });
});
jobs.sort((one, other) => turn(one) - turn(other));

await bundle(PAGE_ROOT);
const begin = performance.now();
/** @type {Done[]} */
const ended = [];
await Promise.all(
  Array.from({ length: AT_A_TIME }, async () => {
    for (let job = jobs.shift(); job; job = jobs.shift()) {
      const end = await done(job);
      ended.push(end);
      tell(end);
    }
  }),
);
const failed = ended.filter(({ ok }) => !ok);
/** @type {Done[]} those that passed when they were run alone */
const late = [];
if (failed.length <= MOST_AGAIN)
  for (const before of failed) {
    const end = await done(before.job);
    tell(end, " again");
    if (end.ok) late.push(before);
    ended.splice(ended.indexOf(before), 1, end);
  }
const passed = ended.reduce((sum, end) => sum + end.passed, 0);
console.log(`\n${passed} browser tests passed in ${Math.round((performance.now() - begin) / 1000)} s.`);
for (const { job } of late)
  console.log(`In ${job.name} in ${job.browser} something failed at first and passed alone: look above, and mend it.`);
const broken = ended.filter(({ ok }) => !ok);
for (const { job } of broken) console.log(`Something failed in ${job.name} in ${job.browser}: look above.`);
// A run in which nothing was run must not pass for a good one.
process.exitCode = broken.length > 0 || ended.length === 0 ? 1 : 0;
