// The table of timed doses: typed row by row, or pasted from a spreadsheet.

import { element } from "./element.js";
import { TextField } from "./textfield.js";

/** @typedef {import("./i18n.js").Words} Words */

/** The columns in the core's order. */
const COLUMNS = /** @type {const} */ (["dose", "start", "end", "seconds", "finish", "beaker"]);
const FINISHES = ["orange", "yellow", "lime", "green", "teal", "blue", "violet"];
const FIRST_ROWS = 6;

/** The table. */
export class TimesTable {
  /**
   * @param {Words} words
   * @param {(text: string) => string[][]} read rows of a pasted text
   * @param {(sentence: string) => void} say
   */
  constructor(words, read, say) {
    this.words = words;
    this.read = read;
    this.say = say;
    const t = words.t.bind(words);
    this.body = element("tbody");
    this.paste = new TextField("data-paste", t("data.paste"), "", { rows: 3, hint: t("data.pasteHint") });
    this.root = element(
      "div",
      {},
      element(
        "div",
        { class: "wide", tabindex: 0, role: "region", "aria-label": t("data.times") },
        element(
          "table",
          { class: "typing" },
          element("caption", {}, t("data.timesCaption")),
          element(
            "thead",
            {},
            element(
              "tr",
              {},
              element("th", { scope: "col" }, t("data.row")),
              ...COLUMNS.map((column) => element("th", { scope: "col" }, t(`data.column.${column}`))),
              element("th", { scope: "col" }, t("data.trouble")),
            ),
          ),
          this.body,
        ),
      ),
      element(
        "p",
        { class: "buttons" },
        element("button", { type: "button", click: () => this.add() }, t("data.addRow")),
      ),
      this.paste.root,
      element(
        "p",
        { class: "buttons" },
        element("button", { type: "button", click: () => this.take() }, t("data.takePasted")),
      ),
    );
    for (let row = 0; row < FIRST_ROWS; row++) this.append(["", "", "", "", "green", ""]);
  }

  /** @returns {string[][]} what is typed; a row with nothing but its colour is empty */
  get rows() {
    return [...this.body.rows].map((row) => {
      const cells = fields(row).map((field) => field.value);
      return cells.every((cell, index) => index === 4 || cell.trim() === "") ? ["", "", "", "", "", ""] : cells;
    });
  }

  /** Whether something is typed. */
  get filled() {
    return this.rows.some((row) => row[0] !== "") || this.paste.typed !== "";
  }

  /** Begins with these rows. @param {string[][]} rows */
  begin(rows) {
    this.body.replaceChildren();
    for (const row of rows) this.append(row);
  }

  /** Appends a row and takes the hand there. */
  add() {
    fields(this.append(["", "", "", "", "green", ""]))[0].focus();
  }

  /** @param {string[]} cells */
  append(cells) {
    const number = this.body.rows.length + 1;
    const name = (/** @type {string} */ column) =>
      this.words.t("data.cell", { column: this.words.t(`data.column.${column}`), row: number });
    const row = element(
      "tr",
      {},
      element("th", { scope: "row" }, String(number)),
      ...COLUMNS.map((column, index) => element("td", {}, this.cell(column, cells[index], name(column)))),
      element("td", { class: "error" }),
    );
    this.body.append(row);
    return row;
  }

  /** @param {string} column @param {string} value @param {string} label */
  cell(column, value, label) {
    if (column !== "finish") {
      const field = element("input", { type: "text", inputmode: "decimal", autocomplete: "off", maxlength: 24 });
      field.setAttribute("aria-label", label);
      field.value = value;
      return field;
    }
    const choice = element(
      "select",
      { "aria-label": label },
      ...FINISHES.map((finish) => element("option", { value: finish }, this.words.t(`colour.${finish}`))),
    );
    choice.value = this.finish(value);
    return choice;
  }

  /** The key of a colour as it was written: its key, its name, or its first letter. @param {string} written */
  finish(written) {
    const plain = written.trim().toLowerCase();
    const named = (/** @type {string} */ finish) =>
      plain !== "" &&
      (finish === plain || this.words.t(`colour.${finish}`).toLowerCase() === plain || finish[0] === plain);
    return FINISHES.find(named) ?? "green";
  }

  /** Takes the pasted table: it stands behind what is typed. */
  take() {
    const rows = this.read(this.paste.typed);
    for (const row of [...this.body.rows])
      if (fields(row).every((field, index) => index === 4 || field.value.trim() === "")) row.remove();
    for (const [index, row] of [...this.body.rows].entries()) row.cells[0].textContent = String(index + 1);
    for (const row of rows) this.append(row);
    this.say(this.words.t("data.taken", { count: rows.length }));
  }

  /** Says at each row what is wrong in it. @param {import("./lesson-shapes.js").FieldError[]} errors */
  complain(errors) {
    for (const row of this.body.rows) {
      row.cells[7].textContent = "";
      for (const field of fields(row)) field.removeAttribute("aria-invalid");
    }
    for (const error of errors) {
      const row = this.body.rows[error.step ?? 0];
      const column = /** @type {readonly string[]} */ (COLUMNS).indexOf(error.field);
      const sentence = this.words.t(`error.${error.key}`, this.words.limits(error));
      fields(row)[column]?.setAttribute("aria-invalid", "true");
      row.cells[7].append(`${this.words.t(`data.column.${error.field}`)}: ${sentence} `);
    }
  }
}

/** @param {HTMLTableRowElement} row @returns {(HTMLInputElement | HTMLSelectElement)[]} */
function fields(row) {
  return [...row.querySelectorAll("input, select")].map((field) => /** @type {HTMLInputElement} */ (field));
}
