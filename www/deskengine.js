// The desk's part of the compiled core: what only a teacher asks of the lesson. Its code comes in a file of its own, after the bench stands.

import { Engine } from "./engine.js";
import { startPart } from "./pkg/turnback.js";

/**
 * @import { DataRefusal, FitView, OverlayView, Pressed, ProbeView, TallyOutcome } from "./class-shapes.js"
 * @import { KeyedQuestion, LessonTree, LevelView, Place, PlanView, PrepView, SafetyCard, ShareView, Strength } from "./desk-shapes.js"
 * @import { ConstantRow, Outcome, Refusal } from "./lesson-shapes.js"
 */

/** The lesson that the bench runs, with all that the desk asks of it. */
export class DeskEngine extends Engine {
  /** @param {Engine} engine the bench's */
  constructor(engine) {
    super(engine.core);
    this.desk = engine.core.desk();
    this.acted = () => engine.acted();
  }

  /**
   * Starts the desk's part of the core beside the bench's.
   * @param {Engine} engine the bench's
   * @param {Response} file pkg/turnback_desk.wasm
   * @returns {Promise<DeskEngine>}
   * @throws where the file did not come
   */
  static async beside(engine, file) {
    await startPart(file);
    return new DeskEngine(engine);
  }

  // --- what the class measured -----------------------------------------------------------------------------------------

  /** @param {string} text a table from a spreadsheet @returns {string[][]} dose, start, end, seconds, finish, beaker */
  pastedTimes(text) {
    return this.desk.pastedTimes(text);
  }

  /** Times that were pressed at the computed beakers. @param {string} kind own, each or medians @returns {Pressed | Refusal} */
  pressedTimes(kind) {
    return this.desk.pressedTimes(kind);
  }

  /** @param {string[][]} rows @param {string[]} wanted @param {boolean} pressed at the computed beakers @returns {FitView | DataRefusal} */
  fitTimes(rows, wanted, pressed) {
    return this.desk.fitTimes(rows, wanted, pressed);
  }

  /** @param {number} slot @param {Uint8Array} bytes @param {string[]} wishes delimiter, decimal mark, unit, columns of time and pH @returns {ProbeView | DataRefusal} */
  readProbe(slot, bytes, wishes) {
    return this.desk.readProbe(slot, bytes, wishes);
  }

  /** Puts a recording away. @param {number} slot */
  dropProbe(slot) {
    this.desk.dropProbe(slot);
  }

  /** @param {number} slot @param {"time" | "ph" | "computed"} name @returns {Float64Array} */
  probeColumn(slot, name) {
    return this.desk.probeColumn(slot, name);
  }

  /** @param {Float64Array} placed slot, °C, seconds of the doses @param {number} lag s @param {boolean} fitted @param {number} most readings compared @returns {OverlayView | DataRefusal} */
  overlayProbe(placed, lag, fitted, most) {
    return this.desk.overlayProbe(placed, lag, fitted, most);
  }

  /** @param {Float64Array[]} placed as `overlayProbe` has it @param {string[]} wanted @returns {FitView | DataRefusal} */
  fitProbes(placed, wanted) {
    return this.desk.fitProbes(placed, wanted);
  }

  /** Keeps the last fit with the lesson. @param {number} date 20261125 @returns {Outcome} */
  keepFit(date) {
    return this.desk.keepFit(date);
  }

  /** Back to the bottle as it comes. @returns {Outcome} */
  dropFit() {
    return this.desk.dropFit();
  }

  // --- what the class handed in ----------------------------------------------------------------------------------------

  /** @param {string} file @param {string} text */
  tallyAdd(file, text) {
    this.desk.tallyAdd(file, text);
  }

  /** Takes all slips away. */
  tallyClear() {
    this.desk.tallyClear();
  }

  /** @returns {number} how many things were opened */
  tallyOpened() {
    return this.desk.tallyOpened();
  }

  /** @returns {TallyOutcome} */
  tally() {
    return this.desk.tally();
  }

  /** @param {boolean} decimalComma @returns {string} */
  tallyCsv(decimalComma) {
    return this.desk.tallyCsv(decimalComma);
  }

  // --- the lesson as its teacher plans and prints it -------------------------------------------------------------------

  /** @returns {LessonTree} the lesson in use, as its file has it */
  lesson() {
    return this.desk.lesson();
  }

  /** @param {unknown} tree @returns {Outcome} */
  setLesson(tree) {
    return this.desk.setLesson(tree);
  }

  /** @returns {string} the text of the lesson's file */
  lessonFile() {
    return this.desk.lessonFile();
  }

  /** @param {string} text of a lesson's file @returns {Outcome} */
  openLessonFile(text) {
    return this.desk.openLessonFile(text);
  }

  /** @returns {Map<string, KeyedQuestion>} the questions with choices that the levels ask, by key */
  questions() {
    const asked = /** @type {LevelView[]} */ (this.desk.levels()).flatMap(({ moments }) =>
      moments.flatMap(({ choices }) => choices),
    );
    return new Map(asked.map((question) => [question.key, question]));
  }

  /** @returns {string} the check code of the lesson itself, whatever of it has run */
  lessonCode() {
    return this.desk.lessonCode();
  }

  /** @returns {Place[]} of the lesson in use */
  outline() {
    return this.desk.outline();
  }

  /**
   * What a lesson will do. One beaker is computed in each call: it is asked again while something is pending.
   * @param {number} minutes available; 0 where it does not matter
   * @param {LessonTree} [draft] the lesson in use unless told
   * @returns {PlanView | Refusal}
   */
  plan(minutes, draft) {
    return this.desk.plan(minutes, draft);
  }

  /** @param {number} spare doses for each beaker @param {string} acidStock a key, or mol/L as typed @param {string} baseStock @returns {PrepView} */
  prep(spare, acidStock, baseStock) {
    return this.desk.prep(spare, acidStock, baseStock);
  }

  /** @param {string} acidStock @param {string} baseStock @returns {SafetyCard} */
  safety(acidStock, baseStock) {
    return this.desk.safety(acidStock, baseStock);
  }

  /** @param {string} dose the first that stayed, as typed @returns {Strength | Refusal} */
  counted(dose) {
    return this.desk.counted(dose);
  }

  /** @returns {ShareView} */
  share() {
    return this.desk.share();
  }

  /** @param {string} text @returns {string | null} a code for cameras as SVG; null where the text is too long for one */
  qr(text) {
    const code = this.desk.qrSvg(text);
    return code.ok ? code.svg : null;
  }

  /** @returns {ConstantRow[]} */
  constants() {
    return this.desk.constants();
  }
}
