// A question about what will be seen, before the dose, and about what was, after it.

import { beakerName } from "./beaker.js";
import { BANDS, patch } from "./chip.js";
import { element } from "./element.js";
import { Question } from "./question.js";

/**
 * @typedef {import("./lesson-shapes.js").QuestionKey} QuestionKey
 * @typedef {import("./lesson-shapes.js").BeakerSetup} BeakerSetup
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {{beakers: BeakerSetup[], subject: number, reagent: string}} About
 */

/** The words for what can be seen through the liquid. */
const CLARITIES = ["clear", "hazy", "cloudy", "milky"];

/** A question about what will be seen, or was. */
export class Prediction extends Question {
  /**
   * @param {Words} words
   * @param {QuestionKey} key
   * @param {About} about
   * @param {"ask" | "see"} group
   */
  constructor(words, key, about, group) {
    const subject = beakerName(words, about.beakers, about.subject);
    const legend = words.t(`${group}.${key}`, { beaker: subject, reagent: words.t(`reagent.${about.reagent}`) });
    super(words, key, legend, group, (own) => /** @type {Prediction} */ (own).controls(key, about));
  }

  /** @override */
  get missing() {
    return this.key === "seconds" ? "error.secondsMissing" : "error.choose";
  }

  /** @param {QuestionKey} key @param {About} about @returns {HTMLElement} */
  controls(key, about) {
    const { words } = this;
    if (key === "atOnce" || key === "atRest")
      return element(
        "div",
        { class: "chips" },
        ...BANDS.map(({ key: band, letter }) => {
          const word = words.t(`colour.${band}`);
          const sign = element("span", { class: "letter", "aria-hidden": "true" }, letter);
          return this.choice(band, [patch(band), sign, word], "chip", word);
        }),
      );
    if (key === "clarity") return this.list(CLARITIES.map((clarity) => [clarity, words.t(`choice.${clarity}`)]));
    if (key === "first")
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
    return key === "why" ? this.freeWords() : this.seconds();
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
