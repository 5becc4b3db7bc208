// The page's one polite live region. It speaks of events only, and never so often that speech falls behind the beakers.

/** Spoken messages need two to three seconds; what comes sooner waits and is joined to what else came. */
const QUIET_MS = 2500;

/** Speaks events to those who listen. */
export class Announcer {
  /** @param {HTMLElement} region an element with role status */
  constructor(region) {
    this.region = region;
    /** @type {string[]} */
    this.waiting = [];
    this.lastAt = -Infinity;
    /** @type {number | undefined} */
    this.timer = undefined;
  }

  /**
   * Says a sentence now, or with the others as soon as the region has been quiet long enough.
   * @param {string} sentence
   */
  say(sentence) {
    if (this.waiting.at(-1) === sentence) return;
    this.waiting.push(sentence);
    if (this.timer !== undefined) return;
    const wait = Math.max(0, this.lastAt + QUIET_MS - performance.now());
    this.timer = window.setTimeout(() => this.speak(), wait);
  }

  /** Drops what waits: whoever has gone on needs no old news. */
  hush() {
    window.clearTimeout(this.timer);
    this.timer = undefined;
    this.waiting = [];
  }

  /** Speaks what waits, joined. A long queue keeps only its newest sentences: old news would mislead. */
  speak() {
    this.timer = undefined;
    this.region.textContent = this.waiting.slice(-MOST_JOINED).join(" ");
    this.waiting = [];
    this.lastAt = performance.now();
  }
}

const MOST_JOINED = 4;
