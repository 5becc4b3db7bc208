// What happens to a device in the middle of a lesson: it sleeps, its clock is set back, its storage fills up, another tab is
// opened. Nothing that was typed is lost, the lesson's clock does not run away, and where nothing moves nothing is computed.
// (Killed, crashed, stopped: killed.test.mjs. Reload, and storage that is forbidden or full from the start: record.test.mjs.)

import assert from "node:assert/strict";
import { test } from "node:test";
import {
  ANSWERS,
  answerCard,
  comesTo,
  coverIsUp,
  letLeave,
  nextTab,
  onCard,
  seconds,
  startLesson,
  toRest,
} from "./hands.mjs";
import { needs, reload, visit } from "./harness.mjs";
import { runsTo, still } from "./waits.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** Most that the page may work in a second in which nothing moves, s. */
const IDLE_S = 0.01;
/** How long that is watched, ms. */
const WATCH_MS = 1200;
/** ... and so often at most: that nothing moves, and that something does. */
const LOOKS = 4;
const LOOKS_RUNNING = 20;

test("raised hands that were typed and not locked outlast a reload", async (t) => {
  const visited = await visit(t);
  const { page } = visited;
  letLeave(page);
  await startLesson(page);
  await page.click("#big");
  await page.locator("#card input.hands").nth(0).fill("3");
  await page.locator("#card input.hands").nth(2).fill("11");
  const before = await onCard(page);
  await reload(page);
  await comesTo(page, "ask");
  visited.seen.lateRequests.length = 0;
  assert.deepEqual(await onCard(page), before);
});

test("an hour's sleep moves the lesson's clock by one frame", async (t) => {
  const { page } = await visit(t, {
    beforeLoad: (fresh) =>
      fresh.addInitScript(() => {
        // The monotonic clock of a machine that slept: all who ask are told an hour more.
        const slept = { ms: 0 };
        Object.assign(globalThis, { slept });
        const now = performance.now.bind(performance);
        performance.now = () => now() + slept.ms;
        const ask = globalThis.requestAnimationFrame.bind(globalThis);
        globalThis.requestAnimationFrame = (callback) => ask((at) => callback(at + slept.ms));
      }),
  });
  await startLesson(page);
  await answerCard(page, ANSWERS);
  await coverIsUp(page);
  await page.check("input[name=speed][value='16']");
  await runsTo(page, 1);
  const began = Date.now();
  // Between two frames: what the bar tells next is told by the first one after the sleep.
  const before = await page.evaluate(() => {
    /** @type {any} */ (globalThis).slept.ms += 3_600_000;
    return Number.parseFloat(document.querySelector(".controls .time")?.textContent ?? "");
  });
  await runsTo(page, before + 1);
  const after = await seconds(page);
  const most = 16 * ((Date.now() - began) / 1000 + 0.1) + 1;
  assert.ok(after > before && after - before <= most, `from ${before} s to ${after} s, at most ${most} s on`);
});

