//! What the stirrer does: it mixes, keeps the solid up, and lifts what has settled.

use turnback::chemistry::{Action, Pour, Reagent, Setup};
use turnback::course::{Course, Reading};

const START_K: f64 = 293.15;

fn beaker(rpm: f64) -> Course {
    let setup = Setup { stirrer_rpm: rpm, ..Setup::of_suspension(500.0, 15.0, 80.0, START_K) };
    Course::begin(setup).unwrap()
}

/// How much less solid a kilogram of the plume's water holds than one of the bulk's, mol/kg.
fn thinner_plume(reading: &Reading) -> f64 {
    let share = reading.plume_share;
    reading.solid_bulk_mol / ((1.0 - share) * reading.water_kg) - reading.solid_plume_mol / (share * reading.water_kg)
}

#[test]
fn differences_between_plume_and_bulk_decay_with_the_mixing_time() {
    // 600 rpm s, between 1 and 60 s (calibrated by eye).
    for (rpm, mixing_s) in [(1000.0, 1.0), (600.0, 1.0), (300.0, 2.0), (220.0, 600.0 / 220.0)] {
        let mut course = beaker(rpm);
        // Water alone thins the plume and changes nothing else.
        let water = Pour {
            reagent: Reagent::Acid,
            volume_ml: 20.0,
            concentration_mol_l: 0.0,
            duration_s: 1.0,
            temperature_k: START_K,
        };
        course.act(5.0, Action::Pour(water)).unwrap();
        course.reach(60.0).unwrap();
        let first = course.reading(6.0);
        assert!(thinner_plume(&first) > 1e-3, "{rpm} rpm: the plume is not thinner: {first:?}");
        for later_s in [0.5, 2.0, 5.0] {
            let found = thinner_plume(&course.reading(6.0 + later_s)) / thinner_plume(&first);
            let wanted = (-later_s / mixing_s).exp();
            // What dissolves meanwhile differs between the zones by 1e-4; and a step may err by 2e-4 of
            // what the plume holds (`chemistry/error.rs`).
            assert!((found - wanted).abs() <= 5e-4, "{rpm} rpm after {later_s} s: {found}, wanted {wanted}");
        }
    }
}

#[test]
fn solid_sinks_as_stokes_says_once_the_stirrer_is_off() {
    let mut course = beaker(300.0);
    course.act(10.0, Action::Stir { rpm: 0.0 }).unwrap();
    course.reach(4000.0).unwrap();
    let start = course.reading(10.0);
    assert_eq!(start.solid_settled_mol, 0.0);
    // A floc of 10 µm, 30 % solid of 2370 kg/m³, in water of 20 °C (998.2 kg/m³, 1.0016
    // mPa s): (0.3 · 1372 kg/m³) g d² / 18 η = 2.24e-5 m/s, hindered by (1 - 0.0033)^4.65.
    let alone_m_s: f64 = 0.3 * (2370.0 - 998.2) * 9.80665 * 1e-10 / (18.0 * 1.0016e-3);
    assert!((alone_m_s - 2.24e-5).abs() <= 1e-7);
    let rate_per_s = alone_m_s * (1.0f64 - 0.0033).powf(4.65) / 0.09;
    // Only the bulk settles: as long as the plume's share of 6 % is mixed into it.
    let mut before = 0.0;
    for after_s in [60.0, 300.0, 600.0, 1800.0] {
        let reading = course.reading(10.0 + after_s);
        let found = reading.solid_settled_mol / start.solid_mol();
        let wanted = 1.0 - (-0.94 * rate_per_s * after_s).exp();
        assert!((found / wanted - 1.0).abs() <= 0.03, "after {after_s} s: {found} settled, by hand {wanted}");
        // What has settled leaves that share of the depth clear, from the top.
        assert!((reading.clear_layer() - found).abs() <= 1e-4 && found > before);
        before = found;
    }
}

#[test]
fn settled_solid_is_lifted_when_the_stirrer_goes_on() {
    let mut course = beaker(0.0);
    course.act(1800.0, Action::Stir { rpm: 300.0 }).unwrap();
    course.reach(1900.0).unwrap();
    let before = course.reading(1800.0).solid_settled_mol;
    assert!(before > 1e-3);
    // Two to three seconds (calibrated): e^-2 of it is left after five.
    let left = course.reading(1805.0).solid_settled_mol / before;
    assert!((left - (-2.0f64).exp()).abs() <= 1e-3, "{left} is left");
    let after = course.reading(1860.0);
    assert!(after.solid_settled_mol <= 1e-9 && after.clear_layer() <= 1e-6);
}

#[test]
fn nothing_settles_from_200_rpm_on_and_a_slow_stirrer_lifts_nothing() {
    let mut fast = beaker(200.0);
    fast.reach(3600.0).unwrap();
    assert_eq!(fast.reading(3600.0).solid_settled_mol, 0.0);
    let mut slow = beaker(0.0);
    slow.act(600.0, Action::Stir { rpm: 150.0 }).unwrap();
    slow.reach(1200.0).unwrap();
    assert!(slow.reading(1200.0).solid_settled_mol > slow.reading(600.0).solid_settled_mol);
}

#[test]
fn settled_solid_answers_acid_slowly() {
    let acid = Pour {
        reagent: Reagent::Acid,
        volume_ml: 2.0,
        concentration_mol_l: 3.0,
        duration_s: 1.0,
        temperature_k: START_K,
    };
    let seconds = |rpm: f64| {
        let mut course = beaker(rpm);
        course.act(7200.0, Action::Pour(acid)).unwrap();
        course.reach(7200.0 + 900.0).unwrap();
        course.turned_back_s(7.0, 7201.0, 8100.0).map(|back_s| back_s - 7200.0)
    };
    let (stirred, still) = (seconds(300.0).unwrap(), seconds(0.0).unwrap_or(f64::INFINITY));
    assert!(still > 3.0 * stirred, "stirred {stirred} s, settled for two hours {still} s");
}

#[test]
fn a_stirrer_that_was_never_on_is_as_one_switched_off_at_once() {
    let mut never = beaker(0.0);
    let mut at_once = beaker(300.0);
    at_once.act(0.0, Action::Stir { rpm: 0.0 }).unwrap();
    for course in [&mut never, &mut at_once] {
        course.reach(900.0).unwrap();
    }
    for time_s in [1.0, 60.0, 900.0] {
        assert_eq!(never.reading(time_s), at_once.reading(time_s));
    }
}
