// Puts the measurements side by side: times, errors, ratios, and whether each
// goal is reached. Prints Markdown.
//
//   node tests/bench/report.mjs DIRECTORY_WITH_THE_JSONL_FILES

import { readFileSync } from "node:fs";
import { cpus } from "node:os";
import { join } from "node:path";

/**
 * @typedef {object} Measured
 * @property {string} problem
 * @property {string} who
 * @property {"peer" | "native" | "chromium" | "chromiumSlowed" | "chromiumSixTimes"} where
 * @property {number} milliseconds
 * @property {number | null} [rightHandSides]
 * @property {number[]} [ph]
 * @property {string} [truth]
 */

const [directory] = process.argv.slice(2);
const lines = ["start", "peers", "native", "chromium", "page"].flatMap((name) =>
  readFileSync(join(directory, `${name}.jsonl`), "utf8")
    .split("\n")
    .filter(Boolean)
    .map((line) => JSON.parse(line)),
);
/** @type {Measured[]} */
const measured = lines.filter((line) => line.problem);
/** @type {Map<string, number[]>} */
const truths = new Map(lines.filter((line) => line.truth && !line.problem).map((line) => [line.truth, line.ph]));

/**
 * @param {string} problem
 * @param {Measured["where"]} where
 * @param {string} [who]
 */
function found(problem, where, who = "Turnback") {
  const result = measured.find((line) => line.problem === problem && line.where === where && line.who.startsWith(who));
  if (!result) throw new Error(`${who} was not timed on ${problem}, ${where}`);
  return result;
}

/** @param {Measured} result @returns {{ max: number, rms: number } | null} */
function errors({ problem, ph, truth }) {
  const reference = truths.get(truth ?? problem);
  if (!reference || !ph) return null;
  if (reference.length !== ph.length) throw new Error(`${problem}: ${ph.length} pH against ${reference.length}`);
  const squares = ph.map((value, at) => (value - reference[at]) ** 2);
  return {
    max: Math.sqrt(Math.max(...squares)),
    rms: Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / squares.length),
  };
}

const WHERE = {
  peer: "",
  native: ", native",
  chromium: ", Chromium",
  chromiumSlowed: ", Chromium, slowed six times by its own measure",
  chromiumSixTimes: ", Chromium, slowed six times by the clock",
};
const number = (/** @type {number} */ value) => (value >= 100 ? value.toFixed(0) : value.toPrecision(3));

/** @param {string} title @param {string} problem */
function table(title, problem) {
  const base = found(problem, "native").milliseconds;
  const order = Object.keys(WHERE);
  const place = (/** @type {Measured} */ { where }) => (order.indexOf(where) + order.length - 1) % order.length;
  const rows = measured
    .filter((line) => line.problem === problem)
    // The peers last.
    .sort((one, other) => place(one) - place(other))
    .map((line) => {
      const error = errors(line);
      return [
        line.who + WHERE[line.where],
        number(line.milliseconds),
        number(line.milliseconds / base),
        line.rightHandSides || "",
        error ? error.max.toExponential(1) : "",
        error ? error.rms.toExponential(1) : "",
      ].join(" | ");
    });
  const judged = truths.has(problem);
  console.log(`\n${title}\n`);
  console.log(`| | ms | times native | right-hand sides |${judged ? " max pH error | rms |" : ""}`);
  console.log(`|---|---|---|---|${judged ? "---|---|" : ""}`);
  for (const row of rows) console.log(`| ${judged ? row : row.split(" | ").slice(0, 4).join(" | ")} |`);
}

const doses = [...new Set(measured.map((line) => line.problem))].filter((problem) => problem.startsWith("nextDose"));
const slowest = (/** @type {Measured["where"]} */ where) =>
  doses.map((dose) => found(dose, where)).reduce((one, other) => (other.milliseconds > one.milliseconds ? other : one));

console.log(`# Benchmark of ${new Date().toISOString().slice(0, 10)}\n`);
console.log(`Machine: ${cpus().length} x ${cpus()[0].model.trim()}.`);
console.log(
  `${lines
    .filter((line) => line.machine)
    .map((line) => line.machine)
    .join("; ")}; Node.js ${process.versions.node}.`,
);
console.log(
  `Load of the machine when it began: ${lines.find((line) => "load" in line).load} (above 1 the times are worth little).`,
);
const { asked, first, last } = lines.find((line) => line.slowing).slowing;
console.log(
  `Slowed: asked for six times, the browser did a plain sum in ${number(first)} times the time; by the clock it came to ` +
    `${number(last)} times when it was asked for ${number(asked)}.`,
);

