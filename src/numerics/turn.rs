//! Sine and cosine by the series of fdlibm's kernels (Sun Microsystems 1993, k_sin.c and k_cos.c) after taking away whole
//! quarters of a turn. What is left out is the reduction of huge angles, whose table of 2/π weighs more on a school's line than
//! all else here: angles that a picture or a fit has are a few turns.

use core::f64::consts::FRAC_2_PI;

/// π/2 in two parts; the first has 33 bits, so that its product with a count of quarters is exact.
const QUARTER: [f64; 2] = [1.570_796_326_734_125_614_17, 6.077_100_506_506_192_249_32e-11];

/// From the highest power down, for sin x = x + x³ (...).
const SINE: [f64; 6] = [
    1.589_690_995_211_550_102_21e-10,
    -2.505_076_025_340_686_341_95e-8,
    2.755_731_370_707_006_767_89e-6,
    -1.984_126_982_985_794_931_34e-4,
    8.333_333_333_322_489_461_24e-3,
    -1.666_666_666_666_663_243_48e-1,
];

/// From the highest power down, for cos x = 1 - x²/2 + x⁴ (...).
const COSINE: [f64; 6] = [
    -1.135_964_755_778_819_482_65e-11,
    2.087_572_321_298_174_827_90e-9,
    -2.755_731_435_139_066_330_35e-7,
    2.480_158_728_947_672_941_78e-5,
    -1.388_888_888_887_410_957_49e-3,
    4.166_666_666_666_660_190_37e-2,
];

/// Sine and cosine of an angle, rad: within 2e-16 up to a hundred turns, within 1e-12 up to ten thousand. NaN for what is no
/// finite number.
#[inline(never)]
pub fn sine_cosine(angle: f64) -> (f64, f64) {
    let quarters = libm::floor(angle * FRAC_2_PI + 0.5);
    let rest = (angle - quarters * QUARTER[0]) - quarters * QUARTER[1];
    let square = rest * rest;
    let series = |terms: [f64; 6]| terms.into_iter().fold(0.0, |sum, term| sum * square + term);
    let sine = rest + rest * square * series(SINE);
    let cosine = 1.0 - 0.5 * square + square * square * series(COSINE);
    match quarters as i64 & 3 {
        0 => (sine, cosine),
        1 => (cosine, -sine),
        2 => (-sine, -cosine),
        _ => (-cosine, sine),
    }
}

/// The sine alone, see [`sine_cosine`].
pub fn sine(angle: f64) -> f64 {
    sine_cosine(angle).0
}
