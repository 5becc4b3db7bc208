// The Ask card: what it says and asks at each stage of the lesson. One question after another, never longer than the screen.

import { element } from "./element.js";
import { outcome, reasons } from "./explanation.js";
import { answerWords } from "./question.js";
import { Questions } from "./questions.js";
import { summary } from "./summary.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./engine.js").State} State
 * @typedef {import("./engine.js").Answers} Answers
 * @typedef {import("./engine.js").QuestionKey} QuestionKey
 * @typedef {import("./i18n.js").Words} Words
 *
 * @typedef {object} Turns what the card asks the page to do
 * @property {() => void} changed the stage of the lesson has changed
 * @property {() => void} locked the guess was accepted and the dose is poured
 * @property {(mode: "guided" | "free") => void} begin
 * @property {(place: string) => HTMLElement} linkField makes the field with the link of this lesson
 */

/** What is asked after the watching, of what was asked before it. */
const SEEN = /** @type {QuestionKey[]} */ (["atRest", "clarity", "first"]);

/** The card. */
export class Card {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {Turns} turns
   * @param {() => {body: HTMLElement[], foot: HTMLElement[]}} freeBench makes the controls of the free bench
   */
  constructor(engine, words, turns, freeBench) {
    this.engine = engine;
    this.words = words;
    this.turns = turns;
    this.freeBench = freeBench;
    this.heading = element("h2", { id: "card-heading", tabindex: -1 });
    this.body = element("div", { class: "card-body" });
    this.foot = element("div", { class: "card-foot" });
    this.root = element(
      "section",
      { id: "card", class: "card", "aria-labelledby": "card-heading" },
      this.heading,
      this.body,
      this.foot,
    );
    this.shown = "";
    /** @type {Answers} what was locked last, for the words while it runs */
    this.locked = {};
  }

  /**
   * Shows the card of the present stage; a card that is there already keeps what was typed on it.
   * @param {State} state
   */
  refresh(state) {
    const asked = `${state.mode} ${state.stage} ${state.step?.index ?? ""}`;
    if (asked === this.shown) return;
    // Someone whose keyboard stood on the old card must not fall off the page.
    const hadFocus = this.root.contains(document.activeElement);
    this.shown = asked;
    this.root.dataset.stage = state.stage;
    this.foot.replaceChildren();
    this.put(this.content(state));
    if (hadFocus) this.heading.focus();
  }

  /**
   * Puts a page on the card: what is read and answered above, what leads on below.
   * @param {{body: HTMLElement[], foot?: HTMLElement[]}} page
   */
  put({ body, foot = [] }) {
    this.body.replaceChildren(...body);
    this.foot.replaceChildren(...foot);
    this.body.scrollTop = 0;
    // A page that is only read has nothing that could take the keyboard into its scrolling part.
    if (this.body.querySelector("input, textarea, button, select")) this.body.removeAttribute("tabindex");
    else this.body.tabIndex = 0;
  }

  /** @param {State} state @returns {{body: HTMLElement[], foot?: HTMLElement[]}} */
  content(state) {
    switch (state.stage) {
      case "brief":
        return this.brief();
      case "ask":
        return this.ask(state);
      case "watch":
        return this.watch(state);
      case "see":
        return this.see(state);
      case "explain":
        return this.explain(state);
      case "end":
        return this.end();
      case "free":
        this.heading.textContent = this.words.t("free.heading");
        return this.freeBench();
    }
  }

  /** @returns {{body: HTMLElement[], foot: HTMLElement[]}} */
  brief() {
    const { t } = this;
    this.heading.textContent = t("brief.heading");
    const { fields, beakers } = this.engine.recipe();
    const amounts = Object.fromEntries(
      fields.map(({ key, value, decimals }) => [key, this.words.number(value, decimals)]),
    );
    const doses = fields
      .filter(({ key }) => key === "acidDoses" || key === "baseDoses")
      .reduce((sum, { value }) => sum + value, 0);
    return {
      body: [
        element("p", {}, t("brief.beakers", { ...amounts, count: beakers.length })),
        element("p", {}, t("brief.look")),
        element("p", {}, t("brief.job", { count: doses })),
        element("p", { class: "caution" }, t("before.caution")),
      ],
      foot: [
        this.button("brief.start", () => this.move(this.engine.goOn()), "primary"),
        this.button("brief.free", () => this.turns.begin("free")),
      ],
    };
  }

