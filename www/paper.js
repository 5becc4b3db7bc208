// Paper: the student's sheet with its blanks, the colour-word key, and the teacher's key on pages of its own.

import { dose, millilitres } from "./amount.js";
import { inWords, isPrediction } from "./asked.js";
import { beakerName } from "./beaker.js";
import { BANDS, patch } from "./chip.js";
import { concentration } from "./dilution.js";
import { element } from "./element.js";
import { ledgerHead } from "./ledger.js";
import { axes, lines, part, sheet, table } from "./sheet.js";

/**
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {import("./sheet.js").Head} Head
 * @typedef {import("./lesson-shapes.js").BeakerSetup} BeakerSetup
 * @typedef {import("./desk-shapes.js").Place} Place
 * @typedef {import("./lesson-shapes.js").Ask} Ask
 * @typedef {import("./desk-shapes.js").KeyedQuestion} KeyedQuestion
 * @typedef {import("./lesson-shapes.js").QuestionKey} QuestionKey
 *
 * @typedef {object} Lesson what the sheets are made from
 * @property {Record<string, number>} recipe the numbers of the recipe by their keys
 * @property {BeakerSetup[]} beakers
 * @property {Place[]} places the brief, the doses, the end
 * @property {Map<string, KeyedQuestion>} questions the page's questions with choices, by key
 * @property {number} subject the beaker that the predictions are about
 * @property {import("./lesson-shapes.js").InstrumentKey[]} shows what the level tells and has read off
 * @property {string} link the whole address
 * @property {Element | null} qr the same as a code to photograph, where it is short enough
 */

/** What has a column of its own in the table of guesses; what is asked in words has lines on another page. */
const GUESSED = /** @type {QuestionKey[]} */ (["atOnce", "atRest", "clarity", "seconds", "first"]);
const SEEN = /** @type {QuestionKey[]} */ (["atOnce", "atRest", "clarity"]);
/** pH at which each colour word gives way to the next, as the core has them. */
const EDGES = [4.3, 5.4, 6.3, 6.8, 7.4, 8.5, 9.4];
/** Molar mass with the figures of a class's table, g/mol: the ledger of the core reckons with the same. */
const MAGNESIUM_HYDROXIDE_G_MOL = 58.32;
/** Rules to write a reason on, and to answer a question of the teacher's own. */
const REASON_LINES = 2;
const ANSWER_LINES = 3;
/** Steps of an axis that the class numbers itself. */
const OPEN_STEPS = 10;
/** Size of a diagram, mm: the width of a page within its margins, and what a table leaves of its height. */
const DIAGRAM = { width: 178, height: 56 };

/**
 * The student's pages.
 * @param {Words} words
 * @param {Head} head
 * @param {Lesson} lesson
 * @returns {HTMLElement[]}
 */
export function studentSheets(words, head, lesson) {
  const t = words.t.bind(words);
  const { beakers, recipe } = lesson;
  const names = beakers.map((_, index) => beakerName(words, beakers, index));
  const steps = lesson.places.filter(({ reagent }) => reagent !== null);
  const alike = new Set(steps.map(({ volumeMl }) => volumeMl)).size <= 1;
  const doses = steps.map(
    ({ reagent, number, volumeMl }) => t(`dose.${reagent}`, { number }) + (alike ? "" : `, ${dose(words, volumeMl)}`),
  );
  const measured = lesson.shows.includes("celsius") ? ["seconds", "celsius"] : ["seconds"];
  const keepsBooks = lesson.shows.includes("ledger");
  const notches = steps.map((step) => t(`notch.${step.reagent}`, { number: step.number }));
  return [
    sheet(
      words,
      head,
      t("paper.guess"),
      element("p", {}, t("brief.beakers", { ...amountsInWords(words, recipe), count: beakers.length })),
      element("p", {}, t("paper.guessLead", { beaker: names[lesson.subject] })),
      guesses(words, steps, doses),
      colourKey(words),
    ),
    sheet(
      words,
      head,
      t("paper.measure"),
      element("p", {}, t("paper.measureLead"), measured.length > 1 && ` ${t("paper.measureCelsius")}`),
      table(
        t(measured.length > 1 ? "paper.timesCaption" : "paper.secondsCaption"),
        [t("paper.dose"), ...names.map((group) => ({ group, columns: measured.map((key) => t(`paper.${key}`)) }))],
        doses.map((name) => [name, ...Array(measured.length * names.length).fill("")]),
        "blank",
      ),
      part(
        t("paper.secondsDiagram"),
        axes({
          label: t("paper.secondsDiagramLabel"),
          x: t("paper.axisDose"),
          y: t("paper.axisSeconds"),
          columns: notches,
          rows: Array(OPEN_STEPS).fill(""),
          ...DIAGRAM,
        }),
      ),
    ),
    ...(keepsBooks ? [books(words, head, lesson, doses)] : []),
    sheet(
      words,
      head,
      t("paper.questions"),
      part(
        t("paper.colourDiagram"),
        axes({
          label: t("paper.colourDiagramLabel"),
          x: t("paper.axisDose"),
          y: t("paper.axisColour"),
          columns: notches,
          rows: BANDS.map(({ letter }) => letter),
          ...DIAGRAM,
        }),
      ),
      ...written(words, lesson),
      !keepsBooks && atHome(words, lesson),
    ),
  ];
}

