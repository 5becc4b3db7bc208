//! Dissolution against PHREEQC's KINETICS: one well-mixed zone, no film around the flocs,
//! isothermal, five instantaneous doses. The files' headers hold PHREEQC's own rate program.

use turnback::chemistry::{Beaker, Composition, ONE_ZONE, Parameters, Speciation, Thermal, saturated_start, speciate};
use turnback::constants::WATER_G_MOL;
use turnback::numerics::{Equations, Step, Stepper, Tolerances};

use super::table::Table;
use super::worst::Worst;

/// Two programs for the same rate law: what is left is water's constant, which shows where
/// the pH jumps.
const PH: f64 = 1e-3;
/// A student's stopwatch reads tenths of a second.
const SECONDS_TO_PH_7: f64 = 0.05;
/// PHREEQC's dissolved magnesium at rest differs by 1 % at 1 °C (see equilibria), which is
/// 7e-7 mol of solid.
const SOLID_MOL: f64 = 1e-6;

/// One well-mixed zone.
type OneZone = Beaker<1, ONE_ZONE>;

/// A file's beaker.
struct Case {
    beaker: OneZone,
    start: [f64; ONE_ZONE],
    dose_mol: f64,
    dose_water_kg: f64,
}

impl Case {
    fn of(table: &Table) -> Self {
        let header = table.json("");
        let number = |name: &str| header[name].as_f64().unwrap_or_else(|| panic!("no number {name}"));
        let (kelvin, solid_mol) = (number("T_K"), number("n_solid_mol"));
        let thermal = Thermal::of(kelvin);
        // The file names the rate constants that PHREEQC was given: they must be ours.
        for (ours, theirs) in [(thermal.acid_rate, number("k_acid")), (thermal.neutral_rate, number("k_neut"))] {
            assert!((ours / theirs - 1.0).abs() <= 1e-9, "rate constant {ours:e}, PHREEQC's {theirs:e}");
        }
        let reference = Parameters::REFERENCE;
        assert_eq!(number("S_eff_m2_per_g"), reference.bottle.acid_area_m2_g);
        assert_eq!(number("omega_exponent"), reference.affinity_exponent);
        assert_eq!(number("Om1"), reference.affinity_bound);
        assert_eq!(number("eps_x"), reference.area_rounding);
        Self {
            beaker: Beaker::new(Parameters { held: true, sherwood: None, ..reference }, None),
            start: saturated_start(number("water_kg_initial"), solid_mol, kelvin, 0.0),
            dose_mol: number("dose_HCl_mol"),
            dose_water_kg: number("dose_water_kg"),
        }
    }

    /// The steps from 0 to 600 s: a dose at 0, 120, 240, 360 and 480 s.
    fn steps(&self) -> Vec<Step<ONE_ZONE>> {
        // Tighter than the product's own: this asks about the equations.
        let mut absolute = [1e-12; ONE_ZONE];
        absolute[OneZone::ACID_EXCESS] = 1e-13;
        absolute[OneZone::WATER] = 1e-11;
        absolute[OneZone::ICE] = 1e-11;
        let mut stepper = Stepper::new(Tolerances { relative: [1e-9; ONE_ZONE], absolute });
        let (mut beaker, mut time, mut y) = (self.beaker, 0.0, self.start);
        let mut steps = Vec::new();
        for dose in 0..5 {
            self.dose(&mut y);
            stepper.restart();
            let until = 120.0 * f64::from(dose + 1);
            while time < until {
                let step = stepper.advance(&mut beaker, time, &y, until).unwrap();
                (time, y) = (step.end(), step.to);
                steps.push(step);
            }
        }
        steps
    }

