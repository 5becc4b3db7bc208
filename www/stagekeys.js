// The keys of the stage: the clock, the student's own times, and a look back, without leaving the beakers.

import { SPEEDS } from "./controls.js";

/** One press of an arrow key looks this far back or forward, s. */
const LOOK_STEP_S = 5;

/**
 * Lets the stage listen to its keys. They act only while it has the focus, so they take no letter from a screen reader or a
 * text field.
 * @param {import("./engine.js").Engine} engine
 * @param {import("./bench.js").Bench} bench
 * @param {import("./clock.js").Clock} clock
 * @param {import("./timing.js").Timing} timing
 */
export function listenToStage(engine, bench, clock, timing) {
  bench.stage.addEventListener("keydown", (event) => {
    if (event.target !== bench.stage || event.ctrlKey || event.altKey || event.metaKey) return;
    const state = engine.state();
    const shown = clock.shown(state);
    const place = SPEEDS.indexOf(state.speed);
    /** @type {Record<string, () => void>} */
    const acts = {
      " ": () => clock.holdOrCarryOn(),
      h: () => clock.holdOrCarryOn(),
      n: () => clock.next(),
      ...Object.fromEntries(["1", "2", "3"].map((key, beaker) => [key, () => timing.mark(beaker)])),
      "+": () => clock.setSpeed(SPEEDS[Math.min(place + 1, SPEEDS.length - 1)]),
      "-": () => clock.setSpeed(SPEEDS[Math.max(place - 1, 0)]),
      ArrowLeft: () => clock.look(shown - LOOK_STEP_S),
      ArrowRight: () => clock.look(shown + LOOK_STEP_S),
      Home: () => clock.look(bench.ribbons.span.from),
      End: () => clock.look(state.now),
    };
    const act = acts[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    if (!act) return;
    event.preventDefault();
    act();
  });
}
