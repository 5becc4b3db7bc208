//! The session: one clock, the guided lesson played from brief to end, the free bench, and
//! the check code of a run. The scenario is our own (Room 12).

use turnback::lesson::{BeakerText, GuessText, Lesson, Recipe, RecipeText};
use turnback::session::{Event, PourText, Session, Stage};

mod session {
    mod clock;
    mod free;
    pub mod guess;
    mod guided;
    mod random_lessons;
}

use session::guess::some_guess;

fn ours() -> Session {
    Session::new(Lesson::default()).expect("our scenario begins")
}

fn with(changes: &[(&str, &str)], kinds: &[(&str, &str, &str)]) -> Session {
    let mut text: RecipeText = Recipe::default().to_text();
    for (key, value) in changes {
        text.fields.insert((*key).to_owned(), (*value).to_owned());
    }
    if !kinds.is_empty() {
        let typed = |(kind, celsius, ice_g): &(&str, &str, &str)| BeakerText {
            kind: (*kind).to_owned(),
            celsius: (*celsius).to_owned(),
            ice_g: (*ice_g).to_owned(),
        };
        text.beakers = kinds.iter().map(typed).collect();
    }
    let recipe = Recipe::from_text(&text).expect("within the limits");
    Session::new(Lesson::of_recipe(recipe)).expect("begins")
}

fn run_to_rest(session: &mut Session, real_s: f64) -> Vec<Event> {
    let mut events = Vec::new();
    while session.stage() == Stage::Watch {
        events.extend(session.tick(real_s).expect("runs"));
    }
    events
}

/// Locks, watches at speed 16 and says nothing; returns what happened.
fn play_dose(session: &mut Session) -> Vec<Event> {
    let mut events = session.lock(&some_guess()).expect("a complete guess");
    session.set_speed(16);
    events.extend(run_to_rest(session, 1.0));
    session.see(&GuessText::default()).expect("at rest");
    events
}

fn play_all(session: &mut Session) {
    session.go_on().expect("from the brief");
    while session.stage() == Stage::Ask {
        play_dose(session);
        session.go_on().expect("explained");
    }
}

fn pour(beakers: &[usize], reagent: &str, volume_ml: &str) -> PourText {
    PourText { beakers: beakers.to_vec(), reagent: reagent.into(), volume_ml: volume_ml.into() }
}
