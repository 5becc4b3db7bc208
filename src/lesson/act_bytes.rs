//! Acts as bytes.
//!
//! ```text
//! entry   kind, one byte; lesson time, tenths of a second, varint; where the room's time is
//!         kept, that too; then what the kind has:
//! 0 begin   flags: 1 free, 2 a run was left: its code, five bytes, and its time, varint
//! 1 go on   nothing
//! 2 lock, 3 see   a guess
//! 4 choose  question, one byte; answer, text
//! 5 mark    beaker, one byte; colour, one byte
//! 6 take back   number of the mark, varint
//! 7 note, 8 sign   text
//! 9 hold    one byte, 1 or 0
//! 10 speed  varint
//! 11 leap   nothing
//! 12 bench  deed, one byte; beakers, one byte, a bit each; two texts
//! guess   flags, one byte, a bit for each question in their order; then what was answered:
//!         colours and clearness by their place, one byte; seconds as tenths and one, varint,
//!         0 for never; first by its number from 2, 0 for the same, 1 for none; text
//! ```
//!
//! Kinds are never given another meaning; a new one gets the next number, and a reader that
//! does not know it says that the text is newer than it is.

use crate::colour::{Band, Clarity};

use super::act::{Act, Deed, Entry, NOTE_MAX_CHARS, Reached, SIGNED_MAX_CHARS, TYPED_MAX_CHARS};
use super::code::CheckCode;
use super::envelope::{self, read_byte, read_bytes, read_varint, varint, write_text};
use super::guess::{First, Guess, SECONDS, Seconds, WHY_MAX_CHARS};
use super::link::LinkError;
use super::recipe::Recipe;
use super::words;

/// This release does not know a byte that a whole text has.
pub(super) const NEWER: LinkError = LinkError::Newer { version: 1 };

const DEEDS: [Deed; 4] = [Deed::Pour, Deed::Stir, Deed::Bath, Deed::Change];

/// Adds entries after their number.
pub(super) fn write<'a>(entries: impl Iterator<Item = &'a Entry> + Clone, with_room: bool, body: &mut Vec<u8>) {
    body.extend(varint(entries.clone().count() as u32));
    for entry in entries {
        write_entry(entry, with_room, body);
    }
}

/// Reads what [`write()`] wrote, of a lesson with at most so many beakers.
pub(super) fn read(rest: &mut &[u8], with_room: bool, beakers: usize) -> Result<Vec<Entry>, LinkError> {
    let count = read_varint(rest)? as usize;
    // Each takes two bytes at least, so that no number asks for more room than its text has.
    if count > rest.len() / 2 {
        return Err(LinkError::Damaged);
    }
    let entries: Vec<Entry> = (0..count).map(|_| read_entry(rest, with_room)).collect::<Result<_, _>>()?;
    if entries.iter().all(|entry| last_beaker(&entry.act) < beakers) { Ok(entries) } else { Err(LinkError::Damaged) }
}

/// The last of the beakers that an act names.
fn last_beaker(act: &Act) -> usize {
    match act {
        Act::Lock(guess) | Act::See(guess) => match guess.first {
            Some(First::Beaker(beaker)) => beaker,
            _ => 0,
        },
        Act::Mark { beaker, .. } => *beaker,
        Act::Bench { beakers, .. } => beakers.iter().copied().max().unwrap_or(0),
        _ => 0,
    }
}

fn write_entry(entry: &Entry, with_room: bool, body: &mut Vec<u8>) {
    let kind = match &entry.act {
        Act::Begin { .. } => 0,
        Act::GoOn => 1,
        Act::Lock(_) => 2,
        Act::See(_) => 3,
        Act::Choose { .. } => 4,
        Act::Mark { .. } => 5,
        Act::TakeBack { .. } => 6,
        Act::Note(_) => 7,
        Act::Sign(_) => 8,
        Act::Hold(_) => 9,
        Act::Speed(_) => 10,
        Act::Leap => 11,
        Act::Bench { .. } => 12,
    };
    body.push(kind);
    body.extend(varint(entry.at_ds));
    if with_room {
        body.extend(varint(entry.room_ds));
    }
    match &entry.act {
        Act::GoOn | Act::Leap => {}
        Act::Begin { free, left } => {
            body.push(u8::from(*free) | if left.is_some() { 2 } else { 0 });
            if let Some(left) = left {
                write_reached(left, body);
            }
        }
        Act::Lock(guess) | Act::See(guess) => write_guess(guess, body),
        Act::Choose { ask, answer } => {
            body.push(*ask as u8);
            write_text(answer, body);
        }
        Act::Mark { beaker, finish } => body.extend([*beaker as u8, *finish as u8]),
        Act::TakeBack { mark } => body.extend(varint(*mark as u32)),
        Act::Note(text) | Act::Sign(text) => write_text(text, body),
        Act::Hold(held) => body.push(u8::from(*held)),
        Act::Speed(speed) => body.extend(varint(*speed)),
        Act::Bench { deed, beakers, typed } => {
            body.push(*deed as u8);
            body.push(beakers.iter().fold(0, |bits, &beaker| bits | 1 << beaker));
            for text in typed {
                write_text(text, body);
            }
        }
    }
}

