//! The plan foretells what the lesson does, to the last bit, and quickly enough to follow the
//! typing hand.

use turnback::lesson::{GuessText, Lesson, Recipe};
use turnback::session::{Expected, Session, Stage, expected};

fn ours_with(changes: &[(&str, &str)]) -> Lesson {
    let mut text = Recipe::default().to_text();
    for (key, value) in changes {
        text.fields.insert((*key).to_owned(), (*value).to_owned());
    }
    Lesson::of_recipe(Recipe::from_text(&text).expect("within the limits"))
}

fn some_guess() -> GuessText {
    let some = |text: &str| Some(text.to_owned());
    GuessText {
        at_once: some("red"),
        at_rest: some("green"),
        clarity: some("milky"),
        seconds: some("20"),
        first: some("same"),
        why: None,
    }
}

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

/// One right-hand side or step more is a slower plan: print the time, fail only far off.
#[test]
fn a_plan_is_quick_enough_for_a_typing_hand() {
    let lesson = ours_with(&[]);
    let started = std::time::Instant::now();
    for beaker in 0..3 {
        assert_eq!(expected(&lesson, beaker).expect("runs").len(), 11);
    }
    println!("three beakers: {:.2} ms", started.elapsed().as_secs_f64() * 1e3);
}
