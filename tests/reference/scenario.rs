//! Our own scenario: three 600 mL beakers, 500 mL of water, 15 mL of suspension of 80 mg/mL,
//! doses of 2.0 mL of 3.0 mol/L acid. By hand, and against the reference calculation.

use turnback::chemistry::{Action, Pour, Reagent, Setup};
use turnback::constants::{CELSIUS_ZERO_K, MAGNESIUM_HYDROXIDE_G_MOL};
use turnback::course::Course;

use super::worst::Worst;

const DOSE_ML: f64 = 2.0;
const ACID_MOL_L: f64 = 3.0;
const FIRST_DOSE_S: f64 = 5.0;

fn setup(celsius: f64) -> Setup {
    Setup::of_suspension(500.0, 15.0, 80.0, celsius + CELSIUS_ZERO_K)
}

fn dose(reagent: Reagent, celsius: f64) -> Action {
    Action::Pour(Pour {
        reagent,
        volume_ml: DOSE_ML,
        concentration_mol_l: ACID_MOL_L,
        duration_s: 1.0,
        temperature_k: celsius + CELSIUS_ZERO_K,
    })
}

/// A beaker, isothermal, dosed seven times with acid.
struct Run {
    course: Course,
    apart_s: f64,
}

impl Run {
    fn of(celsius: f64, apart_s: f64) -> Self {
        let mut course = Course::begin(setup(celsius)).unwrap();
        for number in 0..7 {
            course.act(FIRST_DOSE_S + f64::from(number) * apart_s, dose(Reagent::Acid, celsius)).unwrap();
        }
        course.reach(FIRST_DOSE_S + 7.0 * apart_s).unwrap();
        Self { course, apart_s }
    }

    /// When a dose (from 1) begins, s.
    fn dose_s(&self, number: usize) -> f64 {
        FIRST_DOSE_S + (number - 1) as f64 * self.apart_s
    }

    /// Seconds from a dose to its way back through a pH, if it comes before the next.
    fn seconds(&self, number: usize, ph: f64) -> Option<f64> {
        let from_s = self.dose_s(number);
        // While it is poured the pH only falls.
        let back_s = self.course.turned_back_s(ph, from_s + 1.0, from_s + self.apart_s)?;
        Some(back_s - from_s)
    }
}

/// The reference's table was read off samples half a second apart (so late by up to that)
/// and printed in whole seconds (so off by up to half of one). Three hundredths more are
/// for its steps.
fn assert_printed(found: Option<f64>, printed: f64, what: &str) {
    let found = found.unwrap_or(f64::INFINITY);
    assert!((printed - 1.03..=printed + 0.53).contains(&found), "{what}: {found:.2} s, the table has {printed}");
}

/// Beakers of the table: °C, seconds between doses ("each left alone for minutes": as long
/// as their colours take), and seconds to pH 7 for doses 1 to 6, from the reference
/// calculation (Python, scipy LSODA, two zones with carbonate).
const SECONDS_TO_PH_7: [(f64, f64, [f64; 6]); 3] = [
    (2.0, 420.0, [52.0, 70.0, 92.0, 120.0, 165.0, 262.0]),
    (21.0, 180.0, [15.0, 20.0, 26.0, 34.0, 48.0, 74.0]),
    (34.0, 120.0, [10.0, 12.0, 16.0, 20.0, 27.0, 42.0]),
];

#[test]
fn six_doses_turn_back_in_the_seconds_of_the_reference_and_the_seventh_never() {
    for (celsius, apart_s, seconds) in SECONDS_TO_PH_7 {
        let run = Run::of(celsius, apart_s);
        for (i, printed) in seconds.into_iter().enumerate() {
            assert_printed(run.seconds(i + 1, 7.0), printed, &format!("{celsius} °C, dose {}", i + 1));
        }
        assert_eq!(run.seconds(7, 7.0), None, "{celsius} °C, dose 7");
    }
}

#[test]
fn at_21_degrees_each_dose_is_slower_to_blue_and_ends_less_blue() {
    let run = Run::of(21.0, 180.0);
    for (i, printed) in [25.0, 38.0, 56.0, 80.0, 120.0].into_iter().enumerate() {
        assert_printed(run.seconds(i + 1, 8.5), printed, &format!("to pH 8.5, dose {}", i + 1));
    }
    assert_eq!(run.seconds(6, 8.5), None);
    // pH at the last sample before the next dose, two decimals.
    for (i, ph) in [9.72, 9.51, 9.31, 9.08, 8.80, 8.35].into_iter().enumerate() {
        let found = run.course.reading(run.dose_s(i + 2) - 0.5).ph;
        assert!((found - ph).abs() <= 0.006, "rest after dose {}: pH {found}, wanted {ph}", i + 1);
    }
    let end = run.course.reading(run.course.reached_s()).ph;
    assert!((end - 2.9).abs() <= 0.05, "dose 7 ends at pH {end}, wanted 2.9");
}

