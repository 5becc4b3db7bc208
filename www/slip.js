// Slip: what a student hands in, as a file or as a line to paste; and what this device keeps.

import { beakerName } from "./beaker.js";
import { element } from "./element.js";
import { answerWords } from "./prediction.js";
import { TextField } from "./textfield.js";
import { timeWords } from "./timing.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./i18n.js").Words} Words
 */

/** The place. */
export class SlipPlace {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {import("./keep.js").Keep} keep
   * @param {{say: (sentence: string) => void, forgotten: () => void}} turns speaks; comes back to this place after all was forgotten
   */
  constructor(engine, words, keep, { say, forgotten }) {
    this.engine = engine;
    this.words = words;
    this.keep = keep;
    this.say = say;
    const t = words.t.bind(words);
    this.signed = new TextField("slip-signed", t("slip.signed"), "", {
      hint: t("slip.signedHint"),
      typed: (text) => this.typed(this.signed, engine.sign(text)),
    });
    this.note = new TextField("slip-note", t("slip.note"), "", {
      rows: 3,
      hint: t("slip.noteHint"),
      typed: (text) => this.typed(this.note, engine.note(text)),
    });
    this.what = element("div", { class: "slip-what" });
    this.line = element("textarea", { id: "slip-line", rows: 4, readonly: true, spellcheck: "false", dir: "ltr" });
    this.said = element("p", { class: "quiet", id: "slip-said" });
    this.blank = element("p", { class: "warn" }, t("slip.blank"));
    this.kept = element("p", { id: "slip-kept" });
    this.sure = element(
      "p",
      { class: "buttons", hidden: true },
      element("strong", {}, t("keep.sure")),
      element(
        "button",
        {
          type: "button",
          id: "forget-sure",
          click: async () => {
            const gone = keep.forget();
            this.sure.hidden = true;
            forgotten();
            await gone;
            this.tell("keep.forgotten");
          },
        },
        t("keep.forgetSure"),
      ),
      element(
        "button",
        {
          type: "button",
          click: () => {
            this.sure.hidden = true;
            this.forget.focus();
          },
        },
        t("keep.stay"),
      ),
    );
    this.forget = element(
      "button",
      {
        type: "button",
        id: "forget",
        click: () => {
          this.sure.hidden = false;
          /** @type {HTMLElement} */ (this.sure.querySelector("#forget-sure")).focus();
        },
      },
      t("keep.forget"),
    );
    this.children = [
      element("h2", { id: "slip-heading", tabindex: -1 }, t("slip.heading")),
      element("p", {}, t("slip.lead")),
      this.blank,
      this.signed.root,
      this.note.root,
      element(
        "p",
        { class: "buttons" },
        element(
          "button",
          { type: "button", class: "primary", id: "slip-save", click: () => this.save() },
          t("slip.save"),
        ),
        element("button", { type: "button", id: "slip-copy", click: () => this.copy() }, t("slip.copy")),
      ),
      element("p", { class: "words-field" }, element("label", { for: "slip-line" }, t("slip.line")), this.line),
      this.said,
      element("h3", {}, t("slip.what")),
      this.what,
      element("h3", {}, t("keep.heading")),
      this.kept,
      element("p", { class: "buttons" }, this.forget),
      this.sure,
    ];
  }

  /** @param {TextField} field @param {import("./lesson-shapes.js").Outcome} outcome */
  typed(field, outcome) {
    const [error] = outcome.ok ? [] : (outcome.errors ?? []);
    field.complain(error ? this.words.t("slip.tooLong", this.words.limits(error)) : "");
    this.show();
  }

  /** Shows the slip as it is now. */
  refresh() {
    const { signed, note } = this.engine.slip();
    if (document.activeElement !== this.signed.input) this.signed.input.value = signed;
    if (document.activeElement !== this.note.input) this.note.input.value = note;
    this.show();
  }

