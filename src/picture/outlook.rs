//! What is seen through the liquid: how much it darkens the white behind, sharp and blurred.
//!
//! Of the light that a mark behind a suspension holds back, what was not scattered at all draws it sharp (loss 12 per cm
//! and g/L), what was scattered by less than six degrees draws it blurred (loss 9 per cm and g/L for both together), and
//! the rest is an even haze that hides it. A blur of √(⅔ µs′ z³), as for light scattered many times, would take the sharp
//! part with it: half a milligram per litre would smear a mark that every eye sees sharp.

use super::columns::Columns;
use super::light::{ALL, Screen, Share, WHITE};
use super::pen::Surface;
use crate::colour::{mark_contrast, sharp_contrast};

/// Blur of the part of a picture that reached the eye by small-angle scattering, as share of the path: rays within 6° of
/// straight, scattered evenly along the way (6° / √3).
pub(super) const SMALL_ANGLE_SPREAD: f64 = 0.061;

/// The view behind the liquid. 255 is black ink, 0 white paper.
#[derive(Clone, Debug)]
pub(super) struct Outlook {
    width: usize,
    height: usize,
    sharp: Vec<u8>,
    blurred: Vec<u8>,
    /// For each row, first and last column (excluded) that hold anything sharp, and anything blurred.
    spans: Vec<[(usize, usize); 2]>,
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
    fn through(solids_g_l: f64, path_cm: f64) -> Sight {
        let (all, sharp) = (mark_contrast(solids_g_l, path_cm), sharp_contrast(solids_g_l, path_cm));
        let weight = |contrast: f64| (contrast * f64::from(ALL) / 255.0) as Share;
        Sight { sharp: weight(sharp), blurred: weight(all - sharp) }
    }

    /// Share of the light that is left where the view is this dark.
    #[inline]
    fn share(self, sharp: u8, blurred: u8) -> Share {
        ALL - (self.sharp * Share::from(sharp) + self.blurred * Share::from(blurred)).min(ALL)
    }
}

/// Sights through each column of pixels.
#[derive(Clone, Debug, Default)]
pub(super) struct Sights {
    columns: Vec<Sight>,
    /// Whether anything blurred, or anything at all, comes through anywhere: a five-hundredth is below a step of 255.
    blurs: bool,
    sees: bool,
}

impl Sights {
    /// Sights through a suspension in a beaker with this inner diameter.
    pub(super) fn look(&mut self, columns: &Columns, solids_g_l: f64, path_cm: f64) {
        self.columns.clear();
        let (mut most_blurred, mut most) = (0, 0);
        for column in &columns.all {
            let sight = Sight::through(solids_g_l, path_cm * f64::from(column.chord));
            most_blurred = most_blurred.max(sight.blurred);
            most = most.max(sight.sharp + sight.blurred);
            self.columns.push(sight);
        }
        self.blurs = most_blurred * 255 > ALL / 500;
        self.sees = most * 255 > ALL / 500;
    }
}

impl Outlook {
    /// The view that a surface gives, white where there is nothing; its blurred twin is spread by `sigma_px`.
    pub(super) fn of_surface(surface: &Surface, screen: &Screen, sigma_px: f64) -> Outlook {
        let (width, height) = (surface.width, surface.height);
        let sharp: Vec<u8> = surface
            .pixels
            .chunks_exact(4)
            .map(|pixel| {
                let light = f64::from(screen.light(pixel).0[1]) / f64::from(WHITE);
                ((1.0 - light) * 255.0 + 0.5) as u8
            })
            .collect();
        let blurred = blurred(&sharp, width, sigma_px);
        let span = |view: &[u8]| {
            let first = view.iter().position(|dark| *dark > 0).unwrap_or(0);
            let last = view.iter().rposition(|dark| *dark > 0).map_or(0, |at| at + 1);
            (first, last)
        };
        let spans =
            (0..height).map(|row| [&sharp, &blurred].map(|view| span(&view[row * width..(row + 1) * width]))).collect();
        Outlook { width, height, sharp, blurred, spans }
    }

