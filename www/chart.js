// A chart as a drawing: axes, marks, lines told apart by dash, shape and name. The same drawing stands on the page, where
// forced colours reach it, and goes into a file; every line is ink, so that it reads in grey.

import { drawing } from "./element.js";
import { ends, powers, scale, ticks } from "./scale.js";

/**
 * @typedef {import("./i18n.js").Words} Words
 *
 * @typedef {object} Axis
 * @property {string} title with the unit
 * @property {boolean} [log]
 * @property {boolean} [zero] begins at 0
 * @property {string[]} [names] of the values 0, 1, 2 ... where these are no amounts
 * @property {boolean} [seconds] an axis of time
 * @property {boolean} [whole] whole numbers only
 *
 * @typedef {object} Line
 * @property {string} name
 * @property {number} dash which of the dashes and shapes it has, from 0
 * @property {number[]} values one for each x; NaN leaves a gap
 *
 * @typedef {object} Column one of the table's columns and of the file's
 * @property {string} name in the file
 * @property {string} title in the table
 * @property {(number | string)[]} cells NaN where there is nothing
 * @property {number} [decimals] in the file; none for words
 * @property {(cell: number) => string} [shown] how the table writes a number, where not with these decimals
 *
 * @typedef {object} Figure everything that a chart shows, and its table and its file with it
 * @property {string} key
 * @property {string} title
 * @property {Axis} x
 * @property {Axis} y
 * @property {number[]} at the x of every point, rising
 * @property {Line[]} lines
 * @property {"line" | "steps" | "points"} drawn
 * @property {{at: number, text: string, strong?: boolean}[]} marks upright lines
 * @property {{at: number, text: string} | null} rule a level line
 * @property {{at: [number, number], values: [number, number], text: string} | null} slant a straight line
 * @property {Column[]} columns a row for every point
 * @property {(point: number) => string} read a point in words
 * @property {string} note what is to be known of it
 *
 * @typedef {object} Drawn
 * @property {SVGElement} root
 * @property {(x: number) => number} point the point nearest to a place, px
 * @property {(point: number) => void} show sets the reading mark on a point
 * @property {(x: number) => number} value the x that lies at a place, px
 */

/** Looks of what was recorded, a row of dots, and of the model's curve for it, beside those of three beakers. */
export const RECORDED = 3;
export const COMPUTED = 4;
const DASHES = ["", "8 4", "2 3", "0.1 6", "12 3 2 3"].map((dashes, at) => ({
  "stroke-width": at === RECORDED ? 3.5 : 2,
  "stroke-linecap": at === RECORDED ? "round" : "butt",
  "stroke-dasharray": dashes,
}));
const SHAPES = ["M-4 0a4 4 0 1 0 8 0a4 4 0 1 0-8 0", "M-4-4h8v8h-8z", "M0-5L5 4H-5z"];
/** Width of a letter and height of a line of words, px: estimates that hold for the usual faces at this size. */
const LETTER = 7;
const TEXT = 13;
const LINE = 17;
/** Length of the piece of line before a name. */
const SAMPLE = 26;
const FACE = "system-ui, 'Liberation Sans', Arial, sans-serif";

/**
 * Draws a figure.
 * @param {Words} words
 * @param {Figure} figure
 * @param {{width: number, height: number, title?: string}} size
 * @returns {Drawn}
 */
