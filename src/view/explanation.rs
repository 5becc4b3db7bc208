//! What happened in a dose and why, as keys and numbers: the outcome of each beaker, each
//! guess beside the outcome, and the reasons that the page puts into sentences.
//!
//! | reason | numbers | said when |
//! |---|---|---|
//! | `acidFirst` | `hydroxideMmol`, `doseMmol` | the first acid dose: how little base was dissolved |
//! | `acidUsedUp` | `doseMmol`, `solidUsedMmol`, `solidLeftG` | solid is left after an acid dose |
//! | `solidUsedUp` | `acidLeftMmol`, `ph` | acid is left after an acid dose |
//! | `stillOnTheWay` | `restS` | solid is left, and a beaker has not turned back in the watched time |
//! | `warmFirst` | `firstS`, `firstC`, `lastS`, `lastC` | beakers of unlike temperature turned back |
//! | `sameAmount` | `count` | several beakers, and none has solid left: warmth changes how fast, not how much |
//! | `slower` | `seconds`, `before` | the subject beaker took longer than in the dose before: less surface |
//! | `lessBlue` | `ph`, `before`, `magnesiumMmolL` | it rests at a lower pH than before: common ion |
//! | `baseTakesAcid` | `doseMmol`, `acidLeftMmol` | a base dose only used up acid |
//! | `solidBack` | `doseMmol`, `solidLeftG` | a base dose brought the solid down again |

use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

use crate::chemistry::Reagent;
use crate::colour::Band;
use crate::constants::CELSIUS_ZERO_K;
use crate::lesson::{
    At, First, Guess, LedgerRow, Match, Outcome, Seconds, Step, match_band, match_clarity, match_first, match_seconds,
};
use crate::session::{Answer, Stage, clarity_of};

use super::Screen;
use super::asks::{AskView, ideas_of_guess};
use super::labels::{dissolved_mmol, is_pale_at};

/// The explanation of the dose that came to rest.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Explanation {
    /// What each beaker did.
    pub beakers: Vec<BeakerOutcome>,
    /// What was guessed, beside what happened.
    pub questions: Vec<Compared>,
    /// What was seen, beside what happened.
    pub seen: Vec<Compared>,
    /// Why.
    pub why: Vec<Reason>,
    /// The answered questions with choices, with what is right.
    pub choices: Vec<AskView>,
    /// Tags of the ideas that the predictions point to.
    pub ideas: Vec<&'static str>,
}

/// What one beaker did in a dose.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct BeakerOutcome {
    /// Seconds from the pour to the upward crossing of pH 7.
    pub turned_back_s: Option<f64>,
    /// Key of the colour it went to first.
    pub band_at_once: &'static str,
    /// Key of the colour at rest.
    pub band_at_rest: &'static str,
    /// Is that colour pale?
    pub pale_at_rest: bool,
    /// Key of the clarity at rest.
    pub clarity_at_rest: &'static str,
    /// pH at rest.
    pub ph_at_rest: f64,
    /// Undissolved solid at rest, g.
    pub solid_g: f64,
    /// Dissolved magnesium at rest, all forms, mmol.
    pub dissolved_mmol: f64,
    /// Temperature at rest, °C.
    pub celsius: f64,
}

/// One answer beside the outcome. It gives no tick and no cross: near or far, in words.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Compared {
    /// Key of the question.
    pub question: &'static str,
    /// What was answered.
    pub guess: Told,
    /// What happened; nothing for "why".
    pub outcome: Told,
    /// same, near or other; none for "why".
    pub near: Option<&'static str>,
}

/// An answer or an outcome: a key or free words, a number, or nothing.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Told {
    /// A key, or the student's own words.
    Words(String),
    /// Seconds, or a beaker from 0.
    Number(f64),
    /// Nothing.
    Nothing,
}

/// One reason, with the numbers of its sentence, rounded as they are to be told. At the edge its
/// numbers stand beside its key.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// Its key.
    pub key: &'static str,
    /// Its numbers by name.
    pub numbers: Numbers,
}

