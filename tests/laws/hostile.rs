//! Amounts that no teacher means: nothing, a speck, a flood. Each runs in bounded steps to
//! numbers, or is refused before anything is changed.

use turnback::chemistry::{Action, Bath, Bottle, Pour, Reagent, Setup};
use turnback::course::{Course, CourseError, Reading};

fn setup() -> Setup {
    Setup::of_suspension(500.0, 15.0, 80.0, 294.15)
}

fn pour(reagent: Reagent, volume_ml: f64) -> Pour {
    Pour { reagent, volume_ml, concentration_mol_l: 3.0, duration_s: 1.0, temperature_k: 294.15 }
}

fn assert_numbers(reading: &Reading, what: &str) {
    let numbers = [
        reading.ph,
        reading.plume_ph,
        reading.temperature_k,
        reading.water_kg,
        reading.solid_mol(),
        reading.solid_g(),
        reading.volume_l(),
        reading.suspended_bulk_g_l(),
        reading.suspended_plume_g_l(),
        reading.clear_layer(),
        reading.magnesium_mol,
        reading.carbon_mol,
        reading.ionic_strength,
        reading.saturation_ratio,
        reading.ice_kg,
    ];
    assert!(numbers.iter().all(|number| number.is_finite()), "{what}: {reading:?}");
    assert!((-3.0..=17.0).contains(&reading.ph), "{what}: {reading:?}");
    assert!(reading.solid_mol() >= 0.0 && reading.water_kg > 0.0 && reading.ice_kg >= 0.0, "{what}: {reading:?}");
}

/// More steps than this in a lesson of ten minutes would be felt as a hang: our own scenario
/// takes some hundred for a dose.
const MOST_STEPS: u64 = 20_000;

/// Pours twice, waits, and looks all along.
fn run(setup: Setup, actions: &[(f64, Action)], what: &str) -> Result<(), CourseError> {
    let mut course = Course::begin(setup)?;
    for (at_s, action) in actions {
        course.act(*at_s, *action)?;
    }
    let end_s = actions.last().map_or(0.0, |(at_s, _)| *at_s) + 600.0;
    course.reach(end_s)?;
    for i in 0..=200 {
        assert_numbers(&course.reading(end_s * f64::from(i) / 200.0), what);
    }
    let cost = course.cost();
    assert!(cost.steps + cost.rejected_steps <= MOST_STEPS, "{what}: {cost:?}");
    Ok(())
}

#[test]
fn pours_of_nothing_of_a_speck_and_of_a_flood_run() {
    for volume_ml in [0.0, 1e-9, 1e-6, 1e-3, 1.0, 50.0, 1e3, 1e4, 1e6] {
        for concentration_mol_l in [0.0, 1e-9, 0.1, 3.0, 12.0] {
            for first in [Reagent::Acid, Reagent::Base] {
                let second = if first == Reagent::Acid { Reagent::Base } else { Reagent::Acid };
                let pours =
                    [first, second, first].map(|reagent| Pour { concentration_mol_l, ..pour(reagent, volume_ml) });
                let actions = [10.0, 60.0, 200.0].iter().zip(pours).map(|(&at_s, pour)| (at_s, Action::Pour(pour)));
                let what = format!("{volume_ml} mL of {concentration_mol_l} mol/L, {first:?} first");
                run(setup(), &actions.collect::<Vec<_>>(), &what).unwrap_or_else(|error| panic!("{what}: {error}"));
            }
        }
    }
}

