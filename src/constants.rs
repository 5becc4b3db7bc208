//! Physical constants: defined, measured, and properties of substances.
//!
//! Temperature-dependent properties are in `chemistry/water.rs` and
//! `chemistry/thermal.rs`; the numbers that are calibrated rather than measured are in
//! `chemistry/parameters.rs`.

use Standing::{Defined, Published, Remembered};

// --- Defined ---

/// Molar gas constant, J/(mol K). CODATA 2018 (exact since the SI of 2019).
pub const GAS_CONSTANT: f64 = 8.31446261815324;
/// Zero of the Celsius scale, K. BIPM 2019, *The International System of Units*, 9th ed.
pub const CELSIUS_ZERO_K: f64 = 273.15;
/// Reference temperature of the thermodynamic tables, K (25 °C).
pub const REFERENCE_K: f64 = 298.15;
/// Natural logarithm of ten.
pub const LN_10: f64 = core::f64::consts::LN_10;

// --- Molar masses, g/mol (IUPAC standard atomic weights 2021) ---

/// Magnesium hydroxide.
pub const MAGNESIUM_HYDROXIDE_G_MOL: f64 = 58.3197;
/// Water.
pub const WATER_G_MOL: f64 = 18.01528;
/// Hydrogen chloride.
pub const HYDROGEN_CHLORIDE_G_MOL: f64 = 36.461;
/// Sodium hydroxide.
pub const SODIUM_HYDROXIDE_G_MOL: f64 = 39.997;

// --- Measured ---

/// Density of brucite, kg/m³: molar volume 24.63 cm³/mol (phreeqc_rates.dat, PHREEQC 3).
pub const BRUCITE_KG_M3: f64 = 2370.0;
/// Heat capacity of water, J/(kg K), at 20 °C (IAPWS-95); 0 °C to 60 °C within 0.9 %.
pub const WATER_HEAT_CAPACITY_J_KG_K: f64 = 4184.0;
/// Heat of fusion of ice at 0 °C, J/kg (within 0.04 % of IAPWS-06 with IAPWS-95).
pub const ICE_FUSION_J_KG: f64 = 333.55e3;
/// Lowering of the freezing point, K kg/mol of dissolved particles (from memory).
pub const CRYOSCOPIC_K_KG_MOL: f64 = 1.86;
/// Enthalpy of Mg(OH)₂(s) + 2 H⁺ = Mg²⁺ + 2 H₂O, J/mol (minteq.v4.dat, wateq4f.dat).
pub const BRUCITE_ENTHALPY_J_MOL: f64 = -113.996e3;
/// Enthalpy of H⁺ + OH⁻ = H₂O at 25 °C, J/mol (minteq.v4.dat, llnl.dat).
pub const NEUTRALISATION_ENTHALPY_J_MOL: f64 = -55.815e3;
/// Standard acceleration of free fall, m/s² (CGPM 1901).
pub const FREE_FALL_M_S2: f64 = 9.80665;

// --- Told to whoever asks ---

/// How well a number is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Fixed by definition.
    Defined,
    /// Measured or critically compiled, and read in the source that is named.
    Published,
    /// Computed from a published formula at the temperature that its name says.
    Computed,
    /// From memory: no printed copy was at hand.
    Remembered,
    /// Fitted to something that its source names.
    Fitted,
    /// Set by eye or by an engineer's guess, so that a beaker looks and behaves as practice has it.
    Calibrated,
    /// Invented: a plausible amount without a measurement behind it.
    Invented,
    /// As its source says.
    Compiled,
}

impl Standing {
    /// The name at the edge.
    pub fn key(self) -> &'static str {
        match self {
            Standing::Defined => "defined",
            Standing::Published => "published",
            Standing::Computed => "computed",
            Standing::Remembered => "remembered",
            Standing::Fitted => "fitted",
            Standing::Calibrated => "calibrated",
            Standing::Invented => "invented",
            Standing::Compiled => "compiled",
        }
    }
}

/// A number that the model computes with, as it is told: each room lists its own beside their use, so that what is shown is
/// what is used.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quoted {
    /// Its name at the edge; the words are the page's.
    pub key: &'static str,
    /// Its value.
    pub value: f64,
    /// Its unit; empty for a pure number.
    pub unit: &'static str,
    /// How well it is known.
    pub standing: Standing,
    /// Where it comes from: author, year, database; empty where there is nothing to name.
    pub source: &'static str,
}

impl Quoted {
    /// A number with its name, unit, standing and source.
    pub const fn new(
        key: &'static str,
        value: f64,
        unit: &'static str,
        standing: Standing,
        source: &'static str,
    ) -> Quoted {
        Quoted { key, value, unit, standing, source }
    }
}

/// The numbers of this file that the model computes with.
pub const QUOTED: [Quoted; 12] = [
    Quoted::new("gasConstant", GAS_CONSTANT, "J/(mol K)", Defined, "SI 2019; CODATA 2018"),
    Quoted::new("celsiusZero", CELSIUS_ZERO_K, "K", Defined, "BIPM 2019, SI, 9th ed."),
    Quoted::new("freeFall", FREE_FALL_M_S2, "m/s²", Defined, "CGPM 1901"),
    Quoted::new("massSolid", MAGNESIUM_HYDROXIDE_G_MOL, "g/mol", Published, "IUPAC 2021"),
    Quoted::new("massWater", WATER_G_MOL, "g/mol", Published, "IUPAC 2021"),
    Quoted::new("massHcl", HYDROGEN_CHLORIDE_G_MOL, "g/mol", Published, "IUPAC 2021"),
    Quoted::new("massNaoh", SODIUM_HYDROXIDE_G_MOL, "g/mol", Published, "IUPAC 2021"),
    Quoted::new("densitySolid", BRUCITE_KG_M3, "kg/m³", Published, "phreeqc_rates.dat (PHREEQC 3)"),
    Quoted::new("heatCapacity", WATER_HEAT_CAPACITY_J_KG_K, "J/(kg K)", Published, "IAPWS-95, 20 °C"),
    Quoted::new("iceFusion", ICE_FUSION_J_KG, "J/kg", Published, "IAPWS-06 / IAPWS-95, 0.04 %"),
    Quoted::new("cryoscopic", CRYOSCOPIC_K_KG_MOL, "K kg/mol", Remembered, ""),
    Quoted::new(
        "heatNeutral",
        NEUTRALISATION_ENTHALPY_J_MOL,
        "J/mol",
        Published,
        "minteq.v4.dat, llnl.dat (PHREEQC 3)",
    ),
];
