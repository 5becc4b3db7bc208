//! The record: a lesson that was kept goes on exactly where it was, whatever was done in it.

use proptest::prelude::*;
use turnback::colour::Band;
use turnback::lesson::{
    Act, BeakerText, GuessText, KEPT_MAX_CHARS, Kept, Lesson, LinkError, Recipe, RecipeText, Run, Slip, latest_run,
};
use turnback::session::{PourText, Session, SessionError, Stage};

/// Three beakers, four doses of acid and one of base, and rests short enough to be tried often.
fn short_lesson() -> Lesson {
    let mut text: RecipeText = Recipe::default().to_text();
    for (key, value) in [("acidDoses", "4"), ("baseDoses", "1"), ("restS", "40"), ("baseRestS", "12")] {
        text.fields.insert(key.to_owned(), value.to_owned());
    }
    Lesson::of_recipe(Recipe::from_text(&text).expect("within the limits"))
}

fn begun() -> Session {
    Session::new(short_lesson()).expect("begins")
}

fn guess(colour: &str, why: &str) -> GuessText {
    let some = |text: &str| Some(text.to_owned());
    GuessText {
        at_once: some("red"),
        at_rest: some(colour),
        clarity: some("milky"),
        seconds: some("20.5"),
        first: some("2"),
        why: some(why),
    }
}

/// What can be told apart of two sessions.
#[derive(Debug, PartialEq)]
struct Seen {
    stage: Stage,
    now_bits: u64,
    code: String,
    answers: String,
    chosen: String,
    marks: String,
    record: String,
    events: String,
}

fn seen(session: &Session) -> Seen {
    Seen {
        stage: session.stage(),
        now_bits: session.clock().now_s().to_bits(),
        code: session.check_code().to_string(),
        answers: format!("{:?}", session.answers()),
        chosen: format!("{:?}", session.chosen()),
        marks: format!("{:?}", session.marks()),
        record: format!("{:?}", session.record()),
        events: format!("{:?}", session.events()),
    }
}

fn resumed(session: &Session) -> Session {
    let text = session.kept_text();
    assert!(text.len() < KEPT_MAX_CHARS);
    let kept = Kept::from_text(&text).expect("what was kept is read");
    assert_eq!(&kept.lesson, session.lesson());
    Session::resume(kept.lesson, kept.now_s, &kept.entries).expect("what was done can be done again")
}

#[test]
fn a_lesson_that_was_kept_at_any_step_goes_on_exactly_there() {
    let mut session = begun();
    let check = |session: &mut Session, where_: &str| {
        let again = resumed(session);
        assert_eq!(seen(&again), seen(session), "{where_}");
        *session = again;
    };
    session.room_is(100.0);
    check(&mut session, "brief");
    session.choose(0, "mixes").expect("asked in the brief");
    check(&mut session, "answered in the brief");
    session.go_on().expect("on to the first dose");
    check(&mut session, "ask");
    session.room_is(123.4);
    session.lock(&guess("green", "two lines\nof words, <b>not</b> markup")).expect("complete");
    check(&mut session, "just poured");
    session.set_speed(4);
    session.tick(1.0).expect("runs");
    session.tick(0.777).expect("runs");
    check(&mut session, "half way");
    session.set_held(true);
    session.room_is(300.0);
    session.set_held(false);
    session.mark(1, "green").expect("acid is watched");
    session.take_back(0).expect("just marked");
    session.next_event().expect("runs");
    session.mark(1, "teal").expect("taken back before");
    check(&mut session, "timed");
    while session.stage() == Stage::Watch {
        session.tick(1.0).expect("runs");
    }
    check(&mut session, "at rest");
    session.see(&GuessText { at_rest: Some("blue".to_owned()), ..GuessText::default() }).expect("at rest");
    check(&mut session, "explained");
    session.note("A note.").expect("short");
    session.sign("7b-12").expect("short");
    for dose in 2..=5 {
        session.go_on().expect("on");
        session.lock(&guess("teal", "")).expect("complete");
        session.set_speed(16);
        while session.stage() == Stage::Watch {
            session.tick(1.0).expect("runs");
        }
        check(&mut session, &format!("dose {dose}"));
        session.see(&GuessText::default()).expect("at rest");
    }
    session.go_on().expect("to the end");
    session.choose(0, "littleAtATime").expect("asked at the end");
    check(&mut session, "end");
    let (code, slip) = (session.check_code(), Slip::of(session.lesson().code(), session.reached(), session.record()));
    session.begin(true).expect("the lesson is over");
    check(&mut session, "free bench");
    session
        .pour(&PourText { beakers: vec![0, 2], reagent: "acid".to_owned(), volume_ml: "2,5".to_owned() })
        .expect("room");
    session.tick(0.95).expect("runs");
    session.set_stirrer(&[1], "0").expect("a stirrer");
    session
        .set_bath(&[1], &BeakerText { kind: "bath".into(), celsius: "40".into(), ice_g: String::new() })
        .expect("a bath");
    session.tick(0.33).expect("runs");
    check(&mut session, "poured freely");
    session.change(&[0], "finer").expect("a change");
    session.change(&[0, 1], "ice").expect("another");
    session.tick(1.0).expect("runs");
    check(&mut session, "changed");
    assert_eq!(session.reached().code, code, "the run's code is kept when the bench is cleared");
    assert_eq!(Slip::of(session.lesson().code(), session.reached(), session.record()), slip);
    session.begin(false).expect("once more");
    check(&mut session, "begun again");
    assert_eq!(Slip::of(session.lesson().code(), session.reached(), session.record()), slip);
    session.go_on().expect("on");
    session.lock(&guess("blue", "")).expect("complete");
    assert_eq!(latest_run(session.record()).1, 2, "a second try is told as one");
    check(&mut session, "second try");
}