fn read_entry(rest: &mut &[u8], with_room: bool) -> Result<Entry, LinkError> {
    let kind = read_byte(rest)?;
    let at_ds = read_varint(rest)?;
    let room_ds = if with_room { read_varint(rest)? } else { 0 };
    let act = match kind {
        0 => {
            let flags = read_byte(rest)?;
            if flags > 3 {
                return Err(NEWER);
            }
            let left = if flags & 2 != 0 { Some(read_reached(rest)?) } else { None };
            Act::Begin { free: flags & 1 != 0, left }
        }
        1 => Act::GoOn,
        2 => Act::Lock(read_guess(rest)?),
        3 => Act::See(read_guess(rest)?),
        4 => Act::Choose { ask: usize::from(read_byte(rest)?), answer: read_line(rest, WHY_MAX_CHARS)? },
        5 => Act::Mark { beaker: read_beaker(rest)?, finish: of(&Band::ALL, read_byte(rest)?)? },
        6 => Act::TakeBack { mark: read_varint(rest)? as usize },
        7 => Act::Note(read_line(rest, NOTE_MAX_CHARS)?),
        8 => Act::Sign(read_line(rest, SIGNED_MAX_CHARS)?),
        9 => Act::Hold(match read_byte(rest)? {
            0 => false,
            1 => true,
            _ => return Err(LinkError::Damaged),
        }),
        10 => Act::Speed(read_varint(rest)?),
        11 => Act::Leap,
        12 => {
            let deed = of(&DEEDS, read_byte(rest)?)?;
            let bits = read_byte(rest)?;
            let beakers = (0..Recipe::BEAKERS[1]).filter(|beaker| bits >> beaker & 1 == 1).collect();
            if bits >> Recipe::BEAKERS[1] != 0 {
                return Err(LinkError::Damaged);
            }
            Act::Bench { deed, beakers, typed: [read_line(rest, TYPED_MAX_CHARS)?, read_line(rest, TYPED_MAX_CHARS)?] }
        }
        _ => return Err(NEWER),
    };
    Ok(Entry { at_ds, room_ds, act })
}

pub(super) fn write_reached(reached: &Reached, body: &mut Vec<u8>) {
    body.extend(reached.code.bytes());
    body.extend(varint(reached.now_ds));
}

pub(super) fn read_reached(rest: &mut &[u8]) -> Result<Reached, LinkError> {
    Ok(Reached { code: read_code(rest)?, now_ds: read_varint(rest)? })
}

pub(super) fn read_code(rest: &mut &[u8]) -> Result<CheckCode, LinkError> {
    Ok(CheckCode::of_bytes(read_bytes(rest, CheckCode::BYTES)?))
}

/// A text that a door let in: nothing is to be cleaned out of it.
pub(super) fn read_line(rest: &mut &[u8], most_chars: usize) -> Result<String, LinkError> {
    let text = envelope::read_text(rest, most_chars)?;
    if words::paragraphs(text) == text { Ok(text.to_owned()) } else { Err(LinkError::Damaged) }
}

fn of<T: Copy>(all: &[T], number: u8) -> Result<T, LinkError> {
    all.get(usize::from(number)).copied().ok_or(NEWER)
}

fn read_beaker(rest: &mut &[u8]) -> Result<usize, LinkError> {
    let beaker = usize::from(read_byte(rest)?);
    if beaker < Recipe::BEAKERS[1] { Ok(beaker) } else { Err(LinkError::Damaged) }
}

fn write_guess(guess: &Guess, body: &mut Vec<u8>) {
    let there = [
        guess.at_once.is_some(),
        guess.at_rest.is_some(),
        guess.clarity.is_some(),
        guess.seconds.is_some(),
        guess.first.is_some(),
        guess.why.is_some(),
    ];
    body.push(there.iter().rev().fold(0, |flags, &there| flags << 1 | u8::from(there)));
    body.extend(guess.at_once.map(|band| band as u8));
    body.extend(guess.at_rest.map(|band| band as u8));
    body.extend(guess.clarity.map(|clarity| clarity as u8));
    match guess.seconds {
        Some(Seconds::After(seconds)) => body.extend(varint(SECONDS.steps(seconds) + 1)),
        Some(Seconds::Never) => body.push(0),
        None => {}
    }
    body.extend(guess.first.map(|first| match first {
        First::Same => 0,
        First::None => 1,
        First::Beaker(beaker) => beaker as u8 + 2,
    }));
    if let Some(why) = &guess.why {
        write_text(why, body);
    }
}

fn read_guess(rest: &mut &[u8]) -> Result<Guess, LinkError> {
    let flags = read_byte(rest)?;
    if flags >> 6 != 0 {
        return Err(NEWER);
    }
    let there = |question: u8| flags >> question & 1 == 1;
    let mut guess = Guess::default();
    if there(0) {
        guess.at_once = Some(of(&Band::ALL, read_byte(rest)?)?);
    }
    if there(1) {
        guess.at_rest = Some(of(&Band::ALL, read_byte(rest)?)?);
    }
    if there(2) {
        guess.clarity = Some(of(&Clarity::ALL, read_byte(rest)?)?);
    }
    if there(3) {
        guess.seconds = Some(match read_varint(rest)? {
            0 => Seconds::Never,
            steps if SECONDS.step(steps - 1) <= SECONDS.max => Seconds::After(SECONDS.step(steps - 1)),
            _ => return Err(LinkError::Damaged),
        });
    }
    if there(4) {
        guess.first = Some(match usize::from(read_byte(rest)?) {
            0 => First::Same,
            1 => First::None,
            number if number - 2 < Recipe::BEAKERS[1] => First::Beaker(number - 2),
            _ => return Err(LinkError::Damaged),
        });
    }
    if there(5) {
        guess.why = Some(read_line(rest, WHY_MAX_CHARS)?).filter(|why| !why.is_empty());
    }
    Ok(guess)
}
