//! Which part of the pH each cause holds, where magnesium hydroxide and its liquid meet.
//!
//! The saturation ratio Ω = a(Mg²⁺) a(H₂O)² / (a(H⁺)² K) is solved for the pH, which then is a sum, exactly:
//! pH = ½ lg K + ½ lg Ω - ½ lg m(Mg²⁺) - ½ (lg γ(Mg²⁺) + 2 lg a(H₂O)). Between two times each term has its own change, and the
//! changes add up to that of the pH.

use super::activity::{ion, linear_kg_mol, ln_single};
use super::speciation::{Composition, Speciation};
use super::thermal::Thermal;
use crate::constants::LN_10;

/// The terms of a pH, in units of pH.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PhTerms {
    /// ½ lg K: the equilibrium of the solid with acid, by temperature.
    pub temperature: f64,
    /// ½ lg Ω: 0 at saturation, below while solid could still dissolve or none is left.
    pub saturation: f64,
    /// -½ lg m(Mg²⁺): the common ion, free magnesium, mol/kg.
    pub common_ion: f64,
    /// -½ (lg γ(Mg²⁺) + 2 lg a(H₂O)): what the other ions do to the activity of magnesium and water.
    pub activity: f64,
}

impl PhTerms {
    /// The terms of a liquid; none where there is no magnesium, for then no solid could set its pH.
    pub fn of(composition: &Composition, thermal: &Thermal, speciation: &Speciation) -> Option<PhTerms> {
        let (magnesium, omega) = (speciation.species.magnesium, speciation.saturation_ratio);
        if !(magnesium > 0.0 && omega > 0.0) {
            return None;
        }
        let strength = speciation.ionic_strength;
        let ln_gamma = 4.0 * ln_single(thermal, strength)[ion::MAGNESIUM] + strength * linear_kg_mol::MAGNESIUM * LN_10;
        let ln_water = libm::log(composition.water_activity());
        Some(PhTerms {
            temperature: 0.5 * thermal.ln_brucite / LN_10,
            saturation: 0.5 * libm::log10(omega),
            common_ion: -0.5 * libm::log10(magnesium),
            activity: -0.5 * (ln_gamma + 2.0 * ln_water) / LN_10,
        })
    }

    /// The pH that they add up to.
    pub fn ph(&self) -> f64 {
        self.temperature + self.saturation + self.common_ion + self.activity
    }

    /// How each has changed since another time.
    pub fn since(&self, before: &PhTerms) -> PhTerms {
        PhTerms {
            temperature: self.temperature - before.temperature,
            saturation: self.saturation - before.saturation,
            common_ion: self.common_ion - before.common_ion,
            activity: self.activity - before.activity,
        }
    }
}
