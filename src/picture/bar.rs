//! The stir bar on the floor: white, round-ended, fading with the suspension between it and the eye.

use super::geometry::{Frame, RADIUS, TILT};
use super::light::{Light, Screen, share};
use super::outlook::SMALL_ANGLE_SPREAD;
use crate::colour::mark_contrast;
use crate::numerics::sine_cosine;

/// Half length and radius, drawing units: a bar of 40 x 8 mm in a 600 mL beaker.
const HALF_LENGTH: f64 = 1.6;
const THICK: f64 = 0.42;
/// Reflectance of the bar's lit upper side, its shaded lower side and its outline, relative to the white surround.
const LIT: f64 = 0.93;
const SHADED: f64 = 0.50;
const OUTLINE: f64 = 0.22;

/// Where the bar lies and through what it is seen.
#[derive(Clone, Copy, Debug)]
pub(super) struct BarLook {
    /// Direction, rad: 0 across, a quarter turn towards the eye.
    pub(super) angle_rad: f64,
    /// Suspended solid before it, g/L.
    pub(super) solids_g_l: f64,
    /// Length of a drawing unit, cm.
    pub(super) unit_cm: f64,
}

/// Paints the bar. It stands in the liquid's own light (`liquid`, one colour per column from `left` on), which it sends on
/// as far as it is white.
pub(super) fn paint_bar(
    pixels: &mut [u8],
    frame: &Frame,
    screen: &Screen,
    (left, liquid): (usize, &[[u8; 4]]),
    look: BarLook,
) {
    let BarLook { angle_rad, solids_g_l, unit_cm } = look;
    let (sin, cos) = sine_cosine(angle_rad);
    // Half axis as drawn: across, and down where the end is nearer to the eye.
    let half = (HALF_LENGTH * cos * frame.scale, HALF_LENGTH * sin * TILT * frame.scale);
    let centre = (frame.x_px(0.0), frame.y_px(THICK + 0.02));
    let thick = THICK * frame.scale;
    // Liquid in front of the near and of the far end.
    let paths = [-1.0, 1.0].map(|end| (RADIUS - end * HALF_LENGTH * sin) * unit_cm);
    let in_water = mark_contrast(0.0, 1.0);
    let contrasts = paths.map(|path| mark_contrast(solids_g_l, path) / in_water);
    if contrasts[0].max(contrasts[1]) < 1.0 / 512.0 {
        return;
    }
    // The sharp part against the small-angle part sets how soft the edges are.
    let sharpness = libm::exp(-3.0 * solids_g_l * RADIUS * unit_cm);
    let soft = 0.5 + (1.0 - sharpness) * SMALL_ANGLE_SPREAD * RADIUS * frame.scale;
    let length2 = (half.0 * half.0 + half.1 * half.1).max(1e-9);
    let margin = thick + 2.0 * soft + 1.0;
    let reach = (half.0.abs() + margin, half.1.abs() + margin);
    let rows = ((centre.1 - reach.1).max(0.0) as usize, ((centre.1 + reach.1).max(0.0) as usize).min(frame.height));
    let columns = ((centre.0 - reach.0).max(0.0) as usize, ((centre.0 + reach.0).max(0.0) as usize).min(frame.width));
    let line = (frame.scale / 14.0).clamp(0.8, 3.0);
    for row in rows.0..rows.1 {
        for column in columns.0..columns.1 {
            let p = (column as f64 + 0.5 - centre.0, row as f64 + 0.5 - centre.1);
            let along = ((p.0 * half.0 + p.1 * half.1) / length2).clamp(-1.0, 1.0);
            let off = (p.0 - along * half.0, p.1 - along * half.1);
            let distance = (off.0 * off.0 + off.1 * off.1).sqrt();
            let cover = ((thick - distance) / (2.0 * soft) + 0.5).clamp(0.0, 1.0);
            if cover <= 0.0 {
                continue;
            }
            let shade = (0.5 + 0.5 * off.1 / thick).clamp(0.0, 1.0);
            let mut reflectance = LIT + (SHADED - LIT) * shade * shade;
            // The outline and the two edges of the ring around the middle.
            let rim = 1.0 - ((thick - distance - 0.5 * line).abs() / line).min(1.0);
            let ring = along * length2.sqrt();
            let ring = 1.0 - ((ring.abs() - 0.45 * thick).abs() / line).min(1.0);
            reflectance += (OUTLINE - reflectance) * rim.max(0.35 * ring);
            let contrast = contrasts[0] + (contrasts[1] - contrasts[0]) * (0.5 + 0.5 * along);
            let at = 4 * (row * frame.width + column);
            let Some(colour) = column.checked_sub(left).and_then(|own| liquid.get(own)) else { continue };
            let part = share(reflectance);
            let sent = Light::default().towards(screen.light(colour), part);
            screen.lay(&mut pixels[at..at + 4], sent, share(contrast * cover));
        }
    }
}
