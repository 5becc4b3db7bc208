//! The session: one clock, the guided lesson played from brief to end, the free bench, and
//! the check code of a run. The scenario is our own (Room 12).

use turnback::chemistry::Reagent;
use turnback::colour::{Band, Clarity};
use turnback::lesson::{BeakerText, Field, GuessText, Lesson, Match, Recipe, RecipeText, match_band};
use turnback::session::{Event, EventKind, PourText, SPEEDS, START_S, Session, SessionError, Stage};

fn ours() -> Session {
    Session::new(Lesson::default()).expect("our scenario begins")
}

fn with(changes: &[(&str, &str)], kinds: &[(&str, &str, &str)]) -> Session {
    let mut text: RecipeText = Recipe::default().to_text();
    for (key, value) in changes {
        text.fields.insert((*key).to_owned(), (*value).to_owned());
    }
    if !kinds.is_empty() {
        let typed = |(kind, celsius, ice_g): &(&str, &str, &str)| BeakerText {
            kind: (*kind).to_owned(),
            celsius: (*celsius).to_owned(),
            ice_g: (*ice_g).to_owned(),
        };
        text.beakers = kinds.iter().map(typed).collect();
    }
    let recipe = Recipe::from_text(&text).expect("within the limits");
    Session::new(Lesson::of_recipe(recipe)).expect("begins")
}

/// Any complete answer: what it says changes nothing in the beakers.
fn some_guess() -> GuessText {
    let some = |text: &str| Some(text.to_owned());
    GuessText {
        at_once: some("red"),
        at_rest: some("green"),
        clarity: some("milky"),
        seconds: some("20"),
        first: some("same"),
        why: some("because"),
    }
}

fn run_to_rest(session: &mut Session, real_s: f64) -> Vec<Event> {
    let mut events = Vec::new();
    while session.stage() == Stage::Watch {
        events.extend(session.tick(real_s).expect("runs"));
    }
    events
}

/// Locks, watches at speed 16 and says nothing; returns what happened.
fn play_dose(session: &mut Session) -> Vec<Event> {
    let mut events = session.lock(&some_guess()).expect("a complete guess");
    session.set_speed(16);
    events.extend(run_to_rest(session, 1.0));
    session.see(&GuessText::default()).expect("at rest");
    events
}

fn play_all(session: &mut Session) {
    session.go_on().expect("from the brief");
    while session.stage() == Stage::Ask {
        play_dose(session);
        session.go_on().expect("explained");
    }
}

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
fn the_clock_stands_outside_a_run_and_stops_exactly_at_rest() {
    let mut session = ours();
    assert_eq!(session.tick(1.0), Ok(Vec::new()));
    session.go_on().expect("from the brief");
    assert_eq!(session.next_event(), Ok(Vec::new()));
    assert_eq!(session.clock().now_s(), START_S);
    session.lock(&some_guess()).expect("complete");
    session.set_speed(16);
    let events = run_to_rest(&mut session, 0.77);
    assert_eq!(session.clock().now_s(), START_S + 300.0);
    assert_eq!(events.last().map(|event| (event.kind, event.beaker)), Some((EventKind::Rest, None)));
    assert_eq!(session.tick(1.0), Ok(Vec::new()));
    assert_eq!(session.clock().now_s(), START_S + 300.0);
}

#[test]
fn a_clock_that_jumps_or_is_no_number_shows_at_most_one_second() {
    let mut session = ours();
    session.go_on().expect("from the brief");
    session.lock(&some_guess()).expect("complete");
    for (real_s, expected) in [(3600.0, 11.0), (f64::NAN, 11.0), (-5.0, 11.0), (f64::INFINITY, 12.0)] {
        session.tick(real_s).expect("runs");
        assert_eq!(session.clock().now_s(), expected);
    }
    session.set_held(true);
    session.tick(1.0).expect("holds");
    assert_eq!(session.clock().now_s(), 12.0);
    session.set_speed(1000);
    assert_eq!(session.clock().speed(), SPEEDS[0]);
}

#[test]
fn nothing_later_than_now_can_be_read_before_the_lock_or_after_it() {
    let mut session = ours();
    session.go_on().expect("from the brief");
    for beaker in 0..3 {
        let now = session.reading(beaker, START_S);
        for time_s in [START_S + 0.1, 30.0, 1e9, f64::INFINITY, f64::NAN] {
            assert_eq!(session.reading(beaker, time_s), now);
        }
        assert_eq!(session.reading(beaker, -1.0), session.reading(beaker, 0.0));
    }
    session.lock(&some_guess()).expect("complete");
    session.tick(0.5).expect("runs");
    assert_eq!(session.reading(1, 60.0), session.reading(1, START_S + 0.5));
    // What is past can be looked at again.
    assert!(session.reading(1, START_S).ph > session.reading(1, START_S + 0.5).ph);
}

