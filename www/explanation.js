// What happened and why: the guess beside the outcome, each beaker in numbers, and the reason in plain sentences.

import { beakerName } from "./beaker.js";
import { element } from "./element.js";
import { answerWords } from "./question.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./engine.js").State} State
 * @typedef {import("./i18n.js").Words} Words
 */

/**
 * The guess beside the outcome of the dose that has come to rest, and each beaker in numbers.
 * @param {Words} words
 * @param {Engine} engine
 * @param {State} state
 * @returns {HTMLElement[]}
 */
export function outcome(words, engine, state) {
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
          element(
            "dd",
            {},
            t(`compare.${near}`, {
              guess: answerWords(words, setups, question, guess),
              outcome: answerWords(words, setups, question, outcome),
            }),
          ),
        ]),
    ),
    ...told.seen
      .filter(({ near }) => near === "other")
      .map(({ question, guess, outcome }) =>
        element(
          "p",
          { class: "seen" },
          t("seen.other", {
            question: t(`name.${question}`),
            guess: answerWords(words, setups, question, guess),
            outcome: answerWords(words, setups, question, outcome),
          }),
        ),
      ),
    element("h3", {}, t("explain.numbers")),
    element(
      "table",
      { class: "numbers" },
      element("caption", { class: "unseen" }, t("explain.tableCaption")),
      element(
        "thead",
        {},
        element(
          "tr",
          {},
          ...["beaker", "back", "ph", "solid"].map((key) =>
            element("th", { scope: "col" }, t(`explain.column.${key}`)),
          ),
        ),
      ),
      element(
        "tbody",
        {},
        ...told.beakers.map((beaker, index) =>
          element(
            "tr",
            {},
            element("th", { scope: "row" }, beakerName(words, setups, index)),
            element(
              "td",
              {},
              beaker.turnedBackS === null
                ? t("answer.never")
                : t("unit.seconds", { value: words.number(beaker.turnedBackS, 0) }),
            ),
            element("td", {}, words.number(beaker.phAtRest, 2)),
            element("td", {}, t("unit.grams", { value: words.number(beaker.solidG, 2) })),
          ),
        ),
      ),
    ),
  ];
}

/** Decimals of the numbers in the reasons, as a class writes them; the core has rounded them already. */
const DECIMALS = /** @type {Record<string, number>} */ ({
  hydroxideMmol: 3,
  doseMmol: 2,
  solidUsedMmol: 2,
  acidLeftMmol: 2,
  solidLeftG: 3,
  ph: 2,
  magnesiumMmolL: 1,
});

/**
 * Why it happened.
 * @param {Words} words
 * @param {Engine} engine
 * @returns {HTMLElement[]}
 */
export function reasons(words, engine) {
  const { why, questions } = engine.explanation();
  const own = questions.find(({ question }) => question === "why")?.guess;
  return [
    element("h3", {}, words.t("explain.why")),
    ...(own ? [element("p", { class: "quiet own" }, words.t("explain.own", { words: String(own) }))] : []),
    ...(why.length === 0 ? [element("p", {}, words.t("why.nothing"))] : []),
    ...why.map(({ key, ...numbers }) => {
      // "before" is a time after one reason and a pH after another: it is written like its companion.
      const decimals = /** @type {Record<string, number>} */ ({
        ...DECIMALS,
        before: "ph" in numbers ? DECIMALS.ph : 0,
      });
      const written = Object.entries(numbers).map(([name, value]) => [
        name,
        words.number(Number(value), decimals[name] ?? 0),
      ]);
      return element("p", {}, words.t(`why.${key}`, Object.fromEntries(written)));
    }),
  ];
}