#[test]
fn beakers_of_nothing_of_a_speck_and_of_a_flood_run() {
    let acid = [(10.0, Action::Pour(pour(Reagent::Acid, 2.0))), (100.0, Action::Pour(pour(Reagent::Base, 2.0)))];
    let plain = setup();
    let bare = Bottle { carbonate_mol_per_mol: 0.0, ..plain.bottle };
    let setups = [
        ("no solid", Setup { solid_mol: 0.0, ..plain }),
        ("no solid, no air", Setup { solid_mol: 0.0, surface_m2: 0.0, bottle: bare, ..plain }),
        ("a speck of solid", Setup { solid_mol: 1e-12, ..plain }),
        ("a kilogram of solid", Setup { solid_mol: 17.0, ..plain }),
        ("a drop of water", Setup { water_kg: 5e-5, ..plain }),
        ("a bath tub", Setup { water_kg: 200.0, ..plain }),
        ("much ice", Setup { ice_kg: 10.0, bath: Bath::Room, ..plain }),
        ("a speck of ice", Setup { ice_kg: 1e-9, bath: Bath::Room, ..plain }),
        ("ice at 60 °C", Setup { ice_kg: 0.5, start_k: 333.15, bath: Bath::Room, ..plain }),
        ("ice at 0 °C", Setup { ice_kg: 0.5, start_k: 273.15, bath: Bath::Around { bath_k: 273.15 }, ..plain }),
        ("0 °C", Setup { start_k: 273.15, ..plain }),
        ("60 °C", Setup { start_k: 333.15, ..plain }),
        ("stirrer off", Setup { stirrer_rpm: 0.0, ..plain }),
        ("stirrer at 1500 rpm", Setup { stirrer_rpm: 1500.0, ..plain }),
        ("a strong plate", Setup { bath: Bath::HotPlate { set_k: 333.15, max_w: 2000.0 }, ..plain }),
        ("from 60 °C into ice water", Setup { start_k: 333.15, bath: Bath::Around { bath_k: 273.15 }, ..plain }),
        ("a wide dish", Setup { depth_m: 1e-3, surface_m2: 1.0, stirrer_rpm: 0.0, ..plain }),
        ("a bottle of rocks", Setup { bottle: Bottle { acid_factor: 0.0, neutral_area_m2_g: 0.0, ..bare }, ..plain }),
        ("a bottle of smoke", Setup { bottle: Bottle { acid_factor: 1e3, neutral_area_m2_g: 1e3, ..bare }, ..plain }),
    ];
    for (what, setup) in setups {
        run(setup, &acid, what).unwrap_or_else(|error| panic!("{what}: {error}"));
        run(setup, &[], what).unwrap_or_else(|error| panic!("{what}, nothing done: {error}"));
    }
}

#[test]
fn a_stirrer_may_be_switched_at_any_moment() {
    for rpm in [0.0, 1.0, 199.0, 200.0, 1500.0] {
        for at_s in [10.0, 10.5, 11.0, 11.000_000_000_000_002, 12.0, 400.0] {
            let actions = [
                (10.0, Action::Pour(pour(Reagent::Acid, 2.0))),
                (at_s, Action::Stir { rpm }),
                (at_s, Action::Bath(Bath::Room)),
                (at_s + 50.0, Action::Stir { rpm: 300.0 }),
                (at_s + 50.0, Action::Pour(pour(Reagent::Base, 2.0))),
            ];
            let what = format!("{rpm} rpm at {at_s} s");
            run(setup(), &actions, &what).unwrap_or_else(|error| panic!("{what}: {error}"));
        }
    }
}

#[test]
fn pours_may_follow_each_other_without_a_pause() {
    // Sums of the same seconds in another order end one bit before or after each other.
    let mut course = Course::begin(setup()).unwrap();
    let mut at_s: f64 = 0.1;
    for i in 0..60 {
        let duration_s = 0.7 + 0.1 * f64::from(i % 7);
        let poured = Pour { duration_s, ..pour(Reagent::Acid, 0.1) };
        course.act(at_s, Action::Pour(poured)).unwrap_or_else(|error| panic!("pour {i}: {error}"));
        let until_s = at_s + duration_s;
        at_s = [until_s, until_s.next_up(), until_s.next_down()][i as usize % 3];
    }
    course.reach(at_s + 100.0).unwrap();
    assert_numbers(&course.reading(at_s + 100.0), "sixty pours");
}