#[test]
fn next_event_stops_where_each_beaker_turns_back_and_then_at_rest() {
    let mut session = ours();
    session.go_on().expect("from the brief");
    session.lock(&some_guess()).expect("complete");
    let answer = session.answers()[0].clone();
    for beaker in [2, 1, 0] {
        let events = session.next_event().expect("runs");
        let last = events.last().expect("an event");
        assert_eq!(last.beaker, Some(beaker));
        assert!(matches!(last.kind, EventKind::TurnedBack { .. }));
        assert_eq!(last.at_s, session.clock().now_s());
        assert!(session.turned_back_s(&answer, beaker).is_some());
    }
    let events = session.next_event().expect("runs");
    assert_eq!(events.last().map(|event| event.kind), Some(EventKind::Rest));
    assert_eq!(session.clock().now_s(), START_S + 300.0);
}

#[test]
fn capability_5_every_speed_and_frame_rate_records_the_same_events_and_the_same_check_code() {
    let run = |real_s: f64, speed: u32, look: bool| {
        let mut session = ours();
        session.go_on().expect("from the brief");
        for _ in 0..2 {
            session.lock(&some_guess()).expect("complete");
            session.set_speed(speed);
            while session.stage() == Stage::Watch {
                session.tick(real_s).expect("runs");
                if look {
                    let _ = (session.reading(0, session.clock().now_s() / 2.0), session.check_code());
                }
            }
            session.see(&GuessText::default()).expect("at rest");
            session.go_on().expect("explained");
        }
        (session.events().to_vec(), session.check_code().to_string())
    };
    let (events, code) = run(1.0, 16, false);
    assert!(events.len() > 20);
    for (real_s, speed, look) in [(0.016, 4, false), (0.033_333, 1, false), (0.7, 1, true)] {
        assert_eq!(run(real_s, speed, look), (events.clone(), code.clone()), "{real_s} s at {speed}");
    }
    let mut stepping = ours();
    stepping.go_on().expect("from the brief");
    for _ in 0..2 {
        stepping.lock(&some_guess()).expect("complete");
        while stepping.stage() == Stage::Watch {
            stepping.next_event().expect("runs");
        }
        stepping.see(&GuessText::default()).expect("at rest");
        stepping.go_on().expect("explained");
    }
    assert_eq!((stepping.events().to_vec(), stepping.check_code().to_string()), (events, code));
}

#[test]
fn the_check_code_tells_runs_apart_and_answers_not() {
    let code_after = |session: &mut Session, guess: &GuessText| {
        session.go_on().expect("from the brief");
        session.lock(guess).expect("complete");
        run_to_rest(session, 1.0);
        session.check_code().to_string()
    };
    let mut other_guess = some_guess();
    other_guess.at_rest = Some("red".to_owned());
    let code = code_after(&mut ours(), &some_guess());
    assert_eq!(code_after(&mut ours(), &other_guess), code);
    assert_ne!(code_after(&mut with(&[("doseMl", "2.01")], &[]), &some_guess()), code);
    assert_ne!(code_after(&mut with(&[("roomC", "21.1")], &[]), &some_guess()), code);
    assert_eq!(code.len(), 9);
    assert_eq!(code.find('-'), Some(4));
    assert!(code.chars().all(|sign| sign == '-' || "23456789ABCDEFGHJKLMNPQRSTUVWXYZ".contains(sign)));
}

#[test]
fn the_free_bench_waits_until_the_guided_lesson_is_over() {
    let mut session = ours();
    let pour = PourText { beakers: vec![0], reagent: "acid".into(), volume_ml: "2.0".into() };
    session.go_on().expect("from the brief");
    assert_eq!(session.begin(true), Err(SessionError::LessonOpen));
    assert_eq!(session.pour(&pour), Err(SessionError::NotNow { stage: Stage::Ask }));
    assert_eq!(session.set_stirrer(&[0], "0"), Err(SessionError::NotNow { stage: Stage::Ask }));
    let bath = BeakerText { kind: "room".into(), ..BeakerText::default() };
    assert_eq!(session.set_bath(&[0], &bath), Err(SessionError::NotNow { stage: Stage::Ask }));
    while session.stage() != Stage::End {
        play_dose(&mut session);
        session.go_on().expect("explained");
    }
    assert_eq!(session.begin(true), Ok(()));
    assert_eq!((session.stage(), session.clock().now_s()), (Stage::Free, START_S));
}

fn free() -> Session {
    let mut session = ours();
    session.begin(true).expect("nothing is under way");
    session
}

