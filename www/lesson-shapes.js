// What does a lesson answer: its keys, what it asks, what can be seen at a time, what it explains, and how it refuses?

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
 * @typedef {object} Bottle a fitted bottle beside the one that it stands for
 * @property {number} date 20261125
 * @property {number} measurements
 * @property {[string, number, number | null][]} numbers key, as it comes or by the label, as fitted
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
 * @typedef {{ok: false, key?: string, errors?: FieldError[]}} Refusal
 * @typedef {{ok: true} | Refusal} Outcome
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
 * @typedef {string | {text: string, choices: string[]}} Ask a key, or the teacher's own question
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

export {};
