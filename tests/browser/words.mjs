// The files of www/locales, read as they are, and what the page and the core say of them.

import { readdir, readFile } from "node:fs/promises";
import { basename, join } from "node:path";
import { PAGE_ROOT } from "./chromium.mjs";

const LOCALES = join(PAGE_ROOT, "locales");

/** @typedef {Record<string, string>} Sentences */

/** @returns {Promise<string[]>} the tags of the languages */
export async function tags() {
  return (await readdir(LOCALES)).map((name) => basename(name, ".json")).sort();
}

/**
 * @param {string} tag
 * @returns {Promise<{ sentences: Sentences, keys: string[] }>} `keys` as they stand in the file: a key that stands there
 *   twice is in it twice
 */
export async function readWords(tag) {
  const text = await readFile(join(LOCALES, `${tag}.json`), "utf8");
  return { sentences: JSON.parse(text), keys: [...text.matchAll(/^\s*"([^"]+)":/gm)].map(([, key]) => key) };
}

/** The holes of a sentence. @param {string} sentence @returns {string[]} */
export function holes(sentence) {
  return [...new Set([...sentence.matchAll(/\{(\w+)\}/g)].map(([, name]) => name))].sort();
}

/** A key without its plural form. @param {string} key */
export function stem(key) {
  return key.replace(/\.(zero|one|two|few|many|other)$/, "");
}

/** What makes of the words what lies beside the page. */
const MAKERS = ["network.mjs", "words.mjs"].map((name) => join(import.meta.dirname, "../tools", name));

/** The text of every module that asks for words, and of the page itself. @returns {Promise<string>} */
export async function source() {
  const own = (await readdir(PAGE_ROOT)).filter((name) => /\.(js|html)$/.test(name));
  const files = [...own.map((name) => join(PAGE_ROOT, name)), ...MAKERS];
  return (await Promise.all(files.map((name) => readFile(name, "utf8")))).join("\n");
}

/** A core of its own, started in Node. @returns {Promise<any>} */
export async function core() {
  const { default: start, startPart, Turnback } = await import(join(PAGE_ROOT, "pkg/turnback.js"));
  await start({ module_or_path: await readFile(join(PAGE_ROOT, "pkg/turnback_bg.wasm")) });
  await startPart(await readFile(join(PAGE_ROOT, "pkg/turnback_desk.wasm")));
  return new Turnback();
}
