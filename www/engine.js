// The only importer of the compiled core (pkg/). It gives the core's plain objects their types; it decides nothing.

import { part } from "./part.js";
import start, { Turnback } from "./pkg/turnback.js";

/**
 * @typedef {"red" | "orange" | "yellow" | "lime" | "green" | "teal" | "blue" | "violet"} BandKey a colour word, fixed order
 * @typedef {"clear" | "hazy" | "cloudy" | "milky"} ClarityKey
 * @typedef {"atOnce" | "atRest" | "clarity" | "seconds" | "first" | "why"} QuestionKey
 * @typedef {"acid" | "base"} ReagentKey
 * @typedef {"bath" | "held" | "room" | "ice" | "plate"} BathKey
 * @typedef {"brief" | "ask" | "watch" | "see" | "explain" | "end" | "free"} Stage
 * @typedef {"halfWater" | "noIndicator" | "finer" | "ice"} WhatIfKey
 * @typedef {1 | 4 | 16} Speed lesson seconds per second of the room
 *
 * @typedef {object} Field one number of the recipe form
 * @property {string} key
 * @property {string} unit
 * @property {number} min
 * @property {number} max
 * @property {number} value
 * @property {number} decimals
 *
 * @typedef {object} BeakerSetup
 * @property {BathKey} kind
 * @property {number} celsius
 * @property {number} iceG
 * @property {"cold" | "room" | "warm" | "place" | null} [name] where the level shows no temperatures
 *
 * @typedef {object} RecipeForm
 * @property {Field[]} fields
 * @property {BeakerSetup[]} beakers
 *
 * @typedef {object} FieldError what is wrong with one typed value; the sentence is the page's
 * @property {string} field
 * @property {number} [beaker]
 * @property {number} [step] the dose where it stands, from 0
 * @property {number} [ask] the question of its place, from 0
 * @property {number | null} [choice] the choice of that question, from 0
 * @property {string} key
 * @property {number} [min]
 * @property {number} [max]
 * @property {string} [unit]
 * @property {number} [decimals] most decimals that may be typed
 *
 * @typedef {{ok: true} | {ok: false, key?: string, errors?: FieldError[]}} Outcome
 * @typedef {{ok: true} | {ok: false, key: string}} LinkOutcome
 * @typedef {{ok: true} | {ok: false, key?: string, errors?: {question: QuestionKey, key: string}[]}} LockOutcome
 *
 * @typedef {object} Step the dose that is asked about or under way
 * @property {number} index from 0
 * @property {number} count doses of the lesson
 * @property {number} number counted per reagent, from 1
 * @property {ReagentKey} reagent
 * @property {number} volumeMl
 * @property {number} molL
 * @property {boolean} long
 * @property {QuestionKey[]} questions
 * @property {number} subjectBeaker the beaker that the colour questions are about
 *
 * @typedef {object} Asked a question with choices, of a level or of the teacher's own
 * @property {number} ask its place among all that is asked there, from 0
 * @property {string | null} key where the page has its words
 * @property {string[]} choices keys, where the page has their words
 * @property {{text: string, choices: string[]} | null} own
 * @property {string | null} answer a key, the number of one of the teacher's choices, or free words
 *
 * @typedef {Asked & {at: "brief" | "end" | number, right: string | null, idea: string | null}} Told an answer with what is right
 * @typedef {"seconds" | "celsius" | "ph" | "solid" | "ledger" | "trace" | "rate" | "dissolved" | "saturation"} InstrumentKey
 *
 * @typedef {object} State
 * @property {"guided" | "free"} mode
 * @property {number} level 1 to 5
 * @property {string} title a line for the board, or empty
 * @property {Asked[]} asks the questions with choices that are asked now, or before the dose that runs
 * @property {Stage} stage
 * @property {number} now lesson clock, s
 * @property {boolean} held
 * @property {Speed} speed
 * @property {Step | null} step
 * @property {number} restAt when the clock will stop by itself, s
 * @property {boolean} canPour
 * @property {number | null} classHold what is left of a hold of the class whose run is told again, s
 * @property {WhatIfKey[][]} whatIfs what is changed in each beaker of the free bench
 *
 * @typedef {object} Label what one beaker shows at a time
 * @property {number} celsius
 * @property {number} ph
 * @property {BandKey} band
 * @property {string} bandLetter
 * @property {boolean} pale
 * @property {boolean} dyed without a dye its band says nothing
 * @property {ClarityKey} clarity
 * @property {"nothing" | "beam" | "glow" | null} torch what the torch shows, where it shines
 * @property {number | null} sinceDoseS
 * @property {number} solidG
 * @property {number} dissolvedMmol
 * @property {number} iceG
 * @property {number} volumeMl
 * @property {number} stirRpm
 * @property {BathKey} bathKind
 * @property {BandKey | null} plumeBand
 *
 * @typedef {object} LessonEvent
 * @property {"poured" | "turnedBack" | "band" | "clear" | "cloudy" | "rest"} key
 * @property {number} [beaker]
 * @property {number} [at]
 * @property {number} [seconds]
 * @property {BandKey} [band]
 * @property {string} [letter]
 * @property {boolean} [pale]
 *
 * @typedef {{now: number, events: LessonEvent[], trouble?: string}} Ticked
 * @typedef {{dose: number, beaker: number, at: number | null, band: BandKey, letter: string}} Guess
 * @typedef {{doses: {at: number, number: number, reagent: ReagentKey}[], guesses: Guess[], events: LessonEvent[]}} Marks
 *
 * @typedef {Partial<Record<QuestionKey, string | number>>} Answers
 *
 * @typedef {object} BeakerOutcome
 * @property {number | null} turnedBackS
 * @property {BandKey} bandAtOnce
 * @property {BandKey} bandAtRest
 * @property {boolean} paleAtRest
 * @property {ClarityKey} clarityAtRest
 * @property {number} phAtRest
 * @property {number} solidG
 * @property {number} dissolvedMmol
 * @property {number} celsius
 *
 * @typedef {{question: QuestionKey, guess: string | number, outcome: string | number | null, near: "same" | "near" | "other" | null}} Compared
 * @typedef {{key: string, [number: string]: string | number}} Reason
 * @typedef {{beakers: BeakerOutcome[], questions: Compared[], seen: Compared[], why: Reason[], choices: Told[], ideas: string[]}} Explanation
 *
 * @typedef {{mark: number, beaker: number, celsius: number, finish: BandKey, seconds: number, takenBack: boolean}} Time
 * @typedef {{open: boolean, undo: boolean, finishes: BandKey[], times: Time[], computed: (number | null)[], leapt: boolean[]}} Timing
 * @typedef {string | {text: string, choices: string[]}} AskEntry a key, or the teacher's own question
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
 * @property {{at: "brief" | "end" | number, question: AskEntry, answer: string}[]} choices
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
 * @property {AskEntry} question
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
 * @typedef {Record<string, string | number | null>} LedgerRow
 *
 * @typedef {object} ConstantRow one number that the model computes with
 * @property {"chemistry" | "colour" | "dye"} group
 * @property {string} key
 * @property {string} of which dye, and which of its steps or forms
 * @property {number} value
 * @property {string} unit
 * @property {string} standing how well it is known
 * @property {string} source
 *
 * @typedef {object} PhShift how far a pH has moved; the four causes add up to the whole
 * @property {number} before
 * @property {number} now
 * @property {number} commonIon
 * @property {number} activity
 * @property {number} saturation
 * @property {number} temperature
 */

