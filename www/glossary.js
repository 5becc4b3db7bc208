// Trade terms in what the card tells: whoever taps one, or presses Enter on it, gets one sentence beside it. None stands in a
// question, and none is offered before the lesson has asked what its sentence would give away.

import { element } from "./element.js";

/**
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {import("./engine.js").Engine} Engine
 */

/** Each term: the question of a level that its sentence would answer, or "brief" where it is offered in the brief alone. */
const TERMS = Object.entries({
  suspension: "1.oneThing",
  solution: "1.oneThing",
  clear: "1.clearMeans",
  colourless: "1.clearMeans",
  dissolve: "1.whereWhite",
  indicator: "2.whatIndicator",
  antacid: "",
  acid: "brief",
  base: "brief",
  mole: "",
  ph: "",
  limiting: "",
  endPoint: "",
  neutralisation: "",
  saturated: "",
});
/** What is told. */
const TOLD = "p, li, th";
/** Where no term is offered: what is asked, pressed or typed, and what a person wrote. */
const NOT_IN = "form, fieldset, label, button, a, select, .error, .own, [dir=auto]";
/** Between a word and its sentence, and between that and the edge of the screen, CSS px: room for the ring of the focus. */
const GAP_PX = 6;

/**
 * Makes the first of each term on a page of the card a button.
 * @param {Words} words
 * @param {Engine} engine
 * @param {HTMLElement} body
 */
export function gloss(words, engine, body) {
  const { level, stage } = engine.state();
  const told = engine.told().map(({ key }) => key);
  const isOver = stage === "end" || stage === "free";
  /** @type {Map<string, string>} the terms that are still to be found, by each of their forms */
  const terms = new Map();
  for (const [term, question] of TERMS) {
    const isAhead = question.startsWith(`${level}.`) && !isOver && !told.includes(question);
    const isLate = question === "brief" && stage !== "brief";
    // A page that is turned back to has its terms already.
    if (isAhead || isLate || body.querySelector(`[data-term=${term}]`)) continue;
    for (const form of words.t(`term.${term}.forms`).split("|")) terms.set(form.toLowerCase(), term);
  }
  const longestFirst = [...terms.keys()].sort((one, other) => other.length - one.length);
  const pattern = new RegExp(`(?:^|[^\\p{L}])(${longestFirst.join("|")})(?!\\p{L})`, "giu");
  const walker = document.createTreeWalker(body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const text = /** @type {Text} */ (walker.currentNode);
    const around = text.parentElement;
    if (!around?.closest(TOLD) || around.closest(NOT_IN)) continue;
    for (const { 0: found, 1: form, index } of text.data.matchAll(pattern)) {
      const term = terms.get(form.toLowerCase());
      if (!term) continue;
      for (const [other, its] of terms) if (its === term) terms.delete(other);
      const word = text.splitText(index + found.length - form.length);
      // The walker goes on behind the button.
      word.splitText(form.length);
      word.replaceWith(button(term, form, words.t(`term.${term}`)));
      break;
    }
  }
}

/** @param {string} term @param {string} form as it stands in the text @param {string} sentence */
function button(term, form, sentence) {
  const note = element(
    "span",
    {
      class: "term-note",
      role: "note",
      tabindex: -1,
      "aria-label": sentence,
      focusout: () => close(),
      keydown: (event) => {
        if (event.key !== "Escape") return;
        event.stopPropagation();
        back();
      },
    },
    sentence,
  );
  const word = element(
    "button",
    {
      type: "button",
      class: "term",
      "data-term": term,
      "aria-expanded": "false",
      // Else a press on the word would close the note by taking the focus from it, and the click open it again.
      mousedown: (event) => event.preventDefault(),
      click: () => (note.isConnected ? back() : open()),
    },
    form,
  );
  /** Where the word stood when its note was opened, px. */
  let [x, y] = [0, 0];
  const open = () => {
    word.after(note);
    word.setAttribute("aria-expanded", "true");
    const { left, top, bottom } = word.getBoundingClientRect();
    const { width, height } = note.getBoundingClientRect();
    const below = bottom + GAP_PX;
    note.style.left = `${Math.max(GAP_PX, Math.min(left, innerWidth - width - GAP_PX))}px`;
    note.style.top = `${below + height + GAP_PX > innerHeight ? top - height - GAP_PX : below}px`;
    note.focus({ preventScroll: true });
    [x, y] = [left, top];
    // It stands beside its word, or not at all.
    addEventListener("scroll", scrolled, true);
    addEventListener("resize", back);
  };
  const back = () => word.focus({ preventScroll: true });
  // The scrolling that brought the keyboard to the word is told in the frame after, when the note may be open already.
  const scrolled = () => {
    const { left, top } = word.getBoundingClientRect();
    if (left !== x || top !== y) back();
  };
  // Whatever takes the focus from the note closes it.
  const close = () => {
    removeEventListener("scroll", scrolled, true);
    removeEventListener("resize", back);
    word.setAttribute("aria-expanded", "false");
    note.remove();
  };
  return word;
}
