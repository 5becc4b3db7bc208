// Pictures of a fit: what is left of it, what two numbers may be together, and the class's own straight lines.
// Each has its table beside it, so the pictures only show.

import { drawing, element } from "./element.js";
import { ticks } from "./scale.js";

const MOST_WIDTH = 420;
const HEIGHT = 220;
/** Round numbers along an axis. */
const MOST_TICKS = 5;
/** Room around a plot, px; above it stands the name of what goes up. */
const EDGE = { left: 62, right: 12, top: 26, bottom: 36 };
/** Beside a drawing, px: on a narrow screen the drawing is narrower, not its letters smaller. */
const BESIDE = 40;

/** @typedef {[number, number]} Range */

class Plot {
  /** @param {string} label */
  constructor(label) {
    this.width = Math.min(MOST_WIDTH, document.documentElement.clientWidth - BESIDE);
    this.svg = drawing("svg", {
      viewBox: `0 0 ${this.width} ${HEIGHT}`,
      class: "dataplot",
      role: "img",
      "aria-label": label,
    });
    this.root = element("figure", { hidden: true }, /** @type {any} */ (this.svg));
  }

  /** @param {Range} across @param {Range} up @param {string} acrossName @param {string} upName @param {import("./i18n.js").Words} words */
  frame(across, up, acrossName, upName, words) {
    this.across = widened(across);
    this.up = widened(up);
    this.root.hidden = false;
    const { left, right, top, bottom } = EDGE;
    const axis = [
      drawing("path", { d: `M${left} ${top}V${HEIGHT - bottom}H${this.width - right}`, class: "axis" }),
      text((left + this.width - right) / 2, HEIGHT - 4, acrossName, "middle"),
      text(left - 4, top - 10, upName, "start"),
    ];
    for (const x of ticks(...this.across, MOST_TICKS))
      axis.push(text(this.x(x), HEIGHT - bottom + 14, figure(words, x, this.across), "middle"));
    for (const y of ticks(...this.up, MOST_TICKS))
      axis.push(text(left - 5, this.y(y) + 4, figure(words, y, this.up), "end"));
    this.svg.replaceChildren(...axis);
  }

  /** @param {number} value */
  x(value) {
    const [low, high] = this.across ?? [0, 1];
    return EDGE.left + ((value - low) / (high - low)) * (this.width - EDGE.left - EDGE.right);
  }

  /** @param {number} value */
  y(value) {
    const [low, high] = this.up ?? [0, 1];
    return HEIGHT - EDGE.bottom - ((value - low) / (high - low)) * (HEIGHT - EDGE.top - EDGE.bottom);
  }

  /** @param {number} x px @param {number} y px */
  dot(x, y) {
    this.svg.append(drawing("path", { d: `M${x - 3} ${y}a3 3 0 1 0 6 0a3 3 0 1 0-6 0`, class: "point" }));
  }

  /** @param {ArrayLike<number>} xs @param {ArrayLike<number>} ys @param {string} kind @param {boolean} [closed] */
  line(xs, ys, kind, closed = false) {
    const points = Array.from(xs, (x, at) => `${this.x(x).toFixed(1)} ${this.y(ys[at]).toFixed(1)}`);
    if (points.length > 0)
      this.svg.append(drawing("path", { d: `M${points.join("L")}${closed ? "Z" : ""}`, class: kind }));
  }
}

/** What is left at each point of a fit. */
export class ResidualPlot extends Plot {
  /** @param {import("./i18n.js").Words} words @param {number[][]} points @param {number} bound @param {string} [name] of their recording */
  constructor(words, points, bound, name = "") {
    super([name, words.t("data.residualPicture")].filter(Boolean).join(": "));
    const size = Math.max(bound, ...points.map((point) => Math.abs(point[3])));
    // A recording's readings stand at their seconds, times in their order.
    const places = points.map((point, index) => point[6] ?? index + 1);
    const ends = extent(places);
    const across = words.t(points[0]?.length > 6 ? "data.axis.seconds" : "data.axis.points");
    this.frame(ends, [-size, size], across, words.t("data.axis.studentised"), words);
    this.line(ends, [0, 0], "axis");
    for (const [index, [, , , left, misfit]] of points.entries()) {
      const [x, y] = [this.x(places[index]), this.y(left)];
      if (misfit) this.svg.append(drawing("path", { d: `M${x - 4} ${y - 4}l8 8m0-8l-8 8`, class: "misfit" }));
      else this.dot(x, y);
    }
    this.root.append(element("figcaption", {}, name || words.t("data.residualCaption")));
  }
}

/** What two numbers may be together. */
export class TradePlot extends Plot {
  /** @param {import("./i18n.js").Words} words @param {[string, string]} keys @param {number[]} numbers the correlation, then corners */
  constructor(words, keys, numbers) {
    const names = keys.map((key) => words.t(`data.unknown.${key}`));
    super(words.t("data.tradePicture", { one: names[0], other: names[1] }));
    const xs = numbers.filter((_, index) => index % 2 === 1);
    const ys = numbers.filter((_, index) => index > 0 && index % 2 === 0);
    this.frame(extent(xs), extent(ys), names[0], names[1], words);
    this.line(xs, ys, "outline", true);
    this.root.append(
      element(
        "figcaption",
        {},
        words.t("data.tradeCaption", { one: names[0], other: names[1], r: words.number(numbers[0], 2) }),
      ),
    );
  }
}

/** The straight lines of ln(1/t) against 1/T, each with its dose's number at its cold end. */
export class LinesPlot extends Plot {
  /** @param {import("./i18n.js").Words} words @param {[string, number[]][]} lines @param {number[][]} points as the core gives them */
  constructor(words, lines, points) {
    super(words.t("data.linesPicture"));
    const across = extent(points.map(([, x]) => x));
    const up = extent(points.map(([, , y]) => y));
    this.frame(across, up, words.t("data.axis.inverse"), words.t("data.axis.lnRate"), words);
    for (const [place, [finish, [dose, , , , , , height, slope]]] of lines.entries()) {
      if (finish === "") continue;
      const own = points.filter(([line]) => line === place);
      const ends = extent(own.map(([, x]) => x));
      const level = (/** @type {number} */ x) => height + slope * x;
      this.line(ends, ends.map(level), "point");
      for (const [, x, y] of own) this.dot(this.x(x), this.y(y));
      this.svg.append(text(this.x(ends[1]) + 6, this.y(level(ends[1])) + 4, String(dose), "start"));
    }
    this.root.append(element("figcaption", {}, words.t("data.linesCaption")));
  }
}

/** @param {...ArrayLike<number>} lists @returns {Range} */
function extent(...lists) {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const list of lists)
    for (let at = 0; at < list.length; at++) [low, high] = [Math.min(low, list[at]), Math.max(high, list[at])];
  return [low, high];
}

/** @param {Range} range @returns {Range} */
function widened([low, high]) {
  const more = (high - low || Math.abs(high) || 1) * 0.04;
  return [low - more, high + more];
}

/** @param {import("./i18n.js").Words} words @param {number} value @param {Range} range */
function figure(words, value, [low, high]) {
  return words.number(value, Math.max(0, Math.min(6, 1 - Math.floor(Math.log10(high - low)))));
}

/** @param {number} x @param {number} y @param {string} written @param {string} anchor */
function text(x, y, written, anchor) {
  const made = drawing("text", { x, y, "text-anchor": anchor });
  made.textContent = written;
  return made;
}
