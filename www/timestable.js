// The table of doses that were timed at real beakers: typed row by row, or pasted from a spreadsheet, and kept on this device.

import { element } from "./element.js";
import { Jotter } from "./jotter.js";
import { TextField } from "./textfield.js";

/**
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {HTMLInputElement | HTMLSelectElement} Cell
 *
 * @typedef {object} KeptTable
 * @property {{cells: string[], used: boolean, pasted: boolean}[]} rows
 * @property {string} paste what stands in the box and was not taken yet
 */

/** The columns in the core's order, and the unit of what may be typed. */
export const COLUMNS = /** @type {const} */ (["dose", "start", "end", "seconds", "finish", "beaker"]);
const UNITS = /** @type {Record<string, string>} */ ({ start: "°C", end: "°C", seconds: "s" });
const FINISHES = ["orange", "yellow", "lime", "green", "teal", "blue", "violet"];
const FINISH = 4;
const EMPTY = ["", "", "", "", "green", ""];
const FIRST_ROWS = 6;

/** The table. */
export class TimesTable {
  /**
   * @param {Words} words
   * @param {(text: string) => string[][]} read rows of a pasted text
   * @param {(sentence: string) => void} say
   * @param {() => void} changed after a row was typed, taken or left out
   * @param {import("./shelf.js").Shelf} shelf keeps it: numbers, and no name
   */
  constructor(words, read, say, changed, shelf) {
    this.words = words;
    this.read = read;
    this.say = say;
    this.changed = changed;
    const t = words.t.bind(words);
    this.jotter = new Jotter(shelf, "table", isTable, () => this.forget());
    this.body = element("tbody", { keydown: (/** @type {KeyboardEvent} */ event) => this.down(event) });
    this.paste = new TextField("data-paste", t("data.paste"), "", { rows: 3, hint: t("data.pasteHint") });
    this.said = element("p", { class: "quiet", id: "data-said" });
    this.warning = element("p", { class: "warn", hidden: true }, t("data.notKept"));
    const button = (/** @type {string} */ key, /** @type {() => void} */ act) =>
      element("button", { type: "button", click: act }, t(key));
    this.out = button("data.takeOut", () => this.takeOut());
    this.empty = button("data.empty", () => this.clear());
    this.back = button("data.bringBack", () => this.bringBack());
    /** @type {KeptTable | null} what stood here before the table was emptied */
    this.before = null;
    this.root = element(
      "div",
      { input: () => this.typed(), change: () => this.typed() },
      timesTable(words, t("data.timesCaption"), this.body),
      element(
        "p",
        { class: "buttons" },
        button("data.addRow", () => this.add()),
        this.empty,
        this.back,
      ),
      this.paste.root,
      element(
        "p",
        { class: "buttons" },
        button("data.takePasted", () => this.take()),
        this.out,
      ),
      this.said,
      this.warning,
    );
    const kept = this.jotter.read();
    this.restore(kept ?? { rows: [], paste: "" });
    if (kept) this.said.textContent = t("data.wasKept", { count: kept.rows.length });
  }

  /** @returns {string[][]} what is to be fitted, in the places of its rows: a row that is empty or left out has nothing in it */
  get rows() {
    return [...this.body.rows].map((row) => (isUsed(row) && !isEmpty(row) ? typedIn(row) : EMPTY.map(() => "")));
  }

  /** How many rows are to be fitted. */
  get count() {
    return [...this.body.rows].filter((row) => isUsed(row) && !isEmpty(row)).length;
  }

  /** Whether something is typed that this device does not keep. */
  get unsaved() {
    return !this.jotter.isKept && !isBlank(this.state);
  }

  /** @returns {KeptTable} everything that is typed */
  get state() {
    const rows = [...this.body.rows].filter((row) => !isEmpty(row));
    const kept = rows.map((row) => ({ cells: typedIn(row), used: isUsed(row), pasted: isPasted(row) }));
    return { rows: kept, paste: this.paste.typed };
  }

  /** Puts what was typed before into the table. @param {KeptTable} state */
  restore({ rows, paste }) {
    this.body.replaceChildren();
    for (const { cells, used, pasted } of rows) this.append(cells, used, pasted);
    while (this.body.rows.length < FIRST_ROWS) this.append(EMPTY);
    this.paste.input.value = paste;
    this.settle();
  }

  /** Takes over what was typed before the page spoke another language. @param {TimesTable} before */
  goOnFrom(before) {
    this.restore(before.state);
    this.said.textContent = "";
    this.save();
  }

  /** Forgets what is typed here. */
  forget() {
    this.before = null;
    this.restore({ rows: [], paste: "" });
    this.said.textContent = "";
  }

  /** After a letter or a choice. */
  typed() {
    this.before = null;
    this.save();
    this.settle();
  }

