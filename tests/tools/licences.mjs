// The licence notices of everything that a browser gets: of the crates in the compiled core, of Rust's standard library
// in it, and of the npm packages in the script. They are read from the packages themselves; a package that brings none
// stops the release.

import { execFile } from "node:child_process";
import { existsSync } from "node:fs";
import { readdir, readFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { promisify } from "node:util";

const run = promisify(execFile);
const TARGET = "wasm32-unknown-unknown";
/** As long as a notice may be that stands at the head of a source file, characters. */
const LONGEST_HEAD = 4_000;

/** @typedef {{ name: string, version: string, licence: string, texts: string[] }} Notice */

/**
 * The notices of a package's folder. Where there is a choice with MIT in it, MIT is chosen: its notice is the shortest.
 * @param {string} folder
 * @param {string} licence as the package names it (SPDX)
 * @param {string} [source] a source file that may carry the notice at its head
 * @returns {Promise<string[]>}
 */
async function texts(folder, licence, source) {
  const found = (await readdir(folder)).filter((name) => /^(licen[cs]e|copying|notice|unlicense)/i.test(name)).sort();
  const chosen = /\bMIT\b/.test(licence) ? found.filter((name) => !/apache/i.test(name)) : found;
  const read = await Promise.all(
    (chosen.length > 0 ? chosen : found).map((name) => readFile(join(folder, name), "utf8")),
  );
  if (read.length > 0) return read;
  const head = source === undefined ? "" : (await readFile(source, "utf8")).slice(0, LONGEST_HEAD);
  const comment = /^\s*\/\*([\s\S]*?)\*\//.exec(head)?.[1].replace(/^ ?\* ?/gm, "");
  if (comment && /permission is hereby granted/i.test(comment)) return [comment];
  throw new Error(`${folder} brings no licence notice: find it, and teach tests/tools/licences.mjs to read it`);
}

/** @returns {Promise<Notice[]>} of the crates that are compiled into the core; not of what only helps to compile */
async function crates() {
  const asked = ["metadata", "--format-version", "1", "--locked", "--filter-platform", TARGET];
  const { stdout } = await run("cargo", asked, { maxBuffer: 64 * 1024 * 1024 });
  const { packages, resolve } = JSON.parse(stdout);
  const byId = new Map(packages.map((/** @type {any} */ one) => [one.id, one]));
  const nodes = new Map(resolve.nodes.map((/** @type {any} */ one) => [one.id, one]));
  const ours = packages.find((/** @type {any} */ one) => one.name === "turnback").id;
  /** @type {Set<string>} */
  const compiledIn = new Set();
  const ahead = [ours];
  for (let id = ahead.pop(); id !== undefined; id = ahead.pop()) {
    // A macro runs in the compiler; what it needs doesn't come into the core.
    const isMacro = byId.get(id).targets.some((/** @type {any} */ { kind }) => kind.includes("proc-macro"));
    if (isMacro || compiledIn.has(id)) continue;
    compiledIn.add(id);
    for (const { pkg, dep_kinds } of nodes.get(id).deps)
      if (dep_kinds.some((/** @type {any} */ { kind }) => kind === null)) ahead.push(pkg);
  }
  return Promise.all(
    [...compiledIn].map(async (id) => {
      const { name, version, license, manifest_path, targets } = byId.get(id);
      const source = targets.find((/** @type {any} */ { kind }) => kind.includes("lib"))?.src_path;
      return { name, version, licence: license, texts: await texts(dirname(manifest_path), license, source) };
    }),
  );
}

/** @returns {Promise<Notice>} of Rust's standard library, from the toolchain that compiled it in */
async function standardLibrary() {
  const { stdout: sysroot } = await run("rustc", ["--print", "sysroot"]);
  const { stdout: version } = await run("rustc", ["--version"]);
  const path = join(sysroot.trim(), "share/doc/rust/licenses/MIT.txt");
  if (!existsSync(path)) throw new Error(`the notice of Rust's standard library is missing: ${path}`);
  // The toolchain keeps the text and names the holders in its COPYRIGHT; dlmalloc is the memory allocator for this target.
  const holders = "the Rust Project Developers (https://thanks.rust-lang.org); dlmalloc: Alex Crichton";
  const text = (await readFile(path, "utf8")).replace("<year> <copyright holders>", () => holders);
  if (!text.includes(holders)) throw new Error(`${path} is not the text that it was: read it, and mend this`);
  return { name: "Rust's standard library", version: version.trim(), licence: "MIT OR Apache-2.0", texts: [text] };
}

/**
 * @param {string} root the directory of the page
 * @param {string[]} inputs what the script was joined from, as paths from there
 * @returns {Promise<Notice[]>} of the npm packages among them
 */
async function npmPackages(root, inputs) {
  const folders = new Set(
    inputs
      .flatMap((path) => /^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)?.[0] ?? [])
      .map((path) => join(root, path)),
  );
  return Promise.all(
    [...folders].map(async (folder) => {
      const { name, version, license } = JSON.parse(await readFile(join(folder, "package.json"), "utf8"));
      return { name, version, licence: license, texts: await texts(folder, license) };
    }),
  );
}

/**
 * All notices, as one text.
 * @param {string} root the directory of the page
 * @param {string[]} inputs what the script was joined from
 * @returns {Promise<{ text: string, packages: string[] }>} and the packages that it is of, each with its version
 * @throws where a package brings no notice
 */
export async function notices(root, inputs) {
  const all = [...(await crates()), await standardLibrary(), ...(await npmPackages(root, inputs))];
  all.sort(
    (one, other) =>
      Number(other.name === "turnback") - Number(one.name === "turnback") || (one.name < other.name ? -1 : 1),
  );
  /** @type {Map<string, string[]>} a text to what it stands for: many packages share one, word for word */
  const byText = new Map();
  for (const { name, version, licence, texts } of all)
    for (const text of texts) {
      const tidy = text.replace(/\r/g, "").trim();
      byText.set(tidy, [...(byText.get(tidy) ?? []), `${name} ${version} (${licence})`]);
    }
  const lead = "Turnback and what is inside it, with the notices that their authors ask to be kept.";
  const text = [lead, ...[...byText].map(([notice, names]) => `${names.join("\n")}\n\n${notice}`)].join(
    `\n\n${"-".repeat(72)}\n\n`,
  );
  return { text: `${text}\n`, packages: all.map(({ name, version }) => `${name} ${version}`) };
}
