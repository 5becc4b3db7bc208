//! What is poured: hydrochloric acid and sodium hydroxide solution.

use super::beaker::Inflow;
use crate::constants::{HYDROGEN_CHLORIDE_G_MOL, SODIUM_HYDROXIDE_G_MOL};

/// What a pour consists of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reagent {
    /// Hydrochloric acid, HCl(aq).
    Acid,
    /// Sodium hydroxide solution, NaOH(aq).
    Base,
}

impl Reagent {
    /// The name at the edge: acid or base.
    pub fn key(self) -> &'static str {
        match self {
            Self::Acid => "acid",
            Self::Base => "base",
        }
    }

    /// Density of the solution at 20 °C, g/mL, for 0 to 6 mol/L: a fit within 0.001 (acid)
    /// and 0.003 (base) of handbook values (those from memory).
    pub fn density_g_ml(self, concentration_mol_l: f64) -> f64 {
        let c = concentration_mol_l;
        match self {
            Self::Acid => 0.9982 + 0.0172 * c - 0.00013 * c * c,
            Self::Base => 0.9982 + 0.0415 * c - 0.0009 * c * c,
        }
    }

    /// Water in a millilitre of the solution, kg.
    pub fn water_kg_ml(self, concentration_mol_l: f64) -> f64 {
        (self.density_g_ml(concentration_mol_l) - concentration_mol_l * self.molar_mass_g_mol() * 1e-3) * 1e-3
    }

    /// Content of the solution, per cent by mass: 100 c M / (1000 ρ). Beyond 6 mol/L the density
    /// is extrapolated (37 % acid comes out as 37.2 %).
    pub fn mass_percent(self, concentration_mol_l: f64) -> f64 {
        concentration_mol_l * self.molar_mass_g_mol() / (10.0 * self.density_g_ml(concentration_mol_l))
    }

    fn molar_mass_g_mol(self) -> f64 {
        match self {
            Self::Acid => HYDROGEN_CHLORIDE_G_MOL,
            Self::Base => SODIUM_HYDROXIDE_G_MOL,
        }
    }
}

/// One pour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pour {
    /// What is poured.
    pub reagent: Reagent,
    /// How much, mL.
    pub volume_ml: f64,
    /// How strong, mol/L.
    pub concentration_mol_l: f64,
    /// How long it takes, s, > 0.
    pub duration_s: f64,
    /// Its temperature, K.
    pub temperature_k: f64,
}

impl Pour {
    /// Amount of acid or base in it, mol.
    pub fn amount_mol(&self) -> f64 {
        self.volume_ml * 1e-3 * self.concentration_mol_l
    }

    /// What it brings each second while it lasts.
    pub fn inflow(&self) -> Inflow {
        let amount_mol_s = self.amount_mol() / self.duration_s;
        let (chloride_mol_s, sodium_mol_s) = match self.reagent {
            Reagent::Acid => (amount_mol_s, 0.0),
            Reagent::Base => (0.0, amount_mol_s),
        };
        Inflow {
            chloride_mol_s,
            sodium_mol_s,
            water_kg_s: self.volume_ml * self.reagent.water_kg_ml(self.concentration_mol_l) / self.duration_s,
            temperature_k: self.temperature_k,
        }
    }
}
