//! The right-hand side of a beaker: how its amounts, water and temperature change.
//!
//! A stirred beaker is described by two well-mixed zones: a plume, where a pour arrives,
//! and the bulk; their differences decay with the mixing time. Once they have died out one
//! zone says the same at half the cost, so the equations are written for `Z` zones. The
//! state holds five amounts a zone and five that all share: `N` = 5 `Z` + 5.

use super::anchor::Anchor;
use super::dissolution::{RateLaw, Zone, ZoneRates};
use super::parameters::{Parameters, Settling};
use super::speciation::Composition;
use super::thermal::Thermal;
use crate::constants::{
    BRUCITE_ENTHALPY_J_MOL, BRUCITE_KG_M3, CELSIUS_ZERO_K, CRYOSCOPIC_K_KG_MOL, FREE_FALL_M_S2, ICE_FUSION_J_KG,
    MAGNESIUM_HYDROXIDE_G_MOL, NEUTRALISATION_ENTHALPY_J_MOL, WATER_G_MOL, WATER_HEAT_CAPACITY_J_KG_K,
};
use crate::numerics::{Equations, Tolerances, at_least, at_most, cube_root};

/// States of the beaker with plume and bulk.
pub const TWO_ZONES: usize = 15;
/// States of the beaker once it is mixed.
pub const ONE_ZONE: usize = 10;
/// Amounts of one zone.
pub const PER_ZONE: usize = 5;

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
///
/// The places of the states follow. A quantity of zone z (of two, 0 is the plume and 1 the
/// bulk) is at the quantity's place plus z. First come those on which few others depend, or
/// which hardly ever change: they are eliminated first ([`Equations::PASSIVE`]).
#[derive(Clone, Copy, Debug)]
pub struct Beaker<const Z: usize, const N: usize> {
    /// What stays the same between two actions.
    pub parameters: Parameters,
    /// The pour under way, if any.
    pub inflow: Option<Inflow>,
    pub(super) law: RateLaw,
    /// The zones' liquids where the Jacobian was last asked for: the start of a step, and so
    /// the same however the path is sampled.
    pub(super) anchors: [Option<Anchor>; Z],
}

impl<const Z: usize, const N: usize> Beaker<Z, N> {
    /// Chloride, mol; per zone.
    pub const CHLORIDE: usize = 0;
    /// Sodium, mol; per zone.
    pub const SODIUM: usize = Z;
    /// Ice in the beaker, kg.
    pub const ICE: usize = 2 * Z;
    /// Settled solid, mol.
    pub const SETTLED: usize = 2 * Z + 1;
    /// Solid ever supplied, the reference of the area law, mol.
    pub const SUPPLIED: usize = 2 * Z + 2;
    /// Acid excess E = Cl - Na - 2 Mg, mol; per zone.
    pub const ACID_EXCESS: usize = 2 * Z + 3;
    /// Suspended solid, mol; per zone.
    pub const SOLID: usize = 3 * Z + 3;
    /// Dissolved inorganic carbon, mol; per zone.
    pub const CARBON: usize = 4 * Z + 3;
    /// Water, kg.
    pub const WATER: usize = 5 * Z + 3;
    /// Temperature, K.
    pub const TEMPERATURE: usize = 5 * Z + 4;
    /// The quantities that each zone has.
    pub const OF_ZONES: [usize; PER_ZONE] =
        [Self::CHLORIDE, Self::SODIUM, Self::ACID_EXCESS, Self::SOLID, Self::CARBON];
    /// The quantities that the zones share.
    pub const SHARED: [usize; 5] = [Self::ICE, Self::SETTLED, Self::SUPPLIED, Self::WATER, Self::TEMPERATURE];
    /// The bulk among the zones.
    pub(super) const BULK: usize = Z - 1;
}

/// Solid below which the share of solid left is not asked for, mol.
pub(super) const SUPPLIED_FLOOR_MOL: f64 = 1e-12;
/// Rounding of the ice's area law where the last of it melts, share of the reference.
pub(super) const ICE_ROUNDING: f64 = 1e-6;
/// Hindered settling exponent, Richardson & Zaki 1954 (from memory).
pub(super) const HINDERED_EXPONENT: f64 = 4.65;
/// Share of a crowd of flocs that is still liquid, at least: keeps the power finite.
pub(super) const LEAST_ROOM: f64 = 0.1;
/// Kilograms of water that a mole of it is.
pub(super) const WATER_KG_MOL: f64 = WATER_G_MOL * 1e-3;

