// What the page keeps for days without a network: the list of the files that it asks for, each with the digest of its
// content, and one version made of them all. www/sw.js reads it.

import { createHash } from "node:crypto";
import { readdir, readFile, rename, writeFile } from "node:fs/promises";
import { basename, dirname, join } from "node:path";

/** @typedef {{ version: string, files: [name: string, integrity: string][] }} Served */

/** The page itself is asked for by its folder. */
const PAGE = "index.html";
const MANIFEST = "turnback.webmanifest";

/**
 * The digest of a content, as a browser checks it.
 * @param {string | Uint8Array} content
 * @param {"sha256" | "sha384"} [kind]
 * @returns {string} such as "sha256-..."
 */
export function integrity(content, kind = "sha256") {
  return `${kind}-${createHash(kind).update(content).digest("base64")}`;
}

/**
 * The files that the page asks for, under the names that they have in the house.
 * @param {string} root the directory of the page, built
 * @returns {Promise<string[]>}
 */
export async function parts(root) {
  const languages = (await readdir(join(root, "locales"))).filter((name) => name.endsWith(".json")).sort();
  return [
    "pkg/start.js",
    "pkg/page.css",
    "pkg/page.js",
    "pkg/turnback_bg.wasm",
    "pkg/desk.js",
    "pkg/turnback_desk.wasm",
    ...languages.map((name) => `locales/${name}`),
  ];
}

/**
 * What the worker reads.
 * @param {string} root a directory that is served
 * @param {string[]} names of files in it, beside the page and its manifest
 * @returns {Promise<string>} a script
 */
export async function servedScript(root, names) {
  const files = await Promise.all(
    [PAGE, MANIFEST, ...names].map(
      async (name) =>
        /** @type {[string, string]} */ ([name === PAGE ? "./" : name, integrity(await readFile(join(root, name)))]),
    ),
  );
  const version = createHash("sha256").update(JSON.stringify(files)).digest("hex").slice(0, 12);
  return `self.SERVED=${JSON.stringify(/** @type {Served} */ ({ version, files }))};\n`;
}

/**
 * Write a file whole: whoever reads meanwhile gets the old one or the new one, never a part.
 * @param {string} path
 * @param {string | Uint8Array} content
 */
export async function writeWhole(path, content) {
  const fresh = join(dirname(path), `.${basename(path)}.${process.pid}`);
  await writeFile(fresh, content);
  await rename(fresh, path);
}
