// The Ask card: what it says and asks at each stage of the lesson. One question after another, never longer than the screen.

import { element } from "./element.js";
import { explanation } from "./explanation.js";
import { answerWords, Question } from "./question.js";
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
 * @property {() => string} linkText the whole link of this lesson
 */

/** What is asked after the watching, of what was asked before it. */
const SEEN = /** @type {QuestionKey[]} */ (["atRest", "clarity", "first"]);

/** The card. */
export class Card {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {Turns} turns
   * @param {() => HTMLElement[]} freeBench makes the controls of the free bench
   */
  constructor(engine, words, turns, freeBench) {
    this.engine = engine;
    this.words = words;
    this.turns = turns;
    this.freeBench = freeBench;
    this.heading = element("h2", { id: "card-heading", tabindex: -1 });
    this.body = element("div", { class: "card-body" });
    this.root = element("section", { id: "card", class: "card", "aria-labelledby": "card-heading" }, this.heading, this.body);
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
    this.body.replaceChildren(...this.content(state));
    this.body.scrollTop = 0;
    if (hadFocus) this.heading.focus();
  }

  /** @param {State} state @returns {HTMLElement[]} */
  content(state) {
    switch (state.stage) {
      case "brief":
        return this.brief(state);
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

  /** @param {State} state @returns {HTMLElement[]} */
  brief(state) {
    const { t } = this;
    this.heading.textContent = t("brief.heading");
    const amounts = Object.fromEntries(this.engine.recipe().fields.map(({ key, value, decimals }) => [key, this.words.number(value, decimals)]));
    return [
      element("p", {}, t("brief.beakers", { ...amounts, count: this.engine.recipe().beakers.length })),
      element("p", {}, t("brief.look")),
      element("p", {}, t("brief.job", { count: state.step?.count ?? 0 })),
      element("p", { class: "caution" }, t("before.caution")),
      element(
        "p",
        { class: "buttons" },
        this.button("brief.start", () => this.move(this.engine.goOn()), "primary"),
        this.button("brief.free", () => this.turns.begin("free")),
      ),
    ];
  }

  /** @param {State} state @returns {HTMLElement[]} */
  ask(state) {
    const { t, words } = this;
    const step = /** @type {import("./engine.js").Step} */ (state.step);
    const { beakers } = this.engine.recipe();
    this.heading.textContent = t(`dose.${step.reagent}`, { number: step.number });
    const questions = step.questions.map((key) => new Question(words, key, { beakers, subject: step.subjectBeaker, reagent: step.reagent }, "ask"));
    const several = questions.length > 1;
    const progress = element("p", { class: "quiet", "aria-live": "off" });
    const soFar = element("p", { class: "so-far quiet" });
    const place = element("div", { class: "question-place" });
    const back = this.button("ask.back", () => show(at - 1));
    const next = element("button", { type: "submit", class: "primary" });
    let at = 0;

    /** @param {number} index */
    const show = (index) => {
      at = index;
      place.replaceChildren(questions[at].root);
      progress.textContent = several ? t("ask.progress", { number: at + 1, count: questions.length }) : t("ask.one");
      soFar.textContent = questions
        .slice(0, at)
        .filter((question) => question.value() && question.key !== "why")
        .map((question) => t(`short.${question.key}`, { answer: answerWords(words, beakers, question.key, question.value()) }))
        .join(" \u00b7 ");
      back.hidden = at === 0;
      next.textContent = t(at === questions.length - 1 ? "ask.lock" : "ask.next");
      if (place.isConnected) questions[at].first().focus();
    };
    const submit = () => {
      const question = questions[at];
      question.complain("");
      if (!question.value() && question.key !== "why") return question.complain(t(question.key === "seconds" ? "error.secondsMissing" : "error.choose"));
      if (at < questions.length - 1) return show(at + 1);
      const answers = /** @type {Answers} */ (Object.fromEntries(questions.map((asked) => [asked.key, asked.value()])));
      const outcome = this.engine.lock(answers);
      if (outcome.ok) {
        this.locked = answers;
        return this.turns.locked();
      }
      const first = outcome.errors?.[0];
      const wrong = questions.findIndex(({ key }) => key === first?.question);
      if (first && wrong >= 0) {
        show(wrong);
        questions[wrong].complain(t(`error.${first.key}`, limits(words, first)));
      } else question.complain(t("error.notNow"));
    };
    show(0);
    return [form(submit, progress, place, soFar, element("p", { class: "buttons" }, next, back), element("p", { class: "quiet" }, t("ask.once")))];
  }

  /** @param {State} state @returns {HTMLElement[]} */
  watch(state) {
    const { t } = this;
    this.heading.textContent = t("watch.heading");
    return [element("p", {}, t(`watch.${state.step?.reagent ?? "acid"}`)), element("h3", {}, t("watch.guess")), this.guesses(state), element("p", { class: "quiet" }, t("watch.hold"))];
  }

  /** What was locked, to be read and no longer changed. @param {State} state @returns {HTMLElement} */
  guesses(state) {
    const { beakers } = this.engine.recipe();
    const keys = /** @type {QuestionKey[]} */ (state.step?.questions ?? []).filter((key) => this.locked[key] !== undefined && this.locked[key] !== "");
    return element("dl", { class: "answers" }, ...keys.flatMap((key) => [element("dt", {}, this.t(`name.${key}`)), element("dd", {}, answerWords(this.words, beakers, key, this.locked[key] ?? ""))]));
  }

  /** @param {State} state @returns {HTMLElement[]} */
  see(state) {
    const { t, words } = this;
    const step = /** @type {import("./engine.js").Step} */ (state.step);
    const { beakers } = this.engine.recipe();
    this.heading.textContent = t("see.heading");
    const questions = SEEN.filter((key) => step.questions.includes(key)).map((key) => new Question(words, key, { beakers, subject: step.subjectBeaker, reagent: step.reagent }, "see"));
    const submit = () => {
      for (const question of questions) question.complain("");
      const open = questions.find((question) => !question.value());
      if (open) return open.complain(t("error.choose"));
      this.move(this.engine.see(/** @type {Answers} */ (Object.fromEntries(questions.map((asked) => [asked.key, asked.value()])))));
    };
    return [element("p", {}, t("see.lead")), form(submit, ...questions.map(({ root }) => root), element("p", { class: "buttons" }, element("button", { type: "submit", class: "primary" }, t("see.done"))))];
  }

  /** @param {State} state @returns {HTMLElement[]} */
  explain(state) {
    const { t } = this;
    this.heading.textContent = t("explain.heading");
    const isLast = state.step !== null && state.step.index === state.step.count - 1;
    return [
      ...explanation(this.words, this.engine, state),
      element("p", { class: "buttons" }, this.button(isLast ? "explain.end" : "explain.next", () => this.move(this.engine.goOn()), "primary")),
    ];
  }

  /** @returns {HTMLElement[]} */
  end() {
    const { t } = this;
    this.heading.textContent = t("end.heading");
    return [
      ...summary(this.words, this.engine, this.turns.linkText()),
      element("p", { class: "buttons" }, this.button("end.free", () => this.turns.begin("free"), "primary"), this.button("end.again", () => this.turns.begin("guided"))),
    ];
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

/**
 * A form that never leaves the page.
 * @param {() => void} submit
 * @param {...HTMLElement} children
 * @returns {HTMLFormElement}
 */
function form(submit, ...children) {
  return element(
    "form",
    {
      novalidate: true,
      submit: (/** @type {Event} */ event) => {
        event.preventDefault();
        submit();
      },
    },
    ...children,
  );
}

/**
 * The limits of a refused number, written in the page's language.
 * @param {Words} words
 * @param {{min?: number, max?: number, unit?: string}} error
 * @returns {Record<string, string>}
 */
export function limits(words, error) {
  /** @param {number | undefined} value */
  const plain = (value) => (value === undefined ? "" : words.number(value, Number.isInteger(value) ? 0 : decimalsOf(value)));
  return { min: plain(error.min), max: plain(error.max), unit: error.unit ? `\u00a0${error.unit}` : "" };
}

/** @param {number} value @returns {number} decimals needed to write a limit, at most 4 */
function decimalsOf(value) {
  for (let decimals = 1; decimals < 4; decimals++) if (Math.abs(value * 10 ** decimals - Math.round(value * 10 ** decimals)) < 1e-9) return decimals;
  return 4;
}
