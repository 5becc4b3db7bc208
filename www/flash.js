// Nothing on the page may flash more than three times a second (WCAG 2.2, success criterion 2.3.1, W3C 2023).
// At speed 16 a beaker that is dosed again and again could. The guard watches the colour in the middle of each picture and
// keeps back a repaint that would bring one flash too many; the picture shows the newest state as soon as it may.

/** A flash is a pair of opposing changes, so three flashes are six turns. */
const MOST_TURNS = 6;
/** A second, and what a busy screen may be late with one picture and not with the next. */
const WINDOW_MS = 1000 + 250;
/** Relative luminance has to change by a tenth to count (WCAG 2.2, "general flash"). */
const LUMINANCE_STEP = 0.1;
/** Saturated red counts by itself; this is the guideline's older measure of it, (R - G - B) x 320 over 20, on linear light. */
const REDNESS_STEP = 20 / 320;

/** Watches one picture. */
export class FlashGuard {
  constructor() {
    /** @type {number[]} times of the last turns, ms */
    this.turns = [];
    this.luminance = new Swing(LUMINANCE_STEP);
    this.redness = new Swing(REDNESS_STEP);
  }

  /**
   * Whether a colour may be shown now; if so it counts as shown.
   * @param {number} red 0..255
   * @param {number} green 0..255
   * @param {number} blue 0..255
   * @param {number} nowMs
   * @returns {boolean}
   */
  allows(red, green, blue, nowMs) {
    const [r, g, b] = [linear(red), linear(green), linear(blue)];
    const luminance = 0.2126 * r + 0.7152 * g + 0.0722 * b;
    const redness = Math.max(0, r - g - b);
    const turns = this.luminance.wouldTurn(luminance) || this.redness.wouldTurn(redness);
    this.turns = this.turns.filter((at) => nowMs - at < WINDOW_MS);
    if (turns && this.turns.length >= MOST_TURNS) return false;
    if (turns) this.turns.push(nowMs);
    this.luminance.show(luminance);
    this.redness.show(redness);
    return true;
  }
}

/** Follows one quantity and tells when it has turned by more than a step. */
class Swing {
  /** @param {number} step the least change that counts */
  constructor(step) {
    this.step = step;
    /** @type {number | undefined} the extreme reached since the last turn */
    this.extreme = undefined;
    this.direction = 0;
  }

  /** @param {number} value @returns {boolean} */
  wouldTurn(value) {
    if (this.extreme === undefined) return false;
    const change = value - this.extreme;
    return Math.abs(change) >= this.step && Math.sign(change) !== this.direction;
  }

  /** @param {number} value */
  show(value) {
    if (this.extreme === undefined) this.extreme = value;
    const change = value - this.extreme;
    if (Math.abs(change) >= this.step && Math.sign(change) !== this.direction) {
      this.direction = Math.sign(change);
      this.extreme = value;
    } else if (Math.sign(change) === this.direction) this.extreme = value;
  }
}

/** @param {number} encoded 0..255 @returns {number} linear light 0..1, IEC 61966-2-1 */
function linear(encoded) {
  const v = encoded / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
}
