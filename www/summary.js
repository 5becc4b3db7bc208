// The end of the lesson: what it came to, how to come back to it, and the code of this run.

import { element } from "./element.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./i18n.js").Words} Words
 */

/**
 * @param {Words} words
 * @param {Engine} engine
 * @param {HTMLElement} linkField
 * @returns {HTMLElement[]}
 */
export function summary(words, engine, linkField) {
  const t = words.t.bind(words);
  const own = `level.${engine.state().level}.end`;
  /** A level may say it in other words. @param {string} key */
  const inItsWords = (key) => words.either(`${own}.${key}`, `end.${key}`);
  const { doses } = engine.marks();
  const acid = doses.filter(({ reagent }) => reagent === "acid").length;
  return [
    element("p", {}, t("end.doses", { acid, base: doses.length - acid })),
    element("ul", {}, ...lessons(engine).map((key) => element("li", {}, t(inItsWords(key))))),
    element("p", {}, t("end.code"), " ", element("strong", { class: "code" }, engine.checkCode())),
    linkField,
    element("p", { class: "quiet" }, t("end.codeWhat"), " ", t("end.real")),
  ];
}

/**
 * What the level says that there was to see: a look back, and a teacher's list.
 * @param {Words} words
 * @param {Engine} engine
 * @returns {HTMLElement}
 */
export function expected(words, engine) {
  const { level, expected } = engine.level();
  const lines = Array.from({ length: expected }, (_, index) => words.t(`level.${level}.expect.${index + 1}`));
  return element(
    "details",
    {},
    element("summary", {}, words.t("end.expected")),
    element("ul", {}, ...lines.map((line) => element("li", {}, line))),
  );
}

/**
 * What this run has shown, read from its own bookkeeping: another recipe teaches other things.
 * @param {Engine} engine
 * @returns {string[]}
 */
function lessons(engine) {
  const rows = engine.ledger();
  const celsius = engine.recipe().beakers.map((beaker) => beaker.celsius);
  const turnedBack = rows.filter(({ limiting }) => limiting === "acid").length;
  const usedUp = rows.some(({ limiting }) => limiting === "solid");
  const left = rows.map(({ solidLeftMmol }) => Number(solidLeftMmol));
  /** @type {[string, boolean][]} */
  const shown = [
    ["limiting", usedUp && turnedBack > 0],
    ["solidLeft", !usedUp && turnedBack > 0],
    ["temperature", turnedBack > 0 && new Set(celsius).size > 1],
    ["colour", turnedBack > 1],
    ["reversal", left[left.length - 1] > Math.min(...left)],
  ];
  return shown.filter(([, is]) => is).map(([key]) => key);
}
