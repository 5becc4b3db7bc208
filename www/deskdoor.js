// The way to the teacher's places: their script and their part of the core come when the bench stands, so that no class waits
// for them.

import { byId, element } from "./element.js";
import { part } from "./part.js";
import { DESK } from "./places.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./i18n.js").Words} Words
 *
 * @typedef {object} Made what has come
 * @property {typeof import("./desk.js").Desk} Desk
 * @property {import("./deskengine.js").DeskEngine} engine
 */

/** The door. */
export class DeskDoor {
  /** @param {Engine} engine the bench's */
  constructor(engine) {
    this.engine = engine;
    /** @type {Made | null} */
    this.made = null;
    /** @type {Promise<Made> | null} */
    this.coming = null;
  }

  /** Says in each place that it is still to come. @param {Words} words */
  wait(words) {
    this.say(words, "desk.waiting");
  }

  /**
   * Opens.
   * @param {Words} words
   * @returns {Promise<Made | null>} null where it could not come; the places say so
   */
  async open(words) {
    this.coming ??= this.fetch();
    try {
      this.made = await this.coming;
    } catch (reason) {
      console.warn(reason);
      this.coming = null;
      this.say(words, "desk.failed");
    }
    return this.made;
  }

  /** @returns {Promise<Made>} */
  async fetch() {
    const [{ Desk, DeskEngine }, file] = await Promise.all([import("./desk.js"), part("pkg/turnback_desk.wasm")]);
    return { Desk, engine: await DeskEngine.beside(this.engine, file) };
  }

  /** @param {Words} words @param {string} key */
  say(words, key) {
    for (const place of DESK)
      byId(`${place}-place`).replaceChildren(
        element("h2", { id: `${place}-heading`, tabindex: -1 }, words.t(`place.${place}`)),
        element("p", {}, words.t(key)),
      );
  }
}
