//! The right-hand side of a beaker: how its amounts, water and temperature change.
//!
//! A stirred beaker is described by two well-mixed zones: a plume, where a pour arrives,
//! and the bulk; their differences decay with the mixing time. Once they have died out one
//! zone says the same at half the cost, so the equations are written for `Z` zones. The
//! state holds five amounts a zone and five that all share: `N` = 5 `Z` + 5.

use super::dissolution::{Zone, ZoneRates, zone_rates, zone_rates_along};
use super::parameters::{Parameters, Settling};
use super::speciation::{Anchor, Composition};
use super::thermal::Thermal;
use crate::constants::{
    BRUCITE_ENTHALPY_J_MOL, BRUCITE_KG_M3, CELSIUS_ZERO_K, CRYOSCOPIC_K_KG_MOL, FREE_FALL_M_S2, ICE_FUSION_J_KG,
    MAGNESIUM_HYDROXIDE_G_MOL, NEUTRALISATION_ENTHALPY_J_MOL, WATER_G_MOL, WATER_HEAT_CAPACITY_J_KG_K,
};
use crate::numerics::{Dual, Equations, Number};

/// States of the beaker with plume and bulk.
pub const TWO_ZONES: usize = 15;
/// States of the beaker once it is mixed.
pub const ONE_ZONE: usize = 10;

/// Amounts of one zone, in this order: acid excess, chloride, sodium, suspended solid,
/// inorganic carbon; all in mol.
pub const PER_ZONE: usize = 5;
/// Acid excess E = Cl - Na - 2 Mg, mol.
pub const ACID_EXCESS: usize = 0;
/// Chloride, mol.
pub const CHLORIDE: usize = 1;
/// Sodium, mol.
pub const SODIUM: usize = 2;
/// Suspended solid, mol.
pub const SOLID: usize = 3;
/// Dissolved inorganic carbon, mol.
pub const CARBON: usize = 4;

/// Shared states, counted from 5 `Z`: settled solid (mol), solid ever supplied (mol),
/// water (kg), temperature (K), ice (kg).
pub const SETTLED: usize = 0;
/// Solid ever supplied, the reference of the area law, mol.
pub const SUPPLIED: usize = 1;
/// Water, kg.
pub const WATER: usize = 2;
/// Temperature, K.
pub const TEMPERATURE: usize = 3;
/// Ice in the beaker, kg.
pub const ICE: usize = 4;

/// What a pour brings each second while it lasts.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Inflow {
    /// Chloride, mol/s.
    pub chloride_mol_s: f64,
    /// Sodium, mol/s.
    pub sodium_mol_s: f64,
    /// Water, kg/s.
    pub water_kg_s: f64,
    /// Temperature, K.
    pub temperature_k: f64,
}

/// A beaker's equations between two events, with `Z` zones and `N` = 5 `Z` + 5 states.
#[derive(Clone, Copy, Debug)]
pub struct Beaker<const Z: usize, const N: usize> {
    /// What stays the same between two actions.
    pub parameters: Parameters,
    /// The pour under way, if any.
    pub inflow: Option<Inflow>,
    /// The zones' speciation where the Jacobian was last asked for: the start of a step,
    /// and so the same however the path is sampled.
    anchors: [Option<Anchor>; Z],
}

/// How much of the buffer (mol per unit of ln h) counts towards the size of the acid
/// excess: at a relative tolerance of 3e-6 a step may then move the pH by 1e-4.
const BUFFERED_SIZE: f64 = 100.0;
/// Beyond this buffer the excess is held by its own size: its error shifts the time of the
/// next turn.
const BUFFER_BOUND_MOLALITY: f64 = 2e-6;
/// While a pour lasts, what so many seconds of it bring counts towards the size of the
/// excess: the bulk passes the neutral point within a tenth of a second, unseen, and to
/// follow that closely would cost as much as the whole way back.
const POUR_SIZE_S: f64 = 0.1;
/// Solid below which the share of solid left is not asked for, mol.
const SUPPLIED_FLOOR_MOL: f64 = 1e-12;
/// Rounding of the ice's area law where the last of it melts, share of the reference.
const ICE_ROUNDING: f64 = 1e-6;
/// Hindered settling exponent, Richardson & Zaki 1954 (from memory).
const HINDERED_EXPONENT: f64 = 4.65;

