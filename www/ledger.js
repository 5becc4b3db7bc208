// The Ledger: moles of acid and solid before and after each dose. Its rows appear as the doses are poured.

import { beakerName } from "./beaker.js";
import { element } from "./element.js";
import { LedgerTwin } from "./ledgertwin.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./i18n.js").Words} Words
 */

const COLUMNS = ["hclMmol", "naohMmol", "solidUsedMmol", "solidLeftMmol", "solidLeftG", "hydrogenLeftMmol"];
/** Figures of each column, as the hand table of a class has them. */
const DECIMALS = /** @type {Record<string, number>} */ ({ solidLeftG: 3 });

/** The place. */
export class Ledger {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {(sentence: string) => void} say speaks to those who listen
   * @param {() => void} acted after something was typed
   */
  constructor(engine, words, say, acted) {
    this.engine = engine;
    this.words = words;
    this.rows = element("tbody", { id: "ledger-rows" });
    const t = words.t.bind(words);
    this.beaker = element("select", { id: "ledger-beaker", change: () => this.refresh() });
    this.choice = element(
      "p",
      { class: "field" },
      element("label", { for: "ledger-beaker" }, t("ledger.beaker")),
      this.beaker,
    );
    this.twin = new LedgerTwin(engine, words, COLUMNS, (row, column) => ledgerCell(words, row, column), say, acted);
    this.filled = element(
      "div",
      {},
      element(
        "div",
        // A wide table scrolls in its own box, which the keyboard must be able to reach.
        { class: "wide", tabindex: 0, role: "group", "aria-label": t("ledger.caption") },
        element(
          "table",
          { class: "numbers" },
          element("caption", {}, t("ledger.caption")),
          element(
            "thead",
            {},
            element("tr", {}, ...ledgerHead(words).map((title) => element("th", { scope: "col" }, title))),
          ),
          this.rows,
        ),
      ),
    );
    const side = (/** @type {string} */ key, /** @type {boolean} */ own) =>
      element("button", { type: "button", click: () => this.turn(own) }, t(key));
    this.sides = [side("ledger.run", false), side("ledger.own", true)];
    this.children = [
      element("h2", { id: "ledger-heading", tabindex: -1 }, t("ledger.heading")),
      element("p", {}, t("ledger.lead")),
      element("p", { class: "buttons" }, ...this.sides),
      this.choice,
      this.filled,
      this.twin.root,
      element("p", { class: "quiet" }, t("ledger.note")),
    ];
    this.turn(false);
  }

  /** Shows the run's books or one's own; never both, so that the one is not copied from the other unseen. @param {boolean} own */
  turn(own) {
    this.filled.hidden = own;
    this.twin.root.hidden = !own;
    this.sides.forEach((side, at) => {
      side.setAttribute("aria-pressed", String((at === 1) === own));
    });
  }

  /** Writes the rows as far as the doses are poured. */
  refresh() {
    const { words } = this;
    const { beakers } = this.engine.recipe();
    // In the guided lesson every beaker gets the same, so one table stands for all.
    this.choice.hidden = this.engine.state().mode === "guided" || beakers.length === 1;
    const beaker = this.choice.hidden ? 0 : Math.max(0, this.beaker.selectedIndex);
    this.beaker.replaceChildren(
      ...beakers.map((_, index) =>
        element("option", { selected: index === beaker }, beakerName(words, beakers, index)),
      ),
    );
    const cells = ledgerCells(words, this.engine.ledger(beaker));
    this.twin.refresh(
      beaker,
      cells.map(([name]) => name),
    );
    this.rows.replaceChildren(
      ...cells.map(([name, ...cells]) =>
        element("tr", {}, element("th", { scope: "row" }, name), ...cells.map((cell) => element("td", {}, cell))),
      ),
    );
  }
}

/** The titles of the columns. @param {Words} words */
export function ledgerHead(words) {
  return ["dose", ...COLUMNS, "limiting"].map((key) => words.t(`ledger.${key}`));
}

/**
 * The rows in words and figures.
 * @param {Words} words
 * @param {import("./lesson-shapes.js").LedgerRow[]} rows
 */
export function ledgerCells(words, rows) {
  const counted = { acid: 0, base: 0 };
  return rows.map((row) => {
    const reagent = row.reagent === "base" ? "base" : row.reagent === "acid" ? "acid" : null;
    if (reagent) counted[reagent] += 1;
    return [
      reagent ? words.t(`dose.${reagent}`, { number: counted[reagent] }) : words.t("ledger.start"),
      ...[...COLUMNS, "limiting"].map((column) => ledgerCell(words, row, column)),
    ];
  });
}

/** One cell in words or figures. @param {Words} words @param {import("./lesson-shapes.js").LedgerRow} row @param {string} column */
function ledgerCell(words, row, column) {
  if (column !== "limiting") return figure(words, row[column], DECIMALS[column] ?? 2);
  return row.limiting ? words.t(`limiting.${row.limiting}`) : "\u2013";
}

/** @param {Words} words @param {string | number | null | undefined} value @param {number} decimals */
function figure(words, value, decimals) {
  return value === null || value === undefined ? "\u2013" : words.number(Number(value), decimals);
}
