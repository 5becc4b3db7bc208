// What a student does is kept, handed in, counted and told again: the round of a lesson, from the plan to the tally.

import assert from "node:assert/strict";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import {
  ANSWERS,
  answerCard,
  comesTo,
  coverIsUp,
  goOn,
  letLeave,
  playDose,
  press,
  stage,
  startLesson,
  toRest,
} from "./hands.mjs";
import { open, reload, saved, screenshot, visit } from "./harness.mjs";
import { runsTo, soon } from "./waits.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** Words without the spaces that no line breaks at. @param {import("playwright-core").Locator} place */
async function words(place) {
  return (await place.innerText()).replace(/\u00a0/g, " ");
}

/**
 * Loads the page anew: what it asks for meanwhile is its loading.
 * @param {{ page: Page, seen: { lateRequests: string[] } }} visited
 */
async function again({ page, seen }) {
  const before = seen.lateRequests.length;
  await reload(page);
  seen.lateRequests.length = before;
}

/** A planned lesson of one dose: its link. @param {import("node:test").TestContext} t */
async function plannedLink(t) {
  const { page } = await visit(t);
  await page.click("[data-place=plan]");
  await page.fill("#plan-acidDoses", "1");
  await page.fill("#plan-baseDoses", "0");
  await page.fill("#plan-restS", "60");
  await page.getByRole("button", { name: "Use this recipe" }).click();
  await page.click("[data-place=plan]");
  const link = await page.inputValue("#plan-link");
  letLeave(page);
  return { teacher: page, fragment: new URL(link).hash };
}

/** One student's lesson, to its end. @param {Page} page @param {Record<string, string>} answers */
async function play(page, answers) {
  await startLesson(page, answers);
  await answerCard(page, answers);
  await toRest(page);
  await answerCard(page, answers);
  await comesTo(page, "explain");
  await goOn(page);
  await comesTo(page, "end");
}

/** What the Tally shows of a question: the words of each answer. @param {Page} page @param {string} question */
function answersOf(page, question) {
  return page
    .locator(`[data-question="${question}"] .raised li`)
    .evaluateAll((found) => found.map((item) => (item.textContent ?? "").replace(/\u00a0/g, " ")));
}

