//! What every dose does: acid clears, rest is saturated, and each dose takes longer to turn
//! back than the one before.

use turnback::chemistry::{Action, Pour, Reagent, Setup};
use turnback::course::Course;

use super::lessons::{Draw, Kind, Lesson};
use super::worst::Worst;

#[test]
fn solid_at_rest_is_saturated() {
    let mut worst = Worst::default();
    let mut saturated = 0;
    for number in 0..300 {
        let mut lesson = Lesson::draw(number, Kind::Any);
        // Held where it is, closed, and stirred: then it can come to rest.
        lesson.setup.surface_m2 = 0.0;
        lesson.setup.bath = turnback::chemistry::Bath::Held;
        lesson.setup.stirrer_rpm = 300.0;
        lesson.actions.retain(|(_, action)| matches!(action, Action::Pour(_)));
        lesson.end_s = 1e7;
        let course = lesson.follow();
        let rest = course.reading(lesson.end_s);
        if rest.solid_mol() > 1e-6 {
            saturated += 1;
            worst.see(rest.saturation_ratio - 1.0, || format!("lesson {number}, {} mol left", rest.solid_mol()));
        }
    }
    assert!(saturated > 100, "solid is left in only {saturated} lessons");
    // A part of 1e-3 in Ω is 2e-4 in pH.
    worst.within(1e-3, "Ω at rest less 1");
}

#[test]
fn acid_only_ever_clears() {
    let mut worst = Worst::default();
    for number in 0..300 {
        let lesson = Lesson::draw(number, Kind::AcidAlone);
        let course = lesson.follow();
        let mut before = lesson.setup.solid_mol;
        for i in 0..=400 {
            let time_s = lesson.end_s * f64::from(i) / 400.0;
            let solid = course.reading(time_s).solid_mol();
            worst.see((solid - before).max(0.0) / lesson.setup.solid_mol.max(1e-6), || {
                format!("lesson {number}, {time_s} s")
            });
            before = solid;
        }
    }
    // Where the plume mixes into the basic bulk, for a moment a little forms again: less than
    // any eye sees.
    worst.within(1e-4, "solid that comes back under acid, part");
}

#[test]
fn each_dose_takes_longer_to_turn_back_than_the_one_before() {
    let mut pairs = 0;
    for number in 0..200 {
        let mut draw = Draw::new(number);
        let start_k = 273.15 + draw.between(0.0, 60.0);
        let setup = Setup::of_suspension(draw.by_size(200.0, 1000.0), draw.between(5.0, 30.0), 80.0, start_k);
        let doses = draw.between(3.0, 9.0);
        let pour = Pour {
            reagent: Reagent::Acid,
            volume_ml: 2e3 * setup.solid_mol / doses / 3.0,
            concentration_mol_l: 3.0,
            duration_s: 1.0,
            temperature_k: start_k,
        };
        let mut course = Course::begin(setup).unwrap();
        let mut last = 0.0;
        let mut at_s = 5.0;
        while let Some(seconds) = {
            course.act(at_s, Action::Pour(pour)).unwrap();
            course.reach(at_s + 1200.0).unwrap();
            course.turned_back_s(7.0, at_s + pour.duration_s, at_s + 1200.0).map(|back_s| back_s - at_s)
        } {
            assert!(seconds > last, "recipe {number}: {seconds} s after {last} s; {setup:?}, {doses} doses");
            pairs += 1;
            last = seconds;
            at_s += 1200.0;
        }
    }
    assert!(pairs > 500, "only {pairs} doses turned back");
}

#[test]
fn the_warmer_beaker_turns_back_first() {
    for number in 0..60 {
        let mut draw = Draw::new(number);
        let volume_ml = draw.between(0.5, 4.0);
        let mut last = f64::INFINITY;
        for celsius in [2.0, 12.0, 21.0, 34.0, 50.0] {
            let start_k = 273.15 + celsius;
            let mut course = Course::begin(Setup::of_suspension(500.0, 15.0, 80.0, start_k)).unwrap();
            let pour = Pour {
                reagent: Reagent::Acid,
                volume_ml,
                concentration_mol_l: 3.0,
                duration_s: 1.0,
                temperature_k: start_k,
            };
            course.act(5.0, Action::Pour(pour)).unwrap();
            course.reach(1000.0).unwrap();
            let seconds = course.turned_back_s(7.0, 6.0, 1000.0).unwrap() - 5.0;
            assert!(seconds < last, "{volume_ml} mL at {celsius} °C: {seconds} s, colder {last} s");
            last = seconds;
        }
    }
}
