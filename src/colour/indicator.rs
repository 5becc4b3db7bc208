//! The four dyes of a universal indicator: how much of each is there, and in which form at a given pH.
//!
//! Method: mass action with the pKa of `data/DyeSteps.csv`, taken at ionic strength near 0.1 mol/L and room temperature.
//! Methyl red's second protonation (pKa about 2.4, also red) is merged with the first. Phenolphthalein's addition of OH⁻
//! is slow in truth and instantaneous here; it changes colours above pH 11 only.

use std::sync::OnceLock;

use crate::constants::LN_10;
use crate::data;

/// Number of dyes: thymol blue, methyl red, bromothymol blue, phenolphthalein, in this order.
pub(super) const DYES: usize = 4;

/// The forms that absorb visible light, as (dye, form) in the tables; the index is the index of [`Fractions`].
pub(super) const FORMS: [(&str, &str); 8] = [
    ("thymol-blue", "H2L"),
    ("thymol-blue", "HL-"),
    ("thymol-blue", "L2-"),
    ("methyl-red", "HMR"),
    ("methyl-red", "MR-"),
    ("bromothymol-blue", "HB-"),
    ("bromothymol-blue", "B2-"),
    ("phenolphthalein", "P2-"),
];

/// Which dye each form of [`FORMS`] belongs to.
pub(super) const DYE_OF_FORM: [usize; 8] = [0, 0, 0, 1, 1, 2, 2, 3];

/// Shares of the absorbing forms in their dye, 0 to 1: thymol blue H₂L, HL⁻, L²⁻; methyl red HMR, MR⁻; bromothymol blue
/// HB⁻, B²⁻; phenolphthalein P²⁻ (its other forms are colourless).
pub type Fractions = [f64; FORMS.len()];

/// How much of each dye the liquid carries, mol/L: thymol blue, methyl red, bromothymol blue, phenolphthalein.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Indicator {
    concentrations_mol_l: [f64; DYES],
}

impl Indicator {
    /// Universal indicator: `indicator_ml` of the stock of `data/DyeStock.csv` in a liquid of `total_ml` in all, mL.
    ///
    /// Amounts that are negative or not numbers, and an empty liquid, count as no indicator.
    pub fn universal(indicator_ml: f64, total_ml: f64) -> Indicator {
        let dilution = indicator_ml / total_ml;
        if !(dilution > 0.0 && dilution.is_finite()) {
            return Indicator::none();
        }
        Indicator { concentrations_mol_l: chemistry().stock_mol_l.map(|concentration| concentration * dilution) }
    }

    /// A liquid without a dye: it stays white or colourless at any pH.
    pub const fn none() -> Indicator {
        Indicator { concentrations_mol_l: [0.0; DYES] }
    }

    /// Concentrations, mol/L, in the order of the type's description.
    pub fn concentrations_mol_l(&self) -> [f64; DYES] {
        self.concentrations_mol_l
    }

    /// Shares of the absorbing forms at a pH. A pH outside -2 to 16, where no form changes any more, counts as the nearer
    /// end; what is not a number counts as 7, so that a picture can always be drawn.
    pub fn fractions(ph: f64) -> Fractions {
        let ph = if ph.is_nan() { 7.0 } else { ph.clamp(-2.0, 16.0) };
        let h = libm::exp(-LN_10 * ph);
        let Chemistry { thymol, methyl_red, bromothymol, phenolphthalein, .. } = chemistry();
        let [k1, k2] = *thymol;
        let d = h * h + k1 * h + k1 * k2;
        let [ka, kb, kc] = *phenolphthalein;
        let p = h * h * h + ka * h * h + ka * kb * h + ka * kb * kc;
        [
            h * h / d,
            k1 * h / d,
            k1 * k2 / d,
            h / (h + methyl_red),
            methyl_red / (h + methyl_red),
            h / (h + bromothymol),
            bromothymol / (h + bromothymol),
            ka * kb * h / p,
        ]
    }
}

/// What the tables say of the dyes, read once.
struct Chemistry {
    stock_mol_l: [f64; DYES],
    thymol: [f64; 2],
    methyl_red: f64,
    bromothymol: f64,
    phenolphthalein: [f64; 3],
}

fn chemistry() -> &'static Chemistry {
    static CHEMISTRY: OnceLock<Chemistry> = OnceLock::new();
    CHEMISTRY.get_or_init(|| {
        let mut stock_mol_l = [0.0; DYES];
        let mut k = [[0.0; 3]; DYES];
        for row in data::dye_stock() {
            stock_mol_l[dye_index(row.dye)] = row.stock_g_l / row.molar_mass_g_mol;
        }
        for row in data::dye_steps() {
            k[dye_index(row.dye)][row.step - 1] = libm::exp(-LN_10 * row.pka);
        }
        Chemistry {
            stock_mol_l,
            thymol: [k[0][0], k[0][1]],
            methyl_red: k[1][0],
            bromothymol: k[2][0],
            phenolphthalein: k[3],
        }
    })
}

fn dye_index(dye: &str) -> usize {
    let form =
        FORMS.iter().position(|(name, _)| *name == dye).expect("a table names a dye that the indicator does not have");
    DYE_OF_FORM[form]
}
