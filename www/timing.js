// A student's own times: "It is back", against the finish that is written beside the button.

import { beakerName } from "./beaker.js";
import { element } from "./element.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./lesson-shapes.js").BandKey} BandKey
 * @typedef {import("./i18n.js").Words} Words
 */

/** The buttons of the dose under way, and its times. */
export class Timing {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {(sentence: string) => void} say speaks to those who listen
   */
  constructor(engine, words, say) {
    this.engine = engine;
    this.words = words;
    this.say = say;
    /** @type {BandKey} */
    this.finish = "green";
    this.rule = element("p", { class: "quiet" });
    this.choice = element("select", {
      id: "finish",
      change: () => {
        this.finish = /** @type {BandKey} */ (this.choice.value);
        this.refresh();
      },
    });
    this.buttons = element("p", { class: "buttons timing-buttons" });
    this.list = element("ul", { class: "timing-list" });
    this.root = element(
      "section",
      { class: "timing", "aria-labelledby": "timing-heading" },
      element("h3", { id: "timing-heading" }, words.t("timing.heading")),
      element("p", { class: "field" }, element("label", { for: "finish" }, words.t("timing.finish")), this.choice),
      this.buttons,
      this.rule,
      this.list,
    );
    /** What is shown; it is built anew only when that changes, so that the keyboard stays where it is. */
    this.shown = "";
  }

  /** Takes over the finish that was chosen before the page spoke another language. @param {Timing} before */
  goOnFrom(before) {
    this.finish = before.finish;
    this.refresh();
  }

  /** Takes the time of a beaker. @param {number} beaker */
  mark(beaker) {
    if (!this.engine.timing(this.finish)?.open || beaker >= this.engine.recipe().beakers.length) return;
    const outcome = this.engine.mark(beaker, this.finish);
    if (outcome.ok) this.say(this.sentences().at(-1) ?? "");
    else {
      const why = this.engine.timing(this.finish)?.leapt[beaker] ? "timing.leapt" : "timing.twice";
      this.say(this.words.t(why, { beaker: this.name(beaker) }));
    }
    this.refresh();
  }

  /** @param {number} mark */
  takeBack(mark) {
    this.engine.takeBack(mark);
    this.say(this.words.t("timing.tookBack"));
    this.refresh();
    /** @type {HTMLElement | null} */ (this.buttons.querySelector("button"))?.focus();
  }

  /** @param {number} beaker */
  name(beaker) {
    return beakerName(this.words, this.engine.recipe().beakers, beaker);
  }

  /** Each time of this dose in words. */
  sentences() {
    const timing = this.engine.timing(this.finish);
    return (timing?.times ?? []).map((time) => {
      const own = timeWords(this.words, this.name(time.beaker), time);
      const computed = timing?.computed[time.beaker] ?? null;
      if (time.takenBack) return own;
      return `${own} ${computed === null ? this.words.t("timing.notYet") : this.words.t("timing.computed", { seconds: this.words.number(computed, 1) })}`;
    });
  }

  /** Shows the dose under way, or nothing where no time is taken. */
  refresh() {
    const { words } = this;
    const timing = this.engine.timing(this.finish);
    this.root.hidden = timing === null;
    const sentences = this.sentences();
    const shown = JSON.stringify([timing?.open, this.finish, sentences, timing?.undo, timing?.leapt]);
    if (!timing || shown === this.shown) return;
    this.shown = shown;
    this.choice.replaceChildren(
      ...timing.finishes.map((finish) => element("option", { value: finish }, words.t(`colour.${finish}`))),
    );
    this.choice.value = this.finish;
    this.rule.textContent = words.t("timing.rule", { colour: words.t(`colour.${this.finish}`) });
    const stands = (/** @type {number} */ beaker) =>
      timing.times.some((time) => time.beaker === beaker && !time.takenBack);
    const buttons = this.engine.recipe().beakers.map((_, beaker) =>
      element(
        "button",
        {
          type: "button",
          "data-beaker": beaker,
          "aria-disabled": timing.open && !stands(beaker) && !timing.leapt[beaker] ? undefined : "true",
          click: () => this.mark(beaker),
        },
        words.t("timing.back", { beaker: this.name(beaker) }),
      ),
    );
    const hadFocus = /** @type {HTMLElement | null} */ (this.buttons.querySelector("button:focus"))?.dataset.beaker;
    this.buttons.replaceChildren(...buttons);
    if (hadFocus !== undefined) buttons[Number(hadFocus)]?.focus();
    this.list.replaceChildren(
      ...timing.times.map((time, index) =>
        element(
          "li",
          { class: time.takenBack ? "taken-back" : "" },
          `${sentences[index]} `,
          timing.undo &&
            !time.takenBack &&
            element(
              "button",
              {
                type: "button",
                "aria-label": words.t("timing.takeBackOf", { beaker: this.name(time.beaker) }),
                click: () => this.takeBack(time.mark),
              },
              words.t("timing.takeBack"),
            ),
        ),
      ),
    );
  }
}

/**
 * A time in words, marked where it was taken back.
 * @param {Words} words
 * @param {string} beaker its name
 * @param {import("./class-shapes.js").Time} time
 * @returns {string}
 */
export function timeWords(words, beaker, { celsius, finish, seconds, takenBack }) {
  return words.t(takenBack ? "timing.wasTakenBack" : "timing.own", {
    beaker,
    celsius: words.number(celsius, 1),
    colour: words.t(`colour.${finish}`),
    seconds: words.number(seconds, 1),
  });
}
