// A sheet of paper: its head, its rules and tables, its blanks to fill. It is typeset here once, for the screen and the printer.

import { drawing, element } from "./element.js";

/**
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {import("./element.js").Child} Child
 *
 * @typedef {object} Head what stands at the head of every page of a sheet
 * @property {string} lesson the lesson's title, as the teacher typed it
 * @property {string} code the check code of the lesson
 * @property {boolean} student whether a student writes a name or a code on it
 * @property {boolean} [cautious] whether it is nothing but cautions, and needs none at its head
 */

/**
 * One sheet. In print it begins a new page, and its head stands on each of its pages.
 * @param {Words} words
 * @param {Head} head
 * @param {string} title
 * @param {...Child} content
 * @returns {HTMLElement}
 */
export function sheet(words, { lesson, code, student, cautious }, title, ...content) {
  const t = words.t.bind(words);
  return element(
    "article",
    { class: "sheet" },
    element(
      "header",
      { class: "sheet-head" },
      element(
        "div",
        { class: "sheet-lines" },
        element("p", { class: "sheet-lesson", dir: "auto" }, lesson),
        element("p", { class: "sheet-code" }, t("sheet.code"), " ", element("strong", { class: "code" }, code)),
        element("h3", {}, title),
        element("p", { class: "sheet-name" }, t(student ? "sheet.name" : "sheet.by"), blank("long")),
        element("p", { class: "sheet-date" }, t("sheet.date"), blank("short")),
        !cautious && element("p", { class: "sheet-caution" }, t("sheet.caution")),
      ),
    ),
    element("div", { class: "sheet-body" }, ...content),
  );
}

/**
 * A part of a sheet under its own heading; it stays together where it fits on a page.
 * @param {string} title
 * @param {...Child} content
 */
export function part(title, ...content) {
  return element("section", { class: "part" }, element("h4", {}, title), ...content);
}

/** @typedef {{group: Child, columns: Child[]}} Group columns under a head of their own */

/**
 * A table with rules. The first cell of a row names the row.
 * @param {string} caption
 * @param {(Child | Group)[]} columns
 * @param {Child[][]} rows
 * @param {string} [kind] figures: numbers to the right; doses: rows with short names; blank: rows with room to write
 */
export function table(caption, columns, rows, kind = "") {
  const grouped = columns.some(isGroup);
  const upper = columns.map((column) =>
    isGroup(column)
      ? element("th", { scope: "colgroup", colspan: column.columns.length }, column.group)
      : element("th", { scope: "col", rowspan: grouped ? 2 : null }, column),
  );
  const lower = columns.filter(isGroup).flatMap((group) => group.columns);
  const made = element(
    "table",
    { class: `ruled ${kind}` },
    element("caption", {}, caption),
    element(
      "thead",
      {},
      element("tr", {}, ...upper),
      grouped && element("tr", {}, ...lower.map((column) => element("th", { scope: "col" }, column))),
    ),
    element(
      "tbody",
      {},
      ...rows.map(([name, ...cells]) =>
        element("tr", {}, element("th", { scope: "row" }, name), ...cells.map((cell) => element("td", {}, cell))),
      ),
    ),
  );
  // On a narrow screen a wide table scrolls in its own box, which the keyboard must be able to reach.
  return element("div", { class: "wide", tabindex: 0, role: "group", "aria-label": caption }, made);
}

/** @param {Child | Group} column @returns {column is Group} */
function isGroup(column) {
  return typeof column === "object" && column !== null && "group" in column;
}

/**
 * A rule to write on.
 * @param {"short" | "long"} length
 */
export function blank(length) {
  return element("span", { class: `blank-rule ${length}` });
}

/** @param {number} count lines to write on */
export function lines(count) {
  return element(
    "div",
    { class: "lines", "aria-hidden": "true" },
    ...Array.from({ length: count }, () => element("div")),
  );
}

/** @param {string} text what is ticked off with a pen */
export function tick(text) {
  return element("li", { class: "to-tick" }, text);
}

/** Columns that can be numbered side by side. */
const MOST_NUMBERS = 16;
/** The plot of a blank diagram, in mm: it leaves room for what stands at the axes. */
const PLOT = { left: 14, top: 4, right: 4, bottom: 14 };

/**
 * Axes to draw into: a fine grid, the columns numbered, the rows named or left for the class to number.
 * @param {object} axes
 * @param {string} axes.label what a reader who does not see it is told
 * @param {string} axes.x @param {string} axes.y names of the axes with their units
 * @param {string[]} axes.columns what stands under each column
 * @param {string[]} axes.rows what stands beside each row from below; empty texts leave the numbers to the class
 * @param {number} axes.width mm @param {number} axes.height mm
 */
export function axes({ label, x, y, columns, rows, width, height }) {
  const [right, bottom] = [width - PLOT.right, height - PLOT.bottom];
  const column = (right - PLOT.left) / columns.length;
  const row = (bottom - PLOT.top) / rows.length;
  const grid = [
    ...columns.map((_, index) => `M${PLOT.left + (index + 0.5) * column} ${PLOT.top}V${bottom}`),
    ...rows.map((_, index) => `M${PLOT.left} ${bottom - (index + 0.5) * row}H${right}`),
  ];
  // Where there are many columns, not every one has room for its number.
  const every = Math.ceil(columns.length / MOST_NUMBERS);
  const text = (/** @type {string} */ words, /** @type {Record<string, string | number>} */ at) =>
    drawing("text", at, document.createTextNode(words));
  return drawing(
    "svg",
    { class: "axes", viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": label },
    drawing("path", { d: grid.join(""), class: "grid" }),
    drawing("path", { d: `M${PLOT.left} ${PLOT.top}V${bottom}H${right}`, class: "axis-line" }),
    ...columns.map((name, index) =>
      text(index % every === 0 ? name : "", {
        x: PLOT.left + (index + 0.5) * column,
        y: bottom + 5,
        "text-anchor": "middle",
      }),
    ),
    ...rows.map((name, index) =>
      text(name, { x: PLOT.left - 2, y: bottom - (index + 0.5) * row + 1.4, "text-anchor": "end" }),
    ),
    text(x, { x: (PLOT.left + right) / 2, y: height - 2, "text-anchor": "middle" }),
    text(y, {
      x: 0,
      y: 0,
      "text-anchor": "middle",
      transform: `translate(4 ${(PLOT.top + bottom) / 2}) rotate(-90)`,
    }),
  );
}
