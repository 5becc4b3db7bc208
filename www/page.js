// The page at work: one clock, one state, and the parts that show it.

import { About } from "./about.js";
import { Announcer } from "./announce.js";
import { beakerName, colourWord } from "./beaker.js";
import { Bench } from "./bench.js";
import { Card } from "./card.js";
import { typeAgain, typedIn } from "./carry.js";
import { Controls, SPEEDS } from "./controls.js";
import { Desk } from "./desk.js";
import { byId, element } from "./element.js";
import { FreeBench } from "./freebench.js";
import { Keep } from "./keep.js";
import { Ledger } from "./ledger.js";
import { linkField, wholeLink } from "./link.js";
import { keepOffline } from "./offline.js";
import { DESK, Places } from "./places.js";
import { RetellPlace } from "./retell.js";
import { SlipPlace } from "./slip.js";
import { TallyPlace } from "./tally.js";
import { Teach } from "./teach.js";
import { Timing } from "./timing.js";
import { Trace } from "./trace.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./engine.js").LessonEvent} LessonEvent
 * @typedef {import("./i18n.js").Words} Words
 */

/** A frame counts at most this long, s: after a sleep the lesson goes on where it was, it does not jump. */
const LONGEST_FRAME_S = 0.1;
/** One press of an arrow key on the stage looks this far back or forward, s. */
const LOOK_STEP_S = 5;

/** How the link of a run begins. */
const RUN = /^#?run\d/;

