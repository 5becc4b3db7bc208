// The teacher's desk: Plan, Prep sheet, Safety card and Paper. It is set up as soon as the bench stands.

import { byId } from "./element.js";
import { OurData } from "./our-data.js";
import { Plan } from "./plan.js";
import { PRINTED, PrintRoom } from "./printroom.js";

/** The places of the teacher. */
export class Desk {
  /**
   * @param {import("./engine.js").Engine} engine
   * @param {import("./i18n.js").Words} words
   * @param {() => void} used called after a lesson was accepted
   * @param {(sentence: string) => void} say speaks to those who listen
   */
  constructor(engine, words, used, say) {
    this.plan = new Plan(engine, words, used, say);
    this.printRoom = new PrintRoom(engine, words);
    this.data = new OurData(engine, words, used, say);
    byId("data-place").replaceChildren(...this.data.children);
    byId("plan-place").replaceChildren(...this.plan.children);
    for (const place of PRINTED) byId(`${place}-place`).replaceChildren(...this.printRoom.children(place));
  }

  /** Brings a place up to the lesson in use. @param {import("./places.js").PlaceKey} here */
  refresh(here) {
    if (here === "plan") this.plan.arrive();
    if (here === "data") this.data.arrive();
    for (const place of PRINTED) if (place === here) this.printRoom.refresh(place);
  }
}
