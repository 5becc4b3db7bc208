// The recipe form: the numbers of the shelf, with their limits told at the field. Nothing typed is lost when one is refused.

import { element } from "./element.js";
import { NumberField } from "./field.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./engine.js").BeakerSetup} BeakerSetup
 * @typedef {import("./engine.js").FieldError} FieldError
 * @typedef {import("./i18n.js").Words} Words
 */

const KINDS = ["bath", "room", "held", "ice", "plate"];
const MOST_BEAKERS = 3;
/** The form's groups, in the order in which a teacher takes things off the shelf. */
const GROUPS = /** @type {Record<string, string[]>} */ ({
  beaker: ["vesselMl", "waterMl", "suspensionMl", "suspensionMgMl", "indicatorMl"],
  reagents: ["acidMolL", "baseMolL", "doseMl", "pourS"],
  lesson: ["acidDoses", "restS", "baseDoses", "baseRestS"],
  room: ["roomC", "stirRpm"],
});

/** The place. */
export class Plan {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {() => void} used called after a recipe was accepted
   * @param {(place: string) => HTMLElement} linkField makes the field with the link of this lesson
   * @param {(sentence: string) => void} say speaks to those who listen
   */
  constructor(engine, words, used, linkField, say) {
    this.engine = engine;
    this.words = words;
    this.used = used;
    this.linkField = linkField;
    this.say = say;
    /** @type {Map<string, NumberField>} */
    this.fields = new Map();
    /** @type {{kind: HTMLSelectElement, celsius: NumberField, iceG: NumberField}[]} */
    this.beakers = [];
    const t = words.t.bind(words);
    this.beakerPlace = element("div", { class: "beaker-fields" });
    this.groups = element("div", { class: "groups" });
    this.trouble = element("p", { class: "error", role: "alert" });
    this.said = element("p", { class: "quiet" });
    this.link = element("div");
    this.children = [
      element("h2", { id: "plan-heading", tabindex: -1 }, t("plan.heading")),
      element("p", {}, t("plan.lead")),
      element(
        "form",
        {
          novalidate: true,
          submit: (/** @type {Event} */ event) => {
            event.preventDefault();
            this.use();
          },
        },
        this.groups,
        element(
          "fieldset",
          {},
          element("legend", {}, t("plan.group.beakers")),
          this.beakerPlace,
          element(
            "p",
            { class: "buttons" },
            element("button", { type: "button", click: () => this.setCount(this.beakers.length + 1) }, t("plan.more")),
            element("button", { type: "button", click: () => this.setCount(this.beakers.length - 1) }, t("plan.fewer")),
          ),
        ),
        this.trouble,
        element(
          "p",
          { class: "buttons" },
          element("button", { type: "submit", class: "primary" }, t("plan.use")),
          element("button", { type: "button", click: () => this.write() }, t("plan.undo")),
        ),
        this.said,
      ),
      element("h3", {}, t("plan.share")),
      element("p", {}, t("plan.shareLead")),
      this.link,
    ];
    this.write();
  }

  /** Writes the recipe in use into the form. */
  write() {
    const { words } = this;
    const t = words.t.bind(words);
    const { fields, beakers } = this.engine.recipe();
    this.fields = new Map(
      fields.map(({ key, unit, min, max, value, decimals }) => [
        key,
        new NumberField(
          `plan-${key}`,
          t(`field.${key}`),
          words.number(value, decimals),
          unit,
          t("field.limits", words.limits({ min, max, unit })),
        ),
      ]),
    );
    this.groups.replaceChildren(
      ...Object.entries(GROUPS).map(([group, keys]) =>
        element(
          "fieldset",
          {},
          element("legend", {}, t(`plan.group.${group}`)),
          ...keys.map((key) => this.fields.get(key)?.root),
        ),
      ),
    );
    this.beakers = [];
    this.beakerPlace.replaceChildren();
    for (const beaker of beakers) this.addBeaker(beaker);
    this.trouble.textContent = "";
    this.said.textContent = "";
    this.refreshLink();
  }

  /** Shows the link of the recipe in use. */
  refreshLink() {
    this.link.replaceChildren(this.linkField("plan"));
  }

  /** @param {BeakerSetup} setup */
  addBeaker(setup) {
    const { words } = this;
    const t = words.t.bind(words);
    const index = this.beakers.length;
    const id = `plan-beaker-${index}`;
    const kind = element(
      "select",
      { id: `${id}-kind` },
      ...KINDS.map((key) => element("option", { value: key, selected: key === setup.kind }, t(`bath.${key}`))),
    );
    const celsius = new NumberField(`${id}-celsius`, t("field.celsius"), plain(words, setup.celsius), "°C");
    const iceG = new NumberField(`${id}-iceG`, t("field.iceG"), plain(words, setup.iceG), "g");
    const show = () => {
      celsius.root.hidden = kind.value === "room";
      iceG.root.hidden = kind.value !== "ice";
    };
    kind.addEventListener("change", show);
    show();
    this.beakers.push({ kind, celsius, iceG });
    this.beakerPlace.append(
      element(
        "fieldset",
        { class: "beaker-field" },
        element("legend", {}, t("plan.beaker", { place: index + 1 })),
        element("p", { class: "field" }, element("label", { for: kind.id }, t("field.kind")), kind),
        celsius.root,
        iceG.root,
      ),
    );
  }

  /** @param {number} count */
  setCount(count) {
    if (count < 1 || count > MOST_BEAKERS) {
      this.said.textContent = this.words.t(count < 1 ? "plan.atLeastOne" : "plan.atMostThree");
      this.say(this.said.textContent);
      return;
    }
    while (this.beakers.length > count) {
      this.beakers.pop();
      this.beakerPlace.lastElementChild?.remove();
    }
    while (this.beakers.length < count) this.addBeaker({ kind: "bath", celsius: 21, iceG: 100 });
  }

  /** Hands what is typed to the core, and says at each field what it refused. */
  use() {
    for (const field of this.fields.values()) field.complain("");
    for (const { celsius, iceG } of this.beakers) {
      celsius.complain("");
      iceG.complain("");
    }
    this.said.textContent = "";
    const typed = /** @type {Record<string, unknown>} */ (
      Object.fromEntries([...this.fields].map(([key, { typed: text }]) => [key, text]))
    );
    typed.beakers = this.beakers.map(({ kind, celsius, iceG }) => ({
      kind: kind.value,
      celsius: celsius.typed,
      iceG: iceG.typed,
    }));
    const outcome = this.engine.setRecipe(typed);
    if (outcome.ok) {
      this.write();
      this.used();
      return;
    }
    const errors = outcome.errors ?? [];
    /** @type {NumberField | undefined} */
    let first;
    for (const error of errors) {
      const field = this.fieldOf(error);
      field?.complain(this.words.t(`error.${error.key}`, this.words.limits(error)));
      first ??= field;
    }
    this.trouble.textContent = this.words.t("plan.refused", { count: errors.length });
    first?.input.focus();
  }

  /** @param {FieldError} error */
  fieldOf({ field, beaker }) {
    if (beaker === undefined || beaker === null) return this.fields.get(field);
    const place = this.beakers[beaker];
    return field === "iceG" ? place?.iceG : place?.celsius;
  }
}

/** @param {Words} words @param {number} value */
function plain(words, value) {
  return words.number(value, Number.isInteger(value) ? 0 : 1);
}
