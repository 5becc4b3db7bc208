// The teacher's desk: Plan, Prep sheet, Safety card, Paper, Our data, Tally, About. Its script comes when the bench stands; each
// place is made when it is first gone to.

// Both scripts use much of the same: the build lays that, and all else that the bench starts with, into the bench's script.
import "./main.js";
import { About } from "./about.js";
import { byId } from "./element.js";
import { OurData } from "./our-data.js";
import { Plan } from "./plan.js";
import { PRINTED, PrintRoom } from "./printroom.js";
import { TallyPlace } from "./tally.js";

export { DeskEngine } from "./deskengine.js";

/** @typedef {import("./places.js").PlaceKey} PlaceKey */

/** The places of the teacher. */
export class Desk {
  /**
   * @param {import("./deskengine.js").DeskEngine} engine
   * @param {import("./i18n.js").Words} words
   * @param {import("./keep.js").Keep} keep what keeps what is typed here
   * @param {() => void} used called after a lesson was accepted
   * @param {(sentence: string) => void} say speaks to those who listen
   */
  constructor(engine, words, keep, used, say) {
    this.engine = engine;
    this.words = words;
    this.keep = keep;
    this.used = used;
    this.say = say;
    /** @type {Plan | null} */
    this.plan = null;
    /** @type {OurData | null} */
    this.data = null;
    /** @type {TallyPlace | null} */
    this.tally = null;
    /** @type {PrintRoom | null} */
    this.printRoom = null;
    /** @type {Set<PlaceKey>} what was made */
    this.made = new Set();
  }

  /** Makes a place, if it isn't there yet. @param {PlaceKey} place */
  make(place) {
    if (this.made.has(place)) return;
    const children = this.childrenOf(place);
    if (!children) return;
    byId(`${place}-place`).replaceChildren(...children);
    this.made.add(place);
  }

  /** @param {PlaceKey} place @returns {Node[] | null} null for a place that is none of the desk's */
  childrenOf(place) {
    const { engine, words, keep, used, say } = this;
    const printed = PRINTED.find((one) => one === place);
    if (printed) {
      this.printRoom ??= new PrintRoom(engine, words);
      return this.printRoom.children(printed);
    }
    if (place === "plan") {
      this.plan = new Plan(engine, words, used, say);
      if (keep.plan) this.plan.put(keep.plan);
      this.plan.drafted = (draft) => keep.planned(draft);
      return this.plan.children;
    }
    if (place === "data") {
      this.data = new OurData(engine, words, used, say, keep.shelf);
      return this.data.children;
    }
    if (place === "tally") {
      this.tally = new TallyPlace(engine, words, say, keep.shelf);
      return this.tally.children;
    }
    return place === "about" ? new About(engine, words).children : null;
  }

  /** Brings a place up to the lesson in use. @param {PlaceKey} here */
  refresh(here) {
    this.make(here);
    if (here === "plan") this.plan?.arrive();
    if (here === "data") this.data?.arrive();
    if (here === "tally") this.tally?.refresh();
    for (const place of PRINTED) if (place === here) this.printRoom?.refresh(place);
  }

  /** Whether something stands here that would be lost. */
  get unsaved() {
    return Boolean(this.plan?.unsaved || this.data?.unsaved || this.tally?.unsaved);
  }

  /** Takes over what was typed and opened before the page spoke another language. @param {Desk} before */
  goOnFrom(before) {
    for (const place of before.made) this.make(place);
    if (before.plan?.unsaved) this.plan?.put(before.plan.typed());
    if (before.data) this.data?.goOnFrom(before.data);
    if (before.tally) this.tally?.goOnFrom(before.tally);
  }
}
