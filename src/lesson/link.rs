//! The strict door: a lesson as a short text that stands after the # of an address.
//!
//! ```text
//! text    "v1." and then base64url without padding (RFC 4648, section 5) of
//! bytes   length | body | checksum
//! length  of the body in bytes, varint (LEB128, as postcard writes a u32)
//! body    recipe | alterations
//! recipe  the fields in the order of Field::ALL, each a varint of whole finest steps;
//!         one byte: number of beakers; per beaker one byte of kind (position in KINDS) and,
//!         unless it is the room's, tenths of °C as a varint; for ice also tenths of a gram
//! alterations  see alterations.rs; nothing in a lesson as it comes
//! checksum  CRC-32 (IEEE 802.3) of "v1.", length and body, little-endian
//! ```
//!
//! A link of version 1 is for ever: this layout never changes, and a golden link in
//! tests/link.rs holds it. The first readers knew no alterations: they say of a link with any
//! that it is newer than they are. What a later release has to add follows them in its turn.
//! Nothing that is the teacher's own (minutes, notes) is ever written into a link.

mod alterations;

use super::Lesson;
use super::base64url;
use super::beaker::{Beaker, CELSIUS, ICE_G};
use super::field::{Field, Limits};
use super::recipe::{FieldError, Place, Recipe};

/// Longest link that is looked at, in characters: chat programs and school platforms cut or
/// wrap long addresses.
pub const LINK_MAX_CHARS: usize = 2000;

/// The version that is written, and the newest that is read.
pub const LINK_VERSION: u32 = 1;

const MARK: &str = "v1.";
const CHECKSUM_BYTES: usize = 4;

/// Why a link was refused. Each has its own words on the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LinkError {
    /// Nothing stands after the #.
    Empty,
    /// Longer than any lesson's link.
    TooLong {
        /// Characters found.
        chars: usize,
    },
    /// It does not begin as a lesson's link does.
    NotOurs,
    /// It was made by a newer release.
    Newer {
        /// The version it names; its own version where only a part is newer.
        version: u32,
    },
    /// A character that no link has.
    BadCharacter {
        /// Its place in the text, in characters from 0.
        at: usize,
    },
    /// The end is missing.
    Incomplete {
        /// Bytes found.
        found: usize,
        /// Bytes announced, 0 where the cut took even that.
        announced: usize,
    },
    /// Something in it was altered.
    Damaged,
    /// Whole, but a number in it is outside its limits.
    OutOfLimits(FieldError),
}

impl LinkError {
    /// The name at the edge.
    pub fn key(&self) -> &'static str {
        match self {
            LinkError::Empty => "empty",
            LinkError::TooLong { .. } => "tooLong",
            LinkError::NotOurs => "notOurs",
            LinkError::Newer { .. } => "newer",
            LinkError::BadCharacter { .. } => "badCharacter",
            LinkError::Incomplete { .. } => "incomplete",
            LinkError::Damaged => "damaged",
            LinkError::OutOfLimits(_) => "outOfLimits",
        }
    }
}

/// Why a lesson has no link: its words are too many. The lesson's file holds them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LinkTooLong {
    /// Characters that the link would have; at most [`LINK_MAX_CHARS`] less the # may be.
    pub chars: usize,
}

impl Lesson {
    /// This lesson as a link, without the #. What is the teacher's own stays out of it.
    ///
    /// # Errors
    /// [`LinkTooLong`] where it would have more characters than a link may have.
    pub fn link(&self) -> Result<String, LinkTooLong> {
        let link = self.whole_link();
        if link.len() < LINK_MAX_CHARS { Ok(link) } else { Err(LinkTooLong { chars: link.len() }) }
    }

    /// All that the link of this lesson holds, as its bytes: the same for the same lesson, for ever.
    pub fn bytes(&self) -> Vec<u8> {
        let mut body = self.recipe.bytes();
        alterations::write(self, &mut body);
        body
    }

    fn whole_link(&self) -> String {
        let body = self.bytes();
        let mut bytes = varint(body.len() as u32);
        bytes.extend_from_slice(&body);
        let sum = checksum(&bytes);
        bytes.extend_from_slice(&sum);
        format!("{MARK}{}", base64url::encode(&bytes))
    }

    /// Reads a link, with or without its #.
    ///
    /// # Errors
    /// A [`LinkError`] for anything that [`Lesson::link`] did not write: nothing is guessed.
    pub fn from_link(text: &str) -> Result<Lesson, LinkError> {
        // Bytes are at least as many as characters: the cheap look comes first.
        let chars = text.len();
        if chars > LINK_MAX_CHARS {
            return Err(LinkError::TooLong { chars: text.chars().count() });
        }
        let text = text.strip_prefix('#').unwrap_or(text);
        if text.is_empty() {
            return Err(LinkError::Empty);
        }
        let letters = text.strip_prefix(MARK).ok_or_else(|| not_version_1(text))?;
        let bytes = decode(letters)?;
        let body = checked_body(&bytes)?;
        if base64url::encode(&bytes) != letters {
            return Err(LinkError::Damaged);
        }
        let (recipe, rest) = read_recipe(body)?;
        let mut lesson = Lesson::of_recipe(recipe);
        alterations::read(rest, &mut lesson)?;
        let lesson = lesson.settled().map_err(LinkError::OutOfLimits)?;
        // One lesson, one link: whatever else says the same was not written here.
        if lesson.bytes() == body { Ok(lesson) } else { Err(LinkError::Damaged) }
    }
}

