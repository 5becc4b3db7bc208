// What this device keeps of a lesson: its record as it grows, under a key of this tab's own, and a journal of it for the browser
// that is killed. Nothing of it leaves the device, and no name is in it but one that was typed.

import { FORGOTTEN } from "./journal.js";

/** All that is kept stands under keys that begin so. */
export const PREFIX = "turnback.kept.";
/** The key of this tab, for its own reload. */
const MINE = "turnback.mine";
/** While the clock runs, its time is kept this often, ms. */
const BEAT_MS = 2000;

/**
 * @typedef {object} Kept
 * @property {string} kept the core's text
 * @property {string} run the run that is told again, or nothing
 * @property {string} link the lesson
 * @property {number} saved ms, to tell which is the newest: later than all that was kept before, whatever the device's clock says
 * @property {string} handedIn the line that was handed in last
 * @property {Draft | null} draft what stands on the card and was not handed in yet
 * @property {[string, Record<string, number>][]} hands
 * @property {[string, string][]} books what was typed into one's own Ledger
 * @property {import("./desk-shapes.js").LessonTree | null} plan what was typed into Plan and is not in use yet
 *
 * @typedef {object} Draft
 * @property {string} card which it stands on
 * @property {number} at the question that was shown
 * @property {Record<string, string>} values by question
 * @property {Record<string, import("./question.js").Hands>} [hands] by question
 */

/** The keeper of the record. */
export class Keep {
  /**
   * @param {import("./engine.js").Engine} engine
   * @param {import("./journal.js").Journal | null} journal
   * @param {[string, string][]} entries what stands in it
   */
  constructor(engine, journal, entries) {
    this.engine = engine;
    this.journal = journal;
    /** @type {(key: string) => void} says that nothing can be kept, before anything is lost */
    this.warn = () => {};
    this.key = freshKey();
    /** @type {string | null} the lesson that stands under this key, once something does */
    this.link = null;
    /** Whether something was done that is worth keeping. */
    this.begun = false;
    /** @type {"kept" | "forbidden" | "full"} */
    this.state = "kept";
    this.run = "";
    this.handedIn = "";
    /** @type {Draft | null} */
    this.draft = null;
    /** @type {Kept["plan"]} */
    this.plan = null;
    /** @type {() => [string, Record<string, number>][]} */
    this.hands = () => [];
    /** @type {() => [string, string][]} */
    this.books = () => [];
    this.beatAt = 0;
    /** What was kept last is of this time, ms; 0 before anything was. */
    this.savedAt = 0;
    /** @type {"forbidden" | "full" | null} what was said already */
    this.told = null;
    this.store = storage("localStorage");
    this.tab = storage("sessionStorage");
    if (!this.store) this.state = "forbidden";
    this.recover(entries);
    engine.acted = () => this.act();
    window.addEventListener("pagehide", () => this.save());
    document.addEventListener("visibilitychange", () => {
      if (document.hidden) this.save();
    });
  }

  /** After something was done. */
  act() {
    this.begun = true;
    this.save();
  }

  /** While the clock runs. @param {number} nowMs */
  beat(nowMs) {
    if (nowMs - this.beatAt < BEAT_MS) return;
    this.beatAt = nowMs;
    this.save();
  }

  /** Keeps everything as it is now. */
  save() {
    if (!this.begun) return;
    if (!this.store) return this.tell("forbidden");
    const link = this.engine.link();
    // Another lesson was just opened: it must not take the place of the one that is kept here.
    if (this.link !== null && link !== this.link) return;
    this.link = link;
    /** @type {Kept} */
    const all = {
      kept: this.engine.kept(),
      run: this.run,
      link,
      saved: this.stamp(),
      handedIn: this.handedIn,
      draft: this.draft,
      hands: this.hands(),
      books: this.books(),
      plan: this.plan,
    };
    const text = JSON.stringify(all);
    try {
      this.store.setItem(this.key, text);
      this.tab?.setItem(MINE, this.key);
      this.state = "kept";
      this.told = null;
    } catch {
      this.tell("full");
    }
    this.journal?.put(this.key, text);
  }

  /** @returns {number} ms, later than everything that is kept here */
  stamp() {
    if (this.savedAt === 0) this.savedAt = Math.max(0, ...this.keys().map((key) => Number(this.read(key)?.saved) || 0));
    this.savedAt = Math.max(Date.now(), this.savedAt + 1);
    return this.savedAt;
  }

  /** Takes back what stands in the journal and never came to the disk, or was never taken from it. @param {[string, string][]} entries */
  recover(entries) {
    const forgotten = Number(entries.find(([key]) => key === FORGOTTEN)?.[1] ?? 0);
    if (forgotten > 0)
      for (const key of this.keys())
        if (savedAt(this.store?.getItem(key) ?? "") <= forgotten) this.store?.removeItem(key);
    for (const [key, text] of entries) {
      const there = this.read(key);
      const found = parsed(text);
      if (!found || (there && there.saved >= found.saved)) continue;
      try {
        this.store?.setItem(key, text);
      } catch {
        // It stays in the journal, for when there is room.
      }
    }
  }

