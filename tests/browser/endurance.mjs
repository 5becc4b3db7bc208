// Hours at sixteen times the speed in Chromium: does memory stay flat, and do the same acts still lead to the same bits?
//
//   node tests/browser/endurance.mjs [MINUTES]      over the last build; 120 unless told
//
// One page plays lesson after lesson, the free bench and every place between. Every 30 s it is weighed, into
// target/endurance/weighed.jsonl. What was kept of each lesson is done again in a fresh page, and natively by
// `turnback code`; the check codes must be those that the long-run page told.
//
// The rule for memory. Like is weighed with like: in the brief, at the start of each round. Of these weighings the first
// half is for warming up; over the second half, of the heap, the nodes and the listeners alike, the slope of the
// least-squares line is at most 1 % of the mean in an hour, and the highest at most 5 % above the mean. At other moments
// nodes and listeners tell where the player is, not what is left over: of all weighings, the heap and the cores' memory of
// the second half are at most 5 % above the highest of the first. The cores' memory never shrinks and grows by steps,
// whenever a lesson needs more at once than any before it; when all lessons are done again 36 times by one core, its memory
// after half of the times is its memory after the last. (What is free in it lies in pieces at first: in 60 times of 38
// lessons it took its last step at the eighth.)
//
// The page's JavaScript is interpreted, not compiled by the engine as it goes: else the heap grows for hours by the
// engine's own machine code and what it learns about types (of 240 KB between two snapshots, 14 rounds apart, 230 were
// that, 2 the page's objects), and a leak of that size would hide in it. WebAssembly is compiled as always.
//
// SIGUSR2 lets it play its round to the end and judge what it has.

