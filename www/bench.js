// The bench: beakers in a row, the card that covers them, and their ribbons below.

import { Beaker, beakerName } from "./beaker.js";
import { breath } from "./breath.js";
import { Cover } from "./cover.js";
import { element } from "./element.js";
import { Pace } from "./pace.js";
import { write } from "./plate.js";
import { Ribbons } from "./ribbons.js";
import { Round } from "./round.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./lesson-shapes.js").State} State
 * @typedef {import("./i18n.js").Words} Words
 */

/** Numbers that change with every frame can't be read: the words follow four times a second. */
const WORDS_MS = 250;
/** A column of a ribbon is a good part of a second: ten times a second is enough for them. */
const RIBBONS_MS = 100;
/** With reduced motion the picture changes once a second, or with the colour word. */
const STILL_MS = 1000;

/** The bench. */
export class Bench {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {(time: number) => void} onLook called when somebody looks back
   */
  constructor(engine, words, onLook) {
    this.engine = engine;
    this.words = words;
    this.stillness = window.matchMedia("(prefers-reduced-motion: reduce)");
    /** @type {Beaker[]} */
    this.beakers = [];
    this.cover = new Cover(words);
    this.ribbons = new Ribbons(engine, words, onLook);
    this.row = element("div", { class: "beakers" });
    this.stage = element(
      "div",
      {
        id: "stage",
        class: "stage",
        role: "group",
        tabindex: 0,
        "aria-label": words.t("bench.label"),
        "aria-describedby": "stage-keys",
      },
      this.row,
      this.ribbons.root,
    );
    this.root = this.stage;
    this.pace = new Pace();
    this.told = new Round(WORDS_MS);
    this.drawn = new Round(RIBBONS_MS);
    this.paintedAt = -Infinity;
    this.drawnAt = -Infinity;
    /** Whether the last frame left the pictures to the next one. */
    this.left = false;
    this.actions = 0;
    this.isWarm = false;
    /** The time in words that was asked for last: within a second it stays the same. */
    this.spoken = { seconds: -1, at: -1, words: "" };
    /** @type {import("./round.js").Moment} what is shown */
    this.moment = { shown: Number.NaN, now: Number.NaN, actions: 0 };
    /** @type {import("./lesson-shapes.js").Marks} */
    this.marks = { doses: [], guesses: [], events: [] };
  }

  /** Sets up the beakers of the recipe. */
  layOut() {
    const setups = this.engine.recipe().beakers;
    this.beakers = setups.map(
      (_, index) => new Beaker(this.engine, this.words, index, beakerName(this.words, setups, index)),
    );
    this.row.className = `beakers count-${setups.length}`;
    this.row.replaceChildren(...this.beakers.map(({ root }) => root), this.cover.root);
    this.ribbons.layOut();
  }

  /**
   * Follows a change of stage.
   * @param {State} state
   * @param {import("./lesson-shapes.js").Marks} marks
   */
  refresh(state, marks) {
    this.actions += 1;
    if (state.stage === "ask" && state.step) this.cover.announce(state.step, this.beakers.length);
    else this.cover.lift(this.stillness.matches);
    this.stage.classList.toggle("is-covered", state.stage === "ask");
    this.take(marks);
    this.ribbons.refresh(state, marks);
    this.showSoon();
  }

  /** Lets words, ribbons and pictures follow with the next frame. */
  showSoon() {
    this.told.begin(this.beakers.length);
    this.drawn.begin(this.beakers.length);
    this.paintedAt = -Infinity;
  }

  /** Takes down what has happened. @param {import("./lesson-shapes.js").Marks} marks */
  take(marks) {
    this.marks = marks;
    this.ribbons.marks = marks;
  }

  /**
   * Shows the beakers at a time.
   * @param {State} state
   * @param {number} shown s
   * @param {number} nowMs of the room
   * @param {boolean} hasHappened whether this frame has told of something that happened
   * @returns {boolean} false when something still waits to be shown
   */
  draw(state, shown, nowMs, hasHappened) {
    const when = this.when(shown);
    const moment = this.momentOf(shown, state.now);
    const [told, drawn] = [this.told.due(moment, nowMs), this.drawn.due(moment, nowMs)];
    this.tell(told, state, shown, when);
    for (const beaker of drawn) this.ribbons.draw(state, beaker);
    // Words cost layout, and what has happened is told and taken down: on a slow machine a frame that does so leaves the
    // pictures to the next. So does any that has written everything before the first picture of a beaker, which costs most.
    const isFirst = this.beakers.some(({ paintedAt }) => paintedAt === -Infinity);
    const isWordy = told.length > 0 || hasHappened;
    const isFull = isWordy && (this.pace.wordsAlone || (isFirst && told.length + drawn.length > 2));
    // Never two frames in a row: where every frame comes late enough for words, pictures take turns with them.
    this.left = isFull && !this.left;
    if (!this.left && (!this.stillness.matches || nowMs - this.paintedAt >= STILL_MS)) this.paint(shown, nowMs);
    this.drawnAt = nowMs;
    this.ribbons.point(state, shown, when);
    const shows = this.beakers.every((beaker) => beaker.shows(shown, this.actions));
    return shows && this.told.shows(moment) && this.drawn.shows(moment);
  }

