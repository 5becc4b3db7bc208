//! A class's run told again: its holds and its speeds, its predictions after one's own, nobody
//! named, and the same check code.

use turnback::lesson::{GuessText, Lesson, LinkError, Recipe, RecipeText, Run};
use turnback::session::Stage;
use turnback::view::{Screen, Told};

fn short_lesson() -> Lesson {
    let mut text: RecipeText = Recipe::default().to_text();
    for (key, value) in [("acidDoses", "2"), ("baseDoses", "1"), ("restS", "60"), ("baseRestS", "20")] {
        text.fields.insert(key.to_owned(), value.to_owned());
    }
    Lesson::of_recipe(Recipe::from_text(&text).expect("within the limits"))
}

fn screen() -> Screen {
    let mut screen = Screen::new().expect("our scenario begins");
    assert!(screen.open_link(&short_lesson().link().expect("short")).ok);
    screen
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

/// A class: two long holds in the first dose, a wrong prediction on the board, speed 4 and a leap
/// in the second, base at speed 16.
fn class() -> Screen {
    let mut screen = screen();
    let mut room_s = 1000.0;
    let mut watch = |screen: &mut Screen, seconds: f64| {
        let mut left = seconds;
        while left > 1e-9 && screen.session().stage() == Stage::Watch {
            screen.tick(left.min(0.25));
            room_s += left.min(0.25);
            screen.room_is(room_s);
            left -= 0.25;
        }
        room_s
    };
    screen.room_is(1000.0);
    assert!(screen.go_on().ok);
    let mut now = watch(&mut screen, 0.0) + 90.0;
    screen.room_is(now);
    assert!(screen.lock(&guess("red")).ok);
    room_s = now;
    let mut watch = |screen: &mut Screen, seconds: f64| {
        let mut left = seconds;
        while left > 1e-9 && screen.session().stage() == Stage::Watch {
            screen.tick(left.min(0.25));
            room_s += left.min(0.25);
            screen.room_is(room_s);
            left -= 0.25;
        }
        room_s
    };
    watch(&mut screen, 5.0);
    screen.set_held(true);
    now = watch(&mut screen, 0.0) + 120.0;
    screen.room_is(now);
    screen.set_held(false);
    drop(now);
    screen
}

#[test]
fn placeholder() {
    let _ = (class(), LinkError::Empty, Told::Nothing, Run::is_one("run1."));
}