impl<const Z: usize, const N: usize> Beaker<Z, N> {
    /// A beaker's equations.
    pub fn new(parameters: Parameters, inflow: Option<Inflow>) -> Self {
        Self { parameters, inflow, law: RateLaw::of(&parameters), anchors: [None; Z] }
    }

    /// Share of the water in each zone; the last zone is the bulk.
    #[inline]
    pub fn shares(&self) -> [f64; Z] {
        let plume = self.parameters.plume_share;
        core::array::from_fn(|z| match (Z, z) {
            (1, _) => 1.0,
            (_, 0) => plume,
            _ => 1.0 - plume,
        })
    }

    /// The bulk's activity of H⁺ where the rates were last linearised; not a number before.
    pub fn hydrogen_activity(&self) -> f64 {
        self.anchors[Self::BULK].as_ref().map_or(f64::NAN, Anchor::hydrogen_activity)
    }

    /// All solid, suspended and settled, mol.
    #[inline]
    pub(super) fn solid_mol(y: &[f64; N]) -> f64 {
        let mut solid = y[Self::SETTLED];
        for z in 0..Z {
            solid += y[Self::SOLID + z];
        }
        solid
    }

    /// What each zone holds per kilogram of water, and the share of solid left.
    #[inline]
    pub fn zones(&self, y: &[f64; N]) -> [Zone; Z] {
        let solid_share = at_least(Self::solid_mol(y), 0.0) / at_least(y[Self::SUPPLIED], SUPPLIED_FLOOR_MOL);
        let shares = self.shares();
        core::array::from_fn(|z| {
            let per_kg = 1.0 / (y[Self::WATER] * shares[z]);
            Zone {
                composition: Composition {
                    acid_excess: y[Self::ACID_EXCESS + z] * per_kg,
                    chloride: y[Self::CHLORIDE + z] * per_kg,
                    sodium: y[Self::SODIUM + z] * per_kg,
                    carbon: at_least(y[Self::CARBON + z] * per_kg, 0.0),
                },
                temperature_k: y[Self::TEMPERATURE],
                solid_share,
            }
        })
    }

    /// Rates of all states from the rates of the zones.
    #[inline]
    pub(super) fn changes(&self, y: &[f64; N], rates: &[ZoneRates; Z]) -> [f64; N] {
        let p = &self.parameters;
        let shares = self.shares();
        let (water, temperature) = (y[Self::WATER], y[Self::TEMPERATURE]);
        let mut d = [0.0; N];
        // Dissolution, nucleation and gas exchange, zone by zone.
        let mut dissolved = 0.0;
        for z in 0..Z {
            let dissolving = rates[z].dissolution_per_s * at_least(y[Self::SOLID + z], 0.0);
            let new_solid = rates[z].nucleation_mol_kg_s * water * shares[z];
            let net = dissolving - new_solid;
            dissolved += net;
            d[Self::SOLID + z] -= net;
            d[Self::ACID_EXCESS + z] -= 2.0 * net;
            d[Self::SUPPLIED] += new_solid;
            if self.law.with_carbon() {
                let escaping = rates[z].carbon_dioxide_excess_mol_m3 * (p.gas_transfer_m_s * p.surface_m2 * shares[z]);
                d[Self::CARBON + z] += at_least(dissolving, 0.0) * p.bottle.carbonate_mol_per_mol - escaping;
            }
        }
        dissolved += self.settled(y, &rates[Self::BULK], &mut d);
        self.mix(y, &mut d);
        let (hydroxide_in, pour_heat) = self.pour(y, &mut d);
        // H⁺ + OH⁻ made to water: what base came in and is no longer held as OH⁻ or MgOH⁺.
        let mut neutralised = hydroxide_in;
        for z in 0..Z {
            neutralised -= rates[z].hydroxide_by_excess * d[Self::ACID_EXCESS + z];
        }
        d[Self::WATER] += (2.0 * dissolved + neutralised) * WATER_KG_MOL;
        let reaction_heat = -BRUCITE_ENTHALPY_J_MOL * dissolved - NEUTRALISATION_ENTHALPY_J_MOL * neutralised;
        let heat = reaction_heat + pour_heat + self.exchanged(temperature) + self.melting(y, &mut d);
        if !p.held {
            d[Self::TEMPERATURE] = heat / self.heat_capacity_j_k(water);
        }
        d
    }

