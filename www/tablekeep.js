// What this device keeps of the table of measured times: numbers, and no name. A reload, a crash and a closed tab lose nothing.

import { freshKey, PREFIX, storage } from "./keep.js";

/** Behind the beginning that all has which is kept here, so that it is forgotten with it. */
const PART = "table.";
/** The key of this tab, for its own reload. */
const MINE = "turnback.table";

/**
 * @typedef {object} KeptTable
 * @property {{cells: string[], used: boolean, pasted: boolean}[]} rows
 * @property {string} paste what stands in the box and was not taken yet
 */

/** The keeper of the table. */
export class TableKeep {
  constructor() {
    this.store = storage("localStorage");
    this.tab = storage("sessionStorage");
    this.key = freshKey(PART);
  }

  /** What this very tab had, else the newest of this device. @returns {KeptTable | null} */
  read() {
    if (!this.store) return null;
    const mine = this.tab?.getItem(MINE) ?? "";
    const all = Object.keys(this.store).filter((key) => key.startsWith(PREFIX + PART));
    const kept = all.flatMap((key) => this.parsed(key) ?? []).sort((one, other) => other.saved - one.saved);
    const found = kept.find(({ key }) => key === mine) ?? kept[0];
    if (!found) return null;
    // From here it is this tab's. A tab that is still at it keeps it anew with its next letter.
    if (this.write(found.table)) this.store.removeItem(found.key);
    return found.table;
  }

  /** @param {string} key @returns {{key: string, saved: number, table: KeptTable} | null} nothing where it can't be read */
  parsed(key) {
    try {
      const { saved, table } = JSON.parse(this.store?.getItem(key) ?? "");
      const whole = table.rows.every(
        (/** @type {any} */ row) =>
          row.cells.length === 6 && row.cells.every((/** @type {any} */ cell) => typeof cell === "string"),
      );
      return whole && typeof table.paste === "string" ? { key, saved: Number(saved), table } : null;
    } catch {
      return null;
    }
  }

  /** Keeps it, or takes it away where nothing is in it. @param {KeptTable} table @returns {boolean} whether it is kept */
  write(table) {
    if (!this.store) return false;
    try {
      if (table.rows.length === 0 && table.paste === "") this.store.removeItem(this.key);
      else this.store.setItem(this.key, JSON.stringify({ saved: Date.now(), table }));
      this.tab?.setItem(MINE, this.key);
      return true;
    } catch {
      return false;
    }
  }
}