    /// Acid all at once. The hydroxide it meets becomes water (2 mg in the first dose, which
    /// is worth 1e-3 in pH in the next jump: the time to it goes with √h times the volume).
    fn dose(&self, y: &mut [f64; ONE_ZONE]) {
        let hydroxide_mol = |y: &[f64; ONE_ZONE]| {
            let species = self.liquid(y).species;
            (species.hydroxide + species.mgoh) * y[OneZone::WATER]
        };
        let before = hydroxide_mol(y);
        y[OneZone::ACID_EXCESS] += self.dose_mol;
        y[OneZone::CHLORIDE] += self.dose_mol;
        y[OneZone::WATER] += self.dose_water_kg;
        let neutralised = before - hydroxide_mol(y);
        y[OneZone::WATER] += neutralised * WATER_G_MOL * 1e-3;
    }

    fn liquid(&self, y: &[f64; ONE_ZONE]) -> Speciation {
        speciate(&self.beaker.zones(y)[0].composition, &Thermal::of(y[OneZone::TEMPERATURE]), false)
    }
}

/// Seconds from a dose to pH 7, for each dose, by straight lines between samples.
fn seconds_to_ph_7(time: &[f64], ph: &[f64]) -> [Option<f64>; 5] {
    core::array::from_fn(|dose| {
        let from = 120.0 * dose as f64;
        (1..time.len()).find(|&i| time[i - 1] > from && time[i] < from + 120.0 && ph[i - 1] < 7.0 && ph[i] >= 7.0).map(
            |i| {
                let share = (7.0 - ph[i - 1]) / (ph[i] - ph[i - 1]);
                time[i - 1] + share * (time[i] - time[i - 1]) - from
            },
        )
    })
}

#[test]
fn one_zone_follows_phreeqc_from_dose_to_dose() {
    for (file, returns) in [("01C", 0), ("21C", 3), ("35C", 4)] {
        let table = Table::read(&format!("chemistry/phreeqc_kinetics_{file}.csv"));
        let (time, theirs, solid) =
            (table.numbers("t_s"), table.numbers("pH_phreeqc"), table.numbers("solid_mol_phreeqc"));
        let case = Case::of(&table);
        let steps = case.steps();
        // A sample at the instant of a dose is from before it, as in the file.
        let states: Vec<[f64; ONE_ZONE]> =
            time.iter().map(|&t| steps[steps.partition_point(|step| step.end() < t)].at(t)).collect();
        let ours: Vec<f64> = states.iter().map(|y| case.liquid(y).ph()).collect();
        let (mut ph, mut left) = (Worst::default(), Worst::default());
        for i in 0..time.len() {
            ph.see(ours[i] - theirs[i], || format!("{file} at {} s, pH {}", time[i], theirs[i]));
            left.see(states[i][OneZone::SOLID] - solid[i], || format!("{file} at {} s", time[i]));
        }
        ph.within(PH, &format!("pH, {file}"));
        left.within(SOLID_MOL, &format!("solid, mol, {file}"));
        let (ours, theirs) = (seconds_to_ph_7(&time, &ours), seconds_to_ph_7(&time, &theirs));
        assert_eq!(theirs.iter().flatten().count(), returns, "{file}: {theirs:?}");
        let mut seconds = Worst::default();
        for (dose, (ours, theirs)) in ours.iter().zip(&theirs).enumerate() {
            assert_eq!(ours.is_some(), theirs.is_some(), "{file}, dose {}", dose + 1);
            if let (Some(ours), Some(theirs)) = (ours, theirs) {
                seconds.see(ours - theirs, || format!("{file}, dose {}: {theirs:.2} s", dose + 1));
            }
        }
        seconds.within(SECONDS_TO_PH_7, &format!("seconds to pH 7, {file}"));
    }
}

#[test]
fn a_zone_of_the_file_is_at_rest_before_its_first_dose() {
    let mut case = Case::of(&Table::read("chemistry/phreeqc_kinetics_21C.csv"));
    let rates = case.beaker.rates(&case.start);
    // 1e-10 mol/s would move 1e-8 mol in the minutes of a lesson.
    assert!(rates.iter().all(|rate| rate.abs() <= 1e-10), "{rates:?}");
    let [zone] = case.beaker.zones(&case.start);
    let Composition { chloride, sodium, carbon, .. } = zone.composition;
    assert_eq!([chloride, sodium, carbon], [0.0; 3]);
}
