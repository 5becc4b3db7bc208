//! The Jacobian of a beaker's right-hand side: `changes` in `beaker.rs`, differentiated term
//! by term. A row is the slopes of one quantity along all states.
//!
//! Written out instead of carried along by numbers with slopes, it takes a fifth of the time:
//! most slopes are zero, and what a zone's liquid does enters a dozen times but is
//! differentiated once (`slopes.rs`).

use super::anchor::INPUTS;
use super::beaker::{Beaker, FREEZING_K_KG_MOL, HINDERED_EXPONENT, LEAST_ROOM, SUPPLIED_FLOOR_MOL, WATER_KG_MOL};
use super::dissolution::Zone;
use super::parameters::Settling;
use super::slopes::{Sloped, SlopedRates};
use super::thermal::Thermal;
use crate::constants::{
    BRUCITE_ENTHALPY_J_MOL, BRUCITE_KG_M3, ICE_FUSION_J_KG, NEUTRALISATION_ENTHALPY_J_MOL, WATER_HEAT_CAPACITY_J_KG_K,
};
use crate::numerics::at_least;

/// Adds so many times a row to another.
#[inline]
fn add<const N: usize>(row: &mut [f64; N], times: f64, other: &[f64; N]) {
    for (sum, part) in row.iter_mut().zip(other) {
        *sum += times * part;
    }
}

impl<const Z: usize, const N: usize> Beaker<Z, N> {
    /// Writes the Jacobian, given the zones, their rates with slopes, and the rates of all
    /// states.
    pub(super) fn write_jacobian(
        &self,
        y: &[f64; N],
        zones: &[Zone; Z],
        rates: &[SlopedRates; Z],
        changes: &[f64; N],
        rows: &mut [[f64; N]; N],
    ) {
        let p = &self.parameters;
        let shares = self.shares();
        let water = y[Self::WATER];
        *rows = [[0.0; N]; N];
        let mut dissolved = [0.0; N];
        for z in 0..Z {
            let solid = y[Self::SOLID + z];
            let per_s = &rates[z].dissolution_per_s;
            let mut net = self.spread(y, zones, z, per_s, at_least(solid, 0.0));
            if solid > 0.0 {
                net[Self::SOLID + z] += per_s.value;
            }
            if self.law.with_carbon() {
                let exchange = p.gas_transfer_m_s * p.surface_m2 * shares[z];
                let escaping = self.spread(y, zones, z, &rates[z].carbon_dioxide_excess_mol_m3, exchange);
                add(&mut rows[Self::CARBON + z], -1.0, &escaping);
                if per_s.value > 0.0 {
                    add(&mut rows[Self::CARBON + z], p.bottle.carbonate_mol_per_mol, &net);
                }
            }
            let nucleation = &rates[z].nucleation_mol_kg_s;
            if nucleation.value > 0.0 {
                let mut new_solid = self.spread(y, zones, z, nucleation, water * shares[z]);
                new_solid[Self::WATER] += nucleation.value * shares[z];
                add(&mut net, -1.0, &new_solid);
                add(&mut rows[Self::SUPPLIED], 1.0, &new_solid);
            }
            add(&mut rows[Self::SOLID + z], -1.0, &net);
            add(&mut rows[Self::ACID_EXCESS + z], -2.0, &net);
            add(&mut dissolved, 1.0, &net);
        }
        self.settled_slopes(y, zones, &rates[Self::BULK].dissolution_per_s, rows, &mut dissolved);
        self.mix_slopes(rows);
        self.pour_slopes(y, rows);
        let mut neutralised = [0.0; N];
        for z in 0..Z {
            let held = &rates[z].hydroxide_by_excess;
            let moving = self.spread(y, zones, z, held, changes[Self::ACID_EXCESS + z]);
            add(&mut neutralised, -1.0, &moving);
            add(&mut neutralised, -held.value, &rows[Self::ACID_EXCESS + z]);
        }
        let mut water_row = rows[Self::WATER];
        add(&mut water_row, 2.0 * WATER_KG_MOL, &dissolved);
        add(&mut water_row, WATER_KG_MOL, &neutralised);
        rows[Self::WATER] = water_row;
        let mut heat = [0.0; N];
        self.melting_slopes(y, rows, &mut heat);
        if !p.held {
            add(&mut heat, -BRUCITE_ENTHALPY_J_MOL, &dissolved);
            add(&mut heat, -NEUTRALISATION_ENTHALPY_J_MOL, &neutralised);
            heat[Self::TEMPERATURE] -= self.conductance_w_k(y[Self::TEMPERATURE]);
            // Heat over a capacity that grows with the water.
            heat[Self::WATER] -= changes[Self::TEMPERATURE] * WATER_HEAT_CAPACITY_J_KG_K;
            add(&mut rows[Self::TEMPERATURE], 1.0 / self.heat_capacity_j_k(water), &heat);
        }
    }