  /** Everything but the fields. */
  show() {
    const slip = this.engine.slip();
    this.blank.hidden = !slip.blank;
    this.line.value = slip.line;
    const lines = slipWords(this.words, this.engine, slip);
    this.what.replaceChildren(element("ul", {}, ...lines.map((line) => element("li", { dir: "auto" }, line))));
    this.kept.textContent = this.words.t(`keep.is.${this.keep.state}`);
  }

  /** Hands the slip out as a file. */
  save() {
    const slip = this.engine.slip();
    const words = [this.words.t("slip.fileHead"), "", ...slipWords(this.words, this.engine, slip), ""];
    const text = [...words, this.words.t("slip.fileLine"), "", slip.line, ""].join("\r\n");
    hand(text, "text/plain", fileName(this.words.t("slip.fileName"), slip.signed || slip.runCode));
    this.keep.handIn();
    this.tell("slip.saved");
  }

  /** Copies the line, for where downloads are blocked. */
  async copy() {
    this.line.select();
    try {
      await navigator.clipboard.writeText(this.line.value);
      this.tell("slip.copied");
    } catch {
      this.line.focus();
      this.tell("link.selected");
    }
    this.keep.handIn();
  }

  /** @param {string} key */
  tell(key) {
    this.said.textContent = this.words.t(key);
    this.say(this.said.textContent);
  }
}

/**
 * Hands a text out as a file.
 * @param {string} text
 * @param {string} type
 * @param {string} name
 */
export function hand(text, type, name) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  element("a", { href: address, download: name }).click();
  // The download has its own hold on the file as soon as it has begun.
  window.setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** A name that every system takes: letters, digits and dashes of any script. @param {string} before @param {string} own */
function fileName(before, own) {
  return `${before}-${own.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "") || "slip"}.txt`;
}

/**
 * What is on a slip, line by line, for people.
 * @param {Words} words
 * @param {Engine} engine
 * @param {import("./class-shapes.js").Slip} slip
 * @returns {string[]}
 */
export function slipWords(words, engine, slip) {
  const { beakers } = engine.recipe();
  const t = words.t.bind(words);
  /** @param {import("./class-shapes.js").Said} said */
  const answers = (said) =>
    said.map(([key, answer]) => `${t(`name.${key}`)}: ${answerWords(words, beakers, key, answer)}`).join("; ");
  /** @param {"brief" | "end" | number} at */
  const asked = (at) =>
    slip.choices
      .filter((choice) => choice.at === at)
      .map(({ question, answer }) => `${entryWords(words, question)} ${choiceWords(words, question, answer)}`);
  const doses = slip.doses.flatMap((dose, index) => [
    ...asked(index),
    t("slip.guess", { dose: t(`dose.${dose.reagent}`, { number: dose.number }), answers: answers(dose.guess) }),
    ...(dose.seen.length > 0 ? [t("slip.seen", { answers: answers(dose.seen) })] : []),
    ...dose.times.map((time) => timeWords(words, beakerName(words, beakers, time.beaker), time)),
  ]);
  return [
    t("slip.codes", { lesson: slip.lessonCode, run: slip.runCode, attempt: slip.attempt }),
    ...(slip.signed ? [`${t("slip.signed")}: ${slip.signed}`] : []),
    ...asked("brief"),
    ...doses,
    ...asked(slip.doses.length),
    ...asked("end"),
    ...(slip.note ? [`${t("slip.note")}: ${slip.note}`] : []),
  ];
}

/** @param {Words} words @param {import("./lesson-shapes.js").Ask} entry @returns {string} a question in words */
export function entryWords(words, entry) {
  if (typeof entry !== "string") return entry.text;
  return words.t(words.either(`level.${entry}`, `name.${entry}`));
}

/** @param {Words} words @param {import("./lesson-shapes.js").Ask} entry @param {string} answer @returns {string} */
export function choiceWords(words, entry, answer) {
  if (typeof entry !== "string") return entry.choices[Number(answer)] ?? answer;
  return words.has(`level.${entry}.${answer}`) ? words.t(`level.${entry}.${answer}`) : answer;
}
