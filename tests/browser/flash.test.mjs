// Nothing flashes more than three times a second, whatever the bench does (WCAG 2.2, success criterion 2.3.1).

import assert from "node:assert/strict";
import { test } from "node:test";
import { FlashGuard } from "../../www/flash.js";
import { press, stage } from "./hands.mjs";
import { SCREENS, visit } from "./harness.mjs";
import { still } from "./waits.mjs";

/** A flash is a pair of opposing changes. */
const MOST_FLASHES = 3;
const RED = /** @type {const} */ ([255, 121, 102]);
const BLUE = /** @type {const} */ ([39, 113, 153]);

/**
 * The most flashes within any second of a row of shown colours, counted without the guard: a turn is a change of relative
 * luminance by a tenth against the direction before.
 * @param {{at: number, red: number, green: number, blue: number}[]} shown
 */
function mostFlashes(shown) {
  const light = (/** @type {number} */ value) =>
    value / 255 <= 0.04045 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4;
  /** @type {number[]} */
  const turns = [];
  let extreme = Number.NaN;
  let direction = 0;
  for (const { at, red, green, blue } of shown) {
    const luminance = 0.2126 * light(red) + 0.7152 * light(green) + 0.0722 * light(blue);
    if (Number.isNaN(extreme)) extreme = luminance;
    const change = luminance - extreme;
    if (Math.sign(change) === direction) extreme = luminance;
    else if (Math.abs(change) >= 0.1) {
      turns.push(at);
      direction = Math.sign(change);
      extreme = luminance;
    }
  }
  return Math.max(0, ...turns.map((from) => turns.filter((at) => at >= from && at < from + 1000).length)) / 2;
}

test("a liquid that turns red and back ten times a second is held to three flashes", () => {
  const guard = new FlashGuard();
  const wild = [];
  const shown = [];
  let last = null;
  for (let at = 0; at < 5000; at += 16) {
    const [red, green, blue] = Math.floor(at / 50) % 2 ? RED : BLUE;
    wild.push({ at, red, green, blue });
    if (guard.allows(red, green, blue, at)) last = { red, green, blue };
    if (last) shown.push({ at, ...last });
  }
  assert.ok(mostFlashes(wild) > 9, "the unguarded colours do flash");
  assert.ok(mostFlashes(shown) <= MOST_FLASHES, `${mostFlashes(shown)} flashes`);
});

test("a lesson's own changes are never held back", () => {
  const guard = new FlashGuard();
  for (let at = 0; at < 10_000; at += 16) {
    // Red at once and back over a second, every two seconds.
    const share = Math.min(1, (at % 2000) / 1000);
    const mix = (/** @type {number} */ part) => RED[part] + share * (BLUE[part] - RED[part]);
    assert.ok(guard.allows(mix(0), mix(1), mix(2), at), `at ${at} ms`);
  }
});

test("pouring again and again at speed 16 into hot beakers shows no more than three flashes a second", async (t) => {
  // Reading pixels back is this test's wish, and Chromium's advice on it is none for the page.
  const { page } = await visit(t, { expected: [/willReadFrequently/] });
  await press(page, "Plan");
  for (const beaker of [0, 2]) await page.fill(`#plan-beaker-${beaker}-celsius`, "60");
  await page.getByRole("button", { name: "Use this recipe" }).click();
  await press(page, "Free bench");
  assert.equal(await stage(page), "free");
  await page.check("input[name=speed][value='16']");
  const shown = await page.evaluate(async () => {
    /** @type {{at: number, red: number, green: number, blue: number}[]} */
    const seen = [];
    const canvas = /** @type {HTMLCanvasElement} */ (document.querySelectorAll(".glass canvas")[2]);
    const context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
    const until = performance.now() + 8000;
    const pours = [...document.querySelectorAll("#card button")].filter((one) => /Pour/.test(one.textContent ?? ""));
    let turn = 0;
    while (performance.now() < until) {
      if (turn++ % 6 === 0) /** @type {HTMLElement} */ (pours[(turn / 6) % 2 < 1 ? 0 : 1]).click();
      await new Promise((next) => requestAnimationFrame(next));
      const [red, green, blue] = context.getImageData(
        Math.floor(canvas.width * 0.4),
        Math.floor(canvas.height * 0.7),
        1,
        1,
      ).data;
      seen.push({ at: performance.now(), red, green, blue });
    }
    return seen;
  });
  const flashes = mostFlashes(shown);
  t.diagnostic(`${shown.length} frames in 8 s, at most ${flashes} flashes within a second`);
  assert.ok(flashes > 0, "something was poured and seen");
  assert.ok(flashes <= MOST_FLASHES);
});

test("a picture that gets other pixels shows the old one until the new one is there, and is never black between", async (t) => {
  const { page } = await visit(t, { expected: [/willReadFrequently/] });
  await still(page);
  await page.evaluate(() => {
    const canvas = /** @type {HTMLCanvasElement} */ (document.querySelector(".glass canvas"));
    const context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
    const seen = { frames: 0, black: 0, widths: new Set() };
    Object.assign(globalThis, { seen });
    const look = () => {
      const [x, y] = [0.4, 0.7].map((share, at) => Math.floor(share * (at === 0 ? canvas.width : canvas.height)));
      const { data } = context.getImageData(x, y, 1, 1);
      seen.frames++;
      seen.widths.add(canvas.width);
      if (data[0] + data[1] + data[2] === 0) seen.black++;
      setTimeout(look);
    };
    look();
  });
  for (const screen of [SCREENS.phone, SCREENS.laptop]) {
    await page.setViewportSize(screen);
    await still(page);
  }
  const { frames, black, widths } = await page.evaluate(() => {
    const { seen } = /** @type {any} */ (globalThis);
    return { ...seen, widths: seen.widths.size };
  });
  t.diagnostic(`${frames} looks`);
  assert.ok(widths > 1, "the picture did get other pixels");
  assert.equal(black, 0);
});
