// Scales of a chart: from a value to its place, and the round values that stand along an axis.

/** Distances of the marks along an axis of time, s. */
const SECONDS = [0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 3600, 7200];

/**
 * @typedef {object} Scale
 * @property {number} low @property {number} high the values at its two ends
 * @property {(value: number) => number} at where a value lies, px
 *
 * @param {[number, number]} values the values at both ends
 * @param {[number, number]} pixels where these lie
 * @param {boolean} [log] by powers of ten
 * @returns {Scale}
 */
export function scale([low, high], [from, to], log = false) {
  const on = (/** @type {number} */ value) => (log ? Math.log10(value) : value);
  const stretch = (to - from) / (on(high) - on(low));
  return { low, high, at: (value) => from + (on(value) - on(low)) * stretch };
}

/** Round values from one to another, at most so many. @param {number} low @param {number} high @param {number} most @param {boolean} [seconds] of time */
export function ticks(low, high, most, seconds = false) {
  const least = (high - low) / Math.max(1, most);
  const power = 10 ** Math.floor(Math.log10(least));
  const plain = () => ([1, 2, 5].find((digit) => digit * power >= least * (1 - 1e-9)) ?? 10) * power;
  const step = (seconds && SECONDS.find((second) => second >= least)) || plain();
  const first = Math.ceil(low / step - 1e-9);
  const count = Math.floor(high / step + 1e-9) - first + 1;
  // From whole steps, so that no rounding adds up along the axis.
  return Array.from({ length: Math.max(0, count) }, (_, at) => Number(((first + at) * step).toPrecision(12)));
}

/** Powers of ten from one to another, at most so many. @param {number} low @param {number} high @param {number} most */
export function powers(low, high, most) {
  const [first, last] = [Math.ceil(Math.log10(low) - 1e-9), Math.floor(Math.log10(high) + 1e-9)];
  const step = Math.max(1, Math.ceil((last - first) / Math.max(1, most)));
  const all = [];
  // Counted from 1 = 10 to the 0, so that this one is always among them.
  for (let power = Math.ceil(first / step) * step; power <= last; power += step) all.push(10 ** power);
  return all;
}

/**
 * The ends of an axis that holds all values, at round values.
 * @param {number[]} values those that are no numbers do not count
 * @param {number} most marks
 * @param {{zero?: boolean, log?: boolean}} [how] zero: begins at 0
 * @returns {[number, number]}
 */
export function ends(values, most, { zero = false, log = false } = {}) {
  const known = values.filter((value) => Number.isFinite(value) && (!log || value > 0));
  if (known.length === 0) return log ? [0.1, 10] : [0, 1];
  const [low, high] = known.reduce(
    ([low, high], value) => [Math.min(low, value), Math.max(high, value)],
    [zero ? 0 : known[0], known[0]],
  );
  if (log) return [10 ** Math.floor(Math.log10(low)), 10 ** Math.ceil(Math.log10(high) + 1e-3)];
  const reach = Math.max(high - low, Math.abs(high) * 0.01, 1e-6);
  const [first, second] = ticks(low, low + reach, most);
  const step = second === undefined ? reach : second - first;
  return [Math.floor(low / step + 1e-9) * step, Math.ceil((low + reach) / step - 1e-9) * step];
}