  /** Says it once, at the first thing that is not kept. @param {"forbidden" | "full"} state */
  tell(state) {
    const known = this.told;
    this.state = state;
    this.told = state;
    if (known !== state) this.warn(`keep.${state}`);
  }

  /** What is typed into Plan has changed. @param {Kept["plan"]} plan nothing where the lesson in use says the same */
  planned(plan) {
    if (JSON.stringify(plan) === JSON.stringify(this.plan)) return;
    this.plan = plan;
    this.act();
  }

  /** Whether the slip holds answers that were not handed in as they are now. */
  get unsaved() {
    const slip = this.engine.slip();
    return !slip.blank && slip.line !== this.handedIn;
  }

  /** The slip has been saved or copied as it is now. */
  handIn() {
    this.handedIn = this.engine.slip().line;
    this.save();
  }

  /** Another lesson was opened here: it gets a key of its own, and what was kept of the one before stays. */
  turnOver() {
    this.key = freshKey();
    this.link = null;
    this.begun = false;
    this.run = "";
    this.handedIn = "";
    this.draft = null;
    this.tab?.removeItem(MINE);
    // What is typed into Plan goes on with the page.
    if (this.plan) this.act();
  }

  /** What this very tab was at when it was reloaded. @returns {Kept | null} */
  mine() {
    return this.read(this.tab?.getItem(MINE) ?? "");
  }

  /** The newest that is kept here, of this lesson where one is named; and how many are. @param {string} link */
  newest(link) {
    const all = this.keys().flatMap((key) => this.read(key) ?? []);
    const fitting = all.filter((kept) => !link || kept.link === link).sort((one, other) => other.saved - one.saved);
    return { count: fitting.length, kept: fitting[0] ?? null };
  }

  /**
   * Goes on with what was kept. It is kept under a key of this tab's own from here: a tab that is still at it keeps its own.
   * @param {Kept} kept
   * @returns {boolean} whether it could be read
   */
  resume(kept) {
    if (!this.engine.resume(kept.kept, kept.run).ok) return false;
    const before = this.keys().find((key) => this.read(key)?.kept === kept.kept);
    // What was begun in this tab meanwhile stays under its own.
    if (this.begun) this.key = freshKey();
    this.link = null;
    this.run = kept.run;
    this.handedIn = kept.handedIn;
    this.draft = kept.draft;
    this.plan = kept.plan;
    this.begun = true;
    this.save();
    if (before && before !== this.key && this.state === "kept") {
      this.store?.removeItem(before);
      this.journal?.remove(before);
    }
    return true;
  }

  /** Forgets everything that was kept here, of every lesson. @returns {Promise<void>} when it is gone */
  forget() {
    const at = this.stamp();
    for (const key of this.keys()) this.store?.removeItem(key);
    this.tab?.removeItem(MINE);
    this.key = freshKey();
    this.link = null;
    this.begun = false;
    this.run = "";
    this.handedIn = "";
    this.draft = null;
    this.plan = null;
    return this.journal?.forget(at) ?? Promise.resolve();
  }

  /** @returns {string[]} */
  keys() {
    return this.store ? Object.keys(this.store).filter((key) => key.startsWith(PREFIX)) : [];
  }

  /** @param {string} key @returns {Kept | null} nothing where it is not there, or no longer readable */
  read(key) {
    return parsed(this.store?.getItem(key) ?? "");
  }
}

/** @param {string} text @returns {Kept | null} */
function parsed(text) {
  try {
    const kept = JSON.parse(text);
    return typeof kept?.kept === "string"
      ? { run: "", link: "", saved: 0, handedIn: "", draft: null, hands: [], books: [], plan: null, ...kept }
      : null;
  } catch {
    return null;
  }
}

/** When something was kept here, a lesson or a table, ms; 0 where it doesn't say. @param {string} text */
function savedAt(text) {
  try {
    return Number(JSON.parse(text).saved) || 0;
  } catch {
    return 0;
  }
}

/** Chance, not a person: two tabs must not write over each other. @param {string} [part] of the page that keeps something */
export function freshKey(part = "") {
  const bytes = crypto.getRandomValues(new Uint8Array(8));
  return PREFIX + part + [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/**
 * A storage of the browser, or nothing where it is forbidden.
 * @param {"localStorage" | "sessionStorage"} name
 * @returns {Storage | null}
 */
export function storage(name) {
  try {
    const store = window[name];
    store.setItem(`${PREFIX}try`, "");
    store.removeItem(`${PREFIX}try`);
    return store;
  } catch {
    return null;
  }
}
