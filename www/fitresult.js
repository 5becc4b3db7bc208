// What a fit says: its numbers with their ranges, how they trade off, what is left, the straight lines, and the usual causes.

import { LinesPlot, ResidualPlot, TradePlot } from "./dataplots.js";
import { table } from "./datatable.js";
import { element } from "./element.js";

/** @typedef {import("./class-shapes.js").FitView} FitView */

/** Digits behind the mark of each fitted number. */
export const DECIMALS = /** @type {Record<string, number>} */ ({
  acidFactor: 2,
  carbonate: 5,
  energy: 1,
  strength: 1,
  lag: 1,
});
/** More points than these are seen in their picture; a table then has those that do not fit. */
const MOST_POINTS = 120;

/** The result. */
export class FitResult {
  /**
   * @param {import("./i18n.js").Words} words
   * @param {(sentence: string) => void} say speaks to those who listen
   * @param {() => void} keep keeps the numbers with the lesson
   */
  constructor(words, say, keep) {
    this.words = words;
    this.say = say;
    this.keep = keep;
    this.root = element("section", { "aria-labelledby": "data-result-heading", hidden: true });
  }

  /**
   * Tells a fit.
   * @param {FitView} view
   * @param {"measured" | "pressed" | import("./recording.js").Recording[]} of times of real beakers, pressed ones, or recordings
   */
  tell(view, of) {
    const { words } = this;
    const t = words.t.bind(words);
    const recordings = typeof of === "string" ? null : of;
    const ofTimes = recordings === null;
    const isPressed = of === "pressed";
    const heads = (/** @type {string[]} */ keys) => keys.map((key) => t(`data.${key}`));
    const range = (/** @type {string} */ low, /** @type {string} */ high) => t("data.fromTo", { low, high });
    const estimate = (/** @type {[string, number[]]} */ [key, numbers]) => {
      const [value, low, high, before] = numbers.map((number) => words.number(number, DECIMALS[key]));
      const holds = numbers[1] <= numbers[3] && numbers[3] <= numbers[2] ? "data.holds" : "data.holdsNot";
      const beside = isPressed ? t(holds) : this.literature(view, key);
      return [t(`data.unknown.${key}`), value, range(low, high), before, beside];
    };
    const point = (/** @type {number[]} */ [row, measured, computed, studentised, misfit]) => [
      String(row + 1),
      words.number(measured, 1),
      words.number(computed, 1),
      words.number(studentised, 1),
      misfit ? t("data.misfit") : "",
    ];
    const line = (/** @type {[string, number[]]} */ [finish, [dose, energy, low, high, computed, from]]) => [
      finish === "" ? t("data.allDoses") : String(dose),
      finish === "" ? "" : t(`colour.${finish}`),
      words.number(energy, 1),
      Number.isNaN(low) ? t("data.noRange") : range(words.number(low, 1), words.number(high, 1)),
      words.number(computed, 1),
      words.number(from, 1),
      words.number(computed - from, 1),
    ];
    const list = (/** @type {string} */ key, /** @type {string[]} */ sentences) =>
      sentences.length === 0
        ? []
        : [element("h4", {}, t(key)), element("ul", {}, ...sentences.map((sentence) => element("li", {}, sentence)))];
    const [scatter, freedom] = view.scatter;
    const misfits = view.points.filter((row) => row[4] === 1);
    const pointRows = view.points.length <= MOST_POINTS ? view.points : misfits;
    this.root.replaceChildren(
      element("h3", { id: "data-result-heading", tabindex: -1 }, t("data.result")),
      ...(isPressed ? [element("p", {}, t("data.pressedResult"))] : []),
      table(
        t("data.estimates"),
        heads(["number", "value", "range", "before", isPressed ? "known" : "literature"]),
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
        view.untold.map((untold) => untoldWords(words, untold)),
      ),
      ...(isPressed
        ? [element("p", {}, t("data.pressedNotKept"))]
        : [
            element(
              "p",
              { class: "buttons" },
              element("button", { type: "button", class: "primary", click: () => this.keep() }, t("data.keep")),
            ),
            element("p", { class: "quiet" }, t("data.keepHint")),
          ]),
      ...(view.pairs.length > 0 ? [element("h4", {}, t("data.trade"))] : []),
      element(
        "div",
        { class: "pictures" },
        ...view.pairs.map(([keys, numbers]) => new TradePlot(words, keys, numbers).root),
      ),
      element("h4", {}, t("data.left")),
      ...(recordings
        ? this.leftOf(view, recordings)
        : [
            element(
              "div",
              { class: "pictures" },
              new ResidualPlot(words, view.points, 3).root,
              pointRows.length > 0 &&
                table(
                  t(pointRows === misfits ? "data.pointsMisfit" : "data.pointsTimes"),
                  heads(["row", "measured", "computed", "studentised", "remark"]),
                  pointRows.map(point),
                ),
            ),
          ]),
      ...(view.lines.length > 0
        ? [
            table(
              t("data.lines"),
              heads(["column.dose", "column.finish", "lineEnergy", "range", "modelLine", "modelEnergy", "lineBias"]),
              view.lines.map(line),
            ),
            element(
              "div",
              { class: "pictures" },
              new LinesPlot(words, view.lines, view.linePoints).root,
              element("p", {}, t("data.whyLines")),
            ),
          ]
        : []),
      ...(isPressed ? [] : list("data.causes", this.causes(view))),
      ...(isPressed
        ? []
        : [element("h4", {}, t("data.real")), element("p", {}, `${t("data.realDiffers")} (${t("data.noSource")})`)]),
    );
    this.root.hidden = false;
    this.say(t("data.told", { count: view.points.length, misfits: misfits.length }));
    const heading = this.root.querySelector("h3");
    heading?.focus({ preventScroll: true });
    // All of what it says, not its first lines at the lower edge.
    heading?.scrollIntoView();
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

  /** Usual causes of the difference, or that there is none to speak of. @param {FitView} view */
  causes({ causes }) {
    const { words } = this;
    if (causes.length === 0) return [words.t("data.noCauses")];
    return causes.map(([key, source]) => `${words.t(`data.cause.${key}`)} (${source || words.t("data.noSource")})`);
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
      return `${key === "strength" ? words.t("data.ofLabel", { value }) : value} (${source})`;
    });
    return told.join("; ") || words.t("data.noLiterature");
  }
}

/** Why an unknown can't be told. @param {import("./i18n.js").Words} words @param {[string, string]} untold */
export function untoldWords(words, [unknown, reason]) {
  return words.t(`data.untold.${reason}`, { unknown: words.t(`data.unknown.${unknown}`) });
}
