//! Bytes of a file as text: what writes a probe's file is seldom asked how.

/// How a file's letters were written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Encoding {
    /// UTF-8, with a byte order mark or without.
    Utf8,
    /// UTF-16, least significant byte first.
    Utf16Little,
    /// UTF-16, most significant byte first.
    Utf16Big,
    /// ISO 8859-1: anything that is none of the others.
    Latin1,
}

impl Encoding {
    /// The name at the edge.
    pub fn key(self) -> &'static str {
        match self {
            Encoding::Utf8 => "utf8",
            Encoding::Utf16Little | Encoding::Utf16Big => "utf16",
            Encoding::Latin1 => "latin1",
        }
    }

    /// How these bytes were written: by their byte order mark (Unicode 15.0, 23.8), or by how they look.
    fn of(bytes: &[u8]) -> Encoding {
        match bytes {
            [0xFF, 0xFE, ..] => return Encoding::Utf16Little,
            [0xFE, 0xFF, ..] => return Encoding::Utf16Big,
            _ => {}
        }
        // Digits and delimiters in UTF-16 have a zero beside them; no text in a single byte has zeros.
        let zeros = |from: usize| bytes.iter().skip(from).step_by(2).take(200).filter(|byte| **byte == 0).count();
        let (even, odd) = (zeros(0), zeros(1));
        let looked_at = (bytes.len() / 2).min(200);
        if looked_at > 0 && odd > looked_at / 2 {
            Encoding::Utf16Little
        } else if looked_at > 0 && even > looked_at / 2 {
            Encoding::Utf16Big
        } else if core::str::from_utf8(bytes).is_ok() {
            Encoding::Utf8
        } else {
            Encoding::Latin1
        }
    }
}

/// The text of a file without its byte order mark, and how it was written. Whatever is in it, there is a text.
pub fn decode(bytes: &[u8]) -> (String, Encoding) {
    let encoding = Encoding::of(bytes);
    let units = |pair: fn([u8; 2]) -> u16| {
        let units = bytes.chunks_exact(2).map(|two| pair([two[0], two[1]]));
        char::decode_utf16(units).map(|letter| letter.unwrap_or('\u{FFFD}')).collect()
    };
    let text: String = match encoding {
        Encoding::Utf8 => String::from_utf8_lossy(bytes).into_owned(),
        Encoding::Utf16Little => units(u16::from_le_bytes),
        Encoding::Utf16Big => units(u16::from_be_bytes),
        Encoding::Latin1 => bytes.iter().map(|byte| char::from(*byte)).collect(),
    };
    (text.trim_start_matches('\u{FEFF}').to_owned(), encoding)
}
