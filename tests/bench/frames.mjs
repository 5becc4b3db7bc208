// Where a frame's time goes while three beakers run: processor time of the page's main thread, from the browser's own trace,
// frames with words and without. The processor is not slowed: a slowed one spins, and its spinning counts as work.
// On a busy machine only a comparison by turns says anything.
//
//   node tests/bench/frames.mjs [DIRECTORY_OF_A_PAGE ...]     www unless told; several are watched by turns

import { launchChromium, PAGE_ROOT, SCREENS } from "../browser/chromium.mjs";
import { ANSWERS, answerCard, comesTo, coverIsUp, startLesson } from "../browser/hands.mjs";
import { serve } from "../tools/serve.mjs";

const TURNS = 3;
const WATCHED_MS = 5000;
/** What the trace's events count as; another counts as what it stands in. @type {Record<string, string>} */
const KINDS = {
  FunctionCall: "script",
  UpdateLayoutTree: "style",
  Layout: "layout",
  PrePaint: "pre-paint",
  Paint: "paint",
  "LocalFrameView::RunPaintLifecyclePhase": "paint",
  Layerize: "layerize",
  "Canvas2DResourceProviderSharedImage::ProduceCanvasResource": "pictures handed over",
};
const CATEGORIES = ["-*", "devtools.timeline", "toplevel", "blink", "cc"];

/** @typedef {{ name: string, ph: string, pid: number, tid: number, ts: number, dur: number, tdur?: number }} Event */
/** @typedef {Record<string, number>} Frame ms by kind */

/** @param {Event[]} events of a trace @returns {{ frames: Frame[], words: Frame[] }} */
function framesOf(events) {
  const begins = events.filter(({ name }) => name === "FireAnimationFrame");
  const [{ pid, tid }] = begins;
  const main = events.filter((event) => event.ph === "X" && event.pid === pid && event.tid === tid);
  main.sort((one, other) => one.ts - other.ts || other.dur - one.dur);
  /** @type {{ end: number, kind: string }[]} */
  const open = [];
  /** @type {{ begins: boolean, frame: Frame }[]} */
  const tasks = [];
  for (const { name, ts, dur, tdur = dur } of main) {
    while (open.length > 0 && open[open.length - 1].end <= ts) open.pop();
    const around = open.at(-1)?.kind ?? "other";
    const kind = KINDS[name] ?? around;
    if (open.length === 0) tasks.push({ begins: false, frame: {} });
    const task = tasks[tasks.length - 1];
    if (name === "FireAnimationFrame") task.begins = true;
    task.frame[kind] = (task.frame[kind] ?? 0) + tdur / 1000;
    if (open.length > 0) task.frame[around] = (task.frame[around] ?? 0) - tdur / 1000;
    open.push({ end: ts + dur, kind });
  }
  // What is done between two frames counts with the one before.
  /** @type {Frame[]} */
  const frames = [];
  for (const { begins, frame } of tasks) {
    if (begins) frames.push(frame);
    else
      for (const [kind, ms] of Object.entries(frame)) {
        const before = frames.at(-1);
        if (before) before[kind] = (before[kind] ?? 0) + ms;
      }
  }
  return { frames: frames.filter(({ layout }) => !layout), words: frames.filter(({ layout }) => layout) };
}

/** @param {string} title @param {Frame[]} frames */
function tell(title, frames) {
  const mean = (/** @type {(frame: Frame) => number} */ of) =>
    (frames.reduce((sum, frame) => sum + of(frame), 0) / frames.length).toFixed(2);
  const kinds = [...new Set(Object.values(KINDS)), "other"].map(
    (kind) => `${kind} ${mean((frame) => frame[kind] ?? 0)}`,
  );
  const whole = mean((frame) => Object.values(frame).reduce((sum, ms) => sum + ms, 0));
  console.log(`${title}: ${frames.length} frames, ${whole} ms each: ${kinds.join(", ")}`);
}

const roots = process.argv.length > 2 ? process.argv.slice(2) : [PAGE_ROOT];
const browser = await launchChromium();
/** @type {Map<string, { frames: Frame[], words: Frame[] }>} */
const found = new Map(roots.map((root) => [root, { frames: [], words: [] }]));
for (let turn = 0; turn < TURNS; turn++)
  for (const [root, all] of found) {
    const server = await serve({ root });
    const context = await browser.newContext({ viewport: SCREENS.laptop });
    const page = await context.newPage();
    await page.goto(server.origin);
    await comesTo(page, "brief");
    await startLesson(page);
    await answerCard(page, ANSWERS);
    await coverIsUp(page);
    await browser.startTracing(page, { categories: CATEGORIES });
    await page.waitForTimeout(WATCHED_MS);
    const { traceEvents } = JSON.parse(String(await browser.stopTracing()));
    const { frames, words } = framesOf(traceEvents);
    all.frames.push(...frames);
    all.words.push(...words);
    await context.close();
    await server.close();
  }
await browser.close();
for (const [root, { frames, words }] of found) {
  tell(`${root}, without words`, frames);
  tell(`${root}, with words`, words);
}
