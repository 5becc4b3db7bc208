// What does the desk plan and print: the lesson as its file has it, what it will do, and what it takes?

/** @import { Ask, BandKey, Bottle, ClarityKey, LedgerRow, ReagentKey } from "./lesson-shapes.js" */

/**
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
 * @property {{acidFactor: number, carbonate: number, energy: number, measurements: number, date: number, strength?: number}} [fitted] the bottle, where a class fitted it; absent where it is as it comes
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
 * @property {EndPoint | null} endPoint by the label
 * @property {EndPoint | null} fittedEnd for the fitted strength
 * @property {Bottle | null} bottle where a class has fitted it
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
 * @property {EndPoint | null} endPoint by the label
 * @property {EndPoint | null} fittedEnd for the fitted strength
 * @property {Bottle | null} bottle where a class has fitted it
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
 */

export {};
