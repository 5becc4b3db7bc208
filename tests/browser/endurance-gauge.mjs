// What a page weighs while it runs for hours: memory, nodes, frames, long tasks. Nothing of it is in the page that is
// delivered: the gauge is put in front of the page's scripts by the browser's own tools.

import { readFile } from "node:fs/promises";

/** @typedef {import("playwright-core").Page} Page */

/**
 * @typedef {object} Weighed
 * @property {number} heapBytes of JavaScript, after a forced collection
 * @property {number} coreBytes the linear memory of the compiled cores, the bench's and the desk's; it never shrinks
 * @property {number} nodes of every document
 * @property {number} listeners
 * @property {number} processBytes resident and anonymous, of the largest process that draws pages
 * @property {number} framesPerS while frames follow each other
 * @property {number} longTasks longer than 50 ms, since the last weighing
 * @property {number} longTaskMs in sum
 */

/** Runs in the page, before its scripts: counts frames and long tasks, and takes note of the cores' memory. */
function listenIn() {
  const gauge = {
    frames: 0,
    frameMs: 0,
    frameAt: 0,
    longTasks: 0,
    longTaskMs: 0,
    memories: /** @type {WebAssembly.Memory[]} */ ([]),
  };
  Object.assign(globalThis, { gauge });
  const ask = globalThis.requestAnimationFrame.bind(globalThis);
  globalThis.requestAnimationFrame = (callback) =>
    ask((at) => {
      const since = at - gauge.frameAt;
      // Frames that are further apart do not follow each other: the clock stood meanwhile.
      if (since > 0 && since < 500) {
        gauge.frames += 1;
        gauge.frameMs += since;
      }
      gauge.frameAt = at;
      callback(at);
    });
  new PerformanceObserver((list) => {
    for (const task of list.getEntries()) {
      gauge.longTasks += 1;
      gauge.longTaskMs += task.duration;
    }
  }).observe({ type: "longtask" });
  for (const name of /** @type {const} */ (["instantiate", "instantiateStreaming"])) {
    const make = /** @type {any} */ (WebAssembly[name]);
    Object.assign(WebAssembly, {
      [name]: async (/** @type {unknown[]} */ ...given) => {
        const made = await make.apply(WebAssembly, given);
        const { memory } = (made.instance ?? made).exports;
        // The desk's part works in the bench's memory, and has none of its own.
        if (memory) gauge.memories.push(memory);
        return made;
      },
    });
  }
}

/** Puts the gauge before the scripts of the next load. @param {Page} page */
export async function placeGauge(page) {
  await page.addInitScript(listenIn);
}

/**
 * Weighs a page that carries the gauge.
 * @param {Page} page
 * @param {import("playwright-core").CDPSession} tools of the page
 * @param {import("playwright-core").CDPSession} browserTools of its browser
 * @returns {Promise<Weighed>}
 */
export async function weigh(page, tools, browserTools) {
  // Twice: what a finaliser lets go of goes with the second.
  await tools.send("HeapProfiler.collectGarbage");
  await tools.send("HeapProfiler.collectGarbage");
  const { usedSize } = await tools.send("Runtime.getHeapUsage");
  const { nodes, jsEventListeners } = await tools.send("Memory.getDOMCounters");
  const seen = await page.evaluate(() => {
    const gauge = /** @type {any} */ (globalThis).gauge;
    const { frames, frameMs, longTasks, longTaskMs } = gauge;
    Object.assign(gauge, { frames: 0, frameMs: 0, longTasks: 0, longTaskMs: 0 });
    /** @type {WebAssembly.Memory[]} */
    const memories = gauge.memories;
    const coreBytes = memories.reduce((sum, { buffer }) => sum + buffer.byteLength, 0);
    return { frames, frameMs, longTasks, longTaskMs, coreBytes };
  });
  const { processInfo } = await browserTools.send("SystemInfo.getProcessInfo");
  const drawing = processInfo.filter(({ type }) => type === "renderer").map(({ id }) => residentBytes(id));
  return {
    heapBytes: usedSize,
    coreBytes: seen.coreBytes,
    nodes,
    listeners: jsEventListeners,
    processBytes: Math.max(...(await Promise.all(drawing))),
    framesPerS: seen.frames === 0 ? 0 : (1000 * seen.frames) / seen.frameMs,
    longTasks: seen.longTasks,
    longTaskMs: seen.longTaskMs,
  };
}

/** The memory that a process has for itself alone. @param {number} id @returns {Promise<number>} */
async function residentBytes(id) {
  const status = await readFile(`/proc/${id}/status`, "utf8").catch(() => "");
  return 1024 * Number(/^RssAnon:\s+(\d+) kB/m.exec(status)?.[1] ?? 0);
}