    /// Draws the view as it is seen through air, with the ink's own contrast.
    pub(super) fn darken(&self, onto: &mut Surface, screen: &Screen) {
        let air = Sight::through(0.0, 0.0);
        for (at, pixel) in onto.pixels.chunks_exact_mut(4).enumerate() {
            if self.sharp[at] > 0 {
                screen.dim(pixel, air.share(self.sharp[at], 0));
            }
        }
    }

    /// Darkens the liquid in some rows of pixels by what is seen through it; `surface_px` is where its surface stands at
    /// the axis.
    pub(super) fn veil(
        &self,
        pixels: &mut [u8],
        screen: &Screen,
        columns: &Columns,
        sights: &Sights,
        rows: (usize, usize),
        surface_px: f64,
    ) {
        if !sights.sees {
            return;
        }
        for row in rows.0..rows.1.min(self.height) {
            let [sharp, blurred] = self.spans[row];
            let (mut from, mut to) = sharp;
            if sights.blurs && blurred.1 > blurred.0 {
                from = if to > from { from.min(blurred.0) } else { blurred.0 };
                to = to.max(blurred.1);
            }
            from = from.max(columns.left);
            to = to.min(columns.left + columns.len());
            if from >= to {
                continue;
            }
            let down = (row as f64 + 0.5 - surface_px) as f32;
            let start = row * self.width;
            let line = &mut pixels[4 * (start + from)..4 * (start + to)];
            let sharp = &self.sharp[start + from..start + to];
            let blurred = &self.blurred[start + from..start + to];
            let within = from - columns.left..to - columns.left;
            let sights = &sights.columns[within.clone()];
            let columns = &columns.all[within];
            for ((((pixel, sharp), blurred), sight), column) in
                line.as_chunks_mut::<4>().0.iter_mut().zip(sharp).zip(blurred).zip(sights).zip(columns)
            {
                let share = sight.share(*sharp, *blurred);
                if share < ALL && down >= column.bulge_px {
                    screen.dim(pixel, share);
                }
            }
        }
    }
}

/// A picture blurred by three running means, which come close to a Gaussian of this standard deviation.
fn blurred(sharp: &[u8], width: usize, sigma_px: f64) -> Vec<u8> {
    // Three means over n pixels have the variance (n² - 1)/4.
    let half = (((4.0 * sigma_px * sigma_px + 1.0).sqrt() - 1.0) / 2.0 + 0.5) as usize;
    let mut now: Vec<f32> = sharp.iter().map(|value| f32::from(*value)).collect();
    let mut next = now.clone();
    let height = now.len() / width.max(1);
    // Most of the view is empty: only what three means can reach is gone through.
    let reached =
        |first: usize, last: usize, end: usize| first.saturating_sub(3 * half)..(last + 3 * half + 1).min(end);
    let dark = || sharp.iter().enumerate().filter(|(_, dark)| **dark > 0).map(|(at, _)| at);
    let Some((first, last)) = dark().next().zip(dark().next_back()) else { return sharp.to_vec() };
    let rows = reached(first / width, last / width, height);
    let (left, right) = dark().fold((width, 0), |(left, right), at| (left.min(at % width), right.max(at % width)));
    let columns = reached(left, right, width);
    for _ in 0..3 {
        for row in rows.clone() {
            running_mean(&now, &mut next, row * width + columns.start, 1, columns.len(), half);
        }
        std::mem::swap(&mut now, &mut next);
        for column in columns.clone() {
            running_mean(&now, &mut next, rows.start * width + column, width, rows.len(), half);
        }
        std::mem::swap(&mut now, &mut next);
    }
    now.into_iter().map(|value| (value + 0.5) as u8).collect()
}

/// Mean over `half` neighbours on either side along a line of pixels; what lies beyond the picture is empty.
fn running_mean(from: &[f32], to: &mut [f32], start: usize, step: usize, count: usize, half: usize) {
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
