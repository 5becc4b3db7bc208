// What the card says before the lesson: the level, what will be done, and the questions that come before the first dose.

import { asked, cardOf } from "./asking.js";
import { strengthWords, whenFitted } from "./bottle.js";
import { element } from "./element.js";

/**
 * @typedef {import("./card.js").Card} Card
 * @typedef {import("./lesson-shapes.js").State} State
 */

/** @param {Card} card @param {State} state @returns {{body: HTMLElement[], foot: HTMLElement[]}} */
export function brief(card, state) {
  const { t } = card;
  card.heading.textContent = state.title || t("brief.heading");
  const { fields, beakers } = card.engine.recipe();
  const amounts = Object.fromEntries(
    fields.map(({ key, value, decimals }) => [key, card.words.number(value, decimals)]),
  );
  const doses = fields
    .filter(({ key }) => key === "acidDoses" || key === "baseDoses")
    .reduce((sum, { value }) => sum + value, 0);
  const start = () => card.move(card.engine.goOn());
  const questions = () => {
    const run = asked(card, state, [], "brief.start", () => {
      start();
      return [];
    });
    return { body: [run.form], foot: [run.next, run.back] };
  };
  // Whoever stood in these questions when the page was left stands there again.
  if (state.asks.length > 0 && card.turns.draft()?.card === cardOf(state)) return questions();
  return {
    body: [
      levels(card, state),
      element("p", {}, t(`level.${state.level}.lead`)),
      element("p", {}, t("brief.beakers", { ...amounts, count: beakers.length })),
      ...fitted(card),
      element("p", {}, t("brief.look")),
      element("p", {}, t("brief.job", { count: doses })),
      element("p", { class: "caution" }, t("before.caution")),
    ],
    foot: [
      card.button("brief.start", () => (state.asks.length > 0 ? card.turn(questions()) : start()), "primary"),
      card.button("brief.free", () => card.turns.begin("free")),
    ],
  };
}

/** Whose bottle this is, where a class has fitted it. @param {Card} card */
function fitted(card) {
  const bottle = card.engine.bottle();
  if (!bottle) return [];
  const strength = strengthWords(card.words, bottle);
  const told = strength ? card.t("brief.fittedStrength", strength) : card.t("brief.fitted", whenFitted(bottle));
  return [element("p", {}, told)];
}

/** The level, and the way to another: the beakers run alike at each. @param {Card} card @param {State} state @returns {HTMLElement} */
function levels(card, { level }) {
  const select = element(
    "select",
    { id: "level", change: () => card.turns.level(Number(select.value)) },
    ...card.engine.levels.map(({ level }) =>
      element("option", { value: level }, `${level} ${card.t(`level.${level}.name`)}`),
    ),
  );
  select.value = String(level);
  return element(
    "p",
    { class: "field level" },
    element("label", { for: "level" }, card.t("brief.level")),
    select,
    element("span", { class: "hint" }, card.t(`level.${level}.goal`)),
  );
}