    /// Heat capacity of water and vessel, J/K.
    #[inline]
    pub(super) fn heat_capacity_j_k(&self, water_kg: f64) -> f64 {
        water_kg * WATER_HEAT_CAPACITY_J_KG_K + self.parameters.vessel_j_k
    }

    /// Settling, resuspension, and the slow dissolution of what has settled (into the
    /// bulk). Returns the latter, mol/s.
    #[inline]
    fn settled(&self, y: &[f64; N], bulk: &ZoneRates, d: &mut [f64; N]) -> f64 {
        let p = &self.parameters;
        let lying = y[Self::SETTLED];
        if lying == 0.0 && !p.settles() {
            return 0.0;
        }
        let dissolving = bulk.dissolution_per_s * at_least(lying, 0.0) * p.settled_reactivity;
        d[Self::SETTLED] -= dissolving;
        d[Self::ACID_EXCESS + Self::BULK] -= 2.0 * dissolving;
        d[Self::CARBON + Self::BULK] += at_least(dissolving, 0.0) * p.bottle.carbonate_mol_per_mol;
        let suspended = y[Self::SOLID + Self::BULK];
        let down =
            suspended * self.settling(y).speed_m_s / p.depth_m - p.resuspension_s.map_or(0.0, |time| lying / time);
        d[Self::SOLID + Self::BULK] -= down;
        d[Self::SETTLED] += down;
        dissolving
    }

    /// How the flocs sink.
    pub(super) fn settling(&self, y: &[f64; N]) -> Sinking {
        let p = &self.parameters;
        let share = match p.settling {
            Settling::Speed(speed_m_s) => return Sinking { speed_m_s, crowded: None },
            Settling::Stokes(share) => share,
        };
        if share == 0.0 {
            return Sinking { speed_m_s: 0.0, crowded: None };
        }
        let thermal = Thermal::interpolated(y[Self::TEMPERATURE]);
        let squared = p.floc_diameter_m * p.floc_diameter_m;
        let alone = (BRUCITE_KG_M3 - thermal.density) / thermal.viscosity
            * (p.floc_solid_share * FREE_FALL_M_S2 * squared / 18.0 * share);
        let solid_kg = y[Self::SOLID + Self::BULK].max(0.0) * (MAGNESIUM_HYDROXIDE_G_MOL * 1e-3);
        let volume_m3 = y[Self::WATER] / thermal.density * self.shares()[Self::BULK];
        let crowd = solid_kg / volume_m3 / (BRUCITE_KG_M3 * p.floc_solid_share);
        let room = (1.0 - crowd).max(LEAST_ROOM);
        let speed_m_s = alone * libm::exp(HINDERED_EXPONENT * libm::log(room));
        Sinking { speed_m_s, crowded: Some((crowd, room)) }
    }

    /// Exchange between plume and bulk: the differences decay as exp(-t/τ).
    #[inline]
    fn mix(&self, y: &[f64; N], d: &mut [f64; N]) {
        if Z == 2 {
            let [plume, bulk] = [self.shares()[0], self.shares()[Self::BULK]];
            for i in Self::OF_ZONES {
                let flow = (y[i] * bulk - y[i + Self::BULK] * plume) / self.parameters.mixing_s;
                d[i] -= flow;
                d[i + Self::BULK] += flow;
            }
        }
    }

    /// What the pour under way brings. Returns its hydroxide (mol/s) and its heat (W).
    #[inline]
    fn pour(&self, y: &[f64; N], d: &mut [f64; N]) -> (f64, f64) {
        let Some(inflow) = &self.inflow else { return (0.0, 0.0) };
        d[Self::CHLORIDE] += inflow.chloride_mol_s;
        d[Self::SODIUM] += inflow.sodium_mol_s;
        d[Self::ACID_EXCESS] += inflow.chloride_mol_s - inflow.sodium_mol_s;
        d[Self::WATER] += inflow.water_kg_s;
        if Z == 2 {
            // What the plume gains in water it passes on, with all that is in it.
            let over = self.overflow_kg_s(inflow) / y[Self::WATER];
            for i in Self::OF_ZONES {
                d[i] -= y[i] * over;
                d[i + Self::BULK] += y[i] * over;
            }
        }
        let heat = (inflow.temperature_k - y[Self::TEMPERATURE]) * (inflow.water_kg_s * WATER_HEAT_CAPACITY_J_KG_K);
        (inflow.sodium_mol_s, heat)
    }

