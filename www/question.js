// One question of the card, as a group of real form controls, with a place for the hands that a class raises for each choice.

import { element } from "./element.js";

/** @typedef {import("./i18n.js").Words} Words */

/** Longest answer in free words, in characters; the core refuses more. */
const WHY_MAX_CHARS = 500;

/** @typedef {Record<string, number>} Hands raised hands for each choice, as the teacher counted them */

/** Most hands that can be typed. */
const MOST_HANDS = 999;

/** A question. */
export class Question {
  /**
   * @param {Words} words
   * @param {string} key
   * @param {string} legend what is asked
   * @param {string} group "ask" or "see": the two cards put the same question in other words
   * @param {(own: Question) => HTMLElement} controls makes what it is answered with
   */
  constructor(words, key, legend, group, controls) {
    this.words = words;
    this.key = key;
    this.name = `${group}-${key}`;
    /** @type {Map<string, HTMLInputElement>} where the raised hands for each choice are typed */
    this.counts = new Map();
    this.taken = "";
    this.error = element("p", { class: "error", id: `${this.name}-error` });
    this.root = element(
      "fieldset",
      { class: "question", "data-question": key, "aria-describedby": `${this.name}-error` },
      element("legend", {}, legend),
      controls(/** @type {any} */ (this)),
      this.error,
    );
    // What was missing is there now.
    this.root.addEventListener("input", () => {
      if (this.error.textContent) this.complain("");
    });
  }

  /** Whether it may be left without an answer: free words always may. */
  get mayBeEmpty() {
    return this.root.querySelector("textarea") !== null;
  }

  /** What is said when it has no answer. */
  get missing() {
    return "error.choose";
  }

  /** A place for free words. @param {string | null} [typed] @returns {HTMLElement} */
  freeWords(typed = "") {
    const area = element("textarea", {
      rows: 4,
      maxlength: WHY_MAX_CHARS,
      id: `${this.name}-typed`,
      "aria-label": this.words.t("choice.whyLabel"),
      "aria-describedby": `${this.name}-error`,
    });
    area.value = typed ?? "";
    return area;
  }

  /** @param {string[][]} options value and words @param {string | null} [chosen] @returns {HTMLElement} */
  list(options, chosen = null) {
    const list = element(
      "div",
      { class: "options" },
      ...options.map(([value, text]) => this.choice(value, [text], "option", text)),
    );
    for (const radio of /** @type {NodeListOf<HTMLInputElement>} */ (list.querySelectorAll("input[type=radio]")))
      radio.checked = radio.value === chosen;
    return list;
  }

  /**
   * One choice, with a place for the hands that a class raises for it.
   * @param {string} value @param {(Node | string)[]} content @param {string} kind @param {string} [said] what the hands are for; no place for hands without it
   * @returns {HTMLElement}
   */
  choice(value, content, kind, said) {
    const label = element(
      "label",
      { class: kind },
      element("input", { type: "radio", name: this.name, value, "aria-describedby": `${this.name}-error` }),
      ...content,
    );
    if (!said) return label;
    const hands = element("input", {
      type: "number",
      class: "hands",
      min: 0,
      max: MOST_HANDS,
      step: 1,
      inputmode: "numeric",
      placeholder: this.words.t("teach.handsShort"),
      "aria-label": this.words.t("teach.hands", { choice: said }),
      input: () => this.takeMost(),
    });
    this.counts.set(value, hands);
    return element("div", { class: "with-hands" }, label, hands);
  }

  /** @returns {Hands} the hands that were typed, where there are any */
  hands() {
    const typed = [...this.counts].map(([value, input]) => /** @type {const} */ ([value, input.valueAsNumber]));
    return Object.fromEntries(
      typed.filter(([, count]) => count > 0).map(([value, count]) => [value, Math.min(Math.round(count), MOST_HANDS)]),
    );
  }

  /** Takes the choice for which most hands are up; where two have as many, the teacher decides. */
  takeMost() {
    const hands = Object.entries(this.hands()).sort(([, one], [, other]) => other - one);
    const isTie = hands.length > 1 && hands[0][1] === hands[1][1];
    const most = hands.length === 0 || isTie ? "" : hands[0][0];
    const radios = /** @type {NodeListOf<HTMLInputElement>} */ (this.root.querySelectorAll("input[type=radio]"));
    // What was chosen by hand stays where the hands decide nothing.
    for (const radio of radios)
      if (most) radio.checked = radio.value === most;
      else if (radio.value === this.taken) radio.checked = false;
    this.taken = most;
  }

  /** @returns {string} what is chosen or typed; empty when nothing is */
  value() {
    const words = this.root.querySelector("textarea");
    if (words) return words.value.trim();
    const chosen = /** @type {HTMLInputElement | null} */ (this.root.querySelector("input[type=radio]:checked"));
    if (chosen?.value === "after")
      return /** @type {HTMLInputElement} */ (this.root.querySelector("input[type=text]")).value.trim();
    return chosen?.value ?? "";
  }

  /** Puts back what stood here before. @param {string} value @param {Hands} [hands] */
  put(value, hands = {}) {
    for (const [choice, count] of Object.entries(hands)) {
      const input = this.counts.get(choice);
      if (input) input.valueAsNumber = count;
    }
    if (!value) return;
    const area = this.root.querySelector("textarea");
    if (area) area.value = value;
    const radios = [...this.root.querySelectorAll("input[type=radio]")];
    const own = /** @type {HTMLInputElement[]} */ (radios);
    const radio = own.find((one) => one.value === value) ?? own.find((one) => one.value === "after");
    if (!radio) return;
    radio.checked = true;
    const typed = /** @type {HTMLInputElement | null} */ (this.root.querySelector("input[type=text]"));
    if (typed && radio.value === "after") typed.value = value;
  }

  /**
   * Says at the question what is missing, and takes the reader there.
   * @param {string} sentence empty when all is well
   */
  complain(sentence) {
    this.error.textContent = sentence;
    for (const input of this.root.querySelectorAll("input:not(.hands), textarea"))
      input.setAttribute("aria-invalid", String(sentence !== ""));
    if (sentence) this.first().focus();
  }

  /** @returns {HTMLElement} where the keyboard enters the question */
  first() {
    const text = /** @type {HTMLInputElement | null} */ (this.root.querySelector("input[type=text]"));
    const chosen = /** @type {HTMLInputElement | null} */ (this.root.querySelector("input[type=radio]:checked"));
    if (text && chosen?.value === "after") return text;
    return chosen ?? /** @type {HTMLElement} */ (this.root.querySelector("input, textarea"));
  }
}
