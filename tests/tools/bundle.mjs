// Joins the page's modules into one script for the bench and one for the desk,
// and its stylesheets into one, under www/pkg: a school's line is slow to answer
// and a browser asks for six files at a time, so that thirty files cost six round
// trips and two cost one. Beside them it writes the list of what the page keeps for days without a network.
//
// What languages there are is read from www/locales, so that a new one is a
// new file there and nothing else.
//
//   node tests/tools/bundle.mjs DIRECTORY_OF_THE_PAGE

import { readdir, readFile } from "node:fs/promises";
import { basename, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";
import { parts, servedScript, writeWhole } from "./served.mjs";

/**
 * The languages of the page, as a module: each file of locales/ tells its own name and the direction it is read in.
 * @param {string} root
 * @returns {Promise<string>}
 */
async function languages(root) {
  const files = (await readdir(join(root, "locales"))).filter((name) => name.endsWith(".json")).sort();
  const told = await Promise.all(
    files.map(async (name) => {
      const words = JSON.parse(await readFile(join(root, "locales", name), "utf8"));
      return {
        tag: basename(name, ".json"),
        name: words["language.name"] ?? basename(name, ".json"),
        direction: words["language.direction"] === "rtl" ? "rtl" : "ltr",
      };
    }),
  );
  return `/** @type {import("../language.js").Language[]} */\nexport const LANGUAGES = ${JSON.stringify(told)};\n`;
}

/**
 * @typedef {object} Joined
 * @property {{ name: string, contents: Uint8Array }[]} files page.js, desk.js, start.js, page.css, and a map for each where
 *   wanted; in a release the scripts' names have the mark of their content
 * @property {string[]} inputs the files that they were made of, as paths from the directory of the page
 */

/**
 * Join what `main.js`, `desk.js`, `start.js` and `main.css` of a directory import.
 * @param {string} root the directory; its pkg/ holds the glue already
 * @param {object} options
 * @param {boolean} options.maps whether developer tools get maps
 * @param {boolean} [options.whole] whether page.js has the desk's modules in itself
 * @param {Record<string, string>} [options.names] the names that files have in a release
 * @returns {Promise<Joined>}
 * @throws where a module or stylesheet is missing or cannot be read; esbuild has said why
 */
export async function joined(root, { maps, whole = false, names }) {
  await writeWhole(join(root, "pkg/languages.js"), await languages(root));
  /** @type {import("esbuild").Plugin} */
  const renamed = {
    name: "names of a release",
    setup: (build) =>
      build.onLoad({ filter: /names\.js$/ }, ({ path }) =>
        path === resolve(root, "names.js") ? { contents: `export const NAMES = ${JSON.stringify(names)};` } : undefined,
      ),
  };
  /** @type {import("esbuild").BuildOptions} */
  const each = {
    absWorkingDir: resolve(root),
    outdir: "pkg",
    bundle: true,
    format: "esm",
    target: "es2022",
    minify: true,
    sourcemap: maps ? "linked" : false,
    logLevel: "error",
    write: false,
    metafile: true,
    plugins: names ? [renamed] : [],
  };
  const mark = names ? ".[hash]" : "";
  const made = await Promise.all([
    build({ ...each, entryPoints: [{ in: "start.js", out: "start" }] }),
    build({ ...each, entryPoints: [{ in: "main.css", out: "page" }] }),
    whole
      ? build({ ...each, entryPoints: [{ in: "main.js", out: "page" }] })
      : // All that `main.js` imports is imported by `desk.js` too, so that it becomes the one piece that both share: this is the
        // page's script, and what is left of `main.js` only imports it.
        build({
          ...each,
          entryPoints: ["main.js", "desk.js"],
          splitting: true,
          entryNames: `[name]${mark}`,
          chunkNames: `page${mark}`,
        }),
  ]);
  const files = made
    .flatMap(({ outputFiles = [] }) => outputFiles)
    .map(({ path, contents }) => ({ name: basename(path), contents }))
    .filter(({ name }) => !name.startsWith("main."));
  return { files, inputs: [...new Set(made.flatMap(({ metafile }) => Object.keys(metafile?.inputs ?? {})))] };
}

/**
 * Complete a directory, so that it can be served: `pkg/page.js`, `pkg/desk.js`, `pkg/start.js`, `pkg/page.css`, `pkg/served.js`.
 * @param {string} root the directory; its pkg/ holds the glue already
 * @throws where something is missing
 */
export async function bundle(root) {
  const { files } = await joined(root, { maps: true });
  for (const { name, contents } of files) await writeWhole(join(root, "pkg", name), contents);
  await writeWhole(join(root, "pkg/served.js"), await servedScript(root, await parts(root)));
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const [root] = process.argv.slice(2);
  if (!root) {
    console.error("usage: node bundle.mjs DIRECTORY_OF_THE_PAGE");
    process.exit(2);
  }
  await bundle(root).catch((error) => {
    // esbuild has said why; a missing file has not.
    if (!error.errors) console.error(error.message);
    process.exit(1);
  });
}
