// The page at work: one state, and the parts that show it.

import { Announcer } from "./announce.js";
import { Bench } from "./bench.js";
import { Beside } from "./beside.js";
import { Card } from "./card.js";
import { typeAgain, typedIn } from "./carry.js";
import { Clock } from "./clock.js";
import { Controls } from "./controls.js";
import { DeskDoor } from "./deskdoor.js";
import { byId, element } from "./element.js";
import { FreeBench } from "./freebench.js";
import { Ledger } from "./ledger.js";
import { linkField, wholeLink } from "./link.js";
import { keepOffline } from "./offline.js";
import { Opening } from "./opening.js";
import { listenOutside } from "./outside.js";
import { DESK, Places } from "./places.js";
import { RetellPlace } from "./retell.js";
import { SlipPlace } from "./slip.js";
import { listenToStage } from "./stagekeys.js";
import { Teach } from "./teach.js";
import { Telling } from "./telling.js";
import { Timing } from "./timing.js";
import { Trace } from "./trace.js";
import { Trouble } from "./trouble.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./i18n.js").Words} Words
 */

/** The running page. */
export class Page {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {import("./keep.js").Keep} keep what keeps the record
   * @param {Page} [before] the page in other words from which this one goes on
   */
  constructor(engine, words, keep, before) {
    this.engine = engine;
    this.words = words;
    this.announcer = new Announcer(byId("status"));
    this.telling = new Telling(engine, words, this.announcer);
    this.trouble = new Trouble(words, () => this.card.heading.focus());
    /** @type {import("./offline.js").Updates | null} */
    this.updates = null;
    /** Ends what listens outside of the page's own elements. */
    this.life = new AbortController();
    /** The teacher's places. */
    this.door = before?.door ?? new DeskDoor(engine);
    /** @type {import("./desk.js").Desk | null} as soon as they stand */
    this.desk = null;

    /** Speaks to those who listen. @param {string} sentence */
    this.speak = (sentence) => this.announcer.say(sentence);
    const say = this.speak;
    /** @param {string} place */
    const link = (place) => linkField(words, wholeLink(engine.link()), place, say);
    this.keep = keep;
    this.keep.warn = (key) => this.trouble.say(key);
    this.keep.shelf.forgetters.set("page", () => this.forget());
    this.keep.shelf.forgottenElsewhere = () => this.trouble.say("keep.forgottenElsewhere");
    this.opening = new Opening(engine, words, this.keep, this.trouble, {
      fresh: () => {
        this.desk?.plan?.write();
        this.newLesson();
      },
      goOn: (kept) => this.goOn(kept),
      refresh: () => this.refresh(),
      say,
    });
    this.timing = new Timing(engine, words, say);
    this.bench = new Bench(engine, words, (time) => this.clock.look(time));
    this.clock = new Clock(
      engine,
      this.bench,
      {
        seen: () => this.places.here === "bench",
        shows: (when) => this.controls.tell(when),
        ran: (atMs) => this.keep.beat(atMs),
        tell: (ticked) => this.tell(ticked),
        turned: () => this.refreshControls(),
        refresh: () => this.refresh(),
        say: (key) => say(words.t(key)),
      },
      this.life.signal,
    );
    this.controls = new Controls(words, {
      hold: () => this.clock.holdOrCarryOn(),
      next: () => this.clock.next(),
      speed: (speed) => this.clock.setSpeed(speed),
      reach: (reach) => {
        this.bench.ribbons.reach = reach;
        this.refresh();
      },
      big: (big) => {
        byId("bench-place").classList.toggle("big", big);
        this.teach.set(big);
        if (big) this.takeFocus(this.teach.key);
      },
    });
    this.teach = new Teach(words, {
      primary: () => this.card.foot.querySelector("button.primary"),
      hold: () => this.clock.holdOrCarryOn(),
      explain: () => this.card.saidAloud(),
    });
    this.card = new Card(
      engine,
      words,
      {
        changed: () => this.changed(),
        locked: () => this.locked(),
        turned: () => this.turned(),
        begin: (mode) => this.begin(mode),
        level: (level) => this.setLevel(level),
        linkField: link,
        timing: this.timing,
        drafted: (draft) => {
          this.keep.draft = draft;
          this.keep.act();
        },
        draft: () => this.keep.draft,
      },
      () =>
        new FreeBench(engine, words, {
          acted: (done) => this.acted(done),
          fresh: (done) => {
            this.bench.ribbons.forget();
            this.acted(done);
          },
          again: () => this.begin("free"),
          lesson: () => this.begin("guided"),
        }),
    );
    this.keep.hands = () => [...this.card.hands];
    this.ledger = new Ledger(engine, words, say, () => this.keep.act());
    this.keep.books = () => [...this.ledger.twin.typed];
    this.beside = new Beside({
      trace: () => {
        const trace = new Trace(engine, words, (sentence, topic) => this.announcer.say(sentence, topic));
        trace.overlaid = () => this.desk?.data?.overlaid ?? null;
        return trace;
      },
      ledger: () => this.ledger,
      slip: () => new SlipPlace(engine, words, this.keep, { say, forgotten: () => this.places.go("slip", true) }),
      retell: () => new RetellPlace(engine, words, { open: (text) => this.opening.openRun(text), say }),
    });
    /** @type {Places} */
    this.places = new Places(words, () => this.refresh());
  }

