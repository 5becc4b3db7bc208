// What the page may do is held by the browser, wherever the page lies: served as built, as a release, as one file in a
// folder. The policy is read as it arrives, and then each thing that it forbids is tried.

import assert from "node:assert/strict";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { pathToFileURL } from "node:url";
import { release } from "../tools/release.mjs";
import { serve } from "../tools/serve.mjs";
import { comesTo } from "./hands.mjs";
import { browser, origin, PAGE_ROOT, SERVED_WITH, watch } from "./harness.mjs";
import { soon } from "./waits.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** Where scripts may come from: the page's own files, or the one script whose digest is named. */
const SCRIPTS = /^('self'|'sha256-[A-Za-z0-9+/=]{44}'|'wasm-unsafe-eval')$/;
/** What any other rule may name. */
const OTHERS = /^('none'|'self'|'sha256-[A-Za-z0-9+/=]{44}'|data:|blob:)$/;

/** @type {string} */
let folder;
/** @type {Awaited<ReturnType<typeof serve>>} */
let host;
/** Another host, which would answer anybody; how often somebody asked it. */
let asked = 0;
const other = createServer((_, answer) => {
  asked++;
  answer.writeHead(200, { "Access-Control-Allow-Origin": "*", "Content-Type": "image/svg+xml" });
  answer.end('<svg xmlns="http://www.w3.org/2000/svg" width="1" height="1"/>');
});

before(async () => {
  await origin();
  folder = await mkdtemp(join(tmpdir(), "turnback-policy-"));
  await release(PAGE_ROOT, folder);
  host = await serve({ root: folder, ...SERVED_WITH });
  await new Promise((done) => other.listen(0, "127.0.0.1", () => done(undefined)));
});

after(async () => {
  await host.close();
  other.close();
  await rm(folder, { recursive: true });
});

/** A policy's rules: the sources of each by its name. @param {string} policy @returns {Map<string, string[]>} */
function rules(policy) {
  const parts = policy.split(";").map((rule) => rule.trim().split(/\s+/));
  return new Map(parts.map(([name, ...sources]) => [name, sources]));
}

/** @param {string} policy @param {string} where */
function isStrict(policy, where) {
  const all = rules(policy);
  assert.deepEqual(all.get("default-src"), ["'none'"], `${where}: what is not named is forbidden`);
  for (const name of ["base-uri", "form-action"]) assert.deepEqual(all.get(name), ["'none'"], `${where}: ${name}`);
  for (const [name, sources] of all)
    for (const source of sources)
      assert.match(source, /^script-src/.test(name) ? SCRIPTS : OTHERS, `${where}: ${name} ${source}`);
}

/** Tries what the policy forbids, from a script of the page's own realm. Runs in the page. @param {string} other a host */
async function tries(other) {
  const tried = /** @type {any} */ (globalThis);
  const own = document.querySelector("script[type=module]");
  if (!own) throw new Error("there is no script");
  tried.inline = false;
  const script = document.createElement("script");
  script.textContent = "globalThis.inline = true";
  document.body.append(script);
  tried.handled = false;
  const button = document.createElement("button");
  button.setAttribute("onclick", "globalThis.handled = true");
  document.body.append(button);
  button.click();
  button.remove();
  script.remove();
  // Whoever evaluates for a debugger may do what the page may not: a later turn is the page's own.
  const evaluated = await new Promise((done) => {
    setTimeout(() => {
      try {
        // biome-ignore lint/security/noGlobalEval: it must be refused
        done(String(globalThis.eval("1 + 1")));
      } catch (error) {
        done(/** @type {Error} */ (error).name);
      }
    });
  });
  const constructed = await new Promise((done) => {
    setTimeout(() => {
      try {
        done(String(new Function("return 1")()));
      } catch (error) {
        done(/** @type {Error} */ (error).name);
      }
    });
  });
  const elsewhere = await fetch(other).then(
    () => "answered",
    (/** @type {Error} */ error) => error.name,
  );
  const image = await new Promise((done) => {
    const picture = new Image();
    picture.onload = () => done("shown");
    picture.onerror = () => done("refused");
    picture.src = `${other}spy.svg`;
  });
  const compiled = await WebAssembly.compile(new Uint8Array([0, 0x61, 0x73, 0x6d, 1, 0, 0, 0])).then(
    () => "compiled",
    (/** @type {Error} */ error) => error.name,
  );
  return { inline: tried.inline, handled: tried.handled, evaluated, constructed, elsewhere, image, compiled };
}

