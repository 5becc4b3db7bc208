//! Everything in the model that depends on the temperature alone, as formulas, and as a
//! table for the inner loop.
//!
//! The right-hand side of a beaker needs fourteen such numbers at every evaluation. Their
//! formulas cost twenty exponentials; the table costs none: cubic Hermite pieces every
//! 0.5 K reproduce each number to a few parts in 10⁹ (tested below).

use std::sync::OnceLock;

use super::water::{debye_hueckel, density_kg_m3, pkw, viscosity_pa_s};
use crate::constants::Standing::{Computed, Published};
use crate::constants::{BRUCITE_ENTHALPY_J_MOL, GAS_CONSTANT, LN_10, Quoted, REFERENCE_K};
use crate::numerics::at_least;

/// log₁₀ K of Mg(OH)₂(s) + 2 H⁺ = Mg²⁺ + 2 H₂O at 25 °C (minteq.v4.dat, wateq4f.dat).
const LOG_K_BRUCITE: f64 = 16.84;
/// log₁₀ K of Mg²⁺ + H₂O = MgOH⁺ + H⁺ at 25 °C (phreeqc.dat, wateq4f.dat).
const LOG_K_MGOH: f64 = -11.44;
/// Its enthalpy, J/mol (15.952 kcal/mol, phreeqc.dat).
const MGOH_ENTHALPY_J_MOL: f64 = 15.952e3 * 4.184;
/// Acid and neutral branch of the dissolution of brucite at 25 °C: log₁₀ of the rate
/// constant (mol m⁻² s⁻¹) and activation energy (J/mol). Palandri & Kharaka 2004, USGS
/// Open-File Report 2004-1068, table 32.
const LOG_K_ACID: f64 = -4.73;
const ACID_ACTIVATION_J_MOL: f64 = 59.0e3;
const LOG_K_NEUTRAL: f64 = -8.24;
const NEUTRAL_ACTIVATION_J_MOL: f64 = 42.0e3;
/// Diffusion coefficient of H⁺ at 25 °C, m²/s (phreeqc.dat, 9.31e-9).
const PROTON_DIFFUSION_M2_S: f64 = 9.311e-9;

/// The numbers that depend on the temperature alone.
#[derive(Clone, Copy, Debug)]
pub struct Thermal {
    /// Debye-Hückel slope A times ln 10, so that it gives natural logarithms.
    pub debye_a: f64,
    /// Debye-Hückel slope B, per Å.
    pub debye_b: f64,
    /// ln Kw, water's ionisation product.
    pub ln_water: f64,
    /// ln K of brucite with acid.
    pub ln_brucite: f64,
    /// ln K of MgOH⁺.
    pub ln_mgoh: f64,
    /// Rate constant of the acid branch, mol m⁻² s⁻¹.
    pub acid_rate: f64,
    /// Rate constant of the neutral branch, mol m⁻² s⁻¹.
    pub neutral_rate: f64,
    /// Diffusion coefficient of H⁺ times the density of water, kg m⁻¹ s⁻¹.
    pub proton_diffusion: f64,
    /// ln K of CO₃²⁻ + H⁺ = HCO₃⁻.
    pub ln_hydrogencarbonate: f64,
    /// ln K of CO₃²⁻ + 2 H⁺ = CO₂ + H₂O.
    pub ln_carbon_dioxide: f64,
    /// ln K of Mg²⁺ + CO₃²⁻ = MgCO₃(aq).
    pub ln_mgco3: f64,
    /// ln K of Mg²⁺ + H⁺ + CO₃²⁻ = MgHCO₃⁺.
    pub ln_mghco3: f64,
    /// Henry constant of CO₂, activity per atm.
    pub henry: f64,
    /// Density of water, kg/m³.
    pub density: f64,
    /// Viscosity of water, Pa s.
    pub viscosity: f64,
}

const COUNT: usize = 15;

/// ln of an equilibrium constant moved from 25 °C by van 't Hoff's law.
fn van_t_hoff(log10_at_reference: f64, enthalpy_j_mol: f64, temperature_k: f64) -> f64 {
    log10_at_reference * LN_10 - enthalpy_j_mol / GAS_CONSTANT * (1.0 / temperature_k - 1.0 / REFERENCE_K)
}

/// A rate constant moved from 25 °C by Arrhenius' law.
fn arrhenius(log10_at_reference: f64, activation_j_mol: f64, temperature_k: f64) -> f64 {
    libm::exp(van_t_hoff(log10_at_reference, activation_j_mol, temperature_k))
}

