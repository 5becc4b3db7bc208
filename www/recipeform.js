// The numbers of the recipe, with their limits told at the field.

import { element } from "./element.js";
import { NumberField } from "./field.js";

/**
 * @typedef {import("./lesson-shapes.js").RecipeForm} Numbers
 * @typedef {import("./desk-shapes.js").BeakerTree} BeakerTree
 * @typedef {import("./desk-shapes.js").LessonTree} LessonTree
 * @typedef {import("./lesson-shapes.js").FieldError} FieldError
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
/** What the list of steps decides as soon as a teacher has planned it dose by dose. */
const COUNTS = ["acidDoses", "baseDoses"];

/** The form. */
export class RecipeForm {
  /**
   * @param {Words} words
   * @param {() => void} changed called after every key
   * @param {(sentence: string) => void} say speaks to those who listen
   */
  constructor(words, changed, say) {
    this.words = words;
    this.changed = changed;
    this.say = say;
    /** @type {Map<string, NumberField>} */
    this.fields = new Map();
    /** @type {{kind: HTMLSelectElement, celsius: NumberField, iceG: NumberField}[]} */
    this.beakers = [];
    const t = words.t.bind(words);
    this.groups = element("div", { class: "groups" });
    this.beakerPlace = element("div", { class: "beaker-fields" });
    this.said = element("p", { class: "quiet" });
    this.byHand = element("p", { class: "quiet", hidden: true }, t("plan.countsByHand"));
    this.children = [
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
        this.said,
      ),
    ];
  }

  /**
   * Writes a recipe into the form.
   * @param {Numbers} numbers units, limits and the decimals to show
   * @param {Pick<LessonTree, "recipe" | "beakers">} typed what stands in the fields: numbers are written out, texts as they are
   */
  write({ fields }, { recipe, beakers }) {
    const { words } = this;
    const t = words.t.bind(words);
    this.fields = new Map(
      fields.map(({ key, unit, min, max, decimals }) => [
        key,
        new NumberField(
          `plan-${key}`,
          t(`field.${key}`),
          plain(words, recipe[key], decimals),
          unit,
          t("field.limits", words.limits({ min, max, unit })),
        ),
      ]),
    );
    for (const field of this.fields.values()) field.input.addEventListener("input", () => this.changed());
    this.groups.replaceChildren(
      ...Object.entries(GROUPS).map(([group, keys]) =>
        element(
          "fieldset",
          {},
          element("legend", {}, t(`plan.group.${group}`)),
          ...keys.map((key) => this.fields.get(key)?.root),
          group === "lesson" && this.byHand,
        ),
      ),
    );
    this.beakers = [];
    this.beakerPlace.replaceChildren();
    for (const beaker of beakers) this.addBeaker(beaker);
    this.said.textContent = "";
  }

  /** Hides what the list of steps decides. @param {boolean} byHand */
  countByHand(byHand) {
    for (const key of COUNTS) {
      const field = this.fields.get(key);
      if (field) field.root.hidden = byHand;
    }
    this.byHand.hidden = !byHand;
  }

  /** @returns {Pick<LessonTree, "recipe" | "beakers">} */
  get typed() {
    return {
      recipe: Object.fromEntries([...this.fields].map(([key, { typed }]) => [key, typed])),
      beakers: this.beakers.map(({ kind, celsius, iceG }) => ({
        kind: kind.value,
        celsius: celsius.typed,
        iceG: iceG.typed,
      })),
    };
  }

  /** @param {BeakerTree} setup */
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
    const celsius = new NumberField(`${id}-celsius`, t("field.celsius"), plain(words, setup.celsius ?? 21), "°C");
    const iceG = new NumberField(`${id}-iceG`, t("field.iceG"), plain(words, setup.iceG ?? 100), "g");
    const show = () => {
      celsius.root.hidden = kind.value === "room";
      iceG.root.hidden = kind.value !== "ice";
    };
    kind.addEventListener("change", () => {
      show();
      this.changed();
    });
    for (const { input } of [celsius, iceG]) input.addEventListener("input", () => this.changed());
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
    this.said.textContent = "";
    this.changed();
  }

  /** Forgets what was refused before. */
  calm() {
    for (const field of this.fields.values()) field.complain("");
    for (const { celsius, iceG } of this.beakers) {
      celsius.complain("");
      iceG.complain("");
    }
  }

  /** Where something was refused. @param {FieldError} error @returns {NumberField | undefined} */
  fieldOf({ field, beaker }) {
    if (beaker === undefined || beaker === null) return this.fields.get(field);
    const place = this.beakers[beaker];
    return field === "iceG" ? place?.iceG : place?.celsius;
  }
}

/** A number written out; a text as it was typed. @param {Words} words @param {number | string} value @param {number} [decimals] */
function plain(words, value, decimals) {
  return typeof value === "string" ? value : words.number(value, decimals ?? (Number.isInteger(value) ? 0 : 1));
}
