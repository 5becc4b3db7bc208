// How much is painted in a frame, for machines that no test has: told how long frames take, no browser.

import assert from "node:assert/strict";
import { test } from "node:test";
import { Pace } from "../../www/pace.js";

/**
 * Frames of a machine that takes so long for each picture and for all else, on a screen of sixty a second.
 * @param {Pace} pace @param {number} pictureMs @param {number} restMs @param {number} frames
 */
function run(pace, pictureMs, restMs, frames) {
  const levels = [];
  let since = 1000 / 60;
  for (let frame = 0; frame < frames; frame++) {
    const painting = pictureMs * pace.atOnce(3) * pace.share;
    pace.took(painting, since);
    since = (Math.ceil((painting + restMs) / (1000 / 60) - 1e-9) * 1000) / 60;
    levels.push(pace.level);
  }
  return levels;
}

test("a quick machine paints all beakers in every frame, from the first second on", () => {
  const levels = run(new Pace(), 0.2, 3, 1000);
  assert.equal(levels[0], 2, "nobody knows yet how quick it is");
  assert.deepEqual(new Set(levels.slice(60)), new Set([0]));
});

test("where all three do not fit into a frame, two do, and it stays so", () => {
  const levels = run(new Pace(), 1.2, 13, 600);
  assert.equal(levels.at(-1), 1);
  assert.equal(levels.filter((level, at) => at > 0 && level !== levels[at - 1]).length, 1);
});

test("on a slow machine no frame is late but those that others hold up", () => {
  assert.deepEqual(new Set(run(new Pace(), 2.2, 10, 1000)), new Set([2]));
});

test("where two do not fit either, one is painted at a time, with all its pixels", () => {
  const pace = new Pace();
  assert.equal(run(pace, 3, 13, 400).at(-1), 2);
  assert.deepEqual([pace.atOnce(3), pace.share], [1, 1]);
});

test("only painting that takes too long by itself takes pixels away", () => {
  const pace = new Pace();
  assert.equal(run(pace, 9, 8, 400).at(-1), 3);
  assert.equal(pace.share, 0.5);
});

test("a slow first second, in which the browser still compiles what paints, takes no pixels away", () => {
  const pace = new Pace();
  run(pace, 9, 8, 50);
  assert.deepEqual(new Set(run(pace, 2.7, 9, 1000)), new Set([2]));
});

test("where pixels were taken away, they are not given back for ten seconds", () => {
  const pace = new Pace();
  run(pace, 9, 8, 60);
  assert.equal(pace.share, 0.5);
  assert.deepEqual(new Set(run(pace, 2.7, 9, 590)), new Set([3]));
  assert.equal(run(pace, 2.7, 9, 100).at(-1), 2);
});

test("a screen of thirty a second, or work of others, is no reason to paint less", () => {
  const pace = new Pace();
  for (let frame = 0; frame < 1000; frame++) pace.took(0.6, 1000 / 30);
  assert.equal(pace.level, 0);
});

test("a machine that has become quick again paints all again", () => {
  const pace = new Pace();
  run(pace, 3, 13, 400);
  assert.equal(run(pace, 0.2, 3, 2000).at(-1), 0);
});
