// The Trace: what the run did, as charts with their tables. It shows the run up to now, and nothing of it moves by itself.

import { saveCsv } from "./chartfile.js";
import { element } from "./element.js";
import { Figures } from "./figures.js";
import { Plot } from "./plot.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {import("./figures.js").Span} Span
 */

/** The charts in their order; those of time come first. */
const OF_TIME = ["ph", "colour", "solid", "dissolved", "celsius", "saturation"];
/** Closer than this nothing new is seen, s. */
const LEAST_SPAN_S = 4;
/** The run as a file has a row for each beaker so often, s. */
const RUN_ROW_S = 1;

/** The place. */
export class Trace {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {(sentence: string, topic?: string) => void} say speaks to those who listen
   */
  constructor(engine, words, say) {
    this.engine = engine;
    this.words = words;
    this.say = say;
    /** @type {Figures | null} */
    this.figures = null;
    /** @type {Span} */
    this.span = { from: 0, to: 0, zero: 0 };
    /** Whether the span follows the choice of the list, or was set by hand. */
    this.byHand = false;
    /** The x that was read last, s after the span's zero. */
    this.pointed = Number.NaN;
    /** What the class itself recorded, over the chart of pH; null before anybody has gone to Our data. @type {() => import("./overlaid.js").Overlaid | null} */
    this.overlaid = () => null;
    const t = words.t.bind(words);
    this.stretch = element("select", { id: "trace-span", change: () => this.choose() });
    this.dose = element("select", { id: "trace-dose", change: () => this.showRate() });
    this.comma = element("input", { type: "checkbox", id: "trace-comma" });
    // A language that writes decimal commas has spreadsheets that read them.
    this.comma.checked = words.number(0.5, 1).includes(",");
    const button = (/** @type {string} */ key, /** @type {() => void} */ act) =>
      element("button", { type: "button", click: act }, t(key));
    this.run = button("trace.run", () => this.saveRun());
    this.place = element("div", { class: "trace-charts" });
    /** @type {Map<string, Plot>} */
    this.plots = new Map();
    this.children = [
      element("h2", { id: "trace-heading", tabindex: -1 }, t("trace.heading")),
      element("p", {}, t("trace.lead")),
      element(
        "div",
        { class: "trace-bar" },
        element("p", { class: "field" }, element("label", { for: "trace-span" }, t("trace.span")), this.stretch),
        button("trace.closer", () => this.zoom(0.5, this.pointed)),
        button("trace.further", () => this.zoom(2, this.pointed)),
      ),
      element("p", { class: "quiet", id: "trace-keys" }, t("trace.keys")),
      this.place,
      element(
        "div",
        { class: "trace-bar" },
        element("p", { class: "option-line" }, this.comma, element("label", { for: "trace-comma" }, t("trace.comma"))),
        this.run,
      ),
      element("p", { class: "quiet" }, t("end.real")),
    ];
  }

  /** Follows the run. */
  refresh() {
    const { words } = this;
    this.figures = new Figures(this.engine, words);
    const { doses, end } = this.figures;
    const chosen = this.stretch.selectedIndex;
    const options = [
      words.t("trace.whole"),
      ...doses.map((dose) => words.t("trace.after", { dose: this.figures?.doseName(dose) ?? "" })),
    ];
    this.stretch.replaceChildren(
      ...options.map((name, at) => element("option", { value: at - 1, selected: at === chosen }, name)),
    );
    this.run.hidden = !this.figures.shows(["trace", "ph", "celsius", "solid"]);
    // What was set by hand stays, unless another run has begun since.
    if (this.byHand && this.span.to <= end) this.show(this.span);
    else this.choose();
    this.showSeconds();
  }

  /** Shows the stretch that is chosen. */
  choose() {
    if (!this.figures) return;
    const { doses, end } = this.figures;
    const at = Number(this.stretch.value);
    const dose = doses[at];
    this.byHand = false;
    this.show(dose ? { from: dose.at, to: doses[at + 1]?.at ?? end, zero: dose.at } : { from: 0, to: end, zero: 0 });
  }

  /** @param {Span} span */
  show(span) {
    this.span = span;
    if (!this.figures) return;
    const figures = this.figures.ofTime(span);
    for (const key of OF_TIME) {
      const figure = figures.find((one) => one.key === key);
      if (!figure) this.plots.get(key)?.root.remove();
      else if (key === "ph") this.showOver(this.overlaid(), figure, this.figures);
      else this.plot(key, true).show(figure);
    }
  }

