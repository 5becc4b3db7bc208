// Joins the page's modules into one script and its stylesheets into one, under
// www/pkg: a school's line is slow to answer and a browser asks for six files
// at a time, so that thirty files cost six round trips and two cost one.
//
//   node tests/tools/bundle.mjs DIRECTORY_OF_THE_PAGE

import { rename, writeFile } from "node:fs/promises";
import { basename, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";

/**
 * Join what `main.js` and `main.css` of a directory import, into `pkg/page.js` and `pkg/page.css` there.
 * @param {string} root the directory; its pkg/ holds the glue already
 * @throws where a module or stylesheet is missing or cannot be read
 */
export async function bundle(root) {
  const pkg = join(root, "pkg");
  const { outputFiles } = await build({
    absWorkingDir: resolve(root),
    entryPoints: [
      { in: "main.js", out: "page" },
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
  // Whole files only: another test file may be reading them.
  for (const { path, contents } of outputFiles) {
    const fresh = join(pkg, `.${basename(path)}.${process.pid}`);
    await writeFile(fresh, contents);
    await rename(fresh, path);
  }
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const [root] = process.argv.slice(2);
  if (!root) {
    console.error("usage: node bundle.mjs DIRECTORY_OF_THE_PAGE");
    process.exit(2);
  }
  await bundle(root).catch(() => process.exit(1)); // esbuild has said why
}