/// PHREEQC's analytic form, a + b T + c/T + d log₁₀ T + e/T², as a natural logarithm.
fn analytic(temperature_k: f64, [a, b, c, d, e]: [f64; 5]) -> f64 {
    let t = temperature_k;
    LN_10 * (a + b * t + c / t + d * libm::log10(t) + e / (t * t))
}

impl Thermal {
    /// All numbers from their formulas. Carbonate: phreeqc.dat, after Plummer & Busenberg
    /// 1982, *Geochim. Cosmochim. Acta* 46, 1011. Temperature in K, trusted 0 to 60 °C.
    pub fn of(temperature_k: f64) -> Self {
        let t = temperature_k;
        let (a, b) = debye_hueckel(t);
        let density = density_kg_m3(t);
        let viscosity = viscosity_pa_s(t);
        let diffusion = PROTON_DIFFUSION_M2_S * (t / REFERENCE_K) * (viscosity_pa_s(REFERENCE_K) / viscosity);
        let henry = 10.5624 - 2.3547e-2 * t - 3972.8 / t + 5.8746e5 / (t * t) + 1.9194e-5 * t * t;
        Self {
            debye_a: a * LN_10,
            debye_b: b,
            ln_water: -pkw(t) * LN_10,
            ln_brucite: van_t_hoff(LOG_K_BRUCITE, BRUCITE_ENTHALPY_J_MOL, t),
            ln_mgoh: van_t_hoff(LOG_K_MGOH, MGOH_ENTHALPY_J_MOL, t),
            acid_rate: arrhenius(LOG_K_ACID, ACID_ACTIVATION_J_MOL, t),
            neutral_rate: arrhenius(LOG_K_NEUTRAL, NEUTRAL_ACTIVATION_J_MOL, t),
            proton_diffusion: diffusion * density,
            ln_hydrogencarbonate: analytic(t, [107.8871, 0.03252849, -5151.79, -38.92561, 563713.9]),
            ln_carbon_dioxide: analytic(t, [464.1965, 0.09344813, -26986.16, -165.75951, 2248628.9]),
            ln_mgco3: LN_10 * (0.991 + 0.00667 * t),
            ln_mghco3: analytic(t, [48.6721, 0.03252849, -2614.335, -18.00263, 563713.9]),
            henry: libm::exp(LN_10 * henry),
            density,
            viscosity,
        }
    }
}

/// The numbers as a row and back, from one list: there and back in one order.
macro_rules! row {
    ($($number:ident),* $(,)?) => {
        impl Thermal {
            fn to_row(self) -> [f64; COUNT] {
                [$(self.$number),*]
            }

            const fn from_row([$($number),*]: [f64; COUNT]) -> Self {
                Self { $($number),* }
            }
        }
    };
}

row! {
    debye_a,
    debye_b,
    ln_water,
    ln_brucite,
    ln_mgoh,
    acid_rate,
    neutral_rate,
    proton_diffusion,
    ln_hydrogencarbonate,
    ln_carbon_dioxide,
    ln_mgco3,
    ln_mghco3,
    henry,
    density,
    viscosity,
}

/// The table covers -5 to 75 °C; a beaker's temperature is held within it at the edge.
const FIRST_K: f64 = 268.15;
const SPACING_K: f64 = 0.5;
const PIECES: usize = 160;
/// Step of the central differences that give the slopes at the nodes.
const SLOPE_STEP_K: f64 = 1e-2;

/// Coefficients of the cubic between a node and the next, in powers of the share u of the
/// way; each a row of all numbers, so that a processor works on several at once.
type Piece = [[f64; COUNT]; 4];

fn table() -> &'static [Piece] {
    static TABLE: OnceLock<Vec<Piece>> = OnceLock::new();
    TABLE.get_or_init(|| {
        let node = |i: usize| {
            let at = FIRST_K + SPACING_K * i as f64;
            let (above, below) = (Thermal::of(at + SLOPE_STEP_K).to_row(), Thermal::of(at - SLOPE_STEP_K).to_row());
            let rises = core::array::from_fn(|i| (above[i] - below[i]) / (2.0 * SLOPE_STEP_K) * SPACING_K);
            (Thermal::of(at).to_row(), rises)
        };
        let mut pieces = Vec::with_capacity(PIECES);
        let mut start: ([f64; COUNT], [f64; COUNT]) = node(0);
        for i in 0..PIECES {
            let end = node(i + 1);
            let mut piece = [start.0, start.1, [0.0; COUNT], [0.0; COUNT]];
            for k in 0..COUNT {
                // Hermite's conditions: values and slopes at both ends.
                let climb = end.0[k] - start.0[k];
                piece[2][k] = 3.0 * climb - 2.0 * start.1[k] - end.1[k];
                piece[3][k] = start.1[k] + end.1[k] - 2.0 * climb;
            }
            pieces.push(piece);
            start = end;
        }
        pieces
    })
}

