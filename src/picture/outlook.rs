//! What is seen through the liquid: how much it darkens the white behind, sharp and blurred.
//!
//! Of the light that a mark behind a suspension holds back, what was not scattered at all draws it sharp (loss 12 per cm
//! and g/L), what was scattered by less than six degrees draws it blurred (loss 9 per cm and g/L for both together), and
//! the rest is an even haze that hides it. A blur of √(⅔ µs′ z³), as for light scattered many times, would take the sharp
//! part with it: half a milligram per litre would smear a mark that every eye sees sharp.

use super::light::{ALL, Screen, Share};
use super::pen::Surface;
use crate::colour::{MARK_CONTRAST_IN_WATER, mark_contrast, sharp_contrast};

/// The view behind the liquid. 255 is black ink, 0 white paper.
#[derive(Clone, Debug)]
pub(super) struct Outlook {
    width: usize,
    sharp: Vec<u8>,
    blurred: Vec<u8>,
    /// First and last row, and column, that hold anything; ends excluded.
    pub(super) rows: (usize, usize),
    pub(super) columns: (usize, usize),
}

/// How much of the view comes through, for one path and one suspension: weights of the sharp and the blurred picture in
/// shares of light per unit of darkness.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Sight {
    sharp: Share,
    blurred: Share,
}

impl Sight {
    /// Sight through `path_cm` of a suspension.
    pub(super) fn through(solids_g_l: f64, path_cm: f64) -> Sight {
        let all = mark_contrast(solids_g_l, path_cm);
        let sharp = sharp_contrast(solids_g_l, path_cm);
        let weight = |contrast: f64| (contrast * f64::from(ALL) / 255.0) as Share;
        Sight {
            sharp: weight(sharp),
            blurred: weight(all - sharp),
        }
    }

    /// Whether nothing at all comes through.
    pub(super) fn is_blind(self) -> bool {
        self.sharp + self.blurred < 2
    }
}

impl Outlook {
    /// The view that a surface, white where there is nothing, gives; `blur` makes its blurred twin.
    pub(super) fn of_surface(surface: &Surface, blur: impl Fn(&[u8]) -> Vec<u8>) -> Outlook {
        let screen = Screen::new();
        let sharp: Vec<u8> = surface
            .pixels
            .chunks_exact(4)
            .map(|pixel| {
                let light = f64::from(screen.light(pixel).0[1]) / f64::from(super::light::WHITE);
                ((1.0 - light) * 255.0 + 0.5) as u8
            })
            .collect();
        let blurred = blur(&sharp);
        let width = surface.width;
        let holds = |at: usize| sharp[at] > 0 || blurred[at] > 0;
        let mut rows = (surface.height, 0);
        let mut columns = (width, 0);
        for at in (0..sharp.len()).filter(|at| holds(*at)) {
            let (row, column) = (at / width, at % width);
            rows = (rows.0.min(row), rows.1.max(row + 1));
            columns = (columns.0.min(column), columns.1.max(column + 1));
        }
        Outlook {
            width,
            sharp,
            blurred,
            rows,
            columns,
        }
    }

    /// Draws the view as it is seen through air, with the ink's own contrast.
    pub(super) fn darken(&self, onto: &mut Surface) {
        let screen = Screen::new();
        let sight = Sight::through(0.0, 0.0);
        for (at, pixel) in onto.pixels.chunks_exact_mut(4).enumerate() {
            if self.sharp[at] > 0 {
                screen.dim(pixel, self.share(at, sight));
            }
        }
        debug_assert!(MARK_CONTRAST_IN_WATER < 1.0);
    }

    /// Share of the liquid's light that is left at a pixel.
    #[inline]
    pub(super) fn share(&self, at: usize, sight: Sight) -> Share {
        let held = sight.sharp * Share::from(self.sharp[at])
            + sight.blurred * Share::from(self.blurred[at]);
        ALL - held.min(ALL)
    }

    /// Index of a pixel.
    #[inline]
    pub(super) fn at(&self, column: usize, row: usize) -> usize {
        row * self.width + column
    }
}

/// A picture blurred by three running means, which come close to a Gaussian of this standard deviation.
pub(super) fn blurred(sharp: &[u8], width: usize, sigma_px: f64) -> Vec<u8> {
    // Three means over n pixels have the variance (n² - 1)/4.
    let half = (((4.0 * sigma_px * sigma_px + 1.0).sqrt() - 1.0) / 2.0 + 0.5) as usize;
    let mut now: Vec<f32> = sharp.iter().map(|value| f32::from(*value)).collect();
    let mut next = now.clone();
    let height = if width == 0 { 0 } else { now.len() / width };
    for _ in 0..3 {
        for row in 0..height {
            running_mean(&now, &mut next, row * width, 1, width, half);
        }
        std::mem::swap(&mut now, &mut next);
        for column in 0..width {
            running_mean(&now, &mut next, column, width, height, half);
        }
        std::mem::swap(&mut now, &mut next);
    }
    now.into_iter().map(|value| (value + 0.5) as u8).collect()
}

/// Mean over `half` neighbours on either side along a line of pixels; what lies beyond the picture is empty.
fn running_mean(
    from: &[f32],
    to: &mut [f32],
    start: usize,
    step: usize,
    count: usize,
    half: usize,
) {
    let window = (2 * half + 1) as f32;
    let mut sum: f32 = (0..half.min(count)).map(|at| from[start + at * step]).sum();
    for at in 0..count {
        if at + half < count {
            sum += from[start + (at + half) * step];
        }
        if at > half {
            sum -= from[start + (at - half - 1) * step];
        }
        to[start + at * step] = sum / window;
    }
}
