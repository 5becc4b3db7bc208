//! The numbers that the equations can start from. Wider than any form allows: past these they
//! would end in infinities, not in chemistry.

use super::CourseError;
use crate::chemistry::{Action, Bath, Bottle, Setup};

/// Temperatures, K: water is liquid.
const TEMPERATURE_K: (f64, f64) = (263.0, 373.0);
/// Stirrer, revolutions per minute.
const MOST_RPM: f64 = 1e4;

/// Refuses a setup with a number that the equations cannot start from.
pub(super) fn of_setup(setup: &Setup) -> Result<(), CourseError> {
    check("the stirrer's speed", setup.stirrer_rpm, 0.0, MOST_RPM)?;
    check("water", setup.water_kg, 1e-6, 1e6)?;
    check("solid", setup.solid_mol, 0.0, 1e6)?;
    temperature("temperature", setup.start_k)?;
    check("ice", setup.ice_kg, 0.0, 1e6)?;
    check("depth", setup.depth_m, 1e-6, 1e3)?;
    check("surface", setup.surface_m2, 0.0, 1e3)?;
    temperature("the room's temperature", setup.room_k)?;
    of_bath(&setup.bath)?;
    of_bottle(&setup.bottle)
}

/// Refuses an action likewise.
pub(super) fn of_action(action: &Action) -> Result<(), CourseError> {
    match action {
        Action::Pour(pour) => {
            check("the volume", pour.volume_ml, 0.0, 1e9)?;
            check("the concentration", pour.concentration_mol_l, 0.0, 20.0)?;
            check("the duration", pour.duration_s, 1e-3, 1e6)?;
            temperature("the temperature", pour.temperature_k)
        }
        Action::Stir { rpm } => check("the stirrer's speed", *rpm, 0.0, MOST_RPM),
        Action::Bath(bath) => of_bath(bath),
    }
}

/// Refuses a time that is no number or longer than thirty years.
pub(super) fn of_time(time_s: f64) -> Result<(), CourseError> {
    check("the time", time_s, 0.0, 1e9)
}

fn of_bath(bath: &Bath) -> Result<(), CourseError> {
    match bath {
        Bath::Held | Bath::Room => Ok(()),
        Bath::Around { bath_k } => temperature("the bath's temperature", *bath_k),
        Bath::HotPlate { set_k, max_w } => {
            temperature("the plate's temperature", *set_k)?;
            check("the plate's power", *max_w, 0.0, 1e6)
        }
    }
}

fn of_bottle(bottle: &Bottle) -> Result<(), CourseError> {
    check("the acid factor", bottle.acid_factor, 0.0, 1e6)?;
    check("the acid branch's area", bottle.acid_area_m2_g, 1e-6, 1e6)?;
    check("the neutral branch's area", bottle.neutral_area_m2_g, 0.0, 1e6)?;
    check("the carbonate", bottle.carbonate_mol_per_mol, 0.0, 1.0)?;
    check("the energy factor", bottle.energy_factor, 0.0, 10.0)
}

/// Refuses a temperature, K, at which water is not liquid.
pub(super) fn temperature(what: &'static str, value: f64) -> Result<(), CourseError> {
    check(what, value, TEMPERATURE_K.0, TEMPERATURE_K.1)
}

fn check(what: &'static str, value: f64, least: f64, most: f64) -> Result<(), CourseError> {
    if value >= least && value <= most { Ok(()) } else { Err(CourseError::NotAnAmount { what, value }) }
}