test("a lesson is planned, three students open its link, and their slips, by file, by line and damaged, are counted right", async (t) => {
  const { teacher, fragment } = await plannedLink(t);

  const ada = await visit(t, { path: `/${fragment}` });
  letLeave(ada.page);
  await play(ada.page, { ...ANSWERS, "2.whatAcidDoes": "react", atRest: "blue" });
  await ada.page.click("[data-place=slip]");
  await ada.page.fill("#slip-signed", "=Ada");
  await ada.page.fill("#slip-note", "<b>Was it</b> slow?");
  const { name, bytes } = await saved(ada.page, () => ada.page.click("#slip-save"));
  const file = bytes.toString("utf8");
  assert.match(file, /Acid dose 1, your guess: At once: red; At rest: blue/);
  assert.match(name, /^turnback-slip-Ada\.txt$/);
  assert.deepEqual(await barriers(ada.page), []);
  await screenshot(ada.page, "slip");

  // Downloads blocked: the line still works.
  const ben = await visit(t, { path: `/${fragment}` });
  letLeave(ben.page);
  await play(ben.page, { ...ANSWERS, "2.whatAcidDoes": "mixes", atRest: "red" });
  await ben.page.click("[data-place=slip]");
  const line = await ben.page.inputValue("#slip-line");
  assert.match(line, /^slip1\.[\w-]+$/);

  const cleo = await visit(t, { path: `/${fragment}` });
  letLeave(cleo.page);
  await play(cleo.page, { ...ANSWERS, atRest: "green" });
  await cleo.page.click("[data-place=slip]");
  const damaged = (await cleo.page.inputValue("#slip-line")).replace(
    /^(.{30})(.)/,
    (_, head, sign) => head + (sign === "A" ? "B" : "A"),
  );

  await teacher.click("[data-place=tally]");
  await teacher.setInputFiles("#tally-files", [
    { name: "ada.txt", mimeType: "text/plain", buffer: Buffer.from(file) },
    { name: "cleo.txt", mimeType: "text/plain", buffer: Buffer.from(damaged) },
    { name: "other.json", mimeType: "application/json", buffer: Buffer.from('{"score": 3}') },
    { name: "long.txt", mimeType: "text/plain", buffer: Buffer.alloc(10_000_000, "a") },
  ]);
  await teacher.waitForSelector(".tally-aside");
  await teacher.fill("#tally-text", `Ben's slip: ${line.slice(0, 50)}\r\n> ${line.slice(50)}\n`);
  await teacher.click("#tally-add");
  await teacher.waitForFunction(() => document.querySelector(".tally")?.textContent?.includes("2 of 5"));
  const aside = await words(teacher.locator(".tally-aside"));
  assert.match(aside, /cleo\.txt: something in it was altered/);
  assert.match(aside, /other\.json: no slip of this page/);
  assert.match(aside, /long\.txt: far too long/);
  assert.deepEqual((await answersOf(teacher, "guess/0/atRest")).sort(), ["blue: 1 (so it was)", "red: 1"].sort());
  assert.match(await words(teacher.locator(".tally-ideas")), /1 of 2: .*Read|1 of 2: /);
  const table = await words(teacher.locator(".tally table").last());
  assert.match(table, /ada\.txt\s+=Ada/);
  assert.match(table, /<b>Was it<\/b> slow\?/, "markup is words");
  assert.deepEqual(await barriers(teacher), []);
  await screenshot(teacher, "tally");

  const csv = await saved(teacher, () => teacher.click("#tally-csv"));
  const text = csv.bytes.toString("utf8");
  assert.match(text, /'=Ada/);
  assert.doesNotMatch(text, /(^|,)=Ada/m);

  await teacher.evaluate((content) => {
    const dropped = new DataTransfer();
    dropped.items.add(new File([content], "ada again.txt"));
    const event = new DragEvent("drop", { dataTransfer: dropped, bubbles: true, cancelable: true });
    document.querySelector(".tally-drop")?.dispatchEvent(event);
  }, file);
  await teacher.waitForFunction(() =>
    document.querySelector(".tally-aside")?.textContent?.includes("ada again.txt: the same slip"),
  );
});

test("a reload in the middle of each step loses nothing", async (t) => {
  const visited = await visit(t);
  const { page } = visited;
  letLeave(page);
  /** What is to be the same. */
  const state = async () => ({
    stage: await stage(page),
    flags: await page.locator(".flag, .guess-flag").count(),
    card: await words(page.locator("#card-heading")),
    checked: await page
      .locator("#card input[type=radio]:checked")
      .evaluateAll((found) => found.map((one) => /** @type {HTMLInputElement} */ (one).value)),
    typed: await page
      .locator("#card textarea")
      .evaluateAll((found) => found.map((one) => /** @type {HTMLTextAreaElement} */ (one).value)),
  });
  /** @param {string} step */
  const reloads = async (step) => {
    const before = await state();
    await again(visited);
    await page.waitForFunction(
      (wanted) => document.getElementById("bench-place")?.dataset.stage === wanted,
      before.stage,
    );
    assert.deepEqual(await state(), before, step);
  };
  await press(page, "Start the lesson");
  await page.locator("#card input[type=radio]").nth(1).check();
  await reloads("a choice of the brief, not handed in");
  await answerCard(page, {});
  await reloads("the first question of the card");
  await page.locator("#card input[type=radio][value=orange]").check();
  await reloads("an answer, not locked");
  await page.locator("#card button.primary").click();
  await page.locator("#card input[type=radio][value=teal]").check();
  await reloads("the second answer, not locked");
  await answerCard(page, ANSWERS);
  await coverIsUp(page);
  await runsTo(page, 2);
  await page.locator("#stage").focus();
  await page.keyboard.press("h");
  const when = await words(page.locator(".controls .time"));
  await reloads("half way through the watching");
  // The bar tells the time with the first frame.
  await runsTo(page, 0);
  assert.equal(await words(page.locator(".controls .time")), when, "the clock stands where it stood");
  assert.match(await words(page.locator("#card .answers")), /teal|blue/, "what was locked can still be read");
  await page.locator("#stage").focus();
  await page.keyboard.press("h");
  await toRest(page);
  await reloads("at rest");
  await answerCard(page, ANSWERS);
  await reloads("explained");
  await goOn(page);
  await comesTo(page, "ask");
  await page.click("[data-place=slip]");
  await page.fill("#slip-note", "Half a sentence");
  const line = await page.inputValue("#slip-line");
  await again(visited);
  await comesTo(page, "ask");
  await page.click("[data-place=slip]");
  assert.equal(await page.inputValue("#slip-note"), "Half a sentence");
  assert.equal(await page.inputValue("#slip-line"), line);
  await page.click("[data-place=ledger]");
  await press(page, "My own");
  await page.fill("#own-1-solidLeftG", "1,02");
  await page.selectOption("#own-1-limiting", "acid");
  await again(visited);
  await comesTo(page, "ask");
  await page.click("[data-place=ledger]");
  await press(page, "My own");
  assert.equal(await page.inputValue("#own-1-solidLeftG"), "1,02", "one's own books");
  assert.equal(await page.inputValue("#own-1-limiting"), "acid");
});

test("capability 11: a time is taken against its finish, a wrong press is taken back and stays, the computed time comes after", async (t) => {
  const { page } = await visit(t);
  letLeave(page);
  await startLesson(page);
  await answerCard(page, ANSWERS);
  await coverIsUp(page);
  await runsTo(page, 1);
  // On hold, so that the beaker is not back before all of this was looked at.
  await page.click("#hold");
  assert.match(await words(page.locator(".timing")), /Press when the whole liquid is green/);
  assert.deepEqual(await barriers(page), []);
  await page.locator("#stage").focus();
  await page.keyboard.press("2");
  await page.waitForSelector(".timing-list li");
  assert.match(
    await words(page.locator(".timing-list")),
    /21 °C \(21\.\d °C\), all green: you pressed at \d+\.\d s\. Computed: not yet\./,
  );
  await page.locator(".timing-list button").click();
  assert.match(await words(page.locator(".timing-list")), /taken back/);
  await page.click("#hold");
  await page.click("#next");
  const warm = page.locator(".timing-buttons button").nth(2);
  await warm.and(page.locator("[aria-disabled=true]")).waitFor();
  await warm.click({ force: true });
  assert.equal(await page.locator(".timing-list li").count(), 1, "no own time is to be had of a leap");
  await page.selectOption("#finish", "teal");
  await page.check("input[name=speed][value='16']");
  // The beaker of 21 °C is teal by then.
  await runsTo(page, 60);
  await page.locator(".timing-buttons button").nth(1).click();
  assert.match(
    await words(page.locator(".timing-list li").nth(1)),
    /all teal: you pressed at \d+\.\d s\. Computed: \d+\.\d s\./,
  );
  await screenshot(page, "timing");
  await comesTo(page, "see");
  await answerCard(page, ANSWERS);
  await page.click("[data-place=slip]");
  const slip = await words(page.locator(".slip-what"));
  assert.match(slip, /all green: \d+\.\d s, taken back/);
  assert.match(slip, /all teal: you pressed at/);
});

test("where storage is forbidden the page says so before anything is lost, and asks before it is left", async (t) => {
  const visited = await visit(t, {
    beforeLoad: (fresh) =>
      fresh.addInitScript(() => {
        Object.defineProperty(window, "localStorage", {
          get() {
            throw new DOMException("forbidden", "SecurityError");
          },
        });
      }),
  });
  const { page } = visited;
  await press(page, "Start the lesson");
  if ((await stage(page)) === "brief") await answerCard(page, {});
  assert.match(await words(page.locator("#trouble")), /keeps nothing.*Hand in your slip first/);
  let asked = 0;
  page.on("dialog", (dialog) => {
    asked += 1;
    return dialog.accept();
  });
  await page.click("[data-place=slip]");
  assert.match(await words(page.locator("#slip-kept")), /keeps nothing/);
  await again(visited);
  await comesTo(page, "brief");
  assert.equal(asked, 1);
});

test("where storage is full the page says so before anything is lost, and keeps again once there is room", async (t) => {
  const visited = await visit(t, {
    beforeLoad: (fresh) =>
      fresh.addInitScript(() => {
        const { setItem } = Storage.prototype;
        Storage.prototype.setItem = function (key, value) {
          if ("isFull" in globalThis && value !== "") throw new DOMException("full", "QuotaExceededError");
          return setItem.call(this, key, value);
        };
        Object.assign(globalThis, { isFull: true });
      }),
  });
  const { page } = visited;
  letLeave(page);
  await press(page, "Start the lesson");
  if ((await stage(page)) === "brief") await answerCard(page, {});
  assert.match(await words(page.locator("#trouble")), /full/);
  await page.click("[data-place=slip]");
  assert.match(await words(page.locator("#slip-kept")), /full/);
  await page.evaluate(() => Reflect.deleteProperty(globalThis, "isFull"));
  await page.fill("#slip-note", "There is room again");
  await page.waitForFunction(() => Object.keys(localStorage).some((key) => key.startsWith("turnback.kept.")));
});

test("two tabs keep their own, the newest is offered, and everything can be forgotten", async (t) => {
  const visited = await visit(t);
  const { page } = visited;
  letLeave(page);
  await startLesson(page, { "2.whatAcidDoes": "eats" });
  const second = await page.context().newPage();
  letLeave(second);
  await open(second, page.url());
  await second.waitForSelector("#keep-go-on");
  visited.seen.lateRequests.length = 0;
  assert.match(await words(second.locator(".offer")), /begun is kept on this device/);
  assert.deepEqual(await barriers(second), []);
  await second.click("#keep-go-on");
  await comesTo(second, "ask");
  await answerCard(second, ANSWERS);
  // Firefox gives a tab behind another no frames.
  await page.bringToFront();
  await answerCard(page, { ...ANSWERS, atRest: "red" });
  const kept = () => page.evaluate(() => Object.keys(localStorage).length);
  // What one tab has put away is seen by the other when the browser has told it.
  await soon(async () => assert.equal(await kept(), 2, "each tab has its own"));
  await again(visited);
  await comesTo(page, "watch");
  assert.match(await words(page.locator("#card .answers")), /At rest\s+red/);
  await second.bringToFront();
  await reload(second);
  await comesTo(second, "watch");
  visited.seen.lateRequests.length = 0;
  assert.match(await words(second.locator("#card .answers")), /At rest\s+blue/);
  await page.bringToFront();
  await page.click("[data-place=slip]");
  await page.click("#forget");
  await page.click("#forget-sure");
  // It says so when the database, too, has let go of it.
  await page.locator("#slip-said", { hasText: "Forgotten" }).waitFor();
  // The other tab lets go as well, and says why: else it would keep all of its lesson again in two seconds.
  await second.locator("#trouble", { hasText: "forgotten in another tab" }).waitFor();
  assert.equal(await stage(second), "brief");
  await second.close();
  await soon(async () => assert.equal(await kept(), 0));
  assert.equal(await stage(page), "brief");
  await again(visited);
  await comesTo(page, "brief");
  assert.equal(await page.locator("#keep-go-on").count(), 0);
});

test("capability 19 and 10: a run is told again by its link, asks first, tells the class's guess after, and has the class's code", async (t) => {
  const { teacher } = await plannedLink(t);
  await teacher.click("[data-place=bench]");
  await play(teacher, { ...ANSWERS, atRest: "red", why: "Ada says so" });
  await teacher.click("[data-place=retell]");
  const link = new URL(await teacher.inputValue("#retell-link"));
  assert.match(link.hash, /^#run1\./);
  const home = await visit(t, { path: `/${link.hash}` });
  letLeave(home.page);
  await comesTo(home.page, "brief");
  await home.page.click("[data-place=retell]");
  assert.match(await words(home.page.locator(".retold")), /The class poured 1 doses/);
  assert.deepEqual(await barriers(home.page), []);
  await screenshot(home.page, "retell");
  await home.page.click("[data-place=bench]");
  await startLesson(home.page);
  assert.equal(await stage(home.page), "ask");
  await answerCard(home.page, ANSWERS);
  await again(home);
  // The class went from event to event, and so does its telling: perhaps it is at rest by now.
  await home.page.waitForFunction(() => /watch|see/.test(document.getElementById("bench-place")?.dataset.stage ?? ""));
  if ((await stage(home.page)) === "watch") await toRest(home.page);
  await answerCard(home.page, ANSWERS);
  let read = "";
  const forward = home.page.locator("#card .card-foot button.primary");
  while ((await stage(home.page)) === "explain") {
    read += await words(home.page.locator("#card"));
    await forward.click();
  }
  assert.match(read, /What the class had guessed/);
  assert.match(read, /At rest: red\. It was not so\./);
  assert.doesNotMatch(read, /Ada/);
  await home.page.click("[data-place=retell]");
  assert.match(await words(home.page.locator(".retold")), /Your check code is the class's/);
});

test("slip, retell and tally can be read on a phone and in grey", async (t) => {
  const { page } = await visit(t, { screen: { width: 390, height: 844 } });
  letLeave(page);
  await startLesson(page);
  await playDose(page);
  for (const place of ["slip", "retell", "tally"]) {
    await page.click(`[data-place=${place}]`);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    assert.ok(wide <= 0, `${place}: ${wide} px too wide`);
    assert.deepEqual(await barriers(page), []);
    await screenshot(page, `${place}-phone`);
  }
});
