// How much is painted in a frame: all beakers on a quick machine, fewer at a time on a slow one, smaller on a very slow one.
// What is computed never depends on it, only how often and how finely it is shown.

/** Painting may take so much of a frame, ms: at 60 frames a second, well below half of it. */
const BUDGET_MS = 6;
/** So many frames in a row decide: one slow frame is no slow machine. */
const FRAMES = 20;
/** A frame that comes so long after the one before it, ms, has missed its turn on a screen that shows sixty a second ... */
const LATE_MS = 20;
/** ... and more of them than this share say that a frame holds too much. */
const LATE_SHARE = 0.1;
/** Where painting takes less than this share of it, late frames have another reason. */
const LITTLE = 0.25;
/** More is painted only where that too would leave so much room, so that it does not swing to and fro. */
const ROOM = 0.5;
/** Where frames were late, or pixels were taken away, it goes back up after so many frames at the earliest: ten seconds. */
const PATIENCE = 600;
/**
 * So many decisions in a row, a second, take pixels away. Other pixels are seen, and the first pictures that have them are late;
 * and those of a visit's first second take several times as long as all after, while the browser still compiles what paints.
 */
const PROOF = 3;
/** The share of the pixels that is painted at the last level. */
const COARSE = 0.5;
const LAST_LEVEL = 3;
/** How much more is painted in a frame, one level up, of three beakers. */
const MORE = [1, 3 / 2, 2, 1 / COARSE];
/** The last level that late frames alone lead to: fewer pixels are seen, and the screen itself may be slow. */
const LAST_FOR_LATE = 2;

/** Follows how long painting takes, and whether frames come in time. */
export class Pace {
  constructor() {
    /**
     * 0: all at once; 1: all but one; 2: one after another; 3: and with fewer pixels. It begins with one after another: a quick
     * machine is known within a third of a second, and on a slow one the first frames of a dose come in time.
     */
    this.level = LAST_FOR_LATE;
    this.frames = 0;
    this.sumMs = 0;
    this.late = 0;
    /** How often in a row painting took too long. */
    this.over = 0;
    /** Frames until it may go back up. */
    this.patience = 0;
  }

  /**
   * Takes down how long the painting of one frame took.
   * @param {number} ms
   * @param {number} sinceMs since the frame before it
   * @returns {boolean} whether the level has changed
   */
  took(ms, sinceMs) {
    this.frames += 1;
    this.sumMs += ms;
    if (sinceMs > LATE_MS) this.late += 1;
    this.patience = Math.max(0, this.patience - 1);
    if (this.frames < FRAMES) return false;
    const mean = this.sumMs / this.frames;
    const late = this.late > LATE_SHARE * this.frames;
    this.frames = 0;
    this.sumMs = 0;
    this.late = 0;
    const before = this.level;
    const little = mean < LITTLE * BUDGET_MS;
    this.over = mean > BUDGET_MS ? this.over + 1 : 0;
    if (this.over > 0) {
      if (this.level < LAST_FOR_LATE) this.level += 1;
      else if (this.level < LAST_LEVEL && this.over >= PROOF) {
        this.level = LAST_LEVEL;
        this.patience = PATIENCE;
      }
    } else if (late && !little && this.level < LAST_FOR_LATE) {
      // Where painting takes next to nothing, painting less would not bring the frames in time.
      this.level += 1;
      this.patience = PATIENCE;
    } else if (this.patience === 0 && this.level > 0 && mean * MORE[this.level] < ROOM * BUDGET_MS) this.level -= 1;
    return this.level !== before;
  }

  /** How many beakers are painted in a frame, of so many. @param {number} count @returns {number} */
  atOnce(count) {
    if (this.level === 0) return count;
    return this.level === 1 ? Math.max(1, count - 1) : 1;
  }

  /** Whether a frame that writes words leaves the pictures to the next one. */
  get wordsAlone() {
    return this.level > 0;
  }

  /** The share of its pixels that a picture is painted with. */
  get share() {
    return this.level === LAST_LEVEL ? COARSE : 1;
  }
}
