// The Ask card: what it says and asks at each stage of the lesson. One question after another, never longer than the screen.

import { beakerName } from "./beaker.js";
import { strengthWords, whenFitted } from "./bottle.js";
import { answered, ChoiceQuestion, raised, thought } from "./choice.js";
import { element } from "./element.js";
import { numbers, outcome, reasons, terms } from "./explanation.js";
import { spread } from "./pages.js";
import { answerWords, Prediction } from "./prediction.js";
import { Questions } from "./questions.js";
import { classSaid } from "./retell.js";
import { expected, summary } from "./summary.js";
import { timeWords } from "./timing.js";

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

/**
 * Groups that may stand on pages of their own.
 * @param {HTMLElement[][]} groups
 * @param {HTMLElement} [heading] of the first
 * @returns {import("./pages.js").Part[]}
 */
function pagesOf(groups, heading) {
  return groups.map((group, index) => ({
    key: "explain.more",
    body: heading && index === 0 ? [heading, ...group] : group,
  }));
}

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
    /** @type {Questions | null} the questions that stand on the card */
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
    const asked = cardOf(state);
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
    // Not for the first page: to move what stands still would lay the whole page out before it is complete.
    if (this.body.hasChildNodes()) this.body.scrollTop = 0;
    this.body.replaceChildren(...body);
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
        return this.end(state);
      case "free":
        this.heading.textContent = this.words.t("free.heading");
        return this.freeBench();
    }
  }

  /** @param {State} state @returns {{body: HTMLElement[], foot: HTMLElement[]}} */
  brief(state) {
    const { t } = this;
    this.heading.textContent = state.title || t("brief.heading");
    const { fields, beakers } = this.engine.recipe();
    const amounts = Object.fromEntries(
      fields.map(({ key, value, decimals }) => [key, this.words.number(value, decimals)]),
    );
    const doses = fields
      .filter(({ key }) => key === "acidDoses" || key === "baseDoses")
      .reduce((sum, { value }) => sum + value, 0);
    const start = () => this.move(this.engine.goOn());
    const questions = () => {
      const run = this.run(state, [], "brief.start", () => {
        start();
        return [];
      });
      return { body: [run.form], foot: [run.next, run.back] };
    };
    // Whoever stood in these questions when the page was left stands there again.
    if (state.asks.length > 0 && this.turns.draft()?.card === cardOf(state)) return questions();
    return {
      body: [
        this.levels(state),
        element("p", {}, t(`level.${state.level}.lead`)),
        element("p", {}, t("brief.beakers", { ...amounts, count: beakers.length })),
        ...this.fitted(),
        element("p", {}, t("brief.look")),
        element("p", {}, t("brief.job", { count: doses })),
        element("p", { class: "caution" }, t("before.caution")),
      ],
      foot: [
        this.button("brief.start", () => (state.asks.length > 0 ? this.turn(questions()) : start()), "primary"),
        this.button("brief.free", () => this.turns.begin("free")),
      ],
    };
  }

  /** Whose bottle this is, where a class has fitted it. */
  fitted() {
    const bottle = this.engine.bottle();
    if (!bottle) return [];
    const strength = strengthWords(this.words, bottle);
    const told = strength ? this.t("brief.fittedStrength", strength) : this.t("brief.fitted", whenFitted(bottle));
    return [element("p", {}, told)];
  }

  /** The level, and the way to another: the beakers run alike at each. @param {State} state @returns {HTMLElement} */
  levels({ level }) {
    const select = element(
      "select",
      { id: "level", change: () => this.turns.level(Number(select.value)) },
      ...this.engine.levels.map(({ level }) =>
        element("option", { value: level }, `${level} ${this.t(`level.${level}.name`)}`),
      ),
    );
    select.value = String(level);
    return element(
      "p",
      { class: "field level" },
      element("label", { for: "level" }, this.t("brief.level")),
      select,
      element("span", { class: "hint" }, this.t(`level.${level}.goal`)),
    );
  }

  /**
   * A run of questions, each at its place in the lesson's order.
   * @param {State} state
   * @param {Prediction[]} predictions
   * @param {string} last key of the words on the last button
   * @param {(answers: Record<string, string>) => import("./questions.js").AnswerError[]} finish
   * @returns {Questions}
   */
  run(state, predictions, last, finish) {
    const choices = state.asks.map((asked) => new ChoiceQuestion(this.words, asked));
    /** @type {import("./question.js").Question[]} */
    const questions = [...predictions];
    for (const choice of choices) questions.splice(choice.asked.ask, 0, choice);
    const { beakers } = this.engine.recipe();
    // What stands on the card is kept as it is typed and tapped, and stands there again after a reload.
    const card = cardOf(state);
    const before = this.turns.draft();
    const draft = () => {
      const hands = Object.fromEntries(questions.map((question) => [question.key, question.hands()]));
      if (started) this.turns.drafted({ card, at: run.at, values: run.answers, hands });
    };
    let started = false;
    const run = new Questions(this.words, {
      questions,
      last,
      inShort: (question) =>
        question instanceof Prediction && question.key !== "why" && question.value()
          ? this.t(`short.${question.key}`, {
              answer: answerWords(this.words, beakers, /** @type {QuestionKey} */ (question.key), question.value()),
            })
          : "",
      shown: () => {
        this.turns.turned();
        draft();
      },
      finish: () => {
        const refused = choices
          .map((choice) => ({ choice, outcome: this.engine.choose(choice.asked.ask, choice.value()) }))
          .find(({ outcome }) => !outcome.ok);
        if (refused) {
          const { choice, outcome } = refused;
          const [error] = outcome.ok ? [] : (outcome.errors ?? []);
          return [{ ...error, question: choice.key, key: error?.key ?? "notNow" }];
        }
        for (const question of questions) {
          const asked = question instanceof ChoiceQuestion ? `choice${question.asked.ask}` : question.key;
          this.hands.set(`${state.step?.index ?? state.stage}/${asked}`, question.hands());
        }
        return finish(run.answers);
      },
    });
    if (before?.card === card) {
      for (const question of questions) question.put(before.values[question.key] ?? "", before.hands?.[question.key]);
      run.show(Math.min(before.at, questions.length - 1));
    }
    started = true;
    run.form.addEventListener("input", draft);
    this.asking = run;
    return run;
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

  /** The hands that were counted for a question. @param {string | number} place @param {string} question */
  counted(place, question) {
    return this.hands.get(`${place}/${question}`) ?? {};
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
    const run = this.run(state, predictions, "ask.last", lock);
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
    const run = this.run({ ...state, asks: [] }, predictions, "see.last", told);
    return { body: [lead, run.form], foot: [run.next, run.back] };
  }

  /** Goes on from the watching without a word written down: a class has said it aloud. */
  saidAloud() {
    this.move(this.engine.see({}));
  }

  /** @param {State} state @returns {{body: HTMLElement[], foot: HTMLElement[]}} */
  explain(state) {
    const { step } = this.about(state);
    const isLast = step.index === step.count - 1;
    const { choices, ideas } = this.engine.explanation();
    const onward = this.button(isLast ? "explain.end" : "explain.next", () => this.move(this.engine.goOn()), "primary");
    this.heading.textContent = this.t("explain.heading");
    const fresh = ideas.filter((idea) => !choices.some((told) => told.idea === idea));
    return this.spread(
      [
        ...pagesOf(outcome(this.words, this.engine, state, (question) => this.counted(step.index, question))),
        { key: "explain.more", body: numbers(this.words, this.engine) },
        { key: "explain.more", body: this.times(state) },
        { key: "explain.more", body: classSaid(this.words, this.engine) },
        { key: "explain.why", body: reasons(this.words, this.engine) },
        { key: "explain.more", body: terms(this.words, this.engine, state) },
        ...pagesOf(this.told(choices), element("h3", {}, this.t("explain.asked"))),
        ...pagesOf(
          fresh.map((idea) => [thought(this.words, idea)]),
          element("h3", {}, this.t("explain.ideaLead")),
        ),
      ],
      onward,
    );
  }

  /** The student's own times of this dose beside the computed ones. @param {State} state */
  times(state) {
    const timing = this.engine.timing(this.turns.timing.finish);
    if (!timing || timing.times.length === 0 || !state.step) return [];
    const { beakers } = this.engine.recipe();
    const lines = timing.times.map((time) => {
      const computed = timing.computed[time.beaker];
      const own = timeWords(this.words, beakerName(this.words, beakers, time.beaker), time);
      if (time.takenBack) return own;
      return `${own} ${computed === null ? this.t("timing.never") : this.t("timing.computed", { seconds: this.words.number(computed, 1) })}`;
    });
    return [
      element("h3", {}, this.t("timing.heading")),
      element("ul", {}, ...lines.map((line) => element("li", {}, line))),
    ];
  }

  /** Answered questions with the hands that were counted for them. @param {import("./lesson-shapes.js").Told[]} told */
  told(told) {
    return answered(this.words, told, (one) => {
      const said = (/** @type {string} */ value) =>
        one.own ? one.own.choices[Number(value)] : this.t(`level.${one.key}.${value}`);
      return raised(this.words, this.counted(one.at, `choice${one.ask}`), said, one.right ?? "");
    });
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

  /** @param {State} state @returns {{body: HTMLElement[], foot: HTMLElement[]}} */
  end(state) {
    const again = this.button("end.again", () => this.turns.begin("guided"));
    const last = () => {
      this.heading.textContent = this.t("end.heading");
      return {
        body: [...summary(this.words, this.engine, this.turns.linkField("end")), expected(this.words, this.engine)],
        foot: [this.button("end.free", () => this.turns.begin("free"), "primary"), again],
      };
    };
    const told = () => {
      const answers = this.engine.told().filter(({ at }) => at === "brief" || at === "end");
      if (answers.length === 0) return last();
      this.heading.textContent = this.t("end.told");
      return this.spread(
        pagesOf(this.told(answers)),
        this.button("end.goOn", () => this.turn(last()), "primary"),
      );
    };
    const open = state.asks.filter(({ answer }) => answer === null);
    if (open.length === 0) return told();
    this.heading.textContent = this.t("end.asked");
    const run = this.run({ ...state, asks: open }, [], "end.goOn", () => {
      this.turn(told());
      return [];
    });
    return { body: [run.form], foot: [run.next, run.back] };
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

/** Which card a state has. @param {State} state @returns {string} */
function cardOf({ mode, stage, step }) {
  return `${mode} ${stage} ${step?.index ?? ""}`;
}
