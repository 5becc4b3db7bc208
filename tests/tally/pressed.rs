//! Pressed times as rows for the table of measured times: whose, how many, and what a fit makes of them.

use turnback::colour::Band;
use turnback::lesson::{Act, Entry, Lesson, Slip};
use turnback::measure::Row;
use turnback::session::{Session, expected};
use turnback::view::{PressedRow, Screen};

use super::{lesson, play, screen, slip, slip_of, student};

/// Doses in which the played classes press.
const DOSES: usize = 4;

fn row_of(pressed: &PressedRow) -> Row {
    let PressedRow { dose, start_c, end_c, seconds, finish, beaker, .. } = pressed;
    let [start, end, seconds] = [start_c, end_c, seconds].map(f64::to_string);
    [dose.to_string(), start, end, seconds, (*finish).to_owned(), beaker.to_string()]
}

/// By hand: numbers 0 to 4 pressed 14.0 to 16.0 s in steps of 0.5, their middle is 15.0.
#[test]
fn slips_give_each_press_with_its_name_or_their_middle_with_its_number() {
    let mut screen = screen(&lesson());
    for number in 0..5 {
        screen.tally_add(&format!("{number}.txt"), &slip(number).line());
    }
    screen.tally_add("again.txt", &slip(2).line());
    let each = screen.pressed_times("each").expect("no lesson is under way");
    let told: Vec<(&str, f64, usize)> = each.rows.iter().map(|row| (&*row.from, row.seconds, row.count)).collect();
    assert_eq!(told, [("s00", 14.0, 1), ("s01", 14.5, 1), ("s02", 15.0, 1), ("s03", 15.5, 1), ("s04", 16.0, 1)]);
    assert_eq!((each.taken_back, &*each.lesson_code), (0, &*lesson().code().to_string()));
    let medians = screen.pressed_times("medians").expect("no lesson is under way");
    let [row] = &medians.rows[..] else { panic!("{:?}", medians.rows) };
    assert_eq!((row.dose, row.beaker, row.finish, row.seconds, row.count), (1, 2, "green", 15.0, 5));
    assert!((row.start_c - 21.0).abs() < 0.2 && row.end_c >= row.start_c, "a dose warms its beaker: {row:?}");
    let delay = each.delay.expect("five presses");
    assert!(delay.n == 5 && (delay.most - delay.least - 2.0).abs() < 1e-9, "{delay:?}");
    assert_eq!(screen.pressed_times("other").expect_err("no such kind").key, Some("unknown"));
}

#[test]
fn this_device_gives_its_own_latest_run_and_leaves_out_what_was_taken_back() {
    let mut session = Session::new(lesson()).expect("begins");
    session.go_on().expect("on");
    super::lock(&mut session, &student(1));
    session.set_speed(4);
    (0..4).for_each(|_| drop(session.tick(1.0).expect("runs")));
    session.mark(2, "green").expect("acid");
    session.take_back(0).expect("just now");
    session.tick(0.5).expect("runs");
    session.mark(2, "blue").expect("acid");
    let mut screen = screen(&lesson());
    assert!(screen.resume(&session.kept_text(), "").ok);
    assert_eq!(screen.pressed_times("own").expect_err("under way").key, Some("lessonOpen"));

    super::to_the_end(&mut session, &student(1));
    assert!(screen.resume(&session.kept_text(), "").ok);
    let own = screen.pressed_times("own").expect("at the end");
    let [row] = &own.rows[..] else { panic!("{:?}", own.rows) };
    assert_eq!((row.dose, row.beaker, row.finish, row.seconds, &*row.from), (1, 3, "blue", 18.0, ""));
    assert!((row.start_c - 34.0).abs() < 0.5, "{row:?}");
    assert_eq!(own.taken_back, 1);
    // The free bench has other beakers; the temperatures stay those of the run.
    assert!(screen.begin("free").ok);
    assert_eq!(screen.pressed_times("own").expect("at the bench").rows, own.rows);
    assert!(screen.pressed_times("each").expect("no slips").rows.is_empty());
}

/// A class that presses when the model says so, a few per cent early or late, gets the lesson's own numbers back.
#[test]
fn pressed_times_give_the_lessons_own_numbers_back_and_are_no_fit_of_a_bottle() {
    let lesson = Lesson::default();
    let mut screen = Screen::new().expect("our scenario begins");
    let late = |turn: usize| [1.00, 1.04, 0.97, 1.02, 0.96, 1.03, 0.99][turn % 7];
    let watched = slip_of(&play(&lesson, &student(1)));
    for number in 0..3 {
        let slip = Slip { signed: format!("s{number}"), ..pressing(&lesson, &watched, |turn| late(turn + 2 * number)) };
        screen.tally_add(&format!("{number}"), &slip.line());
    }
    let pressed = screen.pressed_times("each").expect("no lesson is under way");
    assert_eq!(pressed.rows.len(), 3 * 3 * DOSES);
    let rows: Vec<Row> = pressed.rows.iter().map(row_of).collect();
    let wanted = ["acidFactor", "carbonate", "energy"].map(str::to_owned);
    let fit = screen.fit_times(&rows, &wanted, true).expect("enough");
    for (key, numbers) in &fit.estimates {
        let [value, low, high, before] = numbers[..] else { panic!("{key}") };
        assert!(low <= before && before <= high, "{key}: {value} ({low} to {high}), the lesson's {before}");
    }
    assert!(fit.causes.is_empty(), "no bottle differs from the model here");
    assert!(!screen.keep_fit(20_261_130).ok, "nothing of a bottle was fitted");
}

/// A slip with a press at every turn-back of the first doses that the model computes, and no other.
fn pressing(lesson: &Lesson, slip: &Slip, late: impl Fn(usize) -> f64) -> Slip {
    let beakers: Vec<_> = (0..3).map(|beaker| expected(lesson, beaker).expect("runs")).collect();
    let (mut entries, mut turn) = (Vec::new(), 0);
    let mut dose = 0;
    for entry in slip.entries.iter().filter(|entry| !matches!(entry.act, Act::Mark { .. })) {
        entries.push(entry.clone());
        if !matches!(entry.act, Act::Lock(_)) || dose == DOSES {
            continue;
        }
        let mut presses: Vec<(u32, usize)> = Vec::new();
        for (beaker, expected) in beakers.iter().enumerate() {
            let seconds = expected[dose].turned_back_s.expect("an early dose") * late(turn);
            presses.push((entry.at_ds + (10.0 * seconds).round() as u32, beaker));
            turn += 1;
        }
        presses.sort_unstable();
        let mark = |(at_ds, beaker)| Entry { at_ds, room_ds: 0, act: Act::Mark { beaker, finish: Band::Green } };
        entries.extend(presses.into_iter().map(mark));
        dose += 1;
    }
    Slip { entries, ..slip.clone() }
}

#[test]
fn a_beaker_that_is_not_there_gives_no_row() {
    let mut screen = screen(&lesson());
    let mut hostile = slip_of(&play(&lesson(), &student(1)));
    for entry in &mut hostile.entries {
        if let Act::Mark { beaker, .. } = &mut entry.act {
            *beaker = 2;
        }
    }
    screen.tally_add("third", &hostile.line());
    assert_eq!(screen.pressed_times("each").expect("a slip").rows[0].beaker, 3);
}
