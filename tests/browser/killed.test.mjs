// A browser that is killed, crashes or stops in the middle of a lesson, or of a teacher's work: nothing that was typed is lost,
// and the lesson's clock goes on where it was. (What else may happen to a device: mishaps.test.mjs.)

import assert from "node:assert/strict";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { BROWSER, launchDevice } from "./chromium.mjs";
import { launchFoxDevice } from "./firefox.mjs";
import {
  ANSWERS,
  answerCard,
  answerQuestion,
  comesTo,
  coverIsUp,
  goOn,
  letLeave,
  nextTab,
  onCard,
  press,
  seconds,
  startLesson,
  toRest,
} from "./hands.mjs";
import { open, origin, visit } from "./harness.mjs";
import { runsTo, settled, soon } from "./waits.mjs";
import { watch } from "./watch.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/**
 * A lesson's clock that is killed may be back by the time between two beats and the leisure of the last (keep.js), and a frame or
 * two: two and a half seconds. The bar tells whole ones, of which these are three at most, s.
 */
const BEAT_S = 3;
/** How long a machine stops, ms. */
const STOP_MS = 3000;

/** The address at which a tab crashes. */
const CRASH = BROWSER === "firefox" ? "about:crashcontent" : "chrome://crash";
/** A tab that has crashed does not answer, ms. */
const ANSWER_MS = 2000;

const launched = BROWSER === "firefox" ? launchFoxDevice : launchDevice;

/**
 * A device of its own for a test, whose profile outlasts its browser.
 * @param {import("node:test").TestContext} t
 * @returns {Promise<{ at: Awaited<ReturnType<typeof launchDevice>>, kill: () => Promise<void> }>} the browser that runs on it,
 *   and what kills it as by the loss of power and starts another
 */
async function deviceOf(t) {
  const profile = await mkdtemp(join(tmpdir(), "turnback-"));
  const device = {
    at: await launched(profile),
    kill: async () => {
      await device.at.kill();
      device.at = await launched(profile);
    },
  };
  t.after(async () => {
    await device.at.kill();
    await rm(profile, { recursive: true, force: true });
  });
  return device;
}

/** Until the browser has put into its database what the page has handed to it: each waits there for those before. Runs in the page. */
async function isWritten() {
  const asked = indexedDB.open("turnback");
  await new Promise((done) => {
    asked.onsuccess = done;
  });
  const count = asked.result.transaction("kept").objectStore("kept").count();
  await new Promise((done) => {
    count.onsuccess = done;
  });
  asked.result.close();
}

/** What is typed at the desk, beside Plan, and how many pasted slips the page tells of. @param {Page} page */
async function onDesk(page) {
  await page.click("[data-place=tally]");
  const box = await page.inputValue("#tally-text");
  const [pasted = ""] = /^\d+(?= slip)/.exec(await page.locator("#tally-kept").innerText()) ?? [];
  await page.click("[data-place=data]");
  const seconds = await page.getByLabel("Seconds, or m:ss, row 1").inputValue();
  return { box, pasted, seconds, paste: await page.inputValue("#data-paste") };
}

