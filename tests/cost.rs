//! What five lessons cost, to the last step: a slowdown fails here before anyone times it.
//!
//! After a change that is meant to move the cost, `cargo test --test cost` prints the table
//! as it would have to stand; copy it here, and say in the commit why it moved. More of
//! anything needs a reason: a right-hand side is most of the time that a lesson takes.

use turnback::chemistry::{Action, Bath, Parameters, Pour, Reagent, Setup};
use turnback::constants::CELSIUS_ZERO_K;
use turnback::course::Course;

/// Steps, rejected steps, right-hand sides, Jacobians.
type Counts = [u64; 4];

/// What each lesson costs today.
const COSTS: [(&str, Counts); 5] = [
    ("one beaker, literature law, five doses in 610 s", [320, 55, 2195, 320]),
    ("Room 12 at 2 °C, seven doses and four of base", [811, 125, 5491, 811]),
    ("Room 12 at 21 °C, seven doses and four of base", [841, 119, 5641, 841]),
    ("Room 12 at 34 °C, seven doses and four of base", [860, 145, 5885, 860]),
    ("ice in the beaker, stirrer off between doses", [326, 45, 2181, 326]),
];

const ROOM_K: f64 = 21.0 + CELSIUS_ZERO_K;

fn pour(reagent: Reagent, volume_ml: f64) -> Action {
    Action::Pour(Pour { reagent, volume_ml, concentration_mol_l: 3.0, duration_s: 1.0, temperature_k: ROOM_K })
}

/// The case of `tests/reference/chemistry/traj_21C_room.csv`.
fn one_beaker() -> Course {
    let (water_kg, solid_mol) = (0.518_386_244_725_738_5, 0.027_434_983_376_114_764);
    let mut course = Course::of_parameters(Parameters::REFERENCE, water_kg, solid_mol, ROOM_K, 0.0, None);
    for dose in 0..5 {
        course.act(10.0 + 120.0 * f64::from(dose), pour(Reagent::Acid, 4.0)).unwrap();
    }
    course.reach(610.0).unwrap();
    course
}

/// A beaker of our own scenario through the guided lesson: acid every 300 s, then base every
/// 60 s, each dose computed to its rest before the next is known.
fn room_12(celsius: f64, bath: Bath) -> Course {
    let setup = Setup::of_suspension(500.0, 15.0, 80.0, celsius + CELSIUS_ZERO_K);
    let mut course = Course::begin(Setup { bath, ..setup }).unwrap();
    let mut at_s = 5.0;
    for (reagent, doses, rest_s) in [(Reagent::Acid, 7, 300.0), (Reagent::Base, 4, 60.0)] {
        for _ in 0..doses {
            course.act(at_s, pour(reagent, 2.0)).unwrap();
            at_s += rest_s;
            course.reach(at_s).unwrap();
        }
    }
    course
}

/// What costs most for its length: melting, settling and stirring up.
fn ice_and_settling() -> Course {
    let setup = Setup::of_suspension(500.0, 15.0, 80.0, ROOM_K);
    let mut course = Course::begin(Setup { ice_kg: 0.1, bath: Bath::Room, ..setup }).unwrap();
    for dose in 0..3 {
        let at_s = 10.0 + 300.0 * f64::from(dose);
        course.act(at_s, Action::Stir { rpm: 300.0 }).unwrap();
        course.act(at_s + 5.0, pour(Reagent::Acid, 2.0)).unwrap();
        course.act(at_s + 100.0, Action::Stir { rpm: 0.0 }).unwrap();
    }
    course.reach(1000.0).unwrap();
    course
}

fn around(celsius: f64) -> Bath {
    Bath::Around { bath_k: celsius + CELSIUS_ZERO_K }
}

#[test]
fn five_lessons_cost_what_they_cost_yesterday() {
    let courses = [
        one_beaker(),
        room_12(2.0, around(2.0)),
        room_12(21.0, Bath::Room),
        room_12(34.0, around(34.0)),
        ice_and_settling(),
    ];
    let today: Vec<(&str, Counts)> = courses
        .iter()
        .zip(COSTS)
        .map(|(course, (name, _))| {
            let cost = course.cost();
            (name, [cost.steps, cost.rejected_steps, cost.right_hand_sides, cost.jacobians])
        })
        .collect();
    let table: String = today.iter().map(|(name, counts)| format!("    (\"{name}\", {counts:?}),\n")).collect();
    assert!(today == COSTS, "the cost has moved; today it is\n{table}");
}

#[test]
fn cost_grows_in_proportion_to_the_doses_and_not_to_the_time_between() {
    let cost = |doses: u32, apart_s: f64| {
        let mut course = Course::begin(Setup::of_suspension(500.0, 60.0, 80.0, ROOM_K)).unwrap();
        for dose in 0..doses {
            course.act(5.0 + apart_s * f64::from(dose), pour(Reagent::Acid, 2.0)).unwrap();
        }
        course.reach(5.0 + apart_s * f64::from(doses)).unwrap();
        course.cost().right_hand_sides as f64
    };
    let (four, eight) = (cost(4, 300.0), cost(8, 300.0));
    assert!((1.5..=2.5).contains(&(eight / four)), "four doses {four}, eight {eight}");
    let slow = cost(4, 3000.0);
    assert!(slow <= 1.5 * four, "ten times the time between doses costs {slow} instead of {four}");
}

#[test]
fn a_restarted_look_costs_nothing() {
    let mut course = room_12(21.0, Bath::Room);
    let before = course.cost();
    course.reach(course.reached_s()).unwrap();
    for i in 0..1000 {
        course.reading(f64::from(i));
    }
    course.turned_back_s(7.0, 5.0, 300.0);
    assert_eq!(course.cost(), before);
}
