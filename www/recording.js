// One recording of a pH probe: what was assumed of its file, told and open to change; its doses; the model's curve beside it.

import { Alignment } from "./alignment.js";
import { table } from "./datatable.js";
import { element } from "./element.js";
import { NumberField } from "./field.js";
import { TextField } from "./textfield.js";

/**
 * @typedef {import("./class-shapes.js").OverlayView} OverlayView
 * @typedef {import("./class-shapes.js").DataRefusal} DataRefusal
 * @typedef {import("./class-shapes.js").ProbeView} ProbeView
 *
 * @typedef {object} Curve the model's curve beside a recording
 * @property {Float64Array} computed pH at every so many readings
 * @property {number} every
 * @property {number} lagS of the electrode; 0 for none
 * @property {OverlayView} view
 *
 * @typedef {object} Laid what another place draws of a recording
 * @property {string} name
 * @property {string} lesson that it was laid beside, as `pouredIn` tells it
 * @property {number} celsius
 * @property {number[]} dosesS
 * @property {Float64Array} timesS
 * @property {Float64Array} ph
 * @property {Curve[]} curves without lag, then with it where there is one
 *
 * @typedef {object} Room what all recordings have in common
 * @property {import("./deskengine.js").DeskEngine} engine
 * @property {import("./i18n.js").Words} words
 * @property {(refusal: DataRefusal) => string} sentence
 * @property {(sentence: string, topic?: string) => void} say speaks to those who listen
 * @property {() => number} lagS of the electrode
 * @property {() => boolean} fitted whether the model computes with what was fitted last
 * @property {(recording: Recording) => void} remove
 */

const CHOICES = ["delimiter", "mark", "unit", "time", "ph"];
const DELIMITERS = ["tab", "semicolon", "comma", "space"];
const MARKS = ["point", "comma"];
const UNITS = ["seconds", "minutes", "hours", "clock"];
/** Columns that are offered of a file of which none could be found. */
const COLUMNS = 8;
/** Refusals after which another choice of columns, marks or units may help. */
const MENDED_BY_CHOICE = ["oneColumn", "noNumbers", "oneRow", "backwards", "tooLong", "notPh"];
/** Readings that are compared: while a hand moves the doses, and when it has let go. */
const MOST_MOVING = 600;
const MOST = 12_000;

/** The recording. */
export class Recording {
  /**
   * @param {Room} room
   * @param {number} slot of the core
   * @param {string} name
   * @param {Uint8Array} bytes
   */
  constructor(room, slot, name, bytes) {
    this.room = room;
    this.slot = slot;
    this.name = name;
    this.bytes = bytes;
    /** @type {ProbeView | null} */
    this.read = null;
    /** @type {Laid | null} */
    this.laid = null;
    /** @type {Float64Array} */
    this.timesS = new Float64Array();
    /** @type {Float64Array} */
    this.ph = new Float64Array();
    this.due = 0;
    const { words } = room;
    const t = words.t.bind(words);
    const id = `data-${slot}`;
    this.told = element("p");
    this.trouble = element("p", { class: "error", role: "alert" });
    this.choices = CHOICES.map((choice) => element("select", { id: `${id}-${choice}`, change: () => this.again() }));
    this.doses = new TextField(`${id}-doses`, t("data.doses"), "", { hint: t("data.dosesHint") });
    this.celsius = new NumberField(`${id}-celsius`, t("data.celsius"), "", "°C", t("data.celsiusHint"));
    for (const field of [this.doses, this.celsius]) field.input.addEventListener("change", () => this.lay());
    this.alignment = new Alignment(words, id, name, {
      moved: (doses, settled) => this.moved(doses, settled),
      told: () => (this.laid ? this.differs(this.laid.curves[this.laid.curves.length - 1].view) : ""),
    });
    this.difference = element("div");
    this.short = element("span", { class: "quiet" });
    this.counted = element("input", { type: "checkbox", id: `${id}-counted`, checked: true });
    const button = (/** @type {string} */ key, /** @type {() => void} */ act, /** @type {string} */ kind = "") =>
      element("button", { type: "button", class: kind, click: act }, t(key, { name }));
    this.assumed = element(
      "details",
      {},
      element("summary", {}, t("data.assumed")),
      ...this.choices.map((choice, index) =>
        element(
          "p",
          { class: "field" },
          element("label", { for: choice.id }, t(`data.assume.${CHOICES[index]}`)),
          choice,
        ),
      ),
    );
    this.body = element(
      "div",
      { hidden: true },
      this.celsius.root,
      this.doses.root,
      element(
        "p",
        { class: "buttons" },
        button("data.lay", () => this.lay(), "primary"),
      ),
      this.alignment.root,
      this.difference,
      element(
        "p",
        { class: "option-line" },
        this.counted,
        element("label", { for: this.counted.id }, t("data.counted")),
      ),
    );
    this.root = element(
      "details",
      { class: "recording", open: true },
      element("summary", {}, element("strong", {}, name), " ", this.short),
      this.trouble,
      this.told,
      this.assumed,
      this.body,
      element(
        "p",
        { class: "buttons" },
        button("data.remove", () => room.remove(this)),
      ),
    );
  }

