// Recordings for the tests: what a probe would have recorded of the model's own beaker, as a file.

import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { PAGE_ROOT } from "./chromium.mjs";

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
