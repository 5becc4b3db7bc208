//! What somebody did in a lesson, act by act: the record that is kept, and of which slip and
//! retelling are parts. The engine always does the same with the same acts, so the acts are
//! all that needs to be kept.

use crate::colour::Band;

use super::code::CheckCode;
use super::guess::Guess;

/// Longest name or code under a slip, in characters.
pub const SIGNED_MAX_CHARS: usize = 40;

/// Longest note of a student, in characters: a page.
pub const NOTE_MAX_CHARS: usize = 2000;

/// Longest text that is kept of what was typed on the free bench, in characters.
pub const TYPED_MAX_CHARS: usize = 50;

/// One line of the record. Lines are only ever added.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// When, tenths of a second on the lesson's clock.
    pub at_ds: u32,
    /// When, tenths of a second of the room since the lesson was begun here; pauses of the
    /// machine are left out. No date and no time of day.
    pub room_ds: u32,
    /// What.
    pub act: Act,
}

/// What was done.
#[derive(Clone, Debug, PartialEq)]
pub enum Act {
    /// Fresh beakers, guided or free.
    Begin {
        /// The free bench?
        free: bool,
        /// What was left, where a guided run was.
        left: Option<Reached>,
    },
    /// On to the next dose, or to the end.
    GoOn,
    /// A guess was locked, and the dose poured.
    Lock(Guess),
    /// It was said what was seen.
    See(Guess),
    /// A question with choices, or one of the teacher's own, was answered.
    Choose {
        /// Which question of its place, from 0.
        ask: usize,
        /// A key, a number, or free words; none takes the answer back.
        answer: String,
    },
    /// "It is back."
    Mark {
        /// Which beaker, from 0.
        beaker: usize,
        /// The colour that it had to show all through.
        finish: Band,
    },
    /// A time was taken back.
    TakeBack {
        /// Which of all marks, from 0.
        mark: usize,
    },
    /// A note, in place of the one before.
    Note(String),
    /// A name or a code, in place of the one before.
    Sign(String),
    /// The clock was held, or let go.
    Hold(bool),
    /// The clock's speed.
    Speed(u32),
    /// The clock ran at once to the next event.
    Leap,
    /// Something was done on the free bench.
    Bench {
        /// What.
        deed: Deed,
        /// To which beakers, from 0.
        beakers: Vec<usize>,
        /// What was typed or chosen for it.
        typed: [String; 2],
    },
}

/// Something that only the free bench lets one do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Deed {
    /// Poured: reagent, mL.
    Pour,
    /// Set stirrers: rpm.
    Stir,
    /// Changed the surroundings: kind, °C.
    Bath,
    /// Changed the setup: key.
    Change,
}

/// How far a run came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reached {
    /// Its check code there.
    pub code: CheckCode,
    /// When, tenths of a second on the lesson's clock.
    pub now_ds: u32,
}

/// The last stretch of a record that is a guided run in which something was answered; and
/// whether something was answered in an earlier one, counted from 1.
pub fn latest_run(entries: &[Entry]) -> (&[Entry], u32) {
    let is_begin = |entry: &Entry| matches!(entry.act, Act::Begin { .. });
    let is_answer = |entry: &Entry| matches!(entry.act, Act::Lock(_) | Act::Choose { .. });
    let mut attempts = 0;
    let mut latest: &[Entry] = &[];
    let mut free = false;
    let mut rest = entries;
    loop {
        let end = rest.iter().position(is_begin).unwrap_or(rest.len());
        if !free && rest[..end].iter().any(is_answer) {
            attempts += 1;
            latest = &rest[..end];
        }
        let Some(Entry { act: Act::Begin { free: next, .. }, .. }) = rest.get(end) else {
            return (latest, attempts.max(1));
        };
        free = *next;
        rest = &rest[end + 1..];
    }
}
