// The record of colours: one ribbon per beaker, all on one time axis, with dose marks, pinned guesses and the time shown.

import { beakerName } from "./beaker.js";
import { element } from "./element.js";
import { write } from "./plate.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./lesson-shapes.js").State} State
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {{from: number, to: number}} Span lesson time, s
 * @typedef {"dose" | "lesson"} Reach
 * @typedef {{canvas: HTMLCanvasElement, pins: HTMLElement, letters: HTMLElement, done: number, key: string, named: string}} Row
 */

/** A ribbon is one column of colour per pixel, up to this many. */
const MOST_COLUMNS = 1200;
/** Pixels of a ribbon from edge to edge, as style.css lays it out: the pattern of cloudiness is drawn pixel by pixel. */
const RIBBON_ROWS = 16;
/** The pattern of cloudiness repeats after so many columns; a piece of ribbon begins where it does, so that pieces fit. */
const PATTERN_COLUMNS = 24;
/** In the free bench the axis grows in these steps, so that it stands still most of the time, s. */
const FREE_SPANS = [60, 120, 300, 600, 1200, 2400, 4800, 9600];
/** Distances of the marks along the edge, s, and how many pixels apart they may stand at least. */
const TICKS = [5, 10, 20, 30, 60, 120, 300, 600, 1200, 3600];
const TICK_PIXELS = 56;
/** A colour that lasts for at least so many pixels has its letter on the ribbon. */
const LETTER_PIXELS = 24;

/** All ribbons. */
export class Ribbons {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {(time: number) => void} onLook called when somebody looks back to a time
   */
  constructor(engine, words, onLook) {
    this.engine = engine;
    this.words = words;
    /** @type {Reach} */
    this.reach = "dose";
    /** @type {Span} */
    this.span = { from: 0, to: 60 };
    /** @type {import("./lesson-shapes.js").Marks} */
    this.marks = { doses: [], guesses: [], events: [] };
    /** What is pointed at. */
    this.pointed = { column: -1, when: "", stage: "", from: 0, to: 0 };
    /** What the beakers showed where the span begins. @type {{at: number, labels: import("./lesson-shapes.js").Label[]} | null} */
    this.first = null;
    /** @type {Row[]} */
    this.rows = [];
    this.notches = element("div", { class: "marks", "aria-hidden": "true" });
    this.axis = element("div", { class: "axis", "aria-hidden": "true" });
    this.lines = element("div", { class: "ribbon-rows" });
    this.covered = element("div", { class: "hatch" }, element("span", {}, words.t("ribbon.covered")));
    this.cursor = element("div", { class: "cursor", "aria-hidden": "true" });
    this.slider = element("input", {
      type: "range",
      class: "look",
      min: 0,
      max: 60,
      step: 1,
      "aria-label": words.t("ribbon.look"),
    });
    this.slider.addEventListener("input", () => onLook(Number(this.slider.value)));
    this.root = element("div", { class: "ribbons" }, this.notches, this.lines, this.axis, this.slider);
    this.legend = element("p", { class: "unseen" });
    this.root.append(this.legend);
    /** How wide a ribbon is on the screen, px. Asking the browser for it in every frame would cost a layout. */
    this.wide = 0;
    /** Columns that it is painted with: on a very wide screen fewer than its pixels. */
    this.width = 0;
    new ResizeObserver(() => {
      this.measure();
      this.root.dispatchEvent(new CustomEvent("resized", { bubbles: true }));
    }).observe(this.lines);
  }

  /** Lays out a row for each beaker of the recipe. */
  layOut() {
    const { beakers } = this.engine.recipe();
    this.rows = beakers.map(() => ({
      canvas: element("canvas", { "aria-hidden": "true", width: 1, height: 1 }),
      pins: element("div"),
      letters: element("div", { class: "ribbon-letters", "aria-hidden": "true" }),
      done: 0,
      key: "",
      named: "",
    }));
    this.lines.replaceChildren(
      ...this.rows.flatMap(({ canvas, pins, letters }, index) => [
        element("span", { class: "ribbon-name" }, beakerName(this.words, beakers, index)),
        element("div", { class: "ribbon" }, canvas, letters, pins),
      ]),
      element("div", { class: "over" }, this.covered, this.cursor),
    );
  }