#[test]
fn a_record_is_only_added_to() {
    let mut session = begun();
    let mut before = 0;
    let mut check = |session: &Session| {
        assert!(session.record().len() >= before);
        before = session.record().len();
    };
    session.go_on().expect("on");
    check(&session);
    session.lock(&guess("green", "")).expect("complete");
    session.mark(0, "green").expect("acid");
    check(&session);
    session.take_back(0).expect("there");
    check(&session);
    assert!(session.marks()[0].taken_back, "it stays, as one that was taken back");
    assert_eq!(session.marks().len(), 1);
}

#[test]
fn a_time_is_taken_only_of_acid_that_is_watched_and_once_for_each_beaker() {
    let mut session = begun();
    assert_eq!(session.mark(0, "green"), Err(SessionError::NotNow { stage: Stage::Brief }));
    session.go_on().expect("on");
    session.lock(&guess("green", "")).expect("complete");
    session.tick(1.0).expect("runs");
    assert!(matches!(session.mark(0, "plaid"), Err(SessionError::Fields(_))));
    assert!(matches!(session.mark(3, "green"), Err(SessionError::Fields(_))));
    session.mark(0, "green").expect("acid");
    assert!(matches!(session.mark(0, "teal"), Err(SessionError::Fields(_))), "it stands already");
    assert!(matches!(session.take_back(5), Err(SessionError::Fields(_))));
    while session.stage() == Stage::Watch {
        session.tick(1.0).expect("runs");
    }
    session.see(&GuessText::default()).expect("at rest");
    assert!(matches!(session.take_back(0), Err(SessionError::NotNow { .. })), "it was explained");
}

/// Row 5: a press at the same time of the lesson is the same time at every speed, and so is
/// what is computed for it.
#[test]
fn sixteen_times_the_speed_takes_the_same_times() {
    let at_speed = |speed: u32| {
        let mut session = begun();
        session.go_on().expect("on");
        session.lock(&guess("green", "")).expect("complete");
        session.set_speed(speed);
        for _ in 0..(16 / speed) * 2 {
            session.tick(0.5).expect("runs");
        }
        session.mark(1, "green").expect("acid");
        session.mark(2, "yellow").expect("acid");
        while session.stage() == Stage::Watch {
            session.tick(0.3).expect("runs");
        }
        let answer = session.answers()[0].clone();
        let computed: Vec<u64> = [(1, Band::Green), (2, Band::Yellow), (2, Band::Blue)]
            .iter()
            .map(|&(beaker, finish)| session.finish_s(&answer, beaker, finish).map_or(0, f64::to_bits))
            .collect();
        (session.marks().to_vec(), computed, session.check_code())
    };
    let (marks, computed, code) = at_speed(1);
    assert_eq!(marks[0].since_ds, 160);
    assert!(computed[0] != 0 && computed[1] != 0);
    assert_eq!(at_speed(16), (marks.clone(), computed.clone(), code));
    assert_eq!(at_speed(4), (marks, computed, code));
}

/// The time of a finish is a time of the model; green's is the very one that is told elsewhere.
#[test]
fn the_computed_time_of_green_is_that_of_turning_back() {
    let mut session = begun();
    session.go_on().expect("on");
    session.lock(&guess("green", "")).expect("complete");
    session.set_speed(16);
    while session.stage() == Stage::Watch {
        session.tick(1.0).expect("runs");
    }
    let answer = session.answers()[0].clone();
    let (found, told) = (session.finish_s(&answer, 1, Band::Green), session.turned_back_s(&answer, 1));
    assert!((found.expect("back") - told.expect("back")).abs() < 1e-3, "{found:?} {told:?}");
    let yellow = session.finish_s(&answer, 1, Band::Yellow).expect("back");
    assert!(yellow < found.expect("back"));
}

