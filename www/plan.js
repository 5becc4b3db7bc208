// Plan: the teacher's form. It is one draft of a lesson; what it gives is told while it is typed, and it becomes the lesson when it is used.

import { element } from "./element.js";
import { NumberField } from "./field.js";
import { Forecast } from "./forecast.js";
import { RecipeForm } from "./recipeform.js";
import { Share } from "./share.js";
import { StepsForm } from "./stepsform.js";
import { TextField } from "./textfield.js";

/**
 * @typedef {import("./deskengine.js").DeskEngine} Engine
 * @typedef {import("./desk-shapes.js").LessonTree} LessonTree
 * @typedef {import("./lesson-shapes.js").FieldError} FieldError
 * @typedef {import("./i18n.js").Words} Words
 */

/** While keys follow each other faster than this, ms, nothing is computed. */
const PAUSE_MS = 250;
const LEVELS = ["1", "2", "3", "4", "5"];

/** The place. */
export class Plan {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {() => void} used called after a lesson was accepted
   * @param {(sentence: string) => void} say speaks to those who listen
   */
  constructor(engine, words, used, say) {
    this.engine = engine;
    this.words = words;
    this.used = used;
    this.say = say;
    const t = words.t.bind(words);
    const changed = () => this.changed();
    this.title = new TextField("plan-title", t("plan.title"), "", { hint: t("plan.titleHint"), typed: changed });
    this.level = element(
      "select",
      { id: "plan-level", change: changed },
      ...LEVELS.map((level) =>
        element("option", { value: level }, t("plan.levelName", { number: level, name: t(`level.${level}.name`) })),
      ),
    );
    this.minutes = new NumberField("plan-minutes", t("plan.minutes"), "", "min", t("plan.minutesHint"));
    this.minutes.input.addEventListener("input", changed);
    this.recipe = new RecipeForm(words, changed, say);
    this.steps = new StepsForm(words, engine.questions(), { typed: changed, altered: () => this.altered() }, say);
    this.notes = new TextField("plan-notes", t("plan.notes"), "", {
      rows: 5,
      hint: t("plan.notesHint"),
      typed: changed,
    });
    this.counted = new NumberField("plan-counted", t("plan.counted"), "", "");
    this.strength = element("p", { class: "quiet" });
    this.forecast = new Forecast(words);
    this.share = new Share(engine, words, { open: (text) => this.openFile(text), saved: () => this.kept() }, say);
    this.trouble = element("p", { class: "error", role: "alert" });
    this.said = element("p", { class: "quiet" });
    this.back = element("button", { type: "button", hidden: true, click: () => this.bringBack() }, t("plan.bringBack"));
    /** @type {LessonTree | null} what was typed before a file was opened */
    this.before = null;
    /** @type {number | undefined} */
    this.timer = undefined;
    /** @type {(draft: LessonTree | null) => void} called with what is typed, or nothing where the lesson in use says the same */
    this.drafted = () => {};
    this.children = [
      element("h2", { id: "plan-heading", tabindex: -1 }, t("plan.heading")),
      element("p", {}, t("plan.lead")),
      element(
        "div",
        { class: "plan" },
        element(
          "form",
          {
            novalidate: true,
            submit: (/** @type {Event} */ event) => {
              event.preventDefault();
              this.use();
            },
          },
          element(
            "fieldset",
            { class: "groups" },
            element("legend", { class: "unseen" }, t("plan.group.frame")),
            this.title.root,
            element("p", { class: "field" }, element("label", { for: "plan-level" }, t("plan.level")), this.level),
            this.minutes.root,
          ),
          ...this.recipe.children,
          element("fieldset", {}, element("legend", {}, t("plan.group.steps")), this.steps.root),
          element("fieldset", {}, element("legend", {}, t("plan.group.notes")), this.notes.root),
          this.trouble,
          element(
            "p",
            { class: "buttons" },
            element("button", { type: "submit", class: "primary" }, t("plan.use")),
            element("button", { type: "button", click: () => this.write() }, t("plan.undo")),
            this.back,
          ),
          this.said,
        ),
        element(
          "div",
          { class: "beside" },
          this.forecast.root,
          element(
            "section",
            { "aria-labelledby": "counted-heading" },
            element("h3", { id: "counted-heading" }, t("plan.countedHeading")),
            this.counted.root,
            element(
              "p",
              { class: "buttons" },
              element("button", { type: "button", click: () => this.correct() }, t("plan.correct")),
            ),
            this.strength,
          ),
        ),
      ),
      this.share.root,
    ];
    this.write();
    this.kept();
  }

