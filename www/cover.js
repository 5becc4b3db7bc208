// The sheet of card that stands before the beakers from the moment a dose is announced until the guess is locked.

import { element } from "./element.js";
import { write } from "./plate.js";

/** @typedef {import("./i18n.js").Words} Words */

/** How long the card takes to lift; style.css moves it for as long. */
const LIFT_MS = 700;

/** The card. */
export class Cover {
  /** @param {Words} words */
  constructor(words) {
    this.words = words;
    this.title = element("span", { class: "large" });
    this.line = element("span");
    this.hint = element("span", { class: "quiet" });
    this.root = element(
      "div",
      { class: "cover up" },
      element("div", { class: "cover-sheet" }, this.title, this.line, this.hint),
    );
    this.liftedAt = -Infinity;
  }

  /**
   * Stands the card before the beakers and says which dose is coming.
   * @param {import("./lesson-shapes.js").Step} step
   * @param {number} beakers
   */
  announce(step, beakers) {
    const { t, number } = { t: this.words.t.bind(this.words), number: this.words.number.bind(this.words) };
    const amounts = {
      volume: number(step.volumeMl, 1),
      strength: number(step.molL, 1),
      reagent: t(`reagent.${step.reagent}`),
      count: beakers,
    };
    write(this.title, t(`dose.${step.reagent}`, { number: step.number }));
    write(this.line, t("cover.amount", amounts));
    write(this.hint, t("cover.hint"));
    this.root.classList.remove("up");
  }

  /** @param {boolean} reducedMotion lifts at once when set */
  lift(reducedMotion) {
    if (this.root.classList.contains("up")) return;
    this.root.classList.add("up");
    this.liftedAt = performance.now() + (reducedMotion ? 0 : LIFT_MS);
  }

  /** Whether the beakers stand free: the pour waits for it, so that nobody misses its first second. */
  get isUp() {
    return this.root.classList.contains("up") && performance.now() >= this.liftedAt;
  }
}