// --- the lesson as its teacher plans and prints it ---------------------------------------------------------------------

/**
 * @typedef {string | {text: string, choices: string[]}} Ask a key, or a question in the teacher's words
 * @typedef {{kind: string, celsius?: number | string, iceG?: number | string}} BeakerTree
 * @typedef {{reagent: ReagentKey, volumeMl?: number | string, restS?: number | string, asks?: Ask[]}} DoseTree
 *
 * @typedef {object} LessonTree a lesson as its file has it; what is typed may stand as text
 * @property {number} turnback the version of the layout
 * @property {string} title
 * @property {number | string} level
 * @property {number | string} minutes available; 0 where it does not matter
 * @property {Record<string, number | string>} recipe
 * @property {BeakerTree[]} beakers
 * @property {Ask[]} [brief] absent where the level decides
 * @property {DoseTree[]} [steps] absent where the recipe's counts decide
 * @property {Ask[]} [end]
 * @property {string} notes
 * @property {{acidFactor: number, carbonate: number, energy: number, measurements: number, date: number}} [fitted] the bottle, where a class fitted it; absent where it is as it comes
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
 * @property {number[][]} points row, measured, computed, studentised residual, 1 for a misfit
 * @property {[[string, string], number[]][]} pairs correlation, then corners of the outline
 * @property {number[]} scatter of a measurement; degrees of freedom; times the model was computed
 * @property {[string, number[]][]} lines finish; dose, energy, low, high, the model's
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
 * @property {number} meanPh
 * @property {number} rmsPh
 * @property {number[][]} backS measured and computed; NaN where not back
 * @property {[string, string][]} causes
 *
 * @typedef {object} Place of the lesson: the brief, a dose, or the end
 * @property {"brief" | "end" | number} at a dose from 0
 * @property {string} moment
 * @property {ReagentKey | null} reagent
 * @property {number} number per reagent, from 1
 * @property {number} volumeMl
 * @property {number} restS
 * @property {Ask[]} asks
 *
 * @typedef {{key: string, choices: {key: string, right: boolean, idea: string | null}[]}} KeyedQuestion
 * @typedef {{level: number, moments: {moment: string, choices: KeyedQuestion[]}[]}} LevelView
 *
 * @typedef {object} EndPoint doses until one is too many, by the label and for a bottle of 90 and of 115 % of it
 * @property {number} exact
 * @property {number} dose
 * @property {number} leastExact
 * @property {number} mostExact
 * @property {number} leastDose
 * @property {number} mostDose
 * @property {boolean} reached by the doses of the lesson
 *
 * @typedef {object} Freeboard how full the fullest beaker gets, mL
 * @property {number} vesselMl
 * @property {number} acidMl after the acid
 * @property {number} endMl after the last dose
 * @property {number} fullestMl that it should be
 * @property {boolean} warnsWithoutReversal
 * @property {boolean} warnsWithReversal
 * @property {number | null} enoughVesselMl
 *
 * @typedef {object} Amounts what so many beakers need, mL and g
 * @property {number} beakers
 * @property {number} waterMl
 * @property {number} suspensionMl
 * @property {number} solidG
 * @property {number} indicatorMl
 * @property {number} acidMl
 * @property {number} acidWithSpareMl
 * @property {number} baseMl
 * @property {number} baseWithSpareMl
 *
 * @typedef {object} DoseView what a dose will do in one beaker
 * @property {number | null} seconds until it turns back
 * @property {number} ph at rest
 * @property {number} solidG at rest
 * @property {BandKey} bandAtOnce
 * @property {BandKey} bandAtRest
 * @property {ClarityKey} clarity
 *
 * @typedef {{key: string, [number: string]: string | number}} Warning
 *
 * @typedef {object} PlanView
 * @property {true} ok
 * @property {number} pending beakers that are still to be computed: ask again
 * @property {(DoseView[] | null)[]} beakers
 * @property {Place[]} places
 * @property {number} subject the beaker that the predictions are about
 * @property {LedgerRow[]} ledger of the whole lesson
 * @property {EndPoint | null} endPoint
 * @property {Freeboard} freeboard
 * @property {Amounts} amounts
 * @property {number} talkMin
 * @property {{speed: number, minutes: number, fits: boolean}[]} speeds
 * @property {Warning[]} warnings
 *
 * @typedef {{key: string, molL: number, percent: number}} Stock molL is 0 for a solid
 * @typedef {{flaskMl: number, fillings: number, stockMl: number, stockG: number, waterFirstMl: number}} Mix one filling of a flask
 * @typedef {{stock: Stock, molL: number, neededMl: number, per100: Mix, total: Mix, order: string[]}} Dilution
 * @typedef {{key: string | null, dilution: Dilution | null, stocks: Stock[]}} DilutionView
 *
 * @typedef {object} PrepView
 * @property {number} spare
 * @property {Amounts} one
 * @property {Amounts} three
 * @property {Amounts} bench
 * @property {DilutionView} acid
 * @property {DilutionView} base
 * @property {Freeboard} freeboard
 * @property {EndPoint | null} endPoint
 *
 * @typedef {{scheme: string, signal: string | null, statements: string[]}} HazardLabel
 * @typedef {{key: string, molL: number, percent: number, labels: HazardLabel[], cautions: string[]}} Material
 *
 * @typedef {object} SafetyCard
 * @property {string[]} always
 * @property {Material[]} materials
 * @property {{hydrogenMmol: number, hydroxideMmol: number, solidG: number}} left
 * @property {string[]} sources
 *
 * @typedef {{lowMgMl: number, highMgMl: number, middleMgMl: number, lowPercent: number, highPercent: number, labelAgrees: boolean}} Strength
 * @typedef {{ok: boolean, fragment: string, chars: number, max: number}} ShareView
 * @typedef {{ok: false, key?: string, errors?: FieldError[]}} Refusal
 */