  /** Whether another choice may read a file that was refused. @param {DataRefusal} refusal */
  static mayBeMended({ key }) {
    return MENDED_BY_CHOICE.includes(key);
  }

  /**
   * Reads the file: as it looks, or as the form says.
   * @param {string[]} [wishes]
   * @returns {DataRefusal | null} why it is not read; what was read before stays
   */
  take(wishes = []) {
    const { engine, words } = this.room;
    const view = engine.readProbe(this.slot, this.bytes, wishes);
    const named = (/** @type {string[]} */ keys, /** @type {string} */ of) =>
      keys.map((key) => [key, words.t(`data.${of}.${key}`)]);
    const options = [named(DELIMITERS, "delimiter"), named(MARKS, "mark"), named(UNITS, "unit")];
    this.trouble.textContent = view.ok ? "" : this.room.sentence(view);
    if (!view.ok) {
      if (this.read) return view;
      // Never read yet: whoever knows the file better says how.
      const columns = Array.from({ length: COLUMNS }, (_, at) => [
        String(at),
        words.t("data.columnNumber", { number: at + 1 }),
      ]);
      for (const [index, known] of [...options, columns, columns].entries())
        this.fill(index, [["", words.t("data.asItLooks")], ...known], wishes[index] ?? "");
      this.assumed.open = true;
      this.short.textContent = words.t("data.notRead");
      return view;
    }
    const before = this.read;
    this.body.hidden = false;
    this.read = view;
    this.timesS = engine.probeColumn(this.slot, "time");
    this.ph = engine.probeColumn(this.slot, "ph");
    const [encoding, delimiter, mark, unit] = view.assumed;
    const names = view.names.map((name, index) => [
      String(index),
      name || words.t("data.columnNumber", { number: index + 1 }),
    ]);
    for (const [index, assumed] of [delimiter, mark, unit].entries()) this.fill(index, options[index], assumed);
    this.fill(3, names, String(view.columns[0]));
    this.fill(4, names, String(view.columns[1]));
    const [count, line] = view.passedOver;
    this.told.textContent = [
      words.t("data.readAs", {
        rows: view.rows,
        minutes: words.number(view.seconds / 60, 1),
        encoding: words.t(`data.encoding.${encoding}`),
      }),
      count > 0 ? words.t("data.passedOver", { count, line }) : "",
      view.falls.length > 0 ? words.t("data.falls", { count: view.falls.length }) : words.t("data.noFalls"),
    ].join(" ");
    // Typed seconds stay, unless they are those of the same file read otherwise.
    if (!before || this.doses.typed.trim() === "" || this.doses.typed === this.written(before.falls))
      this.doses.input.value = this.written(view.falls);
    this.laid = null;
    this.show(new Float64Array(), 1);
    this.difference.replaceChildren();
    this.shorten();
    return null;
  }

  /** Reads the file again, as the form says. */
  again() {
    if (this.take(this.choices.map((choice) => choice.value))) return;
    this.room.say(this.told.textContent ?? "");
    if (this.celsius.typed.trim() !== "") this.lay();
  }

  /** @param {number} index @param {string[][]} options @param {string} value */
  fill(index, options, value) {
    const choice = this.choices[index];
    choice.replaceChildren(...options.map(([key, name]) => element("option", { value: key }, name)));
    choice.value = value;
  }

  /** Takes over what stood in the same recording before the page spoke another language. @param {Recording} before */
  goOnFrom(before) {
    this.take(before.choices.map((choice) => choice.value));
    this.doses.input.value = before.doses.typed;
    this.celsius.input.value = before.celsius.typed;
    this.counted.checked = before.counted.checked;
    this.root.open = before.root.open;
    if (before.laid) this.lay();
  }

  /** Dose times as they are written, s. @param {number[]} doses */
  written(doses) {
    const { words } = this.room;
    return doses.map((at) => words.number(at, Number.isInteger(at) ? 0 : 1)).join("  ");
  }