impl Thermal {
    /// No number at all: what does not move with something has these slopes along it.
    pub const ZERO: Self = Self::from_row([0.0; COUNT]);

    /// The table's piece for a temperature (K), and the share of the way through it.
    fn place(temperature_k: f64) -> (&'static Piece, f64) {
        let table = table();
        let place = (temperature_k - FIRST_K) / SPACING_K;
        let piece = (at_least(place, 0.0) as usize).min(PIECES - 1);
        (&table[piece], place - piece as f64)
    }

    /// All numbers from the table. Temperature in K.
    pub fn interpolated(temperature_k: f64) -> Self {
        let ([c0, c1, c2, c3], u) = Self::place(temperature_k);
        Self::from_row(core::array::from_fn(|i| c0[i] + u * (c1[i] + u * (c2[i] + u * c3[i]))))
    }

    /// All numbers from the table, and their slopes along the temperature, 1/K.
    pub fn with_slopes(temperature_k: f64) -> (Self, Self) {
        let ([_, c1, c2, c3], u) = Self::place(temperature_k);
        let slopes = core::array::from_fn(|i| (c1[i] + u * (2.0 * c2[i] + u * 3.0 * c3[i])) / SPACING_K);
        (Self::interpolated(temperature_k), Self::from_row(slopes))
    }

    /// These numbers with both activation energies so many times the published ones, about 25 °C.
    pub(super) fn with_energy(mut self, factor: f64) -> Self {
        // A rate constant that holds as published keeps its bits.
        if factor != 1.0 {
            let bend = |rate: f64, log10_at_reference: f64| {
                rate * libm::exp((libm::log(rate) - log10_at_reference * LN_10) * (factor - 1.0))
            };
            self.acid_rate = bend(self.acid_rate, LOG_K_ACID);
            self.neutral_rate = bend(self.neutral_rate, LOG_K_NEUTRAL);
        }
        self
    }

    /// These slopes along the temperature, of the numbers given, for [`Self::with_energy`].
    pub(super) fn with_energy_along(mut self, plain: &Self, factor: f64) -> Self {
        let bent = plain.with_energy(factor);
        self.acid_rate *= factor * bent.acid_rate / plain.acid_rate;
        self.neutral_rate *= factor * bent.neutral_rate / plain.neutral_rate;
        self
    }
}

/// The numbers of this file at 25 °C, as they are told.
pub(super) fn quoted() -> [Quoted; 14] {
    let at_25 = Thermal::of(REFERENCE_K);
    let decadic = |ln: f64| ln / LN_10;
    [
        Quoted::new("logKBrucite", LOG_K_BRUCITE, "", Published, "minteq.v4.dat, wateq4f.dat (PHREEQC 3)"),
        Quoted::new(
            "heatBrucite",
            BRUCITE_ENTHALPY_J_MOL,
            "J/mol",
            Published,
            "minteq.v4.dat, wateq4f.dat (PHREEQC 3)",
        ),
        Quoted::new("logKMgoh", LOG_K_MGOH, "", Published, "phreeqc.dat (PHREEQC 3); McGee & Hostetler 1977"),
        Quoted::new("heatMgoh", MGOH_ENTHALPY_J_MOL, "J/mol", Published, "phreeqc.dat (PHREEQC 3)"),
        Quoted::new("pkw", -decadic(at_25.ln_water), "", Computed, "IAPWS R11-07(2019); Bandura & Lvov 2006"),
        Quoted::new(
            "debyeA",
            decadic(at_25.debye_a),
            "kg½/mol½",
            Computed,
            "Bradley & Pitzer 1979; Truesdell & Jones 1974",
        ),
        Quoted::new("logKAcid", LOG_K_ACID, "mol/(m² s)", Published, PALANDRI_KHARAKA),
        Quoted::new("heatAcid", ACID_ACTIVATION_J_MOL, "J/mol", Published, PALANDRI_KHARAKA),
        Quoted::new("logKNeutral", LOG_K_NEUTRAL, "mol/(m² s)", Published, PALANDRI_KHARAKA),
        Quoted::new("heatNeutralBranch", NEUTRAL_ACTIVATION_J_MOL, "J/mol", Published, PALANDRI_KHARAKA),
        Quoted::new("diffusionProton", PROTON_DIFFUSION_M2_S, "m²/s", Published, "phreeqc.dat (PHREEQC 3)"),
        Quoted::new("logKCarbonDioxide", decadic(at_25.ln_carbon_dioxide), "", Computed, PLUMMER_BUSENBERG),
        Quoted::new("logKHydrogencarbonate", decadic(at_25.ln_hydrogencarbonate), "", Computed, PLUMMER_BUSENBERG),
        Quoted::new("henry", at_25.henry, "mol/(kg atm)", Computed, "phreeqc.dat (PHREEQC 3)"),
    ]
}

