// A pH probe's file: opened, what was assumed told and open to change, laid beside the model's curve.

import { CurvePlot } from "./dataplots.js";
import { element } from "./element.js";
import { NumberField } from "./field.js";
import { TextField } from "./textfield.js";

/** @typedef {import("./class-shapes.js").ProbeView} ProbeView */

const DELIMITERS = ["tab", "semicolon", "comma", "space"];
const MARKS = ["point", "comma"];
const UNITS = ["seconds", "minutes", "hours", "clock"];
/** The core's own limit; a file beyond it is not even read. */
const MOST_BYTES = 16_000_000;

/** The form. */
export class ProbeForm {
  /**
   * @param {import("./deskengine.js").DeskEngine} engine
   * @param {import("./i18n.js").Words} words
   * @param {(refusal: import("./class-shapes.js").DataRefusal) => string} sentence
   * @param {(sentence: string) => void} say speaks to those who listen
   */
  constructor(engine, words, sentence, say) {
    this.engine = engine;
    this.words = words;
    this.sentence = sentence;
    this.say = say;
    const t = words.t.bind(words);
    /** @type {Uint8Array | null} */
    this.bytes = null;
    this.fitted = false;
    this.file = element("input", {
      type: "file",
      id: "data-file",
      accept: ".csv,.txt,.tsv,text/*",
      change: () => this.open(),
    });
    this.told = element("p");
    this.trouble = element("p", { class: "error", role: "alert" });
    this.choices = ["delimiter", "mark", "unit", "time", "ph"].map((name) =>
      element("select", { id: `data-${name}`, change: () => this.read(true) }),
    );
    this.assumed = element(
      "fieldset",
      { class: "groups", hidden: true },
      element("legend", {}, t("data.assumed")),
      ...this.choices.map((choice, index) =>
        element(
          "p",
          { class: "field" },
          element("label", { for: choice.id }, t(`data.assume.${["delimiter", "mark", "unit", "time", "ph"][index]}`)),
          choice,
        ),
      ),
    );
    this.doses = new TextField("data-doses", t("data.doses"), "", { hint: t("data.dosesHint") });
    this.celsius = new NumberField("data-celsius", t("data.celsius"), "", "°C", t("data.celsiusHint"));
    this.lag = new NumberField("data-lag", t("data.lag"), "0", "s", t("data.lagHint"));
    this.plot = new CurvePlot(words);
    this.difference = element("div");
    this.beside = element(
      "div",
      { hidden: true },
      this.doses.root,
      this.celsius.root,
      this.lag.root,
      element(
        "p",
        { class: "buttons" },
        element("button", { type: "button", class: "primary", click: () => this.lay() }, t("data.lay")),
      ),
      this.plot.root,
      this.difference,
    );
    this.root = element(
      "div",
      {},
      element("p", { class: "field" }, element("label", { for: "data-file" }, t("data.file")), this.file),
      this.trouble,
      this.told,
      this.assumed,
      this.beside,
    );
  }

  /** Whether a recording lies open. */
  get filled() {
    return this.bytes !== null;
  }

  /** @param {ProbeForm} before */
  goOnFrom(before) {
    if (!before.bytes) return;
    this.bytes = before.bytes;
    this.read(false);
    for (const field of /** @type {const} */ (["doses", "celsius", "lag"]))
      this[field].input.value = before[field].typed;
  }

  async open() {
    const file = this.file.files?.[0];
    if (!file) return;
    if (file.size > MOST_BYTES) {
      this.trouble.textContent = this.words.t("data.refused.tooLarge", { first: file.size / 1e6, second: 0 });
      return;
    }
    this.bytes = new Uint8Array(await file.arrayBuffer());
    this.read(false);
  }

  /** Reads the file: as it looks, or as the form says. @param {boolean} asChosen */
  read(asChosen) {
    if (!this.bytes) return;
    const view = this.engine.readProbe(this.bytes, asChosen ? this.choices.map((choice) => choice.value) : []);
    this.trouble.textContent = view.ok ? "" : this.sentence(view);
    if (!view.ok) return;
    const { words } = this;
    const [encoding, delimiter, mark, unit] = view.assumed;
    this.fill(
      0,
      DELIMITERS.map((key) => [key, words.t(`data.delimiter.${key}`)]),
      delimiter,
    );
    this.fill(
      1,
      MARKS.map((key) => [key, words.t(`data.mark.${key}`)]),
      mark,
    );
    this.fill(
      2,
      UNITS.map((key) => [key, words.t(`data.unit.${key}`)]),
      unit,
    );
    const names = view.names.map((name, index) => [
      String(index),
      name || words.t("data.columnNumber", { number: index + 1 }),
    ]);
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
    this.say(this.told.textContent);
    if (!asChosen || this.doses.typed === "")
      this.doses.input.value = view.falls.map((at) => words.number(at, 0)).join("  ");
    this.assumed.hidden = false;
    this.beside.hidden = false;
    this.plot.show(this.engine.probeColumn("time"), this.engine.probeColumn("ph"), new Float64Array());
    this.difference.replaceChildren();
  }

  /** @param {number} index @param {string[][]} options @param {string} value */
  fill(index, options, value) {
    const choice = this.choices[index];
    choice.replaceChildren(...options.map(([key, name]) => element("option", { value: key }, name)));
    choice.value = value;
  }

  /** The dose times as typed, s: numbers with spaces or semicolons between them. */
  get dosesS() {
    const typed = this.doses.typed
      .trim()
      .split(/[\s;]+/)
      .filter((word) => word !== "");
    return Float64Array.from(typed, (word) => Number(word.replace(",", ".")));
  }

  /** @param {NumberField} field */
  number(field) {
    return field.typed.trim() === "" ? Number.NaN : Number(field.typed.trim().replace(",", "."));
  }

  /** Lays the model's curve beside the recording. */
  lay() {
    const { words } = this;
    const view = this.engine.overlayProbe(
      this.dosesS,
      this.number(this.celsius),
      this.number(this.lag) || 0,
      this.fitted,
    );
    this.trouble.textContent = view.ok ? "" : this.sentence(view);
    if (!view.ok) return;
    this.plot.show(this.engine.probeColumn("time"), this.engine.probeColumn("ph"), this.engine.probeColumn("computed"));
    const seconds = (/** @type {number} */ value) =>
      Number.isNaN(value) ? words.t("data.never") : words.number(value, 1);
    this.difference.replaceChildren(
      element(
        "p",
        {},
        words.t("data.differs", { mean: words.number(view.meanPh, 2), rms: words.number(view.rmsPh, 2) }),
      ),
      table(
        words.t("data.backCaption"),
        [words.t("data.column.dose"), words.t("data.measured"), words.t("data.computed"), words.t("data.difference")],
        view.backS.map(([measured, computed], index) => [
          String(index + 1),
          seconds(measured),
          seconds(computed),
          seconds(computed - measured),
        ]),
      ),
    );
  }
}

/** @param {string} caption @param {string[]} heads @param {string[][]} rows */
export function table(caption, heads, rows) {
  return element(
    "div",
    { class: "wide", tabindex: 0, role: "region", "aria-label": caption },
    element(
      "table",
      {},
      element("caption", {}, caption),
      element("thead", {}, element("tr", {}, ...heads.map((head) => element("th", { scope: "col" }, head)))),
      element("tbody", {}, ...rows.map((row) => element("tr", {}, ...row.map((cell) => element("td", {}, cell))))),
    ),
  );
}
