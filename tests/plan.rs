//! The plan foretells what the lesson does, to the last bit, tells what to think about, and is
//! not to be had while a guided lesson is under way.

use serde_json::{Value, json};
use turnback::lesson::{GuessText, Lesson, LessonFile, Recipe, RecipeText, Teacher};
use turnback::session::{Expected, Session, Stage, clarity_of, expected};
use turnback::view::{PlanView, Screen};

#[path = "session/guess.rs"]
mod guess;
use guess::some_guess;

#[test]
fn the_plan_of_our_scenario_is_what_the_lesson_then_shows() {
    let lesson = Lesson::default();
    let planned: Vec<Vec<Expected>> = (0..3).map(|beaker| expected(&lesson, beaker).expect("runs")).collect();
    let mut session = Session::new(lesson).expect("begins");
    session.go_on().expect("from the brief");
    for dose in 0..11 {
        session.lock(&some_guess()).expect("complete");
        while session.stage() == Stage::Watch {
            session.next_event().expect("runs");
        }
        let answer = session.answers().last().expect("locked").clone();
        for beaker in 0..3 {
            let planned = planned[beaker][dose];
            let reading = session.reading(beaker, session.clock().now_s());
            assert_eq!((planned.ph_at_rest, planned.solid_g), (reading.ph, reading.solid_g()), "dose {dose}");
            assert_eq!(Some(planned.ph_at_once), session.ph_at_once(&answer, beaker), "dose {dose}");
            assert_eq!(planned.clarity_at_rest, clarity_of(&reading, session.bench().path_cm()), "dose {dose}");
            match (planned.turned_back_s, session.turned_back_s(&answer, beaker)) {
                // Both bisect the same path to a microsecond, from unlike looks at it.
                (Some(planned_s), Some(seen_s)) => assert!((planned_s - seen_s).abs() < 1e-5, "dose {dose}"),
                (None, None) => {}
                differ => panic!("dose {dose}, beaker {beaker}: {differ:?}"),
            }
        }
        session.see(&GuessText::default()).expect("at rest");
        session.go_on().expect("explained");
    }
    assert_eq!(session.stage(), Stage::End);
}

fn screen() -> Screen {
    Screen::new().expect("our scenario begins")
}

/// Our scenario's file with some values of its recipe, or its beakers, altered.
fn draft(changes: &[(&str, Value)]) -> Value {
    let mut file = serde_json::to_value(LessonFile::of(&Lesson::default())).expect("keys are text");
    // The numbers of doses decide.
    file["steps"] = Value::Null;
    for (key, value) in changes {
        let place = if *key == "beakers" { &mut file } else { &mut file["recipe"] };
        place[key] = value.clone();
    }
    file
}

/// The whole plan of a draft, asked for until nothing is pending.
fn plan(screen: &mut Screen, minutes: f64, changes: &[(&str, Value)]) -> PlanView {
    loop {
        let view = screen.plan(minutes, Some(Lesson::from_tree(&draft(changes)))).expect("a plan");
        if view.pending == 0 {
            return view;
        }
    }
}

fn warnings(view: &PlanView) -> Vec<&'static str> {
    view.warnings.iter().map(|warning| warning.key).collect()
}

#[test]
fn one_beaker_is_computed_at_a_call_and_none_twice() {
    let mut screen = screen();
    let pending = |screen: &mut Screen, changes: &[(&str, Value)]| {
        let view = screen.plan(0.0, Some(Lesson::from_tree(&draft(changes)))).expect("a plan");
        (view.pending, view.beakers.iter().map(Option::is_some).collect::<Vec<_>>())
    };
    assert_eq!(pending(&mut screen, &[]), (2, vec![true, false, false]));
    assert_eq!(pending(&mut screen, &[]), (1, vec![true, true, false]));
    assert_eq!(pending(&mut screen, &[]), (0, vec![true, true, true]));
    // The indicator's volume alters the colour and the freeboard; the path is kept by all numbers.
    assert_eq!(pending(&mut screen, &[("doseMl", json!(1))]).0, 2);
    assert_eq!(pending(&mut screen, &[]).0, 0);
    // Without a draft the lesson itself is planned.
    assert_eq!(screen.plan(0.0, None).map(|view| view.pending), Ok(0));
}

