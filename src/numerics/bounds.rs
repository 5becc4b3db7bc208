//! The larger and the smaller of two numbers, as a comparison.
//!
//! `f64::max` and `f64::min` say the same, but in WebAssembly they are calls of a function, because
//! that machine's own instruction treats what is no number in another way: in the rates of a
//! beaker, which ask a dozen times, those calls took 2 % of the time.

/// A number, or the bound where it lies below that or is no number.
#[inline]
pub fn at_least(number: f64, bound: f64) -> f64 {
    if number > bound { number } else { bound }
}

/// A number, or the bound where it lies above that or is no number.
#[inline]
pub fn at_most(number: f64, bound: f64) -> f64 {
    if number < bound { number } else { bound }
}
