//! Activity coefficients, Truesdell & Jones 1974 (*J. Res. U.S. Geol. Surv.* 2, 233) with
//! the ion sizes of phreeqc.dat, so that results can be compared with PHREEQC to 1e-5.
//!
//! log₁₀ γ = -A z² √I / (1 + B å √I) + b I, here as natural logarithms. Trusted to
//! I ≈ 0.4 mol/kg. Davies' form differs by up to 0.03 pH at I = 0.2.

use super::thermal::Thermal;

/// Places of the ions in the arrays below.
pub mod ion {
    /// H⁺
    pub const HYDROGEN: usize = 0;
    /// OH⁻
    pub const HYDROXIDE: usize = 1;
    /// Mg²⁺
    pub const MAGNESIUM: usize = 2;
    /// MgOH⁺
    pub const MGOH: usize = 3;
    /// HCO₃⁻ and CO₃²⁻
    pub const CARBONATE: usize = 4;
    /// MgHCO₃⁺
    pub const MGHCO3: usize = 5;
    /// How many there are.
    pub const ALL: usize = 6;
}

/// Sizes å of the ions, Å (phreeqc.dat).
const SIZES_ANGSTROM: [f64; ion::ALL] = [9.0, 3.5, 5.5, 6.5, 5.4, 4.0];

/// Linear coefficients b, kg/mol (phreeqc.dat), those that are not zero.
pub mod linear_kg_mol {
    /// Mg²⁺
    pub const MAGNESIUM: f64 = 0.20;
    /// CO₂(aq)
    pub const CARBON_DIOXIDE: f64 = 0.066;
    /// MgCO₃(aq), a neutral pair
    pub const MGCO3: f64 = 0.1;
}

/// ln γ of each ion without its linear term and as if it bore one charge; a doubly charged
/// one has four times this. Ionic strength in mol/kg.
#[inline]
pub fn ln_single(thermal: &Thermal, ionic_strength: f64) -> [f64; ion::ALL] {
    let root = ionic_strength.sqrt();
    let (above, below) = (-(thermal.debye_a * root), thermal.debye_b * root);
    SIZES_ANGSTROM.map(|size| above / (1.0 + below * size))
}

/// Slopes of [`ln_single`] along the ionic strength, kg/mol.
pub fn ln_single_by_strength(thermal: &Thermal, ionic_strength: f64) -> [f64; ion::ALL] {
    let root = ionic_strength.sqrt();
    SIZES_ANGSTROM.map(|size| {
        let inverse = 1.0 / (1.0 + thermal.debye_b * root * size);
        -0.5 * thermal.debye_a * inverse * inverse / root
    })
}

/// Slopes of [`ln_single`] along the temperature, 1/K.
pub fn ln_single_by_kelvin(thermal: &Thermal, slopes: &Thermal, ionic_strength: f64) -> [f64; ion::ALL] {
    let root = ionic_strength.sqrt();
    SIZES_ANGSTROM.map(|size| {
        let inverse = 1.0 / (1.0 + thermal.debye_b * root * size);
        let ln = -(thermal.debye_a * root) * inverse;
        -root * inverse * (slopes.debye_a + ln * slopes.debye_b * size)
    })
}

/// Activity of water (Garrels & Christ 1965, as in PHREEQC): 1 - 0.017 Σm.
#[inline]
pub fn water_activity(total_molality: f64) -> f64 {
    1.0 - WATER_ACTIVITY_KG_MOL * total_molality
}

/// By how much a mole per kilogram lowers the activity of water, kg/mol.
pub const WATER_ACTIVITY_KG_MOL: f64 = 0.017;
