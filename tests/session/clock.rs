//! One clock: when it stands, what it meets, and that nothing hangs on how it is looked at.

use turnback::lesson::GuessText;
use turnback::session::{EventKind, SPEEDS, START_S, Session, Stage};

use crate::{ours, run_to_rest, some_guess, with};

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
