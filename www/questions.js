// A run of questions, one shown at a time, so that the card is never longer than the screen.

import { element } from "./element.js";
import { answerWords, Question } from "./question.js";

/**
 * @typedef {import("./engine.js").QuestionKey} QuestionKey
 * @typedef {import("./engine.js").Answers} Answers
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {{question: QuestionKey, key: string, min?: number | null, max?: number | null, unit?: string | null}} AnswerError
 */

/** The run. */
export class Questions {
  /**
   * @param {Words} words
   * @param {QuestionKey[]} keys
   * @param {import("./question.js").About} about
   * @param {"ask" | "see"} group
   * @param {(answers: Answers) => AnswerError[]} finish takes the answers of the last question, and returns what was refused
   */
  constructor(words, keys, about, group, finish) {
    this.words = words;
    this.about = about;
    this.group = group;
    this.finish = finish;
    this.at = 0;
    this.questions = keys.map((key) => new Question(words, key, about, group));
    this.progress = element("p", { class: "quiet" });
    this.place = element("div", { class: "question-place" });
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
      this.soFar,
    );
    // The buttons stand in the foot of the card, outside of the form that scrolls.
    this.next = element("button", { type: "submit", form: "card-form", class: "primary" });
    this.back = element("button", { type: "button", click: () => this.show(this.at - 1) }, words.t("ask.back"));
    this.show(0);
  }

  /** @param {number} index */
  show(index) {
    const { words } = this;
    const count = this.questions.length;
    this.at = index;
    this.place.replaceChildren(this.questions[index].root);
    this.progress.hidden = count === 1;
    this.progress.textContent = words.t("ask.progress", { number: index + 1, count });
    this.soFar.textContent = this.questions
      .slice(0, index)
      .filter((question) => question.value() && question.key !== "why")
      .map((question) =>
        words.t(`short.${question.key}`, {
          answer: answerWords(words, this.about.beakers, question.key, question.value()),
        }),
      )
      .join(" \u00b7 ");
    this.back.hidden = index === 0;
    this.next.textContent = words.t(index === count - 1 ? `${this.group}.last` : "ask.next");
    if (this.form.isConnected) this.questions[index].first().focus();
  }

  /** Goes on to the next question, or hands in the answers. */
  submit() {
    const question = this.questions[this.at];
    question.complain("");
    if (!question.value() && question.key !== "why") {
      question.complain(this.words.t(question.key === "seconds" ? "error.secondsMissing" : "error.choose"));
      return;
    }
    if (this.at < this.questions.length - 1) {
      this.show(this.at + 1);
      return;
    }
    const errors = this.finish(
      /** @type {Answers} */ (Object.fromEntries(this.questions.map((asked) => [asked.key, asked.value()]))),
    );
    if (errors.length === 0) return;
    const [first] = errors;
    const wrong = this.questions.findIndex(({ key }) => key === first.question);
    if (wrong >= 0 && wrong !== this.at) this.show(wrong);
    this.questions[Math.max(wrong, 0)].complain(this.words.t(`error.${first.key}`, this.words.limits(first)));
  }
}
