// A question with choices, of a level or of the teacher's own, as a group of real form controls.

import { element } from "./element.js";
import { Question } from "./question.js";

/**
 * @typedef {import("./lesson-shapes.js").Asked} Asked
 * @typedef {import("./i18n.js").Words} Words
 */

/** A question that asks for an idea, not for an outcome. */
export class ChoiceQuestion extends Question {
  /**
   * @param {Words} words
   * @param {Asked} asked
   */
  constructor(words, asked) {
    super(words, `choice${asked.ask}`, questionWords(words, asked), "ask", (own) =>
      /** @type {ChoiceQuestion} */ (own).options(asked),
    );
    this.asked = asked;
    this.root.dataset.question = asked.key ?? `own${asked.ask}`;
    if (asked.own) this.root.setAttribute("dir", "auto");
  }

  /** @param {Asked} asked @returns {HTMLElement} */
  options(asked) {
    const choices = choicesOf(this.words, asked);
    return choices.length > 0 ? this.list(choices, asked.answer) : this.freeWords(asked.answer);
  }
}

/** @param {Words} words @param {Asked} asked @returns {string} */
export function questionWords(words, { key, own }) {
  return own ? own.text : words.t(`level.${key}`);
}

/** @param {Words} words @param {Asked} asked @returns {[string, string][]} value and words of each choice */
function choicesOf(words, { key, choices, own }) {
  if (own) return own.choices.map((text, index) => [String(index), text]);
  return choices.map((choice) => [choice, words.t(`level.${key}.${choice}`)]);
}

/**
 * The answered questions with choices: what was said, what is right and why, and where an idea leads on.
 * @param {Words} words
 * @param {import("./lesson-shapes.js").Told[]} told
 * @param {(told: import("./lesson-shapes.js").Told) => HTMLElement | null} hands the hands that were counted for it
 * @returns {HTMLElement[][]} in groups that may stand on pages of their own: what was said, and why it is so
 */
export function answered(words, told, hands) {
  return told.flatMap((one) => {
    const choices = new Map(choicesOf(words, one));
    const answer = choices.get(one.answer ?? "") ?? one.answer ?? "";
    const right = one.right === null ? "" : (choices.get(one.right) ?? "");
    const verdict = one.right === null ? "told.own" : one.right === one.answer ? "told.right" : "told.other";
    const groups = [
      [
        element("p", { class: "asked", dir: one.own ? "auto" : undefined }, questionWords(words, one)),
        element("p", { dir: one.own ? "auto" : undefined }, words.t(verdict, { answer, right })),
        hands(one),
      ],
      [
        one.key ? element("p", {}, words.t(`level.${one.key}.because`)) : null,
        one.idea ? thought(words, one.idea) : null,
      ],
    ];
    return groups.map((group) => group.filter((made) => made !== null)).filter((group) => group.length > 0);
  });
}

/**
 * The question that leads on from an idea.
 * @param {Words} words
 * @param {string} idea its tag
 * @returns {HTMLElement}
 */
export function thought(words, idea) {
  return element("p", { class: "thought" }, words.t(`misconception.${idea}.followUp`));
}

/**
 * Raised hands in words, the outcome's first.
 * @param {Words} words
 * @param {import("./question.js").Hands} hands
 * @param {(value: string) => string} said how a choice is said
 * @param {string} outcome the choice that came true, where there is one
 * @returns {HTMLElement | null}
 */
export function raised(words, hands, said, outcome) {
  const counts = Object.entries(hands);
  if (counts.length === 0) return null;
  const most = Math.max(...counts.map(([, count]) => count));
  return element(
    "ul",
    { class: "raised" },
    ...counts.map(([value, count]) => {
      const bar = element("span", { class: "raised-bar", "aria-hidden": "true" });
      bar.style.width = `${(100 * count) / most}%`;
      const text = words.t("teach.hand", { choice: said(value), count });
      return element("li", { class: value === outcome ? "came-true" : "" }, element("span", {}, text), bar);
    }),
  );
}
