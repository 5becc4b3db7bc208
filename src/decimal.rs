//! Plain decimal numbers as text: read, and written with so many decimals.
//!
//! The standard library reads and writes every number that there is; its tables for that
//! weigh as much, compressed, as all of the page's scripts. What a class types, a table holds
//! and a column shows has few digits, and for those the results here are the very same.

/// Powers of ten that a double holds exactly.
const TEN: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20,
    1e21, 1e22,
];
/// Integers up to this are doubles.
const LARGEST_INTEGER: u64 = 1 << 53;
/// Another digit still fits below this.
const ROOM_FOR_A_DIGIT: u64 = u64::MAX / 10 - 1;
/// Beyond this power of ten everything is zero or infinite.
const FARTHEST_POWER: i32 = 400;

/// Reads one number: a sign or none, digits with at most one point among them, and an
/// exponent or none (`e-3`). `None` for anything else, also for words such as "inf".
///
/// Up to 15 digits and powers of ten from -22 to 22 the result is the double nearest to what
/// is written; beyond, it may miss that by a few units in the last place.
pub fn read(text: &str) -> Option<f64> {
    let (negative, unsigned) = split_sign(text);
    let (mantissa, exponent) = match unsigned.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, read_exponent(exponent)?),
        None => (unsigned, 0),
    };
    let (mut digits, mut power) = (0_u64, exponent);
    let (mut any, mut after_point) = (false, false);
    for sign in mantissa.bytes() {
        match sign {
            b'0'..=b'9' => {
                any = true;
                if digits < ROOM_FOR_A_DIGIT {
                    digits = 10 * digits + u64::from(sign - b'0');
                    power -= i32::from(after_point);
                } else {
                    power += i32::from(!after_point);
                }
            }
            b'.' if !after_point => after_point = true,
            _ => return None,
        }
    }
    let magnitude = scaled(digits, power);
    any.then_some(if negative { -magnitude } else { magnitude })
}

fn split_sign(text: &str) -> (bool, &str) {
    match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    }
}

fn read_exponent(text: &str) -> Option<i32> {
    let (negative, digits) = split_sign(text);
    if digits.is_empty() {
        return None;
    }
    let mut power = 0;
    for digit in digits.bytes() {
        if !digit.is_ascii_digit() {
            return None;
        }
        power = (10 * power + i32::from(digit - b'0')).min(FARTHEST_POWER);
    }
    Some(if negative { -power } else { power })
}

fn scaled(digits: u64, power: i32) -> f64 {
    let mut value = digits as f64;
    if digits == 0 {
        return value;
    }
    let mut left = power;
    while left > 0 {
        let step = left.min(22);
        value *= TEN[step as usize];
        left -= step;
    }
    while left < 0 {
        let step = (-left).min(22);
        value /= TEN[step as usize];
        left += step;
    }
    value
}

/// Writes a number with so many decimals (at most 15), halves to the even digit. What is not
/// finite, or too large for its digits to mean anything, is written as nothing.
pub fn write(value: f64, decimals: usize) -> String {
    let decimals = decimals.min(15);
    let steps = libm::rint(value.abs() * TEN[decimals]);
    if !(steps <= LARGEST_INTEGER as f64) {
        return String::new();
    }
    let mut text = (steps as u64).to_string();
    if text.len() <= decimals {
        text.insert_str(0, &"0".repeat(decimals + 1 - text.len()));
    }
    if decimals > 0 {
        text.insert(text.len() - decimals, '.');
    }
    if value < 0.0 && steps > 0.0 {
        text.insert(0, '-');
    }
    text
}

/// Writes a number with at most so many decimals, without zeros at its end.
pub fn write_briefly(value: f64, most_decimals: usize) -> String {
    let text = write(value, most_decimals);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}
