// The page's one polite live region. It speaks of events only, and never so often that speech falls behind the beakers.

/** Spoken messages need two to three seconds; what comes sooner waits and is joined to what else came. */
const QUIET_MS = 2500;

/** Speaks events to those who listen. */
export class Announcer {
  /** @param {HTMLElement} region an element with role status */
  constructor(region) {
    this.region = region;
    /** @type {{sentence: string, topic: string}[]} */
    this.waiting = [];
    this.lastAt = -Infinity;
    /** @type {number | undefined} */
    this.timer = undefined;
  }

  /**
   * Says a sentence now, or with the others as soon as the region has been quiet long enough.
   * @param {string} sentence
   * @param {string} [topic] of what waits on the same topic only the newest is told: a colour that has gone on is old news
   */
  say(sentence, topic = sentence) {
    this.waiting = this.waiting.filter((other) => other.topic !== topic);
    this.waiting.push({ sentence, topic });
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

  /** Speaks what waits, joined. */
  speak() {
    this.timer = undefined;
    this.region.textContent = this.waiting.map(({ sentence }) => sentence).join(" ");
    this.waiting = [];
    this.lastAt = performance.now();
  }
}