/// Numbers by name.
#[derive(Clone, Debug, PartialEq)]
pub struct Numbers(Vec<(&'static str, f64)>);

impl std::ops::Index<&str> for Numbers {
    type Output = f64;

    fn index(&self, name: &str) -> &f64 {
        let found = self.0.iter().find(|(known, _)| *known == name);
        &found.expect("a number of this name").1
    }
}

impl Serialize for Reason {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(1 + self.numbers.0.len()))?;
        map.serialize_entry("key", self.key)?;
        for (name, number) in &self.numbers.0 {
            map.serialize_entry(name, number)?;
        }
        map.end()
    }
}

impl Screen {
    /// The explanation of the dose that came to rest; none in any other stage than "explain".
    pub fn explanation(&self) -> Option<Explanation> {
        if self.session.stage() != Stage::Explain {
            return None;
        }
        let answer = self.session.answers().last()?;
        let outcome = self.session.outcome(answer)?;
        let step = self.session.steps().get(answer.step)?;
        let row = self.ledger_rows(outcome.subject).last().copied()?;
        let reasons = self.session.lesson().level.plan().reasons;
        let mut why = Reasons { screen: self, answer, outcome: &outcome }.all();
        why.retain(|reason| reasons.contains(&reason.key));
        Some(Explanation {
            beakers: (0..self.session.bench().len()).map(|beaker| self.beaker_outcome(answer, beaker)).collect(),
            questions: compare(&answer.guess, &outcome),
            seen: answer.seen.as_ref().map_or_else(Vec::new, |seen| compare(seen, &outcome)),
            why,
            choices: self.told_at(At::Step(answer.step)),
            ideas: ideas_of_guess(&answer.guess, &outcome, step.reagent, &row),
        })
    }

    fn beaker_outcome(&self, answer: &Answer, beaker: usize) -> BeakerOutcome {
        let session = &self.session;
        let reading = session.reading(beaker, session.clock().now_s());
        let ph_at_once = session.ph_at_once(answer, beaker).unwrap_or(reading.ph);
        BeakerOutcome {
            turned_back_s: session.turned_back_s(answer, beaker),
            band_at_once: Band::of_ph(ph_at_once).key(),
            band_at_rest: Band::of_ph(reading.ph).key(),
            pale_at_rest: is_pale_at(&reading),
            clarity_at_rest: clarity_of(&reading, session.bench().path_cm()).key(),
            ph_at_rest: reading.ph,
            solid_g: reading.solid_g(),
            dissolved_mmol: dissolved_mmol(&reading),
            celsius: reading.temperature_k - CELSIUS_ZERO_K,
        }
    }
}

/// Sets each answer that was given beside what happened.
pub(super) fn compare(guess: &Guess, outcome: &Outcome) -> Vec<Compared> {
    let band = |question, guess: Option<Band>, ph| {
        guess.map(|guess| Compared {
            question,
            guess: key(guess.key()),
            outcome: key(Band::of_ph(ph).key()),
            near: Some(match_band(guess, ph).key()),
        })
    };
    let other = |question, guess, outcome, near: Match| Compared { question, guess, outcome, near: Some(near.key()) };
    let clarity = guess.clarity.map(|guess| {
        other("clarity", key(guess.key()), key(outcome.clarity.key()), match_clarity(guess, outcome.clarity))
    });
    let seconds = guess.seconds.map(|guess| {
        let happened = outcome.seconds();
        other("seconds", told_seconds(guess), told_seconds(happened), match_seconds(guess, happened))
    });
    let first = guess.first.map(|guess| {
        let happened = outcome.first();
        other("first", told_first(guess), told_first(happened), match_first(guess, happened))
    });
    let why = guess.why.as_ref().map(|words| Compared {
        question: "why",
        guess: Told::Words(words.clone()),
        outcome: Told::Nothing,
        near: None,
    });
    let at_once = band("atOnce", guess.at_once, outcome.ph_at_once);
    let at_rest = band("atRest", guess.at_rest, outcome.ph_at_rest);
    [at_once, at_rest, clarity, seconds, first, why].into_iter().flatten().collect()
}