#[test]
fn the_computed_time_waits_for_the_students_own_or_for_the_rest() {
    let mut session = begun();
    session.go_on().expect("on");
    session.lock(&guess("green", "")).expect("complete");
    session.set_speed(16);
    session.tick(1.0).expect("runs");
    session.tick(1.0).expect("runs");
    let answer = session.answers()[0].clone();
    assert!(session.turned_back_s(&answer, 1).is_some(), "it is back by now");
    assert!(!session.may_tell_time(&answer, 1));
    session.mark(1, "green").expect("acid");
    assert!(session.may_tell_time(&answer, 1));
    assert!(!session.may_tell_time(&answer, 2));
    session.take_back(0).expect("there");
    assert!(!session.may_tell_time(&answer, 1));
    session.tick(1.0).expect("runs");
    assert_eq!(session.stage(), Stage::See);
    assert!(session.may_tell_time(&answer, 2));
}

/// The clock that leaps to a turning back shows its computed second: what is pressed then is no
/// time of the student's own, also after a reload.
#[test]
fn no_time_can_be_taken_of_a_turning_back_that_was_leapt_to() {
    let mut session = begun();
    session.go_on().expect("on");
    session.lock(&guess("green", "")).expect("complete");
    let events = session.next_event().expect("runs");
    let warm = 2;
    assert!(events.iter().any(|event| event.beaker == Some(warm)), "the warm beaker is the first");
    let refused = |session: &mut Session| matches!(session.mark(warm, "green"), Err(SessionError::Fields(_)));
    assert!(refused(&mut session));
    let answer = session.answers()[0].clone();
    assert!(session.may_tell_time(&answer, warm), "there is nothing left to give away");
    assert!(!session.may_tell_time(&answer, 1));
    let mut again = resumed(&session);
    assert!(refused(&mut again));
    again.tick(1.0).expect("runs");
    again.mark(1, "green").expect("nobody leapt to this one");
    while again.stage() == Stage::Watch {
        again.tick(1.0).expect("runs");
    }
    again.see(&GuessText::default()).expect("at rest");
    again.go_on().expect("on");
    again.lock(&guess("teal", "")).expect("complete");
    again.tick(1.0).expect("runs");
    again.mark(warm, "green").expect("a new dose");
    assert_eq!(resumed(&again).marks(), again.marks());
}

#[test]
fn a_kept_text_that_was_cut_or_altered_is_refused() {
    let mut session = begun();
    session.go_on().expect("on");
    session.lock(&guess("green", "ä \u{1f9ea}")).expect("complete");
    let text = session.kept_text();
    for end in 0..text.len() {
        assert!(Kept::from_text(&text[..end]).is_err(), "{end}");
    }
    assert_eq!(Kept::from_text(&text.replace("kept1.", "kept2.")), Err(LinkError::Newer { version: 2 }));
    assert_eq!(Kept::from_text("{\"some\": \"json\"}"), Err(LinkError::NotOurs));
    assert!(matches!(Kept::from_text(&"a".repeat(10_000_000)), Err(LinkError::TooLong { .. })));
}

/// A record in which something is done that could not be done then was not made by a session.
#[test]
fn acts_out_of_their_turn_are_refused() {
    let mut session = begun();
    session.go_on().expect("on");
    let mut entries = session.record().to_vec();
    entries.push(entries[0].clone());
    assert!(matches!(Session::resume(short_lesson(), 10.0, &entries), Err(SessionError::NotNow { .. })));
}