  /**
   * Takes its place in the document, unseen. This, to make the parts, and to show them are tasks of their own: together they would
   * hold a slow machine up for long.
   */
  stand() {
    const { words } = this;
    const heading = element("h2", { id: "bench-heading", class: "unseen" }, words.t("place.bench"));
    const keys = element("p", { id: "stage-keys", class: "keys quiet" }, words.t("bench.keys"));
    byId("bench-place").replaceChildren(
      heading,
      this.bench.root,
      this.card.root,
      this.teach.root,
      this.controls.root,
      keys,
    );
    this.door.wait(words);
    this.bench.layOut();
  }

  /** Shows itself in the place of the words before it. */
  show() {
    byId("before").hidden = true;
    this.places.stand();
    listenToStage(this.engine, this.bench, this.clock, this.timing);
    listenOutside(this, this.life.signal);
    this.places.go("bench");
    // A class waits for the bench, nobody for the desk: it comes when the bench has been seen.
    requestAnimationFrame(() => setTimeout(() => this.furnish()));
  }

  /** Sets up what no class waits for: the teacher's places, and the page kept for days without a network. */
  async furnish() {
    if (this.life.signal.aborted) return;
    await this.furnishDesk();
    // Whoever goes on without a network has everything now.
    document.documentElement.dataset.loaded = "";
    if (this.updates || this.life.signal.aborted) return;
    this.updates = await keepOffline(this.words, () => this.busy(), this.speak);
  }

  /** Sets up the teacher's places. */
  async furnishDesk() {
    const made = await this.door.open(this.words);
    if (!made || this.desk || this.life.signal.aborted) return;
    this.setUp(made);
    if (DESK.includes(this.places.here)) this.places.go(this.places.here, true);
  }

  /** @param {import("./deskdoor.js").Made} made */
  setUp({ Desk, engine }) {
    this.desk = new Desk(engine, this.words, this.keep, () => this.newLesson(), this.speak);
    return this.desk;
  }

  /** Whether leaving the page would lose something. */
  unsaved() {
    const books = this.keep.state !== "kept" && this.ledger.twin.isFilled;
    return Boolean(this.keep.unsaved || this.desk?.unsaved || books);
  }

  /** Whether this is no time for a newer version of the page. */
  busy() {
    const { stage, mode } = this.engine.state();
    return this.unsaved() || (mode === "guided" && stage !== "brief" && stage !== "end");
  }

  /** Goes on with a lesson that was kept, and with what was typed. @param {import("./keep.js").Kept} kept */
  goOn(kept) {
    this.card.resume(new Map(kept.hands));
    this.ledger.twin.resume(kept.books);
    this.desk?.plan?.write();
    if (kept.plan) this.desk?.plan?.put(kept.plan);
    this.showLesson(false);
  }

  /** When everything is forgotten that was kept here: the same lesson, untouched. */
  forget() {
    this.opening.withdraw();
    this.engine.forget();
    this.card.hands.clear();
    this.ledger.twin.resume([]);
    this.desk?.data?.forget();
    this.desk?.plan?.write();
    this.showLesson(false);
  }

  /**
   * The same page in another language: the lesson, the place and everything that was typed stay.
   * @param {Words} words
   * @returns {Page} the one that goes on; this one is over
   */
  inOtherWords(words) {
    const { card, clock, controls, desk, ledger, places } = this;
    const typed = typedIn(parts());
    this.life.abort();
    this.announcer.hush();
    const offered = this.opening.withdraw();
    const next = new Page(this.engine, words, this.keep, this);
    next.stand();
    next.show();
    next.timing.goOnFrom(this.timing);
    if (offered) next.opening.offer("");
    if (desk && this.door.made) next.setUp(this.door.made).goOnFrom(desk);
    for (const place of this.beside.places) next.beside.at(place);
    next.updates = this.updates;
    next.updates?.speak(words, () => next.busy(), next.speak);
    next.ledger.twin.resume([...ledger.twin.typed]);
    next.clock.looking = clock.looking;
    next.card.goOnFrom(card);
    typeAgain(parts(), typed);
    if (controls.big.getAttribute("aria-pressed") === "true") next.controls.big.click();
    next.places.go(places.here);
    return next;
  }