/// The numbers at some times, to the bit.
fn trace(course: &Course) -> Vec<u64> {
    (0..50).map(|i| course.reading(f64::from(i)).ph.to_bits()).collect()
}

#[test]
fn what_is_no_amount_is_refused_and_changes_nothing() {
    let mut course = Course::begin(setup()).unwrap();
    course.act(5.0, Action::Pour(pour(Reagent::Acid, 2.0))).unwrap();
    course.reach(60.0).unwrap();
    let (wanted, reached_s) = (trace(&course), course.reached_s());
    let good = pour(Reagent::Acid, 2.0);
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1.0] {
        let actions = [
            Action::Pour(Pour { volume_ml: bad, ..good }),
            Action::Pour(Pour { concentration_mol_l: bad, ..good }),
            Action::Pour(Pour { duration_s: bad, ..good }),
            Action::Pour(Pour { temperature_k: bad, ..good }),
            Action::Stir { rpm: bad },
            Action::Bath(Bath::Around { bath_k: bad }),
            Action::Bath(Bath::HotPlate { set_k: bad, max_w: 10.0 }),
            Action::Bath(Bath::HotPlate { set_k: 300.0, max_w: bad }),
        ];
        for action in actions {
            let refused = course.act(20.0, action);
            assert!(matches!(refused, Err(CourseError::NotAnAmount { .. })), "{action:?}: {refused:?}");
        }
        let setups = [
            Setup { water_kg: bad, ..setup() },
            Setup { solid_mol: bad, ..setup() },
            Setup { start_k: bad, ..setup() },
            Setup { ice_kg: bad, ..setup() },
            Setup { room_k: bad, ..setup() },
            Setup { depth_m: bad, ..setup() },
            Setup { surface_m2: bad, ..setup() },
            Setup { stirrer_rpm: bad, ..setup() },
            Setup { bath: Bath::Around { bath_k: bad }, ..setup() },
            Setup { bottle: Bottle { acid_factor: bad, ..Bottle::default() }, ..setup() },
            Setup { bottle: Bottle { acid_area_m2_g: bad, ..Bottle::default() }, ..setup() },
            Setup { bottle: Bottle { neutral_area_m2_g: bad, ..Bottle::default() }, ..setup() },
            Setup { bottle: Bottle { carbonate_mol_per_mol: bad, ..Bottle::default() }, ..setup() },
            Setup { bottle: Bottle { energy_factor: bad, ..Bottle::default() }, ..setup() },
        ];
        for setup in setups {
            let refused = Course::begin(setup).map(|course| course.reached_s());
            assert!(matches!(refused, Err(CourseError::NotAnAmount { .. })), "{setup:?}: {refused:?}");
        }
        assert!(course.act(bad, Action::Stir { rpm: 300.0 }).is_err(), "at {bad} s");
        if !(bad < 0.0) {
            assert!(course.reach(bad).is_err(), "to {bad} s");
        }
        course.reading(bad);
    }
    assert!(matches!(course.act(4.0, Action::Stir { rpm: 0.0 }), Err(CourseError::OutOfOrder { .. })));
    assert!(matches!(course.act(5.5, Action::Pour(good)), Err(CourseError::StillPouring { .. })));
    assert_eq!(trace(&course), wanted);
    assert_eq!(course.reached_s(), reached_s);
}

#[test]
fn an_hour_asleep_and_a_jump_of_the_clock_are_followed() {
    let mut course = Course::begin(setup()).unwrap();
    course.act(5.0, Action::Pour(pour(Reagent::Acid, 2.0))).unwrap();
    let before = course.cost();
    course.reach(1e6).unwrap();
    assert_numbers(&course.reading(1e6), "eleven days");
    // Nothing happens any more: the steps grow until an hour is one of them.
    let cost = course.cost();
    assert!(cost.steps - before.steps <= 500, "{cost:?}");
    course.reach(3.0).unwrap();
    assert!(course.reached_s() >= 1e6, "what is known stays known");
}