    /// Water that runs over from plume to bulk during a pour, over the plume's share, kg/s.
    #[inline]
    pub(super) fn overflow_kg_s(&self, inflow: &Inflow) -> f64 {
        let shares = self.shares();
        inflow.water_kg_s * shares[Self::BULK] / shares[0]
    }

    /// Heat from room, bath and hot plate, W.
    #[inline]
    fn exchanged(&self, temperature_k: f64) -> f64 {
        let p = &self.parameters;
        (p.room_k - temperature_k) * p.room_w_k
            + (p.bath_k - temperature_k) * p.bath_w_k
            + at_most(at_least((p.plate_set_k - temperature_k) * p.plate_gain_w_k, 0.0), p.plate_max_w)
    }

    /// Melting of ice in the beaker: moves ice to water, returns the heat (≤ 0), W.
    #[inline]
    fn melting(&self, y: &[f64; N], d: &mut [f64; N]) -> f64 {
        if y[Self::ICE] <= 0.0 {
            return 0.0;
        }
        let melt = self.melt(y);
        d[Self::ICE] -= melt.kg_s;
        d[Self::WATER] += melt.kg_s;
        -melt.kg_s * (melt.warmer_k * WATER_HEAT_CAPACITY_J_KG_K + ICE_FUSION_J_KG)
    }

    /// How the ice melts; there must be some.
    pub(super) fn melt(&self, y: &[f64; N]) -> Melt {
        let p = &self.parameters;
        let bulk_kg = y[Self::WATER] * self.shares()[Self::BULK];
        let salt = (y[Self::CHLORIDE + Self::BULK] + y[Self::SODIUM + Self::BULK]) / bulk_kg;
        let warmer_k = y[Self::TEMPERATURE] - (CELSIUS_ZERO_K - salt * FREEZING_K_KG_MOL);
        let left = y[Self::ICE] / p.ice_reference_kg;
        let rounded = left + ICE_ROUNDING;
        let area = left / cube_root(rounded);
        Melt { kg_s: area * warmer_k * (p.ice_w_k / ICE_FUSION_J_KG), warmer_k, area, left, rounded }
    }
}

/// By how much a mole of salt (two ions) lowers the freezing point, K kg/mol.
pub(super) const FREEZING_K_KG_MOL: f64 = 2.0 * CRYOSCOPIC_K_KG_MOL;

/// See [`Beaker::settling`].
pub(super) struct Sinking {
    pub speed_m_s: f64,
    /// Where flocs hinder each other: the share of the volume that they fill, and the share
    /// that counts as free.
    pub crowded: Option<(f64, f64)>,
}

/// See [`Beaker::melt`].
pub(super) struct Melt {
    pub kg_s: f64,
    /// The water's temperature above its freezing point, K.
    pub warmer_k: f64,
    /// Area over that of the reference, from the share of the reference that is left, and
    /// that share rounded off.
    pub area: f64,
    pub left: f64,
    pub rounded: f64,
}

impl<const Z: usize, const N: usize> Equations<N> for Beaker<Z, N> {
    const PASSIVE: usize = Self::ACID_EXCESS;

    fn rates(&mut self, y: &[f64; N]) -> [f64; N] {
        let energy_factor = self.parameters.bottle.energy_factor;
        let thermal = Thermal::interpolated(y[Self::TEMPERATURE]).with_energy(energy_factor);
        let zones = self.zones(y);
        let rates = self.law.rates(&zones, &thermal, &mut self.anchors);
        self.changes(y, &rates)
    }

    fn linearise(&mut self, y: &[f64; N], changes: &mut [f64; N], jacobian: &mut [[f64; N]; N]) {
        let zones = self.zones(y);
        let (thermal, slopes) = Thermal::with_slopes(y[Self::TEMPERATURE]);
        let energy_factor = self.parameters.bottle.energy_factor;
        let (slopes, thermal) = (slopes.with_energy_along(&thermal, energy_factor), thermal.with_energy(energy_factor));
        let sloped = self.law.rates_with_slopes(&zones, &thermal, &slopes, &mut self.anchors);
        *changes = self.changes(y, &core::array::from_fn(|z| sloped[z].values()));
        self.write_jacobian(y, &zones, &sloped, changes, jacobian);
    }

    fn error(&self, tolerances: &Tolerances<N>, y: &[f64; N], rates: &[f64; N], error: &[f64; N]) -> f64 {
        self.error_of_step(tolerances, y, rates, error)
    }
}
