// A table of what was measured: it scrolls by itself where the screen is narrow.

import { element } from "./element.js";

/** @param {string} caption @param {string[]} heads @param {string[][]} rows */
export function table(caption, heads, rows) {
  return element(
    "div",
    { class: "wide", tabindex: 0, role: "region", "aria-label": caption },
    element(
      "table",
      {},
      element("caption", {}, caption),
      element("thead", {}, element("tr", {}, ...heads.map((head) => element("th", { scope: "col" }, head)))),
      element(
        "tbody",
        {},
        ...rows.map((row) => element("tr", {}, ...row.map((cell) => element("td", {}, element("bdi", {}, cell))))),
      ),
    ),
  );
}
