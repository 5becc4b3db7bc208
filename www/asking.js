// A run of questions on the card: predictions and choices in their order, kept as they are answered.

import { ChoiceQuestion } from "./choice.js";
import { answerWords, Prediction } from "./prediction.js";
import { Questions } from "./questions.js";

/**
 * @typedef {import("./card.js").Card} Card
 * @typedef {import("./lesson-shapes.js").State} State
 * @typedef {import("./lesson-shapes.js").QuestionKey} QuestionKey
 */

/**
 * A run of questions, each at its place in the lesson's order.
 * @param {Card} card
 * @param {State} state
 * @param {Prediction[]} predictions
 * @param {string} last key of the words on the last button
 * @param {(answers: Record<string, string>) => import("./questions.js").AnswerError[]} finish
 * @returns {Questions}
 */
export function asked(card, state, predictions, last, finish) {
  const choices = state.asks.map((asked) => new ChoiceQuestion(card.words, asked));
  /** @type {import("./question.js").Question[]} */
  const questions = [...predictions];
  for (const choice of choices) questions.splice(choice.asked.ask, 0, choice);
  const { beakers } = card.engine.recipe();
  // What stands on the card is kept as it is typed and tapped, and stands there again after a reload.
  const name = cardOf(state);
  const before = card.turns.draft();
  const draft = () => {
    const hands = Object.fromEntries(questions.map((question) => [question.key, question.hands()]));
    if (started) card.turns.drafted({ card: name, at: run.at, values: run.answers, hands });
  };
  let started = false;
  const run = new Questions(card.words, {
    questions,
    last,
    inShort: (question) =>
      question instanceof Prediction && question.key !== "why" && question.value()
        ? card.t(`short.${question.key}`, {
            answer: answerWords(card.words, beakers, /** @type {QuestionKey} */ (question.key), question.value()),
          })
        : "",
    shown: () => {
      card.turns.turned();
      draft();
    },
    finish: () => {
      const refused = choices
        .map((choice) => ({ choice, outcome: card.engine.choose(choice.asked.ask, choice.value()) }))
        .find(({ outcome }) => !outcome.ok);
      if (refused) {
        const { choice, outcome } = refused;
        const [error] = outcome.ok ? [] : (outcome.errors ?? []);
        return [{ ...error, question: choice.key, key: error?.key ?? "notNow" }];
      }
      for (const question of questions) {
        const asked = question instanceof ChoiceQuestion ? `choice${question.asked.ask}` : question.key;
        card.hands.set(`${state.step?.index ?? state.stage}/${asked}`, question.hands());
      }
      return finish(run.answers);
    },
  });
  if (before?.card === name) {
    for (const question of questions) question.put(before.values[question.key] ?? "", before.hands?.[question.key]);
    run.show(Math.min(before.at, questions.length - 1));
  }
  started = true;
  run.form.addEventListener("input", draft);
  card.asking = run;
  return run;
}

/** Which card a state has. @param {State} state @returns {string} */
export function cardOf({ mode, stage, step }) {
  return `${mode} ${stage} ${step?.index ?? ""}`;
}
