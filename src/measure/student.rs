//! Student's t distribution with whole degrees of freedom: how wide a range has to be.
//!
//! For whole degrees of freedom the probability is a finite sum of powers of a cosine (Abramowitz & Stegun 1964, *Handbook of
//! Mathematical Functions*, 26.7.3 and 26.7.4); the quantile is found by halving. Exact to about 1e-12, which no table asks.

use core::f64::consts::FRAC_PI_2;

use crate::numerics::sine_cosine;

/// Above this many degrees of freedom the sum stands still: t at 95 % then differs from the next one's by less than 1e-9.
const FREEDOM_MAX: usize = 100_000;

/// Probability A(t|ν) that Student's t with ν degrees of freedom lies within ±t.
///
/// `t` is taken without its sign; ν from 1. NaN for ν = 0.
pub fn two_sided_probability(t: f64, freedom: usize) -> f64 {
    within(libm::atan(t.abs() / (freedom as f64).sqrt()), freedom)
}

/// The t that Student's t with ν degrees of freedom stays within with this probability (0.95 for a 95 % range).
///
/// `probability` from 0 to below 1, ν from 1. Infinite for ν = 0: with no degree of freedom left nothing is known of the
/// spread.
pub fn student_t(probability: f64, freedom: usize) -> f64 {
    if freedom == 0 {
        return f64::INFINITY;
    }
    // Halving in the angle keeps every t, however large, within reach.
    let (mut low, mut high) = (0.0, FRAC_PI_2);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if within(middle, freedom) < probability {
            low = middle;
        } else {
            high = middle;
        }
    }
    let (sine, cosine) = sine_cosine(0.5 * (low + high));
    (freedom as f64).sqrt() * sine / cosine
}

/// A(t|ν) by its angle θ = atan(t/√ν).
fn within(angle: f64, freedom: usize) -> f64 {
    let freedom = freedom.min(FREEDOM_MAX);
    let (sine, cosine) = sine_cosine(angle);
    let square = cosine * cosine;
    if freedom % 2 == 1 {
        // 2/π (θ + sin θ (cos θ + 2/3 cos³ θ + 2·4/(3·5) cos⁵ θ + ...))
        let mut sum = 0.0;
        let mut term = cosine;
        for k in (1..freedom).step_by(2) {
            sum += term;
            let k = k as f64;
            term *= square * (k + 1.0) / (k + 2.0);
        }
        (angle + sine * sum) / FRAC_PI_2
    } else {
        // sin θ (1 + 1/2 cos² θ + 1·3/(2·4) cos⁴ θ + ...)
        let mut sum = 0.0;
        let mut term = 1.0;
        for k in (0..freedom).step_by(2) {
            sum += term;
            let k = k as f64;
            term *= square * (k + 1.0) / (k + 2.0);
        }
        sine * sum
    }
}