  /** @param {State} state @returns {{body: HTMLElement[], foot: HTMLElement[]}} */
  ask(state) {
    const { step, about } = this.about(state);
    this.heading.textContent = this.t(`dose.${step.reagent}`, { number: step.number });
    const run = new Questions(this.words, step.questions, about, "ask", (answers) => {
      const outcome = this.engine.lock(answers);
      if (!outcome.ok) return outcome.errors ?? [{ question: step.questions[0], key: outcome.key ?? "notNow" }];
      this.locked = answers;
      this.turns.locked();
      return [];
    });
    return { body: [run.form, element("p", { class: "quiet" }, this.t("ask.once"))], foot: [run.next, run.back] };
  }

  /** @param {State} state @returns {{body: HTMLElement[], foot?: HTMLElement[]}} */
  watch(state) {
    const { t } = this;
    this.heading.textContent = t("watch.heading");
    return {
      body: [
        element("p", {}, t(`watch.${state.step?.reagent ?? "acid"}`)),
        element("h3", {}, t("watch.guess")),
        this.guesses(state),
        element("p", { class: "quiet" }, t("watch.hold")),
      ],
    };
  }

  /** What was locked, to be read and no longer changed. @param {State} state @returns {HTMLElement} */
  guesses(state) {
    const { beakers } = this.engine.recipe();
    const keys = /** @type {QuestionKey[]} */ (state.step?.questions ?? []).filter(
      (key) => this.locked[key] !== undefined && this.locked[key] !== "",
    );
    return element(
      "dl",
      { class: "answers" },
      ...keys.flatMap((key) => [
        element("dt", {}, this.t(`name.${key}`)),
        element("dd", {}, answerWords(this.words, beakers, key, this.locked[key] ?? "")),
      ]),
    );
  }

  /** @param {State} state @returns {{body: HTMLElement[], foot: HTMLElement[]}} */
  see(state) {
    const { step, about } = this.about(state);
    this.heading.textContent = this.t("see.heading");
    const keys = SEEN.filter((key) => step.questions.includes(key));
    const run = new Questions(this.words, keys, about, "see", (answers) => {
      const outcome = this.engine.see(answers);
      if (!outcome.ok) return outcome.errors ?? [{ question: keys[0], key: outcome.key ?? "notNow" }];
      this.turns.changed();
      return [];
    });
    return { body: [element("p", {}, this.t("see.lead")), run.form], foot: [run.next, run.back] };
  }

  /** @param {State} state @returns {{body: HTMLElement[], foot: HTMLElement[]}} */
  explain(state) {
    const { t } = this;
    const { step } = this.about(state);
    const isLast = step.index === step.count - 1;
    const onward = this.button(isLast ? "explain.end" : "explain.next", () => this.move(this.engine.goOn()), "primary");
    const what = outcome(this.words, this.engine, state);
    const why = reasons(this.words, this.engine);
    this.heading.textContent = t("explain.heading");
    const first = () => ({ body: what, foot: [this.button("explain.why", () => this.turn(second()), "primary")] });
    const second = () => ({ body: why, foot: [onward, this.button("ask.back", () => this.turn(first()))] });
    // Often one page holds both; where it would have to be scrolled, what happened comes first and why on the next.
    this.put({ body: [...what, ...why], foot: [onward] });
    return this.body.scrollHeight > this.body.clientHeight ? first() : { body: [...what, ...why], foot: [onward] };
  }

  /** Turns to another page of the card. @param {{body: HTMLElement[], foot: HTMLElement[]}} page */
  turn(page) {
    this.put(page);
    this.heading.focus();
  }

  /** @returns {{body: HTMLElement[], foot: HTMLElement[]}} */
  end() {
    this.heading.textContent = this.t("end.heading");
    return {
      body: summary(this.words, this.engine, this.turns.linkField("end")),
      foot: [
        this.button("end.free", () => this.turns.begin("free"), "primary"),
        this.button("end.again", () => this.turns.begin("guided")),
      ],
    };
  }

  /** What the questions of the present dose are about. @param {State} state */
  about(state) {
    const step = /** @type {import("./engine.js").Step} */ (state.step);
    return {
      step,
      about: { beakers: this.engine.recipe().beakers, subject: step.subjectBeaker, reagent: step.reagent },
    };
  }

  /** @param {import("./engine.js").Outcome | import("./engine.js").LockOutcome} outcome */
  move(outcome) {
    if (outcome.ok) this.turns.changed();
  }

  /** @param {string} key @param {() => void} act @param {string} [kind] @returns {HTMLButtonElement} */
  button(key, act, kind = "") {
    return element("button", { type: "button", class: kind, click: act }, this.t(key));
  }

  /** The sentence of a key. */
  get t() {
    return this.words.t.bind(this.words);
  }
}