/** The lesson, as the core runs it. */
export class Engine {
  /** @param {any} core an instance of the wasm class */
  constructor(core) {
    this.core = core;
    /** @type {() => void} called after something was done that is put down in the record */
    this.acted = () => {};
    /** @type {{level: number, expected: number, shows: InstrumentKey[]}[]} */
    this.levels = core.levels();
  }

  /**
   * Loads the compiled core and starts our scenario.
   * @returns {Promise<Engine>}
   * @throws when the browser has no WebAssembly or the file does not come
   */
  static async start() {
    await start({ module_or_path: part("pkg/turnback_bg.wasm") });
    return new Engine(new Turnback());
  }

  /** @returns {RecipeForm} */
  recipe() {
    return this.core.fields();
  }

  /** @param {Record<string, unknown>} typed @returns {Outcome} */
  setRecipe(typed) {
    return this.core.setRecipe(typed);
  }

  /** @param {string} fragment @returns {LinkOutcome} */
  openLink(fragment) {
    return this.core.openLink(fragment);
  }

  /** @returns {string} the fragment after # */
  link() {
    return this.core.link();
  }

  /** @param {"guided" | "free"} mode @returns {Outcome} */
  begin(mode) {
    return this.act(() => this.core.begin(mode)) ?? { ok: true };
  }

