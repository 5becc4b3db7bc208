// Lets the browser do what else it has to between two pieces of long work, so that none holds a slow machine up for long.

/** @returns {Promise<void>} */
export function breath() {
  return new Promise((done) => setTimeout(done));
}
