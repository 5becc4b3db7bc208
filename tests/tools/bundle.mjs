// Joins the page's modules into one script and its stylesheets into one, under
// www/pkg: a school's line is slow to answer and a browser asks for six files
// at a time, so that thirty files cost six round trips and two cost one. Beside
// them it writes the list of what the page keeps for days without a network.
//
//   node tests/tools/bundle.mjs DIRECTORY_OF_THE_PAGE

import { basename, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";
import { parts, servedScript, writeWhole } from "./served.mjs";

/**
 * @typedef {object} Joined
 * @property {{ name: string, contents: Uint8Array }[]} files page.js, page.css, and a map for each where wanted
 * @property {string[]} inputs the files that they were made of, as paths from the directory of the page
 */

/**
 * Join what `main.js` and `main.css` of a directory import.
 * @param {string} root the directory; its pkg/ holds the glue already
 * @param {{ maps: boolean, names?: Record<string, string> }} options whether developer tools get maps, and the names
 *   that files have in a release
 * @returns {Promise<Joined>}
 * @throws where a module or stylesheet is missing or cannot be read; esbuild has said why
 */
export async function joined(root, { maps, names }) {
  const { outputFiles, metafile } = await build({
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
    sourcemap: maps ? "linked" : false,
    logLevel: "error",
    write: false,
    metafile: true,
    plugins: names
      ? [
          {
            name: "names of a release",
            setup: (build) =>
              build.onLoad({ filter: /names\.js$/ }, ({ path }) =>
                path === resolve(root, "names.js")
                  ? { contents: `export const NAMES = ${JSON.stringify(names)};` }
                  : undefined,
              ),
          },
        ]
      : [],
  });
  const files = outputFiles.map(({ path, contents }) => ({ name: basename(path), contents }));
  return { files, inputs: Object.keys(metafile.inputs) };
}

/**
 * Complete a directory, so that it can be served: `pkg/page.js`, `pkg/page.css`, `pkg/served.js`.
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