impl<const Z: usize, const N: usize> Beaker<Z, N> {
    /// A beaker's equations.
    pub fn new(parameters: Parameters, inflow: Option<Inflow>) -> Self {
        Self { parameters, inflow, anchors: [None; Z] }
    }

    /// Share of the water in each zone; the last zone is the bulk.
    pub fn shares(&self) -> [f64; Z] {
        let plume = self.parameters.plume_share;
        core::array::from_fn(|z| match (Z, z) {
            (1, _) => 1.0,
            (_, 0) => plume,
            _ => 1.0 - plume,
        })
    }

    /// What a zone holds per kilogram of water, and the share of solid left.
    pub fn zone<M: Number>(&self, y: &[M; N], z: usize) -> Zone<M> {
        let shared = PER_ZONE * Z;
        let water = y[shared + WATER] * self.shares()[z];
        let amount = |i: usize| y[PER_ZONE * z + i] / water;
        let mut solid = y[shared + SETTLED];
        for other in 0..Z {
            solid = solid + y[PER_ZONE * other + SOLID];
        }
        Zone {
            composition: Composition {
                acid_excess: amount(ACID_EXCESS),
                chloride: amount(CHLORIDE),
                sodium: amount(SODIUM),
                carbon: amount(CARBON).at_least(0.0),
            },
            temperature_k: y[shared + TEMPERATURE],
            solid_share: solid.at_least(0.0) / y[shared + SUPPLIED].at_least(SUPPLIED_FLOOR_MOL),
        }
    }

    /// Rates of all states from the rates of the zones.
    fn changes<M: Number>(&self, y: &[M; N], rates: &[ZoneRates<M>; Z]) -> [M; N] {
        let p = &self.parameters;
        let shared = PER_ZONE * Z;
        let bulk = PER_ZONE * (Z - 1);
        let shares = self.shares();
        let (water, temperature) = (y[shared + WATER], y[shared + TEMPERATURE]);
        let zero = M::constant(0.0);
        let mut d = [zero; N];
        // Dissolution, nucleation and gas exchange, zone by zone.
        let mut dissolved = zero;
        for z in 0..Z {
            let base = PER_ZONE * z;
            let dissolving = rates[z].dissolution_per_s * y[base + SOLID].at_least(0.0);
            let new_solid = rates[z].nucleation_mol_kg_s * water * shares[z];
            let net = dissolving - new_solid;
            dissolved = dissolved + net;
            d[base + SOLID] = d[base + SOLID] - net;
            d[base + ACID_EXCESS] = d[base + ACID_EXCESS] - net * 2.0;
            d[shared + SUPPLIED] = d[shared + SUPPLIED] + new_solid;
            if p.with_carbon() {
                let escaping = rates[z].carbon_dioxide_excess_mol_m3 * (p.gas_transfer_m_s * p.surface_m2 * shares[z]);
                d[base + CARBON] =
                    d[base + CARBON] + dissolving.at_least(0.0) * p.bottle.carbonate_mol_per_mol - escaping;
            }
        }
        dissolved = dissolved + self.settled(y, &rates[Z - 1], &mut d);
        if Z == 2 {
            self.mix(y, &mut d);
        }
        let mut hydroxide_in = 0.0;
        let mut pour_heat = zero;
        if let Some(inflow) = &self.inflow {
            d[CHLORIDE] = d[CHLORIDE] + inflow.chloride_mol_s;
            d[SODIUM] = d[SODIUM] + inflow.sodium_mol_s;
            d[ACID_EXCESS] = d[ACID_EXCESS] + (inflow.chloride_mol_s - inflow.sodium_mol_s);
            d[shared + WATER] = d[shared + WATER] + inflow.water_kg_s;
            hydroxide_in = inflow.sodium_mol_s;
            pour_heat = -(temperature - inflow.temperature_k) * (inflow.water_kg_s * WATER_HEAT_CAPACITY_J_KG_K);
            if Z == 2 {
                // What the plume gains in water it passes on, with all that is in it.
                for i in 0..PER_ZONE {
                    let over = y[i] / water * (inflow.water_kg_s * shares[1] / shares[0]);
                    d[i] = d[i] - over;
                    d[bulk + i] = d[bulk + i] + over;
                }
            }
        }
        // H⁺ + OH⁻ made to water: what base came in and is no longer held as OH⁻ or MgOH⁺.
        let mut neutralised = M::constant(hydroxide_in);
        for z in 0..Z {
            neutralised = neutralised - rates[z].hydroxide_by_excess * d[PER_ZONE * z + ACID_EXCESS];
        }
        d[shared + WATER] = d[shared + WATER] + (dissolved * 2.0 + neutralised) * (WATER_G_MOL * 1e-3);
        let reaction_heat = dissolved * -BRUCITE_ENTHALPY_J_MOL + neutralised * -NEUTRALISATION_ENTHALPY_J_MOL;
        let heat = reaction_heat + pour_heat + self.exchanged(temperature) + self.melting(y, &mut d);
        if !p.held {
            d[shared + TEMPERATURE] = heat / (water * WATER_HEAT_CAPACITY_J_KG_K + p.vessel_j_k);
        }
        d
    }

