//! Speciation: which forms the dissolved amounts take, and the pH that follows.
//!
//! Per kilogram of water a well-mixed portion of the beaker holds an acid excess E =
//! Cl - Na - 2 Mg (charge balance), chloride, sodium and inorganic carbon. E is carried
//! instead of magnesium because at pH 7 it is 10⁻⁸ mol, the difference of numbers of
//! 0.02 mol. The hydrogen ion is the root of one increasing function of ln h; the ionic
//! strength is found together with it. Left out: slow hydration of CO₂, ion pairs of
//! chloride and sodium.

use super::activity::water_activity;
use super::anchor::INPUTS;
use super::factors::{Factors, factor};
use super::search::{Accuracy, Root, search};
use super::thermal::Thermal;
use crate::numerics::at_least;

/// What one kilogram of water holds, mol/kg.
#[derive(Clone, Copy, Debug)]
pub struct Composition {
    /// Acid excess E = Cl - Na - 2 Mg; negative where base is in excess.
    pub acid_excess: f64,
    /// Chloride.
    pub chloride: f64,
    /// Sodium.
    pub sodium: f64,
    /// Dissolved inorganic carbon, all forms.
    pub carbon: f64,
}

/// Ionic strength of pure water, mol/kg: the least that a search starts from.
const PURE_WATER_MOLALITY: f64 = 1e-7;

impl Composition {
    /// Dissolved magnesium, all forms, mol/kg.
    #[inline]
    pub fn magnesium(&self) -> f64 {
        at_least(0.5 * (self.chloride - self.sodium - self.acid_excess), 0.0)
    }

    /// Activity of water, dimensionless.
    #[inline]
    pub fn water_activity(&self) -> f64 {
        water_activity(self.chloride + self.sodium + self.magnesium() + self.acid_excess.abs() + self.carbon)
    }

    /// What a root depends on.
    #[inline]
    pub(super) fn inputs(&self, temperature_k: f64) -> [f64; INPUTS] {
        [self.acid_excess, self.chloride, self.sodium, self.carbon, temperature_k]
    }

    /// A first guess of the ionic strength, mol/kg. In acid h ≈ E and in base OH ≈ -E: with
    /// |E| counted it is right to a few parts in 10⁴.
    #[inline]
    pub(super) fn guessed_strength(&self) -> f64 {
        0.5 * (self.chloride + self.sodium + 4.0 * self.magnesium() + self.acid_excess.abs()) + PURE_WATER_MOLALITY
    }

    /// A first guess of h, mol/kg: from h - k/h - C/(1 + r h) = E, with what makes OH⁻ and MgOH⁺
    /// in k, and carbon as CO₂ and HCO₃⁻ only. In acid all of it is CO₂, in base h itself is
    /// nothing: what is left is a quadratic.
    pub(super) fn guessed_hydrogen(&self, factors: &Factors, with_carbon: bool) -> f64 {
        let e = self.acid_excess;
        let mut k = factors[factor::WATER] + self.magnesium() * factors[factor::MGOH];
        if with_carbon {
            let ratio = factors[factor::CARBON_DIOXIDE] / factors[factor::HYDROGENCARBONATE];
            if e < 0.0 {
                let linear = self.carbon + k * ratio + e;
                let root = (linear * linear - 4.0 * e * ratio * k).sqrt();
                // The form of the root that does not cancel.
                return if linear > 0.0 { (linear + root) / (-2.0 * e * ratio) } else { 2.0 * k / (root - linear) };
            }
            k += self.carbon / ratio;
        }
        let root = (e * e + 4.0 * k).sqrt();
        if e >= 0.0 { 0.5 * (e + root) } else { 2.0 * k / (root - e) }
    }
}

/// Molalities of the forms, mol/kg.
#[derive(Clone, Copy, Debug)]
pub struct Species {
    /// H⁺
    pub hydrogen: f64,
    /// OH⁻
    pub hydroxide: f64,
    /// Mg²⁺
    pub magnesium: f64,
    /// MgOH⁺
    pub mgoh: f64,
    /// CO₂(aq)
    pub carbon_dioxide: f64,
    /// HCO₃⁻
    pub hydrogencarbonate: f64,
    /// CO₃²⁻
    pub carbonate: f64,
    /// MgCO₃(aq)
    pub mgco3: f64,
    /// MgHCO₃⁺
    pub mghco3: f64,
}

/// A solved speciation.
#[derive(Clone, Copy, Debug)]
pub struct Speciation {
    /// Ionic strength I = ½ Σ m z², mol/kg.
    pub ionic_strength: f64,
    /// Activity of H⁺; pH = -log₁₀ of it.
    pub hydrogen_activity: f64,
    /// Activity coefficient of H⁺.
    pub hydrogen_gamma: f64,
    /// Saturation ratio Ω of brucite, ion activity product over solubility product.
    pub saturation_ratio: f64,
    /// Activity of CO₂(aq).
    pub carbon_dioxide_activity: f64,
    /// Change of OH⁻ and MgOH⁺ with E at fixed totals, dimensionless, -1 to 0.
    pub hydroxide_by_excess: f64,
    /// Molalities of the forms.
    pub species: Species,
}

impl Speciation {
    /// pH = -log₁₀ a(H⁺).
    pub fn ph(&self) -> f64 {
        -libm::log10(self.hydrogen_activity)
    }
}

/// Speciates a composition at one temperature. `with_carbon` false leaves the carbonate
/// species out altogether (they cost half of the time).
pub fn speciate(composition: &Composition, thermal: &Thermal, with_carbon: bool) -> Speciation {
    let mut root = Root::NONE;
    search(composition, thermal, with_carbon, None, Accuracy::FULL, &mut root);
    root.polish(composition, with_carbon);
    let Root { balance, .. } = &root;
    let (magnesium, carbonate) = (balance.magnesium, balance.carbonate);
    Speciation {
        ionic_strength: root.ionic_strength,
        hydrogen_activity: root.hydrogen_activity(),
        hydrogen_gamma: root.hydrogen_gamma(),
        saturation_ratio: root.saturation_ratio(),
        carbon_dioxide_activity: root.carbon_dioxide_activity(),
        hydroxide_by_excess: balance.hydroxide_by_excess(),
        species: Species {
            hydrogen: balance.hydrogen,
            hydroxide: balance.hydroxide,
            magnesium,
            mgoh: balance.mgoh_ratio * magnesium,
            carbon_dioxide: balance.carbon_dioxide(),
            hydrogencarbonate: balance.first * carbonate,
            carbonate,
            mgco3: balance.pair * magnesium * carbonate,
            mghco3: balance.pair_h * magnesium * carbonate,
        },
    }
}
