//! The cover of everything that travels as text: a mark with its version, then base64url
//! without padding (RFC 4648, section 5) of length, body and checksum.
//!
//! ```text
//! length    of the body in bytes, varint (LEB128, as postcard writes a u32)
//! checksum  CRC-32 (IEEE 802.3) of mark, length and body, little-endian
//! ```
//!
//! Whatever is inside, a cut is told as a cut, an altered byte as damage, and a mark with a
//! higher version as a newer release.

use super::base64url;
use super::field::Limits;
use super::link::LinkError;
use super::recipe::Place;

const CHECKSUM_BYTES: usize = 4;

/// Seals a body under a mark such as "v1.".
pub(super) fn seal(mark: &str, body: &[u8]) -> String {
    let mut bytes = varint(body.len() as u32);
    bytes.extend_from_slice(body);
    let sum = checksum(mark, &bytes);
    bytes.extend_from_slice(&sum);
    format!("{mark}{}", base64url::encode(&bytes))
}

/// The body of a sealed text, if all of it is there and nothing was altered.
pub(super) fn open(mark: &str, text: &str) -> Result<Vec<u8>, LinkError> {
    let letters = text.strip_prefix(mark).ok_or_else(|| other_mark(mark, text))?;
    // Cut texts end within a letter: bits that make no byte are judged after the length.
    let bytes = base64url::decode(letters).map_err(|at| LinkError::BadCharacter { at: at + mark.len() })?;
    let body = checked_body(mark, &bytes)?.to_vec();
    if base64url::encode(&bytes) == letters { Ok(body) } else { Err(LinkError::Damaged) }
}

/// How many letters follow the mark of a text that begins with these.
pub(super) fn letters_announced(letters: &str) -> Option<usize> {
    let bytes = base64url::decode(letters.get(..8).unwrap_or(letters)).ok()?;
    let (length, rest) = take_varint(&bytes)?;
    let bytes = (bytes.len() - rest.len()).checked_add(length as usize)?.checked_add(CHECKSUM_BYTES)?;
    Some((bytes.checked_mul(4)?).div_ceil(3))
}

/// A mark is letters, digits of a version, and a point.
fn other_mark(mark: &str, text: &str) -> LinkError {
    let name = mark.trim_end_matches(['.', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9']);
    let version = |text: &str| {
        text.strip_prefix(name)
            .and_then(|rest| rest.split_once('.'))
            .filter(|(digits, _)| digits.len() <= 4 && digits.bytes().all(|b| b.is_ascii_digit()))
            .and_then(|(digits, _)| digits.parse().ok())
    };
    match (version(text), version(mark)) {
        (Some(found), Some(known)) if found > known => LinkError::Newer { version: found },
        _ => LinkError::NotOurs,
    }
}

/// The body, if its length and its checksum are right.
fn checked_body<'a>(mark: &str, bytes: &'a [u8]) -> Result<&'a [u8], LinkError> {
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
    if sum == checksum(mark, summed) { Ok(&rest[..length]) } else { Err(LinkError::Damaged) }
}

/// CRC-32 of the mark and the bytes (ISO 3309; reflected polynomial EDB88320, all ones before and
/// after). Bit by bit: for so few bytes a table would only be weight.
fn checksum(mark: &str, bytes: &[u8]) -> [u8; CHECKSUM_BYTES] {
    let mut sum = u32::MAX;
    for byte in mark.bytes().chain(bytes.iter().copied()) {
        sum ^= u32::from(byte);
        for _ in 0..8 {
            sum = (sum >> 1) ^ (0xEDB8_8320 & (sum & 1).wrapping_neg());
        }
    }
    (!sum).to_le_bytes()
}

pub(super) fn varint(value: u32) -> Vec<u8> {
    postcard::to_allocvec(&value).expect("a u32 always fits a growing buffer")
}

pub(super) fn take_varint(bytes: &[u8]) -> Option<(u32, &[u8])> {
    postcard::take_from_bytes(bytes).ok()
}

/// The next number of a body.
pub(super) fn read_varint(rest: &mut &[u8]) -> Result<u32, LinkError> {
    let (value, tail) = take_varint(rest).ok_or(LinkError::Damaged)?;
    *rest = tail;
    Ok(value)
}

pub(super) fn read_byte(rest: &mut &[u8]) -> Result<u8, LinkError> {
    let (&byte, tail) = rest.split_first().ok_or(LinkError::Damaged)?;
    *rest = tail;
    Ok(byte)
}

/// So many bytes of a body.
pub(super) fn read_bytes<'a>(rest: &mut &'a [u8], count: usize) -> Result<&'a [u8], LinkError> {
    let bytes = rest.get(..count).ok_or(LinkError::Damaged)?;
    *rest = &rest[count..];
    Ok(bytes)
}

/// A number of a body in whole finest steps of its limits.
pub(super) fn read_value(rest: &mut &[u8], limits: &'static Limits, place: Place) -> Result<f64, LinkError> {
    let value = limits.step(read_varint(rest)?);
    limits.check(value, place).map_err(LinkError::OutOfLimits)?;
    Ok(value)
}

pub(super) fn write_text(text: &str, body: &mut Vec<u8>) {
    body.extend(varint(text.len() as u32));
    body.extend_from_slice(text.as_bytes());
}

/// A text of a body, of at most so many characters.
pub(super) fn read_text<'a>(rest: &mut &'a [u8], most_chars: usize) -> Result<&'a str, LinkError> {
    let length = read_varint(rest)? as usize;
    let text = core::str::from_utf8(read_bytes(rest, length)?).map_err(|_| LinkError::Damaged)?;
    let long = text.len() > most_chars && text.chars().count() > most_chars;
    if long { Err(LinkError::Damaged) } else { Ok(text) }
}
