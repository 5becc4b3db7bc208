//! Conditional constants: equilibrium constants at one temperature and ionic strength with
//! the activity coefficients folded in, so that they join molalities.

use super::activity::{ion, linear_kg_mol, ln_single, ln_single_by_kelvin, ln_single_by_strength};
use super::thermal::Thermal;
use crate::constants::LN_10;

/// Places of the factors in the arrays below.
pub mod factor {
    /// [H][OH]
    pub const WATER: usize = 0;
    /// [MgOH][H] / [Mg]
    pub const MGOH: usize = 1;
    /// γ(H⁺)
    pub const HYDROGEN_GAMMA: usize = 2;
    /// Ω a(H⁺)² / [Mg]
    pub const BRUCITE: usize = 3;
    /// How many are needed where there is no carbon.
    pub const WITHOUT_CARBON: usize = 4;
    /// [HCO3] / ([H][CO3])
    pub const HYDROGENCARBONATE: usize = 4;
    /// [CO2] / ([H]² [CO3])
    pub const CARBON_DIOXIDE: usize = 5;
    /// [MgCO3] / ([Mg][CO3])
    pub const MGCO3: usize = 6;
    /// [MgHCO3] / ([Mg][H][CO3])
    pub const MGHCO3: usize = 7;
    /// γ(CO₂)
    pub const DIOXIDE_GAMMA: usize = 8;
    /// How many there are in all.
    pub const ALL: usize = 9;
}

/// The factors, their logarithms, or slopes of these.
pub type Factors = [f64; factor::ALL];

/// ln a(H₂O) is in a factor so many times.
pub const WATERS: Factors = [1.0, 1.0, 0.0, 2.0, 0.0, -1.0, 0.0, 0.0, 0.0];

/// The logarithms of the factors are sums of constants that depend on the temperature, of
/// ln γ without its linear term, and of the ionic strength; their slopes are the same sums of
/// slopes.
#[inline]
fn sums(thermal: &Thermal, single: &[f64; ion::ALL], ionic_strength: f64, with_carbon: bool) -> Factors {
    let linear = |coefficient_kg_mol: f64| ionic_strength * (coefficient_kg_mol * LN_10);
    let hydrogen = single[ion::HYDROGEN];
    let magnesium = 4.0 * single[ion::MAGNESIUM] + linear(linear_kg_mol::MAGNESIUM);
    let mut ln = [0.0; factor::ALL];
    ln[factor::WATER] = thermal.ln_water - hydrogen - single[ion::HYDROXIDE];
    ln[factor::MGOH] = thermal.ln_mgoh + magnesium - hydrogen - single[ion::MGOH];
    ln[factor::HYDROGEN_GAMMA] = hydrogen;
    ln[factor::BRUCITE] = magnesium - thermal.ln_brucite;
    if with_carbon {
        let carbonate = 4.0 * single[ion::CARBONATE];
        let dioxide = linear(linear_kg_mol::CARBON_DIOXIDE);
        let pairing = magnesium + carbonate;
        ln[factor::HYDROGENCARBONATE] = thermal.ln_hydrogencarbonate + hydrogen + carbonate - single[ion::CARBONATE];
        ln[factor::CARBON_DIOXIDE] = thermal.ln_carbon_dioxide + 2.0 * hydrogen + carbonate - dioxide;
        ln[factor::MGCO3] = thermal.ln_mgco3 + pairing - linear(linear_kg_mol::MGCO3);
        ln[factor::MGHCO3] = thermal.ln_mghco3 + pairing + hydrogen - single[ion::MGHCO3];
        ln[factor::DIOXIDE_GAMMA] = dioxide;
    }
    ln
}

/// Natural logarithms of the factors, without the activity of water.
#[inline]
pub fn ln_factors(ionic_strength: f64, thermal: &Thermal, with_carbon: bool) -> Factors {
    sums(thermal, &ln_single(thermal, ionic_strength), ionic_strength, with_carbon)
}

/// Slopes of [`ln_factors`] along the ionic strength, kg/mol.
pub fn ln_factors_by_strength(ionic_strength: f64, thermal: &Thermal, with_carbon: bool) -> Factors {
    sums(&Thermal::ZERO, &ln_single_by_strength(thermal, ionic_strength), 1.0, with_carbon)
}

/// Slopes of [`ln_factors`] along the temperature, 1/K.
pub fn ln_factors_by_kelvin(
    ionic_strength: f64,
    thermal: &Thermal,
    thermal_slopes: &Thermal,
    with_carbon: bool,
) -> Factors {
    sums(thermal_slopes, &ln_single_by_kelvin(thermal, thermal_slopes, ionic_strength), 0.0, with_carbon)
}

/// The factors from their logarithms.
pub fn exponentials(ln: &Factors, with_carbon: bool) -> Factors {
    let mut factors = [1.0; factor::ALL];
    for i in 0..if with_carbon { factor::ALL } else { factor::WITHOUT_CARBON } {
        factors[i] = libm::exp(ln[i]);
    }
    factors
}

/// Logarithms that move by less than this need no new exponential: the series to seventh
/// order errs by less than 10⁻¹².
const SMALL_MOVE: f64 = 0.12;
/// By less than this, the fourth order is as good.
const SMALLER_MOVE: f64 = 7e-3;
/// Those series: 1/7!, 1/6! ... 1/2!.
const SERIES: [f64; 6] = [1.0 / 5040.0, 1.0 / 720.0, 1.0 / 120.0, 1.0 / 24.0, 1.0 / 6.0, 1.0 / 2.0];
const SHORTER_SERIES: [f64; 3] = [1.0 / 24.0, 1.0 / 6.0, 1.0 / 2.0];

/// Brings factors from their logarithms to new ones: a tenth of the time of new
/// exponentials while the move is small.
#[inline]
pub fn bring(factors: &mut Factors, ln: &mut Factors, to: &Factors, with_carbon: bool) {
    let mut moves = [0.0; factor::ALL];
    let mut squares = 0.0;
    for i in 0..factor::ALL {
        moves[i] = to[i] - ln[i];
        squares += moves[i] * moves[i];
        ln[i] = to[i];
    }
    // No move is larger than all of them together.
    if !(squares < SMALL_MOVE * SMALL_MOVE) {
        *factors = exponentials(to, with_carbon);
    } else if squares < SMALLER_MOVE * SMALLER_MOVE {
        by_series(factors, &moves, &SHORTER_SERIES);
    } else {
        by_series(factors, &moves, &SERIES);
    }
}

/// Factors moved by these logarithms. The length of the series is known to the compiler, which
/// then writes out its loop.
#[inline]
fn by_series<const TERMS: usize>(factors: &mut Factors, moves: &Factors, series: &[f64; TERMS]) {
    for (factor, d) in factors.iter_mut().zip(moves) {
        let mut sum = 0.0;
        for coefficient in series {
            sum = (sum + coefficient) * d;
        }
        *factor *= 1.0 + d * (1.0 + sum);
    }
}

/// The factors with the activity of water taken in.
#[inline]
pub fn with_water(bare: &Factors, water_activity: f64) -> Factors {
    let mut factors = *bare;
    factors[factor::WATER] *= water_activity;
    factors[factor::MGOH] *= water_activity;
    factors[factor::BRUCITE] *= water_activity * water_activity;
    factors[factor::CARBON_DIOXIDE] /= water_activity;
    factors
}
