//! Activity coefficients, Truesdell & Jones 1974 (*J. Res. U.S. Geol. Surv.* 2, 233) with
//! the ion sizes of phreeqc.dat, so that results can be compared with PHREEQC to 1e-5.
//!
//! log₁₀ γ = -A z² √I / (1 + B å √I) + b I, here as natural logarithms. Trusted to
//! I ≈ 0.4 mol/kg. Davies' form differs by up to 0.03 pH at I = 0.2.

use super::thermal::Thermal;
use crate::constants::LN_10;
use crate::numerics::Number;

/// Sizes å of the ions, Å (phreeqc.dat).
pub mod size_angstrom {
    /// H⁺
    pub const HYDROGEN: f64 = 9.0;
    /// OH⁻
    pub const HYDROXIDE: f64 = 3.5;
    /// Mg²⁺
    pub const MAGNESIUM: f64 = 5.5;
    /// MgOH⁺
    pub const MGOH: f64 = 6.5;
    /// HCO₃⁻ and CO₃²⁻
    pub const CARBONATE: f64 = 5.4;
    /// MgHCO₃⁺
    pub const MGHCO3: f64 = 4.0;
}

/// Linear coefficients b, kg/mol (phreeqc.dat), those that are not zero.
pub mod linear_kg_mol {
    /// Mg²⁺
    pub const MAGNESIUM: f64 = 0.20;
    /// CO₂(aq)
    pub const CARBON_DIOXIDE: f64 = 0.066;
    /// MgCO₃(aq), a neutral pair
    pub const MGCO3: f64 = 0.1;
}

/// ln γ of a singly charged ion without its linear term; a doubly charged one has four
/// times this. Ionic strength in mol/kg, given by its square root.
#[inline]
pub fn ln_single<N: Number>(thermal: &Thermal<N>, root_ionic_strength: N, size_angstrom: f64) -> N {
    -(thermal.debye_a * root_ionic_strength) / (thermal.debye_b * root_ionic_strength * size_angstrom + 1.0)
}

/// The linear term of ln γ: b I ln 10.
#[inline]
pub fn ln_linear<N: Number>(ionic_strength: N, linear_kg_mol: f64) -> N {
    ionic_strength * (linear_kg_mol * LN_10)
}

/// Activity of water (Garrels & Christ 1965, as in PHREEQC): 1 - 0.017 Σm.
#[inline]
pub fn water_activity<N: Number>(total_molality: N) -> N {
    -(total_molality * 0.017) + 1.0
}
