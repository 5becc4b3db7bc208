//! Numbers of the bottle that a class has fitted to its own beakers, kept with the lesson and marked as such.

use super::Lesson;
use super::field::Limits;
use super::recipe::{FieldError, Place};
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

const fn limits(key: &'static str, unit: &'static str, [min, max, default]: [f64; 3], finest: u32) -> Limits {
    Limits { key, unit, min, max, default, decimals: finest, finest }
}

impl Fitted {
    /// A fitted bottle, rounded to what a link keeps.
    ///
    /// # Errors
    /// What lies outside of its limits.
    pub fn of(numbers: [f64; 5]) -> Result<Fitted, FieldError> {
        let mut kept = numbers;
        for (kept, limits) in kept.iter_mut().zip(&LIMITS) {
            limits.check(*kept, Place::Lesson { key: limits.key })?;
            *kept = limits.step(limits.steps(*kept));
        }
        let [acid_factor, carbonate, energy_kj_mol, measurements, date] = kept;
        let (month, day) = ((date as u32 / 100) % 100, date as u32 % 100);
        if !(1..=12).contains(&month) || !(1..=31).contains(&day) {
            return Err(FieldError::bare(Place::Lesson { key: "date" }, "notADate"));
        }
        Ok(Fitted { acid_factor, carbonate, energy_kj_mol, measurements: measurements as u32, date: date as u32 })
    }

    /// Its numbers in the order of a link.
    pub fn numbers(&self) -> [f64; 5] {
        [self.acid_factor, self.carbonate, self.energy_kj_mol, f64::from(self.measurements), f64::from(self.date)]
    }

    /// Its numbers in the order of a link, in whole finest steps.
    pub(super) fn steps(&self) -> impl Iterator<Item = u32> {
        LIMITS.iter().zip(self.numbers()).map(|(limits, number)| limits.steps(number))
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
        Fitted::of(numbers)
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
}
