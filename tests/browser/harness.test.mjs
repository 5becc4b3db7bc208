// The harness must see what it is there to see: each of these pages misbehaves
// in one way, and the test passes only if that was noticed.

import assert from "node:assert/strict";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { serve } from "../tools/serve.mjs";
import { barriers } from "./axe.mjs";
import { browser, needs, printed, slowProcessor, visit, watch } from "./harness.mjs";
import { soon } from "./waits.mjs";

/** @type {Record<string, string>} */
const SCRIPTS = {
  quiet: "document.title = 'quiet';",
  throws: "throw new Error('a beaker fell');",
  logs: "console.error('acid on the floor');",
  late: "addEventListener('click', () => fetch('/late.json').catch(() => {}));",
  foreign: "fetch('http://192.0.2.1/spy').catch(() => {});",
  evaluates: "try { eval('1 + 1'); } catch { document.title = 'refused'; }",
};

/** @type {string} */
let root;
/** @type {{ origin: string, close: () => Promise<void> }} */
let server;

before(async () => {
  root = await mkdtemp(join(tmpdir(), "turnback-harness-"));
  for (const [name, script] of Object.entries(SCRIPTS)) {
    await writeFile(join(root, `${name}.js`), script);
    await writeFile(
      join(root, `${name}.html`),
      `<!doctype html><html lang="en"><title>${name}</title><link rel="icon" href="data:,">` +
        `<main><h1>${name}</h1></main><script src="${name}.js"></script>`,
    );
  }
  await writeFile(join(root, "late.json"), "{}");
  await writeFile(
    join(root, "barred.html"),
    '<!doctype html><title>barred</title><link rel="icon" href="data:,"><main><h1>barred</h1><img src="data:,"></main>',
  );
  server = await serve({ root });
});

after(async () => {
  await server.close();
  await rm(root, { recursive: true });
});

/**
 * @param {string} name
 * @returns {Promise<{ page: import("playwright-core").Page, seen: import("./harness.mjs").Seen & { loaded: () => void } }>}
 */
async function open(name) {
  const context = await (await browser()).newContext();
  const page = await context.newPage();
  const seen = watch(page, server.origin);
  await page.goto(`${server.origin}/${name}.html`, { waitUntil: "networkidle" });
  seen.loaded();
  return { page, seen };
}

test("a page that does nothing wrong is not accused", async () => {
  const { page, seen } = await open("quiet");
  await page.waitForTimeout(300);
  assert.deepEqual(seen.complaints, []);
  assert.deepEqual(seen.lateRequests, []);
  assert.equal(seen.requests.length, 2);
});

test("an exception is a complaint", async () => {
  const { seen } = await open("throws");
  await soon(async () => assert.match(seen.complaints.join("\n"), /exception: .*a beaker fell/));
});

test("an error in the console is a complaint", async () => {
  const { seen } = await open("logs");
  await soon(async () => assert.match(seen.complaints.join("\n"), /console error: acid on the floor/));
});

test("a request after loading is seen", async () => {
  const { page, seen } = await open("late");
  assert.deepEqual(seen.lateRequests, []);
  await page.click("h1");
  await soon(async () => assert.deepEqual(seen.lateRequests, [`${server.origin}/late.json`]));
});

test("another server is never reached, and the attempt is a complaint", async () => {
  const { seen } = await open("foreign");
  await soon(async () => assert.match(seen.complaints.join("\n"), /Content[ -]Security[ -]Policy/));
});

test("the policy refuses to evaluate text as a script", async () => {
  const { page } = await open("evaluates");
  assert.equal(await page.title(), "refused");
});

test("axe-core runs under the policy, and finds a picture without words", async () => {
  const { page } = await open("barred");
  const found = await barriers(page);
  assert.ok(found.some((line) => line.startsWith("image-alt")));
  assert.ok(found.some((line) => line.startsWith("html-has-lang")));
});

test("a page is told what its visitor wishes", async (t) => {
  /** @param {import("playwright-core").BrowserContextOptions} wishes */
  const told = async (wishes) => {
    const { page } = await visit(t, { context: wishes });
    return page.evaluate(() => [
      navigator.language,
      ...["prefers-reduced-motion: reduce", "prefers-contrast: more", "forced-colors: active", "pointer: coarse"].map(
        (wish) => matchMedia(`(${wish})`).matches,
      ),
    ]);
  };
  assert.deepEqual(await told({}), ["en-US", false, false, false, false]);
  assert.deepEqual(await told({ locale: "es-MX", reducedMotion: "reduce", contrast: "more" }), [
    "es-MX",
    true,
    true,
    false,
    false,
  ]);
  const [, , , forced, coarse] = await told({ forcedColors: "active", hasTouch: true, isMobile: true });
  assert.deepEqual([forced, coarse], [true, true]);
});

test("a slowed processor does less in the same time", needs("slowing"), async () => {
  const { page } = await open("quiet");
  /** Pieces of work done in a quarter of a second. */
  const done = () =>
    page.evaluate(() => {
      const until = performance.now() + 250;
      let pieces = 0;
      let sum = 0;
      for (; performance.now() < until; pieces++) for (let n = 1; n < 1e4; n++) sum += 1 / n;
      return sum > 0 ? pieces : 0;
    });
  let [atFullSpeed, slowed] = [0, 0];
  // By turns: what else the machine does then meets both alike.
  for (let turn = 0; turn < 5; turn++) {
    await slowProcessor(page, 1);
    atFullSpeed += await done();
    await slowProcessor(page, 6);
    slowed += await done();
  }
  assert.ok(slowed * 1.5 < atFullSpeed, `${atFullSpeed} pieces of work, slowed ${slowed}`);
});

test("a printed page is counted in sheets", needs("paper"), async () => {
  const { page } = await open("quiet");
  assert.equal((await printed(page, "harness", "A4")).sheets, 1);
  await page.evaluate(() => {
    document.body.style.height = "400mm";
  });
  assert.equal((await printed(page, "harness", "A4")).sheets, 2);
});