  /** The dose times as typed, s: numbers with spaces or semicolons between them. @returns {number[]} NaN for what is no number */
  get dosesS() {
    const words = this.doses.typed.trim().split(/[\s;]+/);
    return words.filter((word) => word !== "").map((word) => Number(word.replace(",", ".")));
  }

  /** As the core takes it. @returns {Float64Array} */
  get placed() {
    return Float64Array.of(this.slot, this.celsius.value, ...this.dosesS);
  }

  /** A hand has moved the doses. @param {number[]} doses @param {boolean} settled */
  moved(doses, settled) {
    this.doses.input.value = this.written(doses);
    this.doses.input.dispatchEvent(new Event("input", { bubbles: true }));
    cancelAnimationFrame(this.due);
    if (settled) this.lay();
    else this.due = requestAnimationFrame(() => this.lay(MOST_MOVING));
  }

  /**
   * Lays the model's curve beside the recording.
   * @param {number} [most] readings compared
   * @returns {boolean} whether it lies there
   */
  lay(most = MOST) {
    const { engine, sentence, fitted, lagS } = this.room;
    /** @type {Curve[]} */
    const curves = [];
    // With a lag also without it: another place may be asked for both. A hand that moves waits for neither.
    for (const lag of most === MOST && lagS() > 0 ? [0, lagS()] : [lagS()]) {
      const view = engine.overlayProbe(this.placed, lag, fitted(), most);
      this.trouble.textContent = view.ok ? "" : sentence(view);
      if (!view.ok) {
        // A curve that does not belong to these doses must not stay. While a lesson is under way, what was laid before it does.
        if (view.key !== "lessonOpen") this.laid = null;
        this.difference.replaceChildren();
        this.show(new Float64Array(), 1);
        return false;
      }
      curves.push({ view, lagS: lag, every: view.every, computed: engine.probeColumn(this.slot, "computed") });
    }
    const curve = curves[curves.length - 1];
    this.laid = {
      name: this.name,
      lesson: pouredIn(engine.lesson()),
      celsius: this.celsius.value,
      dosesS: this.dosesS,
      timesS: this.timesS,
      ph: this.ph,
      curves,
    };
    this.show(curve.computed, curve.every);
    this.tell(curve);
    this.shorten();
    return true;
  }

  /** @param {Float64Array} computed @param {number} every */
  show(computed, every) {
    this.alignment.plot.show(this.timesS, this.ph, computed, every);
    const doses = this.dosesS;
    const rising = doses.every(
      (at, index) => at >= 0 && at > (doses[index - 1] ?? -1) && at < (this.read?.seconds ?? 0),
    );
    this.alignment.begin(rising ? doses : [], this.read?.seconds ?? 0);
  }

  /** How the curve lies, in a sentence. @param {OverlayView} view */
  differs(view) {
    const { words } = this.room;
    return words.t("data.differs", { mean: words.number(view.meanPh, 2), rms: words.number(view.rmsPh, 2) });
  }

  /** Tells how the curve lies, in pH and in seconds. @param {Curve} curve */
  tell({ view, computed }) {
    const { words } = this.room;
    const t = words.t.bind(words);
    const seconds = (/** @type {number} */ value) => (Number.isNaN(value) ? t("data.never") : words.number(value, 1));
    const compared =
      computed.length < this.ph.length ? t("data.compared", { count: computed.length, all: this.ph.length }) : "";
    this.difference.replaceChildren(
      element("p", {}, `${this.differs(view)} ${compared}`),
      table(
        t("data.ofFile", { name: this.name, sentence: t("data.backCaption") }),
        ["data.column.dose", "data.measured", "data.computed", "data.difference"].map((key) => t(key)),
        view.backS.map(([measured, computed], index) => [
          String(index + 1),
          seconds(measured),
          seconds(computed),
          Number.isNaN(computed - measured) ? "–" : words.number(computed - measured, 1),
        ]),
      ),
    );
  }

  /** Says in the list what is known of it. */
  shorten() {
    const { words } = this.room;
    const doses = words.t("data.shortDoses", { count: this.dosesS.length });
    const celsius = Number.isNaN(this.celsius.value) ? "" : words.held(`, ${words.number(this.celsius.value, 1)} °C`);
    this.short.textContent = `${doses}${celsius}`;
  }
}

/**
 * What of a lesson is done in its beakers: two that are alike in this compute alike, whatever they ask or show.
 * @param {import("./desk-shapes.js").LessonTree} lesson
 */
export function pouredIn({ recipe, beakers, steps, fitted }) {
  const poured = steps?.map(({ reagent, volumeMl, restS }) => [reagent, volumeMl, restS]);
  return JSON.stringify([recipe, beakers, poured, fitted]);
}
