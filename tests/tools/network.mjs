// Writes the page for whoever looks after a school's network: what is loaded, from where, what is stored, what leaves the
// device. All figures in it are of the very files that are released; its words are `network.*` of each language's file.

import { nameIn } from "./words.mjs";

/**
 * @typedef {{ name: string, bytes: number, gzip: number, brotli: number, integrity: string }} Released
 *
 * @typedef {object} Facts
 * @property {Released[]} loaded what a browser asks for, in the order of the page
 * @property {Released[]} onWish what it gets only where somebody asks for it
 * @property {string} icon the page's own, as HTML: without one a browser asks the host for a file that isn't there
 * @property {string} looks the stylesheet's name
 * @property {string} script all scripts, joined
 * @property {string} policy the page's own Content-Security-Policy
 * @property {Record<string, string>} headers that a host had better send
 * @property {string[]} packages what is inside, each with its version
 */

/** Where a browser lets a page keep things, what we say of each, and how its use shows in a script. */
const STORES = [
  { sign: /\bdocument\.cookie\b/, says: "" },
  { sign: /\blocalStorage\b/, says: "network.stored.local" },
  { sign: /\bindexedDB\b/, says: "network.stored.database" },
  { sign: /\bsessionStorage\b/, says: "network.stored.session" },
];
/** How a script would reach the network other than for the page's own parts. */
const WAYS_OUT = /\b(XMLHttpRequest|WebSocket|EventSource|sendBeacon|RTCPeerConnection|WebTransport)\b/;
/** The mark of its content in the name of a file. */
const MARK = /\.([0-9a-f]{10}|[0-9A-Z]{8})\.\w+$/;
/** The name of this page in English. */
const NAME = "network.html";

/** @param {string} text @returns {string} as HTML */
const plain = (text) => text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);

/** Says sentences of one language as HTML, and writes its numbers. */
class Speaker {
  /** @param {import("./words.mjs").Told} language */
  constructor({ tag, sentences }) {
    this.sentences = sentences;
    this.numbers = new Intl.NumberFormat(tag, { useGrouping: "always" });
  }

  /**
   * @param {string} key
   * @param {Record<string, string>} [parts] HTML for the sentence's holes
   * @returns {string} HTML
   */
  t(key, parts = {}) {
    const sentence = this.sentences[key];
    if (sentence === undefined) throw new Error(`there are no words for ${key}`);
    return plain(sentence).replace(/\{(\w+)\}/g, (_, hole) => parts[hole]);
  }

  /** @param {number} bytes @returns {string} thousands set apart by a space, as every language reads it */
  size(bytes) {
    const parts = this.numbers.formatToParts(bytes);
    return parts.map(({ type, value }) => (type === "group" ? "\u00a0" : value)).join("");
  }

  /** @param {string} caption its key @param {Released[]} files @returns {string} */
  table(caption, files) {
    const ways = /** @type {const} */ (["bytes", "gzip", "brotli"]);
    const cells = (/** @type {Record<typeof ways[number], number>} */ file) =>
      ways.map((way) => `<td>${this.size(file[way])}</td>`).join("");
    const rows = files.map(
      (file) =>
        `<tr><th scope="row">${plain(file.name)}</th>${cells(file)}<td class="digest">${plain(file.integrity)}</td></tr>`,
    );
    const sum = (/** @type {typeof ways[number]} */ way) => files.reduce((all, file) => all + file[way], 0);
    const together = { bytes: sum("bytes"), gzip: sum("gzip"), brotli: sum("brotli") };
    const heads = ["network.file", "network.bytes", "network.gzip", "network.brotli", "network.digest"];
    return `<div class="wide" tabindex="0" role="group" aria-label="${this.t(caption)}"><table class="numbers">
<caption>${this.t(caption)}</caption>
<thead><tr>${heads.map((key) => `<th scope="col">${this.t(key)}</th>`).join("")}</tr></thead>
<tbody>
${rows.join("\n")}
<tr class="together"><th scope="row">${this.t("network.together")}</th>${cells(together)}<td></td></tr>
</tbody>
</table></div>`;
  }
}

