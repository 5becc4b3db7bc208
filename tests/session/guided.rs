//! The guided lesson, from its brief to its end.

use turnback::chemistry::Reagent;
use turnback::colour::{Band, Clarity};
use turnback::lesson::{Field, First, GuessText, Match, match_band};
use turnback::session::{Event, EventKind, START_S, SessionError, Stage};

use crate::{ours, play_all, play_dose, run_to_rest, some_guess, with};

#[test]
fn capability_2_and_7_six_doses_turn_back_warm_first_and_cold_last_and_the_seventh_never() {
    let mut session = ours();
    session.go_on().expect("from the brief");
    let mut previous = [0.0; 3];
    for dose in 1..=7 {
        let events = play_dose(&mut session);
        let answer = session.answers().last().expect("locked").clone();
        let times: Vec<_> = (0..3).map(|beaker| session.turned_back_s(&answer, beaker)).collect();
        if dose <= 6 {
            let [cold, room, warm] = [0, 1, 2].map(|beaker: usize| times[beaker].expect("turns back"));
            assert!(warm < room && room < cold, "dose {dose}: {times:?}");
            for (now, before) in [cold, room, warm].into_iter().zip(previous) {
                assert!(now > before, "each dose takes longer: {times:?} after {previous:?}");
            }
            previous = [cold, room, warm];
        } else {
            assert_eq!(times, [None; 3]);
            let clear = events.iter().filter(|event| event.kind == EventKind::Clear).count();
            assert_eq!(clear, 3, "every beaker clears in dose 7");
            let rest_s = session.clock().now_s();
            for beaker in 0..3 {
                assert!(session.reading(beaker, rest_s).ph < 3.0);
            }
            let outcome = session.outcome(&answer).expect("at rest");
            assert_eq!((outcome.clarity, Band::of_ph(outcome.ph_at_rest)), (Clarity::Clear, Band::Red));
        }
        session.go_on().expect("explained");
    }
}

/// model.md's reference integration of the same scenario, isothermal at 2, 21 and 34 °C, with
/// rests of "minutes" between doses: seconds to pH 7 for doses 1 to 6. Ours stand in real
/// baths and rest 300 s each, hence the tolerance of a twelfth and a second.
#[test]
fn the_times_are_those_of_the_reference_integration() {
    const BY_SCIPY: [[f64; 6]; 3] = [
        [52.0, 70.0, 92.0, 120.0, 165.0, 262.0],
        [15.0, 20.0, 26.0, 34.0, 48.0, 74.0],
        [10.0, 12.0, 16.0, 20.0, 27.0, 42.0],
    ];
    let mut session = with(&[], &[("held", "2", ""), ("held", "21", ""), ("held", "34", "")]);
    session.go_on().expect("from the brief");
    for dose in 0..6 {
        play_dose(&mut session);
        let answer = session.answers()[dose].clone();
        for beaker in 0..3 {
            let seconds = session.turned_back_s(&answer, beaker).expect("turns back");
            let expected = BY_SCIPY[beaker][dose];
            println!("beaker {beaker} dose {} {seconds:.2} s, reference {expected} s", dose + 1);
            assert!((seconds - expected).abs() <= expected / 12.0 + 1.0);
        }
        session.go_on().expect("explained");
    }
}

#[test]
fn capability_20_the_first_base_dose_brings_the_blue_side_and_the_cloud_back() {
    let mut session = ours();
    session.go_on().expect("from the brief");
    for _ in 0..7 {
        play_dose(&mut session);
        session.go_on().expect("explained");
    }
    assert_eq!(session.current_step().map(|(_, step)| step.reagent), Some(Reagent::Base));
    let events = play_dose(&mut session);
    let rest_s = session.clock().now_s();
    for beaker in 0..3 {
        let reading = session.reading(beaker, rest_s);
        assert!(matches!(Band::of_ph(reading.ph), Band::Blue | Band::Violet), "pH {}", reading.ph);
        assert!(reading.suspended_bulk_g_l() > 0.1);
        let cloudy = |event: &Event| event.kind == EventKind::Cloudy && event.beaker == Some(beaker);
        assert!(events.iter().any(cloudy));
    }
}

