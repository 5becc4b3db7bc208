// Our data: what the class measured, beside the model; the fit, how sure it is, and what it cannot tell.

import { ResidualPlot, TradePlot } from "./dataplots.js";
import { table } from "./datatable.js";
import { element } from "./element.js";
import { Overlaid } from "./overlaid.js";
import { ProbeForm } from "./probeform.js";
import { TimesTable } from "./timestable.js";

/**
 * @typedef {import("./class-shapes.js").FitView} FitView
 * @typedef {import("./class-shapes.js").DataRefusal} DataRefusal
 */

/** Digits behind the mark of each fitted number. */
const DECIMALS = /** @type {Record<string, number>} */ ({
  acidFactor: 2,
  carbonate: 5,
  energy: 1,
  strength: 1,
  lag: 1,
});
const OF_TIMES = ["acidFactor", "carbonate", "energy", "strength"];
const OF_CURVES = ["acidFactor", "carbonate", "energy", "strength", "lag"];
const AT_FIRST = ["acidFactor", "carbonate", "energy", "lag"];

/** The place. */
export class OurData {
  /**
   * @param {import("./deskengine.js").DeskEngine} engine
   * @param {import("./i18n.js").Words} words
   * @param {() => void} used called after a fit was kept with the lesson
   * @param {(sentence: string) => void} say speaks to those who listen
   */
  constructor(engine, words, used, say) {
    this.engine = engine;
    this.words = words;
    this.used = used;
    this.say = say;
    const t = words.t.bind(words);
    this.times = new TimesTable(words, (text) => engine.pastedTimes(text), say);
    this.probe = new ProbeForm(engine, words, (refusal) => this.sentence(refusal), say);
    this.overlaid = new Overlaid(words, () => this.probe.measured);
    this.timesTrouble = element("p", { class: "error", role: "alert" });
    this.curveTrouble = element("p", { class: "error", role: "alert" });
    this.ofTimes = this.boxes("times", OF_TIMES);
    this.ofCurves = this.boxes("curves", OF_CURVES);
    this.kept = element("div");
    this.result = element("section", { "aria-labelledby": "data-result-heading", hidden: true });
    this.unsaved = false;
    const section = (/** @type {string} */ key, /** @type {Node[]} */ ...parts) =>
      element("section", {}, element("h3", {}, t(key)), ...parts);
    this.children = [
      element("h2", { id: "data-heading", tabindex: -1 }, t("data.heading")),
      element("p", {}, t("data.lead")),
      this.kept,
      section(
        "data.times",
        element("p", { class: "quiet" }, t("data.timesLead")),
        this.times.root,
        this.ofTimes.root,
        this.timesTrouble,
        this.button("data.fitTimes", () => this.fitTimes()),
      ),
      section(
        "data.probe",
        element("p", { class: "quiet" }, t("data.probeLead")),
        this.probe.root,
        this.ofCurves.root,
        this.curveTrouble,
        this.button("data.fitProbe", () => this.fitProbe()),
      ),
      this.result,
    ];
    this.children[3].addEventListener("input", () => this.touch());
    this.children[4].addEventListener("input", () => this.touch());
  }

  /** Takes over what was typed and opened before the page spoke another language. @param {OurData} before */
  goOnFrom(before) {
    const rows = before.times.rows.filter((row) => row[0] !== "" || row[3] !== "");
    if (rows.length > 0) this.times.begin(rows);
    this.times.paste.input.value = before.times.paste.typed;
    this.probe.goOnFrom(before.probe);
    this.unsaved = before.unsaved;
  }

  touch() {
    this.unsaved = this.times.filled || this.probe.filled;
  }

  /** @param {string} key @param {() => void} act */
  button(key, act) {
    return element(
      "p",
      { class: "buttons" },
      element("button", { type: "button", class: "primary", click: act }, this.words.t(key)),
    );
  }

  /** @param {string} of @param {string[]} unknowns */
  boxes(of, unknowns) {
    const boxes = unknowns.map((unknown) =>
      element("input", {
        type: "checkbox",
        id: `data-${of}-${unknown}`,
        value: unknown,
        checked: AT_FIRST.includes(unknown),
      }),
    );
    const root = element(
      "fieldset",
      { class: "groups" },
      element("legend", {}, this.words.t("data.wanted")),
      ...boxes.map((box) =>
        element("p", {}, element("label", {}, box, ` ${this.words.t(`data.unknown.${box.value}`)}`)),
      ),
    );
    return { root, wanted: () => boxes.filter((box) => box.checked).map((box) => box.value) };
  }

