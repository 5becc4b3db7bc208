// Words to type: their label, what may be typed, and what is wrong with them. Nothing is cut off silently.

import { element } from "./element.js";

/** The field. */
export class TextField {
  /**
   * @param {string} id
   * @param {string} label
   * @param {string} value as it stands in the field at first
   * @param {{rows?: number, hint?: string, typed?: (text: string) => void}} [options] rows: more than one gives a box of so many lines
   */
  constructor(id, label, value, { rows = 1, hint = "", typed } = {}) {
    const attributes = { id, autocomplete: "off", dir: "auto", "aria-describedby": `${id}-hint ${id}-error` };
    this.input =
      rows > 1 ? element("textarea", { ...attributes, rows }) : element("input", { ...attributes, type: "text" });
    this.input.value = value;
    this.input.addEventListener("input", () => typed?.(this.input.value));
    this.error = element("span", { class: "error", id: `${id}-error` });
    this.root = element(
      "p",
      { class: "words-field" },
      element("label", { for: id }, label),
      this.input,
      element("span", { class: "hint quiet", id: `${id}-hint` }, hint),
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
