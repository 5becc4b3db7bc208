// What happened and why: the guess beside the outcome, each beaker in numbers, and the reason in plain sentences.

import { beakerName } from "./beaker.js";
import { raised } from "./choice.js";
import { element } from "./element.js";
import { answerWords } from "./prediction.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./lesson-shapes.js").State} State
 * @typedef {import("./i18n.js").Words} Words
 */

/**
 * The guess beside the outcome of the dose that has come to rest, and each beaker in numbers.
 * @param {Words} words
 * @param {Engine} engine
 * @param {State} state
 * @param {(question: string) => import("./question.js").Hands} counted the hands that a class raised for a question
 * @returns {HTMLElement[][]} in groups that may stand on pages of their own
 */
export function outcome(words, engine, state, counted) {
  const t = words.t.bind(words);
  const { beakers: setups } = engine.recipe();
  const told = engine.explanation();
  const subject = state.step?.subjectBeaker ?? 0;
  const heading = element("h3", {}, t("explain.guess", { beaker: beakerName(words, setups, subject) }));
  return [
    ...told.questions
      .filter(({ question, guess }) => question !== "why" && guess !== "")
      .map(({ question, guess, outcome, near }) =>
        element(
          "dl",
          { class: "answers compared" },
          element("dt", {}, t(`name.${question}`)),
          element(
            "dd",
            {},
            t(`compare.${near}`, {
              guess: answerWords(words, setups, question, guess),
              outcome: answerWords(words, setups, question, outcome),
            }),
            raised(words, counted(question), (value) => answerWords(words, setups, question, value), String(outcome)),
          ),
        ),
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
  ].map((group, index) => (index === 0 ? [heading, group] : [group]));
}

/**
 * What each beaker did, in the numbers that the level shows.
 * @param {Words} words
 * @param {Engine} engine
 * @returns {HTMLElement[]}
 */
export function numbers(words, engine) {
  const t = words.t.bind(words);
  const { beakers: setups } = engine.recipe();
  const { beakers } = engine.explanation();
  const volumes = engine.labels(engine.state().now).map(({ volumeMl }) => volumeMl);
  const dash = "\u2013";
  /** @type {Record<string, (beaker: import("./lesson-shapes.js").BeakerOutcome, index: number) => string>} */
  const cells = {
    back: ({ turnedBackS }) =>
      turnedBackS === null ? t("answer.never") : t("unit.seconds", { value: words.number(turnedBackS, 0) }),
    rate: ({ turnedBackS }) => (turnedBackS === null ? dash : words.number(1 / turnedBackS, 4)),
    ph: ({ phAtRest }) => words.number(phAtRest, 2),
    solid: ({ solidG }) => t("unit.grams", { value: words.number(solidG, 2) }),
    dissolved: ({ dissolvedMmol }, index) => words.number((1000 * dissolvedMmol) / volumes[index], 1),
  };
  const columns = Object.keys(cells).filter(
    (key) => key === "back" || engine.shows(/** @type {import("./lesson-shapes.js").InstrumentKey} */ (key)),
  );
  const head = ["beaker", ...columns].map((key) => element("th", { scope: "col" }, t(`explain.column.${key}`)));
  const table = element(
    "table",
    { class: "numbers" },
    element("caption", { class: "unseen" }, t("explain.tableCaption")),
    element("thead", {}, element("tr", {}, ...head)),
    element(
      "tbody",
      {},
      ...beakers.map((beaker, index) =>
        element(
          "tr",
          {},
          element("th", { scope: "row" }, beakerName(words, setups, index)),
          ...columns.map((key) => element("td", {}, cells[key](beaker, index))),
        ),
      ),
    ),
  );
  return [element("h3", {}, t("explain.numbers")), table];
}

/** The causes that move a pH, in the order of the table. */
const CAUSES = /** @type {const} */ (["commonIon", "activity", "saturation", "temperature"]);

/**
 * Which cause moved the pH of the beaker that is asked about: by this dose, and since before the first.
 * @param {Words} words
 * @param {Engine} engine
 * @param {State} state
 * @returns {HTMLElement[]} nothing where the level does not show it
 */
export function terms(words, engine, state) {
  const subject = state.step?.subjectBeaker ?? 0;
  const { doses } = engine.marks();
  const last = doses.at(-1);
  if (!last || !engine.shows("saturation")) return [];
  const since = engine.phShift(subject, doses[0].at, state.now);
  const dose = engine.phShift(subject, last.at, state.now);
  if (!since || !dose) return [];
  const t = words.t.bind(words);
  /** @param {string} name @param {number[]} values */
  const row = (name, values) =>
    element(
      "tr",
      {},
      element("th", { scope: "row" }, name),
      ...values.map((value) =>
        element("td", {}, element("bdi", {}, `${value > 0 ? "+" : ""}${words.number(value, 2)}`)),
      ),
    );
  return [
    element("h3", {}, t("explain.terms", { beaker: beakerName(words, engine.recipe().beakers, subject) })),
    element(
      "table",
      { class: "numbers terms" },
      element("caption", { class: "unseen" }, t("explain.termsCaption")),
      element(
        "thead",
        {},
        element(
          "tr",
          {},
          ...["cause", "dose", "start"].map((key) => element("th", { scope: "col" }, t(`explain.term.${key}`))),
        ),
      ),
      element(
        "tbody",
        {},
        ...CAUSES.map((cause) => row(t(`explain.term.${cause}`), [dose[cause], since[cause]])),
        row(t("explain.term.all"), [dose.now - dose.before, since.now - since.before]),
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
  const { level } = engine.state();
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
      const inItsWords = words.either(`level.${level}.why.${key}`, `why.${key}`);
      return element("p", {}, words.t(inItsWords, Object.fromEntries(written)));
    }),
  ];
}
