//! The numbers that decide how a beaker behaves and that are not constants of nature:
//! the bottle, the stirring, the heat exchange. Each says what it is: fitted, calibrated
//! or invented.

use super::setup::{BATH_W_K, GAS_TRANSFER_M_S, LIFTING_RPM, MIXING_S_RPM, RESUSPENSION_S};
use crate::constants::Quoted;
use crate::constants::Standing::{Calibrated, Fitted, Invented, Published, Remembered};

/// The numbers of the bottle, and the area that the acid branch works on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bottle {
    /// Factor on Palandri & Kharaka's acid rate constant, dimensionless. Fitted: 6 brings
    /// the colour back in a quarter of a minute at room temperature (common practice, no
    /// source); 1 is the plain literature law.
    pub acid_factor: f64,
    /// Reactive area of the acid branch, m²/g. A lumped reactivity rather than a
    /// measurement; measured powders and gels span 3.5 to 106 (Lin et al. 2008; Vatsha et
    /// al. 2013).
    pub acid_area_m2_g: f64,
    /// Reactive area of the neutral branch, m²/g. Fitted within the measured range.
    pub neutral_area_m2_g: f64,
    /// Carbonate carried by the solid, mol per mol. Invented: a trace, as any alkaline
    /// suspension that has met air.
    pub carbonate_mol_per_mol: f64,
    /// How many times the published activation energies of both branches (Palandri & Kharaka 2004: 59 and 42 kJ/mol) hold,
    /// dimensionless: 1 is as published. The rate constants at 25 °C stay as they are.
    pub energy_factor: f64,
}

impl Default for Bottle {
    fn default() -> Self {
        Self { acid_factor: 6.0, neutral_area_m2_g: 40.0, carbonate_mol_per_mol: 0.002, ..Self::LITERATURE }
    }
}

impl Bottle {
    /// The plain literature law: no factor, one area, no carbonate.
    pub const LITERATURE: Self = Self {
        acid_factor: 1.0,
        acid_area_m2_g: 85.0,
        neutral_area_m2_g: 85.0,
        carbonate_mol_per_mol: 0.0,
        energy_factor: 1.0,
    };
}

/// How fast the suspended solid settles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Settling {
    /// At this speed, m/s.
    Speed(f64),
    /// As Stokes' law says for the flocs, hindered (Richardson & Zaki), times this share
    /// (0 fully stirred, 1 stirrer off).
    Stokes(f64),
}

/// Everything about a beaker that stays the same between two actions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Parameters {
    /// The bottle.
    pub bottle: Bottle,
    /// Share φ of the water in the plume where a pour arrives. Calibrated by eye.
    pub plume_share: f64,
    /// Mixing time τ between plume and bulk, s. 600 / rpm is calibrated by eye.
    pub mixing_s: f64,
    /// Diameter of the flocs at the start, m. Calibrated.
    pub floc_diameter_m: f64,
    /// Volume share of solid in a floc. Calibrated.
    pub floc_solid_share: f64,
    /// Sherwood number of the flocs; `None` leaves the film of liquid around them out.
    pub sherwood: Option<f64>,
    /// Exponent p of the affinity term 1 - Ω^p. Pokrovsky & Schott 2004: 2.
    pub affinity_exponent: f64,
    /// Ω above which the affinity goes on along its tangent (the tested range ends there).
    pub affinity_bound: f64,
    /// Share of solid below which the area law is rounded off.
    pub area_rounding: f64,
    /// Rate constant of nucleation in clear liquid, mol kg⁻¹ s⁻¹; 0 for none. Calibrated.
    pub nucleation_mol_kg_s: f64,
    /// log₁₀ Ω that nucleation needs. Calibrated.
    pub nucleation_log_omega: f64,
    /// Settling of the solid.
    pub settling: Settling,
    /// Depth of the liquid, m.
    pub depth_m: f64,
    /// Reactivity of settled solid against suspended. Calibrated.
    pub settled_reactivity: f64,
    /// Time in which settled solid is taken up again, s; `None` while the stirrer is too
    /// slow for that. Calibrated.
    pub resuspension_s: Option<f64>,
    /// Transfer of CO₂ at the surface, m/s (from memory: 1e-5 to 5e-5 in a stirred beaker).
    pub gas_transfer_m_s: f64,
    /// Area of the surface, m².
    pub surface_m2: f64,
    /// Partial pressure of CO₂ in the air, atm.
    pub carbon_dioxide_atm: f64,
    /// Whether the temperature is held where it started (isothermal).
    pub held: bool,
    /// Heat exchange with the room, W/K (estimate), and the room's temperature, K.
    pub room_w_k: f64,
    /// Temperature of the room, K.
    pub room_k: f64,
    /// Heat exchange with a bath, W/K, 0 for none (estimate).
    pub bath_w_k: f64,
    /// Temperature of the bath, K.
    pub bath_k: f64,
    /// Greatest power of the hot plate, W, 0 for none.
    pub plate_max_w: f64,
    /// Temperature that the hot plate holds, K.
    pub plate_set_k: f64,
    /// Power per kelvin below that temperature, W/K.
    pub plate_gain_w_k: f64,
    /// Heat capacity of the glass, J/K (estimate).
    pub vessel_j_k: f64,
    /// Heat transfer to the ice at its reference mass, W/K (estimate).
    pub ice_w_k: f64,
    /// That reference mass, kg.
    pub ice_reference_kg: f64,
}

