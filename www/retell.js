// Retell: a class's run, to hand on and to watch again: with its holds, or in one's own pace. It asks first, names nobody, and
// tells what the class had said only after.

import { element } from "./element.js";
import { linkField, wholeLink } from "./link.js";
import { answerWords } from "./prediction.js";
import { hand } from "./slip.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./i18n.js").Words} Words
 */

/** A run's file is a few kilobytes; more than this is something else. */
const FILE_MAX_BYTES = 2_000_000;

/** The place. */
export class RetellPlace {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {{open: (text: string) => string, say: (sentence: string) => void}} turns opens a run, or says why not; speaks
   */
  constructor(engine, words, { open, say }) {
    this.engine = engine;
    this.words = words;
    this.open = open;
    this.say = say;
    const t = words.t.bind(words);
    this.told = element("div", { class: "retold" });
    this.link = element("div");
    this.trouble = element("p", { class: "error", role: "alert" });
    this.save = element(
      "button",
      {
        type: "button",
        click: () => {
          hand(`${t("retell.fileHead")}\r\n\r\n${engine.runText().text}\r\n`, "text/plain", t("retell.fileName"));
          say(t("share.savedAs"));
        },
      },
      t("retell.save"),
    );
    this.file = element("input", {
      type: "file",
      id: "retell-file",
      accept: ".txt,text/plain",
      change: () => this.read(),
    });
    this.text = element("textarea", { id: "retell-text", rows: 3, spellcheck: "false", dir: "ltr" });
    this.paces = ["paced", "own"].map((pace) =>
      element("input", {
        type: "radio",
        name: "pace",
        value: pace,
        change: () => {
          engine.setPaced(pace === "paced");
          this.refresh();
        },
      }),
    );
    this.pace = element(
      "fieldset",
      { class: "options" },
      element("legend", {}, t("retell.pace")),
      ...this.paces.map((input) => element("label", { class: "option" }, input, t(`retell.pace.${input.value}`))),
    );
    this.children = [
      element("h2", { id: "retell-heading", tabindex: -1 }, t("retell.heading")),
      element("p", {}, t("retell.lead")),
      this.told,
      this.pace,
      element("h3", {}, t("retell.hand")),
      element("p", {}, t("retell.handLead")),
      this.link,
      element("p", { class: "buttons" }, this.save),
      element("h3", {}, t("retell.open")),
      element("p", { class: "words-field" }, element("label", { for: "retell-file" }, t("retell.file")), this.file),
      element("p", { class: "words-field" }, element("label", { for: "retell-text" }, t("retell.paste")), this.text),
      element(
        "p",
        { class: "buttons" },
        element("button", { type: "button", click: () => this.take(this.text.value) }, t("retell.openText")),
      ),
      this.trouble,
    ];
  }

  /** Shows the run that is told again, and the one that can be handed on. */
  refresh() {
    const { words } = this;
    const t = words.t.bind(words);
    const retold = this.engine.retell();
    this.pace.hidden = retold === null;
    this.told.replaceChildren();
    if (retold) {
      for (const input of this.paces) input.checked = (input.value === "paced") === retold.paced;
      const minutes = (/** @type {number} */ seconds) =>
        t("retell.minutes", { minutes: Math.floor(seconds / 60), seconds: Math.round(seconds % 60) });
      this.told.replaceChildren(
        element("p", {}, t("retell.is", { count: retold.count })),
        element(
          "ul",
          {},
          ...retold.doses.map(({ reagent, number, roomS, holds, heldS }) =>
            element(
              "li",
              {},
              t(holds > 0 ? "retell.doseHeld" : "retell.dose", {
                dose: t(`dose.${reagent}`, { number }),
                at: minutes(roomS),
                count: holds,
                held: minutes(heldS),
              }),
            ),
          ),
        ),
        element(
          "p",
          {},
          t(retold.same === null ? "retell.codeYet" : retold.same ? "retell.codeSame" : "retell.codeOther", {
            code: retold.code,
          }),
        ),
      );
    }
    const { text, fits, blank } = this.engine.runText();
    this.save.setAttribute("aria-disabled", String(blank));
    this.link.replaceChildren(
      blank
        ? element("p", { class: "quiet" }, t("retell.blank"))
        : fits
          ? linkField(words, wholeLink(text), "retell", this.say)
          : element("p", { class: "quiet" }, t("retell.tooLong")),
    );
  }

  /** Reads the chosen file. */
  async read() {
    const file = this.file.files?.[0];
    if (!file) return;
    if (file.size > FILE_MAX_BYTES) this.trouble.textContent = this.words.t("run.tooLong");
    else {
      try {
        this.take(await file.text());
      } catch {
        this.trouble.textContent = this.words.t("share.unreadable");
      }
    }
    this.file.value = "";
  }

  /** Opens the text of a run: its link, its line, or its file. @param {string} text */
  take(text) {
    const line = text.match(/run\d{1,4}\.[\w.-]*/)?.[0] ?? text;
    this.trouble.textContent = this.open(line);
    if (!this.trouble.textContent) this.text.value = "";
  }
}

/**
 * What the class whose run is told again had said of the dose that is explained, beside what happened.
 * @param {Words} words
 * @param {Engine} engine
 * @returns {HTMLElement[]}
 */
export function classSaid(words, engine) {
  const retold = engine.retell();
  if (!retold || retold.questions.length === 0) return [];
  const { beakers } = engine.recipe();
  /** @param {import("./lesson-shapes.js").Compared[]} compared */
  const list = (compared) =>
    element(
      "ul",
      {},
      ...compared.map(({ question, guess, near }) =>
        element(
          "li",
          {},
          words.t(`retell.said.${near ?? "other"}`, {
            question: words.t(`name.${question}`),
            answer: answerWords(words, beakers, question, guess),
          }),
        ),
      ),
    );
  return [
    element("h3", {}, words.t("retell.classGuess")),
    list(retold.questions),
    ...(retold.seen.length > 0 ? [element("h3", {}, words.t("retell.classSaw")), list(retold.seen)] : []),
  ];
}