test("nothing is computed on hold, nor while the page is hidden, and the clock stands", needs("work"), async (t) => {
  const { page } = await visit(t);
  await startLesson(page);
  await answerCard(page, ANSWERS);
  await coverIsUp(page);
  await runsTo(page, 0);
  const tools = await page.context().newCDPSession(page);
  await tools.send("Performance.enable");
  const worked = async () => {
    const { metrics } = await tools.send("Performance.getMetrics");
    return metrics.find(({ name }) => name === "TaskDuration")?.value ?? Number.NaN;
  };
  /** How much of a second the page works. @param {string} when */
  const load = async (when) => {
    const [before, at] = [await worked(), await seconds(page)];
    await page.waitForTimeout(WATCH_MS);
    const share = (1000 * ((await worked()) - before)) / WATCH_MS;
    t.diagnostic(`${when}: ${(100 * share).toFixed(2)} % of a processor`);
    return { share, moved: (await seconds(page)) - at };
  };
  /** Steady work is there however often one looks; what was still under way on a busy machine, once. @param {string} when */
  const stands = async (when) => {
    let { share, moved } = await load(when);
    for (let looks = 1; share > IDLE_S && looks < LOOKS; looks++) {
      const again = await load(when);
      [share, moved] = [again.share, moved + again.moved];
    }
    assert.ok(share <= IDLE_S && moved === 0, `${when} it works ${share} s a second, and goes on by ${moved} s`);
  };
  /** On a busy machine a frame comes late, and a lesson's clock goes on by a tenth of a second in each at most. @param {string} when */
  const runs = async (when) => {
    let { share, moved } = await load(when);
    for (let looks = 1; moved < 1 && looks < LOOKS_RUNNING; looks++) {
      const again = await load(when);
      [share, moved] = [again.share, moved + again.moved];
    }
    assert.ok(share > IDLE_S && moved >= 1, `${when} there is something to measure: ${share} s a second, ${moved} s`);
  };
  await runs("running");
  await page.locator("#stage").focus();
  await page.keyboard.press("h");
  await still(page);
  await stands("on hold");
  await page.keyboard.press("h");
  // A window that Chromium shows nowhere is never hidden: the page is told so, and must stop by itself.
  const hide = (/** @type {boolean} */ hidden) =>
    page.evaluate((is) => {
      Object.defineProperty(document, "hidden", { configurable: true, get: () => is });
      document.dispatchEvent(new Event("visibilitychange"));
    }, hidden);
  await hide(true);
  await still(page);
  await stands("hidden");
  await hide(false);
  await runs("shown again");
});

test("a device's clock that is set back by a day loses nothing, and the newest lesson is still the newest", async (t) => {
  const visited = await visit(t, {
    beforeLoad: (fresh) =>
      fresh.context().addInitScript(() => {
        const now = Date.now.bind(Date);
        Date.now = () => now() - Number(localStorage.getItem("test.back") ?? 0);
      }),
  });
  const { page } = visited;
  letLeave(page);
  await startLesson(page);
  await page.locator("#card input[type=radio][value=teal]").check();
  await page.evaluate(() => localStorage.setItem("test.back", String(86_400_000)));
  await answerCard(page, ANSWERS);
  await reload(page);
  await comesTo(page, "watch");
  // While its clock runs it is the newest again and again.
  await coverIsUp(page);
  await page.click("#hold");
  // Another tab, another lesson: it is the newest, although the clock says that it is a day older.
  const second = await nextTab(visited);
  await second.click("#keep-anew");
  await startLesson(second);
  await second.locator("#card input[type=radio][value=orange]").check();
  const before = await onCard(second);
  const third = await nextTab(visited);
  await third.click("#keep-go-on");
  await comesTo(third, "ask");
  assert.deepEqual(await onCard(third), before);
  visited.seen.lateRequests.length = 0;
});

test("storage that fills up in a lesson is told at once, the lesson goes on, and each time anew", async (t) => {
  const visited = await visit(t);
  const { page } = visited;
  letLeave(page);
  await startLesson(page);
  // The browser's own limit, to the last character.
  const fill = () =>
    page.evaluate(() => {
      let size = 8_000_000;
      let text = "";
      while (size >= 1) {
        try {
          localStorage.setItem("test.filler", text + "x".repeat(size));
          text += "x".repeat(size);
        } catch {
          size = Math.floor(size / 2);
        }
      }
    });
  await fill();
  assert.ok(await page.locator("#trouble").isHidden());
  await page.locator("#card input[type=radio][value=teal]").check();
  await page.locator("#trouble", { hasText: /full.*Hand in your slip/ }).waitFor();
  await page.locator("#trouble button").click();
  await answerCard(page, ANSWERS);
  await toRest(page);
  await answerCard(page, ANSWERS);
  await comesTo(page, "explain");
  assert.ok(await page.locator("#trouble").isHidden(), "it is told once, not at each step");
  await page.click("[data-place=slip]");
  assert.match(await page.locator("#slip-kept").innerText(), /full/);
  assert.match(await page.locator(".slip-what").innerText(), /At rest: teal|At rest: blue/);
  await page.evaluate(() => localStorage.removeItem("test.filler"));
  await page.fill("#slip-note", "Room again");
  await page.waitForFunction(() => /as you go/.test(document.getElementById("slip-kept")?.textContent ?? ""));
  await fill();
  await page.locator("#slip-note").pressSequentially(", and again none. ".repeat(10));
  await page.locator("#trouble", { hasText: /full/ }).waitFor();
});

