// Steps and questions: the doses of the lesson and what is asked before each, to add, move, alter and take out. By buttons alone, nothing is dragged.

import { dose } from "./amount.js";
import { isPrediction, PREDICTIONS } from "./asked.js";
import { AsksForm } from "./asksform.js";
import { element } from "./element.js";
import { NumberField } from "./field.js";

/**
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {import("./desk-shapes.js").LessonTree} LessonTree
 * @typedef {import("./desk-shapes.js").DoseTree} DoseTree
 * @typedef {import("./desk-shapes.js").Place} Place
 * @typedef {import("./lesson-shapes.js").Ask} Ask
 * @typedef {import("./desk-shapes.js").KeyedQuestion} KeyedQuestion
 * @typedef {import("./lesson-shapes.js").ReagentKey} ReagentKey
 * @typedef {import("./lesson-shapes.js").FieldError} FieldError
 * @typedef {import("./textfield.js").TextField} TextField
 *
 * @typedef {"brief" | "end" | number} At before the first dose, after the last, or before a dose counted from 0
 * @typedef {Pick<LessonTree, "brief" | "steps" | "end">} Script what the teacher altered; what is absent follows from recipe and level
 */

/** The editor. */
export class StepsForm {
  /**
   * @param {Words} words
   * @param {Map<string, KeyedQuestion>} questions the page's questions with choices, by key
   * @param {{typed: () => void, altered: () => void}} changed after a key in a field; after an alteration that must be seen at once
   * @param {(sentence: string) => void} say speaks to those who listen
   */
  constructor(words, questions, changed, say) {
    this.words = words;
    this.questions = questions;
    this.changed = changed.typed;
    this.settle = changed.altered;
    this.say = say;
    /** @type {Script} */
    this.script = {};
    /** @type {Script | null} as it was before the last move, addition or removal */
    this.before = null;
    /** @type {Place[]} what is poured and asked now, as the core gave it last: the brief, the doses, the end */
    this.places = [];
    /** @type {At | null} the place that is open */
    this.open = null;
    /** @type {AsksForm | null} its questions */
    this.asks = null;
    /** @type {{volumeMl: NumberField, restS: NumberField} | null} its amounts */
    this.amounts = null;
    this.list = element("ol", { class: "steps" });
    this.undo = this.button("steps.undo", () => this.takeBack());
    // Closed at first: whoever only alters the recipe has no fifty buttons to pass.
    this.root = element(
      "details",
      {},
      element("summary", {}, words.t("steps.open")),
      element("p", {}, words.t("steps.lead")),
      this.list,
      element(
        "p",
        { class: "buttons" },
        this.button("steps.addAcid", () => this.add("acid")),
        this.button("steps.addBase", () => this.add("base")),
        this.undo,
        this.button("steps.reset", () => this.reset()),
      ),
    );
  }

  /** Writes a lesson's script into the form. @param {Script} script */
  write({ brief, steps, end }) {
    this.script = structuredClone({ brief, steps, end });
    this.before = null;
    this.open = null;
  }

  /** Shows what is in effect; an open place keeps what is being typed there. @param {Place[]} places */
  show(places) {
    this.places = places;
    const here = document.activeElement;
    const isHere = here !== null && this.list.contains(here);
    // Whoever stands in the list keeps the place, and what is being typed there.
    if (isHere && this.list.children.length === this.doses.length + 2) this.relabel();
    else this.draw();
  }

  /** @param {string} [focus] the key of the button that takes the keyboard */
  draw(focus) {
    this.asks = null;
    this.amounts = null;
    this.list.replaceChildren(this.row("brief"), ...this.doses.map((_, index) => this.row(index)), this.row("end"));
    this.undo.hidden = this.before === null;
    if (focus) this.list.querySelector(/** @type {"button"} */ (`[data-key="${focus}"]`))?.focus();
  }