/// The reference integration (scipy, isothermal, rests of minutes): dose 1 takes 52, 15 and 10 s
/// at 2, 21 and 34 °C, dose 6 262, 74 and 42 s. Ours rest 300 s each: a twelfth and a second.
#[test]
fn the_plan_tells_the_seconds_of_each_dose_and_that_the_seventh_stays() {
    let held = |celsius: u32| json!({"kind": "held", "celsius": celsius});
    let view = plan(&mut screen(), 45.0, &[("beakers", json!([held(2), held(21), held(34)]))]);
    for (beaker, by_scipy) in view.beakers.iter().zip([[52.0, 262.0], [15.0, 74.0], [10.0, 42.0]]) {
        let doses = beaker.as_ref().expect("computed");
        assert_eq!(doses.len(), 11);
        for (dose, by_scipy) in [(0, by_scipy[0]), (5, by_scipy[1])] {
            let seconds = doses[dose].seconds.expect("turns back");
            assert!((seconds - by_scipy).abs() < by_scipy / 12.0 + 1.0, "{seconds} s against {by_scipy} s");
        }
        assert_eq!(doses[6].seconds, None);
        assert!(doses[6].ph < 3.0 && doses[6].solid_g < 0.005, "{:?}", doses[6]);
        assert_eq!((doses[6].band_at_once, doses[6].band_at_rest), ("red", "red"));
    }
    // The books by hand: 20.58 mmol - 9.00 mmol of 58.32 g/mol are 0.675 g after dose 3.
    assert_eq!((view.ledger.len(), format!("{:.3}", view.ledger[3].solid_left_g).as_str()), (12, "0.675"));
    // The brief, eleven doses, the end; the predictions are about the middle beaker.
    assert_eq!((view.places.len(), view.subject), (13, 1));
    assert_eq!(warnings(&view), ["perhapsLater", "tooFull"]);
}

/// 7 x 300 s + 4 x 60 s = 2,340 s on the lesson's clock, 39.0 min. Talk by hand, level 2: 120 s of
/// brief with one question and 120 s of end with one question; doses 1, 3 and 7 with seven, eight
/// and six questions, 105 + 120 + 90 + 3 x 45; the first of base with four, 60 + 45; seven others
/// with one, 7 x (15 + 10): 270 + 450 + 105 + 175 = 1,000 s, 16.7 min.
#[test]
fn the_lesson_fits_into_a_slot_at_the_slowest_speed_that_is_fast_enough() {
    let mut screen = screen();
    let view = plan(&mut screen, 45.0, &[]);
    assert_eq!(format!("{:.1}", view.talk_min), "16.7");
    let minutes: Vec<_> = view.speeds.iter().map(|speed| format!("{:.1}", speed.minutes)).collect();
    assert_eq!(minutes, ["55.7", "26.4", "19.1"]);
    assert_eq!(view.speed, Some(4));
    assert_eq!(plan(&mut screen, 60.0, &[]).speed, Some(1));
    assert_eq!(plan(&mut screen, 20.0, &[]).speed, Some(16));
    let short = plan(&mut screen, 10.0, &[]);
    assert_eq!((short.speed, warnings(&short).contains(&"slotTooShort")), (None, true));
    assert!(!warnings(&plan(&mut screen, 0.0, &[])).contains(&"slotTooShort"));
}

