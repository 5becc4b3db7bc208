// The bar below the bench: hold and carry on, the next event, the speed, the reach of the ribbons, the big view.

import { element } from "./element.js";
import { longest, Plate, write } from "./plate.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./lesson-shapes.js").State} State
 * @typedef {import("./lesson-shapes.js").Speed} Speed
 * @typedef {import("./i18n.js").Words} Words
 *
 * @typedef {object} Wishes
 * @property {() => void} hold hold, or carry on
 * @property {() => void} next
 * @property {(speed: Speed) => void} speed
 * @property {(reach: "dose" | "lesson") => void} reach
 * @property {(big: boolean) => void} big
 */

/** @type {Speed[]} */
export const SPEEDS = [1, 4, 16];

/** The bar. */
export class Controls {
  /**
   * @param {Words} words
   * @param {Wishes} wishes
   */
  constructor(words, wishes) {
    const t = words.t.bind(words);
    this.words = words;
    this.hold = element("button", { type: "button", id: "hold", click: wishes.hold });
    this.next = element("button", { type: "button", id: "next", click: wishes.next }, t("controls.next"));
    this.clock = element("span");
    this.time = new Plate("output", { class: "time", "aria-live": "off" }, this.clock);
    this.time.hold(longest(["acid", "base"].map((dosed) => t(`when.${dosed}`, { seconds: "0000", number: "00" }))));
    this.told = "";
    /** @type {HTMLInputElement[]} */
    this.speeds = SPEEDS.map((speed) =>
      element("input", { type: "radio", name: "speed", value: speed, change: () => wishes.speed(speed) }),
    );
    /** @type {HTMLInputElement[]} */
    this.reaches = ["dose", "lesson"].map((reach) =>
      element("input", {
        type: "radio",
        name: "reach",
        value: reach,
        checked: reach === "dose",
        change: () => wishes.reach(/** @type {"dose" | "lesson"} */ (reach)),
      }),
    );
    this.big = element(
      "button",
      {
        type: "button",
        id: "big",
        "aria-pressed": "false",
        click: () => {
          const big = this.big.getAttribute("aria-pressed") !== "true";
          this.big.setAttribute("aria-pressed", String(big));
          wishes.big(big);
        },
      },
      t("controls.big"),
    );
    this.root = element(
      "div",
      { class: "controls", role: "group", "aria-label": t("controls.label") },
      this.hold,
      this.next,
      this.time.root,
      element(
        "fieldset",
        { class: "segments" },
        element("legend", {}, t("controls.speed")),
        ...this.speeds.map((input) =>
          element("label", {}, input, element("span", {}, t("controls.times", { speed: input.value }))),
        ),
      ),
      element(
        "fieldset",
        { class: "segments" },
        element("legend", {}, t("controls.ribbon")),
        ...this.reaches.map((input) =>
          element("label", {}, input, element("span", {}, t(`controls.reach.${input.value}`))),
        ),
      ),
      this.big,
    );
  }

  /**
   * Follows the lesson.
   * @param {State} state
   * @param {boolean} looksBack whether an earlier time is shown
   */
  refresh(state, looksBack) {
    const runs = state.stage === "watch" || state.stage === "free";
    write(
      this.hold,
      this.words.t(looksBack ? "controls.backToNow" : state.held && runs ? "controls.carryOn" : "controls.hold"),
    );
    // aria-disabled keeps the button where the keyboard is; a disabled one would throw the focus away at rest.
    setDisabled(this.hold, !runs && !looksBack);
    setDisabled(this.next, !runs);
    for (const input of this.speeds) input.checked = Number(input.value) === state.speed;
  }

  /** @param {string} when */
  tell(when) {
    if (when === this.told) return;
    this.told = when;
    write(this.clock, when);
  }
}

/** @param {HTMLElement} control @param {boolean} disabled */
function setDisabled(control, disabled) {
  if (disabled) control.setAttribute("aria-disabled", "true");
  else control.removeAttribute("aria-disabled");
}
