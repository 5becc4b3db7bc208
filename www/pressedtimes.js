// Times that were pressed at the computed beakers, this device's own or the class's: observations of the model, and marked as such.

import { element } from "./element.js";
import { complainIn, isUsed, timesTable } from "./timestable.js";

/**
 * @typedef {import("./deskengine.js").DeskEngine} Engine
 * @typedef {import("./class-shapes.js").Pressed} Pressed
 * @typedef {import("./i18n.js").Words} Words
 */

/** Whose times: this device's, each slip's, the middle of the slips. */
const KINDS = /** @type {const} */ (["own", "each", "medians"]);

/** The rows, and the buttons that fill them. */
export class PressedTimes {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {(sentence: string) => void} say
   * @param {() => void} changed after rows came, went, or were left out
   */
  constructor(engine, words, say, changed) {
    this.engine = engine;
    this.words = words;
    this.say = say;
    this.changed = changed;
    const t = words.t.bind(words);
    /** @type {{kind: string, lesson: string, view: Pressed} | null} what stands in the table */
    this.taken = null;
    this.body = element("tbody");
    this.said = element("p", { class: "quiet", id: "data-pressed-said" });
    this.table = element(
      "div",
      { hidden: true, change: () => this.settle() },
      timesTable(words, t("data.pressedCaption"), this.body),
      element(
        "p",
        { class: "buttons" },
        element("button", { type: "button", click: () => this.takeOut() }, t("data.pressedOut")),
      ),
    );
    this.root = element(
      "div",
      {},
      element("h4", {}, t("data.pressed")),
      element("p", {}, t("data.pressedLead")),
      element(
        "p",
        { class: "buttons" },
        ...KINDS.map((kind) =>
          element("button", { type: "button", click: () => this.take(kind) }, t(`data.pressed.${kind}`)),
        ),
      ),
      this.said,
      this.table,
    );
  }

  /** @returns {string[][]} what is to be fitted, in the places of its rows */
  get rows() {
    const { view } = this.taken ?? {};
    return [...this.body.rows].map((row, index) => {
      const pressed = view?.rows[index];
      if (!pressed || !isUsed(row)) return ["", "", "", "", "", ""];
      const { dose, startC, endC, seconds, finish, beaker } = pressed;
      return [dose, startC, endC, seconds, finish, beaker].map(String);
    });
  }

  /** How many rows are to be fitted. */
  get count() {
    return [...this.body.rows].filter(isUsed).length;
  }

  /** Fills the table; what was taken before gives way, so that no time stands there twice. @param {string} kind */
  take(kind) {
    const { words } = this;
    const view = this.engine.pressedTimes(kind);
    if (!view.ok) return this.tell(words.t(`data.refused.${view.key}`));
    if (view.rows.length === 0) return this.tell(words.t(`data.pressedNone.${kind}`));
    const before = this.taken?.view.rows.length ?? 0;
    this.lay(kind, view, () => true);
    const presses = view.rows.reduce((sum, { count }) => sum + count, 0);
    this.tell(
      [
        words.t("data.pressedTaken", { count: view.rows.length, presses }),
        before > 0 && words.t("data.pressedInstead", { count: before }),
        view.takenBack > 0 && words.t("data.pressedBack", { count: view.takenBack }),
        view.delay &&
          words.t("data.pressedDelay", {
            middle: words.number(view.delay.middle, 1),
            least: words.number(view.delay.least, 1),
            most: words.number(view.delay.most, 1),
          }),
      ]
        .filter(Boolean)
        .join(" "),
    );
  }

  /** @param {string} kind @param {Pressed} view @param {(row: number) => boolean} used */
  lay(kind, view, used) {
    const { words } = this;
    this.taken = { kind, lesson: view.lessonCode, view };
    const from = (/** @type {Pressed["rows"][number]} */ row) =>
      kind === "own"
        ? words.t("data.from.own")
        : kind === "each"
          ? row.from
          : words.t("data.from.medians", { count: row.count });
    this.body.replaceChildren(
      ...view.rows.map((row, index) =>
        element(
          "tr",
          {},
          element("th", { scope: "row" }, String(index + 1)),
          element(
            "td",
            {},
            element(
              "label",
              { class: "finger-box" },
              element("input", {
                type: "checkbox",
                checked: used(index),
                "aria-label": words.t("data.usePressed", { row: index + 1 }),
              }),
            ),
          ),
          element("td", {}, String(row.dose)),
          ...[row.startC, row.endC, row.seconds].map((value) => element("td", {}, words.number(value, 1))),
          element("td", {}, words.t(`colour.${row.finish}`)),
          element("td", {}, String(row.beaker)),
          element("td", { dir: "auto" }, from(row)),
          element("td", { class: "error" }),
        ),
      ),
    );
    this.settle();
  }

  /** Takes the rows out again. */
  takeOut() {
    const count = this.body.rows.length;
    this.clear();
    this.tell(this.words.t("data.takenOut", { count }));
    this.root.querySelector("button")?.focus();
  }

  clear() {
    this.taken = null;
    this.body.replaceChildren();
    this.settle();
  }

  /** What hangs on the rows. */
  settle() {
    this.table.hidden = this.body.rows.length === 0;
    for (const row of this.body.rows) row.classList.toggle("left-out", !isUsed(row));
    this.changed();
  }

  /** Times of another lesson's beakers say nothing of this one's: they go, and stay in their record and slips. */
  arrive() {
    if (!this.taken || this.taken.lesson === this.engine.lessonCode()) return;
    const count = this.body.rows.length;
    this.clear();
    this.tell(this.words.t("data.pressedOther", { count }));
  }

  /** Takes over what stood here before the page spoke another language. @param {PressedTimes} before */
  goOnFrom({ taken, body }) {
    if (taken) this.lay(taken.kind, taken.view, (row) => isUsed(body.rows[row]));
  }

  /** @param {string} sentence */
  tell(sentence) {
    this.said.textContent = sentence;
    this.say(sentence);
  }

  /** Says at each row what is wrong in it. @param {import("./lesson-shapes.js").FieldError[]} errors */
  complain(errors) {
    complainIn(this.words, this.body, errors);
    const first = errors[0] && this.body.rows[errors[0].step ?? 0];
    first?.querySelector("input")?.focus();
  }
}
