// Amounts as a technician reads them: millilitres that become litres, grams, and figures that follow what can be measured.

/** @typedef {import("./i18n.js").Words} Words */

/** Figures that a measuring cylinder or a balance of a school can give. */
const FIGURES = 3;

/**
 * A volume, in litres from one litre on.
 * @param {Words} words
 * @param {number} ml
 */
export function volume(words, ml) {
  return ml >= 1000
    ? words.t("unit.l", { value: words.number(ml / 1000, least(ml / 1000, 4)) })
    : millilitres(words, ml);
}

/** @param {Words} words @param {number} ml */
export function millilitres(words, ml) {
  return words.t("unit.ml", { value: words.number(ml, least(ml, 2)) });
}

/** A dose as a syringe reads it: to a tenth at least. @param {Words} words @param {number} ml */
export function dose(words, ml) {
  return words.t("unit.ml", { value: words.number(ml, Math.max(1, least(ml, 2))) });
}

/** @param {Words} words @param {number} g */
export function grams(words, g) {
  return words.t("unit.grams", { value: words.number(g, 2) });
}

/**
 * A computed value with three figures.
 * @param {Words} words
 * @param {number} value
 */
export function figures(words, value) {
  const whole = value === 0 ? 1 : Math.floor(Math.log10(Math.abs(value))) + 1;
  return words.number(value, Math.max(0, FIGURES - whole));
}

/**
 * The fewest decimals that write a value in full.
 * @param {number} value
 * @param {number} most
 */
function least(value, most) {
  for (let decimals = 0; decimals < most; decimals++) {
    const scaled = value * 10 ** decimals;
    if (Math.abs(scaled - Math.round(scaled)) < 1e-9) return decimals;
  }
  return most;
}
