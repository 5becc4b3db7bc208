//! A class's slips, counted: the totals, what is laid aside and why, the ideas, the times, and
//! a file that a spreadsheet opens.

#[path = "tally/pressed.rs"]
mod pressed;

use std::time::{Duration, Instant};

use turnback::lesson::{AskEntry, BeakerText, GuessText, Lesson, Recipe, RecipeText, Slip};
use turnback::session::{Session, Stage};
use turnback::view::{QuestionView, Screen, Spread, TallyView, Told};

/// Our own scenario with two doses of acid and one of base, so that many students can be played.
fn lesson() -> Lesson {
    lesson_with("500")
}

fn lesson_with(water_ml: &str) -> Lesson {
    let mut text: RecipeText = Recipe::default().to_text();
    let changes = [("acidDoses", "2"), ("baseDoses", "1"), ("restS", "60"), ("waterMl", water_ml)];
    for (key, value) in changes {
        text.fields.insert(key.to_owned(), value.to_owned());
    }
    Lesson::of_recipe(Recipe::from_text(&text).expect("within the limits"))
}

/// One student of a class.
#[derive(Clone)]
struct Student {
    signed: String,
    note: String,
    at_rest: &'static str,
    seconds: String,
    brief: &'static str,
    pressed_at_s: f64,
}

fn student(number: usize) -> Student {
    Student {
        signed: format!("s{number:02}"),
        note: String::new(),
        at_rest: ["blue", "red", "green", "teal"][number % 4],
        seconds: if number.is_multiple_of(5) { "never".to_owned() } else { format!("{}", 10 + number) },
        brief: ["react", "mixes", "eats"][number % 3],
        pressed_at_s: 14.0 + (number % 5) as f64 * 0.5,
    }
}

fn play(lesson: &Lesson, student: &Student) -> Session {
    let mut session = Session::new(lesson.clone()).expect("begins");
    session.choose(0, student.brief).expect("asked in the brief");
    session.go_on().expect("on");
    lock(&mut session, student);
    let mut left_s = student.pressed_at_s;
    while left_s > 0.0 {
        session.tick(left_s.min(1.0)).expect("runs");
        left_s -= 1.0;
    }
    session.mark(1, "green").expect("acid");
    to_the_end(&mut session, student);
    session.sign(&student.signed).expect("short");
    session.note(&student.note).expect("short");
    session
}

fn lock(session: &mut Session, student: &Student) {
    let some = |text: &str| Some(text.to_owned());
    let guess = GuessText {
        at_once: some("red"),
        at_rest: some(student.at_rest),
        clarity: some("milky"),
        seconds: some(&student.seconds),
        first: some("2"),
        why: None,
    };
    session.lock(&guess).expect("complete");
}

/// From a dose that is watched to the end of the lesson.
fn to_the_end(session: &mut Session, student: &Student) {
    session.set_speed(16);
    loop {
        while session.stage() == Stage::Watch {
            session.tick(1.0).expect("runs");
        }
        session.see(&GuessText::default()).expect("at rest");
        session.go_on().expect("on");
        if session.stage() != Stage::Ask {
            return;
        }
        lock(session, student);
    }
}

fn slip_of(session: &Session) -> Slip {
    Slip::of(session.lesson().code(), session.reached(), session.record())
}

fn slip(number: usize) -> Slip {
    slip_of(&play(&lesson(), &student(number)))
}

fn screen(lesson: &Lesson) -> Screen {
    let mut screen = Screen::new().expect("our scenario begins");
    assert!(screen.open_link(&lesson.link().expect("short")).ok);
    screen
}

fn tally(screen: &mut Screen) -> TallyView {
    screen.tally().expect("no lesson is under way")
}

fn question<'a>(view: &'a TallyView, kind: &str, number: u32, key: &str) -> &'a QuestionView {
    let is_it = |asked: &&QuestionView| {
        asked.kind == kind
            && asked.number == number
            && asked.question == AskEntry::Key(leaked(key))
            && asked.reagent != Some("base")
    };
    view.questions.iter().find(is_it).expect("asked")
}

fn leaked(key: &str) -> &'static str {
    Box::leak(key.to_owned().into_boxed_str())
}

fn count(asked: &QuestionView, answer: &str) -> usize {
    let is_it = |told: &Told| *told == Told::Words(answer.to_owned());
    asked.answers.iter().find(|known| is_it(&known.answer)).map_or(0, |known| known.count)
}

