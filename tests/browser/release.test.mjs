// The release: put on a plain static host it opens, keeps itself, tells a network's keeper the truth; and the one-file
// page does from a folder what the served page does.

import assert from "node:assert/strict";
import { existsSync } from "node:fs";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { pathToFileURL } from "node:url";
import { brotliDecompressSync, gunzipSync } from "node:zlib";
import { networkPage } from "../tools/network.mjs";
import { release } from "../tools/release.mjs";
import { serve } from "../tools/serve.mjs";
import { integrity } from "../tools/served.mjs";
import { languages, nameIn } from "../tools/words.mjs";
import { barriers } from "./axe.mjs";
import { ANSWERS, comesTo, playDose, startLesson, toSummary } from "./hands.mjs";
import {
  BROWSER,
  browser,
  joinedAnew,
  needs,
  open,
  PAGE_ROOT,
  reload,
  SCREENS,
  SERVED_WITH,
  saved,
  screenshot,
  visit,
  watch,
} from "./harness.mjs";
import { isKept, openLink } from "./waits.mjs";
import { readWords, tags } from "./words.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** @type {string} */
let folder;
/** @type {Awaited<ReturnType<typeof release>>} */
let made;
/** @type {Awaited<ReturnType<typeof serve>>} */
let host;

before(async () => {
  await joinedAnew(PAGE_ROOT);
  folder = await mkdtemp(join(tmpdir(), "turnback-release-"));
  made = await release(PAGE_ROOT, folder);
  host = await serve({ root: folder, ...SERVED_WITH });
});

after(async () => {
  await host.close();
  await rm(folder, { recursive: true });
});

/**
 * A fresh page that is watched; its complaints are the test's.
 * @param {import("node:test").TestContext} t
 * @param {string} here the only origin, or the folder, that it may load from
 * @param {RegExp} [expected] complaints that the test provokes on purpose
 */
async function fresh(t, here, expected = /^$/) {
  const context = await (await browser()).newContext({ viewport: SCREENS.laptop });
  const page = await context.newPage();
  const seen = watch(page, here);
  t.after(async () => {
    await context.close();
    assert.deepEqual(
      seen.complaints.filter((complaint) => !expected.test(complaint)),
      [],
    );
  });
  return { page, seen };
}

/** The check code of a lesson of one dose, played to its end. @param {Page} page */
async function codeOfLesson(page) {
  await startLesson(page, ANSWERS);
  await playDose(page);
  await toSummary(page, ANSWERS);
  return page.locator("#card .code").innerText();
}

/** The link of our scenario with a single dose. Runs in the page. @returns {Promise<string>} */
async function shortLesson() {
  const { Turnback } = await import(/** @type {any} */ ("/pkg/turnback.js"));
  const core = new Turnback();
  const { fields, beakers } = core.fields();
  const recipe = Object.fromEntries(fields.map((/** @type {any} */ field) => [field.key, String(field.value)]));
  const outcome = core.desk().setRecipe({ ...recipe, acidDoses: "1", baseDoses: "0", beakers });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome));
  return core.link();
}

