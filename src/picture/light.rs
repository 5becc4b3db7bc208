//! Linear light in whole numbers, and quick passage between it and what the screen is sent.
//!
//! Light may be added and dimmed; encoded bytes may not. 16,384 levels of light keep every one of the 255 shown steps apart
//! (the darkest step spans five levels).

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
    /// Linear light from 0..1.
    pub(super) fn of_linear(rgb: [f64; 3]) -> Light {
        Light(rgb.map(|value| (value.clamp(0.0, 1.0) * f64::from(WHITE) + 0.5) as u16))
    }

    /// This light after a filter that makes `out_of` to `into`.
    pub(super) fn filtered(self, into: Light, out_of: Light) -> Light {
        Light(std::array::from_fn(|channel| {
            let full = u32::from(out_of.0[channel]).max(1);
            let left = u32::from(self.0[channel]) * u32::from(into.0[channel]) / full;
            left.min(u32::from(WHITE)) as u16
        }))
    }

    /// `part` of the way towards another light.
    pub(super) fn towards(self, other: Light, part: Share) -> Light {
        let mix = |a: u16, b: u16| ((u32::from(a) * (ALL - part) + u32::from(b) * part) >> 16) as u16;
        Light(std::array::from_fn(|channel| mix(self.0[channel], other.0[channel])))
    }
}

/// Light, 0 to 1, of a code, 0 to 255: the encoding of IEC 61966-2-1 read backwards.
fn light_of_code(code: f64) -> f64 {
    let v = code / 255.0;
    if v <= 0.04045 { v / 12.92 } else { libm::pow((v + 0.055) / 1.055, 2.4) }
}

/// Tables between light and bytes.
#[derive(Clone, Debug)]
pub(super) struct Screen {
    encode: Vec<u8>,
    decode: [u16; 256],
}

impl Screen {
    pub(super) fn new() -> Screen {
        let levels = |code: f64| light_of_code(code) * f64::from(WHITE);
        let decode = std::array::from_fn(|byte| (levels(byte as f64) + 0.5) as u16);
        let mut encode = vec![0; usize::from(WHITE) + 1];
        let mut level = 0;
        for byte in 0..=255_u8 {
            // From half a code on, a level is nearer to the next byte.
            let next = if byte == 255 { f64::INFINITY } else { levels(f64::from(byte) + 0.5) };
            while level < encode.len() && (level as f64) < next {
                encode[level] = byte;
                level += 1;
            }
        }
        Screen { encode, decode }
    }

    /// What the screen is sent for this light.
    #[inline]
    pub(super) fn rgba(&self, light: Light) -> [u8; 4] {
        let [r, g, b] = light.0.map(|level| self.encode[usize::from(level.min(WHITE))]);
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

#[cfg(test)]
mod tests {
    use super::{ALL, Screen, WHITE};
    use crate::colour::LinearRgb;

    #[test]
    fn every_byte_comes_back_from_its_light() {
        let screen = Screen::new();
        for byte in 0..=255_u8 {
            let mut pixel = [byte, byte, byte, 255];
            screen.dim(&mut pixel, ALL);
            assert_eq!(pixel, [byte, byte, byte, 255]);
        }
    }

    #[test]
    fn the_table_encodes_as_the_standard_does() {
        let screen = Screen::new();
        for level in 0..=WHITE {
            let light = f64::from(level) / f64::from(WHITE);
            let wanted = LinearRgb([light; 3]).encoded().0[0];
            // The standard's two branches part by 3e-8 at their joint: a level may fall either way there.
            let off = i32::from(screen.encode[usize::from(level)]) - i32::from(wanted);
            assert!(off.abs() <= i32::from(wanted == 10 || wanted == 11), "level {level}: {off}");
        }
    }
}