  // --- the draft -----------------------------------------------------------------------------------------------------

  /** Writes the lesson in use into the form. */
  write() {
    this.put(this.engine.lesson());
    this.inUse = JSON.stringify(this.typed());
    this.remember();
    this.share.behind.hidden = true;
    this.share.refresh();
  }

  /** When the place is gone to: what it may tell hangs on whether a lesson is under way. */
  arrive() {
    this.foresee();
    this.share.refresh();
  }

  /** Writes a lesson into the form; what is text there stands as it is. @param {LessonTree} tree */
  put(tree) {
    this.title.input.value = tree.title;
    this.level.value = String(tree.level);
    this.minutes.input.value = String(tree.minutes) === "0" ? "" : String(tree.minutes);
    this.notes.input.value = tree.notes;
    this.recipe.write(this.engine.recipe(), tree);
    this.steps.write(isPlain(tree.steps) ? { ...tree, steps: undefined } : tree);
    this.calm();
    this.foresee();
  }

  /** What is typed, as the core reads it. @returns {LessonTree} */
  typed() {
    return {
      turnback: 1,
      title: this.title.typed,
      level: this.level.value,
      minutes: this.minutes.typed,
      notes: this.notes.typed,
      ...this.recipe.typed,
      ...this.steps.script,
    };
  }

  /** What is typed, with the bottle that a class has fitted. Another strength on the label is another bottle's. @returns {LessonTree} */
  draft() {
    const typed = this.typed();
    const { fitted, recipe } = this.engine.lesson();
    const isSame = decimal(typed.recipe.suspensionMgMl) === recipe.suspensionMgMl;
    return { ...typed, fitted: fitted && !isSame ? { ...fitted, strength: undefined } : fitted };
  }

  /** Whether something stands here that neither the lesson in use nor a saved file holds. */
  get unsaved() {
    const typed = this.typed();
    return JSON.stringify(typed) !== this.inUse || (typed.notes !== "" && typed.notes !== this.keptNotes);
  }

  /** After the lesson was saved as a file or opened from one. */
  kept() {
    this.keptNotes = this.engine.lesson().notes;
  }

  /** Forgets what was refused before. */
  calm() {
    this.recipe.calm();
    for (const field of [this.title, this.minutes, this.notes, this.counted]) field.complain("");
    this.trouble.textContent = "";
    this.said.textContent = "";
    this.strength.textContent = "";
  }

  // --- what it gives -------------------------------------------------------------------------------------------------

  /** Lets the device keep what is typed. */
  remember() {
    this.drafted(this.unsaved ? this.typed() : null);
  }

  /** After a dose or a question came or went. */
  altered() {
    this.remember();
    this.foresee();
  }

