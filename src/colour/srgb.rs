//! From tristimulus values to what a screen is sent: IEC 61966-2-1:1999 (sRGB), with the loss at four glass faces.

use super::observer::Xyz;

/// Share of the light that passes the four faces of the beaker's glass (Fresnel, about 2 % each in contact pairs); it also
/// keeps the brightest reds nearly inside what a screen can show. 0.84 would hold them all, but turns yellow to mustard.
pub const DISPLAY_GAIN: f64 = 0.92;

/// Matrix from XYZ (D65) to linear sRGB, IEC 61966-2-1:1999.
const XYZ_TO_RGB: [[f64; 3]; 3] = [[3.2406, -1.5372, -0.4986], [-0.9689, 1.8758, 0.0415], [0.0557, -0.2040, 1.0570]];

/// Linear light in the sRGB primaries: it may be added and scaled. 0 to 1 can be shown; strong colours go beyond.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LinearRgb(pub [f64; 3]);

impl LinearRgb {
    /// Linear sRGB of tristimulus values, not clipped.
    pub fn of_xyz(xyz: Xyz) -> LinearRgb {
        LinearRgb(XYZ_TO_RGB.map(|row| row[0] * xyz.x + row[1] * xyz.y + row[2] * xyz.z))
    }

    /// Linear sRGB as the screen shall show it: dimmed by [`DISPLAY_GAIN`] and clipped to 0..1.
    pub fn shown(xyz: Xyz) -> LinearRgb {
        LinearRgb(LinearRgb::of_xyz(xyz).0.map(|value| (value * DISPLAY_GAIN).clamp(0.0, 1.0)))
    }

    /// Encoded for the screen: clipped to 0..1, IEC 61966-2-1's curve, rounded to 255 steps.
    pub fn encoded(self) -> Srgb {
        Srgb(self.0.map(|value| {
            let v = value.clamp(0.0, 1.0);
            let encoded = if v <= 0.003_130_8 { 12.92 * v } else { 1.055 * libm::pow(v, 1.0 / 2.4) - 0.055 };
            (255.0 * encoded + 0.5) as u8
        }))
    }
}

/// An sRGB colour as the screen is sent it: red, green, blue, 0 to 255. Shown, never added.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Srgb(pub [u8; 3]);

/// The colour that the page shows for these tristimulus values.
pub fn shown(xyz: Xyz) -> Srgb {
    LinearRgb::shown(xyz).encoded()
}