fn pour(beakers: &[usize], reagent: &str, volume_ml: &str) -> PourText {
    PourText { beakers: beakers.to_vec(), reagent: reagent.into(), volume_ml: volume_ml.into() }
}

#[test]
fn a_free_pour_falls_on_the_next_tenth_of_a_second_in_its_beakers_only() {
    let mut session = free();
    session.tick(0.123).expect("runs");
    let events = session.pour(&pour(&[0, 2], "acid", "2,0")).expect("poured");
    let at: Vec<_> = session.bench().log().iter().map(|entry| (entry.at_ds, entry.beaker)).collect();
    assert_eq!(at, [(102, 0), (102, 2)]);
    assert_eq!(events.iter().filter(|event| event.kind.key() == "poured").count(), 2);
    for _ in 0..5 {
        session.tick(1.0).expect("runs");
    }
    assert!(session.reading(0, 15.0).ph < 4.0 && session.reading(1, 15.0).ph > 10.0);
}

#[test]
fn a_free_pour_says_everything_that_is_wrong_with_it() {
    let mut session = free();
    let keys = |result: Result<Vec<Event>, SessionError>| match result {
        Err(SessionError::Fields(errors)) => errors.iter().map(|error| error.key).collect::<Vec<_>>(),
        other => panic!("{other:?}"),
    };
    assert_eq!(keys(session.pour(&pour(&[], "tea", "abc"))), ["unknown", "notANumber", "empty"]);
    assert_eq!(keys(session.pour(&pour(&[3], "acid", "2"))), ["unknown"]);
    assert_eq!(keys(session.pour(&pour(&[0, 0], "acid", "2"))), ["unknown"]);
    // 600 mL hold 520 mL and some 80 mL more.
    assert_eq!(keys(session.pour(&pour(&[0], "acid", "90"))), ["overflow"]);
    assert_eq!(keys(session.set_stirrer(&[0], "1201")), ["tooBig"]);
    let ice = BeakerText { kind: "ice".into(), celsius: "5".into(), ice_g: "10".into() };
    assert_eq!(keys(session.set_bath(&[0], &ice)), ["notNow"]);
    assert!(session.bench().log().is_empty());
}

#[test]
fn a_second_pour_waits_for_the_first_and_no_beaker_gets_half_of_it() {
    let mut session = free();
    session.pour(&pour(&[1], "acid", "2")).expect("poured");
    let again = session.pour(&pour(&[0, 1], "acid", "2"));
    assert!(matches!(again, Err(SessionError::StillPouring { .. })), "{again:?}");
    assert_eq!(session.bench().log().len(), 1);
    for _ in 0..2 {
        session.tick(1.0).expect("runs");
    }
    session.pour(&pour(&[0, 1], "acid", "2")).expect("the first has run in");
}

