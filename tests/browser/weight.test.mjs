// The page stays light enough for a school's line: everything that a browser
// asks for, compressed as a server would.

import assert from "node:assert/strict";
import { readdir, readFile } from "node:fs/promises";
import { extname, join, relative } from "node:path";
import { test } from "node:test";
import { brotliCompressSync, gzipSync } from "node:zlib";
import { ofThePage } from "../tools/words.mjs";
import { PAGE_ROOT } from "./harness.mjs";

/**
 * The goal, bytes, with brotli: what must have come before a lesson can begin, and the compiled core's share of it. The whole
 * page had the same goal before the desk came after the bench.
 */
const GOAL = { bench: 250_000, core: 150_000 };
/**
 * What holds meanwhile, bytes: little more than the page weighs today, so that nothing grows unseen: what the bench waits for,
 * its core, and all that is ever loaded. Lower these as the page loses weight; never raise them for less than a whole new
 * place of the page.
 */
const LIMITS = {
  gzip: { bench: 274_000, core: 183_500, all: 400_000 },
  brotli: { bench: 229_200, core: 150_000, all: 335_800 },
};
/** What comes after the bench stands. */
const DESK = /^(pkg\/(desk\.js|turnback_desk\.wasm|served\.js)|sw\.js|turnback\.webmanifest)$/;
/** What is shipped inside pkg/page.js and pkg/page.css. */
const JOINED = /^((?!sw\.js)[^/]+\.(js|css)|pkg\/(turnback|languages)\.js)$/;
/** What a browser asks for only where the page is installed. */
const ICONS = /^icon[^/]*$/;
/** A page below this cannot be the whole page, bytes. */
const LEAST = 10_000;

/**
 * @typedef {{ name: string, plain: number, gzip: number, brotli: number }} Weight
 * @returns {Promise<Weight[]>} heaviest first
 */
async function weights() {
  const entries = await readdir(PAGE_ROOT, { recursive: true, withFileTypes: true });
  const files = entries
    .filter((entry) => entry.isFile() && !entry.name.startsWith("."))
    // Type declarations lie beside the glue for the type checker, maps beside the script for developer tools; no page
    // asks for them.
    .filter((entry) => !/\.(d\.ts|map)$/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    // The sources of the one script and the one stylesheet.
    .filter((file) => !JOINED.test(relative(PAGE_ROOT, file)) && !ICONS.test(relative(PAGE_ROOT, file)));
  const weighed = await Promise.all(
    files.map(async (file) => {
      const name = relative(PAGE_ROOT, file);
      const whole = await readFile(file);
      // As it is released.
      const plain = name.startsWith("locales/") ? Buffer.from(ofThePage(String(whole))) : whole;
      const [gzip, brotli] = [gzipSync(plain, { level: 9 }).length, brotliCompressSync(plain).length];
      return { name, plain: plain.length, gzip, brotli };
    }),
  );
  // A reader gets one language: the heaviest stands for all.
  const words = weighed.filter(({ name }) => name.startsWith("locales/"));
  const heaviest = words.reduce((one, other) => (other.gzip > one.gzip ? other : one));
  return weighed
    .filter((file) => !words.includes(file) || file === heaviest)
    .sort((one, other) => other.gzip - one.gzip);
}

test("neither the bench nor the whole page grows heavier, compressed with gzip or brotli", async (t) => {
  const files = await weights();
  for (const { name, plain, gzip, brotli } of files)
    t.diagnostic(`${DESK.test(name) ? "desk" : "bench"}: ${name}: ${plain} bytes, gzip ${gzip}, brotli ${brotli}`);
  for (const way of /** @type {const} */ (["gzip", "brotli"])) {
    const sum = (/** @type {Weight[]} */ some) => some.reduce((all, file) => all + file[way], 0);
    const bench = files.filter(({ name }) => !DESK.test(name));
    const weighed = {
      bench: sum(bench),
      core: sum(bench.filter(({ name }) => extname(name) === ".wasm")),
      all: sum(files),
    };
    t.diagnostic(
      `${way}: bench ${weighed.bench} bytes (goal ${GOAL.bench}), its core ${weighed.core} (goal ${GOAL.core})`,
    );
    t.diagnostic(`${way}: ${weighed.all} bytes in all`);
    for (const part of /** @type {const} */ (["bench", "core", "all"])) {
      assert.ok(weighed[part] > LEAST, `${part}: ${weighed[part]} bytes: the page is not complete`);
      assert.ok(
        weighed[part] <= LIMITS[way][part],
        `${way}: ${part} has ${weighed[part]} bytes, more than ${LIMITS[way][part]}`,
      );
    }
  }
});
