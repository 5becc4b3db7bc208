// One chart at its place: the drawing, the reading mark under pointer and arrow keys, the table of the same points, the files.

import { chart } from "./chart.js";
import { saveCsv, savePng, saveSvg } from "./chartfile.js";
import { element } from "./element.js";

/**
 * @typedef {import("./chart.js").Figure} Figure
 * @typedef {import("./i18n.js").Words} Words
 *
 * @typedef {object} Turns what the place does for a chart
 * @property {(sentence: string) => void} say speaks to those who listen
 * @property {(x: number) => void} pointed knows which x is read
 * @property {(share: number, x: number) => void} zoom shows this share of the time, about an x
 * @property {(from: number, to: number) => void} cut shows the time between two x
 * @property {(columns: import("./chart.js").Column[]) => string} csv
 * @property {(figure: Figure, ending: string) => string} fileName
 */

/** Of a drawing, px. */
const HEIGHT = 300;
/** The size of letters that the drawing's own fit to, px. */
const PLAIN_FACE_PX = 16;
/** A pointer that moved less than this has pressed, not drawn, px. */
const LEAST_CUT = 12;
/** Page up and down go so many points. */
const LEAP = 10;

/** The chart. */
export class Plot {
  /**
   * @param {Words} words
   * @param {string} key
   * @param {Turns} turns
   * @param {boolean} zooms
   */
  constructor(words, key, turns, zooms) {
    this.words = words;
    this.turns = turns;
    this.zooms = zooms;
    /** @type {Figure | null} */
    this.figure = null;
    /** @type {import("./chart.js").Drawn | null} */
    this.drawn = null;
    this.point = -1;
    this.width = 0;
    /** How large a px of the drawing is on the page. */
    this.large = 1;
    /** @type {number | null} where a stretch begins to be drawn, px */
    this.pressedAt = null;
    const t = words.t.bind(words);
    const id = `trace-${key}`;
    this.heading = element("h3", { id });
    this.box = element("div", {
      class: "plot",
      tabindex: 0,
      role: "application",
      "aria-labelledby": id,
      "aria-describedby": `${id}-read trace-keys`,
      keydown: (/** @type {KeyboardEvent} */ event) => this.key(event),
      focus: () => this.begin(),
      pointermove: (/** @type {PointerEvent} */ event) => this.hover(event),
      pointerdown: (/** @type {PointerEvent} */ event) => this.press(event),
      pointerup: (/** @type {PointerEvent} */ event) => this.release(event),
    });
    this.reading = element("p", { class: "reading-words", id: `${id}-read` });
    this.note = element("p", { class: "quiet" });
    this.table = element("div", {});
    this.twin = element(
      "details",
      { toggle: () => this.fillTable() },
      element("summary", {}, t("trace.table")),
      this.table,
    );
    const save = (/** @type {string} */ ending, /** @type {() => void | Promise<void>} */ act) =>
      element(
        "button",
        {
          type: "button",
          "aria-describedby": id,
          click: async () => {
            try {
              await act();
              turns.say(t("trace.saved"));
            } catch {
              turns.say(t("trace.notSaved"));
            }
          },
        },
        t(`trace.save.${ending}`),
      );
    const name = (/** @type {string} */ ending) => turns.fileName(this.known, ending);
    this.files = element(
      "p",
      { class: "buttons" },
      save("png", () => savePng(words, this.known, name("png"))),
      save("svg", () => saveSvg(words, this.known, name("svg"))),
      save("csv", () => saveCsv(turns.csv(this.known.columns), name("csv"))),
    );
    this.above = element("div", {});
    this.root = element(
      "section",
      { class: "trace-chart", "aria-labelledby": id, "data-chart": key },
      this.heading,
      this.above,
      this.box,
      this.reading,
      this.note,
      this.twin,
      this.files,
    );
    new ResizeObserver(() => this.draw()).observe(this.box);
  }

  /** The figure that is shown. @returns {Figure} */
  get known() {
    if (!this.figure) throw new Error("a chart without its figure was asked for");
    return this.figure;
  }

  /** Shows a figure. @param {Figure} figure */
  show(figure) {
    const { words } = this;
    const x = this.figure && this.point >= 0 ? this.figure.at[this.point] : null;
    this.figure = figure;
    this.point = x === null ? -1 : figure.at.indexOf(x);
    this.heading.textContent = figure.title;
    this.note.textContent = figure.note;
    const isEmpty = figure.at.length === 0;
    this.box.hidden = isEmpty;
    this.twin.hidden = isEmpty;
    this.files.hidden = isEmpty;
    this.reading.textContent = isEmpty ? words.t("trace.empty") : words.t("trace.point");
    this.width = 0;
    this.draw();
    this.fillTable();
  }

