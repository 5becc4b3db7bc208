//! What a student hands in: one line that holds what was typed or chosen, with the codes of
//! the lesson and of the run, and nothing else.
//!
//! ```text
//! line  "slip1." and the body, sealed as envelope.rs does
//! body  lesson's code, run's code, five bytes each; the run's time, tenths of a second,
//!       varint; which try it was, varint; name, text; note, text; entries without the
//!       room's time: steps on, locks, what was seen, choices, marks, marks taken back
//! ```
//!
//! The file of a slip has the same line below words for people, and only the line is read.
//! Letters and lines that a mail or a chat put around it do no harm.

use super::act::{Act, Entry, NOTE_MAX_CHARS, Reached, SIGNED_MAX_CHARS, latest_run};
use super::act_bytes::{self, NEWER, read_code, read_line, read_reached, write_reached};
use super::code::CheckCode;
use super::envelope::{self, read_varint, varint, write_text};
use super::link::LinkError;
use super::recipe::Recipe;

/// Longest text that is searched for slips, in characters.
pub const SLIP_MAX_CHARS: usize = 500_000;

const MARK: &str = "slip1.";
const NAME: &str = "slip";

/// What one student hands in.
#[derive(Clone, Debug, PartialEq)]
pub struct Slip {
    /// Code of the lesson.
    pub lesson: CheckCode,
    /// How far the run came, and its check code there.
    pub reached: Reached,
    /// Which try it was, from 1.
    pub attempt: u32,
    /// A name or a code, where one was typed.
    pub signed: String,
    /// A note, where one was typed.
    pub note: String,
    /// What was chosen, in order.
    pub entries: Vec<Entry>,
}

impl Slip {
    /// The slip of a record's latest guided run.
    pub fn of(lesson: CheckCode, reached: Reached, record: &[Entry]) -> Slip {
        let (run, attempt) = latest_run(record);
        let last = |text: fn(&Act) -> Option<&String>| record.iter().rev().find_map(|entry| text(&entry.act));
        Slip {
            lesson,
            reached,
            attempt,
            signed: last(|act| if let Act::Sign(text) = act { Some(text) } else { None }).cloned().unwrap_or_default(),
            note: last(|act| if let Act::Note(text) = act { Some(text) } else { None }).cloned().unwrap_or_default(),
            entries: run
                .iter()
                .filter(|entry| is_an_answer(&entry.act))
                .map(|entry| Entry { room_ds: 0, ..entry.clone() })
                .collect(),
        }
    }

    /// Was nothing answered?
    pub fn is_blank(&self) -> bool {
        !self.entries.iter().any(|entry| match &entry.act {
            Act::Lock(_) => true,
            Act::Choose { answer, .. } => !answer.is_empty(),
            _ => false,
        })
    }

    /// Is there anything in it that two people hardly have alike: a name, words of their own, a
    /// pressed time?
    pub fn is_somebodys(&self) -> bool {
        let has_words = |entry: &Entry| match &entry.act {
            Act::Lock(guess) | Act::See(guess) => guess.why.is_some(),
            Act::Mark { .. } => true,
            _ => false,
        };
        !self.signed.is_empty() || !self.note.is_empty() || self.entries.iter().any(has_words)
    }

    /// As the line that is handed in.
    pub fn line(&self) -> String {
        let mut body = Vec::new();
        body.extend(self.lesson.bytes());
        write_reached(&self.reached, &mut body);
        body.extend(varint(self.attempt));
        write_text(&self.signed, &mut body);
        write_text(&self.note, &mut body);
        act_bytes::write(self.entries.iter(), false, &mut body);
        envelope::seal(MARK, &body)
    }