#[test]
fn warm_turns_back_first_and_cold_last() {
    let [cold, room, warm] = [2.0, 21.0, 34.0].map(|celsius| Run::of(celsius, 300.0));
    for number in 1..=6 {
        let seconds = |run: &Run| run.seconds(number, 7.0).unwrap();
        assert!(seconds(&warm) < seconds(&room) && seconds(&room) < seconds(&cold), "dose {number}");
    }
}

#[test]
fn the_amounts_are_those_of_a_hand_calculation() {
    let setup = setup(21.0);
    // 15 mL of 80 mg/mL is 1.20 g or 20.58 mmol and wants 41.15 mmol of H⁺.
    assert!((setup.solid_mol * MAGNESIUM_HYDROXIDE_G_MOL - 1.20).abs() <= 1e-12);
    assert!((setup.solid_mol * 1e3 - 20.58).abs() <= 0.005);
    let wanted_mmol = 2e3 * setup.solid_mol;
    assert!((wanted_mmol - 41.15).abs() <= 0.005);
    assert!((wanted_mmol / ACID_MOL_L - 13.72).abs() <= 0.005, "mL of acid");
    assert!((wanted_mmol / ACID_MOL_L / DOSE_ML - 6.86).abs() <= 0.005, "doses");
    // USP 29: theoretical acid-neutralising capacity 0.0343 mEq per mg.
    assert!((2.0 / MAGNESIUM_HYDROXIDE_G_MOL - 0.0343).abs() <= 5e-5);
    // 499.1 g of water from the cylinder and 14.5 g with the suspension.
    assert!((setup.water_kg - 0.5136).abs() <= 5e-5);
}

#[test]
fn the_solid_left_is_the_hand_tables_less_what_the_liquid_holds_as_base() {
    // Solid left after doses 1 to 6, g, by hand: 1.20 g less 6.0 mmol / 2 · 58.32 g/mol each.
    let ledger = [1.025, 0.850, 0.675, 0.500, 0.325, 0.150];
    // Beyond what acid takes, the liquid at rest holds a little base, and turns what the air
    // brings it into carbonate: in half an hour a dose at 34 °C that is 2 to 5 mg.
    let run = Run::of(34.0, 1800.0);
    for (i, wanted) in ledger.into_iter().enumerate() {
        let number = i + 1;
        let reading = run.course.reading(run.dose_s(number + 1));
        let by_hand = 1.20 - 3.0e-3 * MAGNESIUM_HYDROXIDE_G_MOL * number as f64;
        assert!((by_hand - wanted).abs() <= 5e-4, "the hand table itself, dose {number}");
        // What is dissolved beyond the acid: half of the liquid's base, mol.
        let base_g = -0.5 * reading.acid_excess_mol * MAGNESIUM_HYDROXIDE_G_MOL;
        let found = reading.solid_g() + base_g;
        assert!((found - by_hand).abs() <= 1e-6, "dose {number}: {found} g, by hand {by_hand}");
        assert!((0.0..=5e-3).contains(&base_g), "dose {number}: {base_g} g dissolved as base");
    }
}

#[test]
fn base_brings_the_cloud_and_the_blue_back() {
    let celsius = 21.0;
    let mut course = Run::of(celsius, 180.0).course;
    let acid_end_s = course.reached_s();
    let before = course.reading(acid_end_s);
    assert!(before.solid_g() < 1e-3 && before.ph < 3.0, "{before:?}");
    // 42.0 mmol of acid went in; 42.0 mmol of base return the 1.20 g within 1 %.
    let mut cloud = Worst::default();
    for number in 0..7 {
        let at_s = acid_end_s + 120.0 * f64::from(number);
        course.act(at_s, dose(Reagent::Base, celsius)).unwrap();
        course.reach(at_s + 120.0).unwrap();
        let reading = course.reading(at_s + 120.0);
        if number == 0 {
            assert!(reading.ph > 8.5 && reading.solid_g() > 0.1, "after the first base dose: {reading:?}");
        }
    }
    course.reach(acid_end_s + 1800.0).unwrap();
    let end = course.reading(acid_end_s + 1800.0);
    cloud.see(end.solid_g() / 1.20 - 1.0, || format!("{} g", end.solid_g()));
    cloud.within(0.01, "solid returned, part");
    assert!(end.ph > 9.4, "pH {}", end.ph);
}
