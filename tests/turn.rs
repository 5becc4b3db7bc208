//! Sine and cosine beside the crate `libm`, whose functions are fdlibm's (Sun Microsystems 1993), and at angles with known ones.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_6, PI, TAU};

use turnback::numerics::{sine, sine_cosine};

#[test]
fn within_a_hundred_turns_they_are_those_of_libm() {
    for step in -400_000..=400_000 {
        let angle = f64::from(step) * 0.001_570_1;
        let (sine, cosine) = sine_cosine(angle);
        assert!((sine - libm::sin(angle)).abs() <= 2.3e-16, "sin {angle}: {sine}");
        assert!((cosine - libm::cos(angle)).abs() <= 2.3e-16, "cos {angle}: {cosine}");
    }
}

#[test]
fn after_ten_thousand_turns_twelve_digits_are_left() {
    for step in 0..100_000 {
        let angle = f64::from(step) * 0.628_318;
        assert!((sine(angle) - libm::sin(angle)).abs() <= 1e-12, "sin {angle}");
    }
}

#[test]
fn known_angles() {
    assert_eq!(sine_cosine(0.0), (0.0, 1.0));
    assert!((sine(FRAC_PI_6) - 0.5).abs() < 2e-16);
    assert_eq!(sine(FRAC_PI_2), 1.0);
    assert!(sine(PI).abs() < 2e-16 && sine(TAU).abs() < 3e-16);
    assert!(sine(f64::INFINITY).is_nan() && sine(f64::NAN).is_nan());
}