#[test]
fn the_lesson_goes_through_its_stages_and_in_no_other_order() {
    let mut session = ours();
    let not_now = |stage| SessionError::NotNow { stage };
    assert_eq!(session.stage(), Stage::Brief);
    assert_eq!(session.lock(&some_guess()), Err(not_now(Stage::Brief)));
    session.go_on().expect("from the brief");
    assert_eq!(session.see(&GuessText::default()), Err(not_now(Stage::Ask)));
    assert_eq!(session.go_on(), Err(not_now(Stage::Ask)));
    session.lock(&some_guess()).expect("complete");
    assert_eq!(session.lock(&some_guess()), Err(not_now(Stage::Watch)));
    assert_eq!(session.go_on(), Err(not_now(Stage::Watch)));
    run_to_rest(&mut session, 1.0);
    assert_eq!(session.stage(), Stage::See);
    assert_eq!(session.go_on(), Err(not_now(Stage::See)));
    session.see(&GuessText::default()).expect("at rest");
    assert_eq!(session.stage(), Stage::Explain);
    session.go_on().expect("explained");
    assert_eq!(session.current_step().map(|(index, step)| (index, step.number)), Some((1, 2)));
}

#[test]
fn a_whole_lesson_ends_after_its_last_dose() {
    let mut session = ours();
    play_all(&mut session);
    assert_eq!(session.stage(), Stage::End);
    assert_eq!(session.answers().len(), 11);
    // Seven rests of 300 s and four of 60 s after the clock's start.
    assert_eq!(session.clock().now_s(), START_S + 7.0 * 300.0 + 4.0 * 60.0);
}

#[test]
fn an_incomplete_guess_pours_nothing() {
    let mut session = ours();
    session.go_on().expect("from the brief");
    let mut guess = some_guess();
    guess.seconds = None;
    assert!(matches!(session.lock(&guess), Err(SessionError::Answers(errors)) if errors.len() == 1));
    assert_eq!(session.stage(), Stage::Ask);
    assert!(session.bench().log().is_empty() && session.events().is_empty());
}

#[test]
fn an_answer_is_compared_with_what_its_beaker_did() {
    let mut session = ours();
    session.go_on().expect("from the brief");
    play_dose(&mut session);
    let outcome = session.outcome(&session.answers()[0]).expect("at rest");
    assert_eq!(match_band(Band::Red, outcome.ph_at_once), Match::Same);
    assert_eq!(match_band(Band::Violet, outcome.ph_at_rest), Match::Same);
    assert_eq!(outcome.clarity, Clarity::Milky);
    assert_eq!(outcome.first(), First::Beaker(2));
    assert_eq!(session.lesson().recipe.value(Field::DoseMl), 2.0);
}

#[test]
fn recipes_at_the_ends_of_the_form_run_without_a_nan() {
    let recipes: [&[(&str, &str)]; 8] = [
        &[("suspensionMl", "0")],
        &[("suspensionMgMl", "0"), ("acidMolL", "0")],
        &[("acidMolL", "0")],
        &[("acidDoses", "0")],
        &[("waterMl", "10"), ("suspensionMl", "0"), ("vesselMl", "60"), ("doseMl", "0.1"), ("indicatorMl", "0")],
        &[("waterMl", "5000"), ("suspensionMl", "500"), ("suspensionMgMl", "400"), ("vesselMl", "6000")],
        &[
            ("waterMl", "10"),
            ("suspensionMl", "500"),
            ("suspensionMgMl", "400"),
            ("vesselMl", "6000"),
            ("doseMl", "50"),
            ("acidMolL", "6"),
            ("baseMolL", "6"),
        ],
        &[
            ("waterMl", "10"),
            ("suspensionMl", "0"),
            ("vesselMl", "6000"),
            ("doseMl", "50"),
            ("acidMolL", "6"),
            ("baseMolL", "6"),
            ("stirRpm", "0"),
            ("pourS", "10"),
        ],
    ];
    for changes in recipes {
        let mut session = with(changes, &[("ice", "30", "40"), ("plate", "60", ""), ("bath", "0", "")]);
        play_all(&mut session);
        let end_s = session.clock().now_s();
        for beaker in 0..3 {
            for point in 0..200 {
                let reading = session.reading(beaker, end_s * f64::from(point) / 199.0);
                assert!(reading.ph.is_finite() && reading.temperature_k > 250.0, "{changes:?} {reading:?}");
                assert!(reading.solid_mol() >= 0.0 && reading.water_kg > 0.0, "{changes:?} {reading:?}");
            }
        }
    }
}