  /** @param {number} level 1 to 5 @returns {Outcome} */
  setLevel(level) {
    return this.core.setLevel(level);
  }

  /** What the present level asks, tells and shows. */
  level() {
    return this.levels[this.state().level - 1];
  }

  /** @param {InstrumentKey} instrument @returns {boolean} whether the present level shows it */
  shows(instrument) {
    return this.level().shows.includes(instrument);
  }

  /** @param {number} ask @param {string} answer @returns {Outcome} */
  choose(ask, answer) {
    return this.act(() => this.core.choose(ask, answer));
  }

  /** @returns {Told[]} the answered questions with choices of which it may be told by now what is right */
  told() {
    return this.core.told();
  }

  /** @returns {State} */
  state() {
    return this.core.state();
  }

  /** @param {Answers} answers @returns {LockOutcome} */
  lock(answers) {
    return this.act(() => this.core.lock(answers));
  }

  /** @param {number} seconds of the room since the last tick @returns {Ticked} */
  tick(seconds) {
    return this.core.tick(seconds);
  }

  /** @returns {Ticked} */
  nextEvent() {
    return this.act(() => this.core.nextEvent());
  }

  /** @param {boolean} held */
  setHeld(held) {
    this.act(() => this.core.setHeld(held));
  }

  /** @param {Speed} speed */
  setSpeed(speed) {
    this.act(() => this.core.setSpeed(speed));
  }

