// The Ledger's blank twin: the same rows and columns, to be filled in by the student and checked cell by cell. It tells no
// figure before it is asked for it, and takes nothing away that was typed.

import { element } from "./element.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {import("./lesson-shapes.js").LedgerRow} LedgerRow
 * @typedef {{row: number, column: string, name: string, field: HTMLInputElement | HTMLSelectElement, said: HTMLElement}} Cell
 */

/** The column of what ran out: it is chosen, not typed. */
const CHOSEN = "limiting";
/** So many cells are spoken of at once; who mends them is told of the next. */
const MOST_TOLD = 5;

/** The twin. */
export class LedgerTwin {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {string[]} columns
   * @param {(row: LedgerRow, column: string) => string} figure a figure as the run's own books have it
   * @param {(sentence: string) => void} say speaks to those who listen
   * @param {() => void} acted after something was typed
   */
  constructor(engine, words, columns, figure, say, acted) {
    this.engine = engine;
    this.words = words;
    this.columns = [...columns, CHOSEN];
    this.figure = figure;
    this.say = say;
    this.acted = acted;
    this.beaker = 0;
    /** @type {Map<string, string>} what was typed, by beaker, row and column */
    this.typed = new Map();
    /** @type {Cell[]} */
    this.cells = [];
    this.shown = "";
    const t = words.t.bind(words);
    this.rows = element("tbody");
    this.told = element("p", { class: "twin-told" });
    this.looks = element("ul", { class: "twin-looks" });
    this.root = element(
      "div",
      { class: "ledger-twin" },
      element("p", {}, t("ledger.own.lead")),
      element(
        "div",
        { class: "wide", tabindex: 0, role: "group", "aria-label": t("ledger.own.caption") },
        element(
          "table",
          { class: "numbers" },
          element("caption", {}, t("ledger.own.caption")),
          element(
            "thead",
            {},
            element(
              "tr",
              {},
              ...["dose", ...this.columns].map((key) => element("th", { scope: "col" }, t(`ledger.${key}`))),
            ),
          ),
          this.rows,
        ),
      ),
      element(
        "p",
        { class: "buttons" },
        element("button", { type: "button", class: "primary", click: () => this.check() }, t("ledger.own.check")),
        element("button", { type: "button", click: () => this.empty() }, t("ledger.own.empty")),
      ),
      this.told,
      this.looks,
    );
  }

  /**
   * Follows the run: a row for each dose that was poured.
   * @param {number} beaker
   * @param {string[]} names of the rows
   */
  refresh(beaker, names) {
    const shown = [beaker, ...names].join("|");
    // Where nothing was poured meanwhile, every cell stays as it is, with what was said of it.
    if (shown === this.shown) return;
    this.shown = shown;
    this.beaker = beaker;
    this.cells = [];
    this.told.textContent = "";
    this.looks.replaceChildren();
    const rows = this.engine.ledger(beaker);
    this.rows.replaceChildren(
      ...names.map((name, row) =>
        element(
          "tr",
          {},
          element("th", { scope: "row" }, name),
          ...this.columns.map((column) =>
            element(
              "td",
              {},
              ...(column === CHOSEN && rows[row].reagent !== "acid" ? ["\u2013"] : this.cell(row, column, name)),
            ),
          ),
        ),
      ),
    );
  }

  /** @param {number} row @param {string} column @param {string} name @returns {HTMLElement[]} */
  cell(row, column, name) {
    const { words } = this;
    const id = `own-${row}-${column}`;
    const named = words.t("ledger.own.cell", { row: name, column: words.t(`ledger.${column}`) });
    const how = { id, "aria-label": named, "aria-describedby": `${id}-said`, input: () => this.keep(cell) };
    const field =
      column === CHOSEN
        ? element(
            "select",
            how,
            ...["", "acid", "solid", "both"].map((key) =>
              element("option", { value: key }, key === "" ? "\u2013" : words.t(`limiting.${key}`)),
            ),
          )
        : element("input", { ...how, type: "text", inputmode: "decimal", autocomplete: "off", maxlength: 12 });
    field.value = this.typed.get(this.key(row, column)) ?? "";
    const said = element("span", { class: "twin-said", id: `${id}-said` });
    /** @type {Cell} */
    const cell = { row, column, name: named, field, said };
    this.cells.push(cell);
    return [field, said];
  }

  /** Whether there is anything in it that would be lost with the page. */
  get isFilled() {
    return [...this.typed.values()].some((typed) => typed !== "");
  }

  /** @param {number} row @param {string} column */
  key(row, column) {
    return `${this.beaker} ${row} ${column}`;
  }

  /** Keeps what is typed; what was said of the cell is no longer so. @param {Cell} cell */
  keep(cell) {
    this.typed.set(this.key(cell.row, cell.column), cell.field.value);
    this.mark(cell, "", false);
    this.acted();
  }

  /** Goes on with what was typed before. @param {[string, string][]} typed by beaker, row and column */
  resume(typed) {
    this.typed = new Map(typed);
    this.shown = "";
  }

  /** @param {Cell} cell @param {string} word @param {boolean} wrong */
  mark(cell, word, wrong) {
    cell.said.textContent = word;
    cell.field.setAttribute("aria-invalid", String(wrong));
  }

  /** Says of each cell whether it is right, and what to look at where it is not. */
  check() {
    const { words } = this;
    const judged = this.cells.map((cell) => ({
      cell,
      key: this.engine.checkLedger(this.beaker, cell.row, cell.column, cell.field.value),
    }));
    for (const { cell, key } of judged)
      this.mark(cell, words.t(`ledger.own.said.${key}`), key !== "right" && key !== "empty");
    const off = judged.filter(({ key }) => key !== "right" && key !== "empty");
    const told = words.t("ledger.own.told", {
      right: judged.filter(({ key }) => key === "right").length,
      off: off.length,
      empty: judged.filter(({ key }) => key === "empty").length,
    });
    const more = off.length - MOST_TOLD;
    this.told.textContent = more > 0 ? `${told} ${words.t("ledger.own.more", { count: more })}` : told;
    this.looks.replaceChildren(...off.slice(0, MOST_TOLD).map(({ cell, key }) => this.look(cell, key)));
    this.say(told);
  }

  /** What to look at in a cell, and the figure for who asks for it. @param {Cell} cell @param {string} key */
  look(cell, key) {
    const { words } = this;
    const hint = words.t(key === "other" ? `ledger.look.${cell.column}` : `ledger.look.${key}`);
    const ask = element(
      "button",
      {
        type: "button",
        "aria-label": words.t("ledger.own.showFor", { cell: cell.name }),
        click: () => {
          const figure = this.figure(this.engine.ledger(this.beaker)[cell.row], cell.column);
          const answer = element("strong", { tabindex: -1 }, words.t("ledger.own.is", { figure }));
          ask.replaceWith(answer);
          answer.focus();
        },
      },
      words.t("ledger.own.show"),
    );
    return element("li", {}, element("strong", {}, `${cell.name}.`), " ", hint, " ", ask);
  }

  /** Begins again with empty cells. */
  empty() {
    for (const cell of this.cells) {
      cell.field.value = "";
      this.keep(cell);
    }
    this.told.textContent = "";
    this.looks.replaceChildren();
  }
}