  /** After a key; it is told as soon as the keys pause. */
  changed() {
    this.remember();
    window.clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.foresee(), PAUSE_MS);
  }

  /** Tells what the draft gives, one beaker after the other. */
  foresee() {
    window.clearTimeout(this.timer);
    const typed = this.draft();
    this.share.behind.hidden = JSON.stringify(this.typed()) === this.inUse;
    this.recipe.countByHand(typed.steps !== undefined);
    const minutes = Number(typed.minutes) || 0;
    const plan = this.engine.plan(minutes, typed);
    if (!plan.ok) {
      const first = plan.errors?.[0];
      const { words } = this;
      return this.forecast.refuse(
        first
          ? words.t("forecast.waiting", { where: this.placeOf(first), what: this.sentence(first) })
          : words.t(plan.key === "lessonOpen" ? "sheet.covered" : "forecast.model"),
      );
    }
    this.steps.show(plan.places);
    const beakers = typed.beakers.map(({ kind, celsius }) => ({
      kind,
      celsius: decimal(kind === "room" ? typed.recipe.roomC : celsius),
    }));
    this.forecast.show(plan, /** @type {import("./lesson-shapes.js").BeakerSetup[]} */ (beakers), minutes);
    if (plan.pending > 0) this.timer = window.setTimeout(() => this.foresee());
  }

  /** The name of the place where something was refused. @param {FieldError} error */
  placeOf(error) {
    const { words } = this;
    if (error.step !== undefined && error.step !== null) return this.steps.name(error.step);
    if (error.beaker !== undefined && error.beaker !== null) return words.t("plan.beaker", { place: error.beaker + 1 });
    if (words.has(`field.${error.field}`)) return words.t(`field.${error.field}`);
    return words.t(words.either(`plan.${error.field}`, "plan.heading"));
  }

  /** @param {FieldError} error */
  sentence(error) {
    const { words } = this;
    const plain = `error.${error.key}`;
    return words.t(isWords(error) ? words.either(`error.words.${error.key}`, plain) : plain, words.limits(error));
  }

  // --- what is done with it ------------------------------------------------------------------------------------------

  /** Hands the draft to the core, and says at each field what it refused. */
  use() {
    this.calm();
    const outcome = this.engine.setLesson(this.draft());
    if (!outcome.ok) return this.refuse(outcome);
    this.write();
    this.used();
  }

  /** @param {import("./lesson-shapes.js").Refusal} refusal */
  refuse({ key, errors = [] }) {
    /** @type {NumberField | TextField | undefined} */
    let first;
    /** @type {string[]} what has no field where it could be said */
    const elsewhere = [];
    for (const error of errors) {
      const field = this.fieldOf(error, first === undefined);
      if (field) field.complain(this.sentence(error));
      else elsewhere.push(`${this.placeOf(error)}: ${this.sentence(error)}`);
      first ??= field;
    }
    const counted = errors.length > 0 ? "plan.refused" : key === "model" ? "forecast.model" : "trouble.notNow";
    this.trouble.textContent = [this.words.t(counted, { count: errors.length }), ...elsewhere].join(" ");
    first?.input.focus();
  }

  /** @param {FieldError} error @param {boolean} isFirst only the first opens a place of the steps: two can't be open */
  fieldOf(error, isFirst) {
    const own = { title: this.title, minutes: this.minutes, notes: this.notes };
    if (isStep(error)) return isFirst ? this.steps.fieldOf(error) : undefined;
    return own[/** @type {"title"} */ (error.field)] ?? this.recipe.fieldOf(error);
  }

  /** What a counted end point says of the bottle, with the corrected strength in its field. */
  correct() {
    const { words } = this;
    const found = this.engine.counted(this.counted.typed);
    const refused = "ok" in found;
    this.counted.complain(refused ? words.t("plan.countedWrong") : "");
    this.strength.textContent = "";
    if (refused) return;
    const field = this.recipe.fieldOf({ field: "suspensionMgMl", key: "" });
    if (!found.labelAgrees && field) {
      field.input.value = words.number(found.middleMgMl, 1);
      this.changed();
    }
    this.strength.textContent = words.t(found.labelAgrees ? "plan.strengthAgrees" : "plan.strengthSet", {
      low: words.number(found.lowMgMl, 1),
      high: words.number(found.highMgMl, 1),
      lowPercent: words.number(found.lowPercent, 0),
      highPercent: words.number(found.highPercent, 0),
      middle: words.number(found.middleMgMl, 1),
    });
    this.say(this.strength.textContent);
  }

  /**
   * Takes the text of a file; what was typed before can be brought back.
   * @param {string} text
   * @returns {string} why not, and what to do; empty when it was taken
   */
  openFile(text) {
    const { words } = this;
    const before = this.typed();
    const outcome = this.engine.openLessonFile(text);
    if (!outcome.ok) {
      const first = outcome.errors?.[0];
      if (first) return words.t("share.badValue", { where: this.placeOf(first), what: this.sentence(first) });
      return words.t(words.either(`share.${outcome.key}`, "share.notOurs"));
    }
    this.before = JSON.stringify(before) === this.inUse ? null : before;
    this.write();
    this.kept();
    this.back.hidden = this.before === null;
    this.used();
    return "";
  }

  /** Writes what was typed before a file was opened back into the form. */
  bringBack() {
    if (this.before) this.put(this.before);
    this.remember();
    this.before = null;
    this.back.hidden = true;
    this.title.input.focus();
  }
}

/** Whether doses follow from the counts of the recipe alone: the acid, then the base, each as the recipe has it. @param {LessonTree["steps"]} steps */
function isPlain(steps) {
  const firstBase = steps?.findIndex(({ reagent }) => reagent === "base") ?? -1;
  return steps?.every(
    ({ reagent, volumeMl, restS, asks }, index) =>
      volumeMl === undefined &&
      restS === undefined &&
      asks === undefined &&
      (reagent === "base" || firstBase < 0 || index < firstBase),
  );
}

/** @param {FieldError} error whether it stands at a dose or at a question */
function isStep({ step, ask, field }) {
  return (step ?? ask ?? null) !== null || field === "brief" || field === "end";
}

/** @param {FieldError} error whether words were refused, and not a number */
function isWords({ field, ask }) {
  return (ask ?? null) !== null || field === "title" || field === "notes";
}

/** A typed number, for the name of a beaker; the core judges it. @param {string | number | undefined} typed */
function decimal(typed) {
  return Number(String(typed).replace(",", "."));
}
