// The bench's part of the compiled core (pkg/): it gives what the core answers the types of the modules of shapes, and decides nothing.

import { breath } from "./breath.js";
import { part } from "./part.js";
import start, { Turnback } from "./pkg/turnback.js";

/**
 * @import { Retold, Slip, Timing } from "./class-shapes.js"
 * @import { Answers, BathKey, Bottle, Explanation, InstrumentKey, Label, LedgerRow, LinkOutcome, LockOutcome, Marks, Outcome, PhShift, ReagentKey, RecipeForm, Speed, State, Ticked, Told, WhatIfKey } from "./lesson-shapes.js"
 */

/** The lesson, as the core runs it. */
export class Engine {
  /** @param {any} core an instance of the wasm class */
  constructor(core) {
    this.core = core;
    /** @type {() => void} called after something was done that is put down in the record */
    this.acted = () => {};
    /** @type {{level: number, expected: number, shows: InstrumentKey[]}[]} */
    this.levels = core.levels();
  }

  /**
   * Loads the compiled core and starts our scenario.
   * @returns {Promise<Engine>}
   * @throws when the browser has no WebAssembly or the file does not come
   */
  static async start() {
    await start({ module_or_path: part("pkg/turnback_bg.wasm") });
    await breath();
    return new Engine(new Turnback());
  }

  /** @returns {RecipeForm} */
  recipe() {
    return this.core.fields();
  }

  /** @returns {Bottle | null} the lesson's bottle, where a class has fitted it */
  bottle() {
    return this.core.bottle();
  }

  /** @param {string} fragment @returns {LinkOutcome} */
  openLink(fragment) {
    return this.core.openLink(fragment);
  }

  /** @returns {string} the fragment after # */
  link() {
    return this.core.link();
  }

  /** @param {"guided" | "free"} mode @returns {Outcome} */
  begin(mode) {
    return this.act(() => this.core.begin(mode)) ?? { ok: true };
  }

  /** Begins the same lesson as if nothing had been done in it. @returns {Outcome} */
  forget() {
    return this.core.forget();
  }

  /** @param {number} level 1 to 5 @returns {Outcome} */
  setLevel(level) {
    return this.core.setLevel(level);
  }

  /** What the present level asks, tells and shows. */
  level() {
    return this.levels[this.state().level - 1];
  }

  /** @param {InstrumentKey} instrument @returns {boolean} whether the present level shows it */
  shows(instrument) {
    return this.level().shows.includes(instrument);
  }

  /** @param {number} ask @param {string} answer @returns {Outcome} */
  choose(ask, answer) {
    return this.act(() => this.core.choose(ask, answer));
  }

  /** @returns {Told[]} the answered questions with choices of which it may be told by now what is right */
  told() {
    return this.core.told();
  }

  /** @returns {State} */
  state() {
    return this.core.state();
  }

  /** @param {Answers} answers @returns {LockOutcome} */
  lock(answers) {
    return this.act(() => this.core.lock(answers));
  }

  /** @param {number} seconds of the room since the last tick @returns {Ticked} */
  tick(seconds) {
    return this.core.tick(seconds);
  }

  /** @returns {Ticked} */
  nextEvent() {
    return this.act(() => this.core.nextEvent());
  }

  /** @param {boolean} held */
  setHeld(held) {
    this.act(() => this.core.setHeld(held));
  }

  /** @param {Speed} speed */
  setSpeed(speed) {
    this.act(() => this.core.setSpeed(speed));
  }

  /** @param {Answers} answers @returns {LockOutcome} */
  see(answers) {
    return this.act(() => this.core.see(answers));
  }

  /** @returns {Explanation} */
  explanation() {
    return this.core.explanation();
  }

  /** @returns {Outcome} */
  goOn() {
    return this.act(() => this.core.goOn()) ?? { ok: true };
  }

  /** @param {{beakers: number[], reagent: ReagentKey, volumeMl: string}} pour @returns {Outcome} */
  pour(pour) {
    return this.act(() => this.core.pour(pour));
  }

  /** @param {number} beaker -1 for all @param {string} rpm @returns {Outcome} */
  setStirrer(beaker, rpm) {
    return this.act(() => this.core.setStirrer(beaker, rpm));
  }

  /** @param {number} beaker -1 for all @param {{kind: BathKey, celsius: string}} bath @returns {Outcome} */
  setBath(beaker, bath) {
    return this.act(() => this.core.setBath(beaker, bath));
  }

  /** @param {number[]} beakers @param {WhatIfKey | "none"} key @returns {Outcome} */
  change(beakers, key) {
    return this.act(() => this.core.change(beakers, key));
  }

  /** @param {boolean} mark the card with the mark stands behind @param {boolean} torch lamp off, black card, torch */
  setLook(mark, torch) {
    this.core.setLook(mark, torch);
  }

  /** @param {number} time s, not beyond now @returns {Label[]} */
  labels(time) {
    return this.core.labels(time);
  }