/// Row 13: thirty slips, of which one is a duplicate, one blank, one of another lesson and one damaged.
#[test]
fn thirty_slips_are_counted_and_the_four_that_are_not_are_named() {
    let lesson = lesson();
    let mut screen = screen(&lesson);
    for number in 0..26 {
        screen.tally_add(&format!("s{number:02}.txt"), &slip(number).line());
    }
    screen.tally_add("again.txt", &slip(7).line());
    screen.tally_add("blank.txt", &slip_of(&Session::new(lesson.clone()).expect("begins")).line());
    screen.tally_add("other.txt", &slip_of(&play(&lesson_with("400"), &student(3))).line());
    let line = slip(4).line();
    screen.tally_add("damaged.txt", &format!("{}A{}", &line[..40], &line[41..]));
    assert_eq!(screen.tally_opened(), 30);

    let view = tally(&mut screen);
    assert_eq!(view.counted, 26);
    let aside: Vec<(&str, &str)> = view.aside.iter().map(|aside| (aside.file.as_str(), aside.key)).collect();
    assert_eq!(
        aside,
        [("again.txt", "duplicate"), ("blank.txt", "blank"), ("other.txt", "otherLesson"), ("damaged.txt", "damaged")]
    );
    assert_eq!(view.aside[0].instead.as_deref(), Some("s07.txt"));
    assert_eq!(view.aside[2].lesson, Some(lesson_with("400").code().to_string()));

    // By hand, of the numbers 0 to 25: n mod 3 and n mod 4.
    let brief = view.questions.iter().find(|asked| asked.kind == "choice").expect("asked in the brief");
    assert_eq!([count(brief, "react"), count(brief, "mixes"), count(brief, "eats")], [9, 9, 8]);
    let at_rest = question(&view, "guess", 1, "atRest");
    assert_eq!(["blue", "red", "green", "teal"].map(|colour| count(at_rest, colour)), [7, 7, 6, 6]);
    assert_eq!(at_rest.answers.iter().map(|known| known.count).sum::<usize>(), 26);
    assert!(view.students.iter().all(|student| student.same_run == Some(true)));
    assert_eq!(view.students.len(), 26);
}

/// Row 22. By hand: whoever said red at rest believes that acid wins ("strongerWins", 7 of 26), or
/// that it never turns back (numbers 0, 5, ... 25: 6 more, of which 5 and 25 said red as well); green
/// at rest is "endsAt7" (6); "mixes" is "onlyMixing" (9); "eats" is "eatsAway" (8).
#[test]
fn ideas_are_counted_once_for_each_student() {
    let mut screen = screen(&lesson());
    for number in 0..26 {
        screen.tally_add(&format!("{number}"), &slip(number).line());
    }
    let view = tally(&mut screen);
    let count = |tag: &str| view.ideas.iter().find(|known| known.idea == tag).map_or(0, |known| known.count);
    let red_or_never = (0..26).filter(|n| n % 4 == 1 || n % 5 == 0).count();
    assert_eq!(red_or_never, 11);
    assert_eq!(count("strongerWins"), red_or_never);
    assert_eq!(count("endsAt7"), 6);
    assert_eq!(count("onlyMixing"), 9);
    assert_eq!(count("eatsAway"), 8);
    assert!(view.ideas.windows(2).all(|two| two[0].count >= two[1].count));
}

/// Row 11: times carry dose, temperature and finish. By hand: 14.0 to 16.0 s in steps of 0.5.
#[test]
fn times_are_gathered_by_dose_temperature_and_finish() {
    let mut screen = screen(&lesson());
    for number in 0..5 {
        screen.tally_add(&format!("{number}"), &slip(number).line());
    }
    let view = tally(&mut screen);
    assert_eq!(view.times.len(), 1);
    let times = &view.times[0];
    assert_eq!((times.number, times.beaker, times.finish), (1, 1, "green"));
    assert!((times.celsius - 21.0).abs() < 0.2);
    let spread = times.spread;
    assert_eq!((spread.n, spread.least, spread.middle, spread.most, spread.mean), (5, 14.0, 15.0, 16.0, 15.0));
    // Sum of squares 2.5 over n - 1 = 4.
    assert!((spread.deviation.expect("several") - 0.625_f64.sqrt()).abs() < 1e-12);
    // Product.md: 15 s at 21 degrees for dose 1.
    assert!((times.computed.expect("it turns back") - 15.0).abs() < 1.0, "{:?}", times.computed);
    assert_eq!(view.students[0].times, 1);
}

