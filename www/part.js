// The parts of the page that are no script: the compiled core and the words. The one-file page carries them in itself.

import { NAMES } from "./names.js";

/**
 * A part of the page, from the page itself where it carries it, or else from where the page came from.
 * @param {string} name as in the house: "locales/en.json"
 * @returns {Promise<Response>}
 */
export async function part(name) {
  const carried = document.getElementById(name);
  if (!carried) return fetch(NAMES[name] ?? name);
  // Compressed, and as text: a page opened from a folder may fetch nothing beside it.
  const bytes = Uint8Array.from(atob(carried.textContent ?? ""), (sign) => sign.charCodeAt(0));
  const plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(plain, { headers: { "Content-Type": /** @type {string} */ (carried.dataset.type) } });
}
