// A class that does not tire: guided lessons, the free bench and every place, at sixteen times the speed, by the page's own
// controls and by a chance that can be had again.

import assert from "node:assert/strict";
import { ANSWERS, answerCard, comesTo, coverIsUp, goOn, stage, startLesson, toSummary } from "./hands.mjs";

/** @typedef {import("playwright-core").Page} Page */
/** @typedef {() => number} Chance from 0 up to 1 */

/** Longest wait for the beakers to come to rest, ms. */
const REST_MS = 300_000;

/** A chance that is the same for the same seed (mulberry32, Tommy Ettinger; from memory). @param {number} seed @returns {Chance} */
export function chanceOf(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** @template T @param {Chance} chance @param {readonly T[]} all @returns {T} */
function oneOf(chance, all) {
  return all[Math.floor(chance() * all.length)];
}

/** @param {Page} page */
async function atFullSpeed(page) {
  await page.check("input[name=speed][value='16']");
}

/**
 * A guided lesson, from its brief to its last page, every question answered.
 * @param {Page} page
 * @param {number} level
 * @param {Chance} chance
 * @returns {Promise<string>} the check code that the page tells at the end
 */
export async function playGuided(page, level, chance) {
  await page.selectOption("#level", String(level));
  await startLesson(page);
  while ((await stage(page)) === "ask") {
    await answerCard(page, ANSWERS);
    await coverIsUp(page);
    await atFullSpeed(page);
    await page.locator("#stage").focus();
    // A student's own time, a look back and a hold change nothing of what runs.
    for (const key of oneOf(chance, [["1"], ["2", "3"], ["h", "h"], ["ArrowLeft", "End", "h"], []]))
      await page.keyboard.press(key);
    await page.waitForFunction(() => document.getElementById("bench-place")?.dataset.stage === "see", null, {
      timeout: REST_MS,
    });
    // A level that asks nothing here has a button alone.
    if ((await page.locator("fieldset.question").count()) === 0) await page.click("#card .card-foot button.primary");
    else await answerCard(page, ANSWERS);
    await comesTo(page, "explain");
    await goOn(page);
  }
  await toSummary(page);
  return page.locator("#card .code").innerText();
}

/** What can be done on the free bench, each as often as it stands here. */
const DEEDS = /** @type {const} */ ([
  ...Array(6).fill("acid"),
  ...Array(4).fill("base"),
  ...Array(3).fill("stir"),
  "off",
  ...Array(3).fill("bath"),
  "whatIf",
  "none",
  "torch",
  "hold",
  "beakers",
  "beakers",
]);

/**
 * The free bench for a while: pours, stirrers, baths and what-ifs.
 * @param {Page} page at the brief or at the end of a guided lesson
 * @param {number} minutes
 * @param {Chance} chance
 * @returns {Promise<{ code: string, deeds: number, refused: number }>} the check code of the beakers as they stand in the end
 */
export async function playFree(page, minutes, chance) {
  await page.locator("#card .card-foot button", { hasText: /free bench/i }).click();
  await comesTo(page, "free");
  await atFullSpeed(page);
  for (const part of await page.locator("#card details > summary").all()) await part.click();
  const until = Date.now() + 60_000 * minutes;
  let [deeds, refused] = [0, 0];
  while (Date.now() < until) {
    await act(page, oneOf(chance, DEEDS), chance);
    // Fresh beakers begin at the speed of a real one.
    await atFullSpeed(page);
    deeds += 1;
    refused += Number((await page.locator("#card .error").allInnerTexts()).some((words) => words !== ""));
    await page.waitForTimeout(2000 + 6000 * chance());
  }
  // On hold, so that what is kept and what is told are of the same moment.
  await page.click("#hold");
  return { code: await codeOfRun(page), deeds, refused };
}

/** @param {Page} page @param {string} deed @param {Chance} chance */
async function act(page, deed, chance) {
  const button = (/** @type {string} */ name) => page.getByRole("button", { name, exact: true }).click();
  switch (deed) {
    case "acid":
    case "base":
      await page.fill("#free-volume", (0.5 + 4 * chance()).toFixed(1));
      return button(deed === "acid" ? "Pour acid" : "Pour base");
    case "stir":
      await page.fill("#free-rpm", String(Math.round(50 + 700 * chance())));
      return button("Stir");
    case "off":
      return button("Stirrer off");
    case "bath": {
      const kind = oneOf(chance, ["bath", "room", "held", "plate"]);
      await page.selectOption("#free-bath", kind);
      if (kind === "bath" || kind === "plate") await page.fill("#free-celsius", (5 + 50 * chance()).toFixed(0));
      return button("Change the bath");
    }
    case "whatIf":
      await page.selectOption("#free-what-if", oneOf(chance, ["halfWater", "finer", "ice", "noIndicator"]));
      return button("Change the chosen beakers");
    case "none":
      return button("Take changes back");
    case "torch":
      return page.getByLabel("Lamp off, black card, torch").click();
    case "hold":
      await page.click("#hold");
      await page.waitForTimeout(1000);
      return page.click("#hold");
    case "beakers": {
      const boxes = await page.locator("#card fieldset:has(#free-beakers-error) input").all();
      const always = Math.floor(chance() * boxes.length);
      for (const [index, box] of boxes.entries()) await box.setChecked(index === always || chance() < 0.6);
      return;
    }
    default:
      assert.fail(`nobody knows how to do "${deed}"`);
  }
}

/** The check code up to now, as the name of a chart's file tells it. @param {Page} page @returns {Promise<string>} */
async function codeOfRun(page) {
  await page.click("[data-place=trace]");
  const [file] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "CSV", exact: true }).first().click(),
  ]);
  await page.click("[data-place=bench]");
  const [, code] = /-(\w{4}-\w{4})\.csv$/.exec(file.suggestedFilename()) ?? [];
  await file.delete();
  assert.ok(code, `no code in ${file.suggestedFilename()}`);
  return code;
}

/**
 * From the free bench to the brief, then to every place, which shows a lesson that has not begun, and to another language and
 * back: from here like can be weighed with like.
 * @param {Page} page
 */
export async function walkAround(page) {
  await page.getByRole("button", { name: "Guided lesson", exact: true }).click();
  await comesTo(page, "brief");
  await page.selectOption("#level", "2");
  for (const sign of await page.locator("#places button:visible").all()) {
    await sign.click();
    await page.waitForTimeout(300);
  }
  for (const tag of ["es", "en"]) {
    await page.selectOption("#language", tag);
    await page.waitForFunction((wanted) => document.documentElement.lang === wanted, tag);
    await page.waitForTimeout(300);
  }
  await page.click("[data-place=bench]");
}

/** What the device keeps of the lesson that this tab is at. @param {Page} page @returns {Promise<string>} */
export function keptText(page) {
  return page.evaluate(
    () => JSON.parse(localStorage.getItem(sessionStorage.getItem("turnback.mine") ?? "") ?? "{}").kept ?? "",
  );
}