  /** Keeps it on this device, and says so once where that can't be. */
  save() {
    const { state } = this;
    this.jotter.write(isBlank(state) ? null : state);
    this.warning.hidden = !this.unsaved;
  }

  /** What hangs on the rows: their numbers, the buttons, and what is fitted. */
  settle() {
    for (const [index, row] of [...this.body.rows].entries()) {
      row.classList.toggle("left-out", !isUsed(row));
      const number = index + 1;
      if (row.cells[0].textContent === String(number)) continue;
      row.cells[0].textContent = String(number);
      const name = (/** @type {string} */ column) =>
        this.words.t("data.cell", { column: this.words.t(`data.column.${column}`), row: number });
      row.cells[1].querySelector("input")?.setAttribute("aria-label", name("use"));
      for (const [place, field] of fields(row).entries()) field.setAttribute("aria-label", name(COLUMNS[place]));
    }
    this.out.hidden = ![...this.body.rows].some(isPasted);
    this.empty.hidden = [...this.body.rows].every(isEmpty);
    this.back.hidden = this.before === null;
    this.changed();
  }

  /** Appends a row and takes the hand there. */
  add() {
    const row = this.append(EMPTY);
    this.settle();
    fields(row)[0].focus();
  }

  /** Enter goes to the cell below, as in a spreadsheet; below the last row begins another. @param {KeyboardEvent} event */
  down(event) {
    const cell = /** @type {Cell} */ (event.target);
    const row = cell.closest("tr");
    if (event.key !== "Enter" || cell.localName !== "input" || cell.type !== "text" || !row) return;
    event.preventDefault();
    const column = fields(row).indexOf(cell);
    const below = this.body.rows[row.sectionRowIndex + 1] ?? this.append(EMPTY);
    this.settle();
    fields(below)[column].focus();
  }

  /** @param {string[]} cells @param {boolean} [used] @param {boolean} [pasted] */
  append(cells, used = true, pasted = false) {
    const row = element(
      "tr",
      { "data-from": pasted ? "pasted" : "typed" },
      element("th", { scope: "row" }),
      element(
        "td",
        {},
        element("label", { class: "finger-box" }, element("input", { type: "checkbox", checked: used })),
      ),
      ...COLUMNS.map((column, index) => element("td", {}, this.cell(column, cells[index]))),
      element("td", { class: "quiet" }, pasted ? this.words.t("data.from.pasted") : ""),
      element("td", { class: "error" }),
    );
    row.addEventListener("input", (event) => {
      // What a hand has mended is no longer what was pasted.
      if (/** @type {HTMLInputElement} */ (event.target).type === "checkbox") return;
      row.dataset.from = "typed";
      row.cells[8].textContent = isEmpty(row) ? "" : this.words.t("data.from.typed");
    });
    if (!pasted && !isEmpty(row)) row.cells[8].textContent = this.words.t("data.from.typed");
    this.body.append(row);
    return row;
  }

  /** @param {string} column @param {string} value */
  cell(column, value) {
    if (column !== "finish") {
      const field = element("input", { type: "text", inputmode: "decimal", autocomplete: "off", maxlength: 24 });
      field.value = value;
      return field;
    }
    const finish = this.finish(value);
    // A word that is no colour stands as it was written, for a person to judge.
    const finishes = FINISHES.includes(finish) ? FINISHES : [finish, ...FINISHES];
    const name = (/** @type {string} */ key) => (FINISHES.includes(key) ? this.words.t(`colour.${key}`) : key);
    const choice = element("select", {}, ...finishes.map((key) => element("option", { value: key }, name(key))));
    choice.value = finish;
    return choice;
  }

  /** The key of a colour as it was written: its key, its name, or its first letter; else what was written. @param {string} written */
  finish(written) {
    const plain = written.trim().toLowerCase();
    const named = (/** @type {string} */ finish) =>
      finish === plain || this.words.t(`colour.${finish}`).toLowerCase() === plain || finish[0] === plain;
    return plain === "" ? "green" : (FINISHES.find(named) ?? written.trim());
  }

  /** Takes the pasted table: it stands behind what is typed. Rows that stand here already are not taken twice. */
  take() {
    const { words } = this;
    const rows = this.read(this.paste.typed);
    if (rows.length === 0) return this.tell(words.t("data.nothingPasted"));
    for (const row of [...this.body.rows]) if (isEmpty(row)) row.remove();
    const there = [...this.body.rows].map((row) => likeness(typedIn(row)));
    let known = 0;
    for (const cells of rows) {
      const place = there.indexOf(likeness(cells.map((cell, index) => (index === FINISH ? this.finish(cell) : cell))));
      if (place >= 0) {
        // Two alike in the text are two measurements: each that stands here answers for one of them.
        there.splice(place, 1);
        known += 1;
      } else this.append(cells, true, true);
    }
    this.paste.input.value = "";
    this.typed();
    const taken = words.t("data.taken", { count: rows.length - known });
    this.tell(known > 0 ? `${taken} ${words.t("data.known", { count: known })}` : taken);
  }

