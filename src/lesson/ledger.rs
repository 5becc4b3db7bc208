//! The bookkeeping of a class: moles of acid and solid before and after each dose, by hand
//! stoichiometry. Mg(OH)2 + 2 H+ -> Mg2+ + 2 H2O runs until one of the two is used up; base
//! first takes the acid that is left and then brings the solid down again.
//!
//! No equilibrium here, on purpose: a student fills the same table with a pencil. What the
//! model leaves dissolved (about 0.3 % of the solid) is the difference that Trace shows.

use crate::chemistry::Reagent;

use super::field::Field;
use super::recipe::Recipe;
use super::steps::{Step, steps};

/// Molar mass of magnesium hydroxide, g/mol, with the four figures of a class's table:
/// Mg 24.305 + 2 (O 15.999 + H 1.008), IUPAC standard atomic weights, typed from memory.
pub const HAND_MOLAR_MASS_G_MOL: f64 = 58.32;

/// A remainder below this, mmol, is a rounding of f64 and no substance.
const NOTHING_MMOL: f64 = 1e-9;

/// A table that is filled dose by dose.
#[derive(Clone, Debug, PartialEq)]
pub struct Ledger {
    solid_mmol: f64,
    acid_dose_mmol: f64,
    rows: Vec<LedgerRow>,
}

/// Which of the two was used up by a dose of acid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limiting {
    /// The acid: solid is left.
    Acid,
    /// The solid: acid is left.
    Solid,
    /// Both, exactly.
    Both,
}

impl Limiting {
    /// The name at the edge.
    pub fn key(self) -> &'static str {
        match self {
            Limiting::Acid => "acid",
            Limiting::Solid => "solid",
            Limiting::Both => "both",
        }
    }
}

/// The state after one dose; all amounts are totals since the start, in mmol unless named.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LedgerRow {
    /// Doses so far, acid and base together; 0 is the state before the first.
    pub dose: u32,
    /// What this dose was; none in row 0.
    pub reagent: Option<Reagent>,
    /// Acid poured, mmol.
    pub hcl_mmol: f64,
    /// Base poured, mmol.
    pub naoh_mmol: f64,
    /// Solid used up by acid, mmol.
    pub solid_used_mmol: f64,
    /// Solid left, mmol.
    pub solid_left_mmol: f64,
    /// Solid left, g.
    pub solid_left_g: f64,
    /// Acid left, mmol.
    pub hydrogen_left_mmol: f64,
    /// Base left that found neither acid nor magnesium, mmol.
    pub hydroxide_left_mmol: f64,
    /// What ran out in this dose; none for a dose of base.
    pub limiting: Option<Limiting>,
}

impl Ledger {
    /// An empty table for one beaker of this recipe, with its row 0.
    pub fn begin(recipe: &Recipe) -> Ledger {
        let step_mmol = recipe.value(Field::DoseMl) * recipe.value(Field::AcidMolL);
        let mut ledger = Ledger {
            solid_mmol: recipe.solid_g() / HAND_MOLAR_MASS_G_MOL * 1000.0,
            acid_dose_mmol: step_mmol,
            rows: Vec::new(),
        };
        ledger.rows.push(ledger.row(0, None, 0.0, 0.0));
        ledger
    }

    /// The whole table of a recipe, every step of it poured.
    pub fn filled(recipe: &Recipe) -> Ledger {
        let mut ledger = Ledger::begin(recipe);
        for step in steps(recipe) {
            ledger.pour(step.reagent, step.amount_mmol());
        }
        ledger
    }

    /// Adds the row of one more dose.
    pub fn pour(&mut self, reagent: Reagent, amount_mmol: f64) {
        let last = self.rows[self.rows.len() - 1];
        let (hcl, naoh) = match reagent {
            Reagent::Acid => (last.hcl_mmol + amount_mmol, last.naoh_mmol),
            Reagent::Base => (last.hcl_mmol, last.naoh_mmol + amount_mmol),
        };
        self.rows.push(self.row(last.dose + 1, Some(reagent), hcl, naoh));
    }

    /// The rows so far, row 0 first.
    pub fn rows(&self) -> &[LedgerRow] {
        &self.rows
    }

    /// Acid that the solid can take up, mmol.
    pub fn capacity_mmol(&self) -> f64 {
        2.0 * self.solid_mmol
    }

    /// Doses of acid to the end point as a decimal number (6.86 of our scenario); none where
    /// a dose carries no acid.
    pub fn doses_to_end_point(&self) -> Option<f64> {
        (self.acid_dose_mmol > 0.0).then(|| self.capacity_mmol() / self.acid_dose_mmol)
    }

    /// The number of the first acid dose that leaves acid over.
    pub fn end_point_dose(&self) -> Option<u32> {
        first_dose_over(self.doses_to_end_point()?)
    }

    fn row(&self, dose: u32, reagent: Option<Reagent>, hcl: f64, naoh: f64) -> LedgerRow {
        let net = hcl - naoh;
        let solid_used = (net / 2.0).max(0.0).min(self.solid_mmol);
        let solid_left = self.solid_mmol - solid_used;
        let hydrogen_left = nothing_to_zero(net - self.capacity_mmol());
        let limiting = match reagent {
            Some(Reagent::Base) | None => None,
            Some(Reagent::Acid) if hydrogen_left > 0.0 => Some(Limiting::Solid),
            Some(Reagent::Acid) if solid_left > NOTHING_MMOL || net <= 0.0 => Some(Limiting::Acid),
            Some(Reagent::Acid) => Some(Limiting::Both),
        };
        LedgerRow {
            dose,
            reagent,
            hcl_mmol: hcl,
            naoh_mmol: naoh,
            solid_used_mmol: solid_used,
            solid_left_mmol: solid_left,
            solid_left_g: solid_left * HAND_MOLAR_MASS_G_MOL / 1000.0,
            hydrogen_left_mmol: hydrogen_left,
            hydroxide_left_mmol: nothing_to_zero(-net),
            limiting,
        }
    }
}

/// Doses of acid, as a decimal number, that so much capacity (mmol) takes up when these steps
/// are poured in their order, and more of the recipe's doses after the last of acid. Base gives
/// its part of the capacity back to the acid that follows it. None where the doses of the recipe carry no acid.
pub(super) fn doses_to_take_up(capacity_mmol: f64, recipe: &Recipe, steps: &[Step]) -> Option<f64> {
    let mut left_mmol = capacity_mmol;
    let mut doses = 0.0;
    let last_acid = steps.iter().rposition(|step| step.reagent == Reagent::Acid);
    for step in &steps[..last_acid.map_or(0, |last| last + 1)] {
        let amount_mmol = step.amount_mmol();
        match step.reagent {
            Reagent::Base => left_mmol += amount_mmol,
            Reagent::Acid if amount_mmol > left_mmol => return Some(doses + left_mmol / amount_mmol),
            Reagent::Acid => {
                left_mmol -= amount_mmol;
                doses += 1.0;
            }
        }
    }
    let dose_mmol = recipe.value(Field::DoseMl) * recipe.value(Field::AcidMolL);
    (dose_mmol > 0.0).then(|| doses + left_mmol / dose_mmol)
}

/// The number of the first dose that leaves acid over, from the decimal number that is taken up.
pub(super) fn first_dose_over(taken_up: f64) -> Option<u32> {
    let dose = (taken_up + NOTHING_MMOL).floor() + 1.0;
    (dose <= f64::from(u32::MAX)).then_some(dose as u32)
}

fn nothing_to_zero(amount_mmol: f64) -> f64 {
    if amount_mmol > NOTHING_MMOL { amount_mmol } else { 0.0 }
}
