// Which language the page speaks: chosen on this device, else asked for by the address (?lang=es), else the browser's.

import { element } from "./element.js";
import { NAMES } from "./names.js";
import { part } from "./part.js";
import { LANGUAGES } from "./pkg/languages.js";

/**
 * @typedef {object} Language
 * @property {string} tag BCP 47, the name of its file in locales/
 * @property {string} name in the language itself
 * @property {"ltr" | "rtl"} direction
 */

/** Where the choice is kept on this device. */
const KEPT = "turnback.language";

/** @returns {Language} the language that the page speaks; English where nothing that is wished for is there */
export function language() {
  const wished = [kept(), new URLSearchParams(location.search).get("lang"), ...navigator.languages];
  for (const wish of wished) {
    const found = LANGUAGES.find(({ tag }) => wish && base(tag) === base(wish));
    if (found) return found;
  }
  return /** @type {Language} */ (LANGUAGES.find(({ tag }) => tag === "en"));
}

/** The file of a language's words. @param {Language} wanted */
export function fileOf({ tag }) {
  return `locales/${tag}.json`;
}

/**
 * What was asked for already, by file; null once it was taken. start.js and page.js each hold a copy of this module, and
 * either may run first, so it stands where both find it.
 * @returns {Map<string, Promise<Response> | null>}
 */
function asked() {
  const shared = /** @type {{turnbackAsked?: Map<string, Promise<Response> | null>}} */ (globalThis);
  shared.turnbackAsked ??= new Map();
  return shared.turnbackAsked;
}

/** Asks for the words of a language, to be taken later; once is enough. @param {Language} wanted */
export function askAhead(wanted) {
  const file = fileOf(wanted);
  if (asked().has(file)) return;
  const answer = part(file);
  // Whoever takes it hears of it.
  answer.catch(() => {});
  asked().set(file, answer);
}

/** Takes what was asked for ahead, or asks now. @param {Language} wanted @returns {Promise<Response>} */
export function askFor(wanted) {
  const file = fileOf(wanted);
  const answer = asked().get(file) ?? part(file);
  asked().set(file, null);
  return answer;
}

/** Tells the browser, and whoever has the page read aloud, which language it speaks. @param {Language} spoken */
export function dress({ tag, direction }) {
  document.documentElement.lang = tag;
  document.documentElement.dir = direction;
  // What a device shows of the installed page; a release has it in each language.
  const manifest = NAMES[`${tag}/turnback.webmanifest`];
  if (manifest) document.querySelector("link[rel=manifest]")?.setAttribute("href", manifest);
}

/** Keeps a choice for the next visit, where the device lets it. @param {Language} chosen */
export function keep({ tag }) {
  try {
    localStorage.setItem(KEPT, tag);
  } catch {
    // A device that keeps nothing asks its browser each time.
  }
}

/**
 * The choice of a language, each by its own name.
 * @param {string} label
 * @param {Language} spoken
 * @param {(chosen: Language) => void} choose
 * @returns {HTMLElement}
 */
export function languageChoice(label, spoken, choose) {
  const select = element(
    "select",
    {
      id: "language",
      change: () => {
        const chosen = LANGUAGES.find(({ tag }) => tag === select.value);
        if (chosen) choose(chosen);
      },
    },
    ...LANGUAGES.map(({ tag, name }) => element("option", { value: tag, lang: tag }, name)),
  );
  select.value = spoken.tag;
  return element("p", { class: "language" }, element("label", { for: "language", class: "unseen" }, label), select);
}

/** @returns {string | null} */
function kept() {
  try {
    return localStorage.getItem(KEPT);
  } catch {
    return null;
  }
}

/** The language of a tag, without its country. @param {string} tag */
function base(tag) {
  return tag.toLowerCase().split("-")[0];
}