export function chart(words, figure, { width, height, title = "" }) {
  const { x, y, lines, rule, slant } = figure;
  const names = y.names ?? [];
  const rowMost = Math.max(2, Math.floor((height - 90) / 40));
  const values = [...lines.flatMap((line) => line.values), ...(rule ? [rule.at] : []), ...(slant?.values ?? [])];
  const yEnds = y.names ? /** @type {[number, number]} */ ([0, names.length - 1]) : ends(values, rowMost, y);
  const yTicks = y.names ? names.map((_, at) => at) : y.log ? powers(...yEnds, rowMost) : ticks(...yEnds, rowMost);
  const yNames = yTicks.map((value) => names[value] ?? (y.log ? words.power(value) : plain(words, value, yTicks)));

  const left = 12 + LETTER * Math.max(...yNames.map(length));
  const right = width - 14 - SAMPLE - LETTER * Math.max(3, ...lines.map(({ name }) => length(name)));
  const [top, bottom] = [title ? 64 : 42, height - 42];
  const [first, last] = [figure.at[0] ?? 0, figure.at.at(-1) ?? 1];
  // Points are drawn with room beside them; lines go from edge to edge.
  const room = figure.drawn === "points" ? (last - first) * 0.08 || 0.5 : 0;
  const across = scale([first - room, last + (last === first && room === 0 ? 1 : room)], [left, right]);
  const up = scale(yEnds, [bottom, top], y.log);
  const columnMost = Math.max(1, Math.floor((right - left) / 70));
  const xTicks = ticks(across.low, across.high, columnMost, x.seconds).filter(
    (value) => !x.whole || Number.isInteger(value),
  );

  const root = drawing("svg", {
    class: "chart-drawing",
    xmlns: "http://www.w3.org/2000/svg",
    viewBox: `0 0 ${width} ${height}`,
    width,
    height,
    color: "#1c1b19",
    fill: "currentColor",
    "font-family": FACE,
    "font-size": TEXT,
    "aria-hidden": "true",
  });
  const line = (/** @type {string} */ d, /** @type {Record<string, string | number>} */ how = {}) =>
    drawing("path", { d, fill: "none", stroke: "currentColor", ...how });
  const text = (
    /** @type {string} */ said,
    /** @type {number} */ px,
    /** @type {number} */ py,
    /** @type {Record<string, string | number>} */ how = {},
  ) => drawing("text", { x: px, y: py, ...how }, document.createTextNode(said));
  const middle = { "text-anchor": "middle" };

  if (title) root.append(text(title, 0, 18, { "font-weight": 600, "font-size": TEXT + 2 }));
  root.append(
    text(y.title, title ? 0 : 6, top - 24),
    text(x.title, (left + right) / 2, height - 6, middle),
    line(yTicks.map((value) => `M${left} ${px(up.at(value))}H${right}`).join(""), { "stroke-opacity": 0.16 }),
    line(`M${left} ${top}V${bottom}H${right}`),
    ...yTicks.map((value, at) => text(yNames[at], left - 6, up.at(value) + 4, { "text-anchor": "end" })),
    ...xTicks.map((value) => text(plain(words, value, xTicks), across.at(value), bottom + 18, middle)),
  );
  let free = -Infinity;
  for (const { at, text: said, strong } of figure.marks) {
    const place = across.at(at);
    /** @type {Record<string, number>} */
    const looks = strong ? { "stroke-width": 2 } : { "stroke-opacity": 0.55, "stroke-width": 0.75 };
    root.append(line(`M${px(place)} ${top}V${bottom}`, looks));
    if (place < free) continue;
    root.append(text(said, place, top - 6, strong ? { ...middle, "font-weight": 700 } : middle));
    free = place + LETTER * (length(said) + 1);
  }
  if (rule) {
    root.append(
      line(`M${left} ${px(up.at(rule.at))}H${right}`, { "stroke-width": 1.5, "stroke-dasharray": "12 3 2 3" }),
      text(rule.text, right - 4, up.at(rule.at) - 5, { "text-anchor": "end" }),
    );
  }
  if (slant) {
    const [from, to] = slant.at.map((at, end) => `${px(across.at(at))} ${px(up.at(slant.values[end]))}`);
    root.append(line(`M${from}L${to}`, { class: "slant", "stroke-width": 1.25 }));
  }
  for (const { values: heights, dash } of lines) {
    root.append(
      line(path(figure, heights, across.at, up.at), {
        class: "data",
        "stroke-linejoin": "round",
        ...DASHES[dash],
      }),
    );
    if (figure.drawn !== "points") continue;
    for (const [point, value] of heights.entries())
      if (Number.isFinite(value))
        root.append(
          drawing("path", {
            class: "point",
            d: SHAPES[dash],
            transform: `translate(${px(across.at(figure.at[point]))} ${px(up.at(value))})`,
          }),
        );
  }
  for (const { line: named, place } of apart(lines, up.at, top, bottom)) {
    root.append(
      line(`M${right + 6} ${place}h${SAMPLE - 4}`, DASHES[named.dash]),
      text(named.name, right + 6 + SAMPLE, place + 4),
    );
    if (figure.drawn === "points")
      root.append(
        drawing("path", { d: SHAPES[named.dash], transform: `translate(${right + 4 + SAMPLE / 2} ${place})` }),
      );
  }

  const mark = drawing("g", { class: "reading-mark" });
  root.append(mark);
  return {
    root,
    value: (place) => across.low + ((place - left) / (right - left)) * (across.high - across.low),
    point: (place) => nearest(figure.at.map(across.at), place),
    show: (point) => {
      const place = px(across.at(figure.at[point]));
      const dots = lines.filter(
        ({ values: heights }) => Number.isFinite(heights[point]) && (!y.log || heights[point] > 0),
      );
      mark.replaceChildren(
        line(`M${place} ${top}V${bottom}`, { "stroke-width": 1.5 }),
        ...dots.map(({ values: heights }) =>
          drawing("circle", {
            cx: place,
            cy: px(up.at(heights[point])),
            r: 5.5,
            fill: "none",
            stroke: "currentColor",
            "stroke-width": 2,
          }),
        ),
      );
    },
  };
}

