// The words of www/locales, for what is made of them beside the page: each language's page for the network's keeper, and
// what a browser shows of the installed page. One file a language: what is made takes its words from there.

import { readdir, readFile } from "node:fs/promises";
import { basename, join } from "node:path";

/** Sentences that the page itself never says. */
const BESIDE = /^(network|manifest)\./;

/**
 * @typedef {object} Told
 * @property {string} tag BCP 47
 * @property {Record<string, string>} sentences
 */

/**
 * Every language.
 * @param {string} root the directory of the page
 * @returns {Promise<Told[]>} English first: it is what stands where a language is not named
 */
export async function languages(root) {
  const files = (await readdir(join(root, "locales"))).filter((name) => name.endsWith(".json"));
  const told = await Promise.all(
    files.map(async (name) => ({
      tag: basename(name, ".json"),
      sentences: JSON.parse(await readFile(join(root, "locales", name), "utf8")),
    })),
  );
  const rank = (/** @type {Told} */ { tag }) => (tag === "en" ? "" : tag);
  return told.sort((one, other) => (rank(one) < rank(other) ? -1 : 1));
}

/**
 * The name that a file has in a language.
 * @param {string} name in English: "network.html"
 * @param {string} tag
 * @returns {string} "network.es.html"
 */
export function nameIn(name, tag) {
  return tag === "en" ? name : name.replace(".", `.${tag}.`);
}

/** What the page itself loads of a language's file. @param {string} text @returns {string} JSON */
export function ofThePage(text) {
  return JSON.stringify(Object.fromEntries(Object.entries(JSON.parse(text)).filter(([key]) => !BESIDE.test(key))));
}

/**
 * What a browser shows of the installed page, in a language.
 * @param {string} manifest the file as it is, in English
 * @param {Told} language
 * @returns {string} JSON
 */
export function manifestIn(manifest, { tag, sentences }) {
  return `${JSON.stringify(
    {
      ...JSON.parse(manifest),
      lang: tag,
      dir: sentences["language.direction"],
      description: sentences["manifest.description"],
    },
    null,
    2,
  )}\n`;
}
