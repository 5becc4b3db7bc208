// What was typed and chosen in a part of the page, taken over into the same part made anew (in another language).

/** @typedef {HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement} Control */
/** @typedef {Map<string, string | boolean>} Typed what stands in each control, by its place */

/** @param {Element[]} roots @returns {Typed} */
export function typedIn(roots) {
  return new Map(controls(roots).map(([place, control]) => [place, standing(control)]));
}

/**
 * Types it again; each control is told of what has changed in it, as by a hand.
 * @param {Element[]} roots
 * @param {Typed} typed
 */
export function typeAgain(roots, typed) {
  for (const [place, control] of controls(roots)) {
    const wanted = typed.get(place);
    if (wanted === undefined || wanted === standing(control)) continue;
    if (typeof wanted === "string") control.value = wanted;
    // The radio button that was chosen takes the choice from the others.
    else if (wanted || control.type !== "radio")
      /** @type {HTMLInputElement} */ (/** @type {unknown} */ (control)).checked = wanted;
    else continue;
    for (const told of ["input", "change"]) control.dispatchEvent(new Event(told, { bubbles: true }));
  }
}

/** @param {Element[]} roots @returns {[string, Control][]} all but those that are only read, by id or by their place */
function controls(roots) {
  return roots.flatMap((root, part) =>
    [.../** @type {NodeListOf<Control>} */ (root.querySelectorAll("input, textarea, select"))]
      .filter((control) => !control.hasAttribute("readonly") && control.type !== "file")
      .map((control, index) => /** @type {[string, Control]} */ ([control.id || `${part}/${index}`, control])),
  );
}

/** @param {Control} control */
function standing(control) {
  return control instanceof HTMLInputElement && /^(radio|checkbox)$/.test(control.type)
    ? control.checked
    : control.value;
}
