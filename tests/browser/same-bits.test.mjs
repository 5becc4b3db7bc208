// The same lesson gives the same bits everywhere: ten lessons natively, in
// Chromium and in Firefox, each looked at in another way. Frame rate, speed and
// sampling change nothing.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { before, test } from "node:test";
import { BROWSER, visit } from "./harness.mjs";

/** @typedef {{ name: string, codes: string[], ph: number[] }} Played */

/** @type {any[]} */
let lessons;
/** @type {Played[]} what tests/same_bits.rs found */
let natively;

before(async () => {
  const here = (/** @type {string} */ path) => new URL(path, import.meta.url);
  lessons = JSON.parse(await readFile(here("lessons.json"), "utf8"));
  const found = await readFile(here("../../target/same-bits.json"), "utf8").catch(() => {
    throw new Error("The native run is missing. Make it with: cargo test --test same_bits");
  });
  natively = JSON.parse(found);
});

/**
 * Play a lesson as tests/same_bits.rs does. Runs in the page.
 * @param {{ lesson: any, look: { speed: number, tickS: number | null, paints: boolean } }} what
 *   a tick of null goes from event to event
 * @returns {Promise<Played>}
 */
async function play({ lesson, look }) {
  // Started by the visit.
  const { Turnback } = await import(/** @type {any} */ ("/pkg/turnback.js"));
  const core = new Turnback();
  const done = (/** @type {any} */ reply) => {
    if (!reply.ok) throw new Error(`${lesson.name}: ${JSON.stringify(reply)}`);
  };
  const form = core.fields();
  const recipe = Object.fromEntries(form.fields.map((/** @type {any} */ field) => [field.key, String(field.value)]));
  done(core.desk().setRecipe({ ...recipe, ...lesson.fields, beakers: lesson.beakers ?? form.beakers }));
  core.setSpeed(look.speed);
  let frames = 0;
  const tick = (/** @type {number} */ most) => {
    const { now } = core.tick(Math.min(look.tickS ?? 1, most));
    frames += 1;
    if (look.paints && frames % 50 === 0) {
      core.paint(0, now, 30, 34, true);
      core.labels(now / 2);
      core.ribbon(0, now, 40, 0);
    }
  };
  /** @type {string[]} */
  const codes = [];
  if (lesson.play === "guided") {
    const guess = { atOnce: "red", atRest: "violet", clarity: "cloudy", seconds: "20", first: "0" };
    done(core.goOn());
    while (core.state().stage === "ask") {
      done(core.lock(guess));
      while (core.state().stage === "watch") {
        if (look.tickS === null) core.nextEvent();
        else tick(1);
      }
      codes.push(core.checkCode());
      done(core.see(guess));
      done(core.goOn());
    }
  } else {
    done(core.begin("free"));
    core.setSpeed(look.speed);
    for (const action of lesson.play) {
      for (let left = action.at - 0.05 - core.state().now; left > 1e-9; left = action.at - 0.05 - core.state().now)
        tick(left / look.speed);
      codes.push(core.checkCode());
      const beakers = core.labels(0).map((/** @type {unknown} */ _, /** @type {number} */ index) => index);
      if (action.pour) done(core.pour({ beakers, reagent: action.pour, volumeMl: action.volumeMl }));
      else if (action.rpm) done(core.setStirrer(-1, action.rpm));
      else if (action.bath) done(core.setBath(-1, { kind: action.bath, celsius: action.celsius }));
    }
  }
  // At a time that is the same number everywhere: the clock itself may differ in
  // its last bit, having come there in other steps.
  const lookedAt = lesson.play === "guided" ? core.state().now : lesson.play.at(-1).at - 1;
  const ph = core.labels(lookedAt).map((/** @type {any} */ label) => label.ph);
  return { name: lesson.name, codes, ph };
}

/** Each browser looks in a way of its own. */
const LOOKS = {
  chromium: { name: "frame by frame with pictures between", look: { speed: 4, tickS: 1 / 60, paints: true } },
  firefox: { name: "from event to event", look: { speed: 1, tickS: null, paints: false } },
};
const { name, look } = LOOKS[BROWSER];

test(`${BROWSER}, ${name}, comes to the native bits`, async (t) => {
  const { page } = await visit(t, { core: true });
  for (const [index, lesson] of lessons.entries())
    assert.deepEqual(await page.evaluate(play, { lesson, look }), natively[index]);
});
