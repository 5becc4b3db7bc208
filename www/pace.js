// How much is painted in a frame: all beakers on a quick machine, one after another on a slow one, smaller on a very slow one.
// What is computed never depends on it, only how often and how finely it is shown.

/** Painting may take so much of a frame, ms: at 60 frames a second, well below half of it. */
const BUDGET_MS = 6;
/** So many frames in a row decide: one slow frame is no slow machine. */
const FRAMES = 20;
/** It goes back up only where that would leave room, so that it does not swing to and fro. */
const ROOM = 0.25;
/** The share of the pixels that is painted at the last level. */
const COARSE = 0.5;
const LAST_LEVEL = 2;

/** Follows how long painting takes. */
export class Pace {
  constructor() {
    /** 0: all at once; 1: one after another; 2: and with fewer pixels */
    this.level = 0;
    this.frames = 0;
    this.sumMs = 0;
  }

  /**
   * Takes down how long the painting of one frame took.
   * @param {number} ms
   * @returns {boolean} whether the level has changed
   */
  took(ms) {
    this.frames += 1;
    this.sumMs += ms;
    if (this.frames < FRAMES) return false;
    const mean = this.sumMs / this.frames;
    this.frames = 0;
    this.sumMs = 0;
    const before = this.level;
    if (mean > BUDGET_MS) this.level = Math.min(this.level + 1, LAST_LEVEL);
    else if (mean < ROOM * BUDGET_MS) this.level = Math.max(this.level - 1, 0);
    return this.level !== before;
  }

  /** Whether only one beaker is painted in a frame. */
  get oneByOne() {
    return this.level > 0;
  }

  /** The share of its pixels that a picture is painted with. */
  get share() {
    return this.level === LAST_LEVEL ? COARSE : 1;
  }
}