  /** @param {Answers} answers @returns {LockOutcome} */
  see(answers) {
    return this.act(() => this.core.see(answers));
  }

  /** @returns {Explanation} */
  explanation() {
    return this.core.explanation();
  }

  /** @returns {Outcome} */
  goOn() {
    return this.act(() => this.core.goOn()) ?? { ok: true };
  }

  /** @param {{beakers: number[], reagent: ReagentKey, volumeMl: string}} pour @returns {Outcome} */
  pour(pour) {
    return this.act(() => this.core.pour(pour));
  }

  /** @param {number} beaker -1 for all @param {string} rpm @returns {Outcome} */
  setStirrer(beaker, rpm) {
    return this.act(() => this.core.setStirrer(beaker, rpm));
  }

  /** @param {number} beaker -1 for all @param {{kind: BathKey, celsius: string}} bath @returns {Outcome} */
  setBath(beaker, bath) {
    return this.act(() => this.core.setBath(beaker, bath));
  }

  /** @param {number[]} beakers @param {WhatIfKey | "none"} key @returns {Outcome} */
  change(beakers, key) {
    return this.act(() => this.core.change(beakers, key));
  }

  /** @param {boolean} mark the card with the mark stands behind @param {boolean} torch lamp off, black card, torch */
  setLook(mark, torch) {
    this.core.setLook(mark, torch);
  }

  /** @param {number} time s, not beyond now @returns {Label[]} */
  labels(time) {
    return this.core.labels(time);
  }

  /**
   * Paints a beaker into a picture.
   * @param {number} beaker @param {number} time @param {ImageData} picture @param {boolean} reducedMotion
   */
  paint(beaker, time, { width, height, data }, reducedMotion) {
    this.core.paint(beaker, time, width, height, reducedMotion, data);
  }

  /**
   * @param {number} from s @param {number} to s @param {number} columns @param {number} beaker @param {number} rows
   * @returns {Uint8ClampedArray<ArrayBuffer>} RGBA, rows of `columns` pixels
   */
  ribbon(from, to, columns, beaker, rows) {
    return this.core.ribbon(from, to, columns, beaker, rows);
  }

  /** @returns {Marks} */
  marks() {
    return this.core.marks();
  }

  /**
   * Readings at these times.
   * @param {string} name @param {number} beaker @param {number[]} times s
   * @returns {number[]} NaN beyond now
   */
  columnAt(name, beaker, times) {
    return Array.from(this.core.columnAt(name, beaker, Float64Array.from(times)) ?? []);
  }

  /**
   * The line of ln(1/t) against 1/T.
   * @param {number[]} pairs a temperature, \u00b0C, and a time, s, one after another
   * @returns {{slope: number, intercept: number, energy: number, low: number | null, high: number | null} | null} K, 1, kJ/mol; no range with two pairs
   */
  arrhenius(pairs) {
    const line = this.core.arrhenius(Float64Array.from(pairs));
    if (line.length === 0) return null;
    const [slope, intercept, energy, low, high] = line;
    return { slope, intercept, energy, low: Number.isNaN(low) ? null : low, high: Number.isNaN(high) ? null : high };
  }

  /** @param {{name: string, decimals?: number, cells: (number | string)[]}[]} columns @param {boolean} decimalComma with semicolons between @returns {string} CSV */
  tableCsv(columns, decimalComma) {
    return this.core.tableCsv(columns, decimalComma);
  }

