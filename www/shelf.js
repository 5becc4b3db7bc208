// What this device keeps, each under a key: in the browser's local storage, and once more in its journal, for the browser that is
// killed. Nothing of it leaves the device.

import { FORGOTTEN } from "./journal.js";

/** All that is kept stands under keys that begin so. */
const PREFIX = "turnback.kept.";
/** What this very tab keeps, for its own reload: its key stands under this and the part of the page. */
const MINE = "turnback.mine";
/** Set and taken away again, it tells the other tabs that everything is to be forgotten. */
const FORGET = "turnback.forget";

/** @typedef {"kept" | "forbidden" | "full"} State whether what was put away last is kept, or why not */

/** The shelf. */
export class Shelf {
  /**
   * @param {import("./journal.js").Journal | null} journal
   * @param {[string, string][]} entries what stands in it
   */
  constructor(journal, entries) {
    this.journal = journal;
    this.store = storage("localStorage");
    this.tab = storage("sessionStorage");
    /** What was kept last is of this time, ms; 0 before anything was. */
    this.savedAt = 0;
    /** @type {Map<string, () => void>} what a part of the page does when all is forgotten, here or in another tab */
    this.forgetters = new Map();
    /** Says that it was another tab. */
    this.forgottenElsewhere = () => {};
    window.addEventListener("storage", ({ key, newValue }) => {
      if (key === FORGET && newValue) this.letGo(true);
    });
    this.recover(entries);
  }

  /**
   * Puts something away as this tab's own.
   * @param {string} key a fresh one of this tab's
   * @param {object} record
   * @returns {State}
   */
  put(key, record) {
    if (!this.store) return "forbidden";
    const text = JSON.stringify({ ...record, saved: this.stamp() });
    /** @type {State} */
    let state = "kept";
    try {
      this.store.setItem(key, text);
      this.tab?.setItem(mineOf(partOf(key)), key);
    } catch {
      state = "full";
    }
    this.journal?.put(key, text);
    return state;
  }

  /** @param {string} key @returns {any} what stands there, or nothing where it can't be read */
  read(key) {
    return parsed(this.store?.getItem(key) ?? "");
  }

  /** @param {string} key */
  remove(key) {
    this.store?.removeItem(key);
    this.journal?.remove(key);
  }

  /** @param {string} [part] @returns {string[]} every key of this part of the page, those of other tabs too */
  keys(part = "") {
    return this.all().filter((key) => partOf(key) === part);
  }

  /** @param {string} [part] @returns {string} the key of what this very tab put away of it, or nothing */
  mine(part = "") {
    return this.tab?.getItem(mineOf(part)) ?? "";
  }

  /** What this tab put away is no longer what it is at. @param {string} [part] */
  turnOver(part = "") {
    this.tab?.removeItem(mineOf(part));
  }

  /** @returns {number} ms, later than everything that is kept here, whatever the device's clock says */
  stamp() {
    const now = Date.now();
    // A clock that was set back says nothing of what is newest, here and in other tabs: then each counts on from the last of all.
    const last =
      now > this.savedAt && this.savedAt > 0
        ? 0
        : Math.max(this.savedAt, ...this.all().map((key) => savedAt(this.read(key))));
    this.savedAt = Math.max(now, last + 1);
    return this.savedAt;
  }

  /** Takes back what stands in the journal and never came to the disk, or was never taken from it. @param {[string, string][]} entries */
  recover(entries) {
    const forgotten = Number(entries.find(([key]) => key === FORGOTTEN)?.[1] ?? 0);
    if (forgotten > 0)
      for (const key of this.all()) if (savedAt(this.read(key)) <= forgotten) this.store?.removeItem(key);
    for (const [key, text] of entries) {
      if (!key.startsWith(PREFIX) || savedAt(this.read(key)) >= savedAt(parsed(text))) continue;
      try {
        this.store?.setItem(key, text);
      } catch {
        // It stays in the journal, for when there is room.
      }
    }
  }

  /** Forgets everything that was kept here, and what other tabs are at. @returns {Promise<void>} when it is gone */
  forget() {
    const at = this.stamp();
    for (const key of this.all()) this.store?.removeItem(key);
    try {
      this.store?.setItem(FORGET, String(at));
      this.store?.removeItem(FORGET);
    } catch {
      // So full that there is no room for the word: other tabs go on with theirs.
    }
    this.letGo(false);
    return this.journal?.forget(at) ?? Promise.resolve();
  }

  /** What this tab is at is forgotten. @param {boolean} elsewhere whether another tab wanted it */
  letGo(elsewhere) {
    for (const [part, forget] of this.forgetters) {
      const mine = this.mine(part);
      // It may have put something away after the other had cleared the shelf.
      if (mine) this.remove(mine);
      this.turnOver(part);
      forget();
    }
    if (elsewhere) this.forgottenElsewhere();
  }

  /** @returns {string[]} */
  all() {
    return this.store ? Object.keys(this.store).filter((key) => key.startsWith(PREFIX)) : [];
  }
}

/** Chance, not a person: two tabs must not write over each other. @param {string} [part] of the page; a lesson unless told */
export function freshKey(part = "") {
  const bytes = crypto.getRandomValues(new Uint8Array(8));
  const chance = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return PREFIX + (part && `${part}.`) + chance;
}

/** @param {string} key */
function partOf(key) {
  const [part, chance] = key.slice(PREFIX.length).split(".");
  return chance === undefined ? "" : part;
}

/** @param {string} part */
function mineOf(part) {
  return part ? `${MINE}.${part}` : MINE;
}

/** @param {string} text @returns {any} nothing where it can't be read */
function parsed(text) {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/** When it was put away, ms; 0 where it doesn't say. @param {any} record */
function savedAt(record) {
  return Number(record?.saved) || 0;
}

/**
 * A storage of the browser, or nothing where it is forbidden.
 * @param {"localStorage" | "sessionStorage"} name
 * @returns {Storage | null}
 */
function storage(name) {
  try {
    const store = window[name];
    store.setItem(`${PREFIX}try`, "");
    store.removeItem(`${PREFIX}try`);
    return store;
  } catch {
    return null;
  }
}
