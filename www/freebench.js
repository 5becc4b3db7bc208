// The controls of the free bench: which beakers, which reagent, how much; the stirrer; the bath.

import { beakerName } from "./beaker.js";
import { element } from "./element.js";
import { NumberField } from "./field.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./lesson-shapes.js").Outcome} Outcome
 * @typedef {import("./i18n.js").Words} Words
 */

/** What may be changed in a beaker that is set up anew. */
const WHAT_IFS = /** @type {import("./lesson-shapes.js").WhatIfKey[]} */ (["halfWater", "finer", "ice", "noIndicator"]);
/** What a bath can be changed to while the lesson runs; ice is put in at the start only. */
const BATHS = ["bath", "room", "held", "plate"];
/** Those of them that have a temperature of their own. */
const WITH_CELSIUS = ["bath", "plate"];

/** The controls. */
export class FreeBench {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {object} turns
   * @param {(done: string) => void} turns.acted called after an action that changed the bench, with its sentence
   * @param {(done: string) => void} turns.fresh called after the beakers were set up anew with a change, with its sentence
   * @param {() => void} turns.again starts the free bench anew
   * @param {() => void} turns.lesson goes to the guided lesson
   */
  constructor(engine, words, { acted, fresh, again, lesson }) {
    this.engine = engine;
    this.words = words;
    this.acted = acted;
    this.fresh = fresh;
    const { fields, beakers } = engine.recipe();
    const t = words.t.bind(words);
    /** @param {string} key */
    const standing = (key) => {
      const field = fields.find((one) => one.key === key);
      return field ? words.number(field.value, field.decimals) : "";
    };
    this.boxes = beakers.map((_, index) =>
      element("input", {
        type: "checkbox",
        id: `free-beaker-${index}`,
        value: index,
        checked: true,
        "aria-describedby": "free-beakers-error",
      }),
    );
    this.boxesError = element("p", { class: "error", id: "free-beakers-error" });
    this.volume = new NumberField("free-volume", t("free.volume"), standing("doseMl"), "mL");
    this.rpm = new NumberField("free-rpm", t("free.rpm"), standing("stirRpm"), "rpm");
    this.celsius = new NumberField("free-celsius", t("free.celsius"), standing("roomC"), "°C");
    this.kind = element(
      "select",
      { id: "free-bath", change: () => this.showCelsius() },
      ...BATHS.map((key) => element("option", { value: key }, t(`bath.${key}`))),
    );
    this.showCelsius();
    this.whatIf = element(
      "select",
      { id: "free-what-if", change: () => this.showWhatIf() },
      ...WHAT_IFS.map((key) => element("option", { value: key }, t(`whatIf.${key}`))),
    );
    this.whatIfDoes = element("p", { class: "quiet", id: "free-what-if-does" });
    this.whatIfError = element("p", { class: "error", id: "free-what-if-error" });
    this.whatIf.setAttribute("aria-describedby", "free-what-if-does free-what-if-error");
    this.changes = element("ul", { class: "changes" });
    this.mark = this.toggle("free.mark", true);
    this.torch = this.toggle("free.torch", false);
    this.body = [
      element(
        "fieldset",
        { "aria-describedby": "free-beakers-error" },
        element("legend", {}, t("free.beakers")),
        element(
          "div",
          { class: "row" },
          ...this.boxes.map((box, index) =>
            element("label", { class: "option" }, box, beakerName(words, beakers, index)),
          ),
        ),
        this.boxesError,
      ),
      this.volume.root,
      this.buttons(
        ["free.acid", () => this.pour("acid"), "primary"],
        ["free.base", () => this.pour("base"), "primary"],
      ),
      this.part(
        "free.stirrer",
        element("p", { class: "quiet" }, t("free.stirrerDoes")),
        this.rpm.root,
        this.buttons(["free.stir", () => this.stir(this.rpm.typed)], ["free.off", () => this.stir("0")]),
      ),
      this.part(
        "free.bath",
        element("p", { class: "field" }, element("label", { for: this.kind.id }, t("free.bathKind")), this.kind),
        this.celsius.root,
        this.buttons(["free.setBath", () => this.setBath()]),
      ),
      this.part(
        "free.whatIf",
        element("p", { class: "field" }, element("label", { for: this.whatIf.id }, t("free.whatIfKind")), this.whatIf),
        this.whatIfDoes,
        this.whatIfError,
        this.buttons(
          ["free.change", () => this.change(/** @type {any} */ (this.whatIf.value))],
          ["free.changeNone", () => this.change("none")],
        ),
        this.changes,
      ),
      this.part(
        "free.look",
        this.mark.root,
        element("p", { class: "quiet" }, t("free.markWhat")),
        this.torch.root,
        element("p", { class: "quiet" }, t("free.torchWhat")),
      ),
    ];
    // What stands here outlasts the browser; how one looked at it doesn't.
    for (const part of this.body.slice(0, -1)) part.dataset.kept = "";
    this.showWhatIf();
    this.showChanges();
    engine.setLook(true, false);
    this.foot = [this.button("free.again", again), this.button("free.lesson", lesson)];
  }

