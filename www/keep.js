// What this device keeps of a lesson: its record as it grows, under a key of this tab's own. No name is in it but one that was
// typed.

import { atLeisure } from "./breath.js";
import { typeAgain, typedIn } from "./carry.js";
import { freshKey, Shelf } from "./shelf.js";

/** What an older record may lack. */
const NOTHING = {
  run: "",
  link: "",
  saved: 0,
  handedIn: "",
  draft: null,
  hands: [],
  books: [],
  plan: null,
  standing: [],
};
/** While the clock runs, its time is kept this often, ms. */
const BEAT_MS = 2000;
/** So long after at the latest: in a frame of its own it would be one picture less on a slow machine, ms. */
const LATEST_MS = 300;

/**
 * @typedef {object} Kept
 * @property {string} kept the core's text
 * @property {string} run the run that is told again, or nothing
 * @property {string} link the lesson
 * @property {number} saved ms, to tell which is the newest
 * @property {string} handedIn the line that was handed in last
 * @property {Draft | null} draft what stands on the card and was not handed in yet
 * @property {[string, Record<string, number>][]} hands
 * @property {[string, string][]} books what was typed into one's own Ledger
 * @property {import("./desk-shapes.js").LessonTree | null} plan what was typed into Plan and is not in use yet
 * @property {[string, string | boolean][]} standing what stands in the controls of the free bench
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
    this.shelf = new Shelf(journal, entries);
    /** @type {(key: string) => void} says that nothing can be kept, before anything is lost */
    this.warn = () => {};
    this.key = freshKey();
    /** @type {string | null} the lesson that stands under this key, once something does */
    this.link = null;
    /** Whether something was done that is worth keeping. */
    this.begun = false;
    /** @type {import("./shelf.js").State} */
    this.state = this.shelf.store ? "kept" : "forbidden";
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
    /** What was said already. @type {import("./shelf.js").State} */
    this.told = "kept";
    this.shelf.forgetters.set("", () => this.letGo());
    engine.acted = () => this.act();
    window.addEventListener("pagehide", () => this.save());
    document.addEventListener("visibilitychange", () => {
      if (document.hidden) this.save();
    });
    document.addEventListener("input", ({ target }) => {
      if (target instanceof Element && target.closest("[data-kept]")) this.act();
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
    atLeisure(() => this.save(), LATEST_MS);
  }

  /** Keeps everything as it is now. */
  save() {
    if (!this.begun) return;
    const link = this.engine.link();
    // Another lesson was just opened: it must not take the place of the one that is kept here.
    if (this.link !== null && link !== this.link) return;
    this.link = link;
    this.tell(
      this.shelf.put(this.key, {
        kept: this.engine.kept(),
        run: this.run,
        link,
        handedIn: this.handedIn,
        draft: this.draft,
        hands: this.hands(),
        books: this.books(),
        plan: this.plan,
        standing: [...typedIn(standing())],
      }),
    );
  }

  /** Says once, at the first thing that is not kept, why. @param {import("./shelf.js").State} state */
  tell(state) {
    const known = this.told;
    this.state = state;
    this.told = state;
    if (state !== "kept" && state !== known) this.warn(`keep.${state}`);
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
    this.shelf.turnOver();
    // What is typed into Plan goes on with the page.
    if (this.plan) this.act();
  }

  /** What this very tab was at when it was reloaded. @returns {Kept | null} */
  mine() {
    return this.read(this.shelf.mine());
  }

  /** The newest that is kept here, of this lesson where one is named; and how many are. @param {string} link */
  newest(link) {
    const all = this.shelf.keys().flatMap((key) => this.read(key) ?? []);
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
    const before = this.shelf.keys().find((key) => this.read(key)?.kept === kept.kept);
    // What was begun in this tab meanwhile stays under its own.
    if (this.begun) this.key = freshKey();
    this.link = null;
    this.run = kept.run;
    this.handedIn = kept.handedIn;
    this.draft = kept.draft;
    this.plan = kept.plan;
    this.begun = true;
    this.save();
    if (before && before !== this.key && this.state === "kept") this.shelf.remove(before);
    return true;
  }

  /** Types again what stood in the controls of the free bench. @param {Kept} kept */
  typeAgain(kept) {
    typeAgain(standing(), new Map(kept.standing));
  }

  /** Forgets everything that was kept here, of every lesson. @returns {Promise<void>} when it is gone */
  forget() {
    return this.shelf.forget();
  }

  /** What this tab is at is not kept any more. */
  letGo() {
    this.key = freshKey();
    this.link = null;
    this.begun = false;
    this.run = "";
    this.handedIn = "";
    this.draft = null;
    this.plan = null;
  }

  /** @param {string} key @returns {Kept | null} nothing where it is not there, or no longer readable */
  read(key) {
    const kept = this.shelf.read(key);
    return typeof kept?.kept === "string" ? { ...NOTHING, ...kept } : null;
  }
}

/** @returns {Element[]} */
function standing() {
  return [...document.querySelectorAll("[data-kept]")];
}
