//! What can be fitted: its scale, its limits, and what the literature says of it.

use crate::lesson::{Field, FieldError, Fitted, Lesson, PUBLISHED_ENERGY_KJ_MOL, Recipe};

/// A number of the model that measurements may tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unknown {
    /// Factor on the published rate constant of the acid branch.
    AcidFactor,
    /// Carbonate in the solid, mol per mol.
    Carbonate,
    /// Apparent activation energy of the acid branch, kJ/mol; the neutral branch's goes with it.
    Energy,
    /// Strength of the suspension, mg/mL.
    Strength,
    /// Lag of the electrode, s.
    Lag,
}

/// Values of all that can be fitted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Values {
    /// Factor on the published rate constant of the acid branch.
    pub acid_factor: f64,
    /// Carbonate in the solid, mol per mol.
    pub carbonate: f64,
    /// How many times the published activation energies hold.
    pub energy_factor: f64,
    /// Strength of the suspension, mg/mL.
    pub strength_mg_ml: f64,
    /// Lag of the electrode (time constant of a first-order filter), s; 0 for none.
    pub lag_s: f64,
}

/// What the literature or the label says of an unknown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Literature {
    /// Of which unknown.
    pub unknown: Unknown,
    /// The value, or the low end of a range, in the unknown's unit.
    pub low: f64,
    /// The high end of a range; the same as `low` for a single value.
    pub high: f64,
    /// Where it stands.
    pub source: &'static str,
}

/// Values to lay beside the fitted ones; strength in per cent of the label. Sources are told as they stand in every language, so
/// they have names and numbers and no prose.
pub const LITERATURE: [Literature; 6] = [
    of(Unknown::AcidFactor, 1.0, 1.0, "Palandri & Kharaka 2004, USGS OFR 2004-1068, table 32; 85 m²/g"),
    // 3.5/85 and 106/85.
    of(Unknown::AcidFactor, 0.041, 1.25, "3.5–106 m²/g: Lin et al. 2008; Vatsha et al. 2013"),
    of(Unknown::Energy, PUBLISHED_ENERGY_KJ_MOL, PUBLISHED_ENERGY_KJ_MOL, "Palandri & Kharaka 2004, table 32"),
    of(Unknown::Energy, 60.0, 60.0, "Kinec_v3.dat (PHREEQC 3)"),
    of(Unknown::Energy, 58.0, 58.0, "MgO + HCl: Chem. Eng. J. 117 (2006) 205"),
    of(Unknown::Strength, 90.0, 115.0, "USP, Milk of Magnesia: 90.0–115.0 %"),
];

const fn of(unknown: Unknown, low: f64, high: f64, source: &'static str) -> Literature {
    Literature { unknown, low, high, source }
}

impl Unknown {
    /// All of them, in the order in which they are told.
    pub const ALL: [Unknown; 5] =
        [Unknown::AcidFactor, Unknown::Carbonate, Unknown::Energy, Unknown::Strength, Unknown::Lag];

    /// The name at the edge.
    pub fn key(self) -> &'static str {
        match self {
            Unknown::AcidFactor => "acidFactor",
            Unknown::Carbonate => "carbonate",
            Unknown::Energy => "energy",
            Unknown::Strength => "strength",
            Unknown::Lag => "lag",
        }
    }

    /// The unknown of a name.
    pub fn of_key(key: &str) -> Option<Unknown> {
        Unknown::ALL.into_iter().find(|unknown| unknown.key() == key)
    }

    /// Its value in the unit it is told in.
    pub fn told(self, values: &Values) -> f64 {
        self.value_at(self.coordinate(values))
    }

    /// Where it stands on the scale on which the search steps and errors are alike on both sides: a logarithm for what
    /// multiplies a rate or an amount.
    pub(super) fn coordinate(self, values: &Values) -> f64 {
        match self {
            Unknown::AcidFactor => libm::log(values.acid_factor),
            Unknown::Carbonate => values.carbonate,
            Unknown::Energy => values.energy_factor,
            Unknown::Strength => libm::log(values.strength_mg_ml),
            Unknown::Lag => values.lag_s,
        }
    }

    /// The told value at a place on that scale.
    pub(super) fn value_at(self, coordinate: f64) -> f64 {
        match self {
            Unknown::AcidFactor | Unknown::Strength => libm::exp(coordinate),
            Unknown::Carbonate | Unknown::Lag => coordinate.max(0.0),
            Unknown::Energy => coordinate * PUBLISHED_ENERGY_KJ_MOL,
        }
    }

    /// Whether amounts below nothing lie on its scale.
    pub(super) fn ends_at_nothing(self) -> bool {
        matches!(self, Unknown::Carbonate | Unknown::Lag)
    }

    /// Puts a place on the scale into the values.
    pub(super) fn set(self, values: &mut Values, coordinate: f64) {
        match self {
            Unknown::AcidFactor => values.acid_factor = libm::exp(coordinate),
            Unknown::Carbonate => values.carbonate = coordinate,
            Unknown::Energy => values.energy_factor = coordinate,
            Unknown::Strength => values.strength_mg_ml = libm::exp(coordinate),
            Unknown::Lag => values.lag_s = coordinate,
        }
    }

    /// Step over which slopes are taken: the model's noise over it is below 1 %, and the model bends little within it.
    pub(super) fn step(self) -> f64 {
        match self {
            Unknown::AcidFactor => 0.05,
            Unknown::Carbonate => 3e-4,
            Unknown::Energy => 0.04,
            Unknown::Strength => 0.01,
            Unknown::Lag => 0.3,
        }
    }
}

impl Values {
    /// What a lesson computes with, and no lag.
    pub fn of(lesson: &Lesson) -> Values {
        let bottle = lesson.bottle();
        Values {
            acid_factor: bottle.acid_factor,
            carbonate: bottle.carbonate_mol_per_mol,
            energy_factor: bottle.energy_factor,
            strength_mg_ml: lesson.computed_recipe().value(Field::SuspensionMgMl),
            lag_s: 0.0,
        }
    }

    /// These as a bottle to be kept with a lesson: fitted to so many measurements on a day (20261125). A strength that is the
    /// label's was not fitted, and the lag is no part of a beaker.
    ///
    /// # Errors
    /// What lies outside of the limits of a lesson.
    pub fn fitted(&self, label: &Recipe, measurements: usize, date: u32) -> Result<Fitted, FieldError> {
        let energy_kj_mol = self.energy_factor * PUBLISHED_ENERGY_KJ_MOL;
        let strength_mg_ml = Some(self.strength_mg_ml).filter(|fitted| *fitted != label.value(Field::SuspensionMgMl));
        let numbers = [self.acid_factor, self.carbonate, energy_kj_mol, measurements as f64, f64::from(date)];
        Fitted::of(numbers, strength_mg_ml)
    }

    /// Whether the model can begin with these: a search may look far, and must be told where nothing is.
    pub(super) fn can_be(&self) -> bool {
        let within = |value: f64, low: f64, high: f64| value >= low && value <= high;
        within(self.acid_factor, 1e-3, 1e4)
            && within(self.carbonate, 0.0, 0.5)
            && within(self.energy_factor, 0.0, 5.0)
            && within(self.strength_mg_ml, 0.5, 2000.0)
            && within(self.lag_s, 0.0, 600.0)
    }
}
