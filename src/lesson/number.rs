//! Typed numbers. A class types 2,0 as often as 2.0: both are read, nothing is rounded
//! behind the reader's back, and what is no number is told apart from what is left empty.

use crate::decimal;

/// The longest text that is looked at as a number, in characters.
const MAX_CHARS: usize = 40;

/// Why a typed text is no number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NumberError {
    /// Nothing but spaces was typed.
    Empty,
    /// The text is not one plain decimal number.
    NotANumber,
}

/// Reads one decimal number with a point or a comma as its decimal mark.
///
/// Returns the value and how many decimals were typed (2.50 has two). A typed exponent is
/// read too (1e9), so that an absurd amount is answered with the limits of its field.
///
/// # Errors
/// [`NumberError::Empty`] for blank text; [`NumberError::NotANumber`] for anything else that
/// is not one finite number, two decimal marks (1,000.5) among them.
pub fn parse_number(text: &str) -> Result<(f64, u32), NumberError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(NumberError::Empty);
    }
    if text.chars().count() > MAX_CHARS {
        return Err(NumberError::NotANumber);
    }
    // U+2212 is the minus sign that typeset text carries.
    let plain = text.replace(',', ".").replace('\u{2212}', "-");
    let mantissa = plain.split(['e', 'E']).next().unwrap_or("");
    let Some(value) = decimal::read(&plain).filter(|value| value.is_finite()) else {
        return Err(NumberError::NotANumber);
    };
    let decimals = mantissa.split('.').nth(1).map_or(0, str::len);
    Ok((value, decimals as u32))
}