import { execFile } from "node:child_process";
import { appendFile, mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { bundle } from "../tools/bundle.mjs";
import { serve } from "../tools/serve.mjs";
import { launchChromium, PAGE_ROOT, SCREENS } from "./chromium.mjs";
import { placeGauge, weigh } from "./endurance-gauge.mjs";
import { chanceOf, keptText, playFree, playGuided, walkAround } from "./endurance-play.mjs";
import { comesTo } from "./hands.mjs";
import { watch } from "./watch.mjs";

/**
 * @typedef {import("./endurance-gauge.mjs").Weighed} Weighed
 * @typedef {Weighed & { minutes: number, simulatedS: number, doing: string, complaints: number, requests: number }} Sample
 * @typedef {object} Lesson what became of a lesson, or of a time at the free bench
 * @property {string} what
 * @property {string} told the check code, as the long-run page tells it
 * @property {string} kept what the device keeps of it
 * @property {number} nowS the lesson's clock
 * @property {string} fresh the code of the same acts in a fresh page
 * @property {string} [natively] and without a browser
 */

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const OUT = join(ROOT, "target/endurance");
const SEED = 20261130;
const WEIGH_EVERY_MS = 30_000;
const LEVELS = [2, 1, 3, 4, 5];
/** Every so many rounds the free bench stands for long without being set up anew. */
const LONG_EVERY = 5;
const [SHORT_FREE_MIN, LONG_FREE_MIN] = [2, 8];
/** The bars of the rule, and the fewest weighings that it can be held to. */
const [MOST_SLOPE, MOST_ABOVE, FEWEST] = [0.01, 0.05, 4];
/** So often one core does all lessons again. */
const TIMES_AGAIN = 36;

/**
 * What must stay flat: its name, the field, how it is told, and whether at every moment or only in the brief.
 * @type {[string, keyof Weighed, (value: number) => string, "always" | "in the brief"][]}
 */
const FLAT = [
  ["heap", "heapBytes", megabytes, "always"],
  ["cores' memory", "coreBytes", megabytes, "always"],
  ["nodes", "nodes", String, "in the brief"],
  ["listeners", "listeners", String, "in the brief"],
];

/** Interprets JavaScript, takes note of types from the first call on, and keeps what was made of the scripts' text. */
const INTERPRETED =
  "--js-flags=--no-sparkplug --no-maglev --no-turbofan --no-lazy-feedback-allocation --no-flush-bytecode";

/** @param {number} bytes */
function megabytes(bytes) {
  return `${(bytes / 1e6).toFixed(2)} MB`;
}

const minutes = Number(process.argv[2] ?? 120);
if (!(minutes > 0)) throw new Error("how many minutes? such as: node tests/browser/endurance.mjs 120");

await mkdir(OUT, { recursive: true });
await writeFile(join(OUT, "weighed.jsonl"), "");
await bundle(PAGE_ROOT);
const server = await serve({ root: PAGE_ROOT });
// The judges live in a browser of their own: what they weigh is not the page's.
const [browser, judges] = await Promise.all([launchChromium([INTERPRETED]), launchChromium()]);
const context = await browser.newContext({ viewport: SCREENS.laptop });
const page = await context.newPage();
const seen = watch(page, server.origin);
await placeGauge(page);
await page.goto(server.origin, { waitUntil: "networkidle" });
await comesTo(page, "brief");
seen.loaded();
const tools = await context.newCDPSession(page);
const browserTools = await browser.newBrowserCDPSession();

/** A page with a core that has done nothing yet. */
async function freshJudge() {
  const judge = await judges.newPage();
  await judge.goto(server.origin, { waitUntil: "load" });
  await judge.evaluate(async () => {
    const { default: start } = await import(/** @type {any} */ ("/pkg/turnback.js"));
    await start();
  });
  return judge;
}

/** Does again what was kept. @param {import("playwright-core").Page} judge @param {string} kept @returns {Promise<{ nowS: number, code: string }>} */
function judged(judge, kept) {
  return judge.evaluate(async (text) => {
    const { Turnback } = await import(/** @type {any} */ ("/pkg/turnback.js"));
    const core = new Turnback();
    const { ok, key } = core.resume(text, "");
    const found = { nowS: core.state().now, code: ok ? core.checkCode() : `refused: ${key}` };
    core.free();
    return found;
  }, kept);
}

const began = Date.now();
let ends = began + 60_000 * minutes;
// The other signals close the browsers: their driver listens to them.
process.once("SIGUSR2", () => {
  ends = Date.now();
});
/** @type {Sample[]} */
const samples = [];
/** @type {Lesson[]} */
const lessons = [];
let doing = "brief";
let isOver = false;
/** Simulated up to now, s, and what the lesson's clock showed when it was counted. Beakers that are set up anew begin at 0. */
let [simulatedS, countedS] = [0, 0];
const clockJudge = await freshJudge();

/** Weighs the page now. @param {string} [what] */
async function sample(what = doing) {
  const kept = await keptText(page);
  const running = kept && what !== "brief" ? (await judged(clockJudge, kept)).nowS : countedS;
  simulatedS += running >= countedS ? running - countedS : running;
  countedS = running;
  /** @type {Sample} */
  const one = {
    minutes: (Date.now() - began) / 60_000,
    simulatedS,
    doing: what,
    ...(await weigh(page, tools, browserTools)),
    complaints: seen.complaints.length,
    requests: uninvited().length,
  };
  samples.push(one);
  await appendFile(join(OUT, "weighed.jsonl"), `${JSON.stringify(one)}\n`);
}

/** Requests that nobody asked for: the words of a chosen language are fetched when it is chosen. */
function uninvited() {
  return seen.lateRequests.filter((address) => !/\/locales\/\w+\.json$/.test(address));
}

/** Puts down a lesson that is over, and does it again in a fresh page. @param {string} what @param {string} told */
async function over(what, told) {
  const kept = await keptText(page);
  const judge = await freshJudge();
  const { nowS, code } = await judged(judge, kept);
  await judge.close();
  lessons.push({ what, told, kept, nowS, fresh: code });
  console.error(
    `${((Date.now() - began) / 60_000).toFixed(1)} min: ${what}, ${nowS.toFixed(0)} s, ${told}, again ${code}`,
  );
}

/** What the memory of one core has grown to each time that it has done all lessons again, bytes. @returns {Promise<number[]>} */
async function allAgain() {
  const judge = await freshJudge();
  return judge.evaluate(
    async ([texts, times]) => {
      const { default: start, Turnback } = await import(/** @type {any} */ ("/pkg/turnback.js"));
      const { memory } = await start();
      const core = new Turnback();
      return Array.from({ length: times }, () => {
        for (const text of texts) {
          core.resume(text, "");
          core.csv(10, false);
          core.kept();
          core.slip();
          core.checkCode();
        }
        return memory.buffer.byteLength;
      });
    },
    /** @type {[string[], number]} */ ([lessons.map(({ kept }) => kept), TIMES_AGAIN]),
  );
}

async function weighAlways() {
  for (let next = began + WEIGH_EVERY_MS; !isOver; next += WEIGH_EVERY_MS) {
    while (!isOver && Date.now() < next) await new Promise((done) => setTimeout(done, 250));
    if (!isOver && doing !== "brief") await sample();
  }
}

async function play() {
  const chance = chanceOf(SEED);
  for (let round = 0; Date.now() < ends; round++) {
    doing = "brief";
    await sample();
    const level = LEVELS[round % LEVELS.length];
    doing = `level ${level}`;
    await over(doing, await playGuided(page, level, chance));
    doing = "free bench";
    const free = await playFree(page, round % LONG_EVERY === 1 ? LONG_FREE_MIN : SHORT_FREE_MIN, chance);
    await over(`free bench: ${free.deeds} deeds, ${free.refused} refused`, free.code);
    doing = "places";
    await walkAround(page);
  }
  doing = "brief";
  await sample();
}

/** Whatever goes wrong in the playing ends the weighing too. */
const weighing = weighAlways();
/** @type {string[]} */
const faults = [];
try {
  await play();
} catch (error) {
  faults.push(`the playing broke off: ${error instanceof Error ? error.stack : error}`);
  await page.screenshot({ path: join(OUT, "broken-off.png") }).catch(() => {});
}
isOver = true;
await weighing.catch((error) => faults.push(`the weighing broke off: ${error}`));
const grown = await allAgain().catch((error) => {
  faults.push(`the lessons could not be done again: ${error}`);
  return [0];
});
await Promise.all([browser.close(), judges.close(), server.close()]);

// --- what it came to -----------------------------------------------------------------------------------------------------

const keptFile = join(OUT, "kept.txt");
await writeFile(keptFile, lessons.map(({ kept }) => `${kept}\n`).join(""));
const cargo = ["run", "--release", "--locked", "--quiet", "--", "code", keptFile];
const { stdout } = await promisify(execFile)("cargo", cargo, { cwd: ROOT, maxBuffer: 1e8 });
const natively = stdout.trim().split("\n").slice(1);
for (const [index, lesson] of lessons.entries()) lesson.natively = natively[index]?.split(",")[2];
await writeFile(join(OUT, "lessons.json"), JSON.stringify(lessons, null, 1));

faults.push(...seen.complaints, ...uninvited().map((address) => `asked for ${address}`));
for (const { what, told, fresh, natively } of lessons)
  if (told !== fresh || told !== natively)
    faults.push(`${what}: the page tells ${told}, a fresh one ${fresh}, natively ${natively}`);
if (lessons.length === 0) faults.push("no lesson was played");

console.log("| min | simulated s | doing | heap | core | nodes | listeners | process | frames/s | long tasks |");
console.log("|---|---|---|---|---|---|---|---|---|---|");
const every = Math.max(1, Math.floor(samples.length / 40));
for (const one of samples.filter((_, index) => index % every === 0 || index === samples.length - 1)) {
  const tasks = `${one.longTasks} (${one.longTaskMs.toFixed(0)} ms)`;
  const weight = [
    megabytes(one.heapBytes),
    megabytes(one.coreBytes),
    one.nodes,
    one.listeners,
    megabytes(one.processBytes),
  ];
  const cells = [
    one.minutes.toFixed(1),
    one.simulatedS.toFixed(0),
    one.doing,
    ...weight,
    one.framesPerS.toFixed(1),
    tasks,
  ];
  console.log(`| ${cells.join(" | ")} |`);
}

const alike = samples.filter((one) => one.doing === "brief");
const warm = alike.slice(Math.floor(alike.length / 2));
const [before, after] = [samples.slice(0, samples.length / 2), samples.slice(samples.length / 2)];
console.log(
  `\n${lessons.length} lessons, ${samples.at(-1)?.simulatedS.toFixed(0)} s of their clocks at least, in ${samples.at(-1)?.minutes.toFixed(1)} min.`,
);
if (warm.length < FEWEST)
  faults.push(`too short to judge memory: ${warm.length} rounds after the warming up, ${FEWEST} are needed`);
else
  for (const [name, field, words, when] of FLAT) {
    const values = warm.map((one) => one[field]);
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const slope =
      (60 *
        slopeOf(
          warm.map((one) => one.minutes),
          values,
        )) /
      mean;
    const above = Math.max(...values) / mean - 1;
    const heights = [before, after].map((part) => Math.max(...part.map((one) => one[field])));
    const outgrown = heights[1] / heights[0] - 1;
    console.log(
      `${name}: ${words(Math.round(mean))} in the brief, ${percent(slope)} an hour, highest ${percent(above)}; at any time at most ${words(heights[0])} in the first half, ${words(heights[1])} in the second`,
    );
    if (slope > MOST_SLOPE && field !== "coreBytes") faults.push(`${name} grows by ${percent(slope)} an hour`);
    if (above > MOST_ABOVE) faults.push(`${name} has been ${percent(above)} above its mean`);
    if (when === "always" && outgrown > MOST_ABOVE)
      faults.push(`${name} has outgrown its first half by ${percent(outgrown)}`);
  }

/** @param {number} part */
function percent(part) {
  return `${part >= 0 ? "+" : ""}${(100 * part).toFixed(2)} %`;
}

/** The slope of the least-squares line. @param {number[]} x @param {number[]} y @returns {number} */
function slopeOf(x, y) {
  const [middle, level] = [x, y].map((all) => all.reduce((sum, one) => sum + one, 0) / all.length);
  const moment = x.reduce((sum, one, index) => sum + (one - middle) * (y[index] - level), 0);
  return moment / x.reduce((sum, one) => sum + (one - middle) ** 2, 0);
}

const sizes = [...new Set(grown)].map((size) => `${megabytes(size)} from time ${grown.indexOf(size) + 1} on`);
console.log(`one core, all lessons ${grown.length} times: ${sizes.join(", ")}`);
if (grown.at(-1) !== grown[Math.floor(grown.length / 2)])
  faults.push("the core's memory grows when the same lessons are done again");

for (const fault of faults) console.log(`FAULT: ${fault}`);
console.log(faults.length === 0 ? "Endured." : `${faults.length} faults.`);
process.exitCode = faults.length === 0 ? 0 : 1;