#[test]
fn a_single_time_has_no_deviation() {
    let spread = Spread::of(vec![4.0]).expect("one");
    assert_eq!((spread.middle, spread.deviation), (4.0, None));
    assert_eq!(Spread::of(Vec::new()), None);
}

#[test]
fn an_earlier_state_of_the_same_slip_gives_way_and_alike_ones_are_told() {
    let lesson = lesson();
    let mut screen = screen(&lesson);
    let whole = slip(1);
    let mut early = whole.clone();
    early.entries.truncate(4);
    screen.tally_add("early.txt", &early.line());
    screen.tally_add("whole.txt", &whole.line());
    let mut other = slip(2);
    other.signed = "s01".to_owned();
    screen.tally_add("same name.txt", &other.line());
    // Two who only tapped, without name or words or times, may well have tapped alike.
    let mut session = Session::new(lesson).expect("begins");
    session.choose(0, "react").expect("asked");
    screen.tally_add("tapped.txt", &slip_of(&session).line());
    screen.tally_add("tapped too.txt", &slip_of(&session).line());
    let view = tally(&mut screen);
    assert_eq!(view.counted, 4);
    assert_eq!(view.aside.len(), 1);
    assert_eq!((view.aside[0].file.as_str(), view.aside[0].key), ("early.txt", "earlier"));
    let remarks: Vec<_> = view.students.iter().map(|student| student.remark).collect();
    assert_eq!(remarks, [None, Some("sameName"), None, Some("alike")]);
}

#[test]
fn what_is_pasted_together_is_taken_apart() {
    let mut screen = screen(&lesson());
    let damaged = &slip(3).line()[..50];
    screen.tally_add("pasted", &format!("Ada: {}\n\nBob: {}\n{damaged}\n", slip(1).line(), slip(2).line()));
    screen.tally_add("notes.json", "{\"a\": 1}");
    screen.tally_add("nothing.txt", "");
    screen.tally_add("newer.txt", &slip(1).line().replace("slip1.", "slip7."));
    screen.tally_too_long("book.txt", 10_000_000);
    let view = tally(&mut screen);
    assert_eq!(view.counted, 2);
    assert_eq!(view.students[1].file, "pasted (2)");
    let aside: Vec<(&str, &str)> = view.aside.iter().map(|aside| (aside.file.as_str(), aside.key)).collect();
    assert_eq!(
        aside,
        [
            ("pasted (3)", "incomplete"),
            ("notes.json", "notOurs"),
            ("nothing.txt", "empty"),
            ("newer.txt", "newer"),
            ("book.txt", "tooLong")
        ]
    );
    assert_eq!(view.aside[3].version, Some(7));
}

/// The lesson that is open decides: the same pile is sorted anew when the right one is opened.
#[test]
fn the_pile_follows_the_lesson_that_is_open() {
    let mut screen = Screen::new().expect("our scenario begins");
    screen.tally_add("one.txt", &slip(1).line());
    assert_eq!(tally(&mut screen).counted, 0);
    assert!(screen.open_link(&lesson().link().expect("short")).ok);
    assert_eq!(tally(&mut screen).counted, 1);
    screen.tally_clear();
    assert_eq!(tally(&mut screen).counted, 0);
}

#[test]
fn no_outcome_is_told_while_a_lesson_is_under_way() {
    let mut screen = screen(&lesson());
    screen.tally_add("one.txt", &slip(1).line());
    assert!(screen.go_on().ok);
    assert_eq!(screen.tally().expect_err("under way").key, Some("lessonOpen"));
    assert!(screen.tally_csv(false).is_err());
}