  /** Brings the place up to the lesson in use. */
  arrive() {
    const { words } = this;
    this.probe.arrive();
    const fitted = this.engine.lesson().fitted;
    if (!fitted) {
      this.kept.replaceChildren();
      return;
    }
    const date = String(fitted.date);
    const values = {
      date: `${date.slice(0, 4)}-${date.slice(4, 6)}-${date.slice(6)}`,
      count: fitted.measurements,
      acidFactor: words.number(fitted.acidFactor, 2),
      carbonate: words.number(fitted.carbonate, 5),
      energy: words.number(fitted.energy, 1),
    };
    this.kept.replaceChildren(
      element("p", { class: "fitted" }, words.t("data.kept", values)),
      element(
        "p",
        { class: "buttons" },
        element(
          "button",
          { type: "button", click: () => this.settle(this.engine.dropFit(), "data.dropped") },
          words.t("data.drop"),
        ),
      ),
    );
  }

  fitTimes() {
    const view = this.engine.fitTimes(this.times.rows, this.ofTimes.wanted());
    this.times.complain(view.ok ? [] : view.errors);
    this.timesTrouble.textContent = view.ok ? "" : this.sentence(view);
    if (view.ok) this.tell(view, null);
  }

  fitProbe() {
    const { probe } = this;
    const counted = probe.toFit();
    if (!counted) {
      this.curveTrouble.textContent = this.words.t("data.refused.recordings");
      return;
    }
    const placed = counted.map((recording) => recording.placed);
    const view = this.engine.fitProbes(placed, this.ofCurves.wanted());
    this.curveTrouble.textContent = view.ok ? "" : this.sentence(view);
    if (!view.ok) return;
    const lag = view.estimates.find(([key]) => key === "lag");
    probe.useFit(lag ? this.words.number(lag[1][0], 1) : null);
    this.tell(view, counted);
  }

  /** Why something was not taken, and what to do. @param {DataRefusal} refusal */
  sentence(refusal) {
    const { words } = this;
    const digits = (/** @type {number} */ value) => words.number(value, Number.isInteger(value) ? 0 : 1);
    const sentence = words.t(`data.refused.${refusal.key}`, {
      first: refusal.key === "tooLarge" ? words.number(refusal.first / 1e6, 1) : digits(refusal.first),
      second: digits(refusal.second),
    });
    return [sentence, ...refusal.untold.map((untold) => this.untold(untold))].join(" ");
  }

  /** @param {[string, string]} untold */
  untold([unknown, reason]) {
    return this.words.t(`data.untold.${reason}`, { unknown: this.words.t(`data.unknown.${unknown}`) });
  }

  /** Tells a fit. @param {FitView} view @param {import("./recording.js").Recording[] | null} recordings none where it is one of times */
  tell(view, recordings) {
    const { words } = this;
    const ofTimes = recordings === null;
    const t = words.t.bind(words);
    const [scatter, freedom] = view.scatter;
    const estimate = (/** @type {[string, number[]]} */ [key, numbers]) => {
      const [value, low, high, before] = numbers.map((number) => words.number(number, DECIMALS[key]));
      return [t(`data.unknown.${key}`), value, t("data.fromTo", { low, high }), before, this.literature(view, key)];
    };
    const point = (/** @type {number[]} */ [row, measured, computed, studentised, misfit]) => [
      String(row + 1),
      words.number(measured, 1),
      words.number(computed, 1),
      words.number(studentised, 1),
      misfit ? t("data.misfit") : "",
    ];
    const line = (/** @type {[string, number[]]} */ [finish, [dose, energy, low, high, computed]]) => [
      String(dose),
      t(`colour.${finish}`),
      words.number(energy, 1),
      Number.isNaN(low)
        ? t("data.noRange")
        : t("data.fromTo", { low: words.number(low, 1), high: words.number(high, 1) }),
      words.number(computed, 1),
    ];
    const list = (/** @type {string} */ key, /** @type {string[]} */ sentences) =>
      sentences.length === 0
        ? []
        : [element("h4", {}, t(key)), element("ul", {}, ...sentences.map((sentence) => element("li", {}, sentence)))];
    this.result.replaceChildren(
      element("h3", { id: "data-result-heading", tabindex: -1 }, t("data.result")),
      table(
        t("data.estimates"),
        ["data.number", "data.value", "data.range", "data.before", "data.literature"].map((key) => t(key)),
        view.estimates.map(estimate),
      ),
      element(
        "p",
        {},
        t(ofTimes ? "data.scatterTimes" : "data.scatterCurve", {
          scatter: ofTimes ? words.number(100 * scatter, 1) : words.number(scatter, 2),
          freedom,
        }),
      ),
      ...list(
        "data.cannot",
        view.untold.map((untold) => this.untold(untold)),
      ),
      ...(view.pairs.length > 0 ? [element("h4", {}, t("data.trade"))] : []),
      element(
        "div",
        { class: "pictures" },
        ...view.pairs.map(([keys, numbers]) => new TradePlot(words, keys, numbers).root),
      ),
      element("h4", {}, t("data.left")),
      ...(recordings ? this.leftOf(view, recordings) : [new ResidualPlot(words, view.points, 3).root]),
      ...(ofTimes
        ? [
            table(
              t("data.pointsTimes"),
              ["data.row", "data.measured", "data.computed", "data.studentised", "data.remark"].map((key) => t(key)),
              view.points.map(point),
            ),
          ]
        : []),
      ...(view.lines.length > 0
        ? [
            table(
              t("data.lines"),
              ["data.column.dose", "data.column.finish", "data.lineEnergy", "data.range", "data.modelLine"].map((key) =>
                t(key),
              ),
              view.lines.map(line),
            ),
            element("p", {}, t("data.whyLines")),
          ]
        : []),
      ...list(
        "data.causes",
        view.causes.map(([key, source]) => `${t(`data.cause.${key}`)} (${source || t("data.noSource")})`),
      ),
      element(
        "p",
        { class: "buttons" },
        element("button", { type: "button", class: "primary", click: () => this.keep() }, t("data.keep")),
      ),
      element("p", { class: "quiet" }, t("data.keepHint")),
    );
    this.result.hidden = false;
    const misfits = view.points.filter((row) => row[4] === 1).length;
    this.say(t("data.told", { count: view.points.length, misfits }));
    this.result.querySelector("h3")?.focus();
  }

