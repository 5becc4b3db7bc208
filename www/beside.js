// What is beside the bench and follows the lesson: each place is made when it is first gone to.

import { byId } from "./element.js";

/**
 * @typedef {import("./places.js").PlaceKey} PlaceKey
 * @typedef {{children: Node[], refresh: () => void}} Place
 */

/** The places beside the bench. */
export class Beside {
  /** @param {Partial<Record<PlaceKey, () => Place>>} makers */
  constructor(makers) {
    this.makers = makers;
    /** @type {Partial<Record<PlaceKey, Place>>} as far as they were made */
    this.made = {};
  }

  /** What stands at a place; nothing at the bench and at the teacher's desk. @param {PlaceKey} place */
  at(place) {
    const made = this.made[place] ?? this.makers[place]?.();
    if (made && !this.made[place]) byId(`${place}-place`).replaceChildren(...made.children);
    if (made) this.made[place] = made;
    return made;
  }

  /** Where somebody has been. */
  get places() {
    return /** @type {PlaceKey[]} */ (Object.keys(this.made));
  }
}
