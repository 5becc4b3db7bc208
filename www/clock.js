// The lesson's clock: it runs frame by frame while something moves, and hands hold it, leap on, and look back.

/**
 * @typedef {import("./lesson-shapes.js").State} State
 *
 * @typedef {object} Follows what the page does with the clock
 * @property {() => boolean} seen whether the bench is on the screen
 * @property {(when: string) => void} shows after a frame: the time, in words, that it shows
 * @property {(atMs: number) => void} ran the clock has run on in a frame
 * @property {(ticked: import("./lesson-shapes.js").Ticked) => void} tell what has happened meanwhile
 * @property {() => void} turned it was held, carried on, sped, or turned to another time
 * @property {() => void} refresh after a leap, or where the page was laid out anew
 * @property {(key: string) => void} say speaks to those who listen
 */

/** A frame counts at most this long, s: after a sleep the lesson goes on where it was, it does not jump. */
const LONGEST_FRAME_S = 0.1;

/** The clock. */
export class Clock {
  /**
   * @param {import("./engine.js").Engine} engine
   * @param {import("./bench.js").Bench} bench
   * @param {Follows} follows
   * @param {AbortSignal} over ends it
   */
  constructor(engine, bench, follows, over) {
    this.engine = engine;
    this.bench = bench;
    this.follows = follows;
    this.over = over;
    /** @type {number | null} an earlier time that is looked at; null shows now */
    this.looking = null;
    this.frameAt = 0;
    this.frameAsked = false;
    /**
     * The lesson's state from frame to frame, for as long as only the clock moves: to ask the core for it takes long. Whoever
     * changes anything wakes the clock.
     * @type {State | null}
     */
    this.state = null;
    /** Whether the page was laid out anew since the last frame. */
    this.resized = false;
  }

  /** Whether an earlier time is shown. */
  get looksBack() {
    return this.looking !== null;
  }

  /** The time that is shown, s. @param {State} state @returns {number} */
  shown({ now }) {
    return this.looking ?? now;
  }

  // --- frames --------------------------------------------------------------------------------------------------------

  /** Asks for a frame; the loop goes on by itself while something moves and stops when nothing does. */
  wake() {
    this.state = null;
    if (this.frameAsked || document.hidden) return;
    this.frameAt = 0;
    this.askForFrame();
  }

  /** After the page was laid out anew. */
  resize() {
    this.resized = true;
    this.wake();
  }

  /** Asks for the next frame. */
  askForFrame() {
    this.frameAsked = true;
    requestAnimationFrame((at) => this.frame(at));
  }

  /** @param {number} at ms */
  frame(at) {
    this.frameAsked = false;
    if (this.over.aborted || !this.follows.seen()) return;
    if (this.resized) {
      this.resized = false;
      this.follows.refresh();
    }
    const seconds = this.frameAt === 0 ? 0 : Math.min((at - this.frameAt) / 1000, LONGEST_FRAME_S);
    let state = this.state ?? this.engine.state();
    let hasHappened = false;
    if (moves(state) && this.bench.cover.isUp && seconds > 0) {
      const ticked = this.engine.tick(seconds);
      this.follows.ran(at);
      this.follows.tell(ticked);
      hasHappened = ticked.events.length > 0;
      // Where nothing has happened only the clock has moved. A class's hold that is told again begins and ends by itself.
      if (hasHappened || ticked.trouble || state.classHold !== null) state = this.engine.state();
      else state.now = ticked.now;
    }
    this.state = state;
    const shown = this.shown(state);
    this.follows.shows(this.bench.when(shown));
    const complete = this.bench.draw(state, shown, at, hasHappened);
    if ((!moves(state) && complete) || document.hidden || this.frameAsked) return;
    this.frameAt = at;
    this.askForFrame();
  }

  // --- hands ---------------------------------------------------------------------------------------------------------

  /** Holds the clock, carries on, or comes back from looking at an earlier time. */
  holdOrCarryOn() {
    const state = this.engine.state();
    if (this.looksBack) {
      this.looking = null;
      if (runs(state)) this.engine.setHeld(false);
    } else if (runs(state)) {
      this.engine.setHeld(!state.held);
      this.follows.say(state.held ? "said.carriedOn" : "said.held");
    }
    this.follows.turned();
  }

  /** Goes to the next thing that happens. */
  next() {
    if (!runs(this.engine.state()) || !this.bench.cover.isUp) return;
    this.looking = null;
    const next = this.engine.nextEvent();
    if (next.events.length === 0) this.follows.say("said.nothing");
    this.follows.tell(next);
    this.follows.refresh();
  }

  /** @param {import("./lesson-shapes.js").Speed} speed */
  setSpeed(speed) {
    this.engine.setSpeed(speed);
    this.follows.turned();
  }

  /** Shows an earlier time; the clock is held meanwhile. @param {number} time s */
  look(time) {
    const state = this.engine.state();
    if (state.stage === "ask") return;
    const clipped = Math.max(this.bench.ribbons.span.from, Math.min(state.now, time));
    if (runs(state)) this.engine.setHeld(true);
    this.looking = clipped >= state.now ? null : clipped;
    this.bench.showSoon();
    this.follows.turned();
  }

  /** Shows now again; whoever asks for it brings the page up to it. */
  lookAtNow() {
    this.looking = null;
  }
}

/** @param {State} state @returns {boolean} whether this is a stage at which the clock can run */
function runs({ stage }) {
  return stage === "watch" || stage === "free";
}

/** @param {State} state @returns {boolean} whether the lesson's clock moves */
function moves(state) {
  // While a class's hold is told again the clock stands, but the hold runs out.
  return runs(state) && (!state.held || state.classHold !== null);
}
