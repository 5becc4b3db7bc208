// The teacher's desk: Plan, Prep sheet, Safety card, Paper, Our data, Tally, About. Its script comes when the bench stands.

// Both scripts use much of the same: the build lays that, and all else that the bench starts with, into the bench's script.
import "./main.js";
import { About } from "./about.js";
import { byId } from "./element.js";
import { OurData } from "./our-data.js";
import { Plan } from "./plan.js";
import { PRINTED, PrintRoom } from "./printroom.js";
import { TallyPlace } from "./tally.js";

export { DeskEngine } from "./deskengine.js";

/** The places of the teacher. */
export class Desk {
  /**
   * @param {import("./deskengine.js").DeskEngine} engine
   * @param {import("./i18n.js").Words} words
   * @param {() => void} used called after a lesson was accepted
   * @param {(sentence: string) => void} say speaks to those who listen
   */
  constructor(engine, words, used, say) {
    this.plan = new Plan(engine, words, used, say);
    this.printRoom = new PrintRoom(engine, words);
    this.data = new OurData(engine, words, used, say);
    this.tally = new TallyPlace(engine, words, say);
    byId("plan-place").replaceChildren(...this.plan.children);
    for (const place of PRINTED) byId(`${place}-place`).replaceChildren(...this.printRoom.children(place));
    byId("data-place").replaceChildren(...this.data.children);
    byId("tally-place").replaceChildren(...this.tally.children);
    byId("about-place").replaceChildren(...new About(engine, words).children);
  }

  /** Brings a place up to the lesson in use. @param {import("./places.js").PlaceKey} here */
  refresh(here) {
    if (here === "plan") this.plan.arrive();
    if (here === "data") this.data.arrive();
    if (here === "tally") this.tally.refresh();
    for (const place of PRINTED) if (place === here) this.printRoom.refresh(place);
  }
}
