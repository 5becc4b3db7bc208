// A static server on loopback: what `./build.sh serve` starts and what the
// browser tests load from, so that the tests meet the same headers as a reader.
//
//   node tests/tools/serve.mjs DIRECTORY [PORT]

import { createHash } from "node:crypto";
import { readFile, realpath, stat } from "node:fs/promises";
import { createServer } from "node:http";
import { extname, join, resolve, sep } from "node:path";
import { pathToFileURL } from "node:url";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";

/** Nothing but what the page itself brings: no other origin, no inline script, no eval beyond WebAssembly. */
export const CONTENT_SECURITY_POLICY = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "connect-src 'self'",
  "manifest-src 'self'",
  "worker-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join("; ");

/** What a host had better send with every file. */
export const HEADERS = {
  "Content-Security-Policy": CONTENT_SECURITY_POLICY,
  "X-Content-Type-Options": "nosniff",
  "Referrer-Policy": "no-referrer",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
  // A rebuilt page must be seen at once; unchanged files still answer 304.
  "Cache-Control": "no-cache",
};

/** @type {Record<string, string>} */
const TYPES = {
  ".css": "text/css; charset=utf-8",
  ".csv": "text/csv; charset=utf-8",
  ".html": "text/html; charset=utf-8",
  ".ico": "image/x-icon",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".md": "text/markdown; charset=utf-8",
  ".mjs": "text/javascript; charset=utf-8",
  ".pdf": "application/pdf",
  ".png": "image/png",
  ".svg": "image/svg+xml; charset=utf-8",
  ".txt": "text/plain; charset=utf-8",
  // Browsers compile while loading only under this type.
  ".wasm": "application/wasm",
  ".webmanifest": "application/manifest+json; charset=utf-8",
};

/** Pictures and PDF are compressed already. */
const COMPRESSED_ALREADY = new Set([".ico", ".pdf", ".png"]);

/**
 * The file that a request path names.
 * @param {string} root
 * @param {string} path
 * @returns {Promise<string | null>} null where there is none inside `root`, or where it is hidden
 */
async function locate(root, path) {
  let name;
  try {
    name = decodeURIComponent(path);
  } catch {
    return null;
  }
  if (name.includes("\0") || name.split("/").some((part) => part.startsWith("."))) return null;
  try {
    let file = await realpath(join(root, name));
    if ((await stat(file)).isDirectory()) file = await realpath(join(file, "index.html"));
    return file.startsWith(root + sep) ? file : null;
  } catch {
    return null;
  }
}

/**
 * The compressed twin that lies beside a file in a release.
 * @param {string} file
 * @param {string} encoding
 * @param {number} changed when the file was, ms
 * @returns {Promise<Buffer | null>} null where there is none, or where it is older than the file
 */
async function twin(file, encoding, changed) {
  if (!encoding) return null;
  const path = `${file}${encoding === "br" ? ".br" : ".gz"}`;
  try {
    return (await stat(path)).mtimeMs >= changed ? await readFile(path) : null;
  } catch {
    return null;
  }
}

/** @param {Buffer} plain @param {string} encoding @param {number} effort see `serve` @returns {Buffer} */
function compressed(plain, encoding, effort) {
  if (encoding === "br") return brotliCompressSync(plain, { params: { [constants.BROTLI_PARAM_QUALITY]: effort } });
  return encoding === "gzip" ? gzipSync(plain, { level: 9 }) : plain;
}

/**
 * @typedef {{ body: Buffer, tag: string, encoding: string }} Answer
 * @param {string} file
 * @param {string} accepted the request's Accept-Encoding
 * @param {Map<string, Answer & { changed: number }>} kept what was compressed before
 * @param {number} effort see `serve`
 * @returns {Promise<Answer>}
 */
