//! The free bench.

use turnback::lesson::BeakerText;
use turnback::session::{Event, PourText, START_S, Session, SessionError, Stage};

use crate::{ours, play_dose, pour};

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
