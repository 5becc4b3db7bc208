// The places of the page. One is shown at a time; the bench stops its clock while another is looked at.

import { byId, element } from "./element.js";

/** @typedef {"bench" | "trace" | "ledger" | "slip" | "retell" | "plan" | "prep" | "safety" | "paper" | "tally" | "data" | "about"} PlaceKey */

/** @type {PlaceKey[]} the teacher's */
export const DESK = ["plan", "prep", "safety", "paper", "data", "tally", "about"];

/** @type {PlaceKey[]} */
const PLACES = ["bench", "trace", "ledger", "slip", "retell", ...DESK];

/** The places and their way signs. */
export class Places {
  /**
   * @param {import("./i18n.js").Words} words
   * @param {(place: PlaceKey) => void} onGo
   */
  constructor(words, onGo) {
    /** @type {PlaceKey} */
    this.here = "bench";
    this.onGo = onGo;
    this.signs = PLACES.map((place) =>
      element(
        "button",
        { type: "button", "data-place": place, click: () => this.go(place, true) },
        words.t(`place.${place}`),
      ),
    );
  }

  /** Puts the signs up. */
  stand() {
    const nav = byId("places");
    nav.replaceChildren(...this.signs);
    nav.hidden = false;
  }

  /** Shows or hides the way sign to a place. @param {PlaceKey} place @param {boolean} allowed */
  allow(place, allowed) {
    for (const sign of this.signs) if (sign.dataset.place === place) sign.hidden = !allowed;
  }

  /**
   * Shows a place.
   * @param {PlaceKey} place
   * @param {boolean} [withFocus] takes the keyboard and the screen reader along
   */
  go(place, withFocus = false) {
    const goes = this.here !== place;
    this.here = place;
    for (const key of PLACES) byId(`${key}-place`).hidden = key !== place;
    for (const sign of this.signs) {
      if (sign.dataset.place === place) sign.setAttribute("aria-current", "page");
      else sign.removeAttribute("aria-current");
    }
    this.onGo(place);
    // On a narrow screen the signs stand in a line that is wider than the screen; what the place shows may bring a scrollbar,
    // and so make it narrower.
    const sign = this.signs.find((one) => one.dataset.place === place);
    if (goes) sign?.scrollIntoView({ block: "nearest", inline: "nearest" });
    if (withFocus) (place === "bench" ? byId("card-heading") : byId(`${place}-heading`)).focus();
  }
}