/** The running page. */
export class Page {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {Keep} [keep] what keeps the record, where it goes on from a page in other words
   */
  constructor(engine, words, keep) {
    this.engine = engine;
    this.words = words;
    this.announcer = new Announcer(byId("status"));
    /** @type {number | null} an earlier time that is looked at; null shows now */
    this.looking = null;
    this.frameAt = 0;
    this.frameAsked = false;
    /** @type {import("./offline.js").Updates | null} */
    this.updates = null;
    /** Ends what listens outside of the page's own elements. */
    this.life = new AbortController();
    const { signal } = this.life;
    /** Whether the page was laid out anew since the last frame. */
    this.resized = false;
    /** @type {Set<number>} beakers that turned back, but whose seconds are told only at rest */
    this.untold = new Set();
    /** @type {Desk | null} the teacher's places, as soon as they stand */
    this.desk = null;

    /** @param {string} sentence */
    const say = (sentence) => this.announcer.say(sentence);
    /** @param {string} place */
    const link = (place) => linkField(words, wholeLink(engine.link()), place, say);
    this.keep = keep ?? new Keep(engine);
    this.keep.warn = (key) => this.say(key);
    this.timing = new Timing(engine, words, say);
    this.bench = new Bench(engine, words, (time) => this.look(time));
    this.controls = new Controls(words, {
      hold: () => this.holdOrCarryOn(),
      next: () => this.next(),
      speed: (speed) => this.setSpeed(speed),
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
      hold: () => this.holdOrCarryOn(),
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
    this.trace = new Trace(engine, words, (sentence, topic) => this.announcer.say(sentence, topic));
    this.keep.hands = () => [...this.card.hands];
    this.ledger = new Ledger(engine, words, say, () => this.keep.act());
    this.keep.books = () => [...this.ledger.twin.typed];
    this.slip = new SlipPlace(engine, words, this.keep, { say, forgotten: () => this.forgotten() });
    this.retell = new RetellPlace(engine, words, { open: (text) => this.openRun(text), say });
    this.tally = new TallyPlace(engine, words, say);

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
    byId("trace-place").replaceChildren(...this.trace.children);
    byId("ledger-place").replaceChildren(...this.ledger.children);
    byId("slip-place").replaceChildren(...this.slip.children);
    byId("retell-place").replaceChildren(...this.retell.children);
    byId("tally-place").replaceChildren(...this.tally.children);
    byId("about-place").replaceChildren(...new About(engine, words).children);
    byId("before").hidden = true;
    this.places = new Places(words, () => this.refresh());
    this.places.go("bench");

    this.bench.stage.addEventListener("keydown", (event) => this.key(event));
    document.addEventListener(
      "keydown",
      (event) => {
        if (this.places.here === "bench") this.teach.pressed(event);
      },
      { signal },
    );
    byId("bench-place").addEventListener(
      "resized",
      () => {
        this.resized = true;
        this.wake();
      },
      { signal },
    );
    // By script, because the part of the address after # belongs to the lesson.
    document.querySelector(".skip")?.addEventListener(
      "click",
      (event) => {
        event.preventDefault();
        this.places.go("bench", true);
      },
      { signal },
    );
    document.addEventListener("visibilitychange", () => this.wake(), { signal });
    window.addEventListener(
      "beforeunload",
      (event) => {
        // A device may be wiped when somebody signs out, and what is typed into a plan or a ledger lives in this tab only: leaving
        // a slip that was not handed in, or what was not saved, asks first.
        if (this.unsaved()) event.preventDefault();
      },
      { signal },
    );
    this.bench.layOut();
    this.refresh();
    // A class waits for the bench, nobody for the desk: it comes when the bench has been seen.
    requestAnimationFrame(() => setTimeout(() => this.furnish()));
  }

  /** Sets up what no class waits for: the teacher's places, and the page kept for days without a network. */
  furnish() {
    this.furnishDesk();
    if (this.updates || this.life.signal.aborted) return;
    const say = (/** @type {string} */ sentence) => this.announcer.say(sentence);
    keepOffline(this.words, () => this.busy(), say).then((updates) => {
      this.updates = updates;
    });
  }

  /** Sets up the teacher's places. */
  furnishDesk() {
    if (this.desk || this.life.signal.aborted) return;
    const used = () => this.newLesson();
    this.desk = new Desk(this.engine, this.words, used, (sentence) => this.announcer.say(sentence));
    if (DESK.includes(this.places.here)) this.places.go(this.places.here, true);
  }

  /** Whether leaving the page would lose something. */
  unsaved() {
    const books = this.keep.state !== "kept" && this.ledger.twin.isFilled;
    return Boolean(this.keep.unsaved || this.desk?.plan.unsaved || this.desk?.data.unsaved || books);
  }

  /** Whether this is no time for a newer version of the page. */
  busy() {
    const { stage, mode } = this.engine.state();
    return this.unsaved() || (mode === "guided" && stage !== "brief" && stage !== "end");
  }

  /**
   * Begins with what this very tab was at when it was reloaded; or else with the lesson of the address, and offers what else is
   * kept of it.
   * @param {string} wanted what stands in the address from its # on
   */
  begun(wanted) {
    const fragment = wanted.replace(/^#/, "");
    const mine = this.keep.mine();
    const fits = mine && (!fragment || fragment === mine.link || fragment === mine.run);
    if (fits && this.resume(mine)) return;
    if (fragment) this.open(fragment);
    this.offer(fragment);
  }

  /** @param {import("./keep.js").Kept} kept @returns {boolean} whether it could be read */
  resume(kept) {
    if (!this.keep.resume(kept)) {
      this.say("keep.unreadable");
      return false;
    }
    this.card.resume(new Map(kept.hands));
    this.ledger.twin.resume(kept.books);
    this.showLesson(false);
    return true;
  }

  /** Offers the newest lesson that is kept here. @param {string} link of the lesson, where it must be that one */
  offer(link) {
    const { count, kept } = this.keep.newest(link);
    if (!kept) return;
    const away = () => {
      offer.remove();
      this.refresh();
    };
    const offer = element(
      "section",
      { class: "offer", "aria-label": this.words.t("keep.heading") },
      element("p", {}, this.words.t(count > 1 ? "keep.offerMany" : "keep.offer", { count })),
      element(
        "p",
        { class: "buttons" },
        element(
          "button",
          {
            type: "button",
            class: "primary",
            id: "keep-go-on",
            click: () => {
              away();
              this.resume(kept);
            },
          },
          this.words.t("keep.goOn"),
        ),
        element("button", { type: "button", id: "keep-anew", click: away }, this.words.t("keep.anew")),
      ),
    );
    byId("main").prepend(offer);
  }

  /** After everything that was kept here was forgotten: the same lesson, untouched. */
  forgotten() {
    const lesson = this.engine.lesson();
    this.engine.setLesson(lesson);
    this.card.hands.clear();
    this.ledger.twin.resume([]);
    this.showLesson(false);
    this.places.go("slip", true);
  }

  /** Opens a run that is told again. @param {string} text @returns {string} why it can't be opened, or nothing */
  openRun(text) {
    this.keep.turnOver();
    const outcome = this.engine.openRun(text);
    if (!outcome.ok) {
      const key = `run.${outcome.key}`;
      return this.words.t(this.words.has(key) ? key : "run.damaged");
    }
    this.keep.run = text.trim().replace(/^#/, "");
    byId("trouble").hidden = true;
    this.desk?.plan.write();
    this.newLesson();
    this.announcer.say(this.words.t("retell.opened"));
    return "";
  }

  /**
   * The same page in another language: the lesson, the place and everything that was typed stay.
   * @param {Words} words
   * @returns {Page} the one that goes on; this one is over
   */
  inOtherWords(words) {
    this.furnishDesk();
    const { card, controls, desk, ledger, places } = this;
    const draft = desk?.plan.unsaved ? desk.plan.typed() : null;
    const run = card.asking;
    const answers = run && typedIn(run.roots);
    const typed = typedIn(parts());
    this.life.abort();
    this.announcer.hush();
    const offered = document.querySelector(".offer");
    offered?.remove();
    const next = new Page(this.engine, words, this.keep);
    next.timing.finish = this.timing.finish;
    next.timing.refresh();
    if (offered) next.offer("");
    next.furnishDesk();
    next.updates = this.updates;
    const say = (/** @type {string} */ sentence) => next.announcer.say(sentence);
    next.updates?.speak(words, () => next.busy(), say);
    if (draft) next.desk?.plan.put(draft);
    if (desk) next.desk?.data.goOnFrom(desk.data);
    Object.assign(next.card, { locked: card.locked, hands: card.hands });
    next.ledger.twin.typed = ledger.twin.typed;
    next.looking = this.looking;
    // The brief asks its questions only when the lesson is begun.
    if (run && !next.card.asking) next.card.foot.querySelector("button")?.click();
    if (answers && next.card.asking) {
      typeAgain(next.card.asking.roots, answers);
      next.card.asking.show(run.at);
    }
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
    if (this.places.here === "ledger") this.ledger.refresh();
    if (this.places.here === "slip") this.slip.refresh();
    if (this.places.here === "retell") this.retell.refresh();
    if (this.places.here === "tally") this.tally.refresh();
    if (this.places.here === "trace") this.trace.refresh();
    this.desk?.refresh(this.places.here);
    this.updates?.offer();
    this.wake();
  }

  /** After a step of the lesson that the student made on the card. */
  changed() {
    this.looking = null;
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
    if (!outcome.ok) return this.say(`trouble.${outcome.key}`);
    this.newLesson();
    byId("level").focus();
  }

  /** After the guess was accepted: the card lifts, the dose is poured, and the keyboard stands on the stage. */
  locked() {
    this.looking = null;
    this.engine.setHeld(false);
    this.refresh();
    this.takeFocus(this.bench.stage);
    const { step } = this.engine.state();
    if (step) this.announcer.say(this.words.t(`said.poured.${step.reagent}`, { number: step.number }));
  }

  /** After an action on the free bench. @param {string} done */
  acted(done) {
    this.looking = null;
    this.announcer.say(done);
    this.refresh();
  }

  /** Starts the lesson or the free bench anew. @param {"guided" | "free"} mode */
  begin(mode) {
    const outcome = this.engine.begin(mode);
    // A lesson is looked at in the light.
    if (mode === "guided") this.engine.setLook(true, false);
    if (!outcome.ok) return this.say(`trouble.${outcome.key}`);
    this.looking = null;
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
    this.looking = null;
    this.untold.clear();
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

  /**
   * Opens a link, or says why it can't.
   * @param {string} fragment
   */
  open(fragment) {
    if (RUN.test(fragment)) {
      const refused = this.openRun(fragment);
      if (refused) this.sayWords(refused);
      return;
    }
    const outcome = this.engine.openLink(fragment);
    const trouble = byId("trouble");
    if (outcome.ok) {
      trouble.hidden = true;
      this.desk?.plan.write();
      this.newLesson();
    } else this.say(this.words.has(`link.${outcome.key}`) ? `link.${outcome.key}` : "link.damaged");
  }

  /** Says what went wrong and what to do, until it is put away. @param {string} key */
  say(key) {
    this.sayWords(this.words.t(key));
  }

  /** @param {string} sentence */
  sayWords(sentence) {
    const trouble = byId("trouble");
    trouble.replaceChildren(
      element("p", {}, sentence),
      element(
        "button",
        {
          type: "button",
          click: () => {
            trouble.hidden = true;
            this.card.heading.focus();
          },
        },
        this.words.t("trouble.close"),
      ),
    );
    trouble.hidden = false;
  }

  // --- the clock -----------------------------------------------------------------------------------------------------

  /** Asks for a frame; the loop goes on by itself while something moves and stops when nothing does. */
  wake() {
    if (this.frameAsked || document.hidden) return;
    this.frameAt = 0;
    this.askForFrame();
  }

  /** Asks for the next frame. */
  askForFrame() {
    this.frameAsked = true;
    requestAnimationFrame((at) => this.frame(at));
  }

  /** @param {number} at ms */
  frame(at) {
    this.frameAsked = false;
    if (this.life.signal.aborted) return;
    if (this.places.here !== "bench") return;
    if (this.resized) {
      this.resized = false;
      this.refresh();
    }
    const seconds = this.frameAt === 0 ? 0 : Math.min((at - this.frameAt) / 1000, LONGEST_FRAME_S);
    let state = this.engine.state();
    if (clockMoves(state) && this.bench.cover.isUp && seconds > 0) {
      const ticked = this.engine.tick(seconds);
      this.keep.beat(at);
      this.tell(ticked);
      // Where nothing has happened only the clock has moved.
      state = ticked.events.length > 0 || ticked.trouble ? this.engine.state() : { ...state, now: ticked.now };
    }
    const shown = this.looking ?? state.now;
    this.controls.tell(this.bench.when(shown));
    const complete = this.bench.draw(state, shown, at);
    if ((!clockMoves(state) && complete) || document.hidden || this.frameAsked) return;
    this.frameAt = at;
    this.askForFrame();
  }

  /** @param {import("./engine.js").Ticked} ticked */
  tell({ events, trouble }) {
    if (trouble) this.say(`trouble.${trouble}`);
    for (const event of events) {
      const sentence = this.sentence(event);
      if (sentence) this.announcer.say(sentence, event.key === "band" ? `band of ${event.beaker}` : sentence);
    }
    if (events.some(({ key }) => key === "rest")) {
      for (const late of this.toldAtRest(events)) this.announcer.say(this.sentence(late));
      this.refresh();
    } else if (events.length > 0) {
      this.bench.take(this.engine.marks());
      this.timing.refresh();
    }
  }

  /**
   * Turnings back of this dose whose seconds had to wait for the rest, so that nobody's own time was given away.
   * @param {LessonEvent[]} fresh what is told by itself
   * @returns {LessonEvent[]}
   */
  toldAtRest(fresh) {
    const { doses, events } = this.engine.marks();
    const from = doses.at(-1)?.at ?? 0;
    const isFresh = (/** @type {LessonEvent} */ { at, beaker }) =>
      fresh.some((one) => one.at === at && one.beaker === beaker);
    const late = events.filter((event) => event.key === "turnedBack" && (event.at ?? 0) > from && !isFresh(event));
    return late.filter(({ beaker }) => this.untold.delete(beaker ?? 0));
  }

  /** @param {LessonEvent} event @returns {string} */
  sentence(event) {
    const { words } = this;
    const { beakers } = this.engine.recipe();
    const beaker = event.beaker === undefined ? "" : beakerName(words, beakers, event.beaker);
    const waits = event.key === "turnedBack" && event.seconds === undefined;
    if (waits) this.untold.add(event.beaker ?? 0);
    const key = waits ? "said.turnedBackUntimed" : `said.${event.key}`;
    if (!words.has(key)) return "";
    return words.t(key, {
      beaker,
      colour: event.band ? colourWord(words, event.band, event.pale ?? false) : "",
      seconds: event.seconds === undefined ? "" : words.number(event.seconds, 0),
    });
  }

  // --- what hands do -------------------------------------------------------------------------------------------------

  /** Holds the clock, carries on, or comes back from looking at an earlier time. */
  holdOrCarryOn() {
    const state = this.engine.state();
    if (this.looking !== null) {
      this.looking = null;
      if (state.stage === "watch" || state.stage === "free") this.engine.setHeld(false);
    } else if (state.stage === "watch" || state.stage === "free") {
      this.engine.setHeld(!state.held);
      this.announcer.say(this.words.t(state.held ? "said.carriedOn" : "said.held"));
    }
    this.refreshControls();
  }

  /** Goes to the next thing that happens. */
  next() {
    const { stage } = this.engine.state();
    if ((stage !== "watch" && stage !== "free") || !this.bench.cover.isUp) return;
    this.looking = null;
    const next = this.engine.nextEvent();
    if (next.events.length === 0) this.acted(this.words.t("said.nothing"));
    this.tell(next);
    this.refresh();
  }

  /** @param {import("./engine.js").Speed} speed */
  setSpeed(speed) {
    this.engine.setSpeed(speed);
    this.refreshControls();
  }

  /** Shows an earlier time; the clock is held meanwhile. @param {number} time s */
  look(time) {
    const { now, stage } = this.engine.state();
    if (stage === "ask") return;
    const { from } = this.bench.ribbons.span;
    const clipped = Math.max(from, Math.min(now, time));
    if (stage === "watch" || stage === "free") this.engine.setHeld(true);
    this.looking = clipped >= now ? null : clipped;
    this.bench.showSoon();
    this.refreshControls();
  }

  /** The part of a refresh that a press of a button in the bar needs. @param {import("./engine.js").State} state */
  refreshControls(state = this.engine.state()) {
    this.controls.refresh(state, this.looking !== null);
    this.teach.refresh(state, this.looking !== null);
    this.wake();
  }

  /**
   * Keys of the stage; they act only while it has the focus, so they take no letter from a screen reader or a text field.
   * @param {KeyboardEvent} event
   */
  key(event) {
    if (event.target !== this.bench.stage || event.ctrlKey || event.altKey || event.metaKey) return;
    const state = this.engine.state();
    const shown = this.looking ?? state.now;
    const place = SPEEDS.indexOf(state.speed);
    /** @type {Record<string, () => void>} */
    const acts = {
      " ": () => this.holdOrCarryOn(),
      h: () => this.holdOrCarryOn(),
      n: () => this.next(),
      ...Object.fromEntries(["1", "2", "3"].map((key, beaker) => [key, () => this.timing.mark(beaker)])),
      "+": () => this.setSpeed(SPEEDS[Math.min(place + 1, SPEEDS.length - 1)]),
      "-": () => this.setSpeed(SPEEDS[Math.max(place - 1, 0)]),
      ArrowLeft: () => this.look(shown - LOOK_STEP_S),
      ArrowRight: () => this.look(shown + LOOK_STEP_S),
      Home: () => this.look(this.bench.ribbons.span.from),
      End: () => this.look(state.now),
    };
    const act = acts[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    if (!act) return;
    event.preventDefault();
    act();
  }
}

/** @param {import("./engine.js").State} state @returns {boolean} whether the lesson's clock moves */
function clockMoves({ stage, held, classHold }) {
  // While a class's hold is told again the clock stands, but the hold runs out.
  return (stage === "watch" || stage === "free") && (!held || classHold !== null);
}

/** @returns {Element[]} the parts of the page in which something can be typed or chosen */
function parts() {
  return [...document.querySelectorAll(".place")];
}
