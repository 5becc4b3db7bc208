// Lets the browser do what else it has to between two pieces of long work, so that none holds a slow machine up for long.

/** @returns {Promise<void>} */
export function breath() {
  return new Promise((done) => setTimeout(done));
}

/**
 * Does something in the time that a frame leaves over.
 * @param {() => void} act
 * @param {number} latestMs after so long at the latest
 */
export function atLeisure(act, latestMs) {
  // A browser that cannot tell when it has time does it between two frames.
  if ("requestIdleCallback" in window) requestIdleCallback(act, { timeout: latestMs });
  else setTimeout(act);
}