  /**
   * What is left of a fit of recordings: a picture of each, how far it lies off, and the readings that do not fit.
   * @param {FitView} view @param {import("./recording.js").Recording[]} recordings
   */
  leftOf(view, recordings) {
    const { words } = this;
    const t = words.t.bind(words);
    const own = recordings.map(({ name, slot }) => ({
      name,
      points: view.points.filter((point) => point[5] === slot),
    }));
    const heads = (/** @type {string[]} */ keys) => keys.map((key) => t(key));
    const misfits = (/** @type {number[][]} */ points) => points.filter((point) => point[4] === 1);
    const flagged = own.flatMap(({ name, points }) =>
      misfits(points).map(([, measured, computed, studentised, , , second]) => [
        name,
        words.number(second, 1),
        words.number(measured, 2),
        words.number(computed, 2),
        words.number(studentised, 1),
      ]),
    );
    const rms = (/** @type {number[][]} */ points) =>
      Math.sqrt(points.reduce((sum, [, measured, computed]) => sum + (computed - measured) ** 2, 0) / points.length);
    return [
      table(
        t("data.leftCaption"),
        heads(["data.recording", "data.readings", "data.rms", "data.misfits"]),
        own.map(({ name, points }) => [
          name,
          String(points.length),
          words.number(rms(points), 2),
          String(misfits(points).length),
        ]),
      ),
      element("p", { class: "quiet" }, t("data.residualCaption")),
      element(
        "div",
        { class: "pictures" },
        ...own.map(({ name, points }) => new ResidualPlot(words, points, 3, name).root),
      ),
      flagged.length > 0 &&
        table(
          t("data.pointsCurve"),
          heads(["data.recording", "data.axis.seconds", "data.measured", "data.computed", "data.studentised"]),
          flagged,
        ),
    ].filter((part) => part !== false);
  }

  /** @param {FitView} view @param {string} key */
  literature(view, key) {
    const { words } = this;
    const values = view.literature.filter(([[unknown]]) => unknown === key);
    const told = values.map(([[, source], [low, high]]) => {
      const decimals = Number.isInteger(low) ? 0 : 2;
      const value =
        low === high
          ? words.number(low, decimals)
          : words.t("data.fromTo", { low: words.number(low, decimals), high: words.number(high, decimals) });
      return `${value} (${source})`;
    });
    return told.join("; ") || words.t("data.noLiterature");
  }

  keep() {
    const now = new Date();
    const date = now.getFullYear() * 10000 + (now.getMonth() + 1) * 100 + now.getDate();
    this.settle(this.engine.keepFit(date), "data.keptNow");
  }

  /** @param {import("./lesson-shapes.js").Outcome} reply @param {string} key */
  settle(reply, key) {
    if (reply.ok) {
      this.unsaved = false;
      this.used();
      this.arrive();
    }
    this.say(this.words.t(reply.ok ? key : `data.refused.${reply.key ?? "model"}`, { first: "", second: "" }));
  }
}
