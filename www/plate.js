// Words that change while the beakers run, on plates that are as large as the longest words that can stand there. A change of
// words lays out nothing but the words themselves: the browser leaves all the rest of the page as it was, and nothing moves.

import { element } from "./element.js";

/** A plate. The style sheets give it its size by the words that it keeps room for, which are neither seen nor read. */
export class Plate {
  /**
   * @param {"span" | "figcaption" | "output"} tag
   * @param {Record<string, string>} attributes
   * @param {...(Node | string)} words what stands on it
   */
  constructor(tag, attributes, ...words) {
    this.words = element("span", { class: "live" }, ...words);
    this.root = element(tag, { ...attributes, class: `plate ${attributes.class}` }, this.words);
  }

  /**
   * Keeps room for words.
   * @param {string} first
   * @param {string} [more] for a second piece behind it
   */
  hold(first, more = "") {
    const { dataset } = this.root;
    if (dataset.room !== first) dataset.room = first;
    if (dataset.more !== more) dataset.more = more;
  }
}

/** @param {string[]} words @returns {string} the longest */
export function longest(words) {
  return words.reduce((long, word) => (word.length > long.length ? word : long), "");
}

/** Words with every digit as a 0: in figures of one width they are as wide. @param {string} words */
export function anyDigits(words) {
  return words.replace(/\d/g, "0");
}

/**
 * Changes a text only where it differs, and in its own node: an unchanged one costs nothing, a changed one no new box.
 * @param {HTMLElement} place
 * @param {string} text
 */
export function write(place, text) {
  const { firstChild } = place;
  if (firstChild instanceof Text && firstChild === place.lastChild) {
    if (firstChild.data !== text) firstChild.data = text;
  } else if (place.textContent !== text) place.textContent = text;
}
