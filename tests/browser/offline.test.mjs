// The page without a network: kept after the first load, changed for a newer version only when somebody chooses it.

import assert from "node:assert/strict";
import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { bundle } from "../tools/bundle.mjs";
import { serve } from "../tools/serve.mjs";
import { answerCard, comesTo, press, stage, startLesson, toRest } from "./hands.mjs";
import {
  browser,
  joinedAnew,
  keptFiles,
  needs,
  open,
  PAGE_ROOT,
  reload,
  SERVED_WITH,
  visit,
  watch,
} from "./harness.mjs";
import { isKept, soon } from "./waits.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

const ANSWERS = { atOnce: "red", atRest: "violet", clarity: "milky", seconds: "20", first: "2", why: "" };

/**
 * A copy of the page on a server of its own, which can be stopped and started again at the same address.
 * @param {import("node:test").TestContext} t
 */
async function ownServer(t) {
  const folder = await mkdtemp(join(tmpdir(), "turnback-offline-"));
  const root = join(folder, "www");
  await cp(PAGE_ROOT, root, { recursive: true });
  await joinedAnew(root);
  let running = await serve({ root, ...SERVED_WITH });
  const { origin } = running;
  t.after(async () => {
    await running.close();
    await rm(folder, { recursive: true });
  });
  return {
    root,
    origin,
    stop: () => running.close(),
    start: async () => {
      running = await serve({ root, port: Number(new URL(origin).port), ...SERVED_WITH });
    },
  };
}

/**
 * The page, open and kept, and the server that it came from.
 * @param {import("node:test").TestContext} t
 */
async function keptPage(t) {
  const server = await ownServer(t);
  const context = await (await browser()).newContext();
  t.after(() => context.close());
  const page = await context.newPage();
  await open(page, `${server.origin}/`);
  await page.evaluate(isKept);
  return { server, context, page };
}

test("with the server stopped the page opens again, link and all, and a dose comes to rest", async (t) => {
  const { server, page } = await keptPage(t);
  await server.stop();
  await assert.rejects(fetch(server.origin), "the server still answers");

  const seen = watch(page, server.origin);
  for (const path of ["/", "/index.html?from=school", "/#damaged"]) {
    await page.goto("about:blank");
    await open(page, server.origin + path);
    await comesTo(page, "brief");
  }
  await page.getByRole("button", { name: "Close this message" }).click();
  await startLesson(page);
  await answerCard(page, ANSWERS);
  await comesTo(page, "watch");
  await toRest(page);
  await answerCard(page, { atRest: "violet", clarity: "milky", first: "2" });
  await comesTo(page, "explain");
  assert.deepEqual(
    seen.complaints.filter((complaint) => !/\/sw\.js/.test(complaint)),
    [],
  );
});

test("the worker fetches each part of the page once, and nothing else", needs("workersRequests"), async (t) => {
  const { page, seen, origin } = await visit(t);
  await page.evaluate(isKept);
  const wanted = await keptFiles();
  await soon(async () =>
    assert.deepEqual(seen.workerRequests.toSorted(), wanted.map((name) => `${origin}/${name}`).toSorted()),
  );
  assert.deepEqual(seen.lateRequests, []);
  // What the page asked for while it loaded is kept whole: nothing of it is missing without a network.
  for (const address of seen.requests)
    assert.ok(wanted.includes(address.slice(origin.length + 1)), `${address} is not kept`);
});

test("a newer version is offered before a lesson, never in it, and taken when it is chosen", async (t) => {
  const { server, context, page } = await keptPage(t);
  await reload(page);
  assert.ok(await page.locator("#update").isHidden());

  await startLesson(page);
  await answerCard(page, ANSWERS);
  await comesTo(page, "watch");
  const index = join(server.root, "index.html");
  await writeFile(index, (await readFile(index, "utf8")).replace(/<title([^>]*)>/, "<title>Newer "));
  await bundle(server.root);
  await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    await registration.update();
    for (let tries = 0; !registration.waiting; tries++) {
      if (tries > 5000) throw new Error("the newer version never came");
      await new Promise((done) => setTimeout(done, 20));
    }
  });
  await toRest(page);
  assert.ok(await page.locator("#update").isHidden(), "offered in a lesson");
  assert.doesNotMatch(await page.title(), /Newer/);

  // Another tab begins with the old version, and the offer.
  const other = await context.newPage();
  await open(other, `${server.origin}/`);
  await comesTo(other, "brief");
  assert.doesNotMatch(await other.title(), /Newer/);
  await other.locator("#update:not([hidden])").waitFor();
  await other.waitForFunction(() => document.getElementById("status")?.textContent?.includes("newer version"));
  await press(other, "Change to the newer version");
  await other.waitForFunction(() => document.title.startsWith("Newer"));
  await comesTo(other, "brief");
  assert.equal(await other.locator("#update").isHidden(), true);
  // The lesson in the first tab goes on as it was.
  assert.equal(await stage(page), "see");
  assert.doesNotMatch(await page.title(), /Newer/);
  await soon(async () => {
    const names = await page.evaluate(() => window.caches.keys());
    assert.equal(names.length, 1, `the old version is not forgotten: ${names}`);
  });
});

test("a newer version that is already on its way when the desk has come is offered by itself", async (t) => {
  const { server, context } = await keptPage(t);
  const index = join(server.root, "index.html");
  await writeFile(index, (await readFile(index, "utf8")).replace(/<title([^>]*)>/, "<title>Newer "));
  await bundle(server.root);
  const page = await context.newPage();
  await page.addInitScript(() => {
    const { register } = ServiceWorkerContainer.prototype;
    ServiceWorkerContainer.prototype.register = async function (...asked) {
      const registration = await register.apply(this, asked);
      // As the browser does by itself, before a slow page asks.
      const found = new Promise((done) => registration.addEventListener("updatefound", done, { once: true }));
      await registration.update();
      await found;
      Object.assign(globalThis, { wasOnItsWay: registration.installing !== null });
      return registration;
    };
  });
  await open(page, `${server.origin}/`);
  await page.waitForFunction(() => "wasOnItsWay" in globalThis);
  assert.equal(await page.evaluate(() => /** @type {any} */ (globalThis).wasOnItsWay), true);
  await page.locator("#update:not([hidden])").waitFor();
});

test("a host that has changed half its files keeps the old version whole", async (t) => {
  const { server, page } = await keptPage(t);
  // The list names a new page, but the old words are still there.
  const words = join(server.root, "locales/en.json");
  const old = await readFile(words, "utf8");
  await writeFile(words, old.replace("{", '{ "update.test": "new",'));
  await bundle(server.root);
  await writeFile(words, old);
  const waits = await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    await registration.update().catch(() => {});
    const fresh = registration.installing;
    while (fresh && fresh.state === "installing") await new Promise((done) => setTimeout(done, 20));
    return registration.waiting !== null;
  });
  assert.equal(waits, false);
  await server.stop();
  await reload(page);
  await comesTo(page, "brief");
  assert.equal(await stage(page), "brief");
});
