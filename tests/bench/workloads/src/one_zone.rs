//! One well-mixed zone without a film around the grains, isothermal, five instantaneous
//! doses in 600 s: the case of tests/reference/chemistry/phreeqc_kinetics_21C.csv, which
//! PHREEQC can pose as well.

use crate::{Run, cost_of};
use turnback::chemistry::{Beaker, ONE_ZONE, Parameters, Speciation, Thermal, saturated_start, speciate};
use turnback::constants::WATER_G_MOL;
use turnback::numerics::{Stepper, StiffError, Tolerances};

/// One well-mixed zone.
type OneZone = Beaker<1, ONE_ZONE>;

/// The file's `water_kg_initial`.
const WATER_KG: f64 = 0.518;
/// The file's `n_solid_mol`.
const SOLID_MOL: f64 = 0.027434983376114764;
/// The file's `T_K`.
const TEMPERATURE_K: f64 = 294.15;
/// The file's `dose_HCl_mol` and `dose_water_kg`.
const DOSE_MOL: f64 = 0.012;
const DOSE_WATER_KG: f64 = 0.0037569880000000006;
const DOSES: u32 = 5;
const BETWEEN_DOSES_S: u32 = 120;

/// Allowed errors in a step, chosen so that the pH's rms error stays below 2e-5.
const RELATIVE_TOLERANCE: f64 = 1e-6;
const AMOUNT_TOLERANCE_MOL: f64 = 1e-9;
const EXCESS_TOLERANCE_MOL: f64 = 1e-10;

/// The whole run, with pH at 1, 2 ... 600 s.
///
/// # Errors
/// None is expected: the equations are those of a beaker at rest.
pub fn one_zone() -> Result<Run, StiffError> {
    let parameters = Parameters { sherwood: None, nucleation_mol_kg_s: 0.0, held: true, ..Parameters::REFERENCE };
    let mut beaker = OneZone::new(parameters, None);
    let mut absolute = [AMOUNT_TOLERANCE_MOL; ONE_ZONE];
    absolute[OneZone::ACID_EXCESS] = EXCESS_TOLERANCE_MOL;
    let mut stepper = Stepper::new(Tolerances { relative: [RELATIVE_TOLERANCE; ONE_ZONE], absolute });
    let mut y = saturated_start(WATER_KG, SOLID_MOL, TEMPERATURE_K, 0.0);
    let mut ph = Vec::with_capacity((DOSES * BETWEEN_DOSES_S) as usize);
    for _ in 0..DOSES {
        dose(&beaker, &mut y);
        stepper.restart();
        let (mut reached, mut second) = (0.0, 1);
        while second <= BETWEEN_DOSES_S {
            let step = stepper.advance(&mut beaker, reached, &y, f64::from(BETWEEN_DOSES_S))?;
            (reached, y) = (step.end(), step.to);
            while second <= BETWEEN_DOSES_S && f64::from(second) <= reached {
                ph.push(speciation(&beaker, &step.at(f64::from(second))).ph());
                second += 1;
            }
        }
    }
    Ok(Run { ph, cost: cost_of(stepper.cost()) })
}

fn speciation(beaker: &OneZone, y: &[f64; ONE_ZONE]) -> Speciation {
    let thermal = Thermal::interpolated(y[OneZone::TEMPERATURE]);
    speciate(&beaker.zones(y)[0].composition, &thermal, false)
}

/// Acid all at once, with the water that it makes of the hydroxide it meets.
fn dose(beaker: &OneZone, y: &mut [f64; ONE_ZONE]) {
    let hydroxide_mol = |y: &[f64; ONE_ZONE]| {
        let species = speciation(beaker, y).species;
        (species.hydroxide + species.mgoh) * y[OneZone::WATER]
    };
    let before = hydroxide_mol(y);
    y[OneZone::ACID_EXCESS] += DOSE_MOL;
    y[OneZone::CHLORIDE] += DOSE_MOL;
    y[OneZone::WATER] += DOSE_WATER_KG;
    let neutralised = before - hydroxide_mol(y);
    y[OneZone::WATER] += neutralised * WATER_G_MOL * 1e-3;
}