    /// The slopes of a zone's rate, times a number, along the states.
    #[inline]
    fn spread(&self, y: &[f64; N], zones: &[Zone; Z], z: usize, rate: &Sloped, times: f64) -> [f64; N] {
        let mut row = [0.0; N];
        let water = y[Self::WATER];
        let per_kg = times / (water * self.shares()[z]);
        let composition = &zones[z].composition;
        let held = [composition.acid_excess, composition.chloride, composition.sodium, composition.carbon];
        let places = [Self::ACID_EXCESS, Self::CHLORIDE, Self::SODIUM, Self::CARBON];
        // More water thins everything.
        let mut thinned = 0.0;
        for i in 0..INPUTS - 1 {
            row[places[i] + z] = rate.by[i] * per_kg;
            thinned += rate.by[i] * held[i];
        }
        if y[Self::CARBON + z] < 0.0 {
            row[Self::CARBON + z] = 0.0;
        }
        row[Self::WATER] = -thinned * times / water;
        row[Self::TEMPERATURE] = rate.by[INPUTS - 1] * times;
        let share = zones[z].solid_share;
        if rate.by_share != 0.0 && share > 0.0 {
            let by_solid = rate.by_share * times / at_least(y[Self::SUPPLIED], SUPPLIED_FLOOR_MOL);
            row[Self::SETTLED] = by_solid;
            for other in 0..Z {
                row[Self::SOLID + other] = by_solid;
            }
            if y[Self::SUPPLIED] > SUPPLIED_FLOOR_MOL {
                row[Self::SUPPLIED] = -by_solid * share;
            }
        }
        row
    }

    fn settled_slopes(
        &self,
        y: &[f64; N],
        zones: &[Zone; Z],
        per_s: &Sloped,
        rows: &mut [[f64; N]; N],
        dissolved: &mut [f64; N],
    ) {
        let p = &self.parameters;
        let bulk = Self::BULK;
        let lying = y[Self::SETTLED];
        if lying > 0.0 {
            let mut dissolving = self.spread(y, zones, bulk, per_s, lying * p.settled_reactivity);
            dissolving[Self::SETTLED] += per_s.value * p.settled_reactivity;
            add(&mut rows[Self::SETTLED], -1.0, &dissolving);
            add(&mut rows[Self::ACID_EXCESS + bulk], -2.0, &dissolving);
            if per_s.value > 0.0 {
                add(&mut rows[Self::CARBON + bulk], p.bottle.carbonate_mol_per_mol, &dissolving);
            }
            add(dissolved, 1.0, &dissolving);
        }
        let mut down = [0.0; N];
        if p.settles() {
            self.sinking_slopes(y, &mut down);
        }
        if let Some(time) = p.resuspension_s {
            down[Self::SETTLED] -= 1.0 / time;
        }
        add(&mut rows[Self::SOLID + bulk], -1.0, &down);
        add(&mut rows[Self::SETTLED], 1.0, &down);
    }

