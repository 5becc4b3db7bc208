// The figures of the Trace: which points each chart, its table and its file hold, out of the core's readings.

import { beakerName } from "./beaker.js";
import { BANDS } from "./chip.js";

/**
 * @typedef {import("./chart.js").Figure} Figure
 * @typedef {import("./chart.js").Column} Column
 * @typedef {import("./chart.js").Line} Line
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./lesson-shapes.js").InstrumentKey} InstrumentKey
 * @typedef {import("./lesson-shapes.js").ReagentKey} ReagentKey
 * @typedef {import("./i18n.js").Words} Words
 *
 * @typedef {{from: number, to: number, zero: number}} Span lesson time, s; zero counts as second 0
 * @typedef {{at: number, number: number, reagent: ReagentKey, beakers: number[]}} Dose
 * @typedef {{dose: Dose, beaker: number, seconds: number, celsius: number}} Turn one turning back; NaN where it did not
 *
 * @typedef {object} Quantity what is drawn against time
 * @property {string} key
 * @property {string} column of the core
 * @property {string} file name in the file
 * @property {number} decimals
 * @property {InstrumentKey[]} shows the level must show all of these
 * @property {boolean} [zero]
 * @property {boolean} [log]
 */

/** @type {Quantity[]} */
const QUANTITIES = [
  { key: "ph", column: "ph", file: "pH", decimals: 2, shows: ["trace", "ph"] },
  { key: "solid", column: "solidG", file: "solid_g", decimals: 3, shows: ["trace", "solid"], zero: true },
  {
    key: "dissolved",
    column: "dissolvedMmol",
    file: "dissolved_magnesium_mmol",
    decimals: 2,
    shows: ["trace", "dissolved"],
    zero: true,
  },
  { key: "celsius", column: "temperatureC", file: "temperature_C", decimals: 2, shows: ["trace", "celsius"] },
  {
    key: "saturation",
    column: "saturationRatio",
    file: "Q_over_Ksp",
    decimals: 20,
    shows: ["trace", "saturation"],
    log: true,
  },
];
/** @type {Quantity} where the level hides the pH */
const COLOUR = { key: "colour", column: "band", file: "colour", decimals: 0, shows: [] };

/** A chart of time has about so many equal steps, s each, and looks closely after each dose, s after its pour. */
const MOST_STEPS = 160;
const STEPS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200];
const CLOSE = [0, 1, 2, 3, 4, 6, 8, 10, 12, 15, 20, 30, 40, 60, 80, 100];
/** As the core and every class have it, K. */
const CELSIUS_ZERO_K = 273.15;

/** What the charts of one moment are made from. */
export class Figures {
  /**
   * @param {Engine} engine
   * @param {Words} words
   */
  constructor(engine, words) {
    this.engine = engine;
    this.words = words;
    const { beakers } = engine.recipe();
    this.names = beakers.map((_, index) => beakerName(words, beakers, index));
    this.state = engine.state();
    const marks = engine.marks();
    this.doses = /** @type {Dose[]} */ (marks.doses);
    this.events = marks.events;
    this.dyed = engine.labels(this.state.now).map(({ dyed }) => dyed);
  }

  /** @param {InstrumentKey[]} instruments */
  shows(instruments) {
    return instruments.every((instrument) => this.engine.shows(instrument));
  }

  /** The end of the time that can be shown: now, to the tenth of a second before it. */
  get end() {
    return Math.floor(this.state.now * 10 + 1e-6) / 10;
  }

  /** Every figure of time that the level shows. @param {Span} span @returns {Figure[]} */
  ofTime(span) {
    const quantities = QUANTITIES.filter(({ shows }) => this.shows(shows));
    const times = this.times(span);
    return (quantities[0]?.key === "ph" ? quantities : [COLOUR, ...quantities]).map((quantity) =>
      this.against(quantity, times, span),
    );
  }

  /** The times of the points: equal steps, every pour, and closely after it. @param {Span} span */
  times({ from, to }) {
    const step = STEPS.find((step) => (to - from) / step <= MOST_STEPS) ?? (to - from) / MOST_STEPS;
    const tenth = (/** @type {number} */ time) => Math.round(time * 10) / 10;
    const times = [from, to];
    for (let at = Math.ceil(from / step); at * step < to; at++) times.push(at * step);
    for (const { at } of this.doses) for (const after of CLOSE) times.push(at + after);
    const inside = times.map(tenth).filter((time) => time >= from && time <= to);
    return [...new Set(inside)].sort((one, other) => one - other);
  }

