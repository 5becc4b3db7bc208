// One way to make an element: attributes by name, listeners by function, children as nodes or text.
// Text never passes through innerHTML, so nothing typed or linked can become markup.

/**
 * @typedef {string | number | boolean | null | undefined | ((event: any) => void)} Attribute
 * @typedef {Node | string | null | undefined | false} Child
 */

/**
 * Makes an element.
 * @template {keyof HTMLElementTagNameMap} Tag
 * @param {Tag} tag
 * @param {Record<string, Attribute>} [attributes] a function is listened to under its name ("click"); true, false, null and undefined set or leave out the attribute
 * @param {...Child} children
 * @returns {HTMLElementTagNameMap[Tag]}
 */
export function element(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") made.addEventListener(name, value);
    else if (value === true) made.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) made.setAttribute(name, String(value));
  }
  made.append(...children.filter(isShown));
  return made;
}

const SVG = "http://www.w3.org/2000/svg";

/**
 * Makes an element of a drawing.
 * @param {string} tag
 * @param {Record<string, string | number>} [attributes]
 * @param {...Node} children
 * @returns {SVGElement}
 */
export function drawing(tag, attributes = {}, ...children) {
  const made = /** @type {SVGElement} */ (document.createElementNS(SVG, tag));
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  made.append(...children);
  return made;
}

/**
 * The element of the page with this id.
 * @param {string} id
 * @returns {HTMLElement}
 * @throws {Error} when the page has none: index.html and the scripts have come apart
 */
export function byId(id) {
  const found = document.getElementById(id);
  if (!found) throw new Error(`no element "${id}" in the page`);
  return found;
}

/** @param {Child} child @returns {child is Node | string} */
function isShown(child) {
  return child !== null && child !== undefined && child !== false;
}
