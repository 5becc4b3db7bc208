//! The closed system at rest: how much solid is left and what the pH is then.

use super::speciation::{Composition, Speciation, speciate};
use super::thermal::Thermal;
use crate::constants::WATER_G_MOL;

/// What is put together, mol, and the water it is put into, kg.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Mixture {
    /// Water before anything reacts, kg.
    pub water_kg: f64,
    /// Magnesium hydroxide, mol.
    pub brucite_mol: f64,
    /// Hydrogen chloride, mol.
    pub acid_mol: f64,
    /// Sodium hydroxide, mol.
    pub base_mol: f64,
    /// Magnesium chloride, mol.
    pub magnesium_chloride_mol: f64,
    /// Carbon dioxide, mol.
    pub carbon_dioxide_mol: f64,
}

/// A mixture at rest.
#[derive(Clone, Copy, Debug)]
pub struct Equilibrium {
    /// The liquid.
    pub speciation: Speciation,
    /// Solid left, mol.
    pub brucite_left_mol: f64,
    /// Dissolved magnesium, all forms, mol/kg.
    pub magnesium_molality: f64,
    /// Water, with what the reactions made, kg.
    pub water_kg: f64,
}

/// Passes over the product water; each gains three figures.
const WATER_PASSES: usize = 12;
/// Halvings of the bracket around the dissolved amount: past the last bit of an `f64`.
const HALVINGS: usize = 200;

/// Brings a mixture to rest at a temperature (K): solid dissolves until it is saturated
/// (Ω = 1) or gone; solid forms where Ω > 1 and magnesium is there. The water that
/// neutralisation makes is counted.
pub fn equilibrate(mixture: &Mixture, temperature_k: f64) -> Equilibrium {
    let thermal = Thermal::of(temperature_k);
    let mut water_kg = mixture.water_kg;
    let mut rest = at_rest(mixture, water_kg, &thermal);
    for _ in 0..WATER_PASSES {
        // Hydrogen balance: what went in as HCl, NaOH and Mg(OH)₂ less what is still in ions.
        let species = &rest.speciation.species;
        let in_ions = species.hydrogen + species.hydroxide + species.mgoh + species.hydrogencarbonate + species.mghco3;
        let dissolved = mixture.brucite_mol - rest.brucite_left_mol;
        let hydrogen = mixture.acid_mol + mixture.base_mol + 2.0 * dissolved - in_ions * water_kg;
        let next = mixture.water_kg + 0.5 * hydrogen * WATER_G_MOL * 1e-3;
        let moved = (next - water_kg).abs();
        water_kg = next;
        rest = at_rest(mixture, water_kg, &thermal);
        if moved <= 1e-15 * water_kg {
            break;
        }
    }
    rest
}

/// The saturated suspension before anything is poured: no product water is counted, as the
/// beaker's own starting state counts none.
pub fn saturate(water_kg: f64, brucite_mol: f64, temperature_k: f64) -> Equilibrium {
    let mixture = Mixture { water_kg, brucite_mol, ..Mixture::default() };
    at_rest(&mixture, water_kg, &Thermal::of(temperature_k))
}

/// More than this can never be in solution, mol/kg: three times what the strongest acid takes.
/// Far above it the activity coefficients are no numbers any more.
const MOST_DISSOLVED_MOLALITY: f64 = 20.0;

fn at_rest(mixture: &Mixture, water_kg: f64, thermal: &Thermal) -> Equilibrium {
    let with_carbon = mixture.carbon_dioxide_mol > 0.0;
    let chloride = (mixture.acid_mol + 2.0 * mixture.magnesium_chloride_mol) / water_kg;
    let sodium = mixture.base_mol / water_kg;
    let liquid = |dissolved_mol: f64| {
        let magnesium = (mixture.magnesium_chloride_mol + dissolved_mol) / water_kg;
        let composition = Composition {
            acid_excess: chloride - sodium - 2.0 * magnesium,
            chloride,
            sodium,
            carbon: mixture.carbon_dioxide_mol / water_kg,
        };
        (speciate(&composition, thermal, with_carbon), magnesium)
    };
    let finish = |dissolved_mol: f64| {
        let (speciation, magnesium_molality) = liquid(dissolved_mol);
        Equilibrium { speciation, brucite_left_mol: mixture.brucite_mol - dissolved_mol, magnesium_molality, water_kg }
    };
    let most = mixture.brucite_mol.min(MOST_DISSOLVED_MOLALITY * water_kg);
    let everything = finish(most);
    if everything.speciation.saturation_ratio <= 1.0 {
        return everything;
    }
    let mut low = (-mixture.magnesium_chloride_mol).min(0.0);
    let mut high = most;
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        // Nothing lies between two neighbours.
        if middle <= low || middle >= high {
            break;
        }
        if liquid(middle).0.saturation_ratio > 1.0 {
            high = middle;
        } else {
            low = middle;
        }
    }
    finish(0.5 * (low + high))
}