test("a release opens from a static host, asks for what its list says, and opens again without the host", async (t) => {
  const own = await serve({ root: folder, ...SERVED_WITH });
  let running = true;
  t.after(() => running && own.close());
  const { page, seen } = await fresh(t, own.origin);
  await open(page, `${own.origin}/`);
  await comesTo(page, "brief");
  const asked = new Set(seen.requests.map((address) => address.slice(own.origin.length + 1) || "index.html"));
  assert.ok([...asked].every((name) => made.files.includes(name)));
  // Every file but the page itself carries the mark of its content.
  for (const name of asked)
    if (/\.(js|css|wasm|json)$/.test(name))
      assert.match(name, /\.([0-9a-f]{10}|[0-9A-Z]{8})\.\w+$/, `${name} has no mark`);

  await page.evaluate(isKept);
  await own.close();
  running = false;
  const complaints = seen.complaints.length;
  await reload(page);
  await comesTo(page, "brief");
  await page.goto(`${own.origin}/network.html`);
  assert.match(await page.locator("h1").innerText(), /school's network/);
  // The browser's own question whether the worker has changed finds nobody.
  assert.deepEqual(
    seen.complaints.splice(complaints).filter((complaint) => !/\/sw\.js/.test(complaint)),
    [],
  );
});

test("each compressed twin is the file that it stands for", async () => {
  const twins = made.files.filter((name) => /\.(gz|br)$/.test(name));
  assert.ok(twins.length >= 16, `${twins}`);
  for (const name of twins) {
    const twin = await readFile(join(folder, name));
    const plain = await readFile(join(folder, name.replace(/\.(gz|br)$/, "")));
    assert.deepEqual(name.endsWith(".gz") ? gunzipSync(twin) : brotliDecompressSync(twin), plain, name);
  }
  for (const name of made.files.filter((name) => !/\.(gz|br|png)$/.test(name)))
    assert.ok(existsSync(join(folder, `${name}.gz`)) && existsSync(join(folder, `${name}.br`)), `${name} has no twin`);
});

for (const tag of await tags()) {
  const { sentences } = await readWords(tag);

  test(`${tag}: the page for the network's keeper tells the size and digest of every file, is linked from About, and has no barrier`, async (t) => {
    const { page } = await fresh(t, host.origin);
    await open(page, `${host.origin}/?lang=${tag}`);
    await page.getByRole("button", { name: sentences["place.about"], exact: true }).click();
    await page.getByRole("link", { name: sentences["about.beside.network"] }).click();
    await page.waitForURL(new RegExp(`/${nameIn("network.html", tag)}$`));
    assert.equal(await page.locator("html").getAttribute("lang"), tag);
    assert.equal(await page.locator("h1").innerText(), sentences["network.heading"]);
    const rows = await page
      .locator("tbody tr:not(.together)")
      .evaluateAll((found) => found.map((row) => [...row.children].map((cell) => cell.textContent ?? "")));
    assert.ok(rows.length >= 8, `${rows.length} files are told`);
    for (const [name, bytes, , , digest] of rows) {
      const content = await readFile(join(folder, name));
      assert.equal(bytes.replaceAll("\u00a0", ""), String(content.length), name);
      assert.equal(digest, integrity(content), name);
    }
    // Every sentence of it is there, and none was left as its key or with a hole.
    const words = await page.locator("body").innerText();
    for (const [key, sentence] of Object.entries(sentences).filter(([key]) => key.startsWith("network."))) {
      if (/^network\.(title|languages|stored\.nothing)$/.test(key)) continue;
      for (const part of sentence.split(/\{\w+\}/)) assert.ok(words.includes(part), `${key}: ${part}`);
    }
    assert.doesNotMatch(words.replace(/network\.(\w+\.)?html/g, ""), /\bnetwork\.\w|\{\w+\}|undefined/);
    assert.deepEqual(await barriers(page), []);
    await screenshot(page, `network-${tag}`, { fullPage: true });
    for (const other of (await tags()).filter((one) => one !== tag)) {
      await page.locator(`nav a[hreflang=${other}]`).click();
      await page.waitForURL(new RegExp(`/${nameIn("network.html", other)}$`));
      assert.equal(await page.locator("html").getAttribute("lang"), other);
      await page.locator(`nav a[hreflang=${tag}]`).click();
      await page.waitForURL(new RegExp(`/${nameIn("network.html", tag)}$`));
    }
  });

  test(`${tag}: what a device shows of the installed page is in the page's language`, needs("manifest"), async (t) => {
    const { page } = await fresh(t, host.origin);
    await open(page, `${host.origin}/?lang=${tag}`);
    // As the browser itself reads it.
    const session = await page.context().newCDPSession(page);
    const { url, errors, data } = await session.send("Page.getAppManifest");
    assert.deepEqual(errors, []);
    assert.equal(url, `${host.origin}/${nameIn("turnback.webmanifest", tag)}`);
    const told = JSON.parse(String(data));
    assert.deepEqual([told.lang, told.description], [tag, sentences["manifest.description"]]);
    // It is one app, whatever it is called.
    const english = JSON.parse(await readFile(join(folder, "turnback.webmanifest"), "utf8"));
    assert.deepEqual([told.id, told.start_url, told.scope], [english.id, english.start_url, english.scope]);
  });
}

test("what the page itself never says is not loaded with its words", async () => {
  for (const name of made.files.filter((name) => /^locales\/.*\.json$/.test(name))) {
    const keys = Object.keys(JSON.parse(await readFile(join(folder, name), "utf8")));
    assert.ok(keys.length > 1000, `${name}: ${keys.length} sentences`);
    assert.deepEqual(
      keys.filter((key) => /^(network|manifest)\./.test(key)),
      [],
    );
  }
});

test("a script that stores or sends what the page for the network's keeper doesn't tell is not released", async () => {
  const facts = { loaded: [], onWish: [], icon: "", looks: "", policy: "", headers: {}, packages: [] };
  const all = await languages(PAGE_ROOT);
  const page = (/** @type {string} */ script) => networkPage({ ...facts, script }, all[0], all);
  assert.match(page(""), /no cookie/);
  assert.match(page("localStorage.a"), /local storage: what/);
  for (const script of ["document.cookie", "new WebSocket(a)", "navigator.sendBeacon(a)"])
    assert.throws(() => page(script), /say so/, script);
});

test("the notices name every package that is inside, with a text for each", async () => {
  const text = await readFile(join(folder, "licences.txt"), "utf8");
  // Read beforehand in Cargo.toml: what the core is built on.
  for (const name of [
    "libm",
    "serde",
    "postcard",
    "qrcodegen",
    "wasm-bindgen",
    "js-sys",
    "serde-wasm-bindgen",
    "Rust's standard library",
  ])
    assert.match(text, new RegExp(`^${name} .*\\d`, "m"), name);
  const parts = text.split(/^-{72}$/m).slice(1);
  assert.ok(parts.length >= 10);
  for (const part of parts) assert.match(part, /permission|license/i);
});

test("the one-file page runs from a folder under its own policy, and ends with the served page's check code", async (t) => {
  const away = await mkdtemp(join(tmpdir(), "turnback folder \u00e4-"));
  t.after(() => rm(away, { recursive: true }));
  const file = join(away, "turnback.html");
  await writeFile(file, await readFile(join(folder, "turnback.html")));
  const served = await visit(t, { core: true });
  const link = await served.page.evaluate(shortLesson);
  const address = `${pathToFileURL(file).href}#${link.replace(/^#/, "")}`;
  const { page, seen } = await fresh(t, pathToFileURL(away).href, /data:,a/);
  await page.goto(address);
  await comesTo(page, "brief");
  // Firefox tells nobody what it reads from a folder.
  if (BROWSER === "chromium") assert.deepEqual(seen.requests, [pathToFileURL(file).href]);
  const policy = await page.locator("meta[http-equiv]").getAttribute("content");
  assert.match(
    String(policy),
    /^default-src 'none'; script-src 'sha256-[^']+' 'wasm-unsafe-eval'; style-src 'sha256-[^']+'; /,
  );
  assert.doesNotMatch(String(policy), /'self'|https?:|unsafe-inline|'unsafe-eval'|connect-src/);
  // Nothing can be had from elsewhere, even by a script in it.
  const refused = await page.evaluate(() =>
    fetch("data:,a").then(
      () => "",
      (error) => error.name,
    ),
  );
  assert.equal(refused, "TypeError");

  const code = await codeOfLesson(page);
  assert.match(code, /^[0-9A-Z]{4}-[0-9A-Z]{4}$/);
  // Firefox gives a tab behind another no frames.
  await served.page.bringToFront();
  await openLink(served.page, link);
  assert.equal(await codeOfLesson(served.page), code);
});

test("a page that was opened from a folder says at Share that a link from it opens nothing, and offers what does", async (t) => {
  const { page } = await fresh(t, pathToFileURL(folder).href);
  await page.goto(pathToFileURL(join(folder, "turnback.html")).href);
  await comesTo(page, "brief");
  await page.click("[data-place=plan]");
  const share = page.locator("section[aria-labelledby=share-heading]");
  assert.match(await share.locator(".link-field .warn").innerText(), /opened from a folder.*another device.*file/s);
  const part = await page.inputValue("#plan-link");
  await share.scrollIntoViewIfNeeded();
  await screenshot(page, "from-a-folder");
  assert.match(part, /^#v1\.[\w-]+$/);
  assert.equal(await share.locator("img.qr").count(), 0, "a code to photograph would open nothing");
  for (const place of ["bench", "plan", "paper", "retell"]) {
    await page.click(`[data-place=${place}]`);
    const told = await page.evaluate(() => [
      document.body.innerText,
      ...[...document.querySelectorAll("input, textarea")].map(
        (field) => /** @type {HTMLInputElement} */ (field).value,
      ),
    ]);
    assert.doesNotMatch(told.join("\n"), /file:\/\//, place);
  }
  // What is offered works: the file, and the part behind the address of a hosted page.
  await page.click("[data-place=plan]");
  const { bytes } = await saved(page, () =>
    page.getByRole("button", { name: "Save the lesson in use as a file" }).click(),
  );
  assert.equal(JSON.parse(bytes.toString("utf8")).turnback, 1);
  const hosted = await fresh(t, host.origin);
  await hosted.page.goto(`${host.origin}/${part}`);
  await comesTo(hosted.page, "brief");
  await hosted.page.click("[data-place=plan]");
  assert.equal(await hosted.page.inputValue("#plan-link"), `${host.origin}/${part}`);
  assert.equal(await hosted.page.locator("#plan-place .link-field .warn").count(), 0);
});

test("the one-file page opens from a folder", async (t) => {
  const { page } = await fresh(t, pathToFileURL(folder).href);
  await page.goto(pathToFileURL(join(folder, "turnback.html")).href);
  await comesTo(page, "brief");
});
