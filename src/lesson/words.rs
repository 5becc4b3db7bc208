//! Words that a teacher typed: kept as they are, in any script, but for signs that would
//! change how other words are shown.

use super::field::Limits;
use super::recipe::{FieldError, Place};

/// Limits of a text's length, in characters.
const fn characters(key: &'static str, max: f64) -> Limits {
    Limits { key, unit: "", min: 1.0, max, default: 0.0, decimals: 0, finest: 0 }
}

/// A lesson's title: a line on the board.
pub static TITLE: Limits = characters("title", 80.0);
/// A question: a paragraph on the card.
pub static QUESTION: Limits = characters("text", 400.0);
/// A choice: a line on the card.
pub static CHOICE: Limits = characters("choice", 120.0);
/// The teacher's notes: a page.
pub static NOTES: Limits = characters("notes", 4000.0);

/// One line of typed words without control characters. Line breaks become spaces. Emoji,
/// right-to-left scripts and their marks stay; only the signs that turn the direction of
/// everything behind them (U+202A to U+202E) go, because they would turn the page's own words.
pub fn line(typed: &str) -> String {
    cleaned(typed, |sign| match sign {
        '\t'..='\r' | '\u{85}' | '\u{2028}' | '\u{2029}' => Some(' '),
        _ => None,
    })
}

/// As [`line`], with the line breaks kept.
pub fn paragraphs(typed: &str) -> String {
    // The first half of a line break of two signs goes as the control character that it is.
    cleaned(typed, |sign| match sign {
        '\t' => Some(' '),
        '\n' | '\u{85}' | '\u{2028}' | '\u{2029}' => Some('\n'),
        _ => None,
    })
}

fn cleaned(typed: &str, instead: fn(char) -> Option<char>) -> String {
    let mut text = String::with_capacity(typed.len());
    for sign in typed.chars() {
        let goes = sign.is_control() || matches!(sign, '\u{202a}'..='\u{202e}');
        match instead(sign) {
            Some(other) => text.push(other),
            None if goes => {}
            None => text.push(sign),
        }
    }
    text.trim().to_owned()
}

/// Refuses a cleaned text that is longer than its limits, or empty where it must not be.
///
/// # Errors
/// A [`FieldError`] at `place`: empty or tooLong, with the limits in characters.
pub(super) fn check(text: &str, limits: &'static Limits, needed: bool, place: Place) -> Result<(), FieldError> {
    // Bytes are at least as many as characters: the cheap look comes first.
    let long = text.len() as f64 > limits.max && text.chars().count() as f64 > limits.max;
    if long {
        Err(FieldError::new(place, "tooLong", limits))
    } else if needed && text.is_empty() {
        Err(FieldError::new(place, "empty", limits))
    } else {
        Ok(())
    }
}