#[test]
fn without_stirring_the_solid_settles_and_stirring_takes_it_up_again() {
    let mut session = free();
    session.set_speed(16);
    session.set_stirrer(&[0, 1, 2], "0").expect("set");
    for _ in 0..120 {
        session.tick(1.0).expect("runs");
    }
    let settled = session.reading(1, f64::INFINITY);
    assert!(settled.solid_settled_mol > 0.1 * settled.solid_mol());
    session.set_stirrer(&[1], "300").expect("set");
    session.tick(1.0).expect("runs");
    session.tick(1.0).expect("runs");
    let stirred = session.reading(1, f64::INFINITY);
    assert!(stirred.solid_settled_mol < 0.01 * stirred.solid_mol());
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

#[test]
fn an_answer_is_compared_with_what_its_beaker_did() {
    let mut session = ours();
    session.go_on().expect("from the brief");
    play_dose(&mut session);
    let outcome = session.outcome(&session.answers()[0]).expect("at rest");
    assert_eq!(match_band(Band::Red, outcome.ph_at_once), Match::Same);
    assert_eq!(match_band(Band::Violet, outcome.ph_at_rest), Match::Same);
    assert_eq!(outcome.clarity, Clarity::Milky);
    assert_eq!(outcome.first(), turnback::lesson::First::Beaker(2));
    assert_eq!(session.lesson().recipe.value(Field::DoseMl), 2.0);
}

#[test]
fn a_free_run_with_the_same_actions_is_the_same_at_every_frame_rate() {
    let run = |ticks: u32, speed: u32| {
        let mut session = free();
        let pass = |session: &mut Session| {
            session.set_speed(speed);
            for _ in 0..ticks {
                session.tick(16.0 / f64::from(ticks * speed)).expect("runs");
            }
        };
        pass(&mut session);
        session.pour(&pour(&[0, 1, 2], "acid", "2,0")).expect("poured");
        pass(&mut session);
        session.set_stirrer(&[1], "0").expect("set");
        pass(&mut session);
        session.pour(&pour(&[1], "base", "0,5")).expect("poured");
        for _ in 0..4 {
            pass(&mut session);
        }
        session.check_code().to_string()
    };
    // 16 s in 16, 64 or 256 steps: all of them exact in binary.
    let code = run(16, 1);
    assert_eq!([run(64, 1), run(256, 1), run(64, 4), run(16, 16)], [(); 4].map(|()| code.clone()));
}

mod random_lessons {
    use super::*;
    use proptest::prelude::*;

    /// A number within a field's limits, and now and then one of the two limits.
    fn typed(field: Field) -> impl Strategy<Value = String> {
        let limits = *field.limits();
        let scale = 10_f64.powi(limits.finest as i32);
        // Many long doses take long; what they could break, few break too.
        let max = match field {
            Field::AcidDoses | Field::BaseDoses => 4.0,
            Field::RestS | Field::BaseRestS => 200.0,
            Field::WaterMl => 3000.0,
            _ => limits.max,
        };
        let (low, high) = ((limits.min * scale) as u32, (max * scale) as u32);
        let steps = prop_oneof![1 => Just(low), 1 => Just(high), 6 => low..=high];
        steps.prop_map(move |step| (f64::from(step) / scale).to_string())
    }

    fn recipe() -> impl Strategy<Value = Recipe> {
        let fields: Vec<_> = Field::ALL.into_iter().map(typed).collect();
        let beaker = (prop::sample::select(turnback::lesson::KINDS.to_vec()), 0..=600_u32, 0..=2000_u32).prop_map(
            |(kind, tenths_c, tenths_g)| BeakerText {
                kind: kind.to_owned(),
                celsius: (f64::from(tenths_c) / 10.0).to_string(),
                ice_g: (f64::from(tenths_g) / 10.0).to_string(),
            },
        );
        (fields, prop::collection::vec(beaker, 1..=2)).prop_map(|(fields, beakers)| {
            let keys = Field::ALL.into_iter().map(|field| field.key().to_owned());
            let mut text = RecipeText { fields: keys.zip(fields).collect(), beakers };
            // The largest vessel holds whatever the others ask for.
            text.fields.insert("vesselMl".to_owned(), "6000".to_owned());
            Recipe::from_text(&text).expect("within the limits")
        })
    }

    fn check(session: &Session) -> Result<(), TestCaseError> {
        for beaker in 0..session.bench().len() {
            for point in 0..=60 {
                let time_s = session.clock().now_s() * f64::from(point) / 60.0;
                let reading = session.reading(beaker, time_s);
                prop_assert!((-2.0..16.0).contains(&reading.ph), "{:?}", reading);
                prop_assert!((250.0..400.0).contains(&reading.temperature_k), "{:?}", reading);
                prop_assert!(reading.water_kg > 0.0 && reading.solid_mol() >= 0.0, "{:?}", reading);
                // Dissolved magnesium is a small difference of large amounts. A step may err by 2e-4 of
                // what the plume holds and 2e-5 of what the bulk holds (`chemistry/error.rs`): where
                // strong base leaves no magnesium, it is known to less than this part of the salt.
                // What is shown stops at zero.
                let known_to_mol = 1e-4 * (reading.chloride_mol + reading.sodium_mol) + 1e-9;
                prop_assert!(reading.magnesium_mol > -known_to_mol && reading.ice_kg >= 0.0, "{:?}", reading);
            }
        }
        Ok(())
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

        #[test]
        fn any_lesson_runs_to_its_end_without_a_nan(recipe in recipe()) {
            let mut session = Session::new(Lesson::of_recipe(recipe)).expect("begins");
            play_all(&mut session);
            check(&session)?;
        }

        #[test]
        fn anything_done_on_the_free_bench_runs_without_a_nan(
            recipe in recipe(),
            deeds in prop::collection::vec((0..3_u32, 0..1200_u32, 0.0..30.0_f64), 1..12),
        ) {
            let mut session = Session::new(Lesson::of_recipe(recipe)).expect("begins");
            session.begin(true).expect("nothing is under way");
            session.set_speed(16);
            for (deed, amount, wait_s) in deeds {
                let _ = match deed {
                    0 => session.pour(&pour(&[0], "acid", &(f64::from(amount) / 20.0).to_string())),
                    1 => session.pour(&pour(&[0], "base", &(f64::from(amount) / 20.0).to_string())),
                    _ => session.set_stirrer(&[0], &amount.to_string()),
                };
                for _ in 0..=(wait_s as u32) {
                    session.tick(wait_s / 16.0).expect("runs");
                }
            }
            check(&session)?;
        }
    }
}
