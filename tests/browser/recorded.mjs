// Recordings for the tests: what a probe would have recorded of the model's own beaker, as a file; and how a teacher opens it.

import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { PAGE_ROOT } from "./chromium.mjs";
import { press } from "./hands.mjs";
import { visit } from "./harness.mjs";
import { PATIENCE_MS } from "./waits.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** @type {Promise<any> | undefined} */
let starting;

/** The core itself with all that the desk asks of it, outside of any page. */
export async function core() {
  starting ??= (async () => {
    const {
      default: start,
      startPart,
      Turnback,
    } = await import(new URL(`file://${join(PAGE_ROOT, "pkg/turnback.js")}`).href);
    await start({ module_or_path: await readFile(join(PAGE_ROOT, "pkg/turnback_bg.wasm")) });
    const desk = new Uint8Array(await readFile(join(PAGE_ROOT, "pkg/turnback_desk.wasm")));
    await startPart(new Response(desk, { headers: { "content-type": "application/wasm" } }));
    return Turnback;
  })();
  return new (await starting)();
}

/**
 * A recording of our scenario's beaker, computed by the core and shaken by a fixed pattern of 0.02 pH.
 * @param {number} celsius @param {number[]} dosesS @param {number} seconds how long @param {number} lagS of the electrode
 * @param {number} [stepS] between two readings
 * @returns {Promise<string>} a comma file with points
 */
export async function recorded(celsius, dosesS, seconds, lagS, stepS = 1) {
  const twin = (await core()).desk();
  const times = Array.from({ length: Math.round(seconds / stepS) }, (_, row) => (row * stepS).toFixed(1));
  const csv = (/** @type {(at: number) => string} */ ph) =>
    `Time (s),pH\n${times.map((time, at) => `${time},${ph(at)}`).join("\n")}\n`;
  const blank = twin.readProbe(0, Buffer.from(csv(() => "7")), []);
  if (!blank.ok) throw new Error(blank.key);
  const laid = twin.overlayProbe(Float64Array.of(0, celsius, ...dosesS), lagS, false, times.length);
  if (!laid.ok) throw new Error(laid.key);
  const computed = twin.probeColumn(0, "computed");
  const shaken = (/** @type {number} */ at) => 0.02 * (((at * 7919) % 13) / 6 - 1);
  return csv((at) => (computed[at] + shaken(at)).toFixed(3));
}

/** Where the probes' own files lie. */
export const files = fileURLToPath(new URL("../probe/files/", import.meta.url));

/** @typedef {{name: string, mimeType: string, buffer: Buffer}} File @param {string} name @param {string} text @returns {File} */
export const file = (name, text) => ({ name, mimeType: "text/csv", buffer: Buffer.from(text) });

/** Opens files as a teacher does, and waits until all are listed or one is refused. @param {Page} page @param {string | string[] | File[]} opened */
export async function open(page, opened) {
  const before = await page.locator(".recording").count();
  await page.setInputFiles("#data-file", opened);
  await page.waitForFunction(
    (count) =>
      document.querySelectorAll(".recording").length >= count ||
      document.querySelector("#data-file")?.closest("div")?.querySelector(".error")?.textContent,
    before + (Array.isArray(opened) ? opened.length : 1),
    { timeout: PATIENCE_MS },
  );
}

/** Unfolds a recording, which folds where another is opened. @param {Page} page @param {number} at */
export function unfold(page, at) {
  return page
    .locator(".recording")
    .nth(at)
    .evaluate((box) => box.setAttribute("open", ""));
}

/** Our data with the recording of two doses, laid beside the model. @param {import("node:test").TestContext} t @param {Parameters<typeof visit>[1]} [how] */
export async function laid(t, how) {
  const { page, seen } = await visit(t, how);
  await press(page, "Our data");
  await open(page, `${files}comma-points.csv`);
  await page.fill("#data-0-celsius", "21");
  await press(page, "Lay the model beside it");
  return { page, seen };
}