const REFUSED = {
  inline: false,
  handled: false,
  evaluated: "EvalError",
  constructed: "EvalError",
  elsewhere: "TypeError",
  image: "refused",
  compiled: "compiled",
};

for (const [name, address, isServed] of /** @type {[string, () => Promise<string>, boolean][]} */ ([
  ["served as built", async () => `${await origin()}/`, true],
  ["a release on a host", async () => `${host.origin}/`, true],
  ["one file in a folder", async () => pathToFileURL(join(folder, "turnback.html")).href, false],
]))
  test(`${name}: the policy that arrives is strict, and the browser holds the page to it`, async (t) => {
    const context = await (await browser()).newContext();
    t.after(() => context.close());
    const page = await context.newPage();
    const here = await address();
    const seen = watch(page, here.replace(/\/[^/]*$/, ""));
    const answer = await page.goto(here);
    await comesTo(page, "brief");
    assert.deepEqual(seen.complaints, [], "the page itself needs nothing that is forbidden");
    const own = await page.locator("meta[http-equiv=Content-Security-Policy]").getAttribute("content");
    isStrict(String(own), `${name}, in the page`);
    const sent = answer?.headers()["content-security-policy"];
    if (isServed) {
      isStrict(String(sent), `${name}, from the host`);
      assert.deepEqual(rules(String(sent)).get("frame-ancestors"), ["'none'"]);
    }
    const { port } = /** @type {import("node:net").AddressInfo} */ (other.address());
    const elsewhere = `http://127.0.0.1:${port}/`;
    assert.deepEqual(await page.evaluate(tries, elsewhere), REFUSED);
    await soon(async () => assert.ok(seen.complaints.length >= 5, "each refusal is told in the console"));
    assert.equal(asked, 0, "nothing was sent to another host");
    // Which would have answered.
    assert.equal((await fetch(elsewhere)).status, 200);
    asked = 0;
  });

test("the page for the network's keeper may load its stylesheet, and no script", async (t) => {
  const context = await (await browser()).newContext();
  t.after(() => context.close());
  const page = await context.newPage();
  for (const name of ["network.html", "network.es.html"]) {
    await page.goto(`${host.origin}/${name}`);
    const own = await page.locator("meta[http-equiv=Content-Security-Policy]").getAttribute("content");
    isStrict(String(own), name);
    assert.equal(rules(String(own)).get("script-src"), undefined);
    assert.equal(await page.locator("script").count(), 0);
  }
});

test("no file that is served has a script in it but the page's own", async () => {
  for (const name of ["index.html", "network.html", "network.es.html"]) {
    const page = await readFile(join(folder, name), "utf8");
    assert.doesNotMatch(page, /\son\w+\s*=|javascript:|<style|\sstyle\s*=/i, name);
    for (const [whole] of page.matchAll(/<script\b[^>]*>[^<]*/g))
      assert.match(whole, /\ssrc="[^"]+">\s*$/, `${name}: ${whole.slice(0, 80)}`);
  }
});

test("a policy with a hole is told as one", () => {
  const good = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; base-uri 'none'; form-action 'none'";
  isStrict(good, "good");
  for (const [old, fresh] of [
    ["'wasm-unsafe-eval'", "'unsafe-eval'"],
    ["'self' 'wasm", "'self' 'unsafe-inline' 'wasm"],
    ["'self' 'wasm", "'self' data: 'wasm"],
    ["default-src 'none'", "default-src 'self'"],
    ["; base-uri 'none'", ""],
    ["form-action 'none'", "form-action 'none'; connect-src https:"],
  ])
    assert.throws(() => isStrict(good.replace(old, fresh), fresh), assert.AssertionError, fresh);
});