  /** Draws as wide as the place is. */
  draw() {
    const width = Math.floor(this.box.clientWidth);
    if (!this.figure || width < 40 || width === this.width) return;
    this.width = width;
    // Words on a chart are as large as those around it: on a projector, or for eyes that asked for large letters.
    this.large = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / PLAIN_FACE_PX;
    this.drawn = chart(this.words, this.figure, { width: width / this.large, height: HEIGHT });
    this.drawn.root.setAttribute("width", String(width));
    this.drawn.root.setAttribute("height", String(HEIGHT * this.large));
    this.box.replaceChildren(this.drawn.root);
    if (this.point >= 0) this.read(this.point);
  }

  /** The table of the very points that are drawn, as soon as somebody opens it. */
  fillTable() {
    if (!this.figure || !this.twin.open) return this.table.replaceChildren();
    const { columns, title } = this.figure;
    const written = (/** @type {import("./chart.js").Column} */ { cells, decimals, shown }) =>
      cells.map((cell) => {
        if (typeof cell === "string") return this.words.has(`colour.${cell}`) ? this.words.t(`colour.${cell}`) : cell;
        if (shown) return shown(cell);
        return Number.isFinite(cell) ? this.words.number(cell, decimals ?? 0) : "\u2013";
      });
    const cells = columns.map(written);
    const rows = cells[0].map((name, row) =>
      element(
        "tr",
        {},
        element("th", { scope: "row" }, name),
        ...cells.slice(1).map((column) => element("td", {}, column[row])),
      ),
    );
    this.table.replaceChildren(
      element(
        "div",
        { class: "wide trace-table", tabindex: 0, role: "group", "aria-label": title },
        element(
          "table",
          { class: "numbers" },
          element("caption", { class: "unseen" }, title),
          element(
            "thead",
            {},
            element("tr", {}, ...columns.map((column) => element("th", { scope: "col" }, column.title))),
          ),
          element("tbody", {}, ...rows),
        ),
      ),
    );
  }

  /** Sets the reading mark on a point and says below the chart what it is. @param {number} point */
  read(point) {
    if (!this.figure || !this.drawn || !(point in this.figure.at)) return;
    this.point = point;
    this.drawn.show(point);
    const sentence = this.figure.read(point);
    if (this.reading.textContent !== sentence) this.reading.textContent = sentence;
    this.turns.pointed(this.figure.at[point]);
  }

  /** The keyboard has come: it begins at the last point. */
  begin() {
    if (this.figure && this.point < 0) this.read(this.figure.at.length - 1);
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (!this.figure || event.ctrlKey || event.altKey || event.metaKey) return;
    const last = this.figure.at.length - 1;
    /** @type {Record<string, number>} */
    const goes = {
      ArrowLeft: this.point - 1,
      ArrowRight: this.point + 1,
      PageUp: this.point - LEAP,
      PageDown: this.point + LEAP,
      Home: 0,
      End: last,
    };
    if (event.key in goes) {
      this.read(Math.max(0, Math.min(last, goes[event.key])));
      this.turns.say(this.figure.read(this.point));
    } else if (this.zooms && event.key === "+") this.turns.zoom(0.5, this.figure.at[this.point]);
    else if (this.zooms && event.key === "-") this.turns.zoom(2, this.figure.at[this.point]);
    else return;
    event.preventDefault();
  }

  /** @param {PointerEvent} event */
  place(event) {
    return (event.clientX - this.box.getBoundingClientRect().left) / this.large;
  }

  /** @param {PointerEvent} event */
  hover(event) {
    if (this.drawn) this.read(this.drawn.point(this.place(event)));
  }

  /** @param {PointerEvent} event */
  press(event) {
    this.hover(event);
    if (this.zooms && event.pointerType === "mouse" && event.button === 0) this.pressedAt = this.place(event);
  }

  /** @param {PointerEvent} event */
  release(event) {
    const from = this.pressedAt;
    this.pressedAt = null;
    if (from === null || !this.drawn || Math.abs(this.place(event) - from) < LEAST_CUT) return;
    const [low, high] = [from, this.place(event)].sort((one, other) => one - other).map(this.drawn.value);
    this.turns.cut(low, high);
  }
}
