// The end of the lesson: what it came to, how to come back to it, and the code of this run.

import { element } from "./element.js";

/**
 * @param {import("./i18n.js").Words} words
 * @param {import("./engine.js").Engine} engine
 * @param {HTMLElement} linkField
 * @returns {HTMLElement[]}
 */
export function summary(words, engine, linkField) {
  const t = words.t.bind(words);
  const { doses } = engine.marks();
  const acid = doses.filter(({ reagent }) => reagent === "acid").length;
  return [
    element("p", {}, t("end.doses", { acid, base: doses.length - acid })),
    element(
      "ul",
      {},
      ...["limiting", "temperature", "colour", "reversal"].map((key) => element("li", {}, t(`end.${key}`))),
    ),
    element("p", { class: "quiet" }, t("end.real")),
    element("p", {}, t("end.code"), " ", element("strong", { class: "code" }, engine.checkCode())),
    element("p", { class: "quiet" }, t("end.codeWhat")),
    linkField,
  ];
}