  /** Takes the pasted rows out again; those that a hand has changed since stay. */
  takeOut() {
    const pasted = [...this.body.rows].filter(isPasted);
    for (const row of pasted) row.remove();
    while (this.body.rows.length < FIRST_ROWS) this.append(EMPTY);
    this.typed();
    this.tell(this.words.t("data.takenOut", { count: pasted.length }));
    fields(this.body.rows[0])[0].focus();
  }

  /** Empties the table. It can be brought back until something else is typed. */
  clear() {
    const before = this.state;
    this.restore({ rows: [], paste: before.paste });
    this.save();
    this.before = before;
    this.settle();
    this.tell(this.words.t("data.emptied", { count: before.rows.length }));
    this.back.focus();
  }

  /** Brings back what stood here before the table was emptied. */
  bringBack() {
    if (this.before) this.restore(this.before);
    this.before = null;
    this.typed();
    this.tell("");
    fields(this.body.rows[0])[0].focus();
  }

  /** @param {string} sentence */
  tell(sentence) {
    this.said.textContent = sentence;
    this.say(sentence);
  }

  /** Says at each row what is wrong in it, and takes the hand to the first. @param {import("./lesson-shapes.js").FieldError[]} errors */
  complain(errors) {
    complainIn(this.words, this.body, errors);
    for (const row of this.body.rows) for (const field of fields(row)) field.removeAttribute("aria-invalid");
    const wrong = errors.map(({ step, field }) => {
      const cell = fields(this.body.rows[step ?? 0])[COLUMNS.indexOf(/** @type {"dose"} */ (field))];
      cell?.setAttribute("aria-invalid", "true");
      return cell;
    });
    wrong[0]?.focus();
  }
}

/** A table of times with its heads. @param {Words} words @param {string} caption @param {HTMLTableSectionElement} body */
export function timesTable(words, caption, body) {
  const heads = ["row", "column.use", ...COLUMNS.map((column) => `column.${column}`), "column.from", "trouble"];
  return element(
    "div",
    { class: "wide rows", tabindex: 0, role: "region", "aria-label": caption },
    element(
      "table",
      { class: "typing" },
      element("caption", {}, caption),
      element(
        "thead",
        {},
        element("tr", {}, ...heads.map((head) => element("th", { scope: "col" }, words.t(`data.${head}`)))),
      ),
      body,
    ),
  );
}

/** What is wrong in a cell. @param {Words} words @param {import("./lesson-shapes.js").FieldError} error */
export function cellTrouble(words, error) {
  const sentence = words.t(`error.${error.key}`, words.limits({ ...error, unit: UNITS[error.field] ?? "" }));
  return `${words.t(`data.column.${error.field}`)}: ${sentence}`;
}

/** Says at the end of each row what is wrong in it. @param {Words} words @param {HTMLTableSectionElement} body @param {import("./lesson-shapes.js").FieldError[]} errors */
export function complainIn(words, body, errors) {
  for (const row of body.rows) {
    const own = errors.filter(({ step }) => body.rows[step ?? 0] === row);
    row.cells[row.cells.length - 1].textContent = own.map((error) => cellTrouble(words, error)).join(" ");
  }
}

/** @param {HTMLTableRowElement} row @returns {boolean} */
export function isUsed(row) {
  return row.querySelector("input")?.checked ?? false;
}

/** @param {HTMLTableRowElement} row @returns {Cell[]} what is typed into */
function fields(row) {
  return [.../** @type {NodeListOf<Cell>} */ (row.querySelectorAll("input[type=text], select"))];
}

/** @param {HTMLTableRowElement} row */
function typedIn(row) {
  return fields(row).map((field) => field.value);
}

/** @param {KeptTable} table whether nothing is typed */
function isBlank({ rows, paste }) {
  return rows.length === 0 && paste === "";
}

/** @param {any} kept @returns {kept is KeptTable} */
function isTable(kept) {
  const isText = (/** @type {any} */ cell) => typeof cell === "string";
  const isRow = (/** @type {any} */ row) => row?.cells?.length === COLUMNS.length && row.cells.every(isText);
  return Array.isArray(kept?.rows) && kept.rows.every(isRow) && isText(kept.paste);
}

/** Whether a row has nothing but its colour. @param {HTMLTableRowElement} row */
function isEmpty(row) {
  return typedIn(row).every((cell, index) => index === FINISH || cell.trim() === "");
}

/** @param {HTMLTableRowElement} row */
function isPasted(row) {
  return row.dataset.from === "pasted";
}

/** What two rows have alike that say the same. @param {string[]} cells */
function likeness(cells) {
  return cells.map((cell) => cell.trim().replace(",", ".")).join("|");
}
