// Tally: many slips opened at once, counted here, and sent nowhere.

import { beakerName } from "./beaker.js";
import { element } from "./element.js";
import { Jotter } from "./jotter.js";
import { answerWords } from "./prediction.js";
import { choiceWords, entryWords, hand } from "./slip.js";

/**
 * @typedef {import("./deskengine.js").DeskEngine} Engine
 * @typedef {import("./class-shapes.js").Tally} Counts
 * @typedef {import("./class-shapes.js").AskedOfClass} AskedOfClass
 * @typedef {import("./lesson-shapes.js").QuestionKey} QuestionKey
 * @typedef {import("./i18n.js").Words} Words
 */

/** A slip is a few kilobytes; of a longer file only its length is looked at. */
const FILE_MAX_BYTES = 2_000_000;

/** The place. */
export class TallyPlace {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {(sentence: string) => void} say speaks to those who listen
   * @param {import("./shelf.js").Shelf} shelf keeps what is pasted
   */
  constructor(engine, words, say, shelf) {
    this.engine = engine;
    this.words = words;
    this.say = say;
    /** @type {string[]} what was pasted and is counted */
    this.pasted = [];
    this.jotter = new Jotter(shelf, "tally", isPasted, () => this.forget());
    const t = words.t.bind(words);
    this.files = element("input", {
      type: "file",
      id: "tally-files",
      multiple: true,
      accept: ".txt,text/plain",
      change: () => this.read(this.files.files),
    });
    this.text = element("textarea", {
      id: "tally-text",
      rows: 3,
      spellcheck: "false",
      dir: "ltr",
      input: () => this.keep(),
    });
    this.kept = element("p", { class: "quiet", id: "tally-kept" });
    this.warning = element("p", { class: "warn", hidden: true }, t("data.notKept"));
    this.drop = element(
      "div",
      {
        class: "tally-drop",
        dragover: (/** @type {DragEvent} */ event) => event.preventDefault(),
        drop: (/** @type {DragEvent} */ event) => {
          event.preventDefault();
          this.read(event.dataTransfer?.files ?? null);
        },
      },
      element("p", { class: "words-field" }, element("label", { for: "tally-files" }, t("tally.files")), this.files),
      element("p", { class: "quiet" }, t("tally.drop")),
    );
    this.results = element("div", { class: "tally" });
    this.csv = element(
      "p",
      { class: "buttons" },
      element("button", { type: "button", id: "tally-csv", click: () => this.save(false) }, t("tally.csv")),
      element("button", { type: "button", id: "tally-csv-comma", click: () => this.save(true) }, t("tally.csvComma")),
      element(
        "button",
        {
          type: "button",
          click: () => {
            this.clear();
            this.keep();
            this.say(t("tally.cleared"));
          },
        },
        t("tally.clear"),
      ),
    );
    this.children = [
      element("h2", { id: "tally-heading", tabindex: -1 }, t("tally.heading")),
      element("p", {}, t("tally.lead")),
      this.drop,
      element("p", { class: "words-field" }, element("label", { for: "tally-text" }, t("tally.paste")), this.text),
      element(
        "p",
        { class: "buttons" },
        element("button", { type: "button", id: "tally-add", click: () => this.paste() }, t("tally.add")),
      ),
      this.kept,
      this.warning,
      this.results,
      this.csv,
    ];
    this.recall();
  }

  /** Takes back what this device kept. What was opened before the page spoke another language stands in the core already. */
  recall() {
    const kept = this.jotter.read();
    this.kept.textContent = this.words.t("tally.keeps");
    if (!kept || this.engine.tallyOpened() > 0) return;
    this.text.value = kept.box;
    for (const text of kept.pasted) this.add(text);
    if (this.pasted.length > 0)
      this.kept.textContent = this.words.t("tally.wasKept", { count: this.engine.tallyOpened() });
  }

  /** Takes over what was pasted before the page spoke another language. @param {TallyPlace} before */
  goOnFrom(before) {
    this.pasted = before.pasted;
  }

  /** Keeps on this device what is pasted, and says where that can't be. */
  keep() {
    const { pasted, text } = this;
    this.jotter.write(pasted.length === 0 && text.value === "" ? null : { pasted, box: text.value });
    this.warning.hidden = !this.unsaved;
  }

  /** Whether something was pasted that this device does not keep. */
  get unsaved() {
    return !this.jotter.isKept && (this.pasted.length > 0 || this.text.value !== "");
  }