  /**
   * Sets the span of the axis and everything that stands on it but the colours.
   * @param {State} state
   * @param {import("./lesson-shapes.js").Marks} marks
   */
  refresh(state, marks) {
    const { doses, guesses } = marks;
    this.marks = marks;
    this.first = null;
    const last = doses.at(-1);
    const asking = state.stage === "ask";
    const { fields } = this.engine.recipe();
    const rest =
      fields.find(({ key }) => key === (state.step?.reagent === "base" ? "baseRestS" : "restS"))?.value ??
      FREE_SPANS[0];
    if (state.mode === "free") {
      const from = this.reach === "dose" && last ? last.at : 0;
      this.span = { from, to: from + (FREE_SPANS.find((span) => span >= state.now - from) ?? state.now - from) };
    } else if (asking) this.span = { from: 0, to: state.now + rest };
    else if (this.reach === "dose" && last) this.span = { from: last.at, to: Math.max(state.restAt, state.now) };
    else this.span = { from: 0, to: Math.max(state.restAt, state.now, rest) };

    this.slider.min = String(this.span.from);
    this.slider.max = String(this.span.to);
    this.covered.hidden = !asking;
    if (asking) this.place(this.covered, state.now, this.span.to);
    this.tick(last && this.span.from === last.at ? last.at : 0);

    this.notches.replaceChildren(
      ...doses
        .filter(({ at }) => at >= this.span.from && at < this.span.to)
        .map(({ at, number, reagent }) => {
          const mark = element(
            "span",
            { class: `notch ${reagent}` },
            this.words.t(this.span.from === at ? `dose.${reagent}` : `notch.${reagent}`, { number }),
          );
          mark.style.left = this.percent(at);
          return mark;
        }),
    );
    this.rows.forEach(({ pins }, beaker) => {
      pins.replaceChildren(
        ...guesses
          .filter((guess) => guess.beaker === beaker && this.flagTime(guess, doses, state) !== null)
          .map((guess) => {
            const at = /** @type {number} */ (this.flagTime(guess, doses, state));
            const flag = element(
              "span",
              {
                class: at > (this.span.from + this.span.to) / 2 ? "flag left" : "flag",
              },
              element("span", { class: "flag-letter" }, guess.letter),
            );
            flag.style.left = this.percent(at);
            return flag;
          }),
      );
    });
    write(this.legend, this.words.t("ribbon.legend"));
  }

  /**
   * Where a guess is pinned: at the guessed time, else at the end of its dose's rest; null when that is out of sight.
   * @param {import("./lesson-shapes.js").Guess} guess
   * @param {{at: number}[]} doses
   * @param {State} state
   */
  flagTime(guess, doses, state) {
    const dose = doses[guess.dose];
    if (!dose) return null;
    const end = doses[guess.dose + 1]?.at ?? state.restAt;
    const at = Math.min(guess.at ?? end, this.span.to);
    return dose.at >= this.span.from && at >= this.span.from ? at : null;
  }

  /** @param {number} zero lesson time that counts as second 0 */
  tick(zero) {
    const width = Math.max(1, this.width);
    const seconds = this.span.to - this.span.from;
    const step = TICKS.find((tick) => (tick / seconds) * width >= TICK_PIXELS) ?? seconds;
    const ticks = [];
    for (let at = 0; at <= seconds + 1e-9; at += step) {
      const isLast = at + step > seconds + 1e-9;
      const mark = element(
        "span",
        { class: "tick" },
        isLast
          ? this.words.t("unit.seconds", { value: String(Math.round(this.span.from + at - zero)) })
          : String(Math.round(this.span.from + at - zero)),
      );
      mark.style.left = this.percent(this.span.from + at);
      ticks.push(mark);
    }
    this.axis.replaceChildren(...ticks);
  }

