// What does a class hand in and measure: own times, slips and their tally, and the fit of what was measured?

/** @import { Ask, BandKey, Compared, FieldError, QuestionKey, ReagentKey } from "./lesson-shapes.js" */

/**
 * @typedef {{mark: number, beaker: number, celsius: number, finish: BandKey, seconds: number, takenBack: boolean}} Time
 * @typedef {{open: boolean, undo: boolean, finishes: BandKey[], times: Time[], computed: (number | null)[], leapt: boolean[]}} Timing
 * @typedef {[QuestionKey, string | number][]} Said each question that was answered
 *
 * @typedef {object} Slip what a student hands in
 * @property {string} line
 * @property {string} lessonCode
 * @property {string} runCode
 * @property {number} attempt from 1
 * @property {boolean} blank
 * @property {string} signed
 * @property {string} note
 * @property {{at: "brief" | "end" | number, question: Ask, answer: string}[]} choices
 * @property {{reagent: ReagentKey, number: number, guess: Said, seen: Said, times: Time[]}[]} doses
 *
 * @typedef {{answer: string | number, count: number, near: "same" | "near" | "other" | null, idea: string | null}} Counted
 * @typedef {{n: number, least: number, middle: number, most: number, mean: number, deviation: number | null}} Spread
 *
 * @typedef {object} AskedOfClass a question with what the class answered
 * @property {"brief" | "end" | number} at
 * @property {ReagentKey | null} reagent
 * @property {number} number
 * @property {"guess" | "seen" | "choice"} kind
 * @property {Ask} question
 * @property {string | number | null} outcome
 * @property {Counted[]} answers
 * @property {Spread | null} seconds
 * @property {[string, string][]} words
 * @property {number} open
 *
 * @typedef {{file: string, key: string, instead?: string, lesson?: string, version?: number}} Aside
 * @typedef {{number: number, beaker: number, celsius: number, finish: BandKey, spread: Spread, computed: number | null}} ClassTimes
 * @typedef {{file: string, signed: string, attempt: number, doses: number, same: number, near: number, other: number, times: number, takenBack: number, sameRun: boolean | null, remark: string | null, remarkFile: string | null, note: string}} StudentRow
 * @typedef {{ok: true, lessonCode: string, counted: number, aside: Aside[], questions: AskedOfClass[], ideas: {idea: string, count: number}[], times: ClassTimes[], students: StudentRow[]}} Tally
 * @typedef {Tally | {ok: false, key: string}} TallyOutcome
 * @typedef {{paced: boolean, code: string, same: boolean | null, count: number, doses: {reagent: ReagentKey, number: number, roomS: number, holds: number, heldS: number}[], questions: Compared[], seen: Compared[]}} Retold
 *
 * @typedef {{dose: number, startC: number, endC: number, seconds: number, finish: BandKey, beaker: number, from: string, count: number}} PressedRow dose and beaker from 1; who pressed, and how many presses stand behind it
 * @typedef {{ok: true, lessonCode: string, rows: PressedRow[], takenBack: number, delay: Spread | null}} Pressed times that were pressed at the computed beakers
 *
 * @typedef {object} DataRefusal why something measured was not taken
 * @property {false} ok
 * @property {string} key
 * @property {number} first
 * @property {number} second
 * @property {[string, string][]} untold unknown and reason
 * @property {FieldError[]} errors refused cells; `step` is the row
 *
 * @typedef {object} FitView
 * @property {true} ok
 * @property {[string, number[]][]} estimates value, low, high, before
 * @property {[string, string][]} untold unknown and reason
 * @property {number[][]} points row, measured, computed, studentised residual, 1 for a misfit; of a recording also its slot and the second
 * @property {[[string, string], number[]][]} pairs correlation, then corners of the outline
 * @property {number[]} scatter of a measurement; degrees of freedom; times the model was computed
 * @property {[string, number[]][]} lines finish; dose, energy, low, high, the model's, what it computes with, height and slope; last, without finish, what all have in common
 * @property {number[][]} linePoints place of the line, 1000/T, ln(1/t)
 * @property {[string, string][]} causes key and source
 * @property {[[string, string], number[]][]} literature unknown and source; low, high
 *
 * @typedef {object} ProbeView
 * @property {true} ok
 * @property {number} rows
 * @property {number} seconds
 * @property {string[]} assumed encoding, delimiter, decimal mark, unit of time
 * @property {number[]} columns of time and of pH
 * @property {string[]} names
 * @property {number[]} passedOver how many rows, and the line of the first
 * @property {number[]} falls s
 *
 * @typedef {object} OverlayView
 * @property {true} ok
 * @property {number} every one of so many readings was compared
 * @property {number} meanPh
 * @property {number} rmsPh
 * @property {number[][]} backS measured and computed; NaN where not back
 */

export {};
