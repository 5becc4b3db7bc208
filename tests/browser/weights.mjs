// What the page weighs: everything that a browser asks for, compressed as a server would.

import { readdir, readFile } from "node:fs/promises";
import { extname, join, relative } from "node:path";
import { brotliCompressSync, gzipSync } from "node:zlib";
import { ofThePage } from "../tools/words.mjs";
import { PAGE_ROOT } from "./chromium.mjs";

/** What comes after the bench stands. */
export const DESK = /^(pkg\/(desk\.js|turnback_desk\.wasm|served\.js)|sw\.js|turnback\.webmanifest)$/;
/** What is shipped inside pkg/page.js and pkg/page.css. */
const JOINED = /^((?!sw\.js)[^/]+\.(js|css)|pkg\/(turnback|languages)\.js)$/;
/** What a browser asks for only where the page is installed. */
const ICONS = /^icon[^/]*$/;

/**
 * @typedef {{ name: string, plain: number, gzip: number, brotli: number }} Weight
 * @returns {Promise<Weight[]>} heaviest first
 */
export async function weights() {
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

/**
 * What the bench waits for, its compiled core, and all that is ever loaded, bytes.
 * @param {Weight[]} files
 * @param {"gzip" | "brotli"} way
 */
export function sums(files, way) {
  const sum = (/** @type {Weight[]} */ some) => some.reduce((all, file) => all + file[way], 0);
  const bench = files.filter(({ name }) => !DESK.test(name));
  return { bench: sum(bench), core: sum(bench.filter(({ name }) => extname(name) === ".wasm")), all: sum(files) };
}
