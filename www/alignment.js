// Where a recording's doses lie on its seconds: a slider over the plot, moved by keys, by two buttons or by dragging, as typed
// seconds move it.

import { element } from "./element.js";
import { RecordedPlot } from "./recordedplot.js";

/** An arrow key moves so far, s; Shift, Page up and Page down go so many times as far. */
const STEP_S = 0.5;
const LEAP = 10;
/** No two doses come closer than this, s; it is also how exactly they are placed. */
const LEAST_S = 0.1;
/** A pointer so near to a dose's sign takes that dose, px: half of a target. */
const REACH_PX = 22;
/** A pointer that moved less than this has pressed, not dragged, px. */
const LEAST_DRAG_PX = 3;

/**
 * @typedef {object} Turns
 * @property {(dosesS: number[], settled: boolean) => void} moved the doses lie here now; settled: no hand is about to move them on
 * @property {() => string} told how the model's curve lies to the recording now
 */

/** The slider and its plot. */
export class Alignment {
  /**
   * @param {import("./i18n.js").Words} words
   * @param {string} id
   * @param {string} name of the recording
   * @param {Turns} turns
   */
  constructor(words, id, name, turns) {
    this.words = words;
    this.name = name;
    this.turns = turns;
    /** @type {number[]} s */
    this.doses = [];
    this.endS = 0;
    /** @type {{x: number, from: number, doses: number[], dragged: boolean} | null} what a pointer holds */
    this.held = null;
    const t = words.t.bind(words);
    this.plot = new RecordedPlot(words);
    this.moves = element("select", { id: `${id}-moves`, change: () => this.tell() });
    this.slider = element(
      "div",
      {
        class: "alignment",
        tabindex: 0,
        role: "slider",
        "aria-describedby": `${id}-keys`,
        keydown: (/** @type {KeyboardEvent} */ event) => this.key(event),
        pointerdown: (/** @type {PointerEvent} */ event) => this.take(event),
        pointermove: (/** @type {PointerEvent} */ event) => this.drag(event),
        pointerup: () => this.release(),
        pointercancel: () => this.takeBack(),
      },
      this.plot.root,
    );
    const step = (/** @type {string} */ key, /** @type {number} */ by) =>
      element(
        "button",
        { type: "button", "aria-describedby": `${id}-moves`, click: () => this.moveTo(this.at + by) },
        t(key, { seconds: words.number(STEP_S, 1) }),
      );
    this.bar = element(
      "div",
      { class: "trace-bar" },
      element("p", { class: "field" }, element("label", { for: this.moves.id }, t("data.moves")), this.moves),
      step("data.earlier", -STEP_S),
      step("data.later", STEP_S),
    );
    this.hint = element("p", { class: "quiet", id: `${id}-keys` }, t("data.movesKeys"));
    this.root = element("div", {}, this.bar, this.slider, this.hint);
  }

  /** Which dose is moved, from 0; -1 for all together. */
  get chosen() {
    return Number(this.moves.value || -1);
  }

  /** Where what is moved lies, s: all together by their first. */
  get at() {
    return this.doses[Math.max(0, this.chosen)];
  }

  /** From where to where it may be moved, s. @returns {[number, number]} */
  get range() {
    const { chosen, doses, endS } = this;
    if (chosen < 0) return [0, endS - LEAST_S - (doses[doses.length - 1] - doses[0])];
    return [chosen > 0 ? doses[chosen - 1] + LEAST_S : 0, (doses[chosen + 1] ?? endS) - LEAST_S];
  }

