//! The whole record of a lesson as the text that a device keeps.
//!
//! ```text
//! text  "kept1." and the body, sealed as envelope.rs does
//! body  lesson: its number of bytes, varint, and its bytes as in a link; the clock's now, the
//!       eight bytes of a double, little-endian; entries with the room's time
//! ```

use super::Lesson;
use super::act::Entry;
use super::act_bytes::{self, NEWER};
use super::envelope::{self, read_bytes, read_varint, varint};
use super::link::LinkError;

/// Longest record that is looked at, in characters: a thousand times what a lesson leaves.
pub const KEPT_MAX_CHARS: usize = 1_000_000;

const MARK: &str = "kept1.";

/// What a device keeps of a lesson: enough to go on exactly where it was.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// The lesson, without what is only the teacher's.
    pub lesson: Lesson,
    /// Now, s on the lesson's clock.
    pub now_s: f64,
    /// Everything that was done.
    pub entries: Vec<Entry>,
}

impl Kept {
    /// As the text that is kept.
    pub fn text(lesson: &Lesson, now_s: f64, entries: &[Entry]) -> String {
        let mut body = Vec::new();
        write_lesson(lesson, &mut body);
        body.extend(now_s.to_bits().to_le_bytes());
        act_bytes::write(entries.iter(), true, &mut body);
        envelope::seal(MARK, &body)
    }

    /// Reads a kept text.
    ///
    /// # Errors
    /// A [`LinkError`] for anything that was not written here.
    pub fn from_text(text: &str) -> Result<Kept, LinkError> {
        if text.len() > KEPT_MAX_CHARS {
            return Err(LinkError::TooLong { chars: text.chars().count() });
        }
        let body = envelope::open(MARK, text)?;
        let rest = &mut body.as_slice();
        let lesson = read_lesson(rest)?;
        let mut bits = [0; 8];
        bits.copy_from_slice(read_bytes(rest, 8)?);
        let now_s = f64::from_bits(u64::from_le_bytes(bits));
        let entries = act_bytes::read(rest, true, lesson.recipe.beakers().len())?;
        if !rest.is_empty() {
            return Err(NEWER);
        }
        if now_s >= 0.0 && now_s.is_finite() { Ok(Kept { lesson, now_s, entries }) } else { Err(LinkError::Damaged) }
    }
}

pub(super) fn write_lesson(lesson: &Lesson, body: &mut Vec<u8>) {
    let bytes = lesson.bytes();
    body.extend(varint(bytes.len() as u32));
    body.extend(bytes);
}

pub(super) fn read_lesson(rest: &mut &[u8]) -> Result<Lesson, LinkError> {
    let length = read_varint(rest)? as usize;
    Lesson::from_body(read_bytes(rest, length)?)
}
