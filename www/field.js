// A number to type: its label, its unit, its limits, and what is wrong with it, all beside each other.

import { element } from "./element.js";

/** The field. */
export class NumberField {
  /**
   * @param {string} id
   * @param {string} label
   * @param {string} value as it stands in the field at first
   * @param {string} unit
   * @param {string} [hint] the limits, said before anything is wrong
   */
  constructor(id, label, value, unit, hint = "") {
    this.input = element("input", {
      type: "text",
      inputmode: "decimal",
      id,
      autocomplete: "off",
      maxlength: 24,
      "aria-describedby": `${id}-hint ${id}-error`,
    });
    this.input.value = value;
    this.error = element("span", { class: "error", id: `${id}-error` });
    this.root = element(
      "p",
      { class: "field" },
      element("label", { for: id }, label),
      element("span", { class: "typed" }, this.input, element("span", { class: "unit" }, unit)),
      element("span", { class: "hint", id: `${id}-hint` }, hint),
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
