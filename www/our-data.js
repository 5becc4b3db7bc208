// Our data: what the class measured, beside the model; the fit, how sure it is, and what it cannot tell.

import { whenFitted } from "./bottle.js";
import { table } from "./datatable.js";
import { element } from "./element.js";
import { DECIMALS, FitResult, untoldWords } from "./fitresult.js";
import { Overlaid } from "./overlaid.js";
import { PressedTimes } from "./pressedtimes.js";
import { ProbeForm } from "./probeform.js";
import { cellTrouble, TimesTable } from "./timestable.js";

/**
 * @typedef {import("./class-shapes.js").FitView} FitView
 * @typedef {import("./class-shapes.js").DataRefusal} DataRefusal
 */

const OF_TIMES = ["acidFactor", "carbonate", "energy", "strength"];
const OF_CURVES = ["acidFactor", "carbonate", "energy", "strength", "lag"];
/** So many refused cells are named beside the button; each is named in its row. */
const TOLD_CELLS = 3;
const AT_FIRST = ["acidFactor", "carbonate", "energy", "lag"];

/** The place. */
export class OurData {
  /**
   * @param {import("./deskengine.js").DeskEngine} engine
   * @param {import("./i18n.js").Words} words
   * @param {() => void} used called after a fit was kept with the lesson
   * @param {(sentence: string) => void} say speaks to those who listen
   * @param {import("./shelf.js").Shelf} shelf keeps what is typed into the table of times
   */
  constructor(engine, words, used, say, shelf) {
    this.engine = engine;
    this.words = words;
    this.used = used;
    this.say = say;
    const t = words.t.bind(words);
    const changed = () => this.offer();
    this.pressed = new PressedTimes(engine, words, say, changed);
    this.times = new TimesTable(words, (text) => engine.pastedTimes(text), say, changed, shelf);
    this.probe = new ProbeForm(engine, words, (refusal) => this.sentence(refusal), say);
    this.overlaid = new Overlaid(words, () => this.probe.measured);
    this.timesTrouble = element("p", { class: "error", role: "alert" });
    this.curveTrouble = element("p", { class: "error", role: "alert" });
    this.fitting = element("p", { class: "quiet" });
    this.which = this.choice();
    this.ofTimes = this.boxes("times", OF_TIMES);
    this.ofCurves = this.boxes("curves", OF_CURVES);
    this.kept = element("div");
    this.result = new FitResult(words, say, () => this.keep());
    /** Whether something of a recording stands here; what is typed into the table of times is kept on this device. */
    this.probed = false;
    const section = (/** @type {string} */ key, /** @type {Node[]} */ ...parts) =>
      element("section", {}, element("h3", {}, t(key)), ...parts);
    this.children = [
      element("h2", { id: "data-heading", tabindex: -1 }, t("data.heading")),
      element("p", {}, t("data.lead")),
      this.kept,
      section(
        "data.times",
        element("p", { class: "quiet" }, t("data.timesLead")),
        this.times.root,
        this.pressed.root,
        this.ofTimes.root,
        this.which.root,
        this.timesTrouble,
        this.button("data.fitTimes", () => this.fitTimes()),
      ),
      section(
        "data.probe",
        element("p", { class: "quiet" }, t("data.probeLead")),
        this.probe.root,
        this.ofCurves.root,
        this.curveTrouble,
        this.button("data.fitProbe", () => this.fitProbe()),
        this.fitting,
      ),
      this.result.root,
    ];
    this.children[4].addEventListener("input", () => {
      this.probed = this.probe.filled;
    });
    this.offer();
  }

  /** Takes over what was typed and opened before the page spoke another language. @param {OurData} before */
  goOnFrom(before) {
    this.times.goOnFrom(before.times);
    this.pressed.goOnFrom(before.pressed);
    this.probe.goOnFrom(before.probe);
    this.probed = before.probed;
  }

  /** Whether leaving the page would lose something. */
  get unsaved() {
    return this.probed || this.times.unsaved;
  }

  /** Forgets what is taken from the lessons of this device. */
  forget() {
    this.pressed.clear();
  }

  /** Asks which times are to be fitted where both kinds stand here: they are never fitted together. */
  offer() {
    if (!this.times) return;
    const counts = { measured: this.times.count, pressed: this.pressed.count };
    this.which.root.hidden = counts.measured === 0 || counts.pressed === 0;
    for (const box of this.which.boxes)
      box.nextSibling?.replaceWith(
        ` ${this.words.t(`data.fit.${box.value}`, { count: counts[/** @type {"measured"} */ (box.value)] })}`,
      );
  }

  /** The choice between times of real beakers and pressed ones. */
  choice() {
    const boxes = ["measured", "pressed"].map((kind, index) =>
      element("input", {
        type: "radio",
        name: "data-which",
        id: `data-which-${kind}`,
        value: kind,
        checked: index === 0,
      }),
    );
    const root = element(
      "fieldset",
      { class: "groups", hidden: true },
      element("legend", {}, this.words.t("data.which")),
      ...boxes.map((box) => element("p", {}, element("label", {}, box, " "))),
      element("p", { class: "quiet" }, this.words.t("data.whichHint")),
    );
    return { root, boxes };
  }

