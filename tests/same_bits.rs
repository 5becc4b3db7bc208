//! Ten lessons played to their ends, natively. Their check codes and the last bits of their
//! pH go to `target/same-bits.json`, and the browser tests (`tests/browser/same-bits.test.mjs`)
//! play the same lessons in Chromium and in Firefox and compare.
//!
//! Each place looks at the lessons in another way: here the clock runs at 16 times in long
//! ticks. No way of looking may change a bit.

use serde_json::{Value, json};
use std::{fs, path::Path};
use turnback::lesson::{BeakerText, RecipeText};
use turnback::session::PourText;
use turnback::view::Screen;

#[path = "session/guess.rs"]
mod guess;
use guess::some_guess;

/// No lesson of the list takes more ticks.
const MOST_TICKS: usize = 100_000;

#[test]
fn ten_lessons_play_to_their_ends_and_leave_their_codes_for_the_browsers() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let lessons = fs::read_to_string(root.join("tests/browser/lessons.json")).expect("the list of lessons");
    let lessons: Vec<Value> = serde_json::from_str(&lessons).expect("the list of lessons is JSON");
    assert_eq!(lessons.len(), 10);
    let played: Vec<Value> = lessons.iter().map(play).collect();
    let mut codes: Vec<&str> =
        played.iter().filter_map(|lesson| lesson["codes"].as_array()?.last()?.as_str()).collect();
    codes.sort_unstable();
    codes.dedup();
    assert_eq!(codes.len(), 10, "each lesson has a code of its own");
    // Played again, each gives the same.
    assert_eq!(play(&lessons[0]), played[0]);
    fs::create_dir_all(root.join("target")).expect("target/ can be made");
    fs::write(root.join("target/same-bits.json"), Value::from(played).to_string()).expect("target/ can be written");
}

fn play(lesson: &Value) -> Value {
    let mut screen = Screen::new().expect("our own scenario begins");
    let reply = screen.set_recipe(&recipe(&screen, lesson));
    assert!(reply.ok, "{lesson}: {reply:?}");
    screen.set_speed(16);
    let mut codes = Vec::new();
    match lesson["play"].as_array() {
        None => guided(&mut screen, &mut codes),
        Some(actions) => free(&mut screen, actions, &mut codes),
    }
    // At a time that is the same number everywhere: the clock itself may differ in its last bit,
    // having come there in other steps.
    let looked_at_s = match lesson["play"].as_array() {
        None => screen.state().now,
        Some(actions) => actions.last().and_then(|last| last["at"].as_f64()).expect("an action has a time") - 1.0,
    };
    let ph: Vec<f64> = screen.labels(looked_at_s).iter().map(|label| label.ph).collect();
    json!({ "name": lesson["name"], "codes": codes, "ph": ph })
}

/// Every dose to its rest, with a code at each rest.
fn guided(screen: &mut Screen, codes: &mut Vec<String>) {
    let guess = some_guess();
    assert!(screen.go_on().ok);
    while screen.state().stage == "ask" {
        let reply = screen.lock(&guess);
        assert!(reply.ok, "{reply:?}");
        for _ in 0..MOST_TICKS {
            if screen.state().stage != "watch" {
                break;
            }
            screen.tick(1.0);
        }
        codes.push(screen.check_code());
        assert!(screen.see(&guess).ok);
        assert!(screen.go_on().ok);
    }
    assert_eq!(screen.state().stage, "end");
}

/// Every action at its time, with a code before each and one at the end.
fn free(screen: &mut Screen, actions: &[Value], codes: &mut Vec<String>) {
    assert!(screen.begin("free").ok);
    for action in actions {
        // Actions fall on the next tenth of a second: half a tenth before it, rounding of the
        // clock does not matter.
        let at_s = action["at"].as_f64().expect("an action has a time") - 0.05;
        for _ in 0..MOST_TICKS {
            let left_s = at_s - screen.state().now;
            if left_s <= 1e-9 {
                break;
            }
            screen.tick((left_s / 16.0).min(1.0));
        }
        codes.push(screen.check_code());
        let text = |key: &str| action[key].as_str().unwrap_or_default().to_owned();
        let reply = if action["pour"].is_string() {
            let beakers = (0..screen.labels(0.0).len()).collect();
            screen.pour(&PourText { beakers, reagent: text("pour"), volume_ml: text("volumeMl") })
        } else if action["rpm"].is_string() {
            screen.set_stirrer(-1, &text("rpm"))
        } else if action["bath"].is_string() {
            screen.set_bath(-1, &BeakerText { kind: text("bath"), celsius: text("celsius"), ice_g: String::new() })
        } else {
            continue;
        };
        assert!(reply.ok, "{action}: {reply:?}");
    }
}

/// Our own recipe with what the lesson changes of it.
fn recipe(screen: &Screen, lesson: &Value) -> RecipeText {
    let form = screen.fields();
    let mut text = RecipeText::default();
    for field in form.fields {
        let changed = lesson["fields"][field.key].as_str().map(str::to_owned);
        text.fields.insert(field.key.to_owned(), changed.unwrap_or_else(|| field.value.to_string()));
    }
    text.beakers = match lesson["beakers"].as_array() {
        None => form
            .beakers
            .iter()
            .map(|beaker| BeakerText {
                kind: beaker.kind.to_owned(),
                celsius: beaker.celsius.to_string(),
                ice_g: beaker.ice_g.to_string(),
            })
            .collect(),
        Some(beakers) => beakers
            .iter()
            .map(|beaker| {
                let text = |key: &str| beaker[key].as_str().unwrap_or_default().to_owned();
                BeakerText { kind: text("kind"), celsius: text("celsius"), ice_g: text("iceG") }
            })
            .collect(),
    };
    text
}