    /// Slopes of what sinks: suspended solid times speed over depth.
    fn sinking_slopes(&self, y: &[f64; N], down: &mut [f64; N]) {
        let p = &self.parameters;
        let place = Self::SOLID + Self::BULK;
        let sinking = self.settling(y);
        let per_s = sinking.speed_m_s / p.depth_m;
        down[place] += per_s;
        if let (Settling::Stokes(_), Some((crowd, room))) = (p.settling, sinking.crowded) {
            let (thermal, slopes) = Thermal::with_slopes(y[Self::TEMPERATURE]);
            let suspended = y[place];
            let ln_density = slopes.density / thermal.density;
            down[Self::TEMPERATURE] -= suspended
                * per_s
                * (slopes.density / (BRUCITE_KG_M3 - thermal.density) + slopes.viscosity / thermal.viscosity);
            if room > LEAST_ROOM && suspended > 0.0 {
                // The crowd goes as solid times density over water.
                let by_ln_crowd = -suspended * per_s * HINDERED_EXPONENT * crowd / room;
                down[place] += by_ln_crowd / suspended;
                down[Self::WATER] -= by_ln_crowd / y[Self::WATER];
                down[Self::TEMPERATURE] += by_ln_crowd * ln_density;
            }
        }
    }

    fn mix_slopes(&self, rows: &mut [[f64; N]; N]) {
        if Z == 2 {
            let [plume, bulk] = [self.shares()[0], self.shares()[Self::BULK]];
            let per_s = 1.0 / self.parameters.mixing_s;
            for i in Self::OF_ZONES {
                let other = i + Self::BULK;
                rows[i][i] -= bulk * per_s;
                rows[i][other] += plume * per_s;
                rows[other][i] += bulk * per_s;
                rows[other][other] -= plume * per_s;
            }
        }
    }

    fn pour_slopes(&self, y: &[f64; N], rows: &mut [[f64; N]; N]) {
        if let (2, Some(inflow)) = (Z, &self.inflow) {
            let over = self.overflow_kg_s(inflow) / y[Self::WATER];
            for i in Self::OF_ZONES {
                let (other, by_water) = (i + Self::BULK, y[i] * over / y[Self::WATER]);
                rows[i][i] -= over;
                rows[other][i] += over;
                rows[i][Self::WATER] += by_water;
                rows[other][Self::WATER] -= by_water;
            }
        }
    }

    /// Melting: the rows of ice and water, and the heat that it takes.
    fn melting_slopes(&self, y: &[f64; N], rows: &mut [[f64; N]; N], heat: &mut [f64; N]) {
        if y[Self::ICE] <= 0.0 {
            return;
        }
        let p = &self.parameters;
        let melt = self.melt(y);
        let by_warmer = melt.area * (p.ice_w_k / ICE_FUSION_J_KG);
        let bulk_kg = y[Self::WATER] * self.shares()[Self::BULK];
        let salt_mol = y[Self::CHLORIDE + Self::BULK] + y[Self::SODIUM + Self::BULK];
        let mut warmer = [0.0; N];
        warmer[Self::TEMPERATURE] = 1.0;
        warmer[Self::CHLORIDE + Self::BULK] = FREEZING_K_KG_MOL / bulk_kg;
        warmer[Self::SODIUM + Self::BULK] = FREEZING_K_KG_MOL / bulk_kg;
        warmer[Self::WATER] = -FREEZING_K_KG_MOL * salt_mol / bulk_kg / y[Self::WATER];
        let mut melting = [0.0; N];
        add(&mut melting, by_warmer, &warmer);
        melting[Self::ICE] = melt.kg_s * (1.0 / melt.left - 1.0 / (3.0 * melt.rounded)) / p.ice_reference_kg;
        add(&mut rows[Self::ICE], -1.0, &melting);
        add(&mut rows[Self::WATER], 1.0, &melting);
        add(heat, -(melt.warmer_k * WATER_HEAT_CAPACITY_J_KG_K + ICE_FUSION_J_KG), &melting);
        add(heat, -melt.kg_s * WATER_HEAT_CAPACITY_J_KG_K, &warmer);
    }

    /// How fast heat comes in as the temperature falls, W/K.
    fn conductance_w_k(&self, temperature_k: f64) -> f64 {
        let p = &self.parameters;
        let wanted = (p.plate_set_k - temperature_k) * p.plate_gain_w_k;
        let plate = if wanted > 0.0 && wanted < p.plate_max_w { p.plate_gain_w_k } else { 0.0 };
        let pour = self.inflow.map_or(0.0, |inflow| inflow.water_kg_s * WATER_HEAT_CAPACITY_J_KG_K);
        p.room_w_k + p.bath_w_k + plate + pour
    }
}