  /** The words of each row, without making it anew. */
  relabel() {
    const rows = [...this.list.children];
    for (const [index, at] of /** @type {At[]} */ (["brief", ...this.doses.keys(), "end"]).entries()) {
      const summary = rows[index]?.querySelector(".step-summary");
      if (summary) summary.textContent = this.summary(at);
    }
  }

  /** The doses as they may be altered: the teacher's own, or those in effect. @returns {DoseTree[]} */
  get doses() {
    return this.script.steps ?? this.places.flatMap(({ reagent }) => (reagent ? [{ reagent }] : []));
  }

  // --- one row -------------------------------------------------------------------------------------------------------

  /** @param {At} at */
  row(at) {
    const isOpen = this.open === at;
    const name = this.name(at);
    /** @param {string} key @param {() => void} act @param {boolean} [off] */
    const button = (key, act, off = false) => {
      const made = this.button(`steps.${key}`, act);
      made.dataset.key = `${at}-${key}`;
      made.setAttribute("aria-label", this.words.t(`steps.${key}Of`, { name }));
      made.disabled = off;
      return made;
    };
    const edit = button("edit", () => this.toggle(at));
    edit.setAttribute("aria-expanded", String(isOpen));
    const buttons =
      typeof at === "number"
        ? [
            button("up", () => this.move(at, -1), at === 0),
            button("down", () => this.move(at, 1), at === this.doses.length - 1),
            edit,
            button("remove", () => this.remove(at)),
          ]
        : [edit];
    return element(
      "li",
      { class: "step" },
      element("span", { class: "step-name" }, name),
      element("span", { class: "step-summary quiet" }, this.summary(at)),
      element("span", { class: "step-buttons" }, ...buttons),
      isOpen && this.editor(at),
    );
  }

  /** @param {At} at */
  name(at) {
    if (typeof at !== "number") return this.words.t(`steps.${at}`);
    const { reagent } = this.doses[at];
    const number = this.doses.slice(0, at + 1).filter((dose) => dose.reagent === reagent).length;
    return this.words.t(`dose.${reagent}`, { number });
  }

  /** What is poured and asked there, in a line. @param {At} at */
  summary(at) {
    const { words } = this;
    const asks = this.asksAt(at).map((ask) =>
      words.t(isPrediction(ask) ? `predict.${ask}` : typeof ask === "string" ? "steps.choice" : "steps.own"),
    );
    const asked = asks.length > 0 ? words.t("steps.asks", { asks: asks.join(", ") }) : words.t("steps.asksNothing");
    const step = typeof at === "number" && this.placeAt(at);
    return step
      ? `${words.t("steps.amount", { dose: dose(words, step.volumeMl), seconds: step.restS })} ${asked}`
      : asked;
  }

  /** @param {At} at */
  placeAt(at) {
    return this.places.find((place) => place.at === at);
  }

  /** What is asked at a place now. @param {At} at @returns {Ask[]} */
  asksAt(at) {
    return this.placeAt(at)?.asks ?? [];
  }

  // --- what is altered -----------------------------------------------------------------------------------------------

  /** @param {At} at */
  editor(at) {
    const { words } = this;
    const own = typeof at === "number" ? this.doses[at].asks : this.script[at];
    const offered = [...(typeof at === "number" ? PREDICTIONS : []), ...this.questions.keys()];
    this.asks = new AsksForm(words, this.questions, own, this.asksAt(at), offered, (asks) => {
      this.setAsks(at, asks);
      if (asks) return this.changed();
      this.settle();
      this.draw(`${at}-edit`);
    });
    if (typeof at !== "number") return element("div", { class: "step-editor" }, this.asks.root);
    const altered = this.doses[at];
    const effective = this.placeAt(at);
    /** @param {"volumeMl" | "restS"} key @param {string} unit */
    const amount = (key, unit) => {
      const usual =
        effective && altered[key] === undefined ? words.number(effective[key], key === "restS" ? 0 : 1) : "";
      const field = new NumberField(
        `step-${key}`,
        words.t(`steps.${key}`),
        String(altered[key] ?? ""),
        unit,
        words.t("steps.usual", { usual: usual || "\u2013" }),
      );
      field.input.addEventListener("input", () => {
        const own = this.own()[at];
        if (field.typed.trim()) own[key] = field.typed;
        else delete own[key];
        this.changed();
      });
      return field;
    };
    this.amounts = { volumeMl: amount("volumeMl", "mL"), restS: amount("restS", "s") };
    return element(
      "div",
      { class: "step-editor" },
      element("div", { class: "row" }, this.amounts.volumeMl.root, this.amounts.restS.root),
      this.asks.root,
    );
  }

