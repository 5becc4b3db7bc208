// A run of questions, one shown at a time, so that the card is never longer than the screen.

import { typeAgain, typedIn } from "./carry.js";
import { element } from "./element.js";

/**
 * @typedef {import("./question.js").Question} Question
 * @typedef {import("./question.js").Hands} Hands
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {{question: string, key: string, min?: number | null, max?: number | null, unit?: string | null}} AnswerError
 *
 * @typedef {object} Run
 * @property {Question[]} questions
 * @property {string} last key of the words on the button of the last question
 * @property {(question: Question) => string} inShort an answer in few words, or nothing
 * @property {() => AnswerError[]} finish takes the answers, and returns what was refused
 * @property {() => void} shown called when another question is shown
 */

/** The run. */
export class Questions {
  /**
   * @param {Words} words
   * @param {Run} run
   */
  constructor(words, run) {
    this.words = words;
    this.run = run;
    this.at = 0;
    this.questions = run.questions;
    this.progress = element("p", { class: "quiet" });
    this.place = element("div", { class: "question-place" });
    this.hands = element("p", { class: "quiet hands-lead" }, words.t("teach.handsLead"));
    this.soFar = element("p", { class: "so-far quiet" });
    this.form = element(
      "form",
      {
        id: "card-form",
        novalidate: true,
        submit: (/** @type {Event} */ event) => {
          event.preventDefault();
          this.submit();
        },
      },
      this.progress,
      this.place,
      this.hands,
      this.soFar,
    );
    // The buttons stand in the foot of the card, outside of the form that scrolls.
    this.next = element("button", { type: "submit", form: "card-form", class: "primary" });
    this.back = element("button", { type: "button", click: () => this.show(this.at - 1) }, words.t("ask.back"));
    this.show(0);
  }

  /** @returns {Record<string, string>} the answers by the questions' keys */
  get answers() {
    return Object.fromEntries(this.questions.map((asked) => [asked.key, asked.value()]));
  }

  /** The groups of controls, one for each question; only one of them stands on the card. */
  get roots() {
    return this.questions.map(({ root }) => root);
  }

  /** @param {number} index */
  show(index) {
    const { words } = this;
    const count = this.questions.length;
    this.at = index;
    this.place.replaceChildren(this.questions[index].root);
    this.progress.hidden = count === 1;
    this.progress.textContent = words.t("ask.progress", { number: index + 1, count });
    this.hands.hidden = this.questions[index].counts.size === 0;
    this.soFar.textContent = this.questions
      .slice(0, index)
      .map((question) => this.run.inShort(question))
      .filter(Boolean)
      .join(" \u00b7 ");
    this.back.hidden = index === 0;
    this.next.textContent = words.t(index === count - 1 ? this.run.last : "ask.next");
    if (this.form.isConnected) this.questions[index].first().focus();
    this.run.shown();
  }

  /** Takes over what was answered before the page spoke another language. @param {Questions} before */
  goOnFrom(before) {
    typeAgain(this.roots, typedIn(before.roots));
    this.show(before.at);
  }

  /** Goes on to the next question, or hands in the answers. */
  submit() {
    const question = this.questions[this.at];
    question.complain("");
    if (!question.value() && !question.mayBeEmpty) {
      question.complain(this.words.t(question.missing));
      return;
    }
    if (this.at < this.questions.length - 1) {
      this.show(this.at + 1);
      return;
    }
    const errors = this.run.finish();
    if (errors.length === 0) return;
    const [first] = errors;
    const wrong = this.questions.findIndex(({ key }) => key === first.question);
    if (wrong >= 0 && wrong !== this.at) this.show(wrong);
    this.questions[Math.max(wrong, 0)].complain(this.words.t(`error.${first.key}`, this.words.limits(first)));
  }
}