  /** One quantity against time. @param {Quantity} quantity @param {number[]} times @param {Span} span @returns {Figure} */
  against({ key, column, file, decimals, zero, log }, times, span) {
    const { words } = this;
    const t = words.t.bind(words);
    const isColour = key === "colour";
    const beakers = this.names.map((_, beaker) => beaker).filter((beaker) => !isColour || this.dyed[beaker]);
    const lines = beakers.map((beaker) => ({
      name: this.names[beaker],
      dash: beaker,
      values: this.engine.columnAt(column, beaker, times),
    }));
    const at = times.map((time) => Number((time - span.zero).toFixed(1)));
    const timeDecimals = at.every(Number.isInteger) ? 0 : 1;
    const colour = (/** @type {number} */ band) => t(`colour.${BANDS[band].key}`);
    const shown = (/** @type {number} */ value) =>
      words.held(log ? words.figure(Number(value.toPrecision(3))) : words.number(value, decimals));
    const y = t(`trace.${key}.y`);
    return {
      key,
      title: t(`trace.${key}`),
      x: { title: this.timeTitle(span), seconds: true },
      y: {
        title: y,
        zero,
        log,
        names: isColour ? BANDS.map(({ key, letter }) => `${t(`colour.${key}`)} ${letter}`) : undefined,
      },
      at,
      lines,
      drawn: isColour ? "steps" : "line",
      marks: this.doses
        .filter(({ at }) => at >= span.from && at <= span.to)
        .map(({ at, number, reagent }) => ({ at: at - span.zero, text: t(`notch.${reagent}`, { number }) })),
      rule: log ? { at: 1, text: t("trace.saturated") } : null,
      slant: null,
      columns: [
        { name: "time_s", title: this.timeTitle(span), cells: at, decimals: timeDecimals },
        ...lines.map(({ name, dash, values }) => ({
          name: `${file}_beaker_${dash + 1}`,
          title: t("trace.of", { quantity: y, name }),
          cells: isColour ? values.map((band) => BANDS[band]?.key ?? "") : values,
          ...(isColour ? {} : { decimals, shown }),
        })),
      ],
      read: (point) =>
        t("trace.read", {
          when: this.when(times[point]),
          values: lines
            .map(({ name, values }) =>
              t(`trace.${key}.read`, { name, value: isColour ? colour(values[point]) : shown(values[point]) }),
            )
            .join("; "),
        }),
      note: words.has(`trace.${key}.note`) ? t(`trace.${key}.note`) : "",
    };
  }

  /** @param {Span} span */
  timeTitle({ zero }) {
    const dose = this.doses.find(({ at }) => at === zero);
    return dose ? this.words.t("trace.timeAfter", { dose: this.doseName(dose) }) : this.words.t("trace.time");
  }

  /** A time in words. @param {number} time s */
  when(time) {
    const dose = this.doses.findLast(({ at }) => at <= time);
    const seconds = this.words.number(time - (dose?.at ?? 0), Number.isInteger(time - (dose?.at ?? 0)) ? 0 : 1);
    return dose
      ? this.words.t("trace.when", { seconds, dose: this.doseName(dose) })
      : this.words.t("trace.whenBefore", { seconds });
  }

  /** @param {Dose} dose */
  doseName({ reagent, number }) {
    return this.words.t(`dose.${reagent}`, { number });
  }

  /**
   * Every turning back that may be told: of a dose of the guided lesson as soon as it is explained, so that nobody's own
   * timing is spoilt.
   * @returns {Turn[]}
   */
  turns() {
    const { mode, stage } = this.state;
    const open = mode === "guided" && (stage === "watch" || stage === "see") ? this.doses.at(-1) : null;
    return this.doses
      .filter((dose) => dose.reagent === "acid" && dose !== open)
      .flatMap((dose) =>
        dose.beakers.map((beaker) => {
          const until = this.doses.find(({ at, beakers }) => at > dose.at && beakers.includes(beaker))?.at ?? Infinity;
          const event = this.events.find(
            ({ key, beaker: other, at = 0 }) => key === "turnedBack" && other === beaker && at >= dose.at && at < until,
          );
          const seconds = event?.seconds ?? Number.NaN;
          const celsius = this.engine.columnAt("temperatureC", beaker, [dose.at + (seconds || 0) / 2])[0];
          return { dose, beaker, seconds, celsius };
        }),
      );
  }

