// What the card tells when a dose has come to rest, and at the end of the lesson.

import { asked } from "./asking.js";
import { beakerName } from "./beaker.js";
import { answered, raised, thought } from "./choice.js";
import { element } from "./element.js";
import { numbers, outcome, reasons, terms } from "./explanation.js";
import { classSaid } from "./retell.js";
import { expected, summary } from "./summary.js";
import { timeWords } from "./timing.js";

/**
 * @typedef {import("./card.js").Card} Card
 * @typedef {import("./lesson-shapes.js").State} State
 */

/**
 * Groups that may stand on pages of their own.
 * @param {HTMLElement[][]} groups
 * @param {HTMLElement} [heading] of the first
 * @returns {import("./pages.js").Part[]}
 */
function pagesOf(groups, heading) {
  return groups.map((group, index) => ({
    key: "explain.more",
    body: heading && index === 0 ? [heading, ...group] : group,
  }));
}

/** @param {Card} card @param {State} state @returns {{body: HTMLElement[], foot: HTMLElement[]}} */
export function explain(card, state) {
  const { step } = card.about(state);
  const isLast = step.index === step.count - 1;
  const { choices, ideas } = card.engine.explanation();
  const onward = card.button(isLast ? "explain.end" : "explain.next", () => card.move(card.engine.goOn()), "primary");
  card.heading.textContent = card.t("explain.heading");
  const fresh = ideas.filter((idea) => !choices.some((told) => told.idea === idea));
  return card.spread(
    [
      ...pagesOf(outcome(card.words, card.engine, state, (question) => counted(card, step.index, question))),
      { key: "explain.more", body: numbers(card.words, card.engine) },
      { key: "explain.more", body: times(card, state) },
      { key: "explain.more", body: classSaid(card.words, card.engine) },
      { key: "explain.why", body: reasons(card.words, card.engine) },
      { key: "explain.more", body: terms(card.words, card.engine, state) },
      ...pagesOf(told(card, choices), element("h3", {}, card.t("explain.asked"))),
      ...pagesOf(
        fresh.map((idea) => [thought(card.words, idea)]),
        element("h3", {}, card.t("explain.ideaLead")),
      ),
    ],
    onward,
  );
}

/** The student's own times of this dose beside the computed ones. @param {Card} card @param {State} state */
function times(card, state) {
  const timing = card.engine.timing(card.turns.timing.finish);
  if (!timing || timing.times.length === 0 || !state.step) return [];
  const { beakers } = card.engine.recipe();
  const lines = timing.times.map((time) => {
    const computed = timing.computed[time.beaker];
    const own = timeWords(card.words, beakerName(card.words, beakers, time.beaker), time);
    if (time.takenBack) return own;
    return `${own} ${computed === null ? card.t("timing.never") : card.t("timing.computed", { seconds: card.words.number(computed, 1) })}`;
  });
  return [
    element("h3", {}, card.t("timing.heading")),
    element("ul", {}, ...lines.map((line) => element("li", {}, line))),
  ];
}

/** Answered questions with the hands that were counted for them. @param {Card} card @param {import("./lesson-shapes.js").Told[]} told */
function told(card, told) {
  return answered(card.words, told, (one) => {
    const said = (/** @type {string} */ value) =>
      one.own ? one.own.choices[Number(value)] : card.t(`level.${one.key}.${value}`);
    return raised(card.words, counted(card, one.at, `choice${one.ask}`), said, one.right ?? "");
  });
}

/** @param {Card} card @param {State} state @returns {{body: HTMLElement[], foot: HTMLElement[]}} */
export function end(card, state) {
  const again = card.button("end.again", () => card.turns.begin("guided"));
  const last = () => {
    card.heading.textContent = card.t("end.heading");
    return {
      body: [...summary(card.words, card.engine, card.turns.linkField("end")), expected(card.words, card.engine)],
      foot: [card.button("end.free", () => card.turns.begin("free"), "primary"), again],
    };
  };
  const first = () => {
    const answers = card.engine.told().filter(({ at }) => at === "brief" || at === "end");
    if (answers.length === 0) return last();
    card.heading.textContent = card.t("end.told");
    return card.spread(
      pagesOf(told(card, answers)),
      card.button("end.goOn", () => card.turn(last()), "primary"),
    );
  };
  const open = state.asks.filter(({ answer }) => answer === null);
  if (open.length === 0) return first();
  card.heading.textContent = card.t("end.asked");
  const run = asked(card, { ...state, asks: open }, [], "end.goOn", () => {
    card.turn(first());
    return [];
  });
  return { body: [run.form], foot: [run.next, run.back] };
}

/** The hands that were counted for a question. @param {Card} card @param {string | number} place @param {string} question */
function counted(card, place, question) {
  return card.hands.get(`${place}/${question}`) ?? {};
}
