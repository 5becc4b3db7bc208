// A lesson's bottle where a class has fitted it, in words.

/**
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {import("./lesson-shapes.js").Bottle} Bottle
 */

/** When it was fitted, to how many measurements: the holes of sentences. @param {Bottle} bottle */
export function whenFitted({ date, measurements }) {
  const digits = String(date);
  return { date: `${digits.slice(0, 4)}-${digits.slice(4, 6)}-${digits.slice(6)}`, count: measurements };
}

/** The fitted strength beside the label's, or nothing where none was fitted. @param {Words} words @param {Bottle | null} bottle */
export function strengthWords(words, bottle) {
  const [, label, fitted] = bottle?.numbers.find(([key]) => key === "strength") ?? ["", 0, null];
  if (!bottle || fitted === null) return null;
  return { ...whenFitted(bottle), label: words.number(label, 1), fitted: words.number(fitted, 1) };
}
