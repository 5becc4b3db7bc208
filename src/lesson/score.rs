//! How an answer compares with the outcome. It tells how near; it gives no mark.
//!
//! Colour is graded on the bin of the pH, and the neighbour counts as well within 0.2 pH of
//! an edge: there two people name the same beaker differently.

use crate::colour::{Band, Clarity};

use super::guess::{First, Seconds};

/// Within this distance of a bin's edge, in pH, the neighbour's name is accepted.
const EDGE_PH: f64 = 0.2;

/// A guessed time is the same as the outcome within this share of it, or within the seconds
/// a hand on a stopwatch needs; it is near within a factor of two. This program's choice.
const SAME_SHARE: f64 = 0.2;
const SAME_SECONDS: f64 = 3.0;
const NEAR_FACTOR: f64 = 2.0;

/// Two beakers that turn back within this time, s, turn back together for an eye.
const TOGETHER_S: f64 = 1.0;

/// How near an answer came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Match {
    /// It is what happened.
    Same,
    /// It is close enough for an eye or a stopwatch, or next to it.
    Near,
    /// Something else happened.
    Other,
}

impl Match {
    /// The name at the edge: same, near, other.
    pub fn key(self) -> &'static str {
        match self {
            Match::Same => "same",
            Match::Near => "near",
            Match::Other => "other",
        }
    }
}

/// What a dose did, as far as it was asked. pH and clarity belong to the subject beaker.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Furthest pH of the liquid right after the pour.
    pub ph_at_once: f64,
    /// pH of the liquid at rest.
    pub ph_at_rest: f64,
    /// Clarity at rest.
    pub clarity: Clarity,
    /// Seconds from the start of the pour to the upward crossing of pH 7, by beaker.
    pub turned_back_s: Vec<Option<f64>>,
    /// The beaker that the card asks about.
    pub subject: usize,
}

impl Outcome {
    /// When the subject beaker turned back.
    pub fn seconds(&self) -> Seconds {
        self.turned_back_s[self.subject].map_or(Seconds::Never, Seconds::After)
    }

    /// Which beaker turned back first.
    pub fn first(&self) -> First {
        let mut best: Option<(usize, f64)> = None;
        for (beaker, seconds) in self.turned_back_s.iter().enumerate() {
            match (*seconds, best) {
                (Some(seconds), Some((_, earliest))) if seconds >= earliest => {}
                (Some(seconds), _) => best = Some((beaker, seconds)),
                (None, _) => {}
            }
        }
        let Some((beaker, earliest)) = best else { return First::None };
        let together = |seconds: &Option<f64>| seconds.is_some_and(|s| s - earliest <= TOGETHER_S);
        if self.turned_back_s.len() > 1 && self.turned_back_s.iter().all(together) {
            First::Same
        } else {
            First::Beaker(beaker)
        }
    }
}

/// Compares a colour with the pH that was reached.
pub fn match_band(guess: Band, ph: f64) -> Match {
    if guess == Band::of_ph(ph) {
        Match::Same
    } else if guess == Band::of_ph(ph - EDGE_PH) || guess == Band::of_ph(ph + EDGE_PH) {
        Match::Near
    } else {
        Match::Other
    }
}

/// Compares two clarities: near where both say "see-through" or both say "not".
pub fn match_clarity(guess: Clarity, outcome: Clarity) -> Match {
    let see_through = |clarity| matches!(clarity, Clarity::Clear | Clarity::Hazy);
    if guess == outcome {
        Match::Same
    } else if see_through(guess) == see_through(outcome) {
        Match::Near
    } else {
        Match::Other
    }
}

/// Compares two times.
pub fn match_seconds(guess: Seconds, outcome: Seconds) -> Match {
    match (guess, outcome) {
        (Seconds::Never, Seconds::Never) => Match::Same,
        (Seconds::After(guess), Seconds::After(outcome)) => {
            if (guess - outcome).abs() <= (SAME_SHARE * outcome).max(SAME_SECONDS) {
                Match::Same
            } else if guess <= NEAR_FACTOR * outcome && outcome <= NEAR_FACTOR * guess {
                Match::Near
            } else {
                Match::Other
            }
        }
        _ => Match::Other,
    }
}

/// Compares two answers to "which beaker first".
pub fn match_first(guess: First, outcome: First) -> Match {
    if guess == outcome { Match::Same } else { Match::Other }
}