/** The way of a line. @param {Figure} figure @param {number[]} heights @param {(x: number) => number} across @param {(y: number) => number} up */
function path(figure, heights, across, up) {
  let way = "";
  let pen = false;
  for (const [point, value] of heights.entries()) {
    const height = up(value);
    if (!Number.isFinite(height)) {
      pen = false;
      continue;
    }
    const [along, down] = [px(across(figure.at[point])), px(height)];
    way += !pen ? `M${along} ${down}` : figure.drawn === "steps" ? `H${along}V${down}` : `L${along} ${down}`;
    pen = true;
  }
  return way;
}

/** Where the names stand at the ends of their lines, far enough from each other. @param {Line[]} lines @param {(y: number) => number} up @param {number} top @param {number} bottom */
function apart(lines, up, top, bottom) {
  const named = lines
    .map((line) => ({ line, place: up(line.values.findLast((value) => Number.isFinite(up(value))) ?? Number.NaN) }))
    .filter(({ place }) => Number.isFinite(place))
    .sort((one, other) => one.place - other.place);
  let free = top;
  for (const name of named) {
    name.place = Math.max(name.place, free);
    free = name.place + LINE;
  }
  let least = bottom;
  for (const name of named.reverse()) {
    name.place = px(Math.min(name.place, least));
    least = name.place - LINE;
  }
  return named;
}

/** @param {number[]} places @param {number} place */
function nearest(places, place) {
  return places.reduce((best, here, at) => (Math.abs(here - place) < Math.abs(places[best] - place) ? at : best), 0);
}

/** As many decimals as the steps between the marks need. @param {Words} words @param {number} value @param {number[]} all */
function plain(words, value, all) {
  const step = all.length > 1 ? all[1] - all[0] : 1;
  return words.number(value, Math.max(0, Math.min(4, Math.ceil(-Math.log10(step) - 1e-9))));
}

/** A place to a hundredth of a pixel. @param {number} value */
function px(value) {
  return Math.round(value * 100) / 100;
}

/** @param {string} said */
function length(said) {
  return [...said].length;
}
