// The class view: one button, and one key of a presenter's remote, that leads through every dose, and the time to think.
// It decides nothing: it presses what the card and the clock have to be pressed.

import { element } from "./element.js";
import { write } from "./plate.js";

/**
 * @typedef {import("./lesson-shapes.js").State} State
 * @typedef {import("./i18n.js").Words} Words
 *
 * @typedef {object} Bench what the view stands over
 * @property {() => HTMLButtonElement | null} primary the button on the card that leads on
 * @property {() => void} hold holds, or carries on
 * @property {() => void} explain goes from the watching to the explanation
 */

/** The walk of one dose, as it is shown. */
const WALK = ["ask", "watch", "see", "explain"];
/** What a presenter's remote sends. */
const FORWARD = "PageDown";
const BACK = "PageUp";

/** The view. */
export class Teach {
  /**
   * @param {Words} words
   * @param {Bench} bench
   */
  constructor(words, bench) {
    this.words = words;
    this.bench = bench;
    this.on = false;
    /** @type {State | null} */
    this.state = null;
    this.looksBack = false;
    this.asked = "";
    this.thinkingSince = 0;
    this.timer = 0;
    this.steps = WALK.map((step) => element("li", { "data-step": step }, words.t(`teach.step.${step}`)));
    this.say = element("p", { class: "large class-say" });
    this.thinking = element("span", { class: "thinking", role: "timer", "aria-live": "off" });
    this.key = element("button", {
      type: "button",
      id: "class-key",
      class: "primary",
      "aria-describedby": "class-keys",
      click: () => this.act(),
    });
    this.root = element(
      "div",
      { class: "class-bar", role: "group", "aria-label": words.t("teach.label"), hidden: true },
      element("ol", { class: "walk" }, ...this.steps),
      this.say,
      this.thinking,
      element("span", { class: "quiet", id: "class-keys" }, words.t("teach.keys")),
      this.key,
    );
  }

  /** @param {boolean} on */
  set(on) {
    this.on = on;
    this.root.hidden = !on;
    this.turned();
  }

  /** Follows the lesson. @param {State} state @param {boolean} looksBack whether an earlier time is shown */
  refresh(state, looksBack) {
    this.state = state;
    this.looksBack = looksBack;
    this.turned();
  }

  /** Follows the card, which may show another page or another question. */
  turned() {
    const { state, words } = this;
    if (!state) return;
    const { stage } = state;
    for (const step of this.steps) {
      if (step.dataset.step === stage) step.setAttribute("aria-current", "step");
      else step.removeAttribute("aria-current");
    }
    write(this.key, this.label(state));
    write(this.say, stage === "see" ? words.t("teach.say") : "");
    const form = this.bench.primary()?.form;
    this.think(stage === "ask" ? `${state.step?.index} ${form?.querySelector("legend")?.textContent}` : "");
  }

  /** What the one button does next. @param {State} state @returns {string} */
  label({ stage, held }) {
    const { words } = this;
    if (this.looksBack) return words.t("controls.backToNow");
    if (stage === "watch" || stage === "free") return words.t(held ? "controls.carryOn" : "controls.hold");
    if (stage === "see") return words.t("teach.explain");
    const onCard = this.bench.primary()?.textContent ?? "";
    return stage === "ask" && onCard === words.t("ask.last") ? words.t("teach.reveal") : onCard;
  }

  /** Counts how long a question has stood; nothing ends it. @param {string} asked */
  think(asked) {
    if (!this.on || asked === "") {
      clearInterval(this.timer);
      this.timer = 0;
      this.asked = "";
      write(this.thinking, "");
      return;
    }
    if (asked === this.asked) return;
    this.asked = asked;
    this.thinkingSince = performance.now();
    this.tellTime();
    if (this.timer === 0) this.timer = window.setInterval(() => this.tellTime(), 1000);
  }

  /** Says how long the question has stood. */
  tellTime() {
    const seconds = Math.round((performance.now() - this.thinkingSince) / 1000);
    const time = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
    write(this.thinking, this.words.t("teach.thinking", { time }));
  }

  /** Does the next thing. */
  act() {
    const stage = this.state?.stage;
    if (this.looksBack || stage === "watch" || stage === "free") this.bench.hold();
    else if (stage === "see") this.bench.explain();
    else this.bench.primary()?.click();
  }

  /**
   * The keys of a presenter's remote; they write nothing, so they act wherever the focus is.
   * @param {KeyboardEvent} event
   */
  pressed(event) {
    if (!this.on || event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.key === FORWARD) this.act();
    else if (event.key === BACK) this.back();
    else return;
    event.preventDefault();
  }

  /** Goes back to the question or the page before, where the card has one. */
  back() {
    const back = this.bench.primary()?.parentElement?.querySelector("button:not(.primary)");
    if (back?.textContent === this.words.t("ask.back")) /** @type {HTMLButtonElement} */ (back).click();
  }
}