    /// Settling, resuspension, and the slow dissolution of what has settled (into the
    /// bulk). Returns the latter, mol/s.
    fn settled<M: Number>(&self, y: &[M; N], rates: &ZoneRates<M>, d: &mut [M; N]) -> M {
        let p = &self.parameters;
        let shared = PER_ZONE * Z;
        let bulk = PER_ZONE * (Z - 1);
        let lying = y[shared + SETTLED];
        let dissolving = rates.dissolution_per_s * lying.at_least(0.0) * p.settled_reactivity;
        d[shared + SETTLED] = d[shared + SETTLED] - dissolving;
        d[bulk + ACID_EXCESS] = d[bulk + ACID_EXCESS] - dissolving * 2.0;
        d[bulk + CARBON] = d[bulk + CARBON] + dissolving.at_least(0.0) * p.bottle.carbonate_mol_per_mol;
        let mut down = y[bulk + SOLID] * (self.settling_m_s(y) / p.depth_m);
        if let Some(time) = p.resuspension_s {
            down = down - lying / time;
        }
        d[bulk + SOLID] = d[bulk + SOLID] - down;
        d[shared + SETTLED] = d[shared + SETTLED] + down;
        dissolving
    }

    /// Speed at which the flocs sink, m/s.
    fn settling_m_s<M: Number>(&self, y: &[M; N]) -> M {
        let p = &self.parameters;
        let share = match p.settling {
            Settling::Speed(speed) => return M::constant(speed),
            Settling::Stokes(share) => share,
        };
        if share == 0.0 {
            return M::constant(0.0);
        }
        let shared = PER_ZONE * Z;
        let thermal = Thermal::interpolated(y[shared + TEMPERATURE]);
        let lighter = -(thermal.density) + BRUCITE_KG_M3;
        let squared = p.floc_diameter_m * p.floc_diameter_m;
        let alone = lighter / thermal.viscosity * (p.floc_solid_share * FREE_FALL_M_S2 * squared / 18.0 * share);
        let solid_kg = y[PER_ZONE * (Z - 1) + SOLID].at_least(0.0) * (MAGNESIUM_HYDROXIDE_G_MOL * 1e-3);
        let volume_m3 = y[shared + WATER] / thermal.density * self.shares()[Z - 1];
        let crowd = solid_kg / volume_m3 / (BRUCITE_KG_M3 * p.floc_solid_share);
        let room = (-crowd + 1.0).at_least(0.1);
        alone * (room.logarithm() * HINDERED_EXPONENT).exponential()
    }

    /// Exchange between plume and bulk: the differences decay as exp(-t/τ).
    fn mix<M: Number>(&self, y: &[M; N], d: &mut [M; N]) {
        let [plume, bulk] = [self.shares()[0], self.shares()[Z - 1]];
        for i in 0..PER_ZONE {
            let flow = (y[i] * bulk - y[PER_ZONE + i] * plume) / self.parameters.mixing_s;
            d[i] = d[i] - flow;
            d[PER_ZONE + i] = d[PER_ZONE + i] + flow;
        }
    }

