// A class's own recording over the chart of pH: laid dose by dose on the run of the bench, with the model's curve for it.

import { COMPUTED, RECORDED } from "./chart.js";
import { element } from "./element.js";

/**
 * @typedef {import("./chart.js").Figure} Figure
 * @typedef {import("./figures.js").Figures} Figures
 * @typedef {import("./figures.js").Span} Span
 * @typedef {import("./recording.js").Laid} Laid
 *
 * @typedef {object} Measured what a class measured
 * @property {number} open how many recordings there are
 * @property {string} lesson that is in use, as each recording names the one that it was laid beside
 * @property {Laid[]} laid those that were laid beside the model
 */

/** The choice of what is laid over, and the laying. */
export class Overlaid {
  /**
   * @param {import("./i18n.js").Words} words
   * @param {() => Measured} source
   */
  constructor(words, source) {
    this.words = words;
    this.source = source;
    /** Another choice was made. */
    this.changed = () => {};
    const changed = () => this.changed();
    const t = words.t.bind(words);
    const box = (/** @type {string} */ id) =>
      element("input", { type: "checkbox", id, checked: true, change: changed });
    this.shows = box("trace-recorded");
    this.lags = box("trace-lag");
    this.which = element("select", { id: "trace-recording", change: changed });
    this.lagName = element("label", { for: this.lags.id });
    this.lagLine = element("p", { class: "option-line" }, this.lags, this.lagName);
    this.whichLine = element(
      "p",
      { class: "field" },
      element("label", { for: this.which.id }, t("trace.recorded.which")),
      this.which,
    );
    this.missing = element("p", { class: "quiet" });
    this.root = element(
      "div",
      { class: "trace-bar" },
      element(
        "p",
        { class: "option-line" },
        this.shows,
        element("label", { for: this.shows.id }, t("trace.recorded.show")),
      ),
      this.whichLine,
      this.lagLine,
      this.missing,
    );
  }

  /** What keeps a recording from being laid over the run, as a key; empty where nothing does. @param {Laid | undefined} laid @param {string} lesson @param {Figures} figures */
  lacks(laid, lesson, { state, doses }) {
    if (!laid) return "notLaid";
    if (laid.lesson !== lesson) return "otherLesson";
    if (state.mode === "free") return "free";
    return doses.length === 0 ? "noDose" : "";
  }

  /**
   * The chart of pH with the recording over it, where there is one for this lesson; else the chart as it is.
   * @param {Figure} figure
   * @param {Figures} figures
   * @param {Span} span
   * @returns {Figure}
   */
  over(figure, figures, span) {
    const { words, which } = this;
    const t = words.t.bind(words);
    const { open, lesson, laid } = this.source();
    this.root.hidden = open === 0;
    if (open === 0) return figure;
    const chosen = Math.max(0, which.selectedIndex);
    which.replaceChildren(
      ...laid.map(({ name }, at) => element("option", { value: at, selected: at === chosen }, name)),
    );
    this.whichLine.hidden = laid.length < 2;
    const recording = laid[chosen] ?? laid[0];
    const lacking = this.lacks(recording, lesson, figures);
    this.missing.textContent = lacking ? t(`trace.recorded.${lacking}`) : "";
    const lagS = recording?.curves.at(-1)?.lagS ?? 0;
    this.lagLine.hidden = lagS === 0;
    this.lagName.textContent = t("trace.recorded.lag", { seconds: words.number(lagS, 1) });
    if (lacking || !this.shows.checked) return figure;
    return this.with(figure, figures, span, recording);
  }