const PALANDRI_KHARAKA: &str = "Palandri & Kharaka 2004, USGS OFR 2004-1068, table 32";
const PLUMMER_BUSENBERG: &str = "Plummer & Busenberg 1982, phreeqc.dat (PHREEQC 3)";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_equals_the_formulas() {
        let mut worst = 0.0f64;
        for i in 0..2000 {
            let temperature = 272.0 + 0.0317 * f64::from(i);
            let exact = Thermal::of(temperature).to_row();
            let read = Thermal::interpolated(temperature).to_row();
            for (exact, read) in exact.iter().zip(&read) {
                worst = worst.max(((read - exact) / exact).abs());
            }
        }
        // The readout shows 0.01 pH, the checks ask 1e-6: an error of 1e-8 in a rate
        // constant or in ln K is far below both.
        assert!(worst < 1e-8, "{worst}");
    }

    #[test]
    fn a_bent_rate_constant_is_arrhenius_law_with_the_bent_energy() {
        for (temperature, factor) in [(275.15, 0.7), (294.15, 1.3), (307.15, 0.0), (298.15, 2.0)] {
            let bent = Thermal::interpolated(temperature).with_energy(factor);
            for (rate, log10, energy) in [
                (bent.acid_rate, LOG_K_ACID, ACID_ACTIVATION_J_MOL),
                (bent.neutral_rate, LOG_K_NEUTRAL, NEUTRAL_ACTIVATION_J_MOL),
            ] {
                let wanted = arrhenius(log10, factor * energy, temperature);
                assert!((rate / wanted - 1.0).abs() < 1e-8, "{temperature} K, {factor}: {rate}, not {wanted}");
            }
        }
        let plain = Thermal::interpolated(280.0);
        assert_eq!(plain.with_energy(1.0).acid_rate.to_bits(), plain.acid_rate.to_bits());
    }

    #[test]
    fn a_bent_rate_constants_slope_is_its_differences() {
        for (temperature, factor) in [(275.15, 0.7), (294.15, 1.3), (298.15, 2.0)] {
            let (plain, slopes) = Thermal::with_slopes(temperature);
            let slopes = slopes.with_energy_along(&plain, factor);
            let bent = |by: f64| Thermal::interpolated(temperature + by).with_energy(factor);
            let (above, below) = (bent(1e-3), bent(-1e-3));
            for (slope, rise) in [
                (slopes.acid_rate, above.acid_rate - below.acid_rate),
                (slopes.neutral_rate, above.neutral_rate - below.neutral_rate),
            ] {
                assert!((slope * 2e-3 / rise - 1.0).abs() < 1e-6, "{temperature} K, {factor}: {slope}");
            }
        }
    }

    #[test]
    fn the_slopes_are_the_tables() {
        for i in 0..200 {
            let (temperature, step) = (272.0 + 0.317 * f64::from(i), 1e-3);
            let (_, slopes) = Thermal::with_slopes(temperature);
            let above = Thermal::interpolated(temperature + step).to_row();
            let below = Thermal::interpolated(temperature - step).to_row();
            for (i, slope) in slopes.to_row().into_iter().enumerate() {
                let difference = (above[i] - below[i]) / (2.0 * step);
                // Rounding of the values over the step: 1e-16 / 1e-3.
                assert!((slope - difference).abs() <= 1e-7 * slope.abs() + 1e-11 * above[i].abs(), "{i}: {slope}");
            }
        }
    }
}