  /**
   * Paints a beaker into a picture.
   * @param {number} beaker @param {number} time @param {ImageData} picture @param {boolean} reducedMotion
   */
  paint(beaker, time, { width, height, data }, reducedMotion) {
    this.core.paint(beaker, time, width, height, reducedMotion, data);
  }

  /**
   * @param {number} from s @param {number} to s @param {number} columns @param {number} beaker @param {number} rows
   * @returns {Uint8ClampedArray<ArrayBuffer>} RGBA, rows of `columns` pixels
   */
  ribbon(from, to, columns, beaker, rows) {
    return this.core.ribbon(from, to, columns, beaker, rows);
  }

  /** @returns {Marks} */
  marks() {
    return this.core.marks();
  }

  /**
   * Readings at these times.
   * @param {string} name @param {number} beaker @param {number[]} times s
   * @returns {number[]} NaN beyond now
   */
  columnAt(name, beaker, times) {
    return Array.from(this.core.columnAt(name, beaker, Float64Array.from(times)) ?? []);
  }

  /**
   * The line of ln(1/t) against 1/T.
   * @param {number[]} pairs a temperature, \u00b0C, and a time, s, one after another
   * @returns {{slope: number, intercept: number, energy: number, low: number | null, high: number | null} | null} K, 1, kJ/mol; no range with two pairs
   */
  arrhenius(pairs) {
    const line = this.core.arrhenius(Float64Array.from(pairs));
    if (line.length === 0) return null;
    const [slope, intercept, energy, low, high] = line;
    return { slope, intercept, energy, low: Number.isNaN(low) ? null : low, high: Number.isNaN(high) ? null : high };
  }

  /** @param {{name: string, decimals?: number, cells: (number | string)[]}[]} columns @param {boolean} decimalComma with semicolons between @returns {string} CSV */
  tableCsv(columns, decimalComma) {
    return this.core.tableCsv(columns, decimalComma);
  }

  /** @param {number} everySeconds @param {boolean} decimalComma with semicolons between @returns {string} the run up to now as CSV */
  csv(everySeconds, decimalComma) {
    return this.core.csv(everySeconds, decimalComma);
  }

  /** @param {number} beaker @param {number} row @param {string} column @param {string} typed @returns {"right" | "near" | "other" | "empty" | "notANumber"} */
  checkLedger(beaker, row, column, typed) {
    return this.core.checkLedger(beaker, row, column, typed);
  }

  /** @param {number} [beaker] the first unless told; in the guided lesson all are alike @returns {LedgerRow[]} */
  ledger(beaker = 0) {
    return this.core.ledger(beaker);
  }

  /** @param {number} beaker @param {number} from s @param {number} to s @returns {PhShift | null} */
  phShift(beaker, from, to) {
    return this.core.phShift(beaker, from, to);
  }

  /** @returns {string} */
  checkCode() {
    return this.core.checkCode();
  }

  /** @returns {number} the beaker that the predictions are about */
  subject() {
    return this.core.subject();
  }

  /**
   * Does what is put down in the record: the core is told what the clock of the room shows, and then it is kept.
   * @template Done
   * @param {() => Done} deed
   * @returns {Done}
   */
  act(deed) {
    this.core.roomIs(performance.now() / 1000);
    const done = deed();
    this.acted();
    return done;
  }

  /** @returns {string} what a device keeps, to go on from here */
  kept() {
    return this.core.kept();
  }

  /** @param {string} kept @param {string} run the run that it tells again, or nothing @returns {LinkOutcome} */
  resume(kept, run) {
    return this.core.resume(kept, run);
  }

  /** @param {number} beaker @param {string} finish @returns {Outcome} */
  mark(beaker, finish) {
    return this.act(() => this.core.mark(beaker, finish));
  }

  /** @param {number} mark @returns {Outcome} */
  takeBack(mark) {
    return this.act(() => this.core.takeBack(mark));
  }

  /** @param {string} finish @returns {Timing | null} */
  timing(finish) {
    return this.core.timing(finish);
  }

  /** @param {string} text @returns {Outcome} */
  note(text) {
    return this.act(() => this.core.note(text));
  }

  /** @param {string} text @returns {Outcome} */
  sign(text) {
    return this.act(() => this.core.sign(text));
  }

  /** @returns {Slip} what would be handed in now */
  slip() {
    return this.core.slip();
  }

  /** @returns {{text: string, fits: boolean, blank: boolean}} the latest guided run, to hand on */
  runText() {
    return this.core.runText();
  }

  /** @param {string} text @returns {LinkOutcome} */
  openRun(text) {
    return this.core.openRun(text);
  }

  /** @param {boolean} paced as it ran, or in one's own pace */
  setPaced(paced) {
    this.core.setPaced(paced);
  }

  /** @returns {Retold | null} the run that is told again */
  retell() {
    return this.core.retell();
  }
}