  /** The moment that is shown; the same object as long as it is the same. @param {number} shown s @param {number} now s */
  momentOf(shown, now) {
    const { moment, actions } = this;
    if (moment.shown !== shown || moment.now !== now || moment.actions !== actions)
      this.moment = { shown, now, actions };
    return this.moment;
  }

  /**
   * Paints what has changed, as much of it as the machine can in a frame.
   * @param {number} shown s
   * @param {number} nowMs
   */
  paint(shown, nowMs) {
    const due = this.beakers.filter((beaker) => !beaker.shows(shown, this.actions));
    if (due.length === 0) return;
    const fresh = due.filter(({ paintedAt }) => paintedAt === -Infinity);
    if (fresh.length > 0) this.showFirst(fresh, shown);
    else this.paintDue(due, shown, nowMs);
    if (this.beakers.every((beaker) => beaker.shows(shown, this.actions))) this.paintedAt = nowMs;
  }

  /**
   * Paints as many of these beakers as the machine can in a frame, those first that have waited longest.
   * @param {Beaker[]} due
   * @param {number} shown s
   * @param {number} nowMs
   */
  paintDue(due, shown, nowMs) {
    due.sort((one, other) => one.paintedAt - other.paintedAt);
    const still = this.stillness.matches;
    const atOnce = still ? due.length : this.pace.atOnce(this.beakers.length);
    const started = performance.now();
    for (const beaker of due.slice(0, atOnce)) beaker.paint(shown, this.actions, still);
    // A still picture is painted once a second, and all with it: that says nothing of how many would do in each frame.
    if (!still && this.pace.took(performance.now() - started, nowMs - this.drawnAt))
      for (const beaker of this.beakers) beaker.setShare(this.pace.share);
  }

  /**
   * Shows the first picture of one of these beakers where it has been computed, and lets the next one be computed before the
   * next frame. It costs many times the others: its glass and its setting are drawn with it.
   * @param {Beaker[]} fresh
   * @param {number} shown s
   */
  showFirst(fresh, shown) {
    fresh.find(({ isReady }) => isReady)?.show();
    if (fresh.some(({ isAwaited }) => isAwaited)) return;
    const next = fresh.find(({ paintedAt }) => paintedAt === -Infinity);
    if (next) this.computeFirst(next, shown);
  }

  /** Computes the first picture of a beaker, in tasks of their own between two frames. @param {Beaker} beaker @param {number} shown s */
  async computeFirst(beaker, shown) {
    beaker.isAwaited = true;
    await breath();
    if (!this.isWarm) {
      // Before the very first, the browser has to compile all that paints.
      this.isWarm = true;
      beaker.warmUp(shown);
      await breath();
    }
    beaker.compute(shown, this.actions, this.stillness.matches);
    beaker.isAwaited = false;
  }

  /**
   * Says what some of the beakers show.
   * @param {number[]} which
   * @param {State} state
   * @param {number} shown s
   * @param {string} when
   */
  tell(which, state, shown, when) {
    if (which.length === 0) return;
    // All count the same seconds: two beakers that differ for a moment would look like a fault.
    if (state.stage !== "ask") for (const beaker of this.beakers) write(beaker.when, when);
    const labels = this.engine.labels(shown);
    const { shows: instruments } = this.engine.levels[state.level - 1];
    const shows = { celsius: instruments.includes("celsius"), ph: instruments.includes("ph") };
    for (const index of which) {
      if (state.stage === "ask") this.beakers[index].tellCovered(labels[index], shows);
      else this.beakers[index].tell(labels[index], when, state.whatIfs[index], shows);
      this.ribbons.nameColours(index, state.now);
    }
  }

  /**
   * A time in words, counted from the dose before it.
   * @param {number} time s
   * @returns {string}
   */
  when(time) {
    const before = this.marks.doses.filter(({ at }) => at <= time).at(-1);
    if (!before) return "";
    const { at, reagent, number } = before;
    const seconds = Math.floor(time - at + 1e-6);
    if (this.spoken.seconds !== seconds || this.spoken.at !== at)
      this.spoken = { seconds, at, words: this.words.t(`when.${reagent}`, { seconds, number }) };
    return this.spoken.words;
  }
}
