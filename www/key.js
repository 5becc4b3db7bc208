// The teacher's key: what the student's sheets will hold when they are filled in right. It gives the outcome away, so it is printed by itself.

import { inWords, isPrediction } from "./asked.js";
import { beakerName } from "./beaker.js";
import { BANDS } from "./chip.js";
import { element } from "./element.js";
import { ledgerCells, ledgerHead } from "./ledger.js";
import { placeName } from "./paper.js";
import { part, sheet, table } from "./sheet.js";

/**
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {import("./sheet.js").Head} Head
 * @typedef {import("./lesson-shapes.js").BandKey} BandKey
 * @typedef {import("./lesson-shapes.js").BeakerSetup} BeakerSetup
 * @typedef {import("./desk-shapes.js").PlanView} PlanView
 * @typedef {import("./desk-shapes.js").DoseView} DoseView
 * @typedef {import("./lesson-shapes.js").Ask} Ask
 * @typedef {import("./desk-shapes.js").KeyedQuestion} KeyedQuestion
 * @typedef {import("./lesson-shapes.js").LedgerRow} LedgerRow
 */

/**
 * The key's pages.
 * @param {Words} words
 * @param {Head} head
 * @param {PlanView} plan with nothing pending
 * @param {BeakerSetup[]} beakers
 * @param {Map<string, KeyedQuestion>} questions the page's questions with choices, by key
 * @returns {HTMLElement[]}
 */
export function keySheets(words, head, plan, beakers, questions) {
  const t = words.t.bind(words);
  const names = beakers.map((_, index) => beakerName(words, beakers, index));
  const doses = plan.places.flatMap(({ reagent, number }) => (reagent ? [t(`dose.${reagent}`, { number })] : []));
  return [
    sheet(
      words,
      head,
      t("paper.keyTimes"),
      element("p", { class: "warn" }, t("paper.keyLead")),
      table(
        t("paper.keyCaption"),
        [t("paper.dose"), ...names],
        doses.map((dose, step) => [
          dose,
          ...plan.beakers.map((path) => outcome(words, plan.places[step + 1], path?.[step])),
        ]),
        "doses",
      ),
      element("p", {}, t("end.real")),
    ),
    sheet(
      words,
      head,
      t("paper.keyLedger"),
      table(t("ledger.caption"), ledgerHead(words), ledgerCells(words, plan.ledger), "figures doses"),
      element("p", {}, t("ledger.note")),
    ),
    ...answers(words, head, plan, questions),
  ];
}

/** What one dose does in one beaker, in a line or two. @param {Words} words @param {import("./desk-shapes.js").Place} place @param {DoseView | undefined} dose */
function outcome(words, { reagent }, dose) {
  if (!dose) return "\u2013";
  const letter = (/** @type {BandKey} */ band) => BANDS.find(({ key }) => key === band)?.letter ?? "";
  const back =
    reagent === "base"
      ? ""
      : words.t(dose.seconds === null ? "paper.keyNever" : "paper.keySeconds", {
          seconds: words.number(dose.seconds ?? 0, 0),
        });
  return `${back} ${words.t("paper.keyColours", {
    atOnce: letter(dose.bandAtOnce),
    atRest: letter(dose.bandAtRest),
    clarity: words.t(`clarity.${dose.clarity}`),
    ph: words.number(dose.ph, 1),
  })}`.trim();
}

/** The right choices. @param {Words} words @param {Head} head @param {PlanView} plan @param {Map<string, KeyedQuestion>} questions */
function answers(words, head, { places, ledger }, questions) {
  const parts = places.flatMap((place) => {
    const asked = place.asks.filter((ask) => !isPrediction(ask));
    // The first row of the books stands before the first dose.
    const row = typeof place.at === "number" ? ledger[place.at + 1] : undefined;
    return asked.length === 0
      ? []
      : [part(placeName(words, place), ...asked.map((ask) => answer(words, questions, ask, row)))];
  });
  return parts.length === 0 ? [] : [sheet(words, head, words.t("paper.keyAnswers"), ...parts)];
}

/** @param {Words} words @param {Map<string, KeyedQuestion>} questions @param {Ask} ask @param {LedgerRow | undefined} row */
function answer(words, questions, ask, row) {
  const choices = typeof ask === "string" ? (questions.get(ask)?.choices ?? []) : [];
  // Where no choice is right for every dose, the books say which is for this one: what ran out.
  const right = choices.find((choice) => choice.right)?.key ?? row?.limiting;
  const because = `level.${ask}.because`;
  const told = choices.length > 0 && right ? words.t(`level.${ask}.${right}`) : words.t("paper.keyYours");
  return element(
    "div",
    { class: "paper-question" },
    element("p", { dir: "auto" }, inWords(words, questions, ask).text),
    element("p", {}, element("strong", {}, words.t("paper.keyAnswer")), " ", told),
    words.has(because) && element("p", {}, words.t(because)),
    typeof ask === "string" && ideas(words, ask, choices),
  );
}

/**
 * What stands behind the other choices, and what to ask whoever took one.
 * @param {Words} words
 * @param {string} ask
 * @param {KeyedQuestion["choices"]} choices
 */
function ideas(words, ask, choices) {
  const lines = choices.flatMap(({ key, idea }) =>
    idea
      ? [
          element(
            "li",
            {},
            words.t("paper.keyIdea", {
              choice: words.t(`level.${ask}.${key}`),
              idea: words.t(`misconception.${idea}.name`),
              followUp: words.t(`misconception.${idea}.followUp`),
            }),
          ),
        ]
      : [],
  );
  return lines.length > 0 && element("ul", {}, ...lines);
}
