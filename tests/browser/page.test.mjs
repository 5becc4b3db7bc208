// The page as it opens, on every screen that a class has.

import assert from "node:assert/strict";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import { answerCard, comesTo, press, stage, startLesson, toRest } from "./hands.mjs";
import { browser, needs, origin, SCREENS, screenshot, visit } from "./harness.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** What reaches beyond the right edge of the page. @param {Page} page @returns {Promise<number>} CSS pixels */
function overhang(page) {
  return page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

test("the page opens without a complaint, asks for nothing more, and works from there", async (t) => {
  const { page, seen, origin } = await visit(t);
  assert.equal(await page.title(), "Turnback: predict, pour, watch, explain");
  assert.equal(await stage(page), "brief");
  assert.ok(seen.requests.some((address) => address.endsWith(".wasm")));
  assert.ok(seen.requests.every((address) => address.startsWith(`${origin}/`)));
  await page.waitForTimeout(1500);
  assert.deepEqual(seen.lateRequests, []);
});

for (const [name, screen] of Object.entries(SCREENS)) {
  test(`on the ${name} screen nothing is cut off, and axe finds no barrier from brief to explanation`, async (t) => {
    const { page } = await visit(t, { screen });
    const look = async (/** @type {string} */ moment) => {
      assert.equal(await overhang(page), 0, `${moment}: the page is wider than the screen`);
      assert.deepEqual(await barriers(page), [], moment);
      await screenshot(page, `${name}-${moment}`);
    };
    await look("brief");
    await startLesson(page);
    await page.waitForTimeout(1000);
    await look("covered");
    await answerCard(page, { atOnce: "red", atRest: "violet", clarity: "milky", seconds: "20", first: "2", why: "" });
    await comesTo(page, "watch");
    await page.waitForTimeout(2000);
    await look("one-second-after");
    await toRest(page);
    await page.waitForTimeout(500);
    await look("rest");
    await answerCard(page, { atRest: "violet", clarity: "milky", first: "2" });
    await comesTo(page, "explain");
    await look("explained");
    for (const place of ["Ledger", "Plan"]) {
      await press(page, place);
      await look(place.toLowerCase());
    }
  });
}

test("the bench needs no scrolling on the laptop", async (t) => {
  // 768 less the browser's own bars and the shelf.
  const { page } = await visit(t, { screen: { width: 1366, height: 600 } });
  await startLesson(page);
  for (const selector of [".beaker canvas", ".ribbons", "#card .card-foot button", "#hold", "#next"])
    for (const box of await page
      .locator(selector)
      .evaluateAll((found) => found.map((one) => one.getBoundingClientRect().bottom)))
      assert.ok(box <= 600, `${selector} reaches ${box} px down`);
});

test("without JavaScript the page says so and is not blank", needs("noScripts"), async (t) => {
  const { page } = await visit(t, {
    starts: false,
    context: { javaScriptEnabled: false },
    // With scripts switched off, Chromium lets none be fetched ahead, and says so.
    expected: [/request failed: .*\.js csp/],
  });
  assert.match(await page.locator("body").innerText(), /needs JavaScript/);
  assert.doesNotMatch(await page.locator("body").innerText(), /Setting up/);
});

test("where the browser has no WebAssembly the page says so and what to do", async (t) => {
  const { page } = await visit(t, {
    starts: false,
    beforeLoad: async (page) => page.addInitScript(() => Reflect.deleteProperty(globalThis, "WebAssembly")),
    expected: [/WebAssembly/],
  });
  await page.waitForTimeout(300);
  assert.match(await page.locator("#waiting").innerText(), /computes its beakers with WebAssembly.*newer browser/s);
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
    expected: [/wasm|WebAssembly/i],
  });
  await page.waitForTimeout(300);
  assert.match(await page.locator("#waiting").innerText(), /WebAssembly may be blocked here: ask the person/);
});

test("where the browser is too old for the script the page stays readable and says what to do", async (t) => {
  const { page } = await visit(t, {
    starts: false,
    beforeLoad: async (page) =>
      page.route("**/page.js", (route) => route.fulfill({ contentType: "text/javascript", body: "let let = 1;" })),
    // Of a script that it cannot read, Chromium tells no more.
    expected: [/^exception: *$/],
  });
  assert.match(await page.locator("body").innerText(), /Three beakers that turn back.*If this line stays/s);
});

test("where the core does not arrive the page says what to do", async (t) => {
  const { page } = await visit(t, {
    starts: false,
    beforeLoad: async (page) => page.route("**/*.wasm", (route) => route.abort()),
    expected: [/\.wasm/, /Failed to (load|fetch)/, /TypeError/],
  });
  await page.waitForTimeout(300);
  assert.match(await page.locator("#waiting").innerText(), /did not arrive.*load the page again/is);
});

for (const part of ["desk.js", "turnback_desk.wasm"])
  test(`where ${part} does not arrive the bench works, and the desk says what to do`, async (t) => {
    const { page } = await visit(t, {
      beforeLoad: async (page) => page.route(`**/${part}`, (route) => route.abort()),
      expected: [/desk/, /Failed to (load|fetch)/, /TypeError/],
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

test("with the clock held nothing runs: the page uses no processor time", async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await page.waitForTimeout(2000);
  const frames = await page.evaluate(
    () =>
      new Promise((done) => {
        // Counts the page's own wishes for a frame, not the browser's frames.
        let asked = 0;
        const ask = window.requestAnimationFrame;
        window.requestAnimationFrame = (act) => {
          asked += 1;
          return ask.call(window, act);
        };
        setTimeout(() => {
          window.requestAnimationFrame = ask;
          done(asked);
        }, 1000);
      }),
  );
  assert.equal(frames, 0);
});
