// A value to type: its label, its limits, and what is wrong with it, all beside each other. A number has its unit, too.

import { element } from "./element.js";

/**
 * What numbers and words to type have in common.
 * @template {HTMLInputElement | HTMLTextAreaElement} T
 */
export class TypedField {
  /**
   * @param {T} input with an id
   * @param {string} label
   * @param {string} value as it stands in the field at first
   * @param {{kind: string, box?: Node, hint: string, hintKind?: string}} looks the field's class; what stands in its place for
   *   the input alone; what may be typed, said before anything is wrong, and its class
   */
  constructor(input, label, value, { kind, box = input, hint, hintKind = "hint" }) {
    const { id } = input;
    this.input = input;
    this.input.value = value;
    this.input.setAttribute("aria-describedby", `${id}-hint ${id}-error`);
    this.error = element("span", { class: "error", id: `${id}-error` });
    this.root = element(
      "p",
      { class: kind },
      element("label", { for: id }, label),
      box,
      element("span", { class: hintKind, id: `${id}-hint` }, hint),
      this.error,
    );
  }

  /** @returns {string} what is typed */
  get typed() {
    return this.input.value;
  }

  /** @param {string} sentence what is wrong and what to do; empty when all is well */
  complain(sentence) {
    this.error.textContent = sentence;
    this.input.setAttribute("aria-invalid", String(sentence !== ""));
  }
}

/**
 * A number to type.
 * @extends {TypedField<HTMLInputElement>}
 */
export class NumberField extends TypedField {
  /**
   * @param {string} id
   * @param {string} label
   * @param {string} value as it stands in the field at first
   * @param {string} unit
   * @param {string} [hint] the limits
   */
  constructor(id, label, value, unit, hint = "") {
    const input = element("input", { type: "text", inputmode: "decimal", id, autocomplete: "off", maxlength: 24 });
    const box = element("span", { class: "typed" }, input, element("span", { class: "unit" }, unit));
    super(input, label, value, { kind: "field", box, hint });
  }

  /** @returns {number} with either decimal mark; NaN where nothing or no number is typed */
  get value() {
    const typed = this.typed.trim();
    return typed === "" ? Number.NaN : Number(typed.replace(",", "."));
  }
}
