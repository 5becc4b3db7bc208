// The lesson as a link: to copy, and to open when the page starts or its address changes.

import { element } from "./element.js";

/** @typedef {import("./i18n.js").Words} Words */

/**
 * A field with the whole link and a button that copies it.
 * @param {Words} words
 * @param {string} link
 * @param {string} place makes the ids of this field its own
 * @param {(sentence: string) => void} say speaks to those who listen
 * @returns {HTMLElement}
 */
export function linkField(words, link, place, say) {
  const t = words.t.bind(words);
  const field = element("input", {
    type: "text",
    readonly: true,
    id: `${place}-link`,
    class: "link",
    spellcheck: "false",
    "aria-describedby": `${place}-link-said`,
  });
  field.value = link;
  const said = element("span", { id: `${place}-link-said`, class: "quiet" });
  /** @param {string} sentence */
  const tell = (sentence) => {
    said.textContent = sentence;
    say(sentence);
  };
  const copy = element(
    "button",
    {
      type: "button",
      click: async () => {
        field.select();
        try {
          await navigator.clipboard.writeText(field.value);
          tell(t("link.copied"));
        } catch {
          // Some schools block the clipboard. The text is selected, so one key press copies it.
          tell(t("link.selected"));
        }
      },
    },
    t("link.copy"),
  );
  return element(
    "div",
    { class: "link-field" },
    element("label", { for: field.id }, t("link.label")),
    element("div", { class: "link-row" }, field, copy),
    said,
  );
}

/**
 * The whole address of a lesson.
 * @param {string} fragment
 * @returns {string}
 */
export function wholeLink(fragment) {
  return `${location.href.split("#")[0]}#${fragment.replace(/^#/, "")}`;
}