#[test]
fn a_run_that_is_told_again_has_the_same_code_and_no_words() {
    let mut session = begun();
    session.room_is(50.0);
    session.choose(0, "mixes").expect("asked in the brief");
    session.go_on().expect("on");
    session.room_is(110.0);
    session.lock(&guess("green", "Ada thinks so")).expect("complete");
    session.tick(1.0).expect("runs");
    session.set_held(true);
    session.room_is(200.0);
    session.set_held(false);
    while session.stage() == Stage::Watch {
        session.tick(1.0).expect("runs");
    }
    session.see(&GuessText { why: Some("as Ada said".to_owned()), ..GuessText::default() }).expect("at rest");
    session.sign("Ada").expect("short");
    session.note("from Ada").expect("short");
    let run = Run::of(session.lesson(), session.reached(), session.record());
    let text = run.text();
    let read = Run::from_text(&format!("#{text}")).expect("whole");
    assert_eq!(read, run);
    assert!(text.len() < 300, "{} characters", text.len());
    assert!(!format!("{read:?}").contains("Ada"));
    let holds: Vec<(u32, u32)> = read
        .entries
        .iter()
        .filter(|entry| matches!(entry.act, Act::Hold(_)))
        .map(|entry| (entry.at_ds, entry.room_ds))
        .collect();
    assert_eq!(holds, [(110, 600), (110, 1500)], "held for 90 s, one second after the pour");
    let (again, reached) = Session::run_through(read.lesson.clone()).expect("runs");
    assert_eq!(reached[1], run.reached, "the first rest of the lesson");
    assert!(again.stage() == Stage::Explain);
}

/// Anything that hands can do.
#[derive(Clone, Debug)]
enum Hand {
    GoOn,
    Lock(usize),
    See,
    Tick(u32),
    Next,
    Hold(bool),
    Speed(u32),
    Mark(usize),
    TakeBack(usize),
    Choose(usize),
    Note,
    Begin(bool),
    Pour(usize),
    Stir,
    Change(usize),
}

fn any_hand() -> impl Strategy<Value = Hand> {
    prop_oneof![
        3 => Just(Hand::GoOn),
        3 => (0..4_usize).prop_map(Hand::Lock),
        3 => Just(Hand::See),
        6 => (0..1500_u32).prop_map(Hand::Tick),
        2 => Just(Hand::Next),
        1 => any::<bool>().prop_map(Hand::Hold),
        1 => prop::sample::select(vec![1, 4, 16]).prop_map(Hand::Speed),
        2 => (0..4_usize).prop_map(Hand::Mark),
        1 => (0..3_usize).prop_map(Hand::TakeBack),
        1 => (0..3_usize).prop_map(Hand::Choose),
        1 => Just(Hand::Note),
        1 => any::<bool>().prop_map(Hand::Begin),
        1 => (0..3_usize).prop_map(Hand::Pour),
        1 => Just(Hand::Stir),
        1 => (0..5_usize).prop_map(Hand::Change),
    ]
}

/// Does something; what is refused changes nothing, and is no matter here.
fn act(session: &mut Session, hand: &Hand) {
    let changes = ["halfWater", "noIndicator", "finer", "ice", "none"];
    match hand {
        Hand::GoOn => drop(session.go_on()),
        Hand::Lock(colour) => drop(session.lock(&guess(["red", "green", "teal", "blue"][*colour], "so"))),
        Hand::See => drop(session.see(&GuessText { clarity: Some("hazy".to_owned()), ..GuessText::default() })),
        Hand::Tick(ms) => drop(session.tick(f64::from(*ms) / 1000.0)),
        Hand::Next => drop(session.next_event()),
        Hand::Hold(held) => session.set_held(*held),
        Hand::Speed(speed) => session.set_speed(*speed),
        Hand::Mark(beaker) => drop(session.mark(*beaker, "green")),
        Hand::TakeBack(mark) => drop(session.take_back(*mark)),
        Hand::Choose(ask) => drop(session.choose(*ask, "react")),
        Hand::Note => drop(session.note("n")),
        Hand::Begin(free) => drop(session.begin(*free)),
        Hand::Pour(beaker) => {
            let text = PourText { beakers: vec![*beaker], reagent: "acid".to_owned(), volume_ml: "1.5".to_owned() };
            drop(session.pour(&text));
        }
        Hand::Stir => drop(session.set_stirrer(&[0, 1, 2], "150")),
        Hand::Change(change) => drop(session.change(&[1], changes[*change])),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn whatever_was_done_can_be_gone_on_with(hands in prop::collection::vec(any_hand(), 1..50)) {
        let mut session = begun();
        for (at, hand) in hands.iter().enumerate() {
            session.room_is(at as f64 * 3.3);
            act(&mut session, hand);
        }
        let again = resumed(&session);
        prop_assert_eq!(seen(&again), seen(&session));
    }

    #[test]
    fn no_altered_byte_is_taken_for_a_record(at in 0..200_usize, other in any::<char>()) {
        let mut session = begun();
        session.go_on().expect("on");
        session.lock(&guess("green", "so")).expect("complete");
        let text = session.kept_text();
        let at = at % text.len();
        let mut altered: Vec<char> = text.chars().collect();
        prop_assume!(altered[at] != other);
        altered[at] = other;
        let altered: String = altered.into_iter().collect();
        prop_assert!(Kept::from_text(&altered).is_err());
    }
}
