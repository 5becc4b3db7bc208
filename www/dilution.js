// From the stock on the shelf to what the lesson pours: c₁V₁ = c₂V₂ with its numbers, and the order of pouring.

import { figures, millilitres, volume } from "./amount.js";
import { element } from "./element.js";
import { part } from "./sheet.js";

/**
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {import("./lesson-shapes.js").ReagentKey} ReagentKey
 * @typedef {import("./desk-shapes.js").DilutionView} DilutionView
 * @typedef {import("./desk-shapes.js").Dilution} Dilution
 * @typedef {import("./desk-shapes.js").Mix} Mix
 * @typedef {import("./desk-shapes.js").Stock} Stock
 */

/** Molar mass of sodium hydroxide with the figures of a class's table, g/mol: the core reckons with the same. */
const SODIUM_HYDROXIDE_G_MOL = 40;

/**
 * How one reagent is made; nothing where none is needed.
 * @param {Words} words
 * @param {ReagentKey} reagent
 * @param {DilutionView} view
 * @param {number} molL what is wanted
 * @returns {HTMLElement[]}
 */
export function dilution(words, reagent, { key, dilution: made }, molL) {
  const title = words.t(`prep.dilute.${reagent}`, { molL: concentration(words, molL) });
  if (key)
    return [part(title, element("p", { class: "warn" }, words.t(`prep.${key}`, { molL: concentration(words, molL) })))];
  if (!made) return [];
  const needed = volume(words, made.neededMl);
  if (made.order[0] === "asItIs") return [part(title, element("p", {}, words.t("prep.asItIs", { needed })))];
  return [
    part(
      title,
      element("p", {}, words.t("prep.from", { stock: stockName(words, made.stock), needed })),
      element("p", { class: "formula" }, formula(words, made, made.per100)),
      element("p", { class: "formula" }, formula(words, made, made.total), fillings(words, made.total)),
      element("p", {}, words.t("prep.inThisOrder")),
      element(
        "ol",
        {},
        ...made.order.map((step) => element("li", {}, words.t(`prep.order.${step}`, amounts(words, made)))),
      ),
    ),
  ];
}

/** The numbers of one filling, as the steps of the order name them. @param {Words} words @param {Dilution} made */
function amounts(words, { stock, total }) {
  return {
    flask: volume(words, total.flaskMl),
    water: millilitres(words, Math.round(total.waterFirstMl)),
    stock:
      stock.molL === 0
        ? words.t("unit.grams", { value: figures(words, total.stockG) })
        : words.t("unit.ml", { value: figures(words, total.stockMl) }),
  };
}

/** @param {Words} words @param {Dilution} made @param {Mix} mix */
function formula(words, { stock, molL }, mix) {
  const wanted = concentration(words, molL);
  if (stock.molL > 0)
    return words.t("prep.formula", {
      molL: wanted,
      stock: concentration(words, stock.molL),
      flask: mix.flaskMl,
      volume: figures(words, mix.stockMl),
    });
  return words.t("prep.formulaSolid", {
    molL: wanted,
    litres: words.number(mix.flaskMl / 1000, 3),
    molarMass: words.number(SODIUM_HYDROXIDE_G_MOL, 2),
    mass: figures(words, mix.stockG),
  });
}

/** @param {Words} words @param {Mix} mix */
function fillings(words, { fillings: count }) {
  return count > 1 ? ` ${words.t("prep.fillings", { count })}` : "";
}

/** @param {Words} words @param {Stock} stock */
export function stockName(words, { molL, percent }) {
  if (molL === 0) return words.t("prep.stock.solid");
  return words.t(percent > 0 ? "prep.stock.percent" : "prep.stock.plain", {
    molL: concentration(words, molL),
    percent,
  });
}

/** A concentration as a bottle has it, with at least one decimal. @param {Words} words @param {number} molL */
export function concentration(words, molL) {
  return words.number(molL, Math.abs(molL * 10 - Math.round(molL * 10)) < 1e-9 ? 1 : 2);
}
