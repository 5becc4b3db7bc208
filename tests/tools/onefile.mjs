// Writes the page as one file, which runs from a folder without any server: script, looks, words and compiled core are
// in it, under a policy that lets it load nothing at all.
//
//   node tests/tools/onefile.mjs DIRECTORY_OF_THE_PAGE FILE

import { mkdir, readFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";
import { joined } from "./bundle.mjs";
import { notices } from "./licences.mjs";
import { integrity, parts, writeWhole } from "./served.mjs";
import { ofThePage } from "./words.mjs";

const TYPES = /** @type {Record<string, string>} */ ({ json: "application/json", wasm: "application/wasm" });

/**
 * Replace what stands in a text once.
 * @param {string} text
 * @param {string | RegExp} old
 * @param {string} fresh
 * @returns {string}
 * @throws where it stands there never or twice: the page has changed, and this has to follow
 */
export function swap(text, old, fresh) {
  const pieces = text.split(old);
  if (pieces.length !== 2) throw new Error(`the page has ${old} ${pieces.length - 1} times, not once`);
  return pieces.join(fresh);
}

/**
 * The page as one file.
 * @param {string} root the directory of the page, built
 * @returns {Promise<string>}
 * @throws where a part is missing
 */
export async function oneFile(root) {
  const { files, inputs } = await joined(root, { maps: false, whole: true });
  const made = (/** @type {string} */ name) => {
    const file = files.find((one) => one.name === name);
    if (!file) throw new Error(`there is no ${name}`);
    return Buffer.from(file.contents).toString();
  };
  const script = made("page.js");
  const looks = made("page.css");
  if (/<\/script|<!--/i.test(script) || /<\/style/i.test(looks)) throw new Error("the script would end before its end");
  const carried = (await parts(root)).filter((name) => !/\.(js|css)$/.test(name));
  const blocks = await Promise.all(
    carried.map(async (name) => {
      const whole = await readFile(join(root, name));
      const content = gzipSync(name.startsWith("locales/") ? ofThePage(String(whole)) : whole, { level: 9 }).toString(
        "base64",
      );
      return `<script type="text/plain" id="${name}" data-type="${TYPES[name.split(".").pop() ?? ""]}">${content}</script>`;
    }),
  );
  const policy = [
    "default-src 'none'",
    `script-src '${integrity(script)}' 'wasm-unsafe-eval'`,
    `style-src '${integrity(looks)}'`,
    "img-src data: blob:",
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  const { text } = await notices(root, inputs);
  let page = await readFile(join(root, "index.html"), "utf8");
  page = swap(page, /(?<=http-equiv="Content-Security-Policy" content=")[^"]*/, policy);
  page = swap(page, /<link rel="manifest"[^>]*>\s*/, "");
  page = page.replace(/<link rel="preload"[^>]*>\s*/g, "");
  page = swap(page, /<link rel="stylesheet"[^>]*>/, `<style>${looks}</style>`);
  // It asks for the words ahead; here they are in the file.
  page = swap(page, /\s*<!--[^>]*-->\s*<script[^>]*src="pkg\/start\.js"><\/script>/, "");
  page = swap(page, /\s*<script[^>]*src="pkg\/page\.js"><\/script>/, "");
  page = swap(page, "</body>", `${blocks.join("\n")}\n<script type="module">${script}</script>\n</body>`);
  return `${page}<!--\n${text.replaceAll("--", "\u2010\u2010")}-->\n`;
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const [root, file] = process.argv.slice(2);
  if (!root || !file) {
    console.error("usage: node onefile.mjs DIRECTORY_OF_THE_PAGE FILE");
    process.exit(2);
  }
  const page = await oneFile(root);
  await mkdir(dirname(file), { recursive: true });
  await writeWhole(file, page);
  console.log(`${file}: ${Buffer.byteLength(page)} bytes`);
}