  /** The doses lie here, on a recording of so many seconds; without any the plot only shows. @param {number[]} doses rising @param {number} endS */
  begin(doses, endS) {
    const { words, slider } = this;
    const empty = doses.length === 0;
    this.doses = doses;
    this.endS = endS;
    this.bar.hidden = empty;
    this.hint.hidden = empty;
    slider.setAttribute("role", empty ? "img" : "slider");
    slider.tabIndex = empty ? -1 : 0;
    if (empty) slider.setAttribute("aria-label", this.name);
    if (this.moves.options.length !== doses.length + 1) {
      const names = [
        words.t("data.movesAll"),
        ...doses.map((_, index) => words.t("data.movesOne", { dose: index + 1 })),
      ];
      this.moves.replaceChildren(...names.map((name, index) => element("option", { value: index - 1 }, name)));
    }
    this.tell();
  }

  /** Says where it lies and what follows, and draws it. */
  tell() {
    const { words, slider, chosen, at, range } = this;
    this.plot.mark(this.doses, chosen);
    if (this.doses.length === 0) return;
    const seconds = words.number(at, 1);
    const what = words.t(chosen < 0 ? "data.movesAll" : "data.movesOne", { dose: chosen + 1 });
    const where = words.t(chosen < 0 ? "data.movesFirstAt" : "data.movesAt", { seconds });
    const said = {
      label: words.t("data.movesName", { what, name: this.name }),
      valuemin: range[0].toFixed(1),
      valuemax: range[1].toFixed(1),
      valuenow: at.toFixed(1),
      valuetext: `${where} ${this.turns.told()}`.trim(),
    };
    for (const [name, value] of Object.entries(said)) slider.setAttribute(`aria-${name}`, value);
  }

  /** Moves what is chosen, as far as it may. @param {number} at s @param {boolean} [settled] */
  moveTo(at, settled = true) {
    const [low, high] = this.range;
    const place = Math.round(Math.max(low, Math.min(high, at)) * 10) / 10;
    const by = place - this.at;
    if (by === 0 && !settled) return;
    const moves = (/** @type {number} */ index) => this.chosen < 0 || this.chosen === index;
    this.doses = this.doses.map((dose, index) => (moves(index) ? Math.round((dose + by) * 10) / 10 : dose));
    this.turns.moved(this.doses, settled);
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.ctrlKey || event.altKey || event.metaKey || this.doses.length === 0) return;
    const by = event.shiftKey ? STEP_S * LEAP : STEP_S;
    const [low, high] = this.range;
    /** @type {Record<string, number>} */
    const goes = {
      ArrowLeft: this.at - by,
      ArrowDown: this.at - by,
      ArrowRight: this.at + by,
      ArrowUp: this.at + by,
      PageDown: this.at - STEP_S * LEAP,
      PageUp: this.at + STEP_S * LEAP,
      Home: low,
      End: high,
    };
    if (event.key === "Escape" && this.held) this.takeBack();
    else if (event.key in goes && !this.held) this.moveTo(goes[event.key]);
    else return;
    event.preventDefault();
  }

  /** A pointer has come down: near a dose's sign it takes that dose, else what is chosen. @param {PointerEvent} event */
  take(event) {
    if (this.held || !event.isPrimary || event.button !== 0 || this.doses.length === 0) return;
    const sign = this.plot.signAt(event.clientX, event.clientY, REACH_PX);
    if (sign !== null) {
      this.moves.value = String(sign);
      this.tell();
    }
    this.slider.setPointerCapture(event.pointerId);
    this.held = { x: event.clientX, from: this.at, doses: [...this.doses], dragged: false };
  }

  /** @param {PointerEvent} event */
  drag(event) {
    const { held } = this;
    if (!held || !event.isPrimary) return;
    const moved = event.clientX - held.x;
    if (!held.dragged && Math.abs(moved) < LEAST_DRAG_PX) return;
    held.dragged = true;
    this.moveTo(held.from + moved * this.plot.secondsPerPx, false);
  }

  /** The pointer has let go: here they lie. */
  release() {
    const { held } = this;
    this.held = null;
    if (held?.dragged) this.moveTo(this.at);
  }

  /** The drag was broken off: all lies as before. */
  takeBack() {
    const { held } = this;
    this.held = null;
    if (!held?.dragged) return;
    this.turns.moved(held.doses, true);
  }
}
