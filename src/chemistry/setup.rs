//! How a beaker is set up and what is done to it, in a teacher's terms, and what that
//! means for the equations.

use super::beaker::{Beaker, ONE_ZONE};
use super::equilibrium::saturate;
use super::parameters::{Bottle, Parameters, Settling};
use super::reagent::Pour;
use crate::constants::MAGNESIUM_HYDROXIDE_G_MOL;

/// The beaker before anything is poured.
type OneZone = Beaker<1, ONE_ZONE>;

/// What surrounds a beaker.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bath {
    /// The temperature stays where it is (a perfect bath).
    Held,
    /// The air of the room.
    Room,
    /// A water bath (or ice and water) around it.
    Around {
        /// Temperature of the bath, K.
        bath_k: f64,
    },
    /// A hot plate under it.
    HotPlate {
        /// Temperature that it holds, K.
        set_k: f64,
        /// Its greatest power, W.
        max_w: f64,
    },
}

/// Everything that decides a beaker's run besides what is done to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setup {
    /// Water, with the suspension's, kg.
    pub water_kg: f64,
    /// Magnesium hydroxide, mol.
    pub solid_mol: f64,
    /// Temperature at the start, K.
    pub start_k: f64,
    /// Ice in the beaker, kg.
    pub ice_kg: f64,
    /// Temperature of the room, K.
    pub room_k: f64,
    /// What surrounds it.
    pub bath: Bath,
    /// Speed of the stirrer, revolutions per minute; 0 is off.
    pub stirrer_rpm: f64,
    /// The bottle the suspension comes from.
    pub bottle: Bottle,
    /// Depth of the liquid, m.
    pub depth_m: f64,
    /// Surface open to the air, m².
    pub surface_m2: f64,
}

/// Density of tap water in a measuring cylinder, kg/mL (20 °C).
const WATER_KG_ML: f64 = 0.9982e-3;
/// The same inside the suspension, and the solid's density, g/mL.
const SUSPENSION_WATER_KG_ML: f64 = 0.998e-3;
const SOLID_G_ML: f64 = 2.37;
/// Exchange with a bath around the beaker, W/K (estimate).
pub(super) const BATH_W_K: f64 = 6.0;
/// Transfer of CO₂ at the surface of a stirred beaker, m/s (from memory, 1e-5 to 5e-5).
pub(super) const GAS_TRANSFER_M_S: f64 = 2e-5;
/// Mixing time times the stirrer's speed, s rpm, and its bounds, s. Calibrated by eye.
pub(super) const MIXING_S_RPM: f64 = 600.0;
const FASTEST_MIXING_S: f64 = 1.0;
const SLOWEST_MIXING_S: f64 = 60.0;
/// Above this speed settled solid is taken up again within the time below, and nothing
/// settles; below it the settling speed grows linearly to Stokes' at rest. Calibrated.
pub(super) const LIFTING_RPM: f64 = 200.0;
pub(super) const RESUSPENSION_S: f64 = 2.5;

impl Setup {
    /// Water and a suspension of so many milligrams per millilitre, at a temperature (K);
    /// everything else as our own scenario has it.
    pub fn of_suspension(water_ml: f64, suspension_ml: f64, suspension_mg_ml: f64, start_k: f64) -> Self {
        let solid_g_ml = suspension_mg_ml * 1e-3;
        Self {
            water_kg: water_ml * WATER_KG_ML + suspension_ml * (1.0 - solid_g_ml / SOLID_G_ML) * SUSPENSION_WATER_KG_ML,
            solid_mol: suspension_ml * solid_g_ml / MAGNESIUM_HYDROXIDE_G_MOL,
            start_k,
            ice_kg: 0.0,
            room_k: 294.15,
            bath: Bath::Held,
            stirrer_rpm: 300.0,
            bottle: Bottle::default(),
            depth_m: 0.09,
            surface_m2: 6.4e-3,
        }
    }

    /// The parameters of the equations.
    pub fn parameters(&self) -> Parameters {
        let mut parameters = Parameters {
            bottle: self.bottle,
            depth_m: self.depth_m,
            gas_transfer_m_s: GAS_TRANSFER_M_S,
            surface_m2: self.surface_m2,
            room_k: self.room_k,
            ..Parameters::REFERENCE
        };
        parameters.stir(self.stirrer_rpm);
        parameters.surround(self.bath);
        parameters
    }

    /// The starting state: saturated with solid, uniformly mixed.
    pub fn start(&self) -> [f64; ONE_ZONE] {
        let mut y = saturated_start(self.water_kg, self.solid_mol, self.start_k, self.bottle.carbonate_mol_per_mol);
        y[OneZone::ICE] = self.ice_kg;
        y
    }
}

/// Water (kg) and solid (mol) at saturation and a temperature (K), uniformly mixed; what
/// has dissolved has set its trace of carbonate free.
pub fn saturated_start(water_kg: f64, solid_mol: f64, start_k: f64, carbonate_mol_per_mol: f64) -> [f64; ONE_ZONE] {
    let dissolved = solid_mol - saturate(water_kg, solid_mol, start_k).brucite_left_mol;
    let mut y = [0.0; ONE_ZONE];
    y[OneZone::ACID_EXCESS] = -2.0 * dissolved;
    y[OneZone::SOLID] = solid_mol - dissolved;
    y[OneZone::CARBON] = carbonate_mol_per_mol * dissolved;
    y[OneZone::SUPPLIED] = solid_mol;
    y[OneZone::WATER] = water_kg;
    y[OneZone::TEMPERATURE] = start_k;
    y
}

impl Parameters {
    /// Sets mixing, settling and resuspension for a stirrer speed, rpm.
    pub fn stir(&mut self, rpm: f64) {
        self.mixing_s = (MIXING_S_RPM / rpm.max(1e-3)).clamp(FASTEST_MIXING_S, SLOWEST_MIXING_S);
        self.settling = Settling::Stokes((1.0 - rpm / LIFTING_RPM).max(0.0));
        self.resuspension_s = (rpm >= LIFTING_RPM).then_some(RESUSPENSION_S);
    }

    /// Whether anything sinks at all.
    pub fn settles(&self) -> bool {
        match self.settling {
            Settling::Speed(speed) | Settling::Stokes(speed) => speed > 0.0,
        }
    }

    /// Sets the heat exchange for what surrounds the beaker.
    pub fn surround(&mut self, bath: Bath) {
        self.held = bath == Bath::Held;
        self.bath_w_k = 0.0;
        self.plate_max_w = 0.0;
        match bath {
            Bath::Held | Bath::Room => {}
            Bath::Around { bath_k } => {
                self.bath_w_k = BATH_W_K;
                self.bath_k = bath_k;
            }
            Bath::HotPlate { set_k, max_w } => {
                self.plate_max_w = max_w;
                self.plate_set_k = set_k;
            }
        }
    }
}

/// Something done to a beaker.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Action {
    /// A pour begins.
    Pour(Pour),
    /// The stirrer is set to a speed, rpm.
    Stir {
        /// Revolutions per minute; 0 is off.
        rpm: f64,
    },
    /// The surroundings change.
    Bath(Bath),
}
