// The server that `./build.sh serve` starts and every other browser test uses.

import assert from "node:assert/strict";
import { mkdir, mkdtemp, rm, symlink, utimes, writeFile } from "node:fs/promises";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { brotliDecompressSync, gunzipSync } from "node:zlib";
import { serve } from "../tools/serve.mjs";

const PROSE = "The colour turns back by itself. ".repeat(40);

/** @type {string} */
let outside;
/** @type {{ origin: string, close: () => Promise<void> }} */
let server;

before(async () => {
  outside = await mkdtemp(join(tmpdir(), "turnback-serve-"));
  const root = join(outside, "www");
  await mkdir(join(root, "pkg"), { recursive: true });
  await writeFile(join(outside, "private.txt"), "not to be served");
  await symlink(join(outside, "private.txt"), join(root, "way-out.txt"));
  await writeFile(join(root, ".hidden"), "not to be served");
  await writeFile(join(root, "index.html"), `<!doctype html><title>t</title>${PROSE}`);
  await writeFile(join(root, "bench.js"), "export const beakers = 3;");
  await writeFile(join(root, "pkg/core.wasm"), Buffer.from([0, 0x61, 0x73, 0x6d, 1, 0, 0, 0]));
  server = await serve({ root });
});

after(async () => {
  await server.close();
  await rm(outside, { recursive: true });
});

/**
 * Ask as a browser would not: the path goes out exactly as it is written.
 * @param {string} path
 * @param {{ method?: string, headers?: Record<string, string> }} [options]
 * @returns {Promise<{ status: number | undefined, headers: import("node:http").IncomingHttpHeaders, body: Buffer }>}
 */
function ask(path, { method = "GET", headers = {} } = {}) {
  const { hostname, port } = new URL(server.origin);
  return new Promise((done, failed) => {
    request({ hostname, port, path, method, headers }, (response) => {
      /** @type {Buffer[]} */
      const parts = [];
      response.on("data", (part) => parts.push(part));
      response.on("end", () =>
        done({ status: response.statusCode, headers: response.headers, body: Buffer.concat(parts) }),
      );
    })
      .on("error", failed)
      .end();
  });
}

test("the directory itself answers with its index, under a policy that allows nothing foreign", async () => {
  const { status, headers, body } = await ask("/");
  assert.equal(status, 200);
  assert.match(body.toString(), /turns back by itself/);
  assert.equal(headers["content-type"], "text/html; charset=utf-8");
  const policy = String(headers["content-security-policy"]).split("; ");
  assert.ok(policy.includes("default-src 'none'"));
  assert.ok(policy.includes("script-src 'self' 'wasm-unsafe-eval'"));
  assert.ok(policy.includes("frame-ancestors 'none'"));
  assert.ok(!policy.some((rule) => rule.includes("'unsafe-inline'") || rule.includes("'unsafe-eval'")));
  assert.equal(headers["x-content-type-options"], "nosniff");
  assert.equal(headers["referrer-policy"], "no-referrer");
});

test("scripts and WebAssembly come under the types that browsers insist on", async () => {
  assert.equal((await ask("/bench.js")).headers["content-type"], "text/javascript; charset=utf-8");
  assert.equal((await ask("/pkg/core.wasm")).headers["content-type"], "application/wasm");
});

test("text is compressed for those who can read it, and is the same text", async () => {
  const brotli = await ask("/", { headers: { "Accept-Encoding": "gzip, deflate, br" } });
  assert.equal(brotli.headers["content-encoding"], "br");
  assert.match(brotliDecompressSync(brotli.body).toString(), /turns back by itself/);
  const gzip = await ask("/", { headers: { "Accept-Encoding": "gzip" } });
  assert.equal(gzip.headers["content-encoding"], "gzip");
  assert.match(gunzipSync(gzip.body).toString(), /turns back by itself/);
  const plain = await ask("/");
  assert.equal(plain.headers["content-encoding"], undefined);
  assert.ok(brotli.body.length < plain.body.length / 4);
});

test("a compressed twin is sent as it lies there, unless its file has changed since", async () => {
  const [file, twin] = ["notes.txt", "notes.txt.br"].map((name) => join(outside, "www", name));
  await writeFile(file, PROSE);
  await writeFile(twin, "as made for a release");
  const read = () => ask("/notes.txt", { headers: { "Accept-Encoding": "br" } });
  const { headers, body } = await read();
  assert.equal(headers["content-encoding"], "br");
  assert.equal(body.toString(), "as made for a release");
  const later = new Date(Date.now() + 2000);
  await utimes(file, later, later);
  assert.equal(brotliDecompressSync((await read()).body).toString(), PROSE);
});

test("an unchanged file is not sent twice, a changed one is", async () => {
  const first = await ask("/bench.js");
  const tag = String(first.headers.etag);
  assert.equal((await ask("/bench.js", { headers: { "If-None-Match": tag } })).status, 304);
  await writeFile(join(outside, "www/bench.js"), "export const beakers = 2;");
  const second = await ask("/bench.js", { headers: { "If-None-Match": tag } });
  assert.equal(second.status, 200);
  assert.match(second.body.toString(), /= 2/);
});

test("nothing outside the directory and nothing hidden can be had", async () => {
  for (const path of [
    "/../private.txt",
    "/%2e%2e/private.txt",
    "/pkg/..%2f..%2fprivate.txt",
    "/way-out.txt",
    "/.hidden",
    "/%00",
    "/%E0%A4%A",
    "/nowhere.js",
    "/pkg/",
  ]) {
    const { status, body } = await ask(path);
    assert.equal(status, 404, path);
    assert.doesNotMatch(body.toString(), /not to be served/, path);
  }
});

test("it hands out files and takes nothing in", async () => {
  const { status, headers } = await ask("/", { method: "POST" });
  assert.equal(status, 405);
  assert.equal(headers.allow, "GET, HEAD");
  const head = await ask("/", { method: "HEAD" });
  assert.equal(head.status, 200);
  assert.equal(head.body.length, 0);
});