impl Parameters {
    /// The values of the reference integration, with no bottle of its own, no air and no
    /// settling: what a reference file's absent parameters mean.
    pub const REFERENCE: Self = Self {
        bottle: Bottle::LITERATURE,
        plume_share: 0.06,
        mixing_s: 2.0,
        floc_diameter_m: 10e-6,
        floc_solid_share: 0.30,
        sherwood: Some(2.2),
        affinity_exponent: 2.0,
        affinity_bound: 2.5,
        area_rounding: 1e-6,
        nucleation_mol_kg_s: 2e-3,
        nucleation_log_omega: 0.6,
        settling: Settling::Speed(0.0),
        depth_m: 0.09,
        settled_reactivity: 0.05,
        resuspension_s: None,
        gas_transfer_m_s: 0.0,
        surface_m2: 6.4e-3,
        carbon_dioxide_atm: 420e-6,
        held: false,
        room_w_k: 0.55,
        room_k: 294.15,
        bath_w_k: 0.0,
        bath_k: 294.15,
        plate_max_w: 0.0,
        plate_set_k: 294.15,
        plate_gain_w_k: 60.0,
        vessel_j_k: 200.0,
        ice_w_k: 24.0,
        ice_reference_kg: 0.1,
    };

    /// Whether carbonate can be anywhere in this beaker.
    pub fn with_carbon(&self) -> bool {
        self.bottle.carbonate_mol_per_mol > 0.0 || self.gas_transfer_m_s > 0.0
    }
}

impl Parameters {
    /// The numbers of this file that our own beakers are computed with, as they are told.
    pub(super) fn quoted() -> [Quoted; 22] {
        let p = Self::REFERENCE;
        let bottle = Bottle::default();
        [
            Quoted::new("acidFactor", bottle.acid_factor, "", Fitted, "common practice, no source"),
            Quoted::new(
                "acidArea",
                bottle.acid_area_m2_g,
                "m²/g",
                Fitted,
                "3.5 to 106: Lin et al. 2008; Vatsha et al. 2013",
            ),
            Quoted::new("neutralArea", bottle.neutral_area_m2_g, "m²/g", Fitted, "3.5 to 54: Lin et al. 2008"),
            Quoted::new("carbonate", bottle.carbonate_mol_per_mol, "mol/mol", Invented, ""),
            Quoted::new("plumeShare", p.plume_share, "", Calibrated, ""),
            Quoted::new("flocDiameter", p.floc_diameter_m, "m", Calibrated, ""),
            Quoted::new("flocSolid", p.floc_solid_share, "", Calibrated, ""),
            Quoted::new(
                "sherwood",
                p.sherwood.unwrap_or(0.0),
                "",
                Remembered,
                "Armenante & Kirwan 1989 give 2.5 to 3.1",
            ),
            Quoted::new("affinityExponent", p.affinity_exponent, "", Published, "Pokrovsky & Schott 2004"),
            Quoted::new("affinityBound", p.affinity_bound, "", Published, "Pokrovsky & Schott 2004: log Ω to 0.4"),
            Quoted::new("nucleation", p.nucleation_mol_kg_s, "mol/(kg s)", Calibrated, ""),
            Quoted::new("nucleationOmega", p.nucleation_log_omega, "", Calibrated, ""),
            Quoted::new("settledReactivity", p.settled_reactivity, "", Calibrated, ""),
            Quoted::new("gasTransfer", GAS_TRANSFER_M_S, "m/s", Remembered, "1e-5 to 5e-5 in a stirred beaker"),
            Quoted::new("airCarbonDioxide", p.carbon_dioxide_atm, "atm", Remembered, ""),
            Quoted::new("roomExchange", p.room_w_k, "W/K", Calibrated, ""),
            Quoted::new("bathExchange", BATH_W_K, "W/K", Calibrated, ""),
            Quoted::new("glassHeat", p.vessel_j_k, "J/K", Calibrated, ""),
            Quoted::new("iceExchange", p.ice_w_k, "W/K", Calibrated, ""),
            Quoted::new("mixing", MIXING_S_RPM, "s rpm", Calibrated, ""),
            Quoted::new("lifting", LIFTING_RPM, "rpm", Calibrated, ""),
            Quoted::new("resuspension", RESUSPENSION_S, "s", Calibrated, ""),
        ]
    }
}
