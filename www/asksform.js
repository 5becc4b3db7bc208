// What is asked at one place of the lesson: questions to add, move, reword and take out.

import { inWords, isPrediction } from "./asked.js";
import { element } from "./element.js";
import { TextField } from "./textfield.js";

/**
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {import("./lesson-shapes.js").Ask} Ask
 * @typedef {import("./desk-shapes.js").KeyedQuestion} KeyedQuestion
 */

/** In the list of what can be added: a question in the teacher's own words. */
const OWN = "own";

/** The questions of one place. */
export class AsksForm {
  /**
   * @param {Words} words
   * @param {Map<string, KeyedQuestion>} questions the page's questions with choices, by key
   * @param {Ask[] | undefined} own the teacher's; absent where the level decides
   * @param {Ask[]} inEffect
   * @param {string[]} offered keys of what may be asked here in the page's words
   * @param {(asks: Ask[] | undefined) => void} changed called with the questions; with none where the level shall decide again
   */
  constructor(words, questions, own, inEffect, offered, changed) {
    this.words = words;
    this.questions = questions;
    this.offered = offered;
    this.changed = changed;
    this.byLevel = own === undefined;
    this.asks = structuredClone(own ?? inEffect);
    /** @type {({text: TextField, choices: TextField} | null)[]} by place; null for a question in the page's words */
    this.fields = [];
    this.note = element("p", { class: "quiet" });
    this.list = element("ol", { class: "asks" });
    this.kind = element("select", { id: "ask-kind", "aria-label": words.t("steps.addWhat") });
    this.root = element(
      "fieldset",
      {},
      element("legend", {}, words.t("steps.questions")),
      this.note,
      this.list,
      element(
        "p",
        { class: "buttons" },
        this.kind,
        this.button("steps.addQuestion", () => this.add()),
        this.button("steps.asLevel", () => this.changed(undefined)),
      ),
    );
    this.draw();
  }

  /** @param {string} [focus] the key of what takes the keyboard */
  draw(focus) {
    const { words } = this;
    this.fields = [];
    this.note.textContent = words.t(this.byLevel ? "steps.levelDecides" : "steps.youDecide");
    this.list.replaceChildren(...this.asks.map((ask, index) => this.row(ask, index)));
    this.kind.replaceChildren(
      element("option", { value: OWN }, words.t("steps.ownQuestion")),
      ...this.offered
        .filter((key) => !this.asks.includes(key))
        .map((key) => element("option", { value: key }, this.title(key))),
    );
    if (focus) this.list.querySelector(/** @type {"button"} */ (`[data-key="${focus}"]`))?.focus();
  }

  /** @param {Ask} ask @param {number} index */
  row(ask, index) {
    const { words } = this;
    const place = index + 1;
    /** @param {string} key @param {() => void} act @param {boolean} [off] */
    const button = (key, act, off = false) => {
      const made = this.button(`steps.${key}`, act);
      made.dataset.key = `${index}-${key}`;
      made.setAttribute("aria-label", words.t(`steps.${key}Of`, { name: words.t("steps.question", { place }) }));
      made.disabled = off;
      return made;
    };
    return element(
      "li",
      {},
      this.content(ask, index),
      element(
        "span",
        { class: "step-buttons" },
        button("up", () => this.move(index, -1), index === 0),
        button("down", () => this.move(index, 1), index === this.asks.length - 1),
        button("remove", () => this.remove(index)),
      ),
    );
  }

  /** The words of a question, or the fields for the teacher's own. @param {Ask} ask @param {number} index */
  content(ask, index) {
    if (typeof ask === "string") {
      this.fields.push(null);
      return element("span", {}, this.title(ask));
    }
    const { words } = this;
    const text = new TextField(`ask-${index}-text`, words.t("steps.text", { place: index + 1 }), ask.text, {
      rows: 2,
      typed: (typed) => {
        ask.text = typed;
        this.altered();
      },
    });
    const choices = new TextField(`ask-${index}-choices`, words.t("steps.choices"), ask.choices.join("\n"), {
      rows: 3,
      hint: words.t("steps.choicesHint"),
      typed: (typed) => {
        ask.choices = typed.split("\n").filter((line) => line.trim() !== "");
        this.altered();
      },
    });
    text.input.dataset.key = `${index}-text`;
    this.fields.push({ text, choices });
    return element("div", { class: "own-question" }, text.root, choices.root);
  }

  /** @param {string} key */
  title(key) {
    return isPrediction(key)
      ? this.words.t("steps.predict", { what: this.words.t(`predict.${key}`) })
      : inWords(this.words, this.questions, key).text;
  }

  /** The field where something was refused. @param {number} ask @param {number | null} choice */
  field(ask, choice) {
    const fields = this.fields[ask];
    return choice === null ? fields?.text : fields?.choices;
  }

  // --- what is altered -----------------------------------------------------------------------------------------------

  altered() {
    this.byLevel = false;
    this.note.textContent = this.words.t("steps.youDecide");
    this.changed(structuredClone(this.asks));
  }

  add() {
    const kind = this.kind.value;
    this.asks.push(kind === OWN ? { text: "", choices: [] } : kind);
    this.altered();
    const last = this.asks.length - 1;
    this.draw(kind === OWN ? `${last}-text` : `${last}-remove`);
  }

  /** @param {number} index @param {1 | -1} by */
  move(index, by) {
    const [ask] = this.asks.splice(index, 1);
    this.asks.splice(index + by, 0, ask);
    this.altered();
    // At either end the button that was pressed is off; its neighbour takes the keyboard.
    const end = index + by === 0 ? "down" : index + by === this.asks.length - 1 ? "up" : by < 0 ? "up" : "down";
    this.draw(`${index + by}-${end}`);
  }

  /** @param {number} index */
  remove(index) {
    this.asks.splice(index, 1);
    this.altered();
    this.draw(`${Math.min(index, this.asks.length - 1)}-remove`);
    if (this.asks.length === 0) this.kind.focus();
  }

  /** @param {string} key @param {() => void} act */
  button(key, act) {
    return element("button", { type: "button", click: act }, this.words.t(key));
  }
}
