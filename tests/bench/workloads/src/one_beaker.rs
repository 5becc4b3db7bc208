//! One beaker in a room, two zones, five doses of acid in 600 s: the case of
//! tests/reference/chemistry/traj_21C_room.csv, at the product's own tolerance.

use crate::{Run, cost_of};
use turnback::chemistry::{Action, Parameters, Pour, Reagent};
use turnback::course::{Course, CourseError};

/// The file's `W0_kg`.
const WATER_KG: f64 = 0.5183862447257385;
/// The file's `n_solid_mol`.
const SOLID_MOL: f64 = 0.027434983376114764;
/// The file's `T0_K`, which is also the room's.
const ROOM_K: f64 = 294.15;
const FIRST_DOSE_S: f64 = 10.0;
const BETWEEN_DOSES_S: f64 = 120.0;
const END_S: u32 = 600;

/// The whole run, with pH at 0, 1, 2 ... 600 s.
///
/// # Errors
/// None is expected: the numbers are in range.
pub fn one_beaker() -> Result<Run, CourseError> {
    let mut course = Course::of_parameters(Parameters::REFERENCE, WATER_KG, SOLID_MOL, ROOM_K, 0.0, None);
    let pour = Pour {
        reagent: Reagent::Acid,
        volume_ml: 4.0,
        concentration_mol_l: 3.0,
        duration_s: 1.0,
        temperature_k: ROOM_K,
    };
    for dose in 0..5 {
        course.act(FIRST_DOSE_S + BETWEEN_DOSES_S * f64::from(dose), Action::Pour(pour))?;
    }
    course.reach(f64::from(END_S))?;
    let ph = (0..=END_S).map(|second| course.reading(f64::from(second)).ph).collect();
    Ok(Run { ph, cost: cost_of(course.cost()) })
}