    /// Heat from room, bath and hot plate, W.
    fn exchanged<M: Number>(&self, temperature: M) -> M {
        let p = &self.parameters;
        let from = |conductance: f64, outside: f64| -(temperature - outside) * conductance;
        from(p.room_w_k, p.room_k)
            + from(p.bath_w_k, p.bath_k)
            + from(p.plate_gain_w_k, p.plate_set_k).at_least(0.0).at_most(p.plate_max_w)
    }

    /// Melting of ice in the beaker: moves ice to water, returns the heat (≤ 0), W.
    fn melting<M: Number>(&self, y: &[M; N], d: &mut [M; N]) -> M {
        let p = &self.parameters;
        let shared = PER_ZONE * Z;
        if y[shared + ICE].value() <= 0.0 {
            return M::constant(0.0);
        }
        let bulk = PER_ZONE * (Z - 1);
        let bulk_water = y[shared + WATER] * self.shares()[Z - 1];
        let salt = (y[bulk + CHLORIDE] + y[bulk + SODIUM]) / bulk_water;
        let freezing = -(salt * (2.0 * CRYOSCOPIC_K_KG_MOL)) + CELSIUS_ZERO_K;
        let warmer = y[shared + TEMPERATURE] - freezing;
        let left = y[shared + ICE] / p.ice_reference_kg;
        let area = left / (left + ICE_ROUNDING).cube_root();
        let melt = area * warmer * (p.ice_w_k / ICE_FUSION_J_KG);
        d[shared + ICE] = d[shared + ICE] - melt;
        d[shared + WATER] = d[shared + WATER] + melt;
        -(melt * (warmer * WATER_HEAT_CAPACITY_J_KG_K + ICE_FUSION_J_KG))
    }
}

impl<const Z: usize, const N: usize> Equations<N> for Beaker<Z, N> {
    fn rates(&self, y: &[f64; N]) -> [f64; N] {
        let energy_factor = self.parameters.bottle.energy_factor;
        let thermal = Thermal::interpolated(y[PER_ZONE * Z + TEMPERATURE]).with_energy(energy_factor);
        let zones = core::array::from_fn(|z| self.zone(y, z));
        let rates = zone_rates(&zones, &thermal, &self.parameters, &self.anchors);
        self.changes(y, &rates)
    }

    fn rates_and_jacobian(&mut self, y: &[f64; N]) -> ([f64; N], [[f64; N]; N]) {
        let variables: [Dual<N>; N] = core::array::from_fn(|i| Dual::variable(y[i], i));
        let zones = core::array::from_fn(|z| self.zone(&variables, z));
        let (rates, anchors) = zone_rates_along(&zones, &self.parameters);
        self.anchors = anchors.map(Some);
        let changes = self.changes(&variables, &rates);
        (changes.map(Dual::value), changes.map(|change| *change.slopes()))
    }

    /// An error in the plume matters as the same error in the bulk does, by what it adds to
    /// the whole beaker: both are measured against the sum. An error in the acid excess
    /// matters by the pH it moves: where the liquid is buffered, less.
    fn sizes(&self, y: &[f64; N]) -> [f64; N] {
        let mut sizes = y.map(f64::abs);
        if Z == 2 {
            for i in 0..PER_ZONE {
                let both = sizes[i] + sizes[PER_ZONE + i];
                sizes[i] = both;
                sizes[PER_ZONE + i] = both;
            }
        }
        let poured_mol_s = self.inflow.map_or(0.0, |inflow| inflow.chloride_mol_s + inflow.sodium_mol_s);
        let water = y[PER_ZONE * Z + WATER];
        for (z, anchor) in self.anchors.iter().enumerate() {
            let buffer = anchor.as_ref().map_or(0.0, Anchor::buffer_molality).min(BUFFER_BOUND_MOLALITY);
            sizes[PER_ZONE * z + ACID_EXCESS] += BUFFERED_SIZE * water * buffer + POUR_SIZE_S * poured_mol_s;
        }
        sizes
    }
}
