//! The ribbon: the colour of the liquid over time as a band, with cloudiness as a fine pattern.

use crate::colour::{Clarity, Indicator, LinearRgb, Liquid, clarity, mark_contrast};

/// The liquid at one moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RibbonSample {
    /// pH of the bulk; not a number where nothing is known yet, which leaves the column transparent.
    pub ph: f64,
    /// Suspended solid in the bulk, g/L.
    pub solids_g_l: f64,
}

/// Columns that are computed; those between are straight lines of light where little changes.
const STRIDE: usize = 8;
/// Changes below which a straight line of light is true within a step of 255: pH, and share of the solid.
const SMALL_PH: f64 = 0.04;
const SMALL_SOLIDS: f64 = 0.03;

/// A band of one column of pixels per sample, `height` pixels high: red, green, blue and opacity, row by row.
///
/// The colour is that of the middle of a beaker of inner width `path_cm`, with a solid of this fineness. Cloudiness is a lattice of paler points: none where
/// a mark behind the beaker is clear, then more and more.
pub fn ribbon_rgba(
    samples: &[RibbonSample],
    (indicator, fineness): (Indicator, f64),
    path_cm: f64,
    height: usize,
) -> Vec<u8> {
    let width = samples.len();
    let colours = colours(samples, &indicator, fineness, path_cm);
    let mut pixels = vec![0; 4 * width * height];
    for (column, (sample, colour)) in samples.iter().zip(&colours).enumerate() {
        let Some(colour) = colour else { continue };
        let plain = colour.encoded().0;
        let point = LinearRgb(colour.0.map(|value| value + (1.0 - value) * 0.24)).encoded().0;
        let pattern = Pattern::of(clarity(mark_contrast(sample.solids_g_l, path_cm)));
        for row in 0..height {
            let rgb = if pattern.has_point(column, row) { point } else { plain };
            let at = 4 * (row * width + column);
            pixels[at..at + 4].copy_from_slice(&[rgb[0], rgb[1], rgb[2], 255]);
        }
    }
    pixels
}

/// Points in a lattice: one every `across` pixels in every `down`-th row, every other row moved by half; none where 0.
struct Pattern {
    across: usize,
    down: usize,
}

impl Pattern {
    fn of(clarity: Clarity) -> Pattern {
        let (across, down) = match clarity {
            Clarity::Clear => (0, 0),
            Clarity::Hazy => (12, 6),
            Clarity::Cloudy => (8, 4),
            Clarity::Milky => (4, 2),
        };
        Pattern { across, down }
    }

    fn has_point(&self, column: usize, row: usize) -> bool {
        if self.across == 0 || row % self.down != self.down / 2 {
            return false;
        }
        let moved = if (row / self.down).is_multiple_of(2) { 0 } else { self.across / 2 };
        (column + moved).is_multiple_of(self.across)
    }
}

/// The light of each column.
fn colours(samples: &[RibbonSample], indicator: &Indicator, fineness: f64, path_cm: f64) -> Vec<Option<LinearRgb>> {
    let compute = |sample: &RibbonSample| {
        (!sample.ph.is_nan()).then(|| {
            let liquid = Liquid::new(indicator, sample.ph, sample.solids_g_l).of_fineness(fineness);
            LinearRgb::shown(liquid.xyz(path_cm))
        })
    };
    let mut colours = vec![None; samples.len()];
    let mut from = 0;
    while from < samples.len() {
        colours[from] = colours[from].or_else(|| compute(&samples[from]));
        let to = (from + STRIDE).min(samples.len() - 1);
        if to > from {
            let end = compute(&samples[to]);
            match (colours[from], end) {
                (Some(start), Some(end)) if is_smooth(&samples[from..=to]) => {
                    for (at, colour) in colours[from..to].iter_mut().enumerate() {
                        let part = at as f64 / (to - from) as f64;
                        *colour = Some(LinearRgb(std::array::from_fn(|channel| {
                            start.0[channel] + (end.0[channel] - start.0[channel]) * part
                        })));
                    }
                }
                _ => {
                    for at in from..to {
                        colours[at] = compute(&samples[at]);
                    }
                }
            }
            colours[to] = end;
        }
        if to == samples.len() - 1 {
            break;
        }
        from = to;
    }
    colours
}

/// Whether a run of samples changes so little that straight lines do, and has no jump within.
fn is_smooth(run: &[RibbonSample]) -> bool {
    let (first, last) = (run[0], run[run.len() - 1]);
    let near = |sample: &RibbonSample, part: f64| {
        let ph = first.ph + (last.ph - first.ph) * part;
        let solids = first.solids_g_l + (last.solids_g_l - first.solids_g_l) * part;
        (sample.ph - ph).abs() < 0.1 * SMALL_PH
            && (sample.solids_g_l - solids).abs() <= SMALL_SOLIDS * 0.1 * (0.01 + solids.abs())
    };
    (last.ph - first.ph).abs() < SMALL_PH
        && (last.solids_g_l - first.solids_g_l).abs() <= SMALL_SOLIDS * (0.01 + first.solids_g_l.abs())
        && run.iter().enumerate().all(|(at, sample)| near(sample, at as f64 / (run.len() - 1) as f64))
}
