//! What happens in the beaker: water, activities, speciation, the solid, heat, mixing.
//!
//! Knows nothing of lessons, colours or screens. Amounts in mol, water in kg, temperatures
//! in K, times in s; molality in mol per kg of water.

mod activity;
mod anchor;
mod balance;
mod beaker;
mod dissolution;
mod equilibrium;
mod error;
mod factors;
mod jacobian;
mod parameters;
mod reagent;
mod search;
mod setup;
mod slopes;
mod speciation;
mod terms;
mod thermal;
mod water;

use crate::constants::{self, Quoted};

pub use beaker::{Beaker, Inflow, ONE_ZONE, TWO_ZONES};
pub use dissolution::{Zone, ZoneRates};
pub use equilibrium::{Equilibrium, Mixture, equilibrate, saturate};
pub use parameters::{Bottle, Parameters, Settling};
pub use reagent::{Pour, Reagent};
pub use setup::{Action, Bath, Setup, saturated_start};
pub use speciation::{Composition, Speciation, Species, speciate};
pub use terms::PhTerms;
pub use thermal::Thermal;
pub use water::{density_kg_m3, pkw, pkw_at};

/// The numbers that the chemistry computes with, as they are told: constants of nature first, then what differs between
/// bottles, benches and hands.
pub fn quoted() -> Vec<Quoted> {
    constants::QUOTED.into_iter().chain(thermal::quoted()).chain(Parameters::quoted()).collect()
}
