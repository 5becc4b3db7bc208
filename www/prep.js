// The Prep sheet: what to take off the shelf, how to dilute it, the labels of the bottles, and a sheet for the trial run.

import { dose, grams, millilitres, volume } from "./amount.js";
import { beakerName } from "./beaker.js";
import { strengthWords } from "./bottle.js";
import { concentration, dilution } from "./dilution.js";
import { element } from "./element.js";
import { name } from "./safety.js";
import { blank, part, sheet, table, tick } from "./sheet.js";

/**
 * @typedef {import("./i18n.js").Words} Words
 * @typedef {import("./sheet.js").Head} Head
 * @typedef {import("./lesson-shapes.js").BeakerSetup} BeakerSetup
 * @typedef {import("./desk-shapes.js").PrepView} PrepView
 * @typedef {import("./desk-shapes.js").Amounts} Amounts
 * @typedef {import("./desk-shapes.js").Material} Material
 * @typedef {import("./desk-shapes.js").Place} Place
 * @typedef {import("./desk-shapes.js").EndPoint} EndPoint
 *
 * @typedef {object} Shelf what the sheets are made from
 * @property {PrepView} prep
 * @property {Record<string, number>} recipe the numbers of the recipe by their keys
 * @property {BeakerSetup[]} beakers
 * @property {Place[]} steps the doses alone
 * @property {Material[]} materials the safety card's, for the labels
 */

/** Rows that tell more of the one above them. */
const INNER = new Set(["solid", "spare"]);
/** What lies ready beside the glass, in the order in which it is taken out. */
const READY = [
  "vessels",
  "stirrers",
  "thermometers",
  "droppers",
  "timers",
  "mark",
  "eyes",
  "eyewash",
  "spill",
  "paper",
];

/**
 * The prep sheet's pages.
 * @param {Words} words
 * @param {Head} head
 * @param {Shelf} shelf
 * @returns {HTMLElement[]}
 */
export function prepSheets(words, head, shelf) {
  const t = words.t.bind(words);
  return [
    sheet(
      words,
      head,
      t("prep.heading"),
      ...warnings(words, shelf),
      amountsTable(words, shelf),
      part(t("prep.endPoint"), element("p", {}, endPoint(words, shelf.prep))),
      part(
        t("prep.ready"),
        element(
          "ul",
          { class: "two" },
          ...READY.map((key) =>
            tick(t(`prep.ready.${key}`, { count: shelf.beakers.length, ml: shelf.recipe.vesselMl })),
          ),
          ...baths(words, shelf.beakers).map(tick),
        ),
      ),
    ),
    sheet(
      words,
      head,
      t("prep.dilutions"),
      ...dilution(words, "acid", shelf.prep.acid, shelf.recipe.acidMolL),
      ...dilution(words, "base", shelf.prep.base, shelf.recipe.baseMolL),
      part(
        t("prep.labels"),
        element(
          "div",
          { class: "labels" },
          ...shelf.materials.filter(isBottle).map((material) => label(words, head, material)),
        ),
      ),
    ),
    sheet(words, head, t("prep.trial"), ...trial(words, shelf)),
  ];
}

/** @param {Words} words @param {Shelf} shelf */
function warnings(words, { prep: { freeboard } }) {
  if (!freeboard.warnsWithReversal) return [];
  const key = freeboard.warnsWithoutReversal ? "prep.tooFull" : "prep.tooFullReversal";
  const enough = freeboard.enoughVesselMl === null ? "prep.noVessel" : "prep.enough";
  return [
    element(
      "p",
      { class: "warn" },
      words.t(key, {
        vessel: millilitres(words, freeboard.vesselMl),
        acid: millilitres(words, freeboard.acidMl),
        end: millilitres(words, freeboard.endMl),
        fullest: millilitres(words, freeboard.fullestMl),
      }),
      " ",
      words.t(enough, { vessel: volume(words, freeboard.enoughVesselMl ?? 0) }),
    ),
  ];
}

/** @param {Words} words @param {Shelf} shelf */
function amountsTable(words, { prep, recipe, steps }) {
  const t = words.t.bind(words);
  const doses = (/** @type {string} */ reagent) => steps.filter((step) => step.reagent === reagent).length;
  /** @type {[string, keyof Amounts, import("./i18n.js").Values][]} */
  const rows = [
    ["water", "waterMl", {}],
    ["suspension", "suspensionMl", { strength: recipe.suspensionMgMl }],
    ["solid", "solidG", {}],
    ["indicator", "indicatorMl", {}],
    ["acid", "acidMl", { strength: concentration(words, recipe.acidMolL), count: doses("acid") }],
    ["spare", "acidWithSpareMl", { count: prep.spare }],
    ["base", "baseMl", { strength: concentration(words, recipe.baseMolL), count: doses("base") }],
    ["spare", "baseWithSpareMl", { count: prep.spare }],
  ];
  // A lesson with two beakers has a column of its own; one and three are there for every lesson.
  const columns = prep.bench.beakers === 2 ? [prep.one, prep.bench, prep.three] : [prep.one, prep.three];
  const amount = (/** @type {keyof Amounts} */ key, /** @type {Amounts} */ amounts) =>
    key === "solidG" ? grams(words, amounts[key]) : volume(words, amounts[key]);
  return table(
    t("prep.amountsCaption"),
    [t("prep.what"), ...columns.map(({ beakers }) => t("prep.beakers", { count: beakers }))],
    rows
      .filter(([, key]) => columns.some((amounts) => amounts[key] > 0))
      .map(([what, key, values]) => [
        element("span", { class: INNER.has(what) ? "inner" : "" }, t(`prep.row.${what}`, values)),
        ...columns.map((amounts) => amount(key, amounts)),
      ]),
    "figures",
  );
}

