//! What is answered where the answer is not what is tested.

use turnback::lesson::GuessText;

/// Any complete answer, "why" left open: what it says changes nothing in the beakers.
pub fn some_guess() -> GuessText {
    let some = |text: &str| Some(text.to_owned());
    GuessText {
        at_once: some("red"),
        at_rest: some("violet"),
        clarity: some("cloudy"),
        seconds: some("20"),
        first: some("0"),
        why: None,
    }
}
