// What happened and why: the guess beside the outcome, each beaker in numbers, and the reason in plain sentences.

import { beakerName, colourWord } from "./beaker.js";
import { element } from "./element.js";
import { answerWords } from "./question.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./engine.js").State} State
 * @typedef {import("./i18n.js").Words} Words
 */

/**
 * The explanation of the dose that has come to rest.
 * @param {Words} words
 * @param {Engine} engine
 * @param {State} state
 * @returns {HTMLElement[]}
 */
export function explanation(words, engine, state) {
  const t = words.t.bind(words);
  const { beakers: setups } = engine.recipe();
  const told = engine.explanation();
  const subject = state.step?.subjectBeaker ?? 0;
  return [
    element("h3", {}, t("explain.guess", { beaker: beakerName(words, setups, subject) })),
    element(
      "dl",
      { class: "answers compared" },
      ...told.questions
        .filter(({ question, guess }) => question !== "why" && guess !== "")
        .flatMap(({ question, guess, outcome, near }) => [
          element("dt", {}, t(`name.${question}`)),
          element("dd", {}, t(`compare.${near}`, { guess: answerWords(words, setups, question, guess), outcome: answerWords(words, setups, question, outcome) })),
        ]),
    ),
    element("h3", {}, t("explain.why")),
    ...told.why.map(({ key, ...numbers }) => element("p", {}, t(`why.${key}`, /** @type {import("./i18n.js").Values} */ (numbers)))),
    element("h3", {}, t("explain.numbers")),
    element(
      "table",
      { class: "numbers" },
      element("caption", { class: "unseen" }, t("explain.tableCaption")),
      element("thead", {}, element("tr", {}, ...["beaker", "back", "rest", "ph", "solid"].map((key) => element("th", { scope: "col" }, t(`explain.column.${key}`))))),
      element(
        "tbody",
        {},
        ...told.beakers.map((outcome, index) =>
          element(
            "tr",
            {},
            element("th", { scope: "row" }, beakerName(words, setups, index)),
            element("td", {}, outcome.turnedBackS === null ? t("answer.never") : t("unit.seconds", { value: words.number(outcome.turnedBackS, 0) })),
            element("td", {}, `${colourWord(words, outcome.bandAtRest, outcome.paleAtRest)}, ${t(`clarity.${outcome.clarityAtRest}`)}`),
            element("td", {}, words.number(outcome.phAtRest, 2)),
            element("td", {}, t("unit.grams", { value: words.number(outcome.solidG, 3) })),
          ),
        ),
      ),
    ),
  ];
}