  /** Brings every part up to the lesson's state. */
  refresh() {
    const state = this.engine.state();
    // First the layout of the stage: the card measures what it holds.
    byId("bench-place").dataset.stage = state.stage;
    this.bench.refresh(state, this.engine.marks());
    this.card.refresh(state);
    this.refreshControls(state);
    this.places.allow("ledger", this.engine.shows("ledger"));
    this.timing.refresh();
    this.beside.at(this.places.here)?.refresh();
    this.desk?.refresh(this.places.here);
    this.updates?.offer();
    this.clock.wake();
  }

  /** After a step of the lesson that the student made on the card. */
  changed() {
    this.clock.lookAtNow();
    this.announcer.hush();
    this.refresh();
    this.takeFocus(this.card.heading);
  }

  /** After the card has turned to another page or another question. */
  turned() {
    this.teach.turned();
    // In the class view one button leads on, so the keyboard stays with it.
    if (this.teach.on) this.teach.key.focus();
  }

  /** The keyboard goes here, or stays with the one button of the class view. @param {HTMLElement} place */
  takeFocus(place) {
    (this.teach.on ? this.teach.key : place).focus();
  }

  /** Begins the same lesson at another level. @param {number} level */
  setLevel(level) {
    const outcome = this.engine.setLevel(level);
    if (!outcome.ok) return this.trouble.say(`trouble.${outcome.key}`);
    this.newLesson();
    byId("level").focus();
  }

  /** After the guess was accepted: the card lifts, the dose is poured, and the keyboard stands on the stage. */
  locked() {
    this.clock.lookAtNow();
    this.engine.setHeld(false);
    this.refresh();
    this.takeFocus(this.bench.stage);
    const { step } = this.engine.state();
    if (step) this.announcer.say(this.words.t(`said.poured.${step.reagent}`, { number: step.number }));
    // The first tick of a dose computes it to its rest: now, while the card still stands, and not in the pour's first frame.
    this.tell(this.engine.tick(0));
  }

  /** After an action on the free bench. @param {string} done */
  acted(done) {
    this.clock.lookAtNow();
    this.announcer.say(done);
    this.refresh();
  }

  /** Starts the lesson or the free bench anew. @param {"guided" | "free"} mode */
  begin(mode) {
    const outcome = this.engine.begin(mode);
    // A lesson is looked at in the light.
    if (mode === "guided") this.engine.setLook(true, false);
    if (!outcome.ok) return this.trouble.say(`trouble.${outcome.key}`);
    this.clock.lookAtNow();
    this.bench.ribbons.forget();
    this.card.hands.clear();
    this.refresh();
    this.takeFocus(this.card.heading);
  }

  /** After another recipe or link was taken. */
  newLesson() {
    if (!this.engine.retell()) this.keep.turnOver();
    this.card.hands.clear();
    this.ledger.twin.resume([]);
    this.showLesson(true);
  }

  /** Lays the lesson out that the core has now. @param {boolean} atBench goes to the bench with the keyboard */
  showLesson(atBench) {
    this.clock.lookAtNow();
    this.telling.forget();
    this.bench.ribbons.forget();
    this.bench.layOut();
    this.card.shown = "";
    // The address keeps the lesson, so that a reload or a bookmark finds it again.
    // Where its words are too many for a link, it keeps the page alone: a wrong lesson would be worse than none.
    const link = this.engine.link().replace(/^#/, "");
    history.replaceState(null, "", link ? `#${link}` : location.href.split("#")[0]);
    if (atBench) this.places.go("bench", true);
    else this.refresh();
  }

  /** Tells what has happened, and follows it. @param {import("./lesson-shapes.js").Ticked} ticked */
  tell({ events, trouble }) {
    if (trouble) this.trouble.say(`trouble.${trouble}`);
    this.telling.tell(events);
    if (events.some(({ key }) => key === "rest")) this.refresh();
    else if (events.length > 0) {
      this.bench.take(this.engine.marks());
      this.timing.refresh();
    }
  }

  /** The part of a refresh that a press of a button in the bar needs. @param {import("./lesson-shapes.js").State} state */
  refreshControls(state = this.engine.state()) {
    this.controls.refresh(state, this.clock.looksBack);
    this.teach.refresh(state, this.clock.looksBack);
    this.clock.wake();
  }
}

/** @returns {Element[]} the parts of the page in which something can be typed or chosen */
function parts() {
  return [...document.querySelectorAll(".place")];
}
