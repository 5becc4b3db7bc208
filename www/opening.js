// How a lesson comes onto the page: by its link, as a run that is told again, or from what this device keeps.

import { byId, element } from "./element.js";

/**
 * @typedef {import("./keep.js").Kept} Kept
 *
 * @typedef {object} Opened what the page does when a lesson has come
 * @property {() => void} fresh lays out a lesson, or a run, that was just opened
 * @property {(kept: Kept) => void} goOn lays out a lesson that goes on where it was, with what was typed
 * @property {() => void} refresh after the offer went away
 * @property {(sentence: string) => void} say speaks to those who listen
 */

/** How the link of a run begins. */
const RUN = /^#?run\d/;

/** The door. */
export class Opening {
  /**
   * @param {import("./engine.js").Engine} engine
   * @param {import("./i18n.js").Words} words
   * @param {import("./keep.js").Keep} keep
   * @param {import("./trouble.js").Trouble} trouble
   * @param {Opened} opened
   */
  constructor(engine, words, keep, trouble, opened) {
    this.engine = engine;
    this.words = words;
    this.keep = keep;
    this.trouble = trouble;
    this.opened = opened;
    /** @type {HTMLElement | null} the offer that stands */
    this.offered = null;
  }

  /**
   * Begins with what this very tab was at when it was reloaded; or else with the lesson of the address, and offers what else is
   * kept of it.
   * @param {string} wanted what stands in the address from its # on
   */
  begin(wanted) {
    const fragment = wanted.replace(/^#/, "");
    const mine = this.keep.mine();
    const fits = mine && (!fragment || fragment === mine.link || fragment === mine.run);
    if (fits && this.resume(mine)) return;
    if (fragment) this.open(fragment);
    this.offer(fragment);
  }

  /**
   * Opens a link, or says why it can't.
   * @param {string} fragment
   */
  open(fragment) {
    if (RUN.test(fragment)) {
      const refused = this.openRun(fragment);
      if (refused) this.trouble.sayWords(refused);
      return;
    }
    const outcome = this.engine.openLink(fragment);
    if (outcome.ok) this.show();
    else this.trouble.say(this.words.either(`link.${outcome.key}`, "link.damaged"));
  }

  /** Opens a run that is told again. @param {string} text @returns {string} why it can't be opened, or nothing */
  openRun(text) {
    const outcome = this.engine.openRun(text);
    if (!outcome.ok) return this.words.t(this.words.either(`run.${outcome.key}`, "run.damaged"));
    this.keep.turnOver();
    this.keep.run = text.trim().replace(/^#/, "");
    this.show();
    this.opened.say(this.words.t("retell.opened"));
    return "";
  }

  /** Shows what was opened. */
  show() {
    this.trouble.hide();
    this.opened.fresh();
  }

  /** @param {Kept} kept @returns {boolean} whether it could be read */
  resume(kept) {
    if (!this.keep.resume(kept)) {
      this.trouble.say("keep.unreadable");
      return false;
    }
    this.opened.goOn(kept);
    this.keep.typeAgain(kept);
    return true;
  }

  /** Offers the newest lesson that is kept here. @param {string} link of the lesson, where it must be that one */
  offer(link) {
    const { count, kept } = this.keep.newest(link);
    if (!kept) return;
    const { words } = this;
    const away = () => {
      this.withdraw();
      this.opened.refresh();
    };
    const goOn = () => {
      away();
      this.resume(kept);
    };
    this.offered = element(
      "section",
      { class: "offer", "aria-label": words.t("keep.heading") },
      element("p", {}, words.t(count > 1 ? "keep.offerMany" : "keep.offer", { count })),
      element(
        "p",
        { class: "buttons" },
        element("button", { type: "button", class: "primary", id: "keep-go-on", click: goOn }, words.t("keep.goOn")),
        element("button", { type: "button", id: "keep-anew", click: away }, words.t("keep.anew")),
      ),
    );
    byId("main").prepend(this.offered);
  }

  /** Takes the offer away. @returns {boolean} whether there was one */
  withdraw() {
    const { offered } = this;
    offered?.remove();
    this.offered = null;
    return offered !== null;
  }
}
