//! A class's run told again: its holds and its speeds, its predictions after one's own, nobody
//! named, and the same check code.

use turnback::lesson::{GuessText, LINK_MAX_CHARS, Lesson, Recipe, RecipeText, Run};
use turnback::session::Stage;
use turnback::view::{Screen, Told};

fn short_lesson() -> Lesson {
    let mut text: RecipeText = Recipe::default().to_text();
    for (key, value) in [("acidDoses", "2"), ("baseDoses", "1"), ("restS", "60"), ("baseRestS", "20")] {
        text.fields.insert(key.to_owned(), value.to_owned());
    }
    Lesson::of_recipe(Recipe::from_text(&text).expect("within the limits"))
}

fn guess(at_rest: &str) -> GuessText {
    let some = |text: &str| Some(text.to_owned());
    GuessText {
        at_once: some("red"),
        at_rest: some(at_rest),
        clarity: some("milky"),
        seconds: some("never"),
        first: some("0"),
        why: some("Ada thinks that acid wins"),
    }
}

/// A screen and the clock of its room.
struct Room {
    screen: Screen,
    clock_s: f64,
}

impl Room {
    fn with(lesson: &Lesson) -> Room {
        let mut screen = Screen::new().expect("our scenario begins");
        assert!(screen.open_link(&lesson.link().expect("short")).ok);
        let mut room = Room { screen, clock_s: 1000.0 };
        room.wait(0.0);
        room
    }

    fn wait(&mut self, seconds: f64) {
        self.clock_s += seconds;
        self.screen.room_is(self.clock_s);
    }

    /// Watches for so many seconds of the room.
    fn watch(&mut self, seconds: f64) {
        for _ in 0..(seconds * 4.0) as u32 {
            self.screen.tick(0.25);
            self.wait(0.25);
        }
    }

    fn watch_to_rest(&mut self) {
        while self.stage() == Stage::Watch {
            self.watch(0.25);
        }
    }

    fn stage(&self) -> Stage {
        self.screen.session().stage()
    }

    fn now_s(&self) -> f64 {
        self.screen.session().clock().now_s()
    }
}

/// A class: two long holds in the first dose and a wrong prediction on the board; speed 4 and a
/// leap in the second; base at that speed.
fn class() -> Room {
    let mut room = Room::with(&short_lesson());
    assert!(room.screen.go_on().ok);
    room.wait(90.0);
    assert!(room.screen.lock(&guess("red")).ok);
    room.watch(5.0);
    room.screen.set_held(true);
    room.wait(120.0);
    room.screen.set_held(false);
    room.watch(15.0);
    room.screen.set_held(true);
    room.wait(45.0);
    room.screen.set_held(false);
    room.watch_to_rest();
    assert!(room.screen.see(&GuessText { at_rest: Some("blue".to_owned()), ..GuessText::default() }).ok);
    room.screen.sign("Ada");
    room.screen.note("Ada was right");
    assert!(room.screen.go_on().ok);
    room.wait(30.0);
    assert!(room.screen.lock(&guess("red")).ok);
    room.screen.set_speed(4);
    room.watch(2.0);
    room.screen.next_event();
    room.watch_to_rest();
    assert!(room.screen.see(&GuessText::default()).ok);
    assert!(room.screen.go_on().ok);
    room.wait(10.0);
    assert!(room.screen.lock(&guess("violet")).ok);
    room.watch_to_rest();
    assert!(room.screen.see(&GuessText::default()).ok);
    assert!(room.screen.go_on().ok);
    room
}

fn told_again() -> (Room, Room) {
    let class = class();
    let text = class.screen.run_text();
    assert!(text.fits && !text.blank);
    let mut home = Room::with(&Lesson::default());
    assert!(home.screen.open_run(&format!("#{}", text.text)).ok);
    (class, home)
}

/// Row 19: two long holds and a wrong prediction on the board: the link asks first, runs with the
/// same holds, tells the class's prediction after, and names nobody.
#[test]
fn a_run_is_told_again_with_its_holds_and_asks_first() {
    let (class, mut home) = told_again();
    let text = class.screen.run_text().text;
    assert!(text.len() < LINK_MAX_CHARS);
    assert!(!format!("{:?}", Run::from_text(&text)).contains("Ada"));

    assert_eq!(home.stage(), Stage::Brief);
    assert!(home.screen.go_on().ok);
    home.watch(20.0);
    assert_eq!(home.stage(), Stage::Ask, "nothing runs before a guess is locked");
    let retell = home.screen.retell().expect("a run is told again");
    assert!(retell.doses.is_empty() && retell.questions.is_empty(), "nor is anything told");
    assert!(home.screen.lock(&guess("blue")).ok);

    // 5 s, a hold of 120 s, 15 s, a hold of 45 s, 40 s: as the class watched it.
    home.watch(4.5);
    assert!((home.now_s() - 14.5).abs() < 1e-6);
    home.watch(1.5);
    assert!((home.now_s() - 15.0).abs() < 1e-6, "{}", home.now_s());
    assert!((home.screen.state().class_hold.expect("held") - 119.0).abs() < 1e-6);
    home.watch(118.0);
    assert!((home.now_s() - 15.0).abs() < 1e-6);
    home.watch(2.0);
    assert!((home.now_s() - 16.0).abs() < 1e-6, "{}", home.now_s());
    home.watch(15.0);
    assert!((home.now_s() - 30.0).abs() < 1e-6 && home.screen.state().class_hold.is_some());
    home.watch(44.0 + 40.0);
    assert_eq!(home.stage(), Stage::See);
    assert!(home.screen.retell().expect("told").questions.is_empty(), "what the class said comes after");
    assert!(home.screen.see(&GuessText::default()).ok);

    let retell = home.screen.retell().expect("told");
    let dose = retell.doses[0];
    assert_eq!((dose.reagent, dose.number, dose.holds), ("acid", 1, 2));
    assert!((dose.held_s - 165.0).abs() < 1e-6 && (dose.room_s - 90.0).abs() < 1e-6);
    let at_rest = retell.questions.iter().find(|compared| compared.question == "atRest").expect("the class was asked");
    assert_eq!(at_rest.guess, Told::Words("red".to_owned()));
    assert_eq!(at_rest.near, Some("other"), "the board was wrong");
    assert!(retell.questions.iter().all(|compared| compared.question != "why"));
    let seen = retell.seen.iter().find(|compared| compared.question == "atRest").expect("the class said it");
    assert_eq!(seen.guess, Told::Words("blue".to_owned()));
}

