//! Bytes as letters that an address may carry: base64url without padding (RFC 4648, section
//! 5). A crate for it weighs more than all that a link is.

const ALPHABET: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/// Four letters for three bytes; two or three for what is left.
pub(super) fn encode(bytes: &[u8]) -> String {
    let mut letters = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let bits = three.iter().fold(0_u32, |bits, &byte| bits << 8 | u32::from(byte)) << (8 * (3 - three.len()));
        for letter in 0..=three.len() {
            letters.push(char::from(ALPHABET[(bits >> (18 - 6 * letter) & 63) as usize]));
        }
    }
    letters
}

/// The whole bytes that letters carry; bits beyond the last byte are dropped.
///
/// # Errors
/// The place, from 0, of a character that is none of the letters.
pub(super) fn decode(letters: &str) -> Result<Vec<u8>, usize> {
    let mut bytes = Vec::with_capacity(letters.len() * 3 / 4);
    let (mut bits, mut waiting) = (0_u32, 0);
    for (at, letter) in letters.chars().enumerate() {
        let value = match letter {
            'A'..='Z' => letter as u32 - u32::from(b'A'),
            'a'..='z' => letter as u32 - u32::from(b'a') + 26,
            '0'..='9' => letter as u32 - u32::from(b'0') + 52,
            '-' => 62,
            '_' => 63,
            _ => return Err(at),
        };
        bits = bits << 6 | value;
        waiting += 6;
        if waiting >= 8 {
            waiting -= 8;
            bytes.push((bits >> waiting) as u8);
        }
    }
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4648, section 10, without the padding; the last is section 5's two letters.
    const VECTORS: [(&[u8], &str); 8] = [
        (b"", ""),
        (b"f", "Zg"),
        (b"fo", "Zm8"),
        (b"foo", "Zm9v"),
        (b"foob", "Zm9vYg"),
        (b"fooba", "Zm9vYmE"),
        (b"foobar", "Zm9vYmFy"),
        (&[0xFB, 0xEF, 0xFF], "--__"),
    ];

    #[test]
    fn the_vectors_of_rfc_4648_hold_both_ways() {
        for (bytes, letters) in VECTORS {
            assert_eq!(encode(bytes), letters);
            assert_eq!(decode(letters).as_deref(), Ok(bytes));
        }
    }

    #[test]
    fn what_is_no_letter_is_told_with_its_place() {
        assert_eq!(decode("Zm=="), Err(2));
        assert_eq!(decode("Z+"), Err(1));
        assert_eq!(decode("äZ"), Err(0));
    }

    #[test]
    fn all_bytes_come_back() {
        let bytes: Vec<u8> = (0..=255).collect();
        for cut in 0..bytes.len() {
            assert_eq!(decode(&encode(&bytes[cut..])).as_deref(), Ok(&bytes[cut..]));
        }
    }
}
