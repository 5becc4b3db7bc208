// Writes the page for whoever looks after a school's network: what is loaded, from where, what is stored, what leaves the
// device. All figures in it are of the very files that are released.

/**
 * @typedef {{ name: string, bytes: number, gzip: number, brotli: number, integrity: string }} Released
 *
 * @typedef {object} Facts
 * @property {Released[]} loaded what a browser asks for, in the order of the page
 * @property {Released[]} onWish what it gets only where somebody asks for it
 * @property {string} looks the stylesheet's name
 * @property {string} script all scripts, joined
 * @property {string} policy the page's own Content-Security-Policy
 * @property {Record<string, string>} headers that a host had better send
 * @property {string[]} packages what is inside, each with its version
 */

/** Where a browser lets a page keep things, what we say of each, and how its use shows in a script. */
const STORES = [
  { sign: /\bdocument\.cookie\b/, says: "" },
  { sign: /\bindexedDB\b/, says: "" },
  {
    sign: /\blocalStorage\b/,
    says: "In the browser's local storage: what was typed or chosen on this device, so that a reload doesn't lose it. It stays on the device; clearing the site's data removes it.",
  },
  {
    sign: /\bsessionStorage\b/,
    says: "In the tab's session storage: what was typed or chosen in this tab, so that a reload doesn't lose it. It goes when the tab is closed.",
  },
];
/** How a script would reach the network other than for the page's own parts. */
const WAYS_OUT = /\b(XMLHttpRequest|WebSocket|EventSource|sendBeacon|RTCPeerConnection|WebTransport)\b/;

/** @param {string} text @returns {string} as HTML */
const plain = (text) => text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);
/** @param {number} bytes @returns {string} */
const size = (bytes) => bytes.toLocaleString("en-GB").replaceAll(",", "\u00a0");

/** @param {string} caption @param {Released[]} files @returns {string} */
function table(caption, files) {
  const sum = (/** @type {"bytes" | "gzip" | "brotli"} */ way) => size(files.reduce((all, file) => all + file[way], 0));
  const rows = files.map(
    ({ name, bytes, gzip, brotli, integrity }) =>
      `<tr><th scope="row">${plain(name)}</th><td>${size(bytes)}</td><td>${size(gzip)}</td><td>${size(brotli)}</td><td class="digest">${plain(integrity)}</td></tr>`,
  );
  return `<div class="wide" tabindex="0" role="group" aria-label="${plain(caption)}"><table class="numbers">
<caption>${plain(caption)}</caption>
<thead><tr><th scope="col">File</th><th scope="col">Bytes</th><th scope="col">With gzip</th><th scope="col">With brotli</th><th scope="col">Digest</th></tr></thead>
<tbody>
${rows.join("\n")}
<tr><th scope="row">Together</th><td>${sum("bytes")}</td><td>${sum("gzip")}</td><td>${sum("brotli")}</td><td></td></tr>
</tbody>
</table></div>`;
}

/**
 * The page for the network's keeper.
 * @param {Facts} facts
 * @returns {string} HTML
 * @throws where the scripts do what this page would not tell
 */
export function networkPage({ loaded, onWish, looks, script, policy, headers, packages }) {
  const out = WAYS_OUT.exec(script);
  if (out) throw new Error(`the scripts use ${out[0]}: say so in tests/tools/network.mjs before this is released`);
  const stores = STORES.filter(({ sign }) => sign.test(script));
  const untold = stores.find(({ says }) => !says);
  if (untold)
    throw new Error(`the scripts use ${untold.sign}: say so in tests/tools/network.mjs before this is released`);
  const kept = stores.map(({ says }) => `<li>${plain(says)}</li>`);
  if (kept.length === 0)
    kept.push("<li>Nothing else: no cookie, no local storage, no database. Guesses live in the open tab.</li>");
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'none'">
<meta name="referrer" content="no-referrer">
<meta name="color-scheme" content="light">
<title>Turnback, for whoever looks after the school's network</title>
<link rel="stylesheet" href="${looks}">
</head>
<body>
<main class="reading">
<h1>For whoever looks after the school's network</h1>
<p>Turnback is a page of static files. It computes three beakers on the student's own device. It has no server of its own, no account and no database. This page was written by the release itself: its lists and figures are of the files beside it.</p>

<h2>What is loaded</h2>
${table("What a browser asks for when the page is opened", loaded)}
<p>A lesson waits for the bench's files; those named desk follow as soon as it stands, and end the loading. Of the words (locales/) the page asks for one language; the worker keeps all. Each other file is asked for once by the page, and once more, mostly from the browser's own store, by the worker that keeps the page for days without a network. Beside these come the worker and its list (sw.js, pkg/served.js), each below 2\u00a0kB, and an icon where the page is installed. A compressed twin lies beside each file (.gz and .br).</p>
${table("What comes only where somebody asks for it", onWish)}

<h2>From where</h2>
<p>From the folder that this page is in, and from nowhere else. No other host has to be allowed: there are no fonts, counters, advertisements or scripts of others. The page holds itself to this by a policy that the browser enforces:</p>
<pre class="wide" tabindex="0">${plain(policy.split("; ").join(";\n"))}</pre>

<h2>What is stored on the device</h2>
<ul>
<li>The files of the first list, in the browser's cache storage under a name that begins with \u201cturnback\u201d, so that the page opens without a network. Clearing the site's data removes them.</li>
${kept.join("\n")}
<li>Files that somebody saves by a button, where the browser puts downloads.</li>
</ul>

<h2>What leaves the device</h2>
<p>Nothing that is typed, chosen or computed. After loading the page asks for nothing more, but for the browser's own question whether sw.js has changed. A lesson travels in the part of the link behind #, which browsers send to no server. Whoever hosts these files may keep the usual list of visits (address, time, file), as for any page.</p>

<h2>What has to be allowed</h2>
<ul>
<li>JavaScript and WebAssembly for this address. Without them the page says what it is and what is missing, and no more. A policy of yours needs 'wasm-unsafe-eval' in script-src; it needs neither 'unsafe-eval' nor 'unsafe-inline'.</li>
<li>The type application/wasm for .wasm files. Without it the page still works, a little later.</li>
<li>HTTPS, for the days without a network: browsers keep pages of safe addresses only.</li>
<li>Downloads and the clipboard are used by buttons. Where they are blocked, the same text can be copied by hand.</li>
</ul>
<p>Where nothing may be hosted: <a href="turnback.html" download>turnback.html</a> is the whole page in one file. It runs from a folder or a memory stick, and its policy lets it load nothing at all.</p>

<h2>For the host</h2>
<p>Any static server will do. Files with a mark in their name (such as <code>.1a2b3c4d5e.</code>) never change and may be kept for a year. The others must be asked for anew: index.html, sw.js, pkg/served.js, network.html, turnback.html. These headers are recommended:</p>
<pre class="wide" tabindex="0">${plain(
    Object.entries(headers)
      .map(([name, value]) => `${name}: ${value}`)
      .join("\n"),
  )}</pre>

<h2>What is inside</h2>
<p>${plain(packages.join(", "))}. Their notices: <a href="licences.txt">licences.txt</a>.</p>
<p><a href="./">Back to the page</a></p>
</main>
</body>
</html>
`;
}
