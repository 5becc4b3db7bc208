// Who is shown anew in a frame: the parts of the bench take turns, so that no frame has to write them all.

/** @typedef {{shown: number, now: number, actions: number}} Moment one object for each: the time shown and now, s, and what was done */

/** The moment of a part that shows none yet. @type {Moment} */
const NONE = { shown: Number.NaN, now: Number.NaN, actions: -1 };

/** @type {number[]} */
const NOBODY = [];

/** Parts that follow a moment one after another. */
export class Round {
  /** @param {number} everyMs a part is shown anew at most so often, ms */
  constructor(everyMs) {
    this.everyMs = everyMs;
    /** @type {Moment[]} the moment that each part shows */
    this.shown = [];
    this.next = 0;
    this.lastAt = -Infinity;
    this.all = true;
  }

  /** Lets every part follow with the next frame. @param {number} count of parts */
  begin(count) {
    this.shown = Array(count).fill(NONE);
    this.all = true;
  }

  /**
   * The parts that are to show a moment now.
   * @param {Moment} moment
   * @param {number} nowMs of the room
   * @returns {number[]} from 0
   */
  due(moment, nowMs) {
    const count = this.shown.length;
    if (!this.all && nowMs - this.lastAt < this.everyMs / count) return NOBODY;
    const behind = this.shown.map((_, at) => (this.next + at) % count).filter((part) => this.shown[part] !== moment);
    const due = this.all ? behind : behind.slice(0, 1);
    if (due.length === 0) return due;
    for (const part of due) this.shown[part] = moment;
    this.next = (due[due.length - 1] + 1) % count;
    this.lastAt = nowMs;
    this.all = false;
    return due;
  }

  /** Whether every part shows a moment. @param {Moment} moment @returns {boolean} */
  shows(moment) {
    return this.shown.every((shown) => shown === moment);
  }
}
