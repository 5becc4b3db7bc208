//! From a spectrum to tristimulus values: CIE 1931 2° observer under D65 (ISO/CIE 11664-1, -2, -3), every 10 nm.

use std::sync::OnceLock;

use super::liquid::WAVELENGTHS;
use crate::data;

/// CIE tristimulus values X, Y, Z relative to the illuminant: Y = 1 is the white surround.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Xyz {
    /// X, 0 to 0.95047 for a surface that returns no more than it gets.
    pub x: f64,
    /// Y, luminance relative to white, 0 to 1.
    pub y: f64,
    /// Z, 0 to 1.08883.
    pub z: f64,
}

impl Xyz {
    /// XYZ = Σ W(λ) Q(λ) over the wavelength grid; Q is the share of the surround's light that reaches the eye.
    pub(super) fn of_returned(returned: impl Iterator<Item = f64>) -> Xyz {
        let mut sum = Xyz::default();
        for (weight, share) in observer().weights.iter().zip(returned) {
            sum.x += weight[0] * share;
            sum.y += weight[1] * share;
            sum.z += weight[2] * share;
        }
        sum
    }
}

/// The white of the surround: tristimulus values of D65 on this grid.
pub fn white_point() -> Xyz {
    Xyz::of_returned([1.0; WAVELENGTHS].into_iter())
}

/// Wavelength grid and the weights W = CMF · D65 / Σ(ȳ · D65).
pub(super) struct Observer {
    pub(super) wavelengths_nm: [f64; WAVELENGTHS],
    weights: [[f64; 3]; WAVELENGTHS],
}

pub(super) fn observer() -> &'static Observer {
    static OBSERVER: OnceLock<Observer> = OnceLock::new();
    OBSERVER.get_or_init(|| {
        let mut wavelengths_nm = [0.0; WAVELENGTHS];
        let mut weights = [[0.0; 3]; WAVELENGTHS];
        let mut rows = 0;
        for (at, row) in data::observer().enumerate() {
            wavelengths_nm[at] = row.wavelength_nm;
            weights[at] = row.matching.map(|matching| matching * row.d65);
            rows = at + 1;
        }
        assert_eq!(rows, WAVELENGTHS, "the observer's table has another grid");
        let luminance: f64 = weights.iter().map(|weight| weight[1]).sum();
        for weight in &mut weights {
            *weight = weight.map(|value| value / luminance);
        }
        Observer { wavelengths_nm, weights }
    })
}