  /** @param {string} key @param {() => void} act */
  button(key, act) {
    return element(
      "p",
      { class: "buttons" },
      element("button", { type: "button", class: "primary", click: act }, this.words.t(key)),
    );
  }

  /** @param {string} of @param {string[]} unknowns */
  boxes(of, unknowns) {
    const boxes = unknowns.map((unknown) =>
      element("input", {
        type: "checkbox",
        id: `data-${of}-${unknown}`,
        value: unknown,
        checked: AT_FIRST.includes(unknown),
      }),
    );
    const root = element(
      "fieldset",
      { class: "groups" },
      element("legend", {}, this.words.t("data.wanted")),
      ...boxes.map((box) =>
        element("p", {}, element("label", {}, box, ` ${this.words.t(`data.unknown.${box.value}`)}`)),
      ),
    );
    return { root, wanted: () => boxes.filter((box) => box.checked).map((box) => box.value) };
  }

  /** Brings the place up to the lesson in use. */
  arrive() {
    this.pressed.arrive();
    this.probe.arrive();
    const { words } = this;
    const bottle = this.engine.bottle();
    if (!bottle) {
      this.kept.replaceChildren();
      return;
    }
    this.kept.replaceChildren(
      element("h3", {}, words.t("data.kept")),
      this.bottle(bottle),
      element(
        "p",
        { class: "buttons" },
        element(
          "button",
          { type: "button", click: () => this.settle(this.engine.dropFit(), "data.dropped") },
          words.t("data.drop"),
        ),
      ),
    );
  }

  /** The bottle as it comes and as it was fitted, side by side. @param {import("./lesson-shapes.js").Bottle} bottle */
  bottle(bottle) {
    const { words } = this;
    const day = whenFitted(bottle);
    return table(
      words.t("bottle.caption", day),
      [words.t("data.number"), words.t("bottle.asLabelled"), words.t("bottle.asFitted", day)],
      bottle.numbers.map(([key, before, fitted]) => [
        words.t(`data.unknown.${key}`),
        words.number(before, DECIMALS[key]),
        fitted === null ? words.t("bottle.notFitted") : words.number(fitted, DECIMALS[key]),
      ]),
    );
  }

  fitTimes() {
    const { times, pressed } = this;
    const wishes = this.which.boxes.find((box) => box.checked)?.value;
    const isPressed = pressed.count > 0 && (times.count === 0 || wishes === "pressed");
    const table = isPressed ? pressed : times;
    const other = isPressed ? times : pressed;
    other.complain([]);
    if (table.count === 0) {
      this.timesTrouble.textContent = this.words.t("data.noTimes");
      return;
    }
    const view = this.engine.fitTimes(table.rows, this.ofTimes.wanted(), isPressed);
    this.timesTrouble.textContent = view.ok ? "" : this.sentence(view);
    table.complain(view.ok ? [] : view.errors);
    if (view.ok) this.result.tell(view, isPressed ? "pressed" : "measured");
  }

  async fitProbe() {
    const { probe } = this;
    if (this.fitting.textContent !== "") return;
    const counted = probe.toFit();
    if (!counted) {
      this.curveTrouble.textContent = this.words.t("data.refused.recordings");
      return;
    }
    // Many recordings take their time, in which the page stands still: it says so before.
    this.fitting.textContent = this.words.t("data.fitting", { count: counted.length });
    await new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn)));
    const placed = counted.map((recording) => recording.placed);
    const view = this.engine.fitProbes(placed, this.ofCurves.wanted());
    this.fitting.textContent = "";
    this.curveTrouble.textContent = view.ok ? "" : this.sentence(view);
    if (!view.ok) return;
    const lag = view.estimates.find(([key]) => key === "lag");
    probe.useFit(lag ? this.words.number(lag[1][0], 1) : null);
    this.result.tell(view, counted);
  }

  /** Why something was not taken, and what to do. @param {DataRefusal} refusal */
  sentence(refusal) {
    const { words } = this;
    const digits = (/** @type {number} */ value) => words.number(value, Number.isInteger(value) ? 0 : 1);
    const sentence = words.t(`data.refused.${refusal.key}`, {
      first: refusal.key === "tooLarge" ? words.number(refusal.first / 1e6, 1) : digits(refusal.first),
      second: digits(refusal.second),
    });
    const cells = refusal.errors
      .slice(0, TOLD_CELLS)
      .map((error) => `${words.t("data.rowNumber", { row: (error.step ?? 0) + 1 })}, ${cellTrouble(words, error)}`);
    return [sentence, ...cells, ...refusal.untold.map((untold) => untoldWords(words, untold))].join(" ");
  }

  keep() {
    const now = new Date();
    const date = now.getFullYear() * 10000 + (now.getMonth() + 1) * 100 + now.getDate();
    this.settle(this.engine.keepFit(date), "data.keptNow");
  }

  /** @param {import("./lesson-shapes.js").Outcome} reply @param {string} key */
  settle(reply, key) {
    if (reply.ok) {
      this.probed = false;
      this.used();
      this.arrive();
    }
    this.say(this.words.t(reply.ok ? key : `data.refused.${reply.key ?? "model"}`, { first: "", second: "" }));
  }
}
