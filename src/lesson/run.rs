//! A run as it happened, to be told again: the lesson, when each dose was poured and the clock
//! held, what was guessed and what was seen. No words of anybody's own are in it, so that it
//! names nobody.
//!
//! ```text
//! text  "run1." and the body, sealed as envelope.rs does
//! body  lesson as in kept.rs; the run's code and its time; entries with the room's time
//! ```

use super::Lesson;
use super::act::{Act, Entry, Reached, latest_run};
use super::act_bytes::{self, NEWER, read_reached, write_reached};
use super::envelope;
use super::guess::Guess;
use super::kept::{read_lesson, write_lesson};
use super::link::LinkError;

/// Longest text of a run that is looked at, in characters.
pub const RUN_MAX_CHARS: usize = 500_000;

const MARK: &str = "run1.";

/// A run that can be told again.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The lesson.
    pub lesson: Lesson,
    /// How far it came, and its check code there.
    pub reached: Reached,
    /// What was done, without anybody's own words.
    pub entries: Vec<Entry>,
}

impl Run {
    /// The latest guided run of a record.
    pub fn of(lesson: &Lesson, reached: Reached, record: &[Entry]) -> Run {
        let (run, _) = latest_run(record);
        let start_ds = run.first().map_or(0, |entry| entry.room_ds);
        Run { lesson: lesson.clone(), reached, entries: run.iter().filter_map(|entry| told(entry, start_ds)).collect() }
    }

    /// Does a text begin as a run does?
    pub fn is_one(text: &str) -> bool {
        text.trim_start_matches('#').starts_with("run")
    }

    /// As a text.
    pub fn text(&self) -> String {
        let mut body = Vec::new();
        write_lesson(&self.lesson, &mut body);
        write_reached(&self.reached, &mut body);
        act_bytes::write(self.entries.iter(), true, &mut body);
        envelope::seal(MARK, &body)
    }

    /// Reads a text, with or without a #.
    ///
    /// # Errors
    /// A [`LinkError`] for anything that [`Run::text`] did not write.
    pub fn from_text(text: &str) -> Result<Run, LinkError> {
        if text.len() > RUN_MAX_CHARS {
            return Err(LinkError::TooLong { chars: text.chars().count() });
        }
        let text = text.trim();
        let body = envelope::open(MARK, text.strip_prefix('#').unwrap_or(text))?;
        let rest = &mut body.as_slice();
        let lesson = read_lesson(rest)?;
        let reached = read_reached(rest)?;
        let entries = act_bytes::read(rest, true, lesson.recipe.beakers().len())?;
        let run = Run { lesson, reached, entries };
        if !rest.is_empty() {
            return Err(NEWER);
        }
        let nobodys = run.entries.iter().all(|entry| told(entry, 0).as_ref() == Some(entry));
        if nobodys { Ok(run) } else { Err(LinkError::Damaged) }
    }
}

/// What is told again of an entry, if anything.
fn told(entry: &Entry, start_ds: u32) -> Option<Entry> {
    let wordless = |guess: &Guess| Guess { why: None, ..guess.clone() };
    let act = match &entry.act {
        Act::Lock(guess) => Act::Lock(wordless(guess)),
        Act::See(guess) => Act::See(wordless(guess)),
        Act::GoOn | Act::Mark { .. } | Act::TakeBack { .. } | Act::Hold(_) | Act::Speed(_) | Act::Leap => {
            entry.act.clone()
        }
        Act::Begin { .. } | Act::Choose { .. } | Act::Note(_) | Act::Sign(_) | Act::Bench { .. } => return None,
    };
    Some(Entry { act, room_ds: entry.room_ds.saturating_sub(start_ds), ..*entry })
}
