//! Slips: what a student hands in comes back as it was typed, and nothing else is read as one.

use proptest::prelude::*;
use turnback::colour::{Band, Clarity};
use turnback::lesson::{
    Act, Entry, First, Guess, GuessText, Kept, Lesson, LinkError, NOTE_MAX_CHARS, Reached, Run, SIGNED_MAX_CHARS,
    SLIP_MAX_CHARS, Seconds, Slip, WHY_MAX_CHARS, line, paragraphs,
};
use turnback::session::{Session, Stage};

/// The first slip that this program wrote: of our own scenario, one dose, a choice, a time and
/// one that was taken back. It stands for every slip of version 1 that lies in a teacher's
/// folder: it must be read for ever, as the same slip.
const GOLDEN: &str = "slip1.iwHq6tFmpc_5ebdYnBgBBj03YiDXkBhOb3Qgc3VyZSBhYm91dCBkb3NlIG9uZS4IBGQABW1peGVzAWQEZAYKbWFrZXNSZWFjdAJkPwAEA34EKFRoZSBzb2xpZCBpcyA8Yj5zbG93PC9iPjsgaXQKd2FpdHMuIPCfp6oF3AECBAbcAQAF4QECBAOcGAQCc6__Wg";

/// The first run of version 1, of the same lesson.
const GOLDEN_RUN: &str = "run1.XyGIJ9wLwD70A7gXuBfIAQqsAtIB2AQHBKwCPAMAFAIA1ALP-Xm3WJwYCQFkAAJkAB8ABAN-BAXcAQACBAbcAQAABeEBAAIECeEBAAEJ4QGsAgAK4QGsAhADnBisAgQCR7Opsw";

/// What the first release kept of the same lesson on a device, where it may lie until the next one is opened.
const GOLDEN_KEPT: &str = "kept1.zAEhiCfcC8A-9AO4F7gXyAEKrALSAdgEBwSsAjwDABQCANQCAAAAAABgc0ANBGQAAAVtaXhlcwFkAARkAAYKbWFrZXNSZWFjdAJkAD8ABAN-BChUaGUgc29saWQgaXMgPGI-c2xvdzwvYj47IGl0CndhaXRzLiDwn6eqBdwBAAIEBtwBAAAF4QEAAgQJ4QEAAQnhAawCAArhAawCEAOcGKwCBAIInBisAgY9N2Ig15AHnBisAhhOb3Qgc3VyZSBhYm91dCBkb3NlIG9uZS6uR75Q";

fn student() -> Session {
    let mut session = Session::new(Lesson::default()).expect("begins");
    session.choose(0, "mixes").expect("asked in the brief");
    session.go_on().expect("on");
    session.choose(6, "makesReact").expect("asked before the first dose");
    let some = |text: &str| Some(text.to_owned());
    let guess = GuessText {
        at_once: some("red"),
        at_rest: some("green"),
        clarity: some("milky"),
        seconds: some("12,5"),
        first: some("2"),
        why: some("The solid is <b>slow</b>; it\nwaits. \u{1f9ea}"),
    };
    session.lock(&guess).expect("complete");
    for _ in 0..12 {
        session.tick(1.0).expect("runs");
    }
    session.mark(2, "green").expect("acid");
    session.take_back(0).expect("there");
    session.tick(0.5).expect("runs");
    session.mark(2, "green").expect("taken back before");
    session.room_is(7.0);
    session.set_held(true);
    session.room_is(37.0);
    session.set_held(false);
    session.set_speed(16);
    while session.stage() == Stage::Watch {
        session.tick(1.0).expect("runs");
    }
    session.see(&GuessText { clarity: some("cloudy"), ..GuessText::default() }).expect("at rest");
    session.sign("=7b \u{5d0}").expect("short");
    session.note("Not sure about dose one.").expect("short");
    session
}

fn slip_of(session: &Session) -> Slip {
    Slip::of(session.lesson().code(), session.reached(), session.record())
}

#[test]
fn the_first_slip_and_the_first_run_are_read_for_ever() {
    // The code of a run is that of its bits: a finer model has another. All else stands for ever.
    let session = student();
    let read = Slip::from_line(GOLDEN).expect("the first slip");
    let reached = Reached { code: read.reached.code, ..session.reached() };
    let slip = Slip { reached, ..slip_of(&session) };
    assert_eq!(slip.line(), GOLDEN);
    assert_eq!(read, slip);
    let read = Run::from_text(GOLDEN_RUN).expect("the first run");
    let reached = Reached { code: read.reached.code, ..session.reached() };
    let run = Run::of(session.lesson(), reached, session.record());
    assert_eq!(run.text(), GOLDEN_RUN);
    assert_eq!(read, run);
}