/**
 * Doses to the end point in sentences, by the label and for a fitted strength: "7, perhaps 8".
 * @param {Words} words
 * @param {Pick<PrepView, "endPoint" | "fittedEnd" | "bottle">} prep
 */
export function endPoint(words, { endPoint: end, fittedEnd, bottle }) {
  const strength = strengthWords(words, bottle);
  const byLabel = endByLabel(words, end);
  if (!fittedEnd || !strength) return byLabel;
  const { dose, exact } = fittedEnd;
  return `${byLabel} ${words.t("prep.endFitted", { ...strength, dose, exact: words.number(exact, 2) })}`;
}

/** @param {Words} words @param {EndPoint | null} end */
function endByLabel(words, end) {
  if (!end) return words.t("prep.noEndPoint");
  const doses = dosesInWords(words, end);
  const reach = end.reached ? "" : ` ${words.t("prep.notReached")}`;
  return (
    words.t("prep.endPointIs", {
      doses,
      exact: words.number(end.exact, 2),
      least: words.number(end.leastExact, 2),
      most: words.number(end.mostExact, 2),
    }) + reach
  );
}

/** @param {Words} words @param {EndPoint} end */
export function dosesInWords(words, { dose, leastDose, mostDose }) {
  if (leastDose === mostDose) return words.t("prep.doses.one", { dose });
  if (leastDose === dose) return words.t("prep.doses.up", { dose, most: mostDose });
  if (mostDose === dose) return words.t("prep.doses.down", { dose, least: leastDose });
  return words.t("prep.doses.range", { dose, least: leastDose, most: mostDose });
}

/** What the beakers stand in. @param {Words} words @param {BeakerSetup[]} beakers */
function baths(words, beakers) {
  return beakers
    .filter(({ kind }) => kind !== "room")
    .map(({ kind, celsius, iceG }) => words.t(`prep.bath.${kind}`, { celsius, ice: iceG }));
}

/** @param {Material} material whether it stands on the bench in a bottle that needs a label */
function isBottle({ key }) {
  return key === "acid" || key === "base" || key === "indicator" || key === "suspension";
}

/** @param {Words} words @param {Head} head @param {Material} material */
function label(words, head, material) {
  const t = words.t.bind(words);
  const hazards = material.labels
    .filter(({ signal }) => signal)
    .map(({ scheme, signal, statements }) =>
      t("prep.labelHazard", {
        scheme: t(`safety.column.${scheme}`),
        signal: t(`safety.signal.${signal}`),
        statements: statements.join(", "),
      }),
    );
  return element(
    "div",
    { class: "bottle-label" },
    element("p", { class: "what" }, name(words, material)),
    ...hazards.map((hazard) => element("p", {}, hazard)),
    element("p", {}, t(`prep.label.${material.key}`)),
    element("p", {}, element("bdi", {}, head.lesson), ", ", head.code),
    element("p", { class: "filled" }, t("prep.madeOn"), blank("short"), t("prep.madeBy"), blank("short")),
  );
}

/** @param {Words} words @param {Shelf} shelf */
function trial(words, { beakers, steps, recipe }) {
  const t = words.t.bind(words);
  const names = beakers.map((_, index) => beakerName(words, beakers, index));
  const alike = new Set(steps.map(({ volumeMl }) => volumeMl)).size <= 1;
  const rows = steps.map(({ reagent, number, volumeMl }) => [
    t(`dose.${reagent}`, { number }) + (alike ? "" : `, ${dose(words, volumeMl)}`),
    ...Array(2 * names.length + 2).fill(""),
  ]);
  return [
    element("p", {}, t("prep.trialLead", { ml: dose(words, recipe.doseMl) })),
    table(
      t("prep.trialCaption"),
      [
        t("prep.trial.dose"),
        ...names.map((group) => ({ group, columns: [t("prep.trial.seconds"), t("prep.trial.celsius")] })),
        t("prep.trial.colour"),
        t("prep.trial.clear"),
      ],
      rows,
      "blank",
    ),
    part(
      t("prep.trialAfter"),
      element(
        "ul",
        {},
        ...["counted", "strength", "times", "eye", "room", "away"].map((key) => tick(t(`prep.trial.${key}`))),
      ),
    ),
  ];
}
