// What a plan gives: doses to the end point, seconds per dose, whether the lesson fits its slot, how full the glass gets, what is needed.

import { grams, millilitres, volume } from "./amount.js";
import { beakerName } from "./beaker.js";
import { element } from "./element.js";
import { endPoint } from "./prep.js";
import { table } from "./sheet.js";

/**
 * @typedef {import("./desk-shapes.js").PlanView} PlanView
 * @typedef {import("./desk-shapes.js").Warning} Warning
 * @typedef {import("./lesson-shapes.js").BeakerSetup} BeakerSetup
 * @typedef {import("./i18n.js").Words} Words
 */

const ELLIPSIS = "\u2026";

/** The panel beside the form. */
export class Forecast {
  /** @param {Words} words */
  constructor(words) {
    this.words = words;
    this.body = element("div");
    this.root = element(
      "section",
      { class: "forecast", "aria-labelledby": "forecast-heading" },
      element("h3", { id: "forecast-heading" }, words.t("forecast.heading")),
      this.body,
    );
  }

  /** Says why nothing can be told. @param {string} sentence */
  refuse(sentence) {
    this.body.replaceChildren(element("p", { class: "warn" }, sentence));
  }

  /**
   * @param {PlanView} plan
   * @param {BeakerSetup[]} beakers the draft's
   * @param {number} minutes available; 0 where it does not matter
   */
  show(plan, beakers, minutes) {
    const warnings = plan.warnings.map((warning) => element("li", {}, this.warning(warning, beakers)));
    this.body.replaceChildren(
      warnings.length > 0 ? element("ul", { class: "warn" }, ...warnings) : "",
      element(
        "dl",
        { class: "told" },
        ...this.told("endPoint", endPoint(this.words, plan)),
        ...this.told(minutes > 0 ? "slotOf" : "slot", this.slot(plan, minutes), { minutes }),
        ...this.told("glass", this.glass(plan)),
        ...this.told("needed", this.needed(plan)),
      ),
      // Last, because it is the longest: what comes after it would not be seen without scrolling.
      this.seconds(plan, beakers),
    );
  }

  /** @param {string} key @param {Node | string} content @param {import("./i18n.js").Values} [values] of the key's words */
  told(key, content, values = {}) {
    return [element("dt", {}, this.words.t(`forecast.${key}`, values)), element("dd", {}, content)];
  }

  /** @param {Warning} warning @param {BeakerSetup[]} beakers */
  warning({ key, ...numbers }, beakers) {
    const { words } = this;
    const beaker = "beaker" in numbers ? beakerName(words, beakers, Number(numbers.beaker)) : "";
    const enough =
      "enoughMl" in numbers
        ? ` ${words.t(numbers.enoughMl ? "prep.enough" : "prep.noVessel", { vessel: volume(words, Number(numbers.enoughMl)) })}`
        : "";
    return words.t(`forecast.warn.${key}`, { ...numbers, beaker }) + enough;
  }

  /** How long it takes at each speed. @param {PlanView} plan @param {number} minutes */
  slot({ speeds, talkMin }, minutes) {
    const { words } = this;
    const key = (/** @type {boolean} */ fits) => (minutes > 0 ? (fits ? "fits" : "long") : "open");
    return element(
      "ul",
      {},
      ...speeds.map(({ speed, minutes: needed, fits }) =>
        element("li", {}, words.t(`forecast.at.${key(fits)}`, { speed, needed: Math.ceil(needed) })),
      ),
      element("li", {}, words.t("forecast.talk", { minutes: Math.ceil(talkMin) })),
    );
  }

  /** @param {PlanView} plan */
  glass({ freeboard: { vesselMl, endMl } }) {
    const { words } = this;
    return words.t("forecast.room", {
      vessel: millilitres(words, vesselMl),
      end: millilitres(words, endMl),
      percent: Math.round((100 * endMl) / vesselMl),
    });
  }

  /** @param {PlanView} plan */
  needed({ amounts: { waterMl, suspensionMl, solidG, indicatorMl, acidMl, baseMl } }) {
    const { words } = this;
    const rows = {
      water: volume(words, waterMl),
      suspension: words.t("forecast.ofSolid", { volume: volume(words, suspensionMl), mass: grams(words, solidG) }),
      indicator: volume(words, indicatorMl),
      acid: volume(words, acidMl),
      base: volume(words, baseMl),
    };
    return element(
      "ul",
      {},
      ...Object.entries(rows).map(([key, amount]) => element("li", {}, words.t(`forecast.need.${key}`, { amount }))),
    );
  }

  /** Seconds until each dose turns back, beaker by beaker. @param {PlanView} plan @param {BeakerSetup[]} beakers */
  seconds(plan, beakers) {
    const { words } = this;
    const seconds = (/** @type {number} */ beaker, /** @type {number} */ step) => {
      const dose = plan.beakers[beaker]?.[step];
      if (!dose) return ELLIPSIS;
      return dose.seconds === null ? words.t("answer.never") : words.number(dose.seconds, 0);
    };
    return table(
      words.t("forecast.secondsCaption"),
      [words.t("paper.dose"), ...beakers.map((_, index) => beakerName(words, beakers, index))],
      plan.places.flatMap(({ at, reagent, number }) =>
        reagent === "acid" && typeof at === "number"
          ? [[words.t("dose.acid", { number }), ...beakers.map((_, beaker) => seconds(beaker, at))]]
          : [],
      ),
      "figures",
    );
  }
}
