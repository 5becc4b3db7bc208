// The Safety card: what the chosen concentrations ask for, and what is said whatever is on the bench. Words and sources are the page's.

import { concentration } from "./dilution.js";
import { element } from "./element.js";
import { part, sheet, table } from "./sheet.js";

/**
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {import("./sheet.js").Head} Head
 * @typedef {import("./desk-shapes.js").SafetyCard} SafetyCard
 * @typedef {import("./desk-shapes.js").Material} Material
 */

/**
 * The card as sheets of paper.
 * @param {Words} words
 * @param {Head} head
 * @param {SafetyCard} card
 * @param {boolean} covered whether a lesson is under way whose outcome may not be told
 * @returns {HTMLElement[]}
 */
export function safetySheets(words, head, card, covered) {
  const t = words.t.bind(words);
  const [first, ...others] = card.always;
  const labelled = card.materials.filter(({ labels }) => labels.length > 0);
  const listed = labelled.flatMap(({ labels }) => labels.flatMap((label) => label.statements));
  // "H314 1A" is statement H314 with its category.
  const statements = new Set(listed.map((statement) => statement.split(" ")[0]));
  return [
    sheet(
      words,
      head,
      t("safety.heading"),
      element("p", { class: "warn" }, t(`safety.always.${first}`)),
      part(t("safety.alwaysHeading"), element("ul", {}, ...others.map((key) => said(t, `safety.always.${key}`)))),
      part(
        t("safety.leftHeading"),
        !covered && element("p", {}, left(words, card.left)),
        element("p", {}, t("safety.leftDo")),
      ),
    ),
    sheet(
      words,
      head,
      t("safety.labels"),
      table(
        t("safety.labelsCaption"),
        ["what", "eu", "us"].map((key) => t(`safety.column.${key}`)),
        labelled.map((material) => [name(words, material), ...both(t, material)]),
        "hazards",
      ),
      element(
        "dl",
        { class: "statements" },
        ...[...statements]
          .sort()
          .flatMap((key) => [element("dt", {}, key), element("dd", {}, t(`safety.statement.${key}`))]),
      ),
      element("p", {}, t("safety.category"), " ", t("safety.followBottle")),
      part(
        t("safety.sources"),
        element("ul", {}, ...card.sources.map((key) => said(t, `safety.source.${key}`))),
        element("p", {}, t("safety.fromMemory")),
      ),
    ),
    sheet(
      words,
      head,
      t("safety.handling"),
      element(
        "div",
        { class: "columns" },
        ...card.materials.map((material) =>
          part(
            name(words, material),
            element("ul", {}, ...material.cautions.map((key) => said(t, `safety.caution.${key}`))),
          ),
        ),
      ),
    ),
  ];
}

/** @param {Words["t"]} t @param {string} key */
function said(t, key) {
  return element("li", {}, t(key));
}

/** What a material is called, with its concentration. @param {Words} words @param {Material} material */
export function name(words, { key, molL, percent }) {
  const called = words.t(`safety.material.${key}`);
  if (molL > 0)
    return words.t("safety.strength", {
      name: called,
      molL: concentration(words, molL),
      percent: words.number(percent, percent < 10 ? 1 : 0),
    });
  return called;
}

/** The label by each of the two schemes, or one that stands for both. @param {Words["t"]} t @param {Material} material */
function both(t, { labels }) {
  const cells = labels.map(({ signal, statements }) =>
    signal
      ? t("safety.label", { signal: t(`safety.signal.${signal}`), statements: statements.join(", ") })
      : t("safety.noLabel"),
  );
  return cells.length === 1 ? [cells[0], cells[0]] : cells;
}

/** What one beaker holds in the end. @param {Words} words @param {SafetyCard["left"]} left */
function left(words, { hydrogenMmol, hydroxideMmol, solidG }) {
  const [key, mmol] =
    hydrogenMmol > 0 ? ["acid", hydrogenMmol] : hydroxideMmol > 0 ? ["base", hydroxideMmol] : ["none", 0];
  return words.t(`safety.left.${key}`, { mmol: words.number(mmol, 2), solid: words.number(solidG, 3) });
}