  /** Shows the chart of pH with what the class recorded over it. @param {import("./overlaid.js").Overlaid | null} overlaid @param {import("./chart.js").Figure} figure @param {Figures} figures */
  showOver(overlaid, figure, figures) {
    const plot = this.plot("ph", true);
    if (!overlaid) return plot.show(figure);
    overlaid.changed = () => this.show(this.span);
    if (overlaid.root.parentNode !== plot.above) plot.above.replaceChildren(overlaid.root);
    plot.show(overlaid.over(figure, figures, this.span));
  }

  /** Shows this share of the time that is shown, about an x. @param {number} share @param {number} x */
  zoom(share, x) {
    const { from, to, zero } = this.span;
    const end = this.figures?.end ?? 0;
    const middle = Number.isFinite(x) && x + zero >= from && x + zero <= to ? x + zero : (from + to) / 2;
    const reach = Math.max(LEAST_SPAN_S, (to - from) * share);
    // The point that is read keeps its place on the screen.
    const first = Math.max(0, middle - ((middle - from) / (to - from || 1)) * reach);
    this.cut(first - zero, Math.min(end, first + reach) - zero);
  }

  /** Shows the time between two x. @param {number} low @param {number} high */
  cut(low, high) {
    const { zero } = this.span;
    const end = this.figures?.end ?? 0;
    const tenth = (/** @type {number} */ x) => Math.round((x + zero) * 10) / 10;
    const to = Math.min(end, tenth(high));
    const from = Math.max(0, Math.min(tenth(low), to - LEAST_SPAN_S));
    this.byHand = true;
    this.show({ from, to, zero });
    this.say(
      this.words.t("trace.cut", { from: this.words.number(from - zero, 0), to: this.words.number(to - zero, 0) }),
      "trace",
    );
  }

  /** The seconds of each dose, and their rates. */
  showSeconds() {
    if (!this.figures) return;
    const { words } = this;
    const seconds = this.figures.seconds();
    this.plot("seconds", false).show(seconds);
    if (!this.figures.shows(["rate"])) return this.plots.get("rate")?.root.remove();
    const chosen = this.dose.value;
    const plot = this.plot("rate", false);
    if (!this.dose.isConnected)
      plot.above.replaceChildren(
        element(
          "p",
          { class: "field" },
          element("label", { for: "trace-dose" }, words.t("trace.rate.dose")),
          this.dose,
        ),
      );
    this.dose.replaceChildren(
      ...seconds.at.map((number) =>
        element("option", { value: number, selected: String(number) === chosen }, words.t("dose.acid", { number })),
      ),
    );
    plot.above.hidden = seconds.at.length === 0;
    this.showRate();
  }

  /** Shows the rates of the chosen dose. */
  showRate() {
    if (this.figures) this.plot("rate", false).show(this.figures.rate(Number(this.dose.value)));
  }

  /** The chart of a key, at its place. @param {string} key @param {boolean} zooms @returns {Plot} */
  plot(key, zooms) {
    let plot = this.plots.get(key);
    if (!plot) {
      plot = new Plot(
        this.words,
        key,
        {
          say: (sentence) => this.say(sentence, "trace"),
          pointed: (x) => {
            if (zooms) this.pointed = x;
          },
          zoom: (share, x) => this.zoom(share, x),
          cut: (low, high) => this.cut(low, high),
          csv: (columns) => this.engine.tableCsv(columns, this.comma.checked),
          fileName: (figure, ending) => this.fileName(figure.key, ending),
        },
        zooms,
      );
      this.plots.set(key, plot);
    }
    if (!plot.root.isConnected) {
      const order = [...OF_TIME, "seconds", "rate"];
      const after = order.slice(order.indexOf(key) + 1).map((later) => this.plots.get(later)?.root);
      this.place.insertBefore(plot.root, after.find((root) => root?.parentNode === this.place) ?? null);
    }
    return plot;
  }

  /** Hands out the whole run. */
  saveRun() {
    saveCsv(this.engine.csv(RUN_ROW_S, this.comma.checked), this.fileName("run", "csv"));
    this.say(this.words.t("trace.saved"), "trace");
  }

  /** @param {string} chart @param {string} ending */
  fileName(chart, ending) {
    return `${this.words.t("trace.fileName", { chart: this.words.t(`trace.${chart}.file`), code: this.engine.checkCode() })}.${ending}`;
  }
}
