// Makes the folder to put on any static host: names with the mark of their content, compressed twins, the one-file page,
// the notices of all that is inside, and a page for whoever looks after a school's network.
//
//   node tests/tools/release.mjs DIRECTORY_OF_THE_PAGE FOLDER

import { createHash } from "node:crypto";
import { mkdir, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { dirname, extname, join, relative } from "node:path";
import { pathToFileURL } from "node:url";
import { brotliCompressSync, gzipSync } from "node:zlib";
import { transform } from "esbuild";
import { joined } from "./bundle.mjs";
import { notices } from "./licences.mjs";
import { networkPage } from "./network.mjs";
import { oneFile, swap } from "./onefile.mjs";
import { HEADERS } from "./serve.mjs";
import { integrity, parts, servedScript } from "./served.mjs";
import { languages, manifestIn, nameIn, ofThePage } from "./words.mjs";

/** Compressed already. */
const NO_TWIN = new Set([".png"]);
/** What lies beside the page under its own name. */
const AS_IT_IS = ["icon.svg", "icon-192.png", "icon-512.png"];
/** What each language has of its own beside its words; in English under these names. */
const KEEPERS_PAGE = "network.html";
const MANIFEST = "turnback.webmanifest";
/** Where the page asks for a device's keeper before any script runs, in each language that it then speaks. */
const BEFORE_SCRIPTS = {
  en: ["ask the person who looks after your device", "for whom this is written"],
  es: ["pide ayuda a quien se ocupa de tu dispositivo", "para quien se escribi\u00f3 esto"],
};
/** The worker and its list weigh less than this each, as the page for the network's keeper says; bytes. */
const WORKER_LIMIT = 2_000;

/** @param {string} name @param {Uint8Array} content @returns {string} "pkg/page.js" to "pkg/page.1a2b3c4d5e.js" */
function marked(name, content) {
  const mark = createHash("sha256").update(content).digest("hex").slice(0, 10);
  const extension = extname(name);
  return `${name.slice(0, -extension.length)}.${mark}${extension}`;
}

/**
 * Make a release.
 * @param {string} root the directory of the page, built
 * @param {string} folder to be made; what was in it goes
 * @returns {Promise<{ files: string[], loaded: { bytes: number, gzip: number, brotli: number } }>} what lies in it, and
 *   the weight of what a browser asks for when the page is opened
 * @throws where something is missing, or would be released that the page for the network's keeper doesn't tell
 */
export async function release(root, folder) {
  await rm(folder, { recursive: true, force: true });
  /** @type {Map<string, Uint8Array>} */
  const files = new Map();
  const put = (/** @type {string} */ name, /** @type {Uint8Array | string} */ content) => {
    files.set(name, Buffer.from(content));
    return name;
  };
  const read = (/** @type {string} */ name) => readFile(join(root, name));

  /** @type {Record<string, string>} */
  const names = { "turnback.html": "turnback.html", "licences.txt": "licences.txt" };
  const all = await languages(root);
  const manifest = (await read(MANIFEST)).toString();
  for (const language of all) {
    const { tag } = language;
    names[`${tag}/${KEEPERS_PAGE}`] = nameIn(KEEPERS_PAGE, tag);
    names[`${tag}/${MANIFEST}`] = put(nameIn(MANIFEST, tag), manifestIn(manifest, language));
  }
  for (const name of (await parts(root)).filter((name) => !/\.(js|css)$/.test(name))) {
    const content = name.startsWith("locales/") ? Buffer.from(ofThePage(String(await read(name)))) : await read(name);
    names[name] = put(marked(name, content), content);
  }
  const { files: made, inputs } = await joined(root, { maps: false, names });
  for (const { name, contents } of made) {
    // The two scripts that ask for one another have their marks already.
    const plain = name.replace(/\.[0-9A-Z]{8}\./, ".");
    names[`pkg/${plain}`] = put(plain === name ? marked(`pkg/${name}`, contents) : `pkg/${name}`, contents);
  }
  for (const name of AS_IT_IS) put(name, await read(name));
  put("sw.js", (await transform(String(await read("sw.js")), { minify: true, target: "es2022" })).code);

  let page = (await read("index.html")).toString();
  for (const [name, released] of Object.entries(names))
    if (page.includes(`"${name}"`)) page = swap(page, `"${name}"`, `"${released}"`);
  for (const [tag, [asks, written]] of Object.entries(BEFORE_SCRIPTS))
    page = swap(page, asks, `${asks}, <a href="${nameIn(KEEPERS_PAGE, tag)}">${written}</a>`);
  put("index.html", page);

  put("turnback.html", await oneFile(root));
  const { text, packages } = await notices(root, inputs);
  put("licences.txt", text);

  const weigh = (/** @type {string} */ name) => {
    const content = /** @type {Uint8Array} */ (files.get(name));
    const [gzip, brotli] = [gzipSync(content, { level: 9 }).length, brotliCompressSync(content).length];
    return { name, bytes: content.length, gzip, brotli, integrity: integrity(content) };
  };
  const asked = (await parts(root)).map((name) => names[name]);
  const manifests = all.map(({ tag }) => nameIn(MANIFEST, tag));
  const loaded = ["index.html", ...asked, ...manifests].map(weigh);
  const script = [...files].flatMap(([name, content]) => (name.endsWith(".js") ? String(content) : [])).join("\n");
  const policy = /http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(page)?.[1] ?? "";
  const onWish = ["turnback.html", "licences.txt"].map(weigh);
  const looks = names["pkg/page.css"];
  const icon = /<link rel="icon" [^>]*">/.exec(page)?.[0];
  if (!icon) throw new Error("the page has no icon of its own");
  const facts = { loaded, onWish, icon, looks, script, policy, headers: HEADERS, packages };
  const keepers = all.map((language) => put(nameIn(KEEPERS_PAGE, language.tag), networkPage(facts, language, all)));

  for (const [name, content] of files) await place(join(folder, name), content);
  // From what lies there, so that the list can't name what doesn't.
  const served = Buffer.from(await servedScript(folder, [...asked, ...keepers, ...manifests.slice(1)]));
  files.set("pkg/served.js", served);
  await place(join(folder, "pkg/served.js"), served);
  for (const name of ["sw.js", "pkg/served.js"])
    if ((files.get(name)?.length ?? 0) > WORKER_LIMIT) throw new Error(`${name} has more than ${WORKER_LIMIT} bytes`);

  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const paths = entries.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
  const sum = (/** @type {"bytes" | "gzip" | "brotli"} */ way) => loaded.reduce((all, file) => all + file[way], 0);
  return {
    files: paths.map((path) => relative(folder, path)).sort(),
    loaded: { bytes: sum("bytes"), gzip: sum("gzip"), brotli: sum("brotli") },
  };
}

/** @param {string} path @param {Uint8Array} content written, with its compressed twins */
async function place(path, content) {
  await mkdir(dirname(path), { recursive: true });
  await writeFile(path, content);
  if (NO_TWIN.has(extname(path))) return;
  await writeFile(`${path}.gz`, gzipSync(content, { level: 9 }));
  await writeFile(`${path}.br`, brotliCompressSync(content));
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const [root, folder] = process.argv.slice(2);
  if (!root || !folder) {
    console.error("usage: node release.mjs DIRECTORY_OF_THE_PAGE FOLDER");
    process.exit(2);
  }
  const { files, loaded } = await release(root, folder);
  console.log(`${folder}: ${files.length} files; to open the page a browser asks for ${loaded.bytes} bytes`);
  console.log(`(${loaded.gzip} with gzip, ${loaded.brotli} with brotli)`);
}