  /** Draws one beaker's colours up to now. @param {State} state @param {number} beaker */
  draw(state, beaker) {
    if (state.now > this.span.to + 1e-6) this.refresh(state, this.marks);
    const { width } = this;
    if (width < 8) return;
    const { from, to } = this.span;
    const key = `${from} ${to} ${width}`;
    const reached = Math.max(0, Math.min(width, Math.floor(((state.now - from) / (to - from)) * width + 1e-6)));
    const row = this.rows[beaker];
    if (row.key !== key) {
      row.key = key;
      row.done = 0;
      row.canvas.width = width;
      row.canvas.height = RIBBON_ROWS;
    }
    if (reached <= row.done) return;
    const start = row.done - (row.done % PATTERN_COLUMNS);
    const columns = reached - start;
    const second = (to - from) / width;
    const pixels = this.engine.ribbon(from + start * second, from + reached * second, columns, beaker, RIBBON_ROWS);
    const context = /** @type {CanvasRenderingContext2D} */ (row.canvas.getContext("2d"));
    context.putImageData(new ImageData(pixels, columns, RIBBON_ROWS), start, 0);
    row.done = reached;
  }

  /**
   * Points at the time shown.
   * @param {State} state
   * @param {number} shown s
   * @param {string} when the time shown in words
   */
  point(state, shown, when) {
    const { from, to } = this.span;
    const column = Math.round(((shown - from) * this.wide) / (to - from));
    const { pointed } = this;
    if (
      pointed.column === column &&
      pointed.when === when &&
      pointed.stage === state.stage &&
      pointed.from === from &&
      pointed.to === to
    )
      return;
    this.pointed = { column, when, stage: state.stage, from, to };
    // A transform costs no layout, and at speed 16 the time goes on by a pixel in every frame.
    this.cursor.style.transform = `translateX(${column}px)`;
    if (this.slider.value !== String(shown)) this.slider.value = String(shown);
    this.slider.disabled = state.stage === "ask" || state.now <= 0;
    this.slider.setAttribute("aria-valuetext", when);
  }

  /**
   * Writes the letters of the colours on a beaker's ribbon, where they last long enough: the record without colour.
   * @param {number} beaker
   * @param {number} now s
   */
  nameColours(beaker, now) {
    const { from, to } = this.span;
    const pixels = this.wide / (to - from);
    const row = this.rows[beaker];
    // What stood where the ribbon begins stays so until the record itself changes.
    if (this.first?.at !== from) this.first = { at: from, labels: this.engine.labels(from) };
    const first = this.first.labels;
    const changes = this.marks.events.filter(
      (event) => event.key === "band" && event.beaker === beaker && (event.at ?? 0) > from,
    );
    const starts = [from, ...changes.map(({ at }) => at ?? from)];
    const letters = [first[beaker].dyed ? first[beaker].bandLetter : "", ...changes.map(({ letter }) => letter ?? "")];
    const lasting = starts
      .map((at, index) => ({ at, letter: letters[index], until: starts[index + 1] ?? Math.min(now, to) }))
      .filter(({ at, letter, until }) => letter && (until - at) * pixels >= LETTER_PIXELS);
    const named = lasting.map(({ at, letter }) => `${letter}${at}`).join() + pixels;
    if (named === row.named) return;
    row.named = named;
    row.letters.replaceChildren(
      ...lasting.map(({ at, letter }) => {
        const sign = element("span", {}, letter);
        sign.style.left = this.percent(at);
        return sign;
      }),
    );
  }

  /** Reads how wide the ribbons are laid out. */
  measure() {
    this.wide = this.lines.lastElementChild?.clientWidth ?? 0;
    this.width = Math.min(MOST_COLUMNS, Math.round(this.wide));
  }

  /** Forgets what was drawn: the record itself has changed. */
  forget() {
    this.first = null;
    for (const row of this.rows) row.key = "";
  }

  /** @param {number} time @returns {string} */
  percent(time) {
    return `${(100 * (time - this.span.from)) / (this.span.to - this.span.from)}%`;
  }

  /** @param {HTMLElement} element @param {number} from @param {number} to */
  place(element, from, to) {
    element.style.left = this.percent(from);
    element.style.width = `${(100 * (to - from)) / (this.span.to - this.span.from)}%`;
  }
}
