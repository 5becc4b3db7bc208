// What happens in the beakers, in sentences for those who listen.

import { beakerName, colourWord } from "./beaker.js";

/** @typedef {import("./lesson-shapes.js").LessonEvent} LessonEvent */

/** The teller. */
export class Telling {
  /**
   * @param {import("./engine.js").Engine} engine
   * @param {import("./i18n.js").Words} words
   * @param {import("./announce.js").Announcer} announcer
   */
  constructor(engine, words, announcer) {
    this.engine = engine;
    this.words = words;
    this.announcer = announcer;
    /** @type {Set<number>} beakers that turned back, but whose seconds are told only at rest */
    this.untold = new Set();
  }

  /** For another lesson. */
  forget() {
    this.untold.clear();
  }

  /** Tells what has happened, and at rest what had to wait for it. @param {LessonEvent[]} events */
  tell(events) {
    if (events.length === 0) return;
    const { beakers } = this.engine.recipe();
    const names = beakers.map((_, beaker) => beakerName(this.words, beakers, beaker));
    for (const [at, event] of events.entries()) {
      // A dose takes a beaker through many colours within a frame: only the last is told.
      if (event.key === "band" && events.some((later, then) => then > at && isBandOf(later, event.beaker))) continue;
      const sentence = this.sentence(event, names);
      if (sentence) this.announcer.say(sentence, event.key === "band" ? `band of ${event.beaker}` : sentence);
    }
    if (!events.some(({ key }) => key === "rest")) return;
    for (const late of this.toldAtRest(events)) this.announcer.say(this.sentence(late, names));
  }

  /**
   * Turnings back of this dose whose seconds had to wait for the rest, so that nobody's own time was given away.
   * @param {LessonEvent[]} fresh what is told by itself
   * @returns {LessonEvent[]}
   */
  toldAtRest(fresh) {
    const { doses, events } = this.engine.marks();
    const from = doses.at(-1)?.at ?? 0;
    const isFresh = (/** @type {LessonEvent} */ { at, beaker }) =>
      fresh.some((one) => one.at === at && one.beaker === beaker);
    const late = events.filter((event) => event.key === "turnedBack" && (event.at ?? 0) > from && !isFresh(event));
    return late.filter(({ beaker }) => this.untold.delete(beaker ?? 0));
  }

  /** @param {LessonEvent} event @param {string[]} names of the beakers @returns {string} */
  sentence(event, names) {
    const { words } = this;
    const beaker = event.beaker === undefined ? "" : names[event.beaker];
    const waits = event.key === "turnedBack" && event.seconds === undefined;
    if (waits) this.untold.add(event.beaker ?? 0);
    const key = waits ? "said.turnedBackUntimed" : `said.${event.key}`;
    if (!words.has(key)) return "";
    return words.t(key, {
      beaker,
      colour: event.band ? colourWord(words, event.band, event.pale ?? false) : "",
      seconds: event.seconds === undefined ? "" : words.number(event.seconds, 0),
    });
  }
}

/** @param {LessonEvent} event @param {number | undefined} beaker */
function isBandOf(event, beaker) {
  return event.key === "band" && event.beaker === beaker;
}