/// Read by the csv crate, not by what wrote it.
#[test]
fn a_spreadsheet_opens_the_table_and_runs_nothing_in_it() {
    let mut screen = screen(&lesson());
    let evil = ["=1+1", "+cmd", "-2", "@SUM(A1)", "<img src=x onerror=alert(1)>"];
    for (number, signed) in evil.iter().enumerate() {
        let mut student = student(number);
        student.signed = (*signed).to_owned();
        student.note = "=HYPERLINK(\"x\"); \"said\"\nand more".to_owned();
        screen.tally_add(&format!("={number}.txt"), &slip_of(&play(&lesson(), &student)).line());
    }
    let text = screen.tally_csv(false).expect("no lesson is under way");
    assert!(text.ends_with("\r\n"));
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let head: Vec<String> = reader.headers().expect("a head").iter().map(str::to_owned).collect();
    let at = |name: &str| head.iter().position(|known| known == name).expect("a column");
    let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("well-formed")).collect();
    for row in &rows {
        let numbers = ["try", "dose", "beaker", "temperature_C", "time_s", "computed_s"].map(at);
        for (index, cell) in row.iter().enumerate() {
            if !numbers.contains(&index) {
                assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']), "{cell}");
            }
        }
    }
    let notes: Vec<_> = rows.iter().filter(|row| &row[at("kind")] == "note").collect();
    assert_eq!(notes.len(), 5);
    assert_eq!(&notes[0][at("answer")], "'=HYPERLINK(\"x\"); \"said\"\nand more");
    let times: Vec<_> = rows.iter().filter(|row| &row[at("kind")] == "time").collect();
    assert_eq!(times.len(), 5);
    assert_eq!((&times[1][at("time_s")], &times[1][at("beaker")], &times[1][at("finish")]), ("14.5", "2", "green"));
    let first = rows.iter().find(|row| &row[at("question")] == "first").expect("asked");
    assert_eq!((&first[at("answer")], &first[at("outcome")]), ("3", "3"), "beakers count from 1 for people");

    let german = screen.tally_csv(true).expect("no lesson is under way");
    let mut reader = csv::ReaderBuilder::new().delimiter(b';').from_reader(german.as_bytes());
    let times: Vec<String> = reader
        .records()
        .map(|row| row.expect("well-formed"))
        .filter(|row| &row[at("kind")] == "time")
        .map(|row| row[at("time_s")].to_owned())
        .collect();
    assert_eq!(times[1], "14,5");
}

#[test]
fn a_thousand_slips_open_in_a_second() {
    let bases: Vec<Slip> = (0..20).map(slip).collect();
    let texts: Vec<String> = (0..1000)
        .map(|number| {
            let mut slip = bases[number % bases.len()].clone();
            slip.signed = format!("student {number}");
            slip.note = "A note of some words, as a student may write it under a slip.".to_owned();
            slip.line()
        })
        .collect();
    let mut screen = screen(&lesson());
    let started = Instant::now();
    for (number, text) in texts.iter().enumerate() {
        screen.tally_add(&format!("{number}.txt"), text);
    }
    let view = tally(&mut screen);
    let took = started.elapsed();
    assert_eq!(view.counted, 1000);
    println!("1000 slips opened and counted in {took:?}");
    assert!(took < Duration::from_secs(1), "{took:?}");
}

/// The teacher's own questions: free words are told with who wrote them, choices are counted.
#[test]
fn own_questions_are_gathered_in_the_students_words() {
    let mut plan = lesson();
    plan.script.brief = Some(vec![
        turnback::lesson::Ask::Own(turnback::lesson::OwnQuestion { text: "What is it?".into(), choices: Vec::new() }),
        turnback::lesson::Ask::Own(turnback::lesson::OwnQuestion {
            text: "Which?".into(),
            choices: vec!["one".into(), "two".into()],
        }),
    ]);
    let mut screen = screen(&plan);
    for (name, words, choice) in [("a", "milk", "0"), ("b", "chalk <i>water</i>", "1"), ("c", "", "1")] {
        let mut session = Session::new(plan.clone()).expect("begins");
        if !words.is_empty() {
            session.choose(0, words).expect("asked");
        }
        session.choose(1, choice).expect("asked");
        session.sign(name).expect("short");
        screen.tally_add(&format!("{name}.txt"), &slip_of(&session).line());
    }
    let view = tally(&mut screen);
    let said: Vec<(&str, &str)> = view.questions[0].words.iter().map(|(who, words)| (&**who, &**words)).collect();
    assert_eq!(said, [("a", "milk"), ("b", "chalk <i>water</i>")]);
    assert_eq!(view.questions[0].open, 1);
    assert_eq!((count(&view.questions[1], "0"), count(&view.questions[1], "1")), (1, 2));
    assert_eq!(view.questions[1].answers[0].near, None, "only the teacher can judge");
}

/// A lesson of one beaker has beakers that slips of hostile hands may go beyond.
#[test]
fn a_beaker_that_is_not_there_does_no_harm() {
    let mut text = Recipe::default().to_text();
    text.beakers = vec![BeakerText { kind: "room".into(), celsius: String::new(), ice_g: String::new() }];
    let one = Lesson::of_recipe(Recipe::from_text(&text).expect("within the limits"));
    let mut screen = screen(&one);
    let mut slip = slip(1);
    slip.lesson = one.code();
    screen.tally_add("hostile.txt", &slip.line());
    assert_eq!(tally(&mut screen).counted, 1);
    assert!(screen.tally_csv(false).expect("a table").contains("hostile.txt"));
}
