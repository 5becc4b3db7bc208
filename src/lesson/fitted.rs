//! Numbers of the bottle that a class has fitted to its own beakers, kept with the lesson and marked as such.

use super::Lesson;
use super::field::Limits;
use super::recipe::{FieldError, Place, Recipe};
use super::tree::{Tree, short};
use crate::chemistry::Bottle;

/// A fitted bottle. Each number is a whole number of its finest steps, so that a link gives back the same bits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fitted {
    /// Factor on the published rate constant of the acid branch.
    pub acid_factor: f64,
    /// Carbonate in the solid, mol per mol.
    pub carbonate: f64,
    /// Activation energy of the acid branch, kJ/mol.
    pub energy_kj_mol: f64,
    /// How many measurements it was fitted to.
    pub measurements: u32,
    /// The day it was fitted, as the number that its date reads as: 20261125.
    pub date: u32,
    /// Strength of the suspension, mg/mL, where that was fitted too; else the label's holds.
    pub strength_mg_ml: Option<f64>,
}

/// Published activation energy of the acid branch, kJ/mol: Palandri & Kharaka 2004, USGS Open-File Report 2004-1068, table 32.
pub const PUBLISHED_ENERGY_KJ_MOL: f64 = 59.0;

/// Limits of a fitted bottle, in the order of a link: wider than any beaker asks for. The day's cover two centuries.
pub(super) static LIMITS: [Limits; 5] = [
    limits("acidFactor", "", [0.01, 1000.0, 6.0], 3),
    limits("carbonate", "mol/mol", [0.0, 0.2, 0.002], 6),
    limits("energy", "kJ/mol", [0.0, 250.0, PUBLISHED_ENERGY_KJ_MOL], 2),
    limits("measurements", "", [1.0, 1e6, 1.0], 0),
    limits("date", "", [20_000_101.0, 21_991_231.0, 20_261_125.0], 0),
];

/// Limits of a fitted strength: the recipe's, and as fine, so that it can stand in its place; but something must be in it.
pub(super) static STRENGTH: Limits = limits("strength", "mg/mL", [0.01, 400.0, 80.0], 2);

const fn limits(key: &'static str, unit: &'static str, [min, max, default]: [f64; 3], finest: u32) -> Limits {
    Limits { key, unit, min, max, default, decimals: finest, finest }
}

impl Fitted {
    /// A fitted bottle, rounded to what a link keeps.
    ///
    /// # Errors
    /// What lies outside of its limits.
    pub fn of(numbers: [f64; 5], strength_mg_ml: Option<f64>) -> Result<Fitted, FieldError> {
        let rounded = |number: f64, limits: &'static Limits| {
            limits.check(number, Place::Lesson { key: limits.key })?;
            Ok(limits.step(limits.steps(number)))
        };
        let mut kept = numbers;
        for (kept, limits) in kept.iter_mut().zip(&LIMITS) {
            *kept = rounded(*kept, limits)?;
        }
        let strength_mg_ml = strength_mg_ml.map(|strength| rounded(strength, &STRENGTH)).transpose()?;
        let [acid_factor, carbonate, energy_kj_mol, measurements, date] = kept;
        let (month, day) = ((date as u32 / 100) % 100, date as u32 % 100);
        if !(1..=12).contains(&month) || !(1..=31).contains(&day) {
            return Err(FieldError::bare(Place::Lesson { key: "date" }, "notADate"));
        }
        let (measurements, date) = (measurements as u32, date as u32);
        Ok(Fitted { acid_factor, carbonate, energy_kj_mol, measurements, date, strength_mg_ml })
    }

    /// Its numbers in the order of a link; a strength follows them.
    pub fn numbers(&self) -> [f64; 5] {
        [self.acid_factor, self.carbonate, self.energy_kj_mol, f64::from(self.measurements), f64::from(self.date)]
    }

    /// Its numbers in the order of a link, in whole finest steps, and its strength, where there is one.
    pub(super) fn steps(&self) -> impl Iterator<Item = u32> {
        let numbers = LIMITS.iter().zip(self.numbers()).map(|(limits, number)| limits.steps(number));
        numbers.chain(self.strength_mg_ml.map(|strength| STRENGTH.steps(strength)))
    }

    /// Reads one from a lesson's file.
    pub(super) fn from_tree<T: Tree>(tree: &T) -> Result<Fitted, FieldError> {
        let mut numbers = [0.0; 5];
        for (number, limits) in numbers.iter_mut().zip(&LIMITS) {
            // A date may have its hyphens.
            let typed = short(tree, limits.key);
            let typed = if limits.key == "date" { typed.replace('-', "") } else { typed };
            *number = limits.read(&typed, Place::Lesson { key: limits.key })?;
        }
        let strength = short(tree, STRENGTH.key);
        let strength_mg_ml = match strength.as_str() {
            "" => None,
            typed => Some(STRENGTH.read(typed, Place::Lesson { key: STRENGTH.key })?),
        };
        Fitted::of(numbers, strength_mg_ml)
    }
}

impl Lesson {
    /// The bottle that this lesson computes with: the fitted one, where there is one.
    pub fn bottle(&self) -> Bottle {
        let bottle = Bottle::default();
        self.fitted.map_or(bottle, |fitted| Bottle {
            acid_factor: fitted.acid_factor,
            carbonate_mol_per_mol: fitted.carbonate,
            energy_factor: fitted.energy_kj_mol / PUBLISHED_ENERGY_KJ_MOL,
            ..bottle
        })
    }

    /// The recipe as it is computed with: with the fitted strength, where there is one, in place of the label's.
    pub fn computed_recipe(&self) -> Recipe {
        match self.fitted.and_then(|fitted| fitted.strength_mg_ml) {
            Some(strength_mg_ml) => self.recipe.with_strength(strength_mg_ml),
            None => self.recipe.clone(),
        }
    }
}
