// All prose of the page: keys and values in, sentences out. The engine gives keys and numbers only.

import { askFor, fileOf } from "./language.js";

/** @typedef {Record<string, string | number>} Values */

const MINUS = "\u2212";
/** @type {Record<string, string>} */
const RAISED = {
  "-": "\u207b",
  0: "\u2070",
  1: "\u00b9",
  2: "\u00b2",
  3: "\u00b3",
  4: "\u2074",
  5: "\u2075",
  6: "\u2076",
  7: "\u2077",
  8: "\u2078",
  9: "\u2079",
};

/**
 * A number with a sign, a power of ten or a unit, or what is held together already. Among words that are read from right to
 * left the order of the bidirectional algorithm (Unicode Standard Annex 9) would turn "34.0 °C" into "C° 34.0". A number alone
 * goes on from what stands before it, as in "pH 7".
 */
const QUANTITY =
  /\u2066[^\u2069]*\u2069|([+\u2212]?)\d+(?:[.,]\d+)*((?:\u00a0\u00d7\u00a010[⁻⁰¹²³⁴-⁹]+)?(?:[ \u00a0][°A-Za-z%µ]{1,4}(?:\/[A-Za-z]+)*(?![A-Za-z]))?)/g;

/** The words of one language. */
export class Words {
  /**
   * @param {string} language BCP 47 tag
   * @param {Record<string, string>} sentences flat: a key such as `ask.why` to a sentence with {holes}
   */
  constructor(language, sentences) {
    this.language = language;
    this.sentences = sentences;
    this.plural = new Intl.PluralRules(language);
    this.fromRight = sentences["language.direction"] === "rtl";
    /** @type {Intl.NumberFormat | null} made with the first figure: it takes long */
    this.digits = null;
  }

  /**
   * Fetches the words of a language; the one request for prose, made before the page starts.
   * @param {import("./language.js").Language} language
   * @returns {Promise<Words>}
   */
  static async load(language) {
    const answer = await askFor(language);
    if (!answer.ok) throw new Error(`${fileOf(language)}: ${answer.status}`);
    return new Words(language.tag, await answer.json());
  }

  /**
   * The sentence of a key with its holes filled. With a number `count`, "key.one" and "key.other" are looked for first.
   * @param {string} key
   * @param {Values} [values] numbers are written in full; those that need a fixed count of decimals pass through `number` first
   * @returns {string}
   */
  t(key, values = {}) {
    let sentence = this.sentences[key];
    if (typeof values.count === "number")
      sentence = this.sentences[`${key}.${this.plural.select(values.count)}`] ?? sentence;
    // A missing key shows itself by its name: a test looks for them, and the page goes on.
    if (sentence === undefined) return key;
    const filled = sentence.replace(/\{(\w+)\}/g, (hole, name) => {
      const value = values[name];
      if (value === undefined) return hole;
      return typeof value === "number" ? this.number(value, decimalsOf(value)) : value;
    });
    return this.held(filled);
  }

  /**
   * Words to be shown, in which each number stays before its unit: isolated, where the language is read from right to left.
   * @param {string} text
   * @returns {string}
   */
  held(text) {
    if (!this.fromRight) return text;
    return text.replace(QUANTITY, (found, sign, rest) => (sign || rest ? `\u2066${found}\u2069` : found));
  }

  /**
   * Whether a key has a sentence.
   * @param {string} key
   * @returns {boolean}
   */
  has(key) {
    return key in this.sentences;
  }

  /** A key where it has a sentence, another where it has none. @param {string} key @param {string} otherwise */
  either(key, otherwise) {
    return this.has(key) ? key : otherwise;
  }

  /**
   * A number with a fixed count of decimals, the language's decimal mark, a true minus sign and no grouping; also for a field,
   * so that nothing unseen is in it.
   * @param {number} value
   * @param {number} decimals
   * @returns {string}
   */
  number(value, decimals) {
    // By hand: the browser's own formats take 15 ms and more before their first number, a tenth of a second on a slow
    // machine. Fifteen digits are what a number was written with, so that 0.15 counts as a half and is rounded up.
    const size = Number((Math.abs(value) * 10 ** decimals).toPrecision(15));
    const rounded = Math.round(size) / 10 ** decimals;
    const sign = value < 0 && rounded !== 0 ? MINUS : "";
    return sign + rounded.toFixed(decimals).replace(".", this.t("number.mark"));
  }

  /**
   * A number of any size with the digits that it has, at most six: 58.3197, 2.4 × 10⁻⁵.
   * @param {number} value
   * @returns {string}
   */
  figure(value) {
    const size = Math.abs(value);
    this.digits ??= new Intl.NumberFormat(this.language, { maximumSignificantDigits: 6, useGrouping: false });
    const exponent = size > 0 ? Math.floor(Math.log10(size)) : 0;
    if (exponent > -4 && exponent < 6) return this.digits.format(value).replace("-", MINUS);
    const mantissa = this.digits.format(value / 10 ** exponent).replace("-", MINUS);
    return `${mantissa}\u00a0\u00d7\u00a0${this.power(10 ** exponent)}`;
  }

  /** A power of ten: 10\u207b\u2075. @param {number} value */
  power(value) {
    const exponent = Math.round(Math.log10(value));
    return exponent === 0 ? "1" : `10${[...String(exponent)].map((sign) => RAISED[sign]).join("")}`;
  }

  /**
   * The limits of a refused value, written out: the holes of the error sentences.
   * @param {{min?: number | null, max?: number | null, unit?: string | null, decimals?: number | null}} error
   * @returns {Values}
   */
  limits({ min, max, unit, decimals }) {
    /** @param {number | null | undefined} value */
    const plain = (value) => (value === null || value === undefined ? "" : this.number(value, decimalsOf(value)));
    return { min: plain(min), max: plain(max), unit: unit ? `\u00a0${unit}` : "", decimals: plain(decimals) };
  }

  /**
   * Fills every element that names a sentence in data-t (its text) or data-t-label (its accessible name).
   * @param {ParentNode} root
   */
  fill(root) {
    for (const element of root.querySelectorAll("[data-t]"))
      element.textContent = this.t(/** @type {HTMLElement} */ (element).dataset.t ?? "");
    for (const element of root.querySelectorAll("[data-t-label]"))
      element.setAttribute("aria-label", this.t(/** @type {HTMLElement} */ (element).dataset.tLabel ?? ""));
  }
}

/** @param {number} value @returns {number} decimals that write it in full, at most 4 */
function decimalsOf(value) {
  for (let decimals = 0; decimals < 4; decimals++) {
    const scaled = value * 10 ** decimals;
    if (Math.abs(scaled - Math.round(scaled)) < 1e-9) return decimals;
  }
  return 4;
}