  /** @param {number} everySeconds @param {boolean} decimalComma with semicolons between @returns {string} the run up to now as CSV */
  csv(everySeconds, decimalComma) {
    return this.core.csv(everySeconds, decimalComma);
  }

  /** @param {number} beaker @param {number} row @param {string} column @param {string} typed @returns {"right" | "near" | "other" | "empty" | "notANumber"} */
  checkLedger(beaker, row, column, typed) {
    return this.core.checkLedger(beaker, row, column, typed);
  }

  /** @param {number} [beaker] the first unless told; in the guided lesson all are alike @returns {LedgerRow[]} */
  ledger(beaker = 0) {
    return this.core.ledger(beaker);
  }

  /** @param {number} beaker @param {number} from s @param {number} to s @returns {PhShift | null} */
  phShift(beaker, from, to) {
    return this.core.phShift(beaker, from, to);
  }

  // --- what the class measured -----------------------------------------------------------------------------------------

  /** @param {string} text a table from a spreadsheet @returns {string[][]} dose, start, end, seconds, finish, beaker */
  pastedTimes(text) {
    return this.core.pastedTimes(text);
  }

  /** @param {string[][]} rows @param {string[]} wanted @returns {FitView | DataRefusal} */
  fitTimes(rows, wanted) {
    return this.core.fitTimes(rows, wanted);
  }

  /** @param {Uint8Array} bytes @param {string[]} wishes delimiter, decimal mark, unit, columns of time and pH @returns {ProbeView | DataRefusal} */
  readProbe(bytes, wishes) {
    return this.core.readProbe(bytes, wishes);
  }

  /** @param {"time" | "ph" | "computed"} name @returns {Float64Array} */
  probeColumn(name) {
    return this.core.probeColumn(name);
  }

  /** @param {Float64Array} doses s of the recording @param {number} celsius @param {number} lag s @param {boolean} fitted @returns {OverlayView | DataRefusal} */
  overlayProbe(doses, celsius, lag, fitted) {
    return this.core.overlayProbe(doses, celsius, lag, fitted);
  }

  /** @param {Float64Array} doses s of the recording @param {number} celsius @param {string[]} wanted @returns {FitView | DataRefusal} */
  fitProbe(doses, celsius, wanted) {
    return this.core.fitProbe(doses, celsius, wanted);
  }

  /** Keeps the last fit with the lesson. @param {number} date 20261125 @returns {{ok: true} | Refusal} */
  keepFit(date) {
    return this.core.keepFit(date);
  }

  /** Back to the bottle as it comes. @returns {{ok: true} | Refusal} */
  dropFit() {
    return this.core.dropFit();
  }

  /** @returns {ConstantRow[]} */
  constants() {
    return this.core.constants();
  }

  /** @returns {string} */
  checkCode() {
    return this.core.checkCode();
  }

  // --- the lesson as its teacher plans and prints it -----------------------------------------------------------------

  /** @returns {LessonTree} the lesson in use, as its file has it */
  lesson() {
    return this.core.lesson();
  }

  /** @param {unknown} tree @returns {{ok: true} | Refusal} */
  setLesson(tree) {
    return this.core.setLesson(tree);
  }

  /** @returns {string} the text of the lesson's file */
  lessonFile() {
    return this.core.lessonFile();
  }

  /** @param {string} text of a lesson's file @returns {{ok: true} | Refusal} */
  openLessonFile(text) {
    return this.core.openLessonFile(text);
  }

  /** @returns {Map<string, KeyedQuestion>} the questions with choices that the levels ask, by key */
  questions() {
    const levels = /** @type {LevelView[]} */ (this.core.levels());
    const asked = levels.flatMap(({ moments }) => moments.flatMap(({ choices }) => choices));
    return new Map(asked.map((question) => [question.key, question]));
  }

  /** @returns {string} the check code of the lesson itself, whatever of it has run */
  lessonCode() {
    return this.core.lessonCode();
  }

