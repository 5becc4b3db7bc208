//! A beaker whose temperature drifts, as beakers do: each dose is computed at the temperature that was read with it.

use turnback::chemistry::{Action, Pour, Reagent, Setup};
use turnback::colour::Band;
use turnback::constants::CELSIUS_ZERO_K;
use turnback::course::{Course, CourseError};
use turnback::lesson::Lesson;
use turnback::measure::{Timing, Values, computed_times};

fn timing(dose: u32, start_c: f64) -> Timing {
    Timing { dose, beaker: Some(1), start_c, end_c: None, seconds: 60.0, finish: Band::Green }
}

fn times(timings: &[Timing]) -> Vec<f64> {
    let lesson = Lesson::default();
    computed_times(&lesson, &Values::of(&lesson), timings).expect("every dose comes back")
}

/// Each dose of the drifting beaker takes as long as in a beaker that was at its temperature all along: what the doses before
/// it have used up depends on how warm they were by less than 1 % of the time.
#[test]
fn each_dose_of_a_drifting_beaker_happens_at_its_own_temperature() {
    let drifting: Vec<Timing> = (1..=5).map(|dose| timing(dose, 2.0 + 1.5 * f64::from(dose))).collect();
    for (index, drifted) in times(&drifting).into_iter().enumerate() {
        let steady: Vec<Timing> = (1..=5).map(|dose| timing(dose, drifting[index].start_c)).collect();
        let steady = times(&steady)[index];
        assert!((drifted / steady - 1.0).abs() < 1e-2, "dose {}: {drifted} s, {steady} s", index + 1);
    }
}

/// One dose of one beaker that was timed at two temperatures, as by two classes: each time is that of its own temperature, and
/// one between them lies between.
#[test]
fn one_dose_at_several_temperatures_is_computed_at_both_ends() {
    let both = times(&[timing(1, 20.0), timing(2, 20.0), timing(2, 21.0), timing(2, 22.0)]);
    let at = |celsius: f64| times(&[timing(1, 20.0), timing(2, celsius)])[1];
    for (found, celsius) in both[1..].iter().zip([20.0, 21.0, 22.0]) {
        assert!((found / at(celsius) - 1.0).abs() < 2e-3, "{celsius} °C: {found} s, {} s", at(celsius));
    }
    assert!(both[1] > both[2] && both[2] > both[3]);
}

#[test]
fn a_course_is_brought_to_another_temperature_between_two_doses() {
    let kelvin = |celsius: f64| celsius + CELSIUS_ZERO_K;
    let pour = Action::Pour(Pour {
        reagent: Reagent::Acid,
        volume_ml: 2.0,
        concentration_mol_l: 3.0,
        duration_s: 1.0,
        temperature_k: kelvin(21.0),
    });
    let back_s = |from_c: f64, held_c: f64| {
        let mut course = Course::begin(Setup::of_suspension(500.0, 15.0, 80.0, kelvin(from_c))).unwrap();
        course.hold_at(10.0, kelvin(held_c)).unwrap();
        course.act(60.0, pour).unwrap();
        course.reach(400.0).unwrap();
        assert!((course.reading(400.0).temperature_k - kelvin(held_c)).abs() < 1e-9, "and it stays there");
        course.turned_back_s(7.0, 60.0, 400.0).unwrap() - 60.0
    };
    let (brought, was_there) = (back_s(21.0, 34.0), back_s(34.0, 34.0));
    assert!((brought / was_there - 1.0).abs() < 5e-3, "{brought} s, {was_there} s");
    let mut course = Course::begin(Setup::of_suspension(500.0, 15.0, 80.0, kelvin(21.0))).unwrap();
    course.act(10.0, pour).unwrap();
    assert!(matches!(course.hold_at(9.0, kelvin(30.0)), Err(CourseError::OutOfOrder { .. })));
    assert!(matches!(course.hold_at(11.0, 20.0), Err(CourseError::NotAnAmount { .. })), "20 K");
    // What is not held goes its own way: the same pH, whichever of both tells it.
    course.reach(100.0).unwrap();
    for time_s in [0.0, 10.5, 30.0, 99.0] {
        assert_eq!(course.ph(time_s), course.reading(time_s).ph);
    }
    let bends_s = course.bends_s(0.25);
    assert!(bends_s.windows(2).all(|two| two[1] - two[0] >= 0.25) && bends_s[bends_s.len() - 1] > 99.0);
}