#[test]
fn what_the_first_release_kept_on_a_device_is_gone_on_with_for_ever() {
    let session = student();
    assert_eq!(session.kept_text(), GOLDEN_KEPT);
    let kept = Kept::from_text(GOLDEN_KEPT).expect("kept by the first release");
    assert_eq!(kept.entries, session.record());
    let resumed = Session::resume(kept.lesson, kept.now_s, &kept.entries).expect("goes on");
    assert_eq!(resumed.stage(), session.stage());
    assert_eq!(resumed.clock().now_s(), session.clock().now_s());
    assert_eq!(resumed.check_code(), session.check_code());
}

#[test]
fn a_slip_holds_what_was_typed_or_chosen_and_no_time_of_the_room() {
    let slip = slip_of(&student());
    assert!(slip.entries.iter().all(|entry| entry.room_ds == 0));
    let clock = |entry: &Entry| matches!(entry.act, Act::Hold(_) | Act::Speed(_) | Act::Leap);
    assert!(!slip.entries.iter().any(clock));
    assert_eq!(slip.signed, "=7b \u{5d0}");
    assert!(slip.is_somebodys() && !slip.is_blank());
    let unsigned = Session::new(Lesson::default()).expect("begins");
    assert!(slip_of(&unsigned).is_blank());
    assert_eq!(slip_of(&unsigned).signed, "", "a name is there only where one was typed");
}

#[test]
fn mail_and_chat_around_a_slip_do_no_harm() {
    let slip = slip_of(&student());
    let line = slip.line();
    let wrapped: Vec<String> =
        line.as_bytes().chunks(60).map(|part| format!("> {}", String::from_utf8_lossy(part))).collect();
    for text in [
        format!("Here is my slip:\r\n\r\n{line}\r\nBest, A."),
        format!("\u{feff}{line}"),
        format!("\"{line}\"."),
        wrapped.join("\r\n"),
        format!("{} and some words behind it", wrapped.join("\n")),
    ] {
        assert_eq!(Slip::all(&text), vec![Ok(slip.clone())], "{text}");
    }
    let two = format!("{line}\n{line}\nslips are ready");
    assert_eq!(Slip::all(&two).len(), 2);
}

#[test]
fn every_cut_of_a_slip_is_refused() {
    for end in 0..GOLDEN.len() {
        let found = Slip::all(&GOLDEN[..end]);
        assert_eq!(found.len(), 1, "{end}");
        let error = found[0].as_ref().expect_err("a cut slip");
        match end {
            0 => assert_eq!(*error, LinkError::Empty),
            1..6 => assert_eq!(*error, LinkError::NotOurs),
            _ => assert!(matches!(error, LinkError::Incomplete { .. }), "{end}: {error:?}"),
        }
    }
}

#[test]
fn what_is_no_slip_says_which_kind_of_none_it_is() {
    let only = |text: &str| Slip::all(text).remove(0);
    assert_eq!(only(" \r\n"), Err(LinkError::Empty));
    assert_eq!(only("{\"name\": \"another program's\", \"answers\": [1, 2, 3]}"), Err(LinkError::NotOurs));
    assert_eq!(only("a kept1.AAAA and a v1.AAAA"), Err(LinkError::NotOurs));
    assert_eq!(only(&GOLDEN.replace("slip1.", "slip2.")), Err(LinkError::Newer { version: 2 }));
    assert_eq!(only(&GOLDEN.replace("slip1.", "slip0.")), Err(LinkError::NotOurs));
    let ten_megabytes = "slip1.".repeat(10_000_000 / 6);
    assert!(matches!(only(&ten_megabytes), Err(LinkError::TooLong { .. })));
    // As long as may be read, and full of beginnings: it takes no more than its length.
    let many = "slip1.A ".repeat(SLIP_MAX_CHARS / 8);
    assert_eq!(Slip::all(&many).len(), SLIP_MAX_CHARS / 8);
}

fn any_words(most: usize) -> impl Strategy<Value = String> {
    prop::collection::vec(any::<char>(), 0..most).prop_map(|signs| paragraphs(&signs.into_iter().collect::<String>()))
}

