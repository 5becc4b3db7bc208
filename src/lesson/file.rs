//! A lesson as readable text: JSON that a person can read, mend and keep for years.
//!
//! ```text
//! turnback  1, the version of this layout
//! title, level, minutes, notes
//! recipe    the numbers of the form by their keys; beakers, each with its kind
//! brief     what is asked before the first dose, where a teacher altered it
//! steps     the doses: reagent; volumeMl, restS and asks where they are the dose's own
//! end       what is asked after the last dose, where a teacher altered it
//! fitted    the bottle, where a class fitted it: acidFactor, carbonate, energy, measurements, date;
//!           strength where that was fitted too
//! asks      a list: a key ("atRest", "3.ranOut") or {text, choices}
//! ```
//!
//! Any program's JSON is read ([`Lesson::from_tree`]); what this layout does not name is left
//! out of account.

use serde::{Serialize, Serializer};

use super::Lesson;
use super::beaker::Beaker;
use super::field::Field;
use super::script::{Ask, Dose, OwnQuestion};

/// The version that is written, and the newest that is read.
pub const FILE_VERSION: u32 = 1;

/// Longest file that is looked at, in characters: many times what the longest lesson takes.
pub const FILE_MAX_CHARS: usize = 500_000;

/// A lesson as it is written.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct LessonFile {
    turnback: u32,
    title: String,
    level: u8,
    minutes: u32,
    recipe: Numbers,
    beakers: Vec<BeakerEntry>,
    #[serde(skip_serializing_if = "Option::is_none")]
    brief: Option<Vec<AskEntry>>,
    steps: Vec<DoseEntry>,
    #[serde(skip_serializing_if = "Option::is_none")]
    end: Option<Vec<AskEntry>>,
    notes: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    fitted: Option<FittedEntry>,
}

/// A fitted bottle as it is written.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct FittedEntry {
    acid_factor: Number,
    carbonate: Number,
    energy: Number,
    measurements: u32,
    date: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    strength: Option<Number>,
}

/// A number without a fraction where it has none: 500, and not 500.0.
#[derive(Clone, Copy, Debug)]
struct Number(f64);

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let whole = self.0 as i32;
        if f64::from(whole) == self.0 { serializer.serialize_i32(whole) } else { serializer.serialize_f64(self.0) }
    }
}

/// The numbers of a recipe by their keys, in the order of the form.
#[derive(Debug)]
struct Numbers([f64; Field::COUNT]);

impl Serialize for Numbers {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(Field::ALL.into_iter().map(|field| (field.key(), Number(self.0[field as usize]))))
    }
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct BeakerEntry {
    kind: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    celsius: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ice_g: Option<Number>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct DoseEntry {
    reagent: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    volume_ml: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    rest_s: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    asks: Option<Vec<AskEntry>>,
}

/// Something that is asked: its key, or the teacher's own words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(untagged)]
pub enum AskEntry {
    /// Key of a prediction or of a question with choices.
    Key(&'static str),
    /// A question of the teacher's own.
    Own(OwnQuestion),
}

impl AskEntry {
    /// Each of these questions as it is written.
    pub fn all(asks: &[Ask]) -> Vec<AskEntry> {
        let entry = |ask: &Ask| match ask {
            Ask::Card(question) => AskEntry::Key(question.key()),
            Ask::Choice(question) => AskEntry::Key(question.key),
            Ask::Own(own) => AskEntry::Own(own.clone()),
        };
        asks.iter().map(entry).collect()
    }
}

impl LessonFile {
    /// A lesson with all that is the teacher's own.
    pub fn of(lesson: &Lesson) -> LessonFile {
        let asks = |asks: &Option<Vec<Ask>>| asks.as_deref().map(AskEntry::all);
        let dose = |dose: &Dose| DoseEntry {
            reagent: dose.reagent.key(),
            volume_ml: dose.volume_ml.map(Number),
            rest_s: dose.rest_s.map(Number),
            asks: asks(&dose.asks),
        };
        LessonFile {
            turnback: FILE_VERSION,
            title: lesson.title.clone(),
            level: lesson.level.number(),
            minutes: lesson.teacher.minutes,
            recipe: Numbers(Field::ALL.map(|field| lesson.recipe.value(field))),
            beakers: lesson.recipe.beakers().iter().map(BeakerEntry::of).collect(),
            brief: asks(&lesson.script.brief),
            steps: lesson.doses().iter().map(dose).collect(),
            end: asks(&lesson.script.end),
            notes: lesson.teacher.notes.clone(),
            fitted: lesson.fitted.map(|fitted| FittedEntry {
                acid_factor: Number(fitted.acid_factor),
                carbonate: Number(fitted.carbonate),
                energy: Number(fitted.energy_kj_mol),
                measurements: fitted.measurements,
                date: fitted.date,
                strength: fitted.strength_mg_ml.map(Number),
            }),
        }
    }
}

impl BeakerEntry {
    fn of(beaker: &Beaker) -> BeakerEntry {
        let celsius = if *beaker == Beaker::Room { None } else { Some(Number(beaker.start_c(0.0))) };
        let ice_g = if let Beaker::Ice { ice_g, .. } = *beaker { Some(Number(ice_g)) } else { None };
        BeakerEntry { kind: beaker.kind(), celsius, ice_g }
    }
}