test("a browser that is killed in any step of a lesson opens again where it was, with what was typed", async (t) => {
  const here = await origin();
  const device = await deviceOf(t);
  /** @type {string[]} */
  const complaints = [];
  const opened = async () => {
    const { page } = device.at;
    watch(page, here).complaints = complaints;
    letLeave(page);
    await page.goto(here);
    await comesTo(page, "brief");
    return page;
  };
  let page = await opened();
  /** Kills the browser, and goes on in a new one. @param {string} step */
  const killed = async (step) => {
    const before = { card: await onCard(page), at: await seconds(page) };
    await page.evaluate(isWritten);
    await device.kill();
    page = await opened();
    await page.click("#keep-go-on");
    await page.waitForSelector("#keep-go-on", { state: "detached" });
    assert.deepEqual(await onCard(page), before.card, step);
    if (Number.isFinite(before.at)) {
      // The bar tells the time with the next frame.
      await soon(async () => assert.ok(Number.isFinite(await seconds(page)), step));
      const back = before.at - (await seconds(page));
      assert.ok(back <= BEAT_S, `${step}: the clock is ${back} s back`);
    }
  };

  await press(page, "Start the lesson");
  await page.locator("#card input[type=radio]").nth(1).check();
  await killed("a question of the brief");
  await answerCard(page, {});
  await page.locator("#card input[type=radio][value=teal]").check();
  await killed("the first question, not locked");
  while ((await page.locator("#card textarea").count()) === 0) await answerQuestion(page, ANSWERS);
  await page.locator("#card textarea").pressSequentially("Half a sent");
  await killed("words, half typed");
  await answerCard(page, ANSWERS);
  await coverIsUp(page);
  await runsTo(page, 2);
  await killed("watching");
  await coverIsUp(page);
  await page.locator("#stage").focus();
  await page.keyboard.press("2");
  await page.waitForSelector(".timing-list li");
  await page.keyboard.press("h");
  await killed("on hold, with a time that was taken");
  assert.equal(await page.locator(".timing-list li").count(), 1);
  await coverIsUp(page);
  await page.locator("#stage").focus();
  await page.keyboard.press("h");
  await toRest(page);
  await page.locator("#card input[type=radio]").nth(2).check();
  await killed("what was seen, not handed in");
  await answerCard(page, ANSWERS);
  await killed("explained");
  await goOn(page);
  await comesTo(page, "ask");
  await page.click("[data-place=slip]");
  await page.fill("#slip-note", "A note");
  await settled(page);
  await page.click("[data-place=plan]");
  await page.fill("#plan-title", "Half a plan");
  await page.fill("#plan-waterMl", "45");
  await page.click("[data-place=tally]");
  await page.fill("#tally-text", "slip1.cut");
  await page.click("#tally-add");
  await page.fill("#tally-text", "half a slip");
  await page.click("[data-place=data]");
  await page.getByLabel("Seconds, or m:ss, row 1").fill("23,5");
  await page.fill("#data-paste", "1\t2");
  await page.click("[data-place=bench]");
  await killed("a note on the slip, and half typed a plan, a line of the Tally and a row of times");
  await page.click("[data-place=slip]");
  assert.equal(await page.inputValue("#slip-note"), "A note");
  await settled(page);
  await page.click("[data-place=plan]");
  assert.equal(await page.inputValue("#plan-title"), "Half a plan");
  assert.equal(await page.inputValue("#plan-waterMl"), "45");
  assert.deepEqual(await onDesk(page), { box: "half a slip", pasted: "1", seconds: "23,5", paste: "1\t2" });
  await page.click("[data-place=slip]");
  // What is forgotten stays so.
  await page.click("#forget");
  await page.click("#forget-sure");
  await page.waitForFunction(() => /Forgotten/.test(document.getElementById("slip-said")?.textContent ?? ""));
  await device.kill();
  page = await opened();
  assert.equal(await page.locator("#keep-go-on").count(), 0);
  await settled(page);
  assert.deepEqual(await onDesk(page), { box: "", pasted: "", seconds: "", paste: "" });
  await page.click("[data-place=bench]");
  await press(page, "Free bench");
  await page.fill("#free-volume", "1,5");
  await page.locator("#free-beaker-0").uncheck();
  await page.locator("summary", { hasText: "Bath" }).click();
  await page.selectOption("#free-bath", "plate");
  await page.fill("#free-celsius", "55");
  await killed("a dose and a bath of the free bench, half typed");
  assert.equal(await page.inputValue("#free-bath"), "plate");
  assert.equal(await page.locator("#free-beaker-0").isChecked(), false);
  assert.deepEqual(complaints, []);
});

test("a tab that crashes is found again by the next one", async (t) => {
  const visited = await visit(t);
  const { page } = visited;
  await startLesson(page);
  await page.locator("#card input[type=radio][value=teal]").check();
  const before = await onCard(page);
  await page.goto(CRASH).catch(() => {});
  const answers = page.evaluate(() => true).catch(() => false);
  const late = new Promise((done) => setTimeout(() => done(false), ANSWER_MS));
  assert.equal(await Promise.race([answers, late]), false, "it did crash");
  const next = await nextTab(visited);
  await next.click("#keep-go-on");
  await comesTo(next, "ask");
  assert.deepEqual(await onCard(next), before);
  visited.seen.lateRequests.length = 0;
});

test("a machine that stops for a while goes on where it was", async (t) => {
  const { page, signal } = (await deviceOf(t)).at;
  await open(page, await origin());
  await startLesson(page);
  await answerCard(page, ANSWERS);
  await coverIsUp(page);
  await runsTo(page, 1);
  const [before, began] = [await seconds(page), Date.now()];
  signal("SIGSTOP");
  const stopped = Date.now();
  await new Promise((done) => setTimeout(done, STOP_MS));
  signal("SIGCONT");
  const slept = Date.now() - stopped;
  await page.waitForFunction(
    (was) => Number.parseFloat(document.querySelector(".controls .time")?.textContent ?? "") > was,
    before,
  );
  const after = await seconds(page);
  const most = (Date.now() - began - slept) / 1000 + 0.1 + 1;
  assert.ok(after - before <= most, `from ${before} s to ${after} s, at most ${most} s on`);
});
