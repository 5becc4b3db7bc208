// What a lesson asks: predictions and questions with choices in the page's words, and the teacher's own as they were typed.

/**
 * @typedef {import("./lesson-shapes.js").Ask} Ask
 * @typedef {import("./desk-shapes.js").KeyedQuestion} KeyedQuestion
 * @typedef {import("./lesson-shapes.js").QuestionKey} QuestionKey
 * @typedef {import("./i18n.js").Words} Words
 */

/** Predictions, in the order of the card. */
export const PREDICTIONS = /** @type {QuestionKey[]} */ (["atOnce", "atRest", "clarity", "seconds", "first", "why"]);

/** @param {Ask} ask @returns {ask is QuestionKey} whether it is compared with the outcome, and not answered by a choice */
export function isPrediction(ask) {
  return PREDICTIONS.some((key) => key === ask);
}

/**
 * The words of a question and of its choices; no choices where the answer is free.
 * @param {Words} words
 * @param {Map<string, KeyedQuestion>} questions the page's questions with choices, by key
 * @param {Ask} ask
 * @returns {{text: string, choices: string[]}}
 */
export function inWords(words, questions, ask) {
  if (typeof ask !== "string") return { text: ask.text, choices: ask.choices };
  if (isPrediction(ask)) return { text: words.t(`ask.${ask}`), choices: [] };
  const choices = questions.get(ask)?.choices ?? [];
  return { text: words.t(`level.${ask}`), choices: choices.map(({ key }) => words.t(`level.${ask}.${key}`)) };
}