async function answer(file, accepted, kept, effort) {
  let encoding = "";
  if (!COMPRESSED_ALREADY.has(extname(file))) {
    if (/\bbr\b/.test(accepted)) encoding = "br";
    else if (/\bgzip\b/.test(accepted)) encoding = "gzip";
  }
  const changed = (await stat(file)).mtimeMs;
  const key = `${encoding} ${file}`;
  const known = kept.get(key);
  if (known?.changed === changed) return known;
  const plain = await readFile(file);
  const body = (await twin(file, encoding, changed)) ?? compressed(plain, encoding, effort);
  const tag = `"${createHash("sha256").update(plain).digest("hex").slice(0, 16)}${encoding && `-${encoding}`}"`;
  const fresh = { body, tag, encoding, changed };
  kept.set(key, fresh);
  return fresh;
}

/**
 * Serve a directory on 127.0.0.1, which only this machine can reach.
 * @param {{ root: string, port?: number, effort?: number }} options port 0 takes a free one; brotli works as hard as it
 *   can (11, as a host's twins are made) unless a lower effort is told: the core takes it 2 s at 11 and 0.02 s at 4. Where
 *   twins lie beside the files, as in a release, these are sent
 * @returns {Promise<{ origin: string, close: () => Promise<void> }>}
 * @throws where the directory cannot be read or the port is taken
 */
export async function serve({ root, port = 0, effort = constants.BROTLI_MAX_QUALITY }) {
  const base = await realpath(resolve(root));
  const kept = new Map();
  const server = createServer(async (request, response) => {
    const refuse = (/** @type {number} */ status, /** @type {string} */ words) => {
      response.writeHead(status, { ...HEADERS, "Content-Type": TYPES[".txt"] }).end(`${words}\n`);
    };
    if (request.method !== "GET" && request.method !== "HEAD") {
      response.setHeader("Allow", "GET, HEAD");
      return refuse(405, "This server only hands out files.");
    }
    const [path] = (request.url ?? "/").split("?");
    const file = await locate(base, path);
    if (file === null) return refuse(404, "There is no such file here.");
    try {
      const { body, tag, encoding } = await answer(
        file,
        String(request.headers["accept-encoding"] ?? ""),
        kept,
        effort,
      );
      response.setHeader("ETag", tag);
      response.setHeader("Vary", "Accept-Encoding");
      if (request.headers["if-none-match"] === tag) {
        response.writeHead(304, HEADERS).end();
        return;
      }
      if (encoding) response.setHeader("Content-Encoding", encoding);
      response.setHeader("Content-Length", body.length);
      response.writeHead(200, { ...HEADERS, "Content-Type": TYPES[extname(file)] ?? "application/octet-stream" });
      response.end(request.method === "HEAD" ? undefined : body);
    } catch {
      // The file went away between finding and reading it: a build is running.
      refuse(503, "This file is being rebuilt. Load the page again.");
    }
  });
  await new Promise((done, failed) => {
    server.once("error", failed);
    server.listen(port, "127.0.0.1", () => done(undefined));
  });
  const address = server.address();
  if (address === null || typeof address === "string") throw new Error("the server has no port");
  return {
    origin: `http://127.0.0.1:${address.port}`,
    close: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const [root, port = "8080"] = process.argv.slice(2);
  if (!root || !/^\d{1,5}$/.test(port) || Number(port) > 65535) {
    console.error("usage: node serve.mjs DIRECTORY [PORT]   (PORT from 0 to 65535)");
    process.exit(2);
  }
  try {
    const { origin } = await serve({ root, port: Number(port) });
    console.log(`Turnback is at ${origin}/   (Ctrl-C stops it)`);
  } catch (error) {
    const code = /** @type {NodeJS.ErrnoException} */ (error).code;
    if (code === "EADDRINUSE")
      console.error(`Port ${port} is in use. Choose another: PORT=${Number(port) + 1} ./build.sh serve`);
    else console.error(`Nothing is served: ${/** @type {Error} */ (error).message}`);
    process.exit(1);
  }
}