/// Each answer that was given, by its question.
pub(super) fn told_answers_of(guess: &Guess) -> Vec<(&'static str, Told)> {
    [
        guess.at_once.map(|band| ("atOnce", key(band.key()))),
        guess.at_rest.map(|band| ("atRest", key(band.key()))),
        guess.clarity.map(|clarity| ("clarity", key(clarity.key()))),
        guess.seconds.map(|seconds| match seconds {
            Seconds::After(seconds) => ("seconds", Told::Number(seconds)),
            Seconds::Never => ("seconds", key("never")),
        }),
        guess.first.map(|first| ("first", told_first(first))),
        guess.why.as_ref().map(|why| ("why", key(why))),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn key(key: &str) -> Told {
    Told::Words(key.to_owned())
}

fn told_seconds(seconds: Seconds) -> Told {
    match seconds {
        Seconds::After(seconds) => Told::Number(rounded(seconds, 0)),
        Seconds::Never => key("never"),
    }
}

fn told_first(first: First) -> Told {
    match first {
        First::Beaker(beaker) => Told::Number(beaker as f64),
        First::Same => key("same"),
        First::None => key("none"),
    }
}

pub(super) fn rounded(value: f64, decimals: u32) -> f64 {
    let scale = f64::from(10_u32.pow(decimals));
    (value * scale).round() / scale
}

/// Below this difference two resting pH are the same to a reader of 0.01 pH.
const SAME_PH: f64 = 0.02;

/// Below this difference two temperatures are one, °C.
const SAME_C: f64 = 1.0;

struct Reasons<'a> {
    screen: &'a Screen,
    answer: &'a Answer,
    outcome: &'a Outcome,
}

impl Reasons<'_> {
    fn all(&self) -> Vec<Reason> {
        let rows = self.ledger_row();
        let Some((step, row)) = self.step().zip(rows) else { return Vec::new() };
        let reasons = match step.reagent {
            Reagent::Acid => vec![
                self.acid_first(step),
                self.used_up(step, &row),
                self.still_on_the_way(step, &row),
                self.warm_first(),
                self.same_amount(&row),
                self.slower(),
                self.less_blue(&row),
            ],
            Reagent::Base => vec![base(step, &row)],
        };
        reasons.into_iter().flatten().collect()
    }

    fn step(&self) -> Option<&Step> {
        self.screen.session.steps().get(self.answer.step)
    }

    /// The subject beaker's bookkeeping after this dose.
    fn ledger_row(&self) -> Option<LedgerRow> {
        self.screen.ledger_rows(self.outcome.subject).last().copied()
    }

    /// The dose before this one, if it was of the same reagent.
    fn before(&self) -> Option<(&Answer, Outcome)> {
        let session = &self.screen.session;
        let answers = session.answers();
        let before = answers.get(answers.len().checked_sub(2)?)?;
        let same = session.steps().get(before.step)?.reagent == self.step()?.reagent;
        same.then_some(())?;
        Some((before, session.outcome(before)?))
    }

    fn acid_first(&self, step: &Step) -> Option<Reason> {
        let before = self.screen.session.reading(self.outcome.subject, self.answer.poured_s());
        let hydroxide_mmol = before.hydroxide_molality * before.water_kg * 1000.0;
        let numbers = [("hydroxideMmol", rounded(hydroxide_mmol, 3)), ("doseMmol", rounded(step.amount_mmol(), 2))];
        (step.number == 1).then(|| reason("acidFirst", &numbers))
    }

    fn used_up(&self, step: &Step, row: &LedgerRow) -> Option<Reason> {
        if row.hydrogen_left_mmol > 0.0 {
            let acid = ("acidLeftMmol", rounded(row.hydrogen_left_mmol, 2));
            return Some(reason("solidUsedUp", &[acid, ("ph", rounded(self.outcome.ph_at_rest, 2))]));
        }
        let numbers = [
            ("doseMmol", rounded(step.amount_mmol(), 2)),
            ("solidUsedMmol", rounded(step.amount_mmol() / 2.0, 2)),
            ("solidLeftG", rounded(row.solid_left_g, 3)),
        ];
        (step.amount_mmol() > 0.0).then(|| reason("acidUsedUp", &numbers))
    }

    fn still_on_the_way(&self, step: &Step, row: &LedgerRow) -> Option<Reason> {
        let some_never = self.outcome.turned_back_s.contains(&None);
        let went_red = self.outcome.ph_at_once < 7.0;
        let waits = some_never && went_red && row.hydrogen_left_mmol == 0.0;
        waits.then(|| reason("stillOnTheWay", &[("restS", step.rest_s)]))
    }

    fn warm_first(&self) -> Option<Reason> {
        let session = &self.screen.session;
        let celsius = |beaker| session.reading(beaker, self.answer.poured_s()).temperature_k - CELSIUS_ZERO_K;
        let back = || {
            let by_beaker = self.outcome.turned_back_s.iter().enumerate();
            by_beaker.filter_map(|(beaker, seconds)| seconds.map(|seconds| (seconds, beaker)))
        };
        let (first_s, first) = back().min_by(|a, b| a.0.total_cmp(&b.0))?;
        let (last_s, last) = back().max_by(|a, b| a.0.total_cmp(&b.0))?;
        let numbers = [
            ("firstS", rounded(first_s, 0)),
            ("firstC", rounded(celsius(first), 0)),
            ("lastS", rounded(last_s, 0)),
            ("lastC", rounded(celsius(last), 0)),
        ];
        (celsius(first) - celsius(last) >= SAME_C).then(|| reason("warmFirst", &numbers))
    }

    fn same_amount(&self, row: &LedgerRow) -> Option<Reason> {
        let beakers = self.outcome.turned_back_s.len();
        let all_out = row.hydrogen_left_mmol > 0.0 && self.outcome.first() == First::None;
        (beakers > 1 && all_out).then(|| reason("sameAmount", &[("count", beakers as f64)]))
    }

    fn slower(&self) -> Option<Reason> {
        let (_, before) = self.before()?;
        let subject = self.outcome.subject;
        let (now_s, before_s) = self.outcome.turned_back_s[subject].zip(before.turned_back_s[subject])?;
        let numbers = [("seconds", rounded(now_s, 0)), ("before", rounded(before_s, 0))];
        (rounded(now_s, 0) > rounded(before_s, 0)).then(|| reason("slower", &numbers))
    }

    fn less_blue(&self, row: &LedgerRow) -> Option<Reason> {
        let (_, before) = self.before()?;
        let reading = self.screen.session.reading(self.outcome.subject, f64::INFINITY);
        let lower = self.outcome.ph_at_rest < before.ph_at_rest - SAME_PH && row.hydrogen_left_mmol == 0.0;
        let numbers = [
            ("ph", rounded(self.outcome.ph_at_rest, 2)),
            ("before", rounded(before.ph_at_rest, 2)),
            ("magnesiumMmolL", rounded(dissolved_mmol(&reading) / reading.volume_l(), 1)),
        ];
        lower.then(|| reason("lessBlue", &numbers))
    }
}

fn base(step: &Step, row: &LedgerRow) -> Option<Reason> {
    let dose = ("doseMmol", rounded(step.amount_mmol(), 2));
    if row.hydrogen_left_mmol > 0.0 {
        return Some(reason("baseTakesAcid", &[dose, ("acidLeftMmol", rounded(row.hydrogen_left_mmol, 2))]));
    }
    (step.amount_mmol() > 0.0).then(|| reason("solidBack", &[dose, ("solidLeftG", rounded(row.solid_left_g, 3))]))
}

pub(super) fn reason(key: &'static str, numbers: &[(&'static str, f64)]) -> Reason {
    Reason { key, numbers: Numbers(numbers.to_vec()) }
}
