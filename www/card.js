// The Ask card: what it says and asks at each stage of the lesson. One question after another, never longer than the screen.

import { asked, cardOf } from "./asking.js";
import { brief } from "./brief.js";
import { end, explain } from "./debrief.js";
import { element } from "./element.js";
import { gloss } from "./glossary.js";
import { spread } from "./pages.js";
import { answerWords, Prediction } from "./prediction.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./lesson-shapes.js").State} State
 * @typedef {import("./lesson-shapes.js").Answers} Answers
 * @typedef {import("./lesson-shapes.js").QuestionKey} QuestionKey
 * @typedef {import("./i18n.js").Words} Words
 *
 * @typedef {object} Turns what the card asks the page to do
 * @property {() => void} changed the stage of the lesson has changed
 * @property {() => void} locked the guess was accepted and the dose is poured
 * @property {() => void} turned another page of the card, or another question on it, is shown
 * @property {(mode: "guided" | "free") => void} begin
 * @property {(level: number) => void} level begins the same lesson at another level
 * @property {import("./timing.js").Timing} timing the student's own times
 * @property {(draft: import("./keep.js").Draft | null) => void} drafted what stands on the card has changed
 * @property {() => import("./keep.js").Draft | null} draft what stood on it when it was kept
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
    /** @type {import("./questions.js").Questions | null} the questions that stand on the card */
    this.asking = null;
    /** @type {Answers} what was locked last, for the words while it runs */
    this.locked = {};
    /** @type {Map<string, import("./question.js").Hands>} the hands that were counted, by place and question */
    this.hands = new Map();
  }

  /**
   * Shows the card of the present stage; a card that is there already keeps what was typed on it.
   * @param {State} state
   */
  refresh(state) {
    const wanted = cardOf(state);
    if (wanted === this.shown) return;
    // Someone whose keyboard stood on the old card must not fall off the page.
    const hadFocus = this.root.contains(document.activeElement);
    this.shown = wanted;
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
    // Not for the first page: to move what stands still would lay the whole page out before it is complete.
    if (this.body.hasChildNodes()) this.body.scrollTop = 0;
    this.body.replaceChildren(...body);
    gloss(this.words, this.engine, this.body);
    this.foot.replaceChildren(...foot);
    if (this.asking && !this.asking.form.isConnected) this.asking = null;
    // A page that is only read has nothing that could take the keyboard into its scrolling part.
    if (this.body.querySelector("input, textarea, button, select")) this.body.removeAttribute("tabindex");
    else this.body.tabIndex = 0;
    this.turns.turned();
  }

  /** @param {State} state @returns {{body: HTMLElement[], foot?: HTMLElement[]}} */
  content(state) {
    switch (state.stage) {
      case "brief":
        return brief(this, state);
      case "ask":
        return this.ask(state);
      case "watch":
        return this.watch(state);
      case "see":
        return this.see(state);
      case "explain":
        return explain(this, state);
      case "end":
        return end(this, state);
      case "free":
        this.heading.textContent = this.words.t("free.heading");
        return this.freeBench();
    }
  }

  /** After a lesson that was kept: what was locked, and the hands that were counted. @param {Map<string, import("./question.js").Hands>} hands */
  resume(hands) {
    this.hands = hands;
    this.locked = Object.fromEntries(this.engine.slip().doses.at(-1)?.guess ?? []);
    this.shown = "";
  }

  /** Takes over what was locked, counted and answered before the page spoke another language. @param {Card} before */
  goOnFrom(before) {
    this.locked = before.locked;
    this.hands = before.hands;
    // The brief asks its questions only when the lesson is begun.
    if (before.asking && !this.asking) this.foot.querySelector("button")?.click();
    if (before.asking) this.asking?.goOnFrom(before.asking);
  }

  /** @param {State} state @returns {{body: HTMLElement[], foot: HTMLElement[]}} */
  ask(state) {
    const { step, about } = this.about(state);
    this.heading.textContent = this.t(`dose.${step.reagent}`, { number: step.number });
    /** @param {Record<string, string>} answers @returns {import("./questions.js").AnswerError[]} */
    const lock = (answers) => {
      const guess = /** @type {Answers} */ (Object.fromEntries(step.questions.map((key) => [key, answers[key]])));
      const outcome = this.engine.lock(guess);
      if (!outcome.ok) return outcome.errors ?? [{ question: step.questions[0], key: outcome.key ?? "notNow" }];
      this.locked = guess;
      this.turns.locked();
      return [];
    };
    if (step.questions.length + state.asks.length === 0)
      return {
        body: [element("p", {}, this.t("ask.nothing"))],
        foot: [this.button("ask.pour", () => lock({}), "primary")],
      };
    const predictions = step.questions.map((key) => new Prediction(this.words, key, about, "ask"));
    const run = asked(this, state, predictions, "ask.last", lock);
    return { body: [run.form, element("p", { class: "quiet once" }, this.t("ask.once"))], foot: [run.next, run.back] };
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
        this.turns.timing.root,
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
    /** @param {Answers} answers @returns {import("./questions.js").AnswerError[]} */
    const told = (answers) => {
      const outcome = this.engine.see(answers);
      if (!outcome.ok) return outcome.errors ?? [{ question: keys[0], key: outcome.key ?? "notNow" }];
      this.turns.changed();
      return [];
    };
    const lead = element("p", {}, this.t("see.lead"));
    if (keys.length === 0) return { body: [lead], foot: [this.button("see.last", () => told({}), "primary")] };
    const predictions = keys.map((key) => new Prediction(this.words, key, about, "see"));
    const run = asked(this, { ...state, asks: [] }, predictions, "see.last", told);
    return { body: [lead, run.form], foot: [run.next, run.back] };
  }

  /** Goes on from the watching without a word written down: a class has said it aloud. */
  saidAloud() {
    this.move(this.engine.see({}));
  }

  /** @param {import("./pages.js").Part[]} parts @param {HTMLElement} onward the button of the last page */
  spread(parts, onward) {
    return spread(parts, onward, {
      holds: (body) => {
        this.body.replaceChildren(...body);
        // Every page but the first has the way back below it, and in the class view that alone.
        this.foot.replaceChildren(
          onward,
          this.button("ask.back", () => {}),
        );
        return this.body.scrollHeight <= this.body.clientHeight;
      },
      button: (key, act, kind) => this.button(key, act, kind),
      turn: (page) => this.turn(page),
    });
  }

  /** Turns to another page of the card. @param {{body: HTMLElement[], foot: HTMLElement[]}} page */
  turn(page) {
    this.put(page);
    this.heading.focus();
    this.turns.turned();
  }

  /** What the questions of the present dose are about. @param {State} state */
  about(state) {
    const step = /** @type {import("./lesson-shapes.js").Step} */ (state.step);
    return {
      step,
      about: { beakers: this.engine.recipe().beakers, subject: step.subjectBeaker, reagent: step.reagent },
    };
  }

  /** @param {import("./lesson-shapes.js").Outcome | import("./lesson-shapes.js").LockOutcome} outcome */
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
