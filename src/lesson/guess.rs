//! What a student commits to before a dose, and what a student says to have seen after it.

use crate::colour::{Band, Clarity};

use super::field::Limits;
use super::number::{NumberError, parse_number};
use super::steps::Question;
use super::words;

/// Longest answer to "why", in characters: a paragraph.
pub const WHY_MAX_CHARS: usize = 500;

/// Limits of a guessed time, s.
pub(super) static SECONDS: Limits =
    Limits { key: "seconds", unit: "s", min: 0.0, max: 3600.0, default: 30.0, decimals: 0, finest: 1 };

/// An answer as typed or chosen; what was left open is none.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct GuessText {
    /// A colour's key.
    pub at_once: Option<String>,
    /// A colour's key.
    pub at_rest: Option<String>,
    /// A clarity's key.
    pub clarity: Option<String>,
    /// Typed seconds, or "never".
    pub seconds: Option<String>,
    /// A beaker's index from 0, or "same", or "none".
    pub first: Option<String>,
    /// Free words.
    pub why: Option<String>,
}

/// Time until the colour turns back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Seconds {
    /// After so many seconds from the start of the pour.
    After(f64),
    /// It does not turn back while it is watched.
    Never,
}

/// Which beaker turns back first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum First {
    /// This one, from 0.
    Beaker(usize),
    /// All of them together.
    Same,
    /// None turns back.
    None,
}

/// A checked answer. A question that was not asked, or an observation not made, is none.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Guess {
    /// Colour at once.
    pub at_once: Option<Band>,
    /// Colour at rest.
    pub at_rest: Option<Band>,
    /// Cloudy or clear, at rest.
    pub clarity: Option<Clarity>,
    /// Seconds until it turns back.
    pub seconds: Option<Seconds>,
    /// Which beaker first.
    pub first: Option<First>,
    /// Why; empty words count as not answered.
    pub why: Option<String>,
}

/// An answer that was refused.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GuessError {
    /// The question.
    pub question: Question,
    /// missing, unknown, notANumber, tooSmall, tooBig, tooFine or tooLong.
    pub key: &'static str,
    /// Limits, where they are the trouble.
    pub limits: Option<Limits>,
}

impl Guess {
    /// Checks the answers to `asked`; anything else in the text is not looked at.
    ///
    /// With `complete`, every question must be answered except "why": a student who can't
    /// find words yet may still look, and says it afterwards.
    ///
    /// # Errors
    /// Every answer that is refused, all at once.
    pub fn from_text(
        text: &GuessText,
        asked: &[Question],
        beakers: usize,
        complete: bool,
    ) -> Result<Guess, Vec<GuessError>> {
        let mut guess = Guess::default();
        let mut errors = Vec::new();
        for &question in asked {
            let typed = text.of(question).map(str::trim).filter(|typed| !typed.is_empty());
            let read = match typed {
                Some(typed) => guess.read(question, typed, beakers),
                None if complete && question != Question::Why => Err(bare(question, "missing")),
                None => Ok(()),
            };
            errors.extend(read.err());
        }
        if errors.is_empty() { Ok(guess) } else { Err(errors) }
    }

    fn read(&mut self, question: Question, typed: &str, beakers: usize) -> Result<(), GuessError> {
        let known = |found: bool| if found { Ok(()) } else { Err(bare(question, "unknown")) };
        match question {
            Question::AtOnce => {
                self.at_once = Band::of_key(typed);
                known(self.at_once.is_some())
            }
            Question::AtRest => {
                self.at_rest = Band::of_key(typed);
                known(self.at_rest.is_some())
            }
            Question::Clarity => {
                self.clarity = Clarity::of_key(typed);
                known(self.clarity.is_some())
            }
            Question::First => {
                self.first = first(typed, beakers);
                known(self.first.is_some())
            }
            Question::Seconds => {
                self.seconds = Some(seconds(typed)?);
                Ok(())
            }
            Question::Why => {
                if typed.chars().count() > WHY_MAX_CHARS {
                    return Err(bare(question, "tooLong"));
                }
                self.why = Some(words::paragraphs(typed)).filter(|why| !why.is_empty());
                Ok(())
            }
        }
    }
}

impl GuessText {
    fn of(&self, question: Question) -> Option<&str> {
        match question {
            Question::AtOnce => self.at_once.as_deref(),
            Question::AtRest => self.at_rest.as_deref(),
            Question::Clarity => self.clarity.as_deref(),
            Question::Seconds => self.seconds.as_deref(),
            Question::First => self.first.as_deref(),
            Question::Why => self.why.as_deref(),
        }
    }
}

fn bare(question: Question, key: &'static str) -> GuessError {
    GuessError { question, key, limits: None }
}

fn first(typed: &str, beakers: usize) -> Option<First> {
    match typed {
        "same" => Some(First::Same),
        "none" => Some(First::None),
        _ => typed.parse().ok().filter(|&index| index < beakers).map(First::Beaker),
    }
}

fn seconds(typed: &str) -> Result<Seconds, GuessError> {
    if typed == "never" {
        return Ok(Seconds::Never);
    }
    let limited = |key| GuessError { question: Question::Seconds, key, limits: Some(SECONDS) };
    let (value, _) = parse_number(typed).map_err(|error| match error {
        NumberError::Empty => limited("missing"),
        NumberError::NotANumber => limited("notANumber"),
    })?;
    if value < SECONDS.min {
        Err(limited("tooSmall"))
    } else if value > SECONDS.max {
        Err(limited("tooBig"))
    } else if SECONDS.step(SECONDS.steps(value)) != value {
        Err(limited("tooFine"))
    } else {
        Ok(Seconds::After(value))
    }
}
