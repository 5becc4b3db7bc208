//! The steps of the guided lesson: one dose each, and what is asked before it.

use crate::chemistry::Reagent;

use super::beaker::Beaker;
use super::field::Field;
use super::ledger::Ledger;
use super::recipe::Recipe;

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
    /// How much is asked before it.
    pub card: Card,
}

/// How much a dose asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Card {
    /// One tap: the colour at rest of the subject beaker.
    Short,
    /// The whole card.
    Long,
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
    /// What this dose asks on a bench of so many beakers, in the order of the card.
    ///
    /// Base brings the colour back within the time of mixing, in every beaker alike: seconds
    /// and order would ask for a stirrer's property, so the card leaves them out.
    pub fn questions(&self, beakers: usize) -> &'static [Question] {
        use Question::{AtOnce, AtRest, Clarity, First, Seconds, Why};
        match (self.card, self.reagent) {
            (Card::Short, _) => &[AtRest],
            (Card::Long, Reagent::Base) => &[AtOnce, AtRest, Clarity, Why],
            (Card::Long, Reagent::Acid) if beakers > 1 => &[AtOnce, AtRest, Clarity, Seconds, First, Why],
            (Card::Long, Reagent::Acid) => &[AtOnce, AtRest, Clarity, Seconds, Why],
        }
    }

    /// Acid or base in this dose, mmol.
    pub fn amount_mmol(&self) -> f64 {
        self.volume_ml * self.concentration_mol_l
    }
}

/// The doses of a recipe: the acid doses, then the base doses.
///
/// The long card stands where the story turns: at the first dose, at the third, at the dose
/// that by the bookkeeping is one too many for the solid, and at the first base dose.
pub fn steps(recipe: &Recipe) -> Vec<Step> {
    let end_point = Ledger::begin(recipe).end_point_dose();
    let acid = (1..=recipe.count(Field::AcidDoses)).map(|number| {
        let long = number == 1 || number == 3 || Some(number) == end_point;
        step(recipe, number, Reagent::Acid, long)
    });
    let base = (1..=recipe.count(Field::BaseDoses)).map(|number| step(recipe, number, Reagent::Base, number == 1));
    acid.chain(base).collect()
}

fn step(recipe: &Recipe, number: u32, reagent: Reagent, long: bool) -> Step {
    let (concentration, rest) = match reagent {
        Reagent::Acid => (Field::AcidMolL, Field::RestS),
        Reagent::Base => (Field::BaseMolL, Field::BaseRestS),
    };
    Step {
        number,
        reagent,
        volume_ml: recipe.value(Field::DoseMl),
        concentration_mol_l: recipe.value(concentration),
        pour_s: recipe.value(Field::PourS),
        rest_s: recipe.value(rest),
        card: if long { Card::Long } else { Card::Short },
    }
}

/// The beaker that the card's questions on colour and seconds are about: the room's, which a
/// class has seen before, or else the middle one.
pub fn subject_beaker(recipe: &Recipe) -> usize {
    let beakers = recipe.beakers();
    let is_room = |beaker: &Beaker| matches!(beaker, Beaker::Room);
    beakers.iter().position(is_room).unwrap_or(beakers.len() / 2)
}
