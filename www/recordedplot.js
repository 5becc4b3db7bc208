// A recording with the model's curve beside it, and the signs of the doses: drawn as the Trace draws its charts.

import { chart, RECORDED } from "./chart.js";
import { element } from "./element.js";

/** Of a drawing, px. */
const HEIGHT = 300;
/** A screen has no room for more points. */
const MOST_POINTS = 1200;
/** The signs stand within so many px of the drawing's upper edge. */
const SIGNS_PX = 44;

/** The plot. */
export class RecordedPlot {
  /** @param {import("./i18n.js").Words} words */
  constructor(words) {
    this.words = words;
    this.root = element("div", { class: "plot recorded-plot" });
    /** @type {import("./chart.js").Figure | null} */
    this.figure = null;
    /** @type {import("./chart.js").Drawn | null} */
    this.drawn = null;
    this.width = 0;
    this.chosen = -1;
    new ResizeObserver(() => this.draw()).observe(this.root);
  }

  /**
   * Takes what is to be shown; it is drawn with the signs of the doses.
   * @param {Float64Array} times s @param {Float64Array} ph
   * @param {Float64Array} computed at every so many readings; empty where nothing was computed
   * @param {number} every
   */
  show(times, ph, computed, every) {
    const t = this.words.t.bind(this.words);
    // Of both lines the same points, so that one x serves both.
    const step = every * Math.max(1, Math.ceil(times.length / every / MOST_POINTS));
    const points = Array.from({ length: Math.ceil(times.length / step) }, (_, index) => index * step);
    const values = (/** @type {Float64Array} */ from, /** @type {number} */ each) =>
      points.map((index) => from[index / each] ?? Number.NaN);
    this.figure = {
      key: "recorded",
      title: "",
      x: { title: t("data.axis.seconds"), seconds: true },
      y: { title: "pH" },
      at: points.map((index) => times[index]),
      lines: [
        { name: t("data.line.recorded"), dash: RECORDED, values: values(ph, 1) },
        ...(computed.length > 0 ? [{ name: t("data.line.computed"), dash: 0, values: values(computed, every) }] : []),
      ],
      drawn: "line",
      marks: this.figure?.marks ?? [],
      rule: null,
      slant: null,
      columns: [],
      read: () => "",
      note: "",
    };
  }

  /** Draws what is shown, with the signs of the doses; the chosen one, or all, stand out. @param {number[]} doses s @param {number} chosen -1 for all */
  mark(doses, chosen) {
    if (!this.figure) return;
    this.figure.marks = doses.map((at, index) => ({
      at,
      text: String(index + 1),
      strong: chosen < 0 || chosen === index,
    }));
    this.width = 0;
    this.draw();
  }

  draw() {
    const width = Math.floor(this.root.clientWidth);
    if (!this.figure || width < 40 || width === this.width) return;
    this.width = width;
    this.drawn = chart(this.words, this.figure, { width, height: HEIGHT });
    this.root.replaceChildren(this.drawn.root);
  }

  /** How many seconds a px is wide. */
  get secondsPerPx() {
    return this.drawn ? this.drawn.value(1) - this.drawn.value(0) : 0;
  }

  /**
   * The dose whose sign is nearest to a place on the screen, where it is near enough.
   * @param {number} clientX @param {number} clientY @param {number} reach px
   * @returns {number | null}
   */
  signAt(clientX, clientY, reach) {
    const { left, top } = this.root.getBoundingClientRect();
    if (clientY - top > SIGNS_PX || !this.figure || !this.drawn) return null;
    const here = this.drawn.value(clientX - left);
    const far = this.figure.marks.map(({ at }) => Math.abs(at - here) / this.secondsPerPx);
    const nearest = far.indexOf(Math.min(...far));
    return far[nearest] <= reach ? nearest : null;
  }
}
