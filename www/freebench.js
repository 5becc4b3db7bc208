// The controls of the free bench: which beakers, which reagent, how much; the stirrer; the bath.

import { beakerName } from "./beaker.js";
import { element } from "./element.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./engine.js").Outcome} Outcome
 * @typedef {import("./i18n.js").Words} Words
 */

/** What a bath can be changed to while the lesson runs; ice is put in at the start only. */
const BATHS = ["bath", "room", "held", "plate"];

/**
 * Makes the controls.
 * @param {Engine} engine
 * @param {Words} words
 * @param {(done: string) => void} acted called after an action that changed the bench, with its sentence
 * @param {() => void} again starts the free bench anew
 * @param {() => void} lesson goes to the guided lesson
 * @returns {HTMLElement[]}
 */
export function freeBench(engine, words, acted, again, lesson) {
  const t = words.t.bind(words);
  const { fields, beakers } = engine.recipe();
  const dose = fields.find(({ key }) => key === "doseMl");
  const names = beakers.map((_, index) => beakerName(words, beakers, index));
  const boxes = names.map((name, index) => ({
    name,
    box: element("input", { type: "checkbox", value: index, checked: true, "aria-describedby": "free-beakers-error" }),
  }));
  const boxesError = element("p", { class: "error", id: "free-beakers-error" });
  const chosen = () => boxes.filter(({ box }) => box.checked).map(({ box }) => Number(box.value));

  const volume = numberField(
    "free-volume",
    t("free.volume"),
    words.number(dose?.value ?? 2, dose?.decimals ?? 1),
    "mL",
  );
  /** @param {"acid" | "base"} reagent */
  const pour = (reagent) => {
    volume.complain("");
    boxesError.textContent = "";
    if (chosen().length === 0) {
      boxesError.textContent = t("error.beakers");
      boxes[0].box.focus();
      return;
    }
    const outcome = engine.pour({ beakers: chosen(), reagent, volumeMl: volume.input.value });
    if (tell(words, outcome, volume)) acted(t(`free.poured.${reagent}`, { volume: volume.input.value }));
  };

  const rpm = numberField(
    "free-rpm",
    t("free.rpm"),
    words.number(fields.find(({ key }) => key === "stirRpm")?.value ?? 300, 0),
    "rpm",
  );
  /** @param {string} speed */
  const stir = (speed) => {
    rpm.complain("");
    for (const index of chosen()) if (!tell(words, engine.setStirrer(index, speed), rpm)) return;
    acted(t(speed === "0" ? "free.stirOff" : "free.stirOn", { rpm: speed }));
  };

  const kind = element(
    "select",
    { id: "free-bath" },
    ...BATHS.map((key) => element("option", { value: key }, t(`bath.${key}`))),
  );
  const celsius = numberField("free-celsius", t("free.celsius"), "21", "°C");
  const bath = () => {
    celsius.complain("");
    for (const index of chosen())
      if (
        !tell(
          words,
          engine.setBath(index, {
            kind: /** @type {import("./engine.js").BathKey} */ (kind.value),
            celsius: celsius.input.value,
          }),
          celsius,
        )
      )
        return;
    acted(t("free.bathSet"));
  };

  return [
    element(
      "fieldset",
      { class: "plain", "aria-describedby": "free-beakers-error" },
      element("legend", {}, t("free.beakers")),
      element(
        "div",
        { class: "row" },
        ...boxes.map(({ name, box }) => element("label", { class: "option" }, box, name)),
      ),
      boxesError,
    ),
    volume.root,
    element(
      "p",
      { class: "buttons" },
      element("button", { type: "button", class: "primary", click: () => pour("acid") }, t("free.acid")),
      element("button", { type: "button", class: "primary", click: () => pour("base") }, t("free.base")),
    ),
    element(
      "details",
      {},
      element("summary", {}, t("free.stirrer")),
      rpm.root,
      element(
        "p",
        { class: "buttons" },
        element("button", { type: "button", click: () => stir(rpm.input.value) }, t("free.stir")),
        element("button", { type: "button", click: () => stir("0") }, t("free.off")),
      ),
    ),
    element(
      "details",
      {},
      element("summary", {}, t("free.bath")),
      element("p", { class: "field" }, element("label", { for: "free-bath" }, t("free.bathKind")), kind),
      celsius.root,
      element("p", { class: "buttons" }, element("button", { type: "button", click: bath }, t("free.setBath"))),
    ),
    element(
      "p",
      { class: "buttons" },
      element("button", { type: "button", click: again }, t("free.again")),
      element("button", { type: "button", click: lesson }, t("free.lesson")),
    ),
  ];
}

/**
 * A number to type, with its unit and a place for what is wrong with it.
 * @param {string} id
 * @param {string} label
 * @param {string} value
 * @param {string} unit
 * @param {string} [hint] the limits, said before anything is wrong
 */
export function numberField(id, label, value, unit, hint = "") {
  const input = element("input", {
    type: "text",
    inputmode: "decimal",
    id,
    autocomplete: "off",
    maxlength: 24,
    "aria-describedby": `${id}-hint ${id}-error`,
  });
  input.value = value;
  const error = element("span", { class: "error", id: `${id}-error` });
  return {
    input,
    root: element(
      "p",
      { class: "field" },
      element("label", { for: id }, label),
      element("span", { class: "typed" }, input, element("span", { class: "unit" }, unit)),
      element("span", { class: "hint", id: `${id}-hint` }, hint),
      error,
    ),
    /** @param {string} sentence */
    complain(sentence) {
      error.textContent = sentence;
      input.setAttribute("aria-invalid", String(sentence !== ""));
    },
  };
}

/**
 * Says at the field why an action was refused.
 * @param {Words} words
 * @param {Outcome} outcome
 * @param {ReturnType<typeof numberField>} field
 * @returns {boolean} whether it was done
 */
function tell(words, outcome, field) {
  if (outcome.ok) return true;
  const [first] = outcome.errors ?? [];
  field.complain(words.t(`error.${first?.key ?? outcome.key ?? "notNow"}`, words.limits(first ?? {})));
  field.input.focus();
  return false;
}