fn any_guess() -> impl Strategy<Value = Guess> {
    let colour = || prop::option::of(prop::sample::select(Band::ALL.to_vec()));
    let clarity = prop::option::of(prop::sample::select(Clarity::ALL.to_vec()));
    let seconds = prop_oneof![
        Just(None),
        Just(Some(Seconds::Never)),
        (0..36_000_u32).prop_map(|tenths| Some(Seconds::After(f64::from(tenths) / 10.0))),
    ];
    let first =
        prop::option::of(prop_oneof![Just(First::Same), Just(First::None), (0..3_usize).prop_map(First::Beaker)]);
    let why = prop::option::of(any_words(WHY_MAX_CHARS).prop_filter("words", |why| !why.is_empty()));
    (colour(), colour(), clarity, seconds, first, why).prop_map(|(at_once, at_rest, clarity, seconds, first, why)| {
        Guess { at_once, at_rest, clarity, seconds, first, why }
    })
}

fn any_entry() -> impl Strategy<Value = Entry> {
    let act = prop_oneof![
        Just(Act::GoOn),
        any_guess().prop_map(Act::Lock),
        any_guess().prop_map(Act::See),
        (0..8_usize, any_words(40)).prop_map(|(ask, answer)| Act::Choose { ask, answer }),
        (0..3_usize, prop::sample::select(Band::ALL.to_vec()))
            .prop_map(|(beaker, finish)| Act::Mark { beaker, finish }),
        (0..200_usize).prop_map(|mark| Act::TakeBack { mark }),
    ];
    (any::<u32>(), act).prop_map(|(at_ds, act)| Entry { at_ds, room_ds: 0, act })
}

fn any_slip() -> impl Strategy<Value = Slip> {
    (
        any_words(SIGNED_MAX_CHARS),
        any_words(NOTE_MAX_CHARS / 8),
        any::<u32>(),
        1..9_u32,
        prop::collection::vec(any_entry(), 0..30),
    )
        .prop_map(|(signed, note, now_ds, attempt, entries)| {
            let code = Lesson::default().code();
            Slip { lesson: code, reached: Reached { code, now_ds }, attempt, signed: line(&signed), note, entries }
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn every_slip_comes_back(slip in any_slip()) {
        prop_assert_eq!(Slip::from_line(&slip.line()), Ok(slip.clone()));
        let text = format!("My slip is {}\n", slip.line());
        prop_assert_eq!(Slip::all(&text), vec![Ok(slip)]);
    }

    #[test]
    fn no_altered_sign_is_taken_for_a_slip(at in 0..GOLDEN.len(), other in any::<char>()) {
        let mut altered: Vec<char> = GOLDEN.chars().collect();
        prop_assume!(altered[at] != other);
        altered[at] = other;
        let altered: String = altered.into_iter().collect();
        prop_assert!(Slip::from_line(&altered).is_err());
        let whole = Slip::from_line(GOLDEN);
        prop_assert!(Slip::all(&altered).iter().all(|found| found.is_err() || *found == whole));
    }

    #[test]
    fn any_text_is_answered(text in any::<String>(), mark in prop::sample::select(vec!["slip1.", "run1.", ""])) {
        let text = format!("{mark}{text}");
        prop_assert!(Slip::all(&text).iter().all(Result::is_err));
        prop_assert!(Run::from_text(&text).is_err());
    }

    /// Whole by its checksum, but with any bytes inside: read or refused, never more.
    #[test]
    fn sealed_bytes_of_any_kind_are_answered(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let sealed = |mark: &str| {
            let mut inside = Vec::new();
            let mut length = bytes.len();
            while length > 127 {
                inside.push((length & 127) as u8 | 128);
                length >>= 7;
            }
            inside.push(length as u8);
            inside.extend(&bytes);
            let mut hasher = crc32fast::Hasher::new();
            hasher.update(mark.as_bytes());
            hasher.update(&inside);
            inside.extend(hasher.finalize().to_le_bytes());
            use base64::Engine;
            format!("{mark}{}", base64::engine::general_purpose::URL_SAFE_NO_PAD.encode(&inside))
        };
        if let Ok(slip) = Slip::from_line(&sealed("slip1.")) {
            prop_assert_eq!(slip.lesson, slip.lesson);
        }
        let _ = Run::from_text(&sealed("run1."));
        if let Ok(kept) = Kept::from_text(&sealed("kept1.")) {
            let _ = Session::resume(kept.lesson, kept.now_s, &kept.entries);
        }
    }
}