  /** @returns {number} the beaker that the predictions are about */
  subject() {
    return this.core.subject();
  }

  /** @returns {Place[]} of the lesson in use */
  outline() {
    return this.core.outline();
  }

  /**
   * What a lesson will do. One beaker is computed in each call: it is asked again while something is pending.
   * @param {number} minutes available; 0 where it does not matter
   * @param {LessonTree} [draft] the lesson in use unless told
   * @returns {PlanView | Refusal}
   */
  plan(minutes, draft) {
    return this.core.plan(minutes, draft);
  }

  /** @param {number} spare doses for each beaker @param {string} acidStock a key, or mol/L as typed @param {string} baseStock @returns {PrepView} */
  prep(spare, acidStock, baseStock) {
    return this.core.prep(spare, acidStock, baseStock);
  }

  /** @param {string} acidStock @param {string} baseStock @returns {SafetyCard} */
  safety(acidStock, baseStock) {
    return this.core.safety(acidStock, baseStock);
  }

  /** @param {string} dose the first that stayed, as typed @returns {Strength | Refusal} */
  counted(dose) {
    return this.core.counted(dose);
  }

  /** @returns {ShareView} */
  share() {
    return this.core.share();
  }

  /** @param {string} text @returns {string | null} a code for cameras as SVG; null where the text is too long for one */
  qr(text) {
    const code = this.core.qrSvg(text);
    return code.ok ? code.svg : null;
  }

  /**
   * Does what is put down in the record: the core is told what the clock of the room shows, and then it is kept.
   * @template Done
   * @param {() => Done} deed
   * @returns {Done}
   */
  act(deed) {
    this.core.roomIs(performance.now() / 1000);
    const done = deed();
    this.acted();
    return done;
  }

  /** @returns {string} what a device keeps, to go on from here */
  kept() {
    return this.core.kept();
  }

  /** @param {string} kept @param {string} run the run that it tells again, or nothing @returns {LinkOutcome} */
  resume(kept, run) {
    return this.core.resume(kept, run);
  }

  /** @param {number} beaker @param {string} finish @returns {Outcome} */
  mark(beaker, finish) {
    return this.act(() => this.core.mark(beaker, finish));
  }

  /** @param {number} mark @returns {Outcome} */
  takeBack(mark) {
    return this.act(() => this.core.takeBack(mark));
  }

  /** @param {string} finish @returns {Timing | null} */
  timing(finish) {
    return this.core.timing(finish);
  }

  /** @param {string} text @returns {Outcome} */
  note(text) {
    return this.act(() => this.core.note(text));
  }

  /** @param {string} text @returns {Outcome} */
  sign(text) {
    return this.act(() => this.core.sign(text));
  }

  /** @returns {Slip} what would be handed in now */
  slip() {
    return this.core.slip();
  }

  /** @param {string} file @param {string} text */
  tallyAdd(file, text) {
    this.core.tallyAdd(file, text);
  }

  /** Takes all slips away. */
  tallyClear() {
    this.core.tallyClear();
  }

  /** @returns {number} how many things were opened */
  tallyOpened() {
    return this.core.tallyOpened();
  }

  /** @returns {TallyOutcome} */
  tally() {
    return this.core.tally();
  }

  /** @param {boolean} decimalComma @returns {string} */
  tallyCsv(decimalComma) {
    return this.core.tallyCsv(decimalComma);
  }

  /** @returns {{text: string, fits: boolean, blank: boolean}} the latest guided run, to hand on */
  runText() {
    return this.core.runText();
  }

  /** @param {string} text @returns {LinkOutcome} */
  openRun(text) {
    return this.core.openRun(text);
  }

  /** @param {boolean} paced as it ran, or in one's own pace */
  setPaced(paced) {
    this.core.setPaced(paced);
  }

  /** @returns {Retold | null} the run that is told again */
  retell() {
    return this.core.retell();
  }
}
