// Joins the page's modules into one script and its stylesheets into one, under
// www/pkg: a school's line is slow to answer and a browser asks for six files
// at a time, so that thirty files cost six round trips and two cost one.
//
// What languages there are is read from www/locales, so that a new one is a
// new file there and nothing else.
//
//   node tests/tools/bundle.mjs DIRECTORY_OF_THE_PAGE

import { readdir, readFile, rename, writeFile } from "node:fs/promises";
import { basename, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";

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
 * Write a file whole: another test file may be reading it.
 * @param {string} path
 * @param {string | Uint8Array} contents
 */
async function put(path, contents) {
  const fresh = `${path}.${process.pid}`;
  await writeFile(fresh, contents);
  await rename(fresh, path);
}

/**
 * Join what `main.js`, `start.js` and `main.css` of a directory import, into `pkg/page.js`, `pkg/start.js` and
 * `pkg/page.css` there.
 * @param {string} root the directory; its pkg/ holds the glue already
 * @throws where a module or stylesheet is missing or cannot be read
 */
export async function bundle(root) {
  const pkg = join(root, "pkg");
  await put(join(pkg, "languages.js"), await languages(root));
  const { outputFiles } = await build({
    absWorkingDir: resolve(root),
    entryPoints: [
      { in: "main.js", out: "page" },
      { in: "start.js", out: "start" },
      { in: "main.css", out: "page" },
    ],
    outdir: "pkg",
    bundle: true,
    format: "esm",
    target: "es2022",
    minify: true,
    // Only developer tools ask for the maps.
    sourcemap: "linked",
    logLevel: "error",
    write: false,
  });
  for (const { path, contents } of outputFiles) await put(join(pkg, basename(path)), contents);
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const [root] = process.argv.slice(2);
  if (!root) {
    console.error("usage: node bundle.mjs DIRECTORY_OF_THE_PAGE");
    process.exit(2);
  }
  await bundle(root).catch(() => process.exit(1)); // esbuild has said why
}