  /** A part that opens when it is wanted. @param {string} key @param {...HTMLElement} children */
  part(key, ...children) {
    return element("details", {}, element("summary", {}, this.words.t(key)), ...children);
  }

  /** Something that is on or off. @param {string} key @param {boolean} checked */
  toggle(key, checked) {
    const box = element("input", { type: "checkbox", checked, change: () => this.look(key, box.checked) });
    return { box, root: element("label", { class: "option" }, box, this.words.t(key)) };
  }

  /** @param {...[string, () => void, string?]} buttons key, act and kind of each */
  buttons(...buttons) {
    return element("p", { class: "buttons" }, ...buttons.map(([key, act, kind]) => this.button(key, act, kind)));
  }

  /** @param {string} key @param {() => void} act @param {string} [kind] */
  button(key, act, kind = "") {
    return element("button", { type: "button", class: kind, click: act }, this.words.t(key));
  }

  /** Asks for a temperature only where the surroundings have one of their own. */
  showCelsius() {
    this.celsius.root.hidden = !WITH_CELSIUS.includes(this.kind.value);
  }

  /** Says what the chosen change does, before it is done. */
  showWhatIf() {
    this.whatIfDoes.textContent = this.words.t(`whatIf.${this.whatIf.value}.does`);
    this.whatIfError.textContent = "";
  }

  /** Says what is changed in which beaker. */
  showChanges() {
    const { beakers } = this.engine.recipe();
    this.changes.replaceChildren(
      ...this.engine
        .state()
        .whatIfs.flatMap((changed, index) =>
          changed.map((key) =>
            element(
              "li",
              {},
              element("strong", {}, `${beakerName(this.words, beakers, index)}: ${this.words.t(`whatIf.${key}`)}. `),
              this.words.t(`whatIf.${key}.does`),
            ),
          ),
        ),
    );
  }

  /** The chosen beakers; says so when there is none. @returns {number[]} */
  chosen() {
    for (const field of [this.volume, this.rpm, this.celsius]) field.complain("");
    const chosen = this.boxes.filter((box) => box.checked).map((box) => Number(box.value));
    this.boxesError.textContent = chosen.length === 0 ? this.words.t("error.beakers") : "";
    if (chosen.length === 0) this.boxes[0].focus();
    return chosen;
  }

  /** @param {"acid" | "base"} reagent */
  pour(reagent) {
    const beakers = this.chosen();
    if (beakers.length === 0) return;
    const outcome = this.engine.pour({ beakers, reagent, volumeMl: this.volume.typed });
    if (this.took(outcome, this.volume))
      this.acted(this.words.t(`free.poured.${reagent}`, { volume: this.volume.typed }));
  }

  /** @param {string} rpm as typed; 0 is off */
  stir(rpm) {
    const beakers = this.chosen();
    if (beakers.length === 0 || !beakers.every((beaker) => this.took(this.engine.setStirrer(beaker, rpm), this.rpm)))
      return;
    this.acted(this.words.t(rpm === "0" ? "free.stirOff" : "free.stirOn", { rpm }));
  }

  /** Puts the chosen beakers into other surroundings. */
  setBath() {
    const beakers = this.chosen();
    const bath = {
      kind: /** @type {import("./lesson-shapes.js").BathKey} */ (this.kind.value),
      celsius: this.celsius.typed,
    };
    if (beakers.length === 0 || !beakers.every((beaker) => this.took(this.engine.setBath(beaker, bath), this.celsius)))
      return;
    this.acted(this.words.t("free.bathSet"));
  }

  /** Changes something in the chosen beakers and sets all up anew. @param {import("./lesson-shapes.js").WhatIfKey | "none"} key */
  change(key) {
    const beakers = this.chosen();
    if (beakers.length === 0) return;
    const outcome = this.engine.change(beakers, key);
    this.whatIfError.textContent = "";
    if (!outcome.ok) {
      const [first] = outcome.errors ?? [];
      const error = `error.${first?.key ?? outcome.key ?? "notNow"}`;
      this.whatIfError.textContent = this.words.t(error, this.words.limits(first ?? {}));
      this.whatIf.focus();
      return;
    }
    this.showChanges();
    this.fresh(
      key === "none"
        ? this.words.t("free.changedNone")
        : this.words.t("free.changed", { change: this.words.t(`whatIf.${key}`) }),
    );
  }

  /** Looks at the bench in another way. @param {string} key @param {boolean} on */
  look(key, on) {
    this.engine.setLook(this.mark.box.checked, this.torch.box.checked);
    this.acted(this.words.t(`${key}.${on ? "on" : "off"}`));
  }

  /**
   * Says at the field why an action was refused.
   * @param {Outcome} outcome
   * @param {NumberField} field
   * @returns {boolean} whether it was done
   */
  took(outcome, field) {
    if (outcome.ok) return true;
    const [first] = outcome.errors ?? [];
    field.complain(this.words.t(`error.${first?.key ?? outcome.key ?? "notNow"}`, this.words.limits(first ?? {})));
    field.input.focus();
    return false;
  }
}
