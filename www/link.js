// The lesson as a link: to copy, and to open when the page starts or its address changes.

import { element } from "./element.js";

/** @typedef {import("./i18n.js").Words} Words */

/** Was the page opened from a folder? Its address means nothing on any other device. */
export const FROM_FOLDER = location.protocol === "file:";

/**
 * A field with the whole link and a button that copies it. From a folder it is the part behind a hosted page's address, and
 * it says so.
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
    t(FROM_FOLDER ? "link.copyPart" : "link.copy"),
  );
  return element(
    "div",
    { class: "link-field" },
    FROM_FOLDER ? element("p", { class: "warn" }, t("link.folder")) : "",
    element("label", { for: field.id }, t(FROM_FOLDER ? "link.part" : "link.label")),
    element("div", { class: "link-row" }, field, copy),
    said,
  );
}

/**
 * The whole address of a lesson; from a folder only its part from the # on.
 * @param {string} fragment
 * @returns {string}
 */
export function wholeLink(fragment) {
  return `${FROM_FOLDER ? "" : location.href.split("#")[0]}#${fragment.replace(/^#/, "")}`;
}