/**
 * A page whose database answers late, or never.
 * @param {import("node:test").TestContext} t
 * @param {number | null} lateMs null for never
 */
async function withSlowDatabase(t, lateMs) {
  const { page } = await visit(t, {
    beforeLoad: (fresh) =>
      fresh.addInitScript((ms) => {
        const { open } = IDBFactory.prototype;
        IDBFactory.prototype.open = function (...asked) {
          const request = open.apply(this, asked);
          Object.defineProperty(request, "onsuccess", {
            set: (/** @type {EventListener} */ told) => {
              if (ms !== null) request.addEventListener("success", (event) => setTimeout(() => told(event), ms));
            },
          });
          return request;
        };
      }, lateMs),
  });
  await startLesson(page);
  await page.locator("#card input[type=radio][value=teal]").check();
  return page;
}

test("a database that takes two seconds to open still gets what is kept, and one that never opens holds no lesson up", async (t) => {
  const page = await withSlowDatabase(t, 2000);
  const keys = await page.evaluate(async () => {
    const asked = indexedDB.open("turnback");
    await new Promise((done) => asked.addEventListener("success", done));
    const found = asked.result.transaction("kept").objectStore("kept").getAllKeys();
    await new Promise((done) => found.addEventListener("success", done));
    asked.result.close();
    return found.result.map(String);
  });
  assert.equal(keys.filter((key) => key.startsWith("turnback.kept.")).length, 1, `${keys}`);
  await withSlowDatabase(t, null);
});

test("a tab that was doubled with what it was at takes nothing from the first", async (t) => {
  const visited = await visit(t);
  const { page } = visited;
  letLeave(page);
  await startLesson(page);
  await page.locator("#card input[type=radio][value=teal]").check();
  // As "duplicate tab" does: the new one has the first one's session storage.
  const [second] = await Promise.all([
    page.waitForEvent("popup"),
    page.evaluate(() => {
      window.open(location.href);
    }),
  ]);
  letLeave(second);
  // Firefox gives a tab behind another no frames.
  await second.bringToFront();
  await comesTo(second, "ask");
  await answerCard(second, { ...ANSWERS, atOnce: "orange" });
  await page.locator("#card input[type=radio][value=violet]").check();
  for (const [tab, wanted] of /** @type {[Page, string][]} */ ([
    [page, "ask"],
    [second, "watch"],
  ])) {
    await tab.bringToFront();
    await reload(tab);
    await comesTo(tab, wanted);
  }
  assert.deepEqual((await onCard(page)).chosen, ["violet"]);
  assert.match(await second.locator("#card .answers").innerText(), /At once\s+orange/);
  visited.seen.lateRequests.length = 0;
});

test("another lesson that is opened in the same tab leaves what was kept of the one before", async (t) => {
  const visited = await visit(t, { core: true });
  const { page } = visited;
  letLeave(page);
  await startLesson(page);
  await page.locator("#card input[type=radio][value=teal]").check();
  const before = await onCard(page);
  const [own, other] = await page.evaluate(async () => {
    const { Turnback } = await import(/** @type {any} */ ("/pkg/turnback.js"));
    const core = new Turnback();
    const own = core.link();
    core.setLevel(1);
    location.hash = core.link();
    return [own, core.link()];
  });
  await comesTo(page, "brief");
  assert.notEqual(own, other);
  await startLesson(page);
  const next = await nextTab(visited, `#${own}`);
  await next.click("#keep-go-on");
  await comesTo(next, "ask");
  assert.deepEqual(await onCard(next), before);
  visited.seen.lateRequests.length = 0;
});