table("One beaker, two zones, heat, five doses, 600 s, output each second:", "oneBeaker");
table("One zone without film, five doses, 600 s, output each second:", "oneZone");
table("The lesson: three beakers, seven doses of acid and four of base, carbonate, heat:", "lesson");
table(
  `The slowest next dose of the lesson (dose ${slowest("native").problem.slice(8)}), three beakers:`,
  slowest("native").problem,
);

table("One frame: the pictures of three beakers, 300 x 340 pixels each, while a dose mixes in:", "frame");

/** @type {[string, number, number, string][]} goal, measured, bar, "at least" or "at most" */
const goals = [
  ["LSODA's time over native, two zones", over("oneBeaker", "scipy LSODA"), 60, "at least"],
  ["largest pH error, two zones", errors(found("oneBeaker", "native"))?.max ?? Number.NaN, 2e-4, "at most"],
  ["PHREEQC's time over native, one zone", over("oneZone", "PHREEQC KINETICS, Runge"), 60, "at least"],
  ["LSODA's time over native, one zone", over("oneZone", "scipy LSODA"), 30, "at least"],
  ["rms pH error, one zone", errors(found("oneZone", "native"))?.rms ?? Number.NaN, 2e-5, "at most"],
  ["Chromium's time over native, two zones", inChromium("oneBeaker"), 1.5, "at most"],
  ["Chromium's time over native, one zone", inChromium("oneZone"), 1.5, "at most"],
  ["Chromium's time over native, lesson", inChromium("lesson"), 1.5, "at most"],
  ["slowest next dose, slowed, ms", slowest("chromiumSixTimes").milliseconds, 16, "at most"],
  ["pictures of a frame, slowed, ms (half of 1/60 s)", found("frame", "chromiumSixTimes").milliseconds, 8.3, "at most"],
  ["page usable, slowed, 10 Mbit/s, 100 ms round trip, ms", onPage("usable").milliseconds, 1000, "at most"],
  ["frames a second that 95 % reach, slowed", onPage("frames", 6).perSecondP95, 59, "at least"],
  ["script in a frame, slowed, ms (half of 1/60 s)", onPage("frames", 6).scriptMs, 8.3, "at most"],
  ["fit of 18 measured times, three unknowns, ms", onPage("fit").milliseconds, 200, "at most"],
  ["the same with the strength, ms", onPage("fitStrength").milliseconds, 200, "at most"],
  ["what the bench waits for, brotli, KB", onPage("weight").bench / 1000, 250, "at most"],
  ["its core, brotli, KB", onPage("weight").core / 1000, 150, "at most"],
  ["all that is ever loaded, brotli, KB", onPage("weight").all / 1000, 250, "at most"],
  ["whole lesson, slowed, ms", found("lesson", "chromiumSixTimes").milliseconds, 100, "at most"],
];

/** @param {string} what @param {number} [times] */
function onPage(what, times) {
  const result = lines.find((line) => line.page === what && line.times === times);
  if (!result) throw new Error(`the page was not timed: ${what}`);
  return result;
}

/** @param {string} problem @param {string} peer */
function over(problem, peer) {
  return found(problem, "peer", peer).milliseconds / found(problem, "native").milliseconds;
}

/** @param {string} problem */
function inChromium(problem) {
  return found(problem, "chromium").milliseconds / found(problem, "native").milliseconds;
}

const swift = onPage("frames", 1);
const slowed = onPage("frames", 6);
console.log(
  `\nThe page while three beakers run: 95 % of the frames come at ${number(swift.perSecondP95)} a second or faster ` +
    `(slowed: ${number(slowed.perSecondP95)}); a frame has ${number(swift.scriptMs)} ms of script ` +
    `(slowed: ${number(slowed.scriptMs)} ms).`,
);
console.log("\n| goal | bar | measured | |\n|---|---|---|---|");
for (const [goal, value, bar, sense] of goals) {
  const reached = sense === "at least" ? value >= bar : value <= bar;
  const shown = value < 1e-2 ? value.toExponential(1) : number(value);
  console.log(`| ${goal} | ${sense} ${bar} | ${shown} | ${reached ? "reached" : "not reached"} |`);
}

const same = measured
  .filter((line) => line.where.startsWith("chromium"))
  .every((line) => JSON.stringify(line.ph) === JSON.stringify(found(line.problem, "native").ph));
console.log(`\nEvery pH computed in Chromium has ${same ? "the same bits as" : "OTHER BITS THAN"} the native one.`);