  /** @param {Figure} figure @param {Figures} figures @param {Span} span @param {Laid} recording @returns {Figure} */
  with(figure, figures, { zero }, recording) {
    const { words } = this;
    const t = words.t.bind(words);
    const { curves, celsius, name, timesS, ph } = recording;
    const curve = this.lags.checked ? curves[curves.length - 1] : curves[0];
    const beakers = figures.engine.recipe().beakers;
    const far = beakers.map((beaker) => Math.abs(beaker.celsius - celsius));
    const beaker = far.indexOf(Math.min(...far));
    const poured = figures.doses.filter((dose) => dose.beakers.includes(beaker)).map(({ at }) => at);
    const seconds = figure.at.map((at) => secondOf(at + zero, poured, recording));
    const lagging = curve.lagS > 0;
    const lines = [
      { name: t("trace.recorded.line"), dash: RECORDED, values: seconds.map((at) => between(timesS, ph, 1, at)) },
      {
        name: t(lagging ? "trace.recorded.lagging" : "trace.recorded.computed"),
        dash: COMPUTED,
        values: seconds.map((at) => between(timesS, curve.computed, curve.every, at)),
      },
    ];
    const file = ["pH_recorded", lagging ? `pH_computed_lag_${curve.lagS.toFixed(1)}_s` : "pH_computed_for_recording"];
    const shown = (/** @type {number} */ value) => (Number.isNaN(value) ? "–" : words.number(value, 2));
    return {
      ...figure,
      // Five lines would hide each other: the other beakers stay in the table and in the file.
      lines: [...figure.lines.filter(({ dash }) => dash === beaker), ...lines],
      columns: [
        ...figure.columns,
        ...lines.map(({ name, values }, at) => ({
          name: file[at],
          title: t("trace.of", { quantity: "pH", name }),
          cells: values,
          decimals: 2,
          shown,
        })),
      ],
      read: (point) => {
        const values = lines
          .filter(({ values }) => !Number.isNaN(values[point]))
          .map(({ name, values }) => t("trace.ph.read", { name, value: shown(values[point]) }));
        return [figure.read(point), values.length > 0 ? `${values.join("; ")}.` : ""].join(" ").trim();
      },
      note: [
        t("trace.recorded.note", {
          name,
          celsius: words.number(celsius, 1),
          beaker: figures.names[beaker],
        }),
        t("data.differs", { mean: words.number(curve.view.meanPh, 2), rms: words.number(curve.view.rmsPh, 2) }),
        // No word of a dose that has not been poured here.
        this.back(curve.view.backS.slice(0, poured.length)),
      ].join(" "),
    };
  }

  /** How many seconds the model is back later than the recording, dose by dose. @param {number[][]} backS */
  back(backS) {
    const { words } = this;
    const told = backS.flatMap(([measured, computed], index) =>
      Number.isNaN(measured) && Number.isNaN(computed)
        ? []
        : words.t(Number.isNaN(computed - measured) ? "trace.recorded.oneBack" : "trace.recorded.back", {
            dose: index + 1,
            seconds: words.number(computed - measured, 1),
          }),
    );
    return told.length > 0 ? words.t("trace.recorded.seconds", { told: told.join("; ") }) : "";
  }
}

/**
 * The second of the recording that stands at a time of the run: as long after the same dose, as long as both have no other.
 * @param {number} time s of the run @param {number[]} poured when the beaker was given its doses, s of the run @param {Laid} recording
 */
function secondOf(time, poured, { dosesS, timesS }) {
  const dose = poured.findLastIndex((at) => at <= time);
  const second = dose < 0 ? dosesS[0] - (poured[0] - time) : (dosesS[dose] ?? Number.NaN) + time - poured[dose];
  const end = dosesS[Math.max(0, dose) + (dose < 0 ? 0 : 1)] ?? timesS[timesS.length - 1];
  // Before its first reading, and behind its next dose, a recording says nothing of this time.
  return second >= 0 && (second < end || (second === end && end === timesS[timesS.length - 1])) ? second : Number.NaN;
}

/**
 * A value between two readings, straight from one to the other.
 * @param {Float64Array} times s, rising @param {Float64Array} values at every so many of them @param {number} every @param {number} at s
 */
function between(times, values, every, at) {
  if (Number.isNaN(at)) return Number.NaN;
  let [low, high] = [0, values.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (times[middle * every] <= at) low = middle;
    else high = middle;
  }
  const [from, to] = [times[low * every], times[high * every]];
  if (at > to) return Number.NaN;
  return to > from ? values[low] + ((at - from) / (to - from)) * (values[high] - values[low]) : values[low];
}