  /** Seconds to turn back, dose by dose. @returns {Figure} */
  seconds() {
    const { words } = this;
    const t = words.t.bind(words);
    const turns = this.turns();
    const at = [...new Set(turns.map(({ dose }) => dose.number))];
    const lines = this.names.map((name, beaker) => ({
      name,
      dash: beaker,
      values: at.map(
        (number) => turns.find((turn) => turn.beaker === beaker && turn.dose.number === number)?.seconds ?? Number.NaN,
      ),
    }));
    const shown = (/** @type {number} */ value) => (Number.isNaN(value) ? t("trace.notBack") : words.number(value, 1));
    return {
      key: "seconds",
      title: t("trace.seconds"),
      x: { title: t("trace.seconds.x"), whole: true },
      y: { title: t("trace.seconds.y"), zero: true },
      at,
      lines,
      drawn: "points",
      marks: [],
      rule: null,
      slant: null,
      columns: [
        { name: "acid_dose", title: t("trace.seconds.x"), cells: at, decimals: 0 },
        ...lines.map(({ name, dash, values }) => ({
          name: `seconds_beaker_${dash + 1}`,
          title: t("trace.of", { quantity: t("trace.seconds.y"), name }),
          cells: values,
          decimals: 1,
          shown,
        })),
      ],
      read: (point) =>
        t("trace.read", {
          when: t("dose.acid", { number: at[point] }),
          values: lines
            .map(({ name, values }) =>
              Number.isNaN(values[point])
                ? t("trace.seconds.readNot", { name })
                : t("trace.seconds.read", { name, value: shown(values[point]) }),
            )
            .join("; "),
        }),
      note: t("trace.seconds.note"),
    };
  }

  /** The rates of one dose against temperature, with their line. @param {number} number of the dose of acid @returns {Figure} */
  rate(number) {
    const { words } = this;
    const t = words.t.bind(words);
    const turns = this.turns()
      .filter(({ dose, seconds }) => dose.number === number && !Number.isNaN(seconds))
      .sort((one, other) => other.celsius - one.celsius);
    const at = turns.map(({ celsius }) => 1000 / (celsius + CELSIUS_ZERO_K));
    const rates = turns.map(({ seconds }) => -Math.log(seconds));
    const line = this.engine.arrhenius(turns.flatMap(({ celsius, seconds }) => [celsius, seconds]));
    const ends = /** @type {[number, number]} */ ([at[0], at[at.length - 1]]);
    const on = (/** @type {number} */ x) => (line ? line.intercept + (line.slope * x) / 1000 : Number.NaN);
    const plain = (/** @type {number} */ value, /** @type {number} */ decimals) => words.number(value, decimals);
    return {
      key: "rate",
      title: t("trace.rate", { number }),
      x: { title: t("trace.rate.x") },
      y: { title: t("trace.rate.y") },
      at,
      lines: turns.map(({ beaker }, own) => ({
        name: this.names[beaker],
        dash: beaker,
        values: rates.map((rate, other) => (other === own ? rate : Number.NaN)),
      })),
      drawn: "points",
      marks: [],
      rule: null,
      slant: line ? { at: ends, values: [on(ends[0]), on(ends[1])], text: "" } : null,
      columns: [
        { name: "beaker", title: t("trace.beaker"), cells: turns.map(({ beaker }) => this.names[beaker]) },
        { name: "temperature_C", title: t("trace.celsius.y"), cells: turns.map(({ celsius }) => celsius), decimals: 2 },
        { name: "time_s", title: t("trace.seconds.y"), cells: turns.map(({ seconds }) => seconds), decimals: 1 },
        { name: "1000_K_over_T", title: t("trace.rate.x"), cells: at, decimals: 4 },
        { name: "ln_rate", title: t("trace.rate.y"), cells: rates, decimals: 3 },
      ],
      read: (point) =>
        t("trace.rate.read", {
          name: this.names[turns[point].beaker],
          celsius: plain(turns[point].celsius, 1),
          seconds: plain(turns[point].seconds, 1),
          x: plain(at[point], 3),
          y: plain(rates[point], 2),
        }),
      note: !line
        ? t("trace.rate.none")
        : t(line.low === null ? "trace.rate.two" : "trace.rate.line", {
            slope: plain(line.slope, 0),
            energy: plain(line.energy, 1),
            low: plain(line.low ?? 0, 1),
            high: plain(line.high ?? 0, 1),
          }),
    };
  }
}