  /** Takes all slips away. */
  clear() {
    this.engine.tallyClear();
    this.pasted = [];
    this.kept.textContent = this.words.t("tally.keeps");
    this.refresh();
  }

  /** Forgets what is typed here, too. */
  forget() {
    this.text.value = "";
    this.clear();
  }

  /** Opens files, whatever they are. @param {FileList | null} files */
  async read(files) {
    for (const file of files ?? []) {
      // A text of that length is told as too long; what stands in it is of no matter.
      const text = file.size > FILE_MAX_BYTES ? " ".repeat(FILE_MAX_BYTES) : await file.text().catch(() => "");
      this.engine.tallyAdd(file.name, text);
    }
    this.files.value = "";
    this.counted();
  }

  /** Takes what was pasted. */
  paste() {
    this.add(this.text.value);
    this.text.value = "";
    this.keep();
    this.counted();
  }

  /** @param {string} text that was pasted */
  add(text) {
    this.pasted.push(text);
    this.engine.tallyAdd(this.words.t("tally.pasted", { number: this.pasted.length }), text);
  }

  /** Shows and says what came of it. */
  counted() {
    this.refresh();
    this.say(this.results.querySelector("p")?.textContent ?? "");
  }

  /** @param {boolean} decimalComma */
  save(decimalComma) {
    // The mark at the start tells a spreadsheet that the letters are UTF-8.
    hand(`\uFEFF${this.engine.tallyCsv(decimalComma)}`, "text/csv", this.words.t("tally.fileName"));
    this.say(this.words.t("share.savedAs"));
  }

  /** Counts anew. */
  refresh() {
    const { t } = this;
    const opened = this.engine.tallyOpened();
    this.csv.hidden = opened === 0;
    if (opened === 0) return this.results.replaceChildren();
    const tally = this.engine.tally();
    if (!tally.ok) return this.results.replaceChildren(element("p", { class: "warn" }, t(`trouble.${tally.key}`)));
    this.results.replaceChildren(
      element("p", { class: "large" }, t("tally.counted", { counted: tally.counted, opened, code: tally.lessonCode })),
      ...this.aside(tally),
      ...this.ideas(tally),
      ...this.questions(tally),
      ...this.times(tally),
      ...this.students(tally),
    );
  }

  /** What does not count, each by the name of its file. @param {Counts} tally */
  aside({ aside }) {
    if (aside.length === 0) return [];
    return [
      element("h3", {}, this.t("tally.aside", { count: aside.length })),
      element(
        "ul",
        { class: "tally-aside" },
        ...aside.map(({ file, key, instead = "", lesson = "", version = "" }) =>
          element(
            "li",
            {},
            element("b", { dir: "auto" }, file),
            ": ",
            this.t(`tally.aside.${key}`, { instead, lesson, version }),
          ),
        ),
      ),
    ];
  }

  /** @param {Counts} tally */
  ideas({ ideas, counted }) {
    if (ideas.length === 0) return [];
    return [
      element("h3", {}, this.t("tally.ideas")),
      element(
        "ul",
        { class: "tally-ideas" },
        ...ideas.map(({ idea, count }) =>
          element(
            "li",
            { "data-idea": idea },
            element("b", {}, this.t("tally.idea", { count, counted, name: this.t(`misconception.${idea}.name`) })),
            " ",
            this.t(`misconception.${idea}.followUp`),
          ),
        ),
      ),
    ];
  }

  /** @param {Counts} tally */
  questions({ questions }) {
    return [element("h3", {}, this.t("tally.questions")), ...questions.map((asked) => this.question(asked))];
  }

