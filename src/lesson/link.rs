//! The strict door: a lesson as a short text that stands after the # of an address.
//!
//! ```text
//! text    "v1." and the body, sealed as envelope.rs does
//! body    recipe | alterations
//! recipe  the fields in the order of Field::ALL, each a varint of whole finest steps;
//!         one byte: number of beakers; per beaker one byte of kind (position in KINDS) and,
//!         unless it is the room's, tenths of °C as a varint; for ice also tenths of a gram
//! alterations  see alterations.rs; nothing in a lesson as it comes
//! ```
//!
//! A link of version 1 is for ever: this layout never changes, and a golden link in
//! tests/link.rs holds it. The first readers knew no alterations: they say of a link with any
//! that it is newer than they are. What a later release has to add follows them in its turn.
//! Nothing that is the teacher's own (minutes, notes) is ever written into a link.

mod alterations;

use super::Lesson;
use super::beaker::{Beaker, CELSIUS, ICE_G};
use super::code::{CheckCode, Sum};
use super::envelope::{self, read_byte, read_value, varint};
use super::field::Field;
use super::recipe::{FieldError, Place, Recipe};

/// Longest link that is looked at, in characters: chat programs and school platforms cut or
/// wrap long addresses.
pub const LINK_MAX_CHARS: usize = 2000;

/// The version that is written, and the newest that is read.
pub const LINK_VERSION: u32 = 1;

const MARK: &str = "v1.";

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

    /// Eight signs that are the same for two who have the same lesson.
    pub fn code(&self) -> CheckCode {
        let mut sum = Sum::default();
        sum.add(&self.bytes());
        sum.code()
    }

    fn whole_link(&self) -> String {
        envelope::seal(MARK, &self.bytes())
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
        Lesson::from_body(&envelope::open(MARK, text)?)
    }

    /// Reads the bytes that [`Lesson::bytes`] writes.
    pub(super) fn from_body(body: &[u8]) -> Result<Lesson, LinkError> {
        let (recipe, rest) = read_recipe(body)?;
        let mut lesson = Lesson::of_recipe(recipe);
        alterations::read(rest, &mut lesson)?;
        let lesson = lesson.settled().map_err(LinkError::OutOfLimits)?;
        // One lesson, one link: whatever else says the same was not written here.
        if lesson.bytes() == body { Ok(lesson) } else { Err(LinkError::Damaged) }
    }
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
