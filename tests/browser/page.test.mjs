// The page as it opens, and where it can't.

import assert from "node:assert/strict";
import { test } from "node:test";
import { stage, startLesson } from "./hands.mjs";
import { BROWSER, browser, origin, SCREENS, screenshot, visit } from "./harness.mjs";
import { framesAsked, still } from "./waits.mjs";

/** What Firefox's driver tells of an error that the page notes: not even its sentence. */
const MUTE = BROWSER === "firefox" ? [/^console warning: (Error|\{\}) \(\)$/] : [];

/** Waits until the page says instead of the bench what is missing. @param {import("./harness.mjs").Page} page @param {RegExp} words */
function waits(page, words) {
  return page.locator("#waiting", { hasText: words }).waitFor();
}

test("the page opens without a complaint, asks for nothing more, and works from there", async (t) => {
  const { page, seen, origin } = await visit(t);
  assert.equal(await page.title(), "Turnback: predict, pour, watch, explain");
  assert.equal(await stage(page), "brief");
  assert.ok(seen.requests.some((address) => address.endsWith(".wasm")));
  assert.ok(seen.requests.every((address) => address.startsWith(`${origin}/`)));
  // Nothing moves, so nothing runs: the page asks for no frame once its first pictures stand.
  await still(page);
  const frames = await framesAsked(page);
  await page.waitForTimeout(1500);
  assert.equal(await framesAsked(page), frames);
  assert.deepEqual(seen.lateRequests, []);
});

test("without JavaScript the page says so and is not blank", async (t) => {
  const { page } = await visit(t, {
    starts: false,
    context: { javaScriptEnabled: false },
    // With scripts switched off, Chromium lets none be fetched ahead, and says so.
    expected: [/request failed: .*\.js csp/],
  });
  const words = await page.locator("main").innerText();
  assert.match(words, /antacid suspension/);
  assert.match(words, /needs JavaScript/);
  assert.match(words, /qualified adult/);
  assert.doesNotMatch(await page.locator("body").innerText(), /Setting up/);
});

test("where the browser has no WebAssembly the page says so and what to do", async (t) => {
  const { page } = await visit(t, {
    starts: false,
    beforeLoad: async (page) => page.addInitScript(() => Reflect.deleteProperty(globalThis, "WebAssembly")),
    expected: [/WebAssembly/, ...MUTE],
  });
  await waits(page, /computes its beakers with WebAssembly.*newer browser/);
});

test("where a school forbids WebAssembly the page names it and whom to ask", async (t) => {
  const { page } = await visit(t, {
    starts: false,
    beforeLoad: async (page) =>
      page.route("**/", async (route) => {
        const answer = await route.fetch();
        const policy = answer.headers()["content-security-policy"].replace(" 'wasm-unsafe-eval'", "");
        await route.fulfill({ response: answer, headers: { ...answer.headers(), "content-security-policy": policy } });
      }),
    expected: [/wasm|WebAssembly/i, ...MUTE],
  });
  await waits(page, /WebAssembly may be blocked here\. Then ask the person/);
});

test("where the browser is too old for the script the page stays readable and says what to do", async (t) => {
  const { page } = await visit(t, {
    starts: false,
    beforeLoad: async (page) =>
      page.route("**/page.js", (route) => route.fulfill({ contentType: "text/javascript", body: "let let = 1;" })),
    // Of a script that it cannot read, Chromium tells no more than that.
    expected: [/^exception: *$/, /^exception: SyntaxError/],
  });
  assert.match(await page.locator("body").innerText(), /Three beakers that turn back.*If this line stays/s);
});

test("where the core does not arrive the page says what to do", async (t) => {
  const { page, seen } = await visit(t, {
    starts: false,
    beforeLoad: async (page) => page.route("**/*.wasm", (route) => route.abort()),
    expected: [/\.wasm/, /Failed to (load|fetch)/, /TypeError/, ...MUTE],
  });
  await waits(page, /did not arrive.*load the page again/i);
  // Its words may come after what looked like the end of the loading.
  seen.lateRequests.length = 0;
});

for (const part of ["desk.js", "turnback_desk.wasm"])
  test(`where ${part} does not arrive the bench works, and the desk says what to do`, async (t) => {
    const { page } = await visit(t, {
      beforeLoad: async (page) => page.route(`**/${part}`, (route) => route.abort()),
      expected: [/desk/, /Failed to (load|fetch)/, /TypeError/, ...MUTE],
    });
    await page.getByRole("button", { name: "Plan", exact: true }).click();
    assert.match(await page.locator("#plan-place").innerText(), /did not come.*load the page again/s);
    await page.getByRole("button", { name: "Bench", exact: true }).click();
    await startLesson(page);
  });

test("who opens the desk before it has come finds its heading and a waiting line, and then the place itself", async (t) => {
  /** @type {() => void} */
  let release = () => {};
  const held = new Promise((done) => {
    release = () => done(undefined);
  });
  const context = await (await browser()).newContext({ viewport: SCREENS.laptop });
  t.after(() => context.close());
  const page = await context.newPage();
  await page.route("**/turnback_desk.wasm", async (route) => {
    await held;
    await route.continue();
  });
  await page.goto(`${await origin()}/`);
  await page.getByRole("button", { name: "Plan", exact: true }).click();
  assert.match(await page.locator("#plan-place").innerText(), /^Plan\s+This part is on its way/);
  assert.equal(await page.evaluate(() => document.activeElement?.id), "plan-heading");
  await screenshot(page, "desk-waiting");
  release();
  await page.waitForSelector("#plan-place form");
  assert.equal(await page.evaluate(() => document.activeElement?.id), "plan-heading");
});
