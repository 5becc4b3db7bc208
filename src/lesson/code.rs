//! Eight signs that two people read to each other to know that they have the same thing.

use std::fmt;

/// Digits and capitals without 0, O, 1 and I, which are mistaken for one another.
const ALPHABET: &[u8; 32] = b"23456789ABCDEFGHJKLMNPQRSTUVWXYZ";

/// Eight signs, forty bits, written XXXX-XXXX: of a run, or of a lesson.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CheckCode(u64);

impl CheckCode {
    /// How many bytes it takes in a body.
    pub(super) const BYTES: usize = 5;

    /// As the bytes of a body, the lowest first.
    pub(super) fn bytes(self) -> [u8; CheckCode::BYTES] {
        let bytes = self.0.to_le_bytes();
        [bytes[0], bytes[1], bytes[2], bytes[3], bytes[4]]
    }

    /// From the bytes of a body.
    pub(super) fn of_bytes(bytes: &[u8]) -> CheckCode {
        CheckCode(bytes.iter().rev().fold(0, |code, &byte| code << 8 | u64::from(byte)))
    }
}

impl fmt::Display for CheckCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for sign in 0..8_u32 {
            if sign == 4 {
                f.write_str("-")?;
            }
            let five_bits = (self.0 >> (35 - 5 * sign)) & 31;
            write!(f, "{}", char::from(ALPHABET[five_bits as usize]))?;
        }
        Ok(())
    }
}

/// FNV-1a, 64 bits (Fowler, Noll and Vo; RFC 9923): no protection, only a comparison.
#[derive(Clone, Copy, Debug)]
pub struct Sum(u64);

impl Default for Sum {
    fn default() -> Sum {
        Sum(0xcbf2_9ce4_8422_2325)
    }
}

impl Sum {
    /// Takes bytes in.
    pub fn add(&mut self, bytes: &[u8]) {
        for &byte in bytes {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }

    /// Takes every bit of a number in.
    pub fn add_number(&mut self, number: f64) {
        self.add(&number.to_bits().to_le_bytes());
    }

    /// The code of all that was taken in.
    pub fn code(&self) -> CheckCode {
        CheckCode((self.0 ^ (self.0 >> 40)) & 0xff_ffff_ffff)
    }
}
