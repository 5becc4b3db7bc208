// The eight colour words, always in one order, each with its letter and its pattern: colour is never the only sign.
// Ranges, letters and patterns are those of the model's bins; the sample colours are the computed colours of the clear liquid
// in the middle of each bin, seen through 9 cm.

import { drawing, element } from "./element.js";

/** @typedef {import("./lesson-shapes.js").BandKey} BandKey */

/** @type {readonly {key: BandKey, letter: string, sample: string, ink: string}[]} */
export const BANDS = [
  { key: "red", letter: "R", sample: "#ff7966", ink: "#1c1b19" },
  { key: "orange", letter: "O", sample: "#ff9e59", ink: "#1c1b19" },
  { key: "yellow", letter: "Y", sample: "#f3ca52", ink: "#1c1b19" },
  { key: "lime", letter: "L", sample: "#c2c561", ink: "#1c1b19" },
  { key: "green", letter: "G", sample: "#7db078", ink: "#1c1b19" },
  { key: "teal", letter: "T", sample: "#1c9593", ink: "#ffffff" },
  { key: "blue", letter: "B", sample: "#277199", ink: "#ffffff" },
  { key: "violet", letter: "V", sample: "#531483", ink: "#ffffff" },
];

/** @type {Record<BandKey, string>} the lines of an 8 x 8 tile */
const TILES = {
  red: "M-2 2 2-2M0 8 8 0M6 10 10 6",
  orange: "M2 2h.01M6 6h.01",
  yellow: "",
  lime: "M2 0v8",
  green: "M0 2h8M0 6h8",
  teal: "M0 4h8M4 0v8",
  blue: "M0 3c2-3 2-3 4 0s2 3 4 0",
  violet: "M-2 6 2 10M0 0 8 8M6-2 10 2",
};

/** Puts the patterns into the page once; chips refer to them. */
export function placePatterns() {
  const definitions = BANDS.map(({ key, ink }) =>
    drawing(
      "pattern",
      { id: `pattern-${key}`, width: 8, height: 8, patternUnits: "userSpaceOnUse" },
      drawing("path", {
        d: TILES[key],
        fill: "none",
        stroke: ink,
        "stroke-width": key === "orange" ? 2.4 : 1.1,
        "stroke-linecap": "round",
        opacity: 0.75,
      }),
    ),
  );
  document.body.append(
    drawing(
      "svg",
      { class: "definitions", width: 0, height: 0, "aria-hidden": "true" },
      drawing("defs", {}, ...definitions),
    ),
  );
}

/**
 * A patch of a colour with its pattern; says nothing by itself, a word stands beside it.
 * @param {BandKey} band
 * @returns {SVGElement}
 */
export function patch(band) {
  const found = BANDS.find(({ key }) => key === band);
  return drawing(
    "svg",
    { class: "patch", "aria-hidden": "true", focusable: "false" },
    drawing("rect", { width: "100%", height: "100%", fill: found?.sample ?? "#ffffff" }),
    drawing("rect", { width: "100%", height: "100%", fill: `url(#pattern-${band})` }),
  );
}

/**
 * The eight letters in their order, the present one marked: where on the scale a beaker stands, without colour.
 * @returns {HTMLElement & {mark?: string}}
 */
export function letterScale() {
  return element(
    "span",
    { class: "letters", "aria-hidden": "true" },
    ...BANDS.map(({ key, letter }) => element("span", { "data-band": key }, letter)),
  );
}