/**
 * The page for the network's keeper.
 * @param {Facts} facts
 * @param {import("./words.mjs").Told} language
 * @param {import("./words.mjs").Told[]} all the languages that there are
 * @returns {string} HTML
 * @throws where the scripts do what this page would not tell
 */
export function networkPage({ loaded, onWish, icon, looks, script, policy, headers, packages }, language, all) {
  const out = WAYS_OUT.exec(script);
  if (out) throw new Error(`the scripts use ${out[0]}: say so in tests/tools/network.mjs before this is released`);
  const stores = STORES.filter(({ sign }) => sign.test(script));
  const untold = stores.find(({ says }) => !says);
  if (untold)
    throw new Error(`the scripts use ${untold.sign}: say so in tests/tools/network.mjs before this is released`);
  const speaker = new Speaker(language);
  const t = speaker.t.bind(speaker);
  const list = (/** @type {string[]} */ keys) => `<ul>\n${keys.map((key) => `<li>${t(key)}</li>`).join("\n")}\n</ul>`;
  const kept = stores.length > 0 ? stores.map(({ says }) => says) : ["network.stored.nothing"];
  const others = all.filter(({ tag }) => tag !== language.tag);
  const link = (/** @type {import("./words.mjs").Told} */ { tag, sentences }) =>
    `<a href="${nameIn(NAME, tag)}" lang="${tag}" hreflang="${tag}">${plain(sentences["language.name"])}</a>`;
  const back = language.tag === "en" ? "./" : `./?lang=${language.tag}`;
  const pages = all.map(({ tag }) => nameIn(NAME, tag));
  const unmarked = [...loaded, ...onWish].map(({ name }) => name).filter((name) => !MARK.test(name));
  return `<!doctype html>
<html lang="${language.tag}" dir="${language.sentences["language.direction"]}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'; img-src data:; base-uri 'none'; form-action 'none'">
<meta name="referrer" content="no-referrer">
<meta name="color-scheme" content="light">
<title>${t("network.title")}</title>
${icon}
<link rel="stylesheet" href="${looks}">
</head>
<body>
<main class="reading">
<h1>${t("network.heading")}</h1>
${others.length > 0 ? `<nav aria-label="${t("network.languages")}"><p>${others.map(link).join(" \u00b7 ")}</p></nav>` : ""}
<p>${t("network.lead")}</p>

<h2>${t("network.loaded")}</h2>
${speaker.table("network.loadedCaption", loaded)}
<p>${t("network.loadedNote")}</p>
${speaker.table("network.onWishCaption", onWish)}

<h2>${t("network.from")}</h2>
<p>${t("network.fromNote")}</p>
<pre class="wide" tabindex="0">${plain(policy.split("; ").join(";\n"))}</pre>

<h2>${t("network.stored")}</h2>
${list(["network.stored.files", ...kept, "network.stored.saved"])}

<h2>${t("network.leaves")}</h2>
<p>${t("network.leavesNote")}</p>

<h2>${t("network.allowed")}</h2>
${list(["network.allowed.wasm", "network.allowed.type", "network.allowed.https", "network.allowed.downloads"])}
<p>${t("network.oneFile", { file: '<a href="turnback.html" download>turnback.html</a>' })}</p>

<h2>${t("network.host")}</h2>
<p>${t("network.hostNote", {
    mark: "<code>.1a2b3c4d5e.</code>",
    files: [...unmarked, "sw.js", "pkg/served.js", ...pages].join(", "),
  })}</p>
<pre class="wide" tabindex="0">${plain(
    Object.entries(headers)
      .map(([name, value]) => `${name}: ${value}`)
      .join("\n"),
  )}</pre>

<h2>${t("network.inside")}</h2>
<p>${t("network.notices", { packages: plain(packages.join(", ")), file: '<a href="licences.txt">licences.txt</a>' })}</p>
<p><a href="${back}">${t("network.back")}</a></p>
</main>
</body>
</html>
`;
}
