// The places that are printed: Prep sheet, Safety card, Paper. On the screen their few choices stand above the sheets; on paper there is nothing but the sheets.

import { stockName } from "./dilution.js";
import { element } from "./element.js";
import { NumberField } from "./field.js";
import { keySheets } from "./key.js";
import { FROM_FOLDER, wholeLink } from "./link.js";
import { studentSheets } from "./paper.js";
import { prepSheets } from "./prep.js";
import { safetySheets } from "./safety.js";
import { qrCode } from "./share.js";

/**
 * @typedef {import("./deskengine.js").DeskEngine} Engine
 * @typedef {import("./lesson-shapes.js").ReagentKey} ReagentKey
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {import("./sheet.js").Head} Head
 */

/** A stock that is not in the list: its concentration is typed. */
const OTHER = "other";
const SPARE_DOSES = 1;
const SPARE_MOST = 10;

/** @typedef {"prep" | "safety" | "paper"} Printed a place that is printed */
/** @type {Printed[]} */
export const PRINTED = ["prep", "safety", "paper"];

/** The three places; what is chosen in one counts in the others. */
export class PrintRoom {
  /**
   * @param {Engine} engine
   * @param {Words} words
   */
  constructor(engine, words) {
    this.engine = engine;
    this.words = words;
    this.sheets = { prep: element("div"), safety: element("div"), paper: element("div") };
    this.spare = new NumberField(
      "prep-spare",
      words.t("prep.spare"),
      words.number(SPARE_DOSES, 0),
      "",
      words.t("prep.spareHint"),
    );
    this.stocks = { acid: this.stock("acid"), base: this.stock("base") };
    this.paper = element(
      "select",
      { id: "paper-show", change: () => this.refresh("paper") },
      ...["student", "key"].map((key) => element("option", { value: key }, words.t(`paper.show.${key}`))),
    );
    this.spare.input.addEventListener("input", () => this.refresh("prep"));
  }

  /** What stands in a place. @param {Printed} place */
  children(place) {
    const { words } = this;
    const choices = {
      prep: [this.spare.root, ...Object.values(this.stocks).flatMap(({ select, other }) => [select, other.root])],
      safety: [],
      paper: [
        element("p", { class: "field" }, element("label", { for: "paper-show" }, words.t("paper.show")), this.paper),
      ],
    };
    return [
      element(
        "div",
        { class: "screen" },
        element("h2", { id: `${place}-heading`, tabindex: -1 }, words.t(`place.${place}`)),
        element("p", {}, words.t(`${place}.lead`)),
        element("div", { class: "groups" }, ...choices[place]),
        element(
          "p",
          { class: "buttons" },
          element("button", { type: "button", class: "primary", click: () => window.print() }, words.t("sheet.print")),
          element("span", { class: "quiet" }, words.t("sheet.printHint")),
        ),
      ),
      this.sheets[place],
    ];
  }

  /** The choice of a stock. @param {ReagentKey} reagent */
  stock(reagent) {
    const { words } = this;
    const id = `prep-${reagent}`;
    const other = new NumberField(`${id}-other`, words.t("prep.otherMolL"), "", "mol/L");
    other.root.hidden = true;
    const list = element(
      "select",
      {
        id,
        change: () => {
          other.root.hidden = list.value !== OTHER;
          this.refresh("prep");
        },
      },
      ...this.engine
        .prep(0, "", "")
        [reagent].stocks.map((stock) => element("option", { value: stock.key }, stockName(words, stock))),
      element("option", { value: OTHER }, words.t("prep.otherStock")),
    );
    other.input.addEventListener("input", () => this.refresh("prep"));
    const select = element(
      "p",
      { class: "field" },
      element("label", { for: id }, words.t(`prep.${reagent}Stock`)),
      list,
    );
    return { select, list, other };
  }

  /** Lays the sheets of a place out anew. @param {Printed} place */
  refresh(place) {
    this.sheets[place].replaceChildren(...this.laidOut(place));
  }

  /** @param {Printed} place @returns {HTMLElement[]} */
  laidOut(place) {
    const { engine, words } = this;
    const lesson = engine.lesson();
    const { fields, beakers } = engine.recipe();
    const recipe = Object.fromEntries(fields.map(({ key, value }) => [key, value]));
    const places = engine.outline();
    /** @type {Head} */
    const head = { lesson: lesson.title || words.t("sheet.untitled"), code: engine.lessonCode(), student: false };
    if (place === "paper" && this.paper.value === "student")
      return this.student({ ...head, student: true }, recipe, places);
    const { mode, stage } = engine.state();
    const covered = mode === "guided" && stage !== "brief" && stage !== "end";
    const [acid, base] = [this.chosen("acid"), this.chosen("base")];
    const safety = engine.safety(acid, base);
    // What to be careful of is told at any time; what gives the outcome away is not.
    if (place === "safety") return safetySheets(words, { ...head, cautious: true }, safety, covered);
    if (covered) return [element("p", { class: "warn screen" }, words.t("sheet.covered"))];
    if (place === "paper") return this.key(head);
    const prep = engine.prep(this.spares, acid, base);
    const steps = places.filter(({ reagent }) => reagent !== null);
    return prepSheets(words, head, { prep, recipe, beakers, steps, materials: safety.materials });
  }

  /** @param {Head} head @param {Record<string, number>} recipe @param {import("./desk-shapes.js").Place[]} places */
  student(head, recipe, places) {
    const { engine, words } = this;
    const { beakers } = engine.recipe();
    const made = engine.share();
    const link = made.ok && !FROM_FOLDER ? wholeLink(made.fragment) : "";
    const qr = link ? qrCode(engine, words, link) : null;
    const questions = engine.questions();
    const { shows } = engine.level();
    return studentSheets(words, head, {
      recipe,
      beakers,
      places,
      questions,
      subject: engine.subject(),
      shows,
      link,
      qr,
    });
  }

  /** @param {Head} head */
  key(head) {
    const { engine, words } = this;
    const plan = engine.plan(0);
    if (!plan.ok) return [element("p", { class: "warn screen" }, words.t("forecast.model"))];
    if (plan.pending > 0) {
      window.setTimeout(() => this.refresh("paper"));
      return [element("p", { class: "screen" }, words.t("paper.keyWaiting"))];
    }
    return keySheets(words, head, plan, engine.recipe().beakers, engine.questions());
  }

  /** Spare doses as typed; none where that is no number. */
  get spares() {
    return Math.max(0, Math.min(SPARE_MOST, Math.floor(Number(this.spare.typed)) || 0));
  }

  /** The key of a chosen stock, or its concentration as typed. @param {ReagentKey} reagent */
  chosen(reagent) {
    const { list, other } = this.stocks[reagent];
    return list.value === OTHER ? other.typed : list.value;
  }
}
