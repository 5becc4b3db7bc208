// Words to type. Nothing is cut off silently.

import { element } from "./element.js";
import { TypedField } from "./field.js";

/**
 * The field.
 * @extends {TypedField<HTMLInputElement | HTMLTextAreaElement>}
 */
export class TextField extends TypedField {
  /**
   * @param {string} id
   * @param {string} label
   * @param {string} value as it stands in the field at first
   * @param {{rows?: number, hint?: string, typed?: (text: string) => void}} [options] rows: more than one gives a box of so many lines
   */
  constructor(id, label, value, { rows = 1, hint = "", typed } = {}) {
    const attributes = { id, autocomplete: "off", dir: "auto" };
    const input =
      rows > 1 ? element("textarea", { ...attributes, rows }) : element("input", { ...attributes, type: "text" });
    input.addEventListener("input", () => typed?.(input.value));
    super(input, label, value, { kind: "words-field", hint, hintKind: "hint quiet" });
  }
}
