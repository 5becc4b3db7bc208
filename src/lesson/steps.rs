//! The steps of the guided lesson: one dose each, with its place in the story.
//!
//! Base brings the colour back within the time of mixing, in every beaker alike: seconds and
//! order would ask for a stirrer's property, so no level asks for them there.

use crate::chemistry::Reagent;

use super::Lesson;
use super::beaker::Beaker;
use super::field::Field;
use super::ledger::{Ledger, doses_to_take_up, first_dose_over};
use super::level::Moment;
use super::recipe::Recipe;
use super::script::Dose;

/// One dose of the guided lesson, poured into every beaker in the same instant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// Number among the doses of the same reagent, from 1.
    pub number: u32,
    /// What is poured.
    pub reagent: Reagent,
    /// How much, mL.
    pub volume_ml: f64,
    /// Its concentration, mol/L.
    pub concentration_mol_l: f64,
    /// How long the pour takes, s.
    pub pour_s: f64,
    /// How long the beakers are watched after the start of the pour, s.
    pub rest_s: f64,
    /// Its place in the story, by which a level chooses what is asked.
    pub moment: Moment,
}

/// One question of a prediction card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Question {
    /// Which colour shows first.
    AtOnce,
    /// Which colour shows at rest.
    AtRest,
    /// Can the mark behind the beaker be seen at rest.
    Clarity,
    /// How many seconds until it turns back, or never.
    Seconds,
    /// Which beaker turns back first.
    First,
    /// Why, in the student's own words.
    Why,
}

impl Question {
    /// Every question, in the order of the card; the position is its number in a link.
    pub const ALL: [Question; 6] =
        [Question::AtOnce, Question::AtRest, Question::Clarity, Question::Seconds, Question::First, Question::Why];

    /// The question of a name.
    pub fn of_key(key: &str) -> Option<Question> {
        Question::ALL.into_iter().find(|question| question.key() == key)
    }

    /// The name of this question at the edge.
    pub fn key(self) -> &'static str {
        match self {
            Question::AtOnce => "atOnce",
            Question::AtRest => "atRest",
            Question::Clarity => "clarity",
            Question::Seconds => "seconds",
            Question::First => "first",
            Question::Why => "why",
        }
    }
}

impl Step {
    /// Acid or base in this dose, mmol.
    pub fn amount_mmol(&self) -> f64 {
        self.volume_ml * self.concentration_mol_l
    }
}

/// The doses of a recipe as it comes: the acid doses, then the base doses.
pub fn steps(recipe: &Recipe) -> Vec<Step> {
    Lesson::of_recipe(recipe.clone()).steps()
}

/// Planned doses with their amounts and their moments.
///
/// The story turns at the first dose, at the third, at the dose that by the bookkeeping is one
/// too many for the solid, and at the first base dose.
pub(super) fn to_steps(recipe: &Recipe, doses: &[Dose]) -> Vec<Step> {
    let mut counts = [0, 0];
    let number = |dose: &Dose| {
        let count = &mut counts[dose.reagent as usize];
        *count += 1;
        step(recipe, dose, *count)
    };
    let mut steps: Vec<Step> = doses.iter().map(number).collect();
    let last = doses_to_take_up(Ledger::begin(recipe).capacity_mmol(), recipe, &steps).and_then(first_dose_over);
    for step in &mut steps {
        step.moment = match (step.reagent, step.number) {
            (Reagent::Acid, number) if Some(number) == last => Moment::LastAcid,
            (Reagent::Acid, 1) => Moment::FirstAcid,
            (Reagent::Acid, 3) => Moment::ThirdAcid,
            (Reagent::Acid, _) => Moment::Acid,
            (Reagent::Base, 1) => Moment::FirstBase,
            (Reagent::Base, _) => Moment::Base,
        };
    }
    steps
}

fn step(recipe: &Recipe, dose: &Dose, number: u32) -> Step {
    let (concentration, rest) = match dose.reagent {
        Reagent::Acid => (Field::AcidMolL, Field::RestS),
        Reagent::Base => (Field::BaseMolL, Field::BaseRestS),
    };
    Step {
        number,
        reagent: dose.reagent,
        volume_ml: dose.volume_ml.unwrap_or(recipe.value(Field::DoseMl)),
        concentration_mol_l: recipe.value(concentration),
        pour_s: recipe.value(Field::PourS),
        rest_s: dose.rest_s.unwrap_or(recipe.value(rest)),
        moment: Moment::Acid,
    }
}

/// The beaker that the card's questions on colour and seconds are about: the room's, which a
/// class has seen before, or else the middle one.
pub fn subject_beaker(recipe: &Recipe) -> usize {
    let beakers = recipe.beakers();
    let is_room = |beaker: &Beaker| matches!(beaker, Beaker::Room);
    beakers.iter().position(is_room).unwrap_or(beakers.len() / 2)
}