#[test]
fn the_check_code_of_the_telling_is_that_of_the_run() {
    let (class, mut home) = told_again();
    let code = class.screen.check_code();
    assert_eq!(home.screen.retell().expect("told").same, None, "nothing was poured yet");
    for _ in 0..3 {
        assert!(home.screen.go_on().ok);
        assert!(home.screen.lock(&guess("green")).ok);
        home.watch_to_rest();
        assert!(home.screen.see(&GuessText::default()).ok);
    }
    let retell = home.screen.retell().expect("told");
    assert_eq!((retell.same, retell.code.as_str()), (Some(true), code.as_str()));
    assert_eq!(home.screen.check_code(), code);
}

/// The second dose: speed 4 from its start, and a leap 8 s after it.
#[test]
fn speeds_and_leaps_are_told_again() {
    let (_, mut home) = told_again();
    assert!(home.screen.go_on().ok);
    assert!(home.screen.lock(&guess("green")).ok);
    home.watch_to_rest();
    assert!(home.screen.see(&GuessText::default()).ok);
    assert!(home.screen.go_on().ok);
    assert!(home.screen.lock(&guess("green")).ok);
    let poured_s = home.now_s();
    home.watch(1.0);
    assert!((home.now_s() - poured_s - 4.0).abs() < 1e-6);
    home.watch(0.75);
    assert!((home.now_s() - poured_s - 7.0).abs() < 1e-6);
    home.watch(0.5);
    assert!(home.now_s() - poured_s > 9.0, "it leapt: {}", home.now_s() - poured_s);
}

#[test]
fn in_ones_own_pace_nothing_is_held() {
    let (_, mut home) = told_again();
    assert!(home.screen.go_on().ok);
    assert!(home.screen.lock(&guess("green")).ok);
    home.watch(6.0);
    assert!(home.screen.state().class_hold.is_some());
    home.screen.set_paced(false);
    assert!(home.screen.state().class_hold.is_none());
    home.watch(10.0);
    assert!((home.now_s() - 25.0).abs() < 1e-6);
    home.screen.set_speed(16);
    home.watch_to_rest();
    assert!(home.screen.see(&GuessText::default()).ok);
    assert!(!home.screen.retell().expect("told").questions.is_empty(), "what the class said is told all the same");
}

/// Whoever presses "carry on" in a hold of the class need not wait it out.
#[test]
fn a_hold_of_the_class_can_be_cut_short() {
    let (_, mut home) = told_again();
    assert!(home.screen.go_on().ok);
    assert!(home.screen.lock(&guess("green")).ok);
    home.watch(6.0);
    home.screen.set_held(false);
    home.watch(2.0);
    assert!((home.now_s() - 17.0).abs() < 1e-6, "{}", home.now_s());
    // A hold of one's own is not the class's, and lasts until one carries on.
    home.screen.set_held(true);
    home.watch(60.0);
    assert!((home.now_s() - 17.0).abs() < 1e-6);
}

#[test]
fn a_telling_that_was_kept_goes_on_as_one() {
    let (class, mut home) = told_again();
    let run = class.screen.run_text().text;
    assert!(home.screen.go_on().ok);
    assert!(home.screen.lock(&guess("green")).ok);
    home.watch(2.0);
    let kept = home.screen.kept();
    let mut again = Room::with(&Lesson::default());
    assert!(again.screen.resume(&kept, &run).ok);
    assert_eq!(again.screen.check_code(), home.screen.check_code());
    again.watch(6.0);
    assert!(again.screen.state().class_hold.is_some(), "the hold at 5 s still comes");
    again.screen.set_held(false);
    again.watch(4.0);
    let mut third = Room::with(&Lesson::default());
    assert!(third.screen.resume(&again.screen.kept(), &run).ok);
    third.watch(1.0);
    assert!((third.now_s() - again.now_s() - 1.0).abs() < 1e-6, "the hold that is over does not come again");
}

#[test]
fn a_run_that_is_none_is_refused_and_changes_nothing() {
    let mut home = Room::with(&short_lesson());
    let before = home.screen.link();
    for (text, key) in [
        ("run1.", "incomplete"),
        ("run2.AAAA", "newer"),
        ("{\"run\": 1}", "notOurs"),
        ("slip1.AAAA", "notOurs"),
        ("run1.AAAAAAAAAAAAAAA", "damaged"),
    ] {
        let reply = home.screen.open_run(text);
        assert_eq!((reply.ok, reply.key), (false, Some(key)), "{text}");
    }
    assert_eq!(home.screen.open_run(&"run1.".repeat(2_000_000)).key, Some("tooLong"));
    assert_eq!(home.screen.link(), before);
    assert!(home.screen.retell().is_none());
}
