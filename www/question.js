// One question of the card, as a group of real form controls.

import { beakerName } from "./beaker.js";
import { BANDS, patch } from "./chip.js";
import { element } from "./element.js";

/**
 * @typedef {import("./engine.js").QuestionKey} QuestionKey
 * @typedef {import("./engine.js").BeakerSetup} BeakerSetup
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {{beakers: BeakerSetup[], subject: number, reagent: string}} About
 */

/** Longest answer to "why", in characters; the core refuses more. */
const WHY_MAX_CHARS = 500;
/** The words for what can be seen through the liquid. */
const CLARITIES = ["clear", "hazy", "cloudy", "milky"];

/** A question. */
export class Question {
  /**
   * @param {Words} words
   * @param {QuestionKey} key
   * @param {About} about
   * @param {string} group "ask" or "see": the two cards put the same question in other words
   */
  constructor(words, key, about, group) {
    this.words = words;
    this.key = key;
    this.name = `${group}-${key}`;
    const subject = beakerName(words, about.beakers, about.subject);
    this.error = element("p", { class: "error", id: `${this.name}-error` });
    this.root = element(
      "fieldset",
      { class: "question", "data-question": key, "aria-describedby": `${this.name}-error` },
      element(
        "legend",
        {},
        words.t(`${group}.${key}`, { beaker: subject, reagent: words.t(`reagent.${about.reagent}`) }),
      ),
      this.choices(about),
      this.error,
    );
  }

  /** @param {About} about @returns {HTMLElement} */
  choices(about) {
    const { words } = this;
    if (this.key === "atOnce" || this.key === "atRest")
      return element(
        "div",
        { class: "chips" },
        ...BANDS.map(({ key, letter }) =>
          this.choice(
            key,
            [patch(key), element("span", { class: "letter", "aria-hidden": "true" }, letter), words.t(`colour.${key}`)],
            "chip",
          ),
        ),
      );
    if (this.key === "clarity") return this.list(CLARITIES.map((key) => [key, words.t(`choice.${key}`)]));
    if (this.key === "first")
      return this.list([
        ...about.beakers.map(
          (_, index) =>
            /** @type {[string, string]} */ ([
              String(index),
              words.t("choice.beaker", { beaker: beakerName(words, about.beakers, index) }),
            ]),
        ),
        ["same", words.t("choice.same")],
        ["none", words.t("choice.none")],
      ]);
    if (this.key === "why")
      return element("textarea", {
        rows: 4,
        maxlength: WHY_MAX_CHARS,
        id: `${this.name}-typed`,
        "aria-label": words.t("choice.whyLabel"),
        "aria-describedby": `${this.name}-error`,
      });
    return this.seconds();
  }

  /** @param {string[][]} options value and words @returns {HTMLElement} */
  list(options) {
    return element(
      "div",
      { class: "options" },
      ...options.map(([value, text]) => this.choice(value, [text], "option")),
    );
  }

  /** @param {string} value @param {(Node | string)[]} content @param {string} kind @returns {HTMLElement} */
  choice(value, content, kind) {
    return element(
      "label",
      { class: kind },
      element("input", { type: "radio", name: this.name, value, "aria-describedby": `${this.name}-error` }),
      ...content,
    );
  }

  /** Seconds to type, or never. @returns {HTMLElement} */
  seconds() {
    const { words, name } = this;
    const typed = element("input", {
      type: "text",
      inputmode: "decimal",
      size: 5,
      maxlength: 8,
      autocomplete: "off",
      id: `${name}-typed`,
      "aria-label": words.t("choice.secondsLabel"),
      "aria-describedby": `${name}-error`,
    });
    const after = element("input", { type: "radio", name, value: "after", "aria-describedby": `${name}-error` });
    typed.addEventListener("input", () => {
      after.checked = true;
    });
    after.addEventListener("change", () => typed.focus());
    return element(
      "div",
      { class: "options" },
      element(
        "div",
        { class: "option" },
        element("label", { class: "inline" }, after, words.t("choice.after")),
        typed,
        element("span", { "aria-hidden": "true" }, words.t("choice.seconds")),
      ),
      this.choice("never", [words.t("choice.never")], "option"),
    );
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

  /**
   * Says at the question what is missing, and takes the reader there.
   * @param {string} sentence empty when all is well
   */
  complain(sentence) {
    this.error.textContent = sentence;
    for (const input of this.root.querySelectorAll("input, textarea"))
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

/**
 * An answer in words.
 * @param {Words} words
 * @param {BeakerSetup[]} beakers
 * @param {QuestionKey} key
 * @param {string | number | null} answer
 * @returns {string}
 */
export function answerWords(words, beakers, key, answer) {
  if (key === "atOnce" || key === "atRest") return words.t(`colour.${answer}`);
  if (key === "clarity") return words.t(`clarity.${answer}`);
  if (key === "seconds")
    return answer === "never" || answer === null
      ? words.t("answer.never")
      : words.t("unit.seconds", { value: typeof answer === "number" ? words.number(answer, 0) : answer });
  if (key === "first")
    return answer === "same" || answer === "none"
      ? words.t(`answer.${answer}`)
      : words.t("answer.beaker", { beaker: beakerName(words, beakers, Number(answer)) });
  return String(answer);
}
