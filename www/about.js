// About the model: what is computed, from which numbers, what is invented, what is left out, how it was checked.

import { element } from "./element.js";
import { NAMES } from "./names.js";

/**
 * @typedef {import("./deskengine.js").DeskEngine} Engine
 * @typedef {import("./lesson-shapes.js").ConstantRow} ConstantRow
 * @typedef {import("./i18n.js").Words} Words
 */

/** The equations, the same in every language: _{ } is set low, ^{ } is set high. What each says stands beside it in words. */
const EQUATIONS = /** @type {[string, string][]} */ ([
  ["reaction", "Mg(OH)_{2}(s) + 2 H^{+} \u2192 Mg^{2+} + 2 H_{2}O"],
  [
    "charge",
    "[H^{+}] \u2212 [OH^{\u2212}] \u2212 [MgOH^{+}] \u2212 [HCO_{3}^{\u2212}] \u2212 2[CO_{3}^{2\u2212}] \u2212 [MgHCO_{3}^{+}] \u2212 2[MgCO_{3}] = [Cl^{\u2212}] \u2212 [Na^{+}] \u2212 2[Mg]_{all}",
  ],
  ["activity", "lg \u03b3 = \u2212A z^{2} \u221aI / (1 + B \u00e5 \u221aI) + b I"],
  ["saturation", "\u03a9 = a(Mg^{2+}) a(H_{2}O)^{2} / (K a(H^{+})^{2})"],
  ["rate", "r = M x^{\u22121/3} (f k_{acid} s S_{acid} + k_{neutral} S_{neutral}) (1 \u2212 \u03a9^{2})"],
  ["film", "g s^{2} + f k_{acid} s = g a(H^{+})"],
  ["arrhenius", "k(T) = k_{25} exp(\u2212E_{a}/R \u00b7 (1/T \u2212 1/298.15 K))"],
  ["mixing", "d(c_{plume} \u2212 c_{bulk})/dt = \u2212(c_{plume} \u2212 c_{bulk})/\u03c4"],
  ["settling", "dS/dt = \u2212v S / depth"],
  ["nucleation", "j = k_{new} (lg \u03a9 \u2212 lg \u03a9_{new})^{2}"],
  ["carbon", "dC/dt = x_{C} r \u2212 k_{L} A (a(CO_{2}) \u2212 K_{H} p(CO_{2}))"],
  ["heat", "(W c + C_{glass}) dT/dt = \u0394H_{solid} r + \u0394H_{water} n + \u03a3 U A (T_{around} \u2212 T)"],
  [
    "colour",
    "\u03bc_{a}(\u03bb) = ln 10 \u03a3 c \u03b5(\u03bb),   \u03bc_{s}\u2032(\u03bb) \u221d solid \u00b7 \u03bb^{\u2212p}",
  ],
  ["sight", "C = C_{0} exp(\u2212K c z)"],
  ["terms", "pH = \u00bd lg K + \u00bd lg \u03a9 \u2212 \u00bd lg m(Mg^{2+}) \u2212 \u00bd lg(\u03b3 a(H_{2}O)^{2})"],
]);

/** What is no constant of nature and no measurement, each with a line of its own. */
const NOT_MEASURED = ["fitted", "calibrated", "invented"];
const LEFT_OUT = ["hydration", "tapWater", "electrode", "dye", "bottle", "shape", "lens", "dilution"];
const CHECKED = ["water", "equilibria", "kinetics", "paths", "laws", "colour", "hand", "bits"];
const DEVICE = ["nothing", "link", "host", "tab"];
const BESIDE = ["network", "turnback", "licences"];
const GROUPS = ["chemistry", "colour", "dye"];

/** The place. */
export class About {
  /**
   * @param {Engine} engine
   * @param {Words} words
   */
  constructor(engine, words) {
    this.words = words;
    const t = words.t.bind(words);
    const rows = engine.constants();
    /** What lies beside the page in a release; the page for the network's keeper in each language. @type {Record<string, string | undefined>} */
    const beside = {
      network: NAMES[`${words.language}/network.html`],
      turnback: NAMES["turnback.html"],
      licences: NAMES["licences.txt"],
    };
    /** @param {string} list @param {string[]} keys */
    const lines = (list, keys) => element("ul", {}, ...keys.map((key) => element("li", {}, t(`about.${list}.${key}`))));
    this.children = [
      element("h2", { id: "about-heading", tabindex: -1 }, t("about.heading")),
      element("p", {}, t("about.lead")),
      element("h3", {}, t("about.equations")),
      element(
        "dl",
        { class: "equations" },
        ...EQUATIONS.flatMap(([key, equation]) => [
          element("dt", { class: "equation" }, ...typeset(equation)),
          element("dd", {}, t(`about.equation.${key}`)),
        ]),
      ),
      element("h3", {}, t("about.invented")),
      element("p", {}, t("about.inventedLead")),
      this.table(
        rows.filter(({ standing }) => NOT_MEASURED.includes(standing)),
        t("about.inventedCaption"),
      ),
      element("h3", {}, t("about.leftOut")),
      lines("left", LEFT_OUT),
      element("h3", {}, t("about.numbers")),
      element("p", {}, t("about.numbersLead")),
      ...GROUPS.map((group) =>
        element(
          "details",
          {},
          element("summary", {}, t(`about.group.${group}`)),
          this.table(
            rows.filter((row) => row.group === group),
            t(`about.group.${group}`),
          ),
        ),
      ),
      element("h3", {}, t("about.checked")),
      lines("check", CHECKED),
      element("h3", {}, t("about.device")),
      lines("device", DEVICE),
      element(
        "ul",
        { hidden: beside.turnback === undefined },
        ...BESIDE.map((name) =>
          element(
            "li",
            {},
            element("a", { href: beside[name], download: name === "turnback" }, t(`about.beside.${name}`)),
          ),
        ),
      ),
    ];
  }

  /** @param {ConstantRow[]} rows @param {string} caption @returns {HTMLElement} */
  table(rows, caption) {
    const { words } = this;
    const t = words.t.bind(words);
    return element(
      "div",
      // A wide table scrolls in its own box, which the keyboard must be able to reach.
      { class: "wide", tabindex: 0, role: "group", "aria-label": caption },
      element(
        "table",
        { class: "numbers constants" },
        element("caption", { class: "unseen" }, caption),
        element(
          "thead",
          {},
          element(
            "tr",
            {},
            ...["name", "value", "known", "source"].map((key) => element("th", { scope: "col" }, t(`about.${key}`))),
          ),
        ),
        element(
          "tbody",
          {},
          ...rows.map(({ key, of, value, unit, standing, source }) =>
            element(
              "tr",
              {},
              element("th", { scope: "row" }, t(`constant.${key}`), of ? `: ${of}` : ""),
              element(
                "td",
                {},
                element("bdi", { dir: "ltr" }, [words.figure(value), unit].filter(Boolean).join("\u00a0")),
              ),
              element("td", {}, t(`standing.${standing}`)),
              element("td", {}, source),
            ),
          ),
        ),
      ),
    );
  }
}

/** @param {string} equation @returns {(Node | string)[]} */
function typeset(equation) {
  return equation.split(/([_^]\{[^}]*\})/).map((part) => {
    const [sign] = part;
    if ((sign !== "_" && sign !== "^") || part[1] !== "{") return part;
    return element(sign === "_" ? "sub" : "sup", {}, part.slice(2, -1));
  });
}