  /** One question: what the class said, beside what happened. @param {AskedOfClass} asked */
  question(asked) {
    const { t, words } = this;
    const place = asked.reagent ? t(`dose.${asked.reagent}`, { number: asked.number }) : t(`tally.at.${asked.at}`);
    const title = t(`tally.kind.${asked.kind}`, { place, question: entryWords(words, asked.question) });
    const most = Math.max(1, ...asked.answers.map(({ count }) => count));
    const outcome = asked.outcome === null ? "" : t("tally.outcome", { outcome: this.answer(asked, asked.outcome) });
    return element(
      "section",
      {
        class: "tally-question",
        "data-question": `${asked.kind}/${asked.at}/${typeof asked.question === "string" ? asked.question : "own"}`,
      },
      element("h4", { dir: "auto" }, title),
      outcome && element("p", {}, outcome),
      element(
        "ul",
        { class: "raised" },
        ...asked.answers.map(({ answer, count, near }) => {
          const bar = element("span", { class: "raised-bar", "aria-hidden": "true" });
          bar.style.width = `${(100 * count) / most}%`;
          const said = t(near ? `tally.answer.${near}` : "teach.hand", { choice: this.answer(asked, answer), count });
          return element(
            "li",
            { class: near === "same" ? "came-true" : "" },
            element("span", { dir: "auto" }, said),
            bar,
          );
        }),
      ),
      asked.seconds && element("p", {}, this.spread(asked.seconds)),
      asked.words.length > 0 &&
        element("ul", {}, ...asked.words.map(([who, said]) => element("li", { dir: "auto" }, `${who}: ${said}`))),
      asked.open > 0 && element("p", { class: "quiet" }, t("tally.open", { count: asked.open })),
    );
  }

  /** @param {AskedOfClass} asked @param {string | number} answer */
  answer({ kind, question }, answer) {
    if (kind === "choice") return choiceWords(this.words, question, String(answer));
    return answerWords(this.words, this.engine.recipe().beakers, /** @type {QuestionKey} */ (question), answer);
  }

  /** @param {import("./class-shapes.js").Spread} spread */
  spread({ n, least, middle, most, mean, deviation }) {
    const number = (/** @type {number} */ value) => this.words.number(value, 1);
    return this.t(deviation === null ? "tally.one" : "tally.spread", {
      n,
      least: number(least),
      middle: number(middle),
      most: number(most),
      mean: number(mean),
      deviation: number(deviation ?? 0),
    });
  }

  /** @param {Counts} tally */
  times({ times }) {
    if (times.length === 0) return [];
    const { t, words } = this;
    const { beakers } = this.engine.recipe();
    const head = ["dose", "beaker", "celsius", "finish", "class", "computed"];
    return [
      element("h3", {}, t("tally.times")),
      this.table(
        "tally.times",
        head.map((key) => t(`tally.time.${key}`)),
        times.map(({ number, beaker, celsius, finish, spread, computed }) => [
          String(number),
          beakerName(words, beakers, beaker),
          words.number(celsius, 1),
          t(`colour.${finish}`),
          this.spread(spread),
          computed === null ? t("answer.never") : t("unit.seconds", { value: words.number(computed, 1) }),
        ]),
      ),
    ];
  }

  /** @param {Counts} tally */
  students({ students }) {
    if (students.length === 0) return [];
    const { t } = this;
    const head = ["file", "signed", "attempt", "doses", "same", "near", "other", "times", "remark"];
    return [
      element("h3", {}, t("tally.students")),
      this.table(
        "tally.students",
        head.map((key) => t(`tally.student.${key}`)),
        students.map((row) => [
          row.file,
          row.signed,
          ...[row.attempt, row.doses, row.same, row.near, row.other].map(String),
          row.takenBack > 0 ? t("tally.takenBack", { times: row.times, back: row.takenBack }) : String(row.times),
          [
            row.remark && t(`tally.remark.${row.remark}`, { file: row.remarkFile ?? "" }),
            row.sameRun === false && t("tally.otherRun"),
            row.note,
          ]
            .filter(Boolean)
            .join(" "),
        ]),
      ),
    ];
  }

  /** @param {string} caption @param {string[]} head @param {string[][]} rows */
  table(caption, head, rows) {
    return element(
      "div",
      { class: "wide", tabindex: 0, role: "group", "aria-label": this.t(caption) },
      element(
        "table",
        { class: "numbers" },
        element("thead", {}, element("tr", {}, ...head.map((title) => element("th", { scope: "col" }, title)))),
        element(
          "tbody",
          {},
          ...rows.map(([first, ...cells]) =>
            element(
              "tr",
              {},
              element("th", { scope: "row", dir: "auto" }, first),
              ...cells.map((cell) => element("td", { dir: "auto" }, cell)),
            ),
          ),
        ),
      ),
    );
  }

  /** The sentence of a key. */
  get t() {
    return this.words.t.bind(this.words);
  }
}

/** @param {any} kept @returns {kept is {pasted: string[], box: string}} */
function isPasted(kept) {
  const isText = (/** @type {any} */ text) => typeof text === "string";
  return Array.isArray(kept?.pasted) && kept.pasted.every(isText) && isText(kept.box);
}
