//! Linear light in whole numbers, and quick passage between it and what the screen is sent.
//!
//! Light may be added and dimmed; encoded bytes may not. 16,384 levels of light keep every one of the 255 shown steps apart
//! (the darkest step spans five levels).

use crate::colour::{LinearRgb, Xyz};

/// The white of the paper in levels of light.
pub(super) const WHITE: u16 = 16_383;

/// Linear light of red, green and blue, 0 to [`WHITE`].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Light(pub(super) [u16; 3]);

/// A share as a whole number: 65,536 is all.
pub(super) type Share = u32;
/// All of it.
pub(super) const ALL: Share = 65_536;

/// A share, 0 to 1, as a whole number.
pub(super) fn share(of_one: f64) -> Share {
    (of_one.clamp(0.0, 1.0) * f64::from(ALL) + 0.5) as Share
}

impl Light {
    /// The light that a screen shall show for these tristimulus values.
    pub(super) fn shown(xyz: Xyz) -> Light {
        Light::of_linear(LinearRgb::shown(xyz).0)
    }

    /// Linear light from 0..1.
    pub(super) fn of_linear(rgb: [f64; 3]) -> Light {
        Light(rgb.map(|value| (value.clamp(0.0, 1.0) * f64::from(WHITE) + 0.5) as u16))
    }

    /// `part` of the way towards another light.
    pub(super) fn towards(self, other: Light, part: Share) -> Light {
        let mix =
            |a: u16, b: u16| ((u32::from(a) * (ALL - part) + u32::from(b) * part) >> 16) as u16;
        Light(std::array::from_fn(|channel| {
            mix(self.0[channel], other.0[channel])
        }))
    }
}

/// Tables between light and bytes.
#[derive(Clone, Debug)]
pub(super) struct Screen {
    encode: Vec<u8>,
    decode: [u16; 256],
}

impl Screen {
    pub(super) fn new() -> Screen {
        let encode: Vec<u8> = (0..=WHITE)
            .map(|level| {
                LinearRgb([f64::from(level) / f64::from(WHITE); 3])
                    .encoded()
                    .0[0]
            })
            .collect();
        let decode = std::array::from_fn(|byte| {
            // IEC 61966-2-1, the encoding read backwards.
            let v = byte as f64 / 255.0;
            let light = if v <= 0.04045 {
                v / 12.92
            } else {
                libm::pow((v + 0.055) / 1.055, 2.4)
            };
            (light * f64::from(WHITE) + 0.5) as u16
        });
        Screen { encode, decode }
    }

    /// What the screen is sent for this light.
    #[inline]
    pub(super) fn rgba(&self, light: Light) -> [u8; 4] {
        let [r, g, b] = light
            .0
            .map(|level| self.encode[usize::from(level.min(WHITE))]);
        [r, g, b, 255]
    }

    /// The light of a pixel.
    #[inline]
    pub(super) fn light(&self, pixel: &[u8]) -> Light {
        Light([0, 1, 2].map(|channel| self.decode[usize::from(pixel[channel])]))
    }

    /// Dims a pixel's light to a share of it.
    #[inline]
    pub(super) fn dim(&self, pixel: &mut [u8], part: Share) {
        for byte in &mut pixel[..3] {
            let level = (u32::from(self.decode[usize::from(*byte)]) * part) >> 16;
            *byte = self.encode[level as usize];
        }
    }

    /// Lays light over a pixel: `part` of it comes from `light`, the rest stays.
    #[inline]
    pub(super) fn lay(&self, pixel: &mut [u8], light: Light, part: Share) {
        let mixed = self.light(pixel).towards(light, part.min(ALL));
        pixel.copy_from_slice(&self.rgba(mixed));
    }
}