    /// Reads one line.
    ///
    /// # Errors
    /// A [`LinkError`] for anything that [`Slip::line`] did not write.
    pub fn from_line(line: &str) -> Result<Slip, LinkError> {
        let body = envelope::open(MARK, line)?;
        let rest = &mut body.as_slice();
        let slip = Slip {
            lesson: read_code(rest)?,
            reached: read_reached(rest)?,
            attempt: read_varint(rest)?,
            signed: read_line(rest, SIGNED_MAX_CHARS)?,
            note: read_line(rest, NOTE_MAX_CHARS)?,
            entries: act_bytes::read(rest, false, Recipe::BEAKERS[1])?,
        };
        if !rest.is_empty() {
            return Err(NEWER);
        }
        if slip.entries.iter().all(|entry| is_an_answer(&entry.act)) { Ok(slip) } else { Err(LinkError::Damaged) }
    }

    /// Every slip in a text: a file, or lines that were pasted together. A text without any is
    /// one that is not ours.
    pub fn all(text: &str) -> Vec<Result<Slip, LinkError>> {
        if text.len() > SLIP_MAX_CHARS {
            return vec![Err(LinkError::TooLong { chars: text.chars().count() })];
        }
        if text.trim().is_empty() {
            return vec![Err(LinkError::Empty)];
        }
        let mut found = Vec::new();
        let mut from = 0;
        while let Some(start) = find(text, from) {
            let (slip, end) = read_at(text, start);
            found.push(slip);
            from = end;
        }
        if found.is_empty() { vec![Err(LinkError::NotOurs)] } else { found }
    }
}

fn is_an_answer(act: &Act) -> bool {
    match act {
        // Without the steps on nobody could tell before which dose a question was answered.
        Act::GoOn | Act::Lock(_) | Act::See(_) | Act::Choose { .. } | Act::Mark { .. } | Act::TakeBack { .. } => true,
        Act::Begin { .. } | Act::Note(_) | Act::Sign(_) | Act::Hold(_) | Act::Speed(_) | Act::Leap => false,
        Act::Bench { .. } => false,
    }
}

/// Where the next mark of a slip stands: its name, digits and a point, and no letter before. Byte by byte, because a text that
/// is cut wrongly would bring the standard library's tables of all characters along, for a message that nobody sees.
fn find(text: &str, mut from: usize) -> Option<usize> {
    let signs = text.as_bytes();
    loop {
        let start = from + signs.get(from..)?.windows(NAME.len()).position(|part| part == NAME.as_bytes())?;
        from = start + NAME.len();
        let after = signs.get(from..)?;
        let digits = after.iter().take_while(|sign| sign.is_ascii_digit()).count();
        let is_mark = (1..=4).contains(&digits) && after.get(digits) == Some(&b'.');
        let before = start.checked_sub(1).and_then(|at| signs.get(at));
        if is_mark && !before.is_some_and(u8::is_ascii_alphanumeric) {
            return Some(start);
        }
    }
}

/// The slip that begins here, and where it ends.
fn read_at(text: &str, start: usize) -> (Result<Slip, LinkError>, usize) {
    let is_letter = |sign: &u8| sign.is_ascii_alphanumeric() || matches!(sign, b'-' | b'_' | b'.');
    let end = start + text.bytes().skip(start).take_while(is_letter).count();
    let whole = Slip::from_line(text.get(start..end).unwrap_or_default());
    if !matches!(whole, Err(LinkError::Incomplete { .. })) {
        return (whole, end);
    }
    // A mail may have broken the line: its own length tells how many letters belong to it. None
    // of them stands beyond the next slip, so that many beginnings take no more than one look each.
    let next = find(text, end).unwrap_or(text.len());
    let is_gap = |sign: &char| matches!(sign, ' ' | '\r' | '\n' | '\t' | '>');
    let letters: String =
        text.get(start + MARK.len()..next).unwrap_or_default().chars().filter(|sign| !is_gap(sign)).collect();
    let announced = envelope::letters_announced(&letters).and_then(|count| letters.get(..count));
    match announced.map(|letters| Slip::from_line(&format!("{MARK}{letters}"))) {
        Some(Ok(slip)) => (Ok(slip), end),
        _ => (whole, end),
    }
}