  /** The doses as the teacher's own, from now on. @returns {DoseTree[]} */
  own() {
    this.script.steps ??= this.doses.map((dose) => ({ ...dose }));
    return this.script.steps;
  }

  /** @param {At} at @param {Ask[] | undefined} asks */
  setAsks(at, asks) {
    if (typeof at !== "number") this.script[at] = asks;
    else if (asks === undefined) delete this.own()[at].asks;
    else this.own()[at].asks = asks;
  }

  /** @param {At} at */
  toggle(at) {
    this.open = this.open === at ? null : at;
    this.draw(`${at}-edit`);
  }

  /** Remembers the script, so that the next alteration can be taken back. */
  remember() {
    this.before = structuredClone(this.script);
  }

  /** @param {number} at @param {1 | -1} by */
  move(at, by) {
    const name = this.name(at);
    this.remember();
    const doses = this.own();
    const [dose] = doses.splice(at, 1);
    doses.splice(at + by, 0, dose);
    if (this.open === at) this.open = at + by;
    else if (this.open === at + by) this.open = at;
    const place = at + by;
    // At either end the button that was pressed is off; its neighbour takes the keyboard.
    const end = place === 0 ? "down" : place === doses.length - 1 ? "up" : by < 0 ? "up" : "down";
    this.altered(this.words.t("steps.moved", { name, place: place + 1, count: doses.length }), `${place}-${end}`);
  }

  /** @param {number} at */
  remove(at) {
    const name = this.name(at);
    this.remember();
    this.own().splice(at, 1);
    this.open = null;
    this.altered(this.words.t("steps.removed", { name }), `${Math.min(at, this.doses.length - 1)}-remove`);
  }

  /** Adds a dose behind the last of its reagent. @param {ReagentKey} reagent */
  add(reagent) {
    this.remember();
    const doses = this.own();
    const last = doses.findLastIndex((dose) => dose.reagent === reagent);
    const at = last >= 0 ? last + 1 : reagent === "acid" ? 0 : doses.length;
    doses.splice(at, 0, { reagent });
    this.open = null;
    this.altered(this.words.t("steps.added", { name: this.name(at) }), `${at}-edit`);
  }

  /** Lets recipe and level decide again. */
  reset() {
    this.remember();
    this.script = {};
    this.open = null;
    this.altered(this.words.t("steps.resetDone"));
  }

  /** Takes the last move, addition or removal back. */
  takeBack() {
    if (!this.before) return;
    this.script = this.before;
    this.before = null;
    this.open = null;
    this.altered(this.words.t("steps.takenBack"));
  }

  /** @param {string} sentence @param {string} [focus] */
  altered(sentence, focus) {
    this.say(sentence);
    // What is in effect hangs on the order: it is asked for anew before the list is drawn.
    this.settle();
    this.draw(focus);
  }

  /**
   * Where something was refused; the place is opened.
   * @param {FieldError} error
   * @returns {NumberField | TextField | undefined}
   */
  fieldOf({ step, field, ask, choice }) {
    const at = /** @type {At} */ (step ?? field);
    this.root.open = true;
    if (this.open !== at) {
      this.open = at;
      this.draw();
    }
    if (ask === undefined || ask === null) return this.amounts?.[/** @type {"volumeMl" | "restS"} */ (field)];
    return this.asks?.field(ask, choice ?? null);
  }

  /** @param {string} key @param {() => void} act */
  button(key, act) {
    return element("button", { type: "button", click: act }, this.words.t(key));
  }
}
