// What went wrong and what to do, at the head of the page until it is put away.

import { byId, element } from "./element.js";

/** The trouble. */
export class Trouble {
  /**
   * @param {import("./i18n.js").Words} words
   * @param {() => void} closed called after it was put away: the keyboard needs another place
   */
  constructor(words, closed) {
    this.words = words;
    this.closed = closed;
    this.box = byId("trouble");
  }

  /** @param {string} key */
  say(key) {
    this.sayWords(this.words.t(key));
  }

  /** @param {string} sentence */
  sayWords(sentence) {
    const away = () => {
      this.hide();
      this.closed();
    };
    this.box.replaceChildren(
      element("p", {}, sentence),
      element("button", { type: "button", click: away }, this.words.t("trouble.close")),
    );
    this.box.hidden = false;
  }

  /** It is over. */
  hide() {
    this.box.hidden = true;
  }
}