#[test]
fn a_plan_tells_what_there_is_to_think_about() {
    let mut screen = screen();
    // 2 mol/L take 10.3 doses, the eleventh is the first to stay.
    let weak = plan(&mut screen, 0.0, &[("acidMolL", json!(2))]);
    let warning = weak.warnings.iter().find(|warning| warning.key == "noEndPoint").expect("warned");
    assert_eq!((warning.numbers["doses"], warning.numbers["needed"]), (7.0, 11.0));
    assert!(warnings(&plan(&mut screen, 0.0, &[("acidMolL", json!(0))])).contains(&"noAcid"));
    // Ten seconds are too short for the cold beaker at the first dose (52 s by scipy).
    let hasty = plan(&mut screen, 0.0, &[("restS", json!(10))]);
    let warning = hasty.warnings.iter().find(|warning| warning.key == "notBack").expect("warned");
    assert_eq!((warning.numbers["beaker"], warning.numbers["dose"], warning.numbers["restS"]), (0.0, 1.0, 10.0));
    // A litre beaker has room enough: 542 mL are 54 %.
    assert!(!warnings(&plan(&mut screen, 0.0, &[("vesselMl", json!(1000))])).contains(&"tooFull"));
    // 446 mL: 480 mL without the reversal are 80 %, 488 mL with it are too much.
    assert!(warnings(&plan(&mut screen, 0.0, &[("waterMl", json!(446))])).contains(&"tooFullWithReversal"));
}

#[test]
fn a_draft_that_is_refused_is_refused_field_by_field_and_overflow_is_one_of_the_reasons() {
    let mut screen = screen();
    let refused = |screen: &mut Screen, changes: &[(&str, Value)]| {
        let reply = screen.plan(45.0, Some(Lesson::from_tree(&draft(changes)))).expect_err("refused");
        reply.errors.iter().map(|error| (error.field, error.key)).collect::<Vec<_>>()
    };
    assert_eq!(refused(&mut screen, &[("waterMl", json!("abc"))]), [(Some("waterMl"), "notANumber")]);
    assert_eq!(refused(&mut screen, &[("vesselMl", json!(500))]), [(Some("vesselMl"), "overflow")]);
}

#[test]
fn no_plan_is_to_be_had_while_a_guided_lesson_is_under_way() {
    let mut screen = screen();
    assert!(screen.plan(45.0, None).is_ok());
    screen.go_on();
    assert_eq!(screen.plan(45.0, None).map_err(|reply| reply.key), Err(Some("lessonOpen")));
    screen.lock(&some_guess());
    assert!(screen.plan(45.0, None).is_err());
    let typed: RecipeText = Recipe::default().to_text();
    screen.set_recipe(&typed);
    assert!(screen.plan(45.0, None).is_ok());
}

/// The heads of a lesson's sheets bear its code: it must not change while the lesson runs, and it
/// tells two lessons apart that differ in no more than a title. The teacher's notes are in no
/// link and in no code.
#[test]
fn the_code_of_a_lesson_is_that_of_what_its_link_holds() {
    let code = |lesson: &Lesson| lesson.code().to_string();
    let ours = code(&Lesson::default());
    assert_eq!(ours.len(), 9);
    let mut session = Session::new(Lesson::default()).expect("begins");
    session.go_on().expect("from the brief");
    session.lock(&some_guess()).expect("complete");
    session.next_event().expect("runs");
    assert_eq!(code(session.lesson()), ours);
    assert_ne!(session.check_code().to_string(), ours);
    let noted = Lesson { teacher: Teacher { minutes: 45, notes: "behind the door".to_owned() }, ..Lesson::default() };
    assert_eq!(code(&noted), ours);
    assert_ne!(code(&Lesson { title: "Room 12".to_owned(), ..Lesson::default() }), ours);
    let mut wetter = Recipe::default().to_text();
    wetter.fields.insert("waterMl".to_owned(), "501".to_owned());
    assert_ne!(code(&Lesson::of_recipe(Recipe::from_text(&wetter).expect("within the limits"))), ours);
}