/** The ledger to be filled in, with the numbers that it takes. @param {Words} words @param {Head} head @param {Lesson} lesson @param {string[]} doses */
function books(words, head, lesson, doses) {
  const t = words.t.bind(words);
  const { doseMl, acidMolL, baseMolL, suspensionMl, suspensionMgMl } = lesson.recipe;
  return sheet(
    words,
    head,
    t("paper.ledger"),
    element("p", {}, t("paper.ledgerLead")),
    element(
      "p",
      {},
      t("paper.ledgerAmounts", {
        suspension: millilitres(words, suspensionMl),
        strength: words.number(suspensionMgMl, Number.isInteger(suspensionMgMl) ? 0 : 1),
        molarMass: words.number(MAGNESIUM_HYDROXIDE_G_MOL, 2),
        dose: dose(words, doseMl),
        acid: concentration(words, acidMolL),
        base: concentration(words, baseMolL),
      }),
    ),
    table(
      t("ledger.caption"),
      ledgerHead(words),
      [t("ledger.start"), ...doses].map((name) => [name, ...Array(ledgerHead(words).length - 1).fill("")]),
      "blank",
    ),
    atHome(words, lesson),
  );
}

/** The numbers of the recipe as the brief says them. @param {Words} words @param {Record<string, number>} recipe */
function amountsInWords(words, recipe) {
  return Object.fromEntries(
    Object.entries(recipe).map(([key, value]) => [key, words.number(value, Number.isInteger(value) ? 0 : 2)]),
  );
}

/** @param {Words} words @param {Place[]} steps @param {string[]} doses */
function guesses(words, steps, doses) {
  const t = words.t.bind(words);
  const asked = GUESSED.filter((key) => steps.some((step) => step.asks.includes(key)));
  const named = (/** @type {QuestionKey[]} */ keys) => keys.map((key) => t(`name.${key}`));
  return table(
    t("paper.guessCaption"),
    [
      t("paper.dose"),
      ...(asked.length > 0 ? [{ group: t("paper.myGuess"), columns: named(asked) }] : []),
      { group: t("paper.whatISaw"), columns: named(SEEN) },
    ],
    steps.map((step, index) => [
      doses[index],
      ...asked.map((key) => (step.asks.includes(key) ? "" : "\u2013")),
      ...SEEN.map(() => ""),
    ]),
    "blank",
  );
}

/** The eight colour words with their letters and patterns, readable without colour. @param {Words} words */
function colourKey(words) {
  const t = words.t.bind(words);
  return part(
    t("paper.colourKey"),
    element(
      "ul",
      { class: "colour-key" },
      ...BANDS.map(({ key, letter }) =>
        element(
          "li",
          {},
          patch(key),
          element("strong", {}, letter),
          " ",
          t(`colour.${key}`),
          element("span", { class: "ph" }, edges(words, key)),
        ),
      ),
    ),
    element("p", {}, t("paper.clearKey")),
  );
}

/** Where a colour word lies on the scale of pH. @param {Words} words @param {import("./lesson-shapes.js").BandKey} key */
function edges(words, key) {
  const place = BANDS.findIndex((band) => band.key === key);
  const edge = (/** @type {number} */ index) => (EDGES[index] === undefined ? "" : words.number(EDGES[index], 1));
  const which = place === 0 ? "first" : place === EDGES.length ? "last" : "between";
  return words.t(`paper.ph.${which}`, { from: edge(place - 1), to: edge(place) });
}

/** Everything that is answered in words or by a tick, in the order of the lesson. @param {Words} words @param {Lesson} lesson */
function written(words, { places, questions }) {
  return places.flatMap((place) => {
    const open = place.asks.filter((ask) => ask === "why" || !isPrediction(ask));
    if (open.length === 0) return [];
    return [part(placeName(words, place), ...open.map((ask) => question(words, questions, ask)))];
  });
}

/** @param {Words} words @param {Place} place */
export function placeName(words, { at, reagent, number }) {
  return words.t(reagent ? `paper.beforeDose.${reagent}` : `paper.${at}`, { number });
}

/** @param {Words} words @param {Map<string, KeyedQuestion>} questions @param {Ask} ask */
function question(words, questions, ask) {
  const { text, choices } = inWords(words, questions, ask);
  return element(
    "div",
    { class: "paper-question" },
    element("p", { dir: "auto" }, text),
    choices.length > 0
      ? element("ul", {}, ...choices.map((choice) => element("li", { class: "to-tick", dir: "auto" }, choice)))
      : lines(ask === "why" ? REASON_LINES : ANSWER_LINES),
  );
}

/** @param {Words} words @param {Lesson} lesson */
function atHome(words, { link, qr }) {
  if (!link) return "";
  return part(
    words.t("paper.atHome"),
    element(
      "div",
      { class: "at-home" },
      qr,
      element("div", {}, element("p", {}, words.t("paper.atHomeLead")), element("p", { class: "link-text" }, link)),
    ),
  );
}