fn not_version_1(text: &str) -> LinkError {
    let version = text
        .strip_prefix('v')
        .and_then(|rest| rest.split_once('.'))
        .filter(|(digits, _)| digits.len() <= 4 && digits.bytes().all(|b| b.is_ascii_digit()))
        .and_then(|(digits, _)| digits.parse().ok());
    match version {
        Some(version) if version > LINK_VERSION => LinkError::Newer { version },
        _ => LinkError::NotOurs,
    }
}

/// Cut links end within a letter: bits that make no byte are judged after the length.
fn decode(letters: &str) -> Result<Vec<u8>, LinkError> {
    base64url::decode(letters).map_err(|at| LinkError::BadCharacter { at: at + MARK.len() })
}

/// The body, if its length and its checksum are right.
fn checked_body(bytes: &[u8]) -> Result<&[u8], LinkError> {
    let cut = |announced| LinkError::Incomplete { found: bytes.len(), announced };
    let (length, rest) = take_varint(bytes).ok_or(cut(0))?;
    let length = length as usize;
    let announced = (bytes.len() - rest.len()).saturating_add(length).saturating_add(CHECKSUM_BYTES);
    if announced > bytes.len() {
        return Err(cut(announced));
    }
    if announced < bytes.len() {
        return Err(LinkError::Damaged);
    }
    let (summed, sum) = bytes.split_at(bytes.len() - CHECKSUM_BYTES);
    if sum == checksum(summed) { Ok(&rest[..length]) } else { Err(LinkError::Damaged) }
}

/// CRC-32 of the mark and the bytes (ISO 3309; reflected polynomial EDB88320, all ones before and
/// after). Bit by bit: for a hundred bytes a table would only be weight.
fn checksum(bytes: &[u8]) -> [u8; CHECKSUM_BYTES] {
    let mut sum = u32::MAX;
    for byte in MARK.bytes().chain(bytes.iter().copied()) {
        sum ^= u32::from(byte);
        for _ in 0..8 {
            sum = (sum >> 1) ^ (0xEDB8_8320 & (sum & 1).wrapping_neg());
        }
    }
    (!sum).to_le_bytes()
}

impl Recipe {
    /// This recipe as the bytes of a link's body: the same for the same recipe, for ever.
    pub fn bytes(&self) -> Vec<u8> {
        let mut body = Vec::new();
        for field in Field::ALL {
            body.extend(varint(field.limits().steps(self.value(field))));
        }
        body.push(self.beakers().len() as u8);
        for &beaker in self.beakers() {
            body.push(beaker.kind_number());
            if beaker != Beaker::Room {
                body.extend(varint(CELSIUS.steps(beaker.start_c(0.0))));
            }
            if let Beaker::Ice { ice_g, .. } = beaker {
                body.extend(varint(ICE_G.steps(ice_g)));
            }
        }
        body
    }
}

/// The recipe, and what follows it.
fn read_recipe(body: &[u8]) -> Result<(Recipe, &[u8]), LinkError> {
    let mut rest = body;
    let mut values = [0.0; Field::COUNT];
    for field in Field::ALL {
        let value = read_value(&mut rest, field.limits(), Place::Field(field))?;
        values[field as usize] = value;
    }
    let count = usize::from(read_byte(&mut rest)?);
    if count > Recipe::BEAKERS[1] {
        return Err(LinkError::Damaged);
    }
    let mut beakers = Vec::with_capacity(count);
    for index in 0..count {
        beakers.push(read_beaker(&mut rest, index)?);
    }
    Ok((Recipe::from_checked(values, beakers).map_err(LinkError::OutOfLimits)?, rest))
}

fn read_beaker(rest: &mut &[u8], index: usize) -> Result<Beaker, LinkError> {
    let place = |key| Place::Beaker { index, key };
    let kind = read_byte(rest)?;
    if kind == 2 {
        return Ok(Beaker::Room);
    }
    let celsius = read_value(rest, &CELSIUS, place("celsius"))?;
    match kind {
        0 => Ok(Beaker::Bath { celsius }),
        1 => Ok(Beaker::Held { celsius }),
        3 => Ok(Beaker::Ice { celsius, ice_g: read_value(rest, &ICE_G, place("iceG"))? }),
        4 => Ok(Beaker::Plate { celsius }),
        // The checksum is right, so somebody wrote a kind that this release does not know.
        _ => Err(LinkError::Newer { version: LINK_VERSION }),
    }
}

fn read_byte(rest: &mut &[u8]) -> Result<u8, LinkError> {
    let (&byte, tail) = rest.split_first().ok_or(LinkError::Damaged)?;
    *rest = tail;
    Ok(byte)
}

fn read_value(rest: &mut &[u8], limits: &'static Limits, place: Place) -> Result<f64, LinkError> {
    let (steps, tail) = take_varint(rest).ok_or(LinkError::Damaged)?;
    *rest = tail;
    let value = limits.step(steps);
    limits.check(value, place).map_err(LinkError::OutOfLimits)?;
    Ok(value)
}

fn varint(value: u32) -> Vec<u8> {
    postcard::to_allocvec(&value).expect("a u32 always fits a growing buffer")
}

fn take_varint(bytes: &[u8]) -> Option<(u32, &[u8])> {
    postcard::take_from_bytes(bytes).ok()
}
