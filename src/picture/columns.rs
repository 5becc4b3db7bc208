//! The liquid's shape in pixels: for each column of the picture how long the line of sight is, and where the liquid's
//! curved edges lie.

use super::geometry::{Frame, HEEL, RADIUS, bulge, floor_edge};
use super::plume::Plume;
use crate::colour::{LinearRgb, Liquid};

/// Refractive index of water: rays that enter through the round wall are bent inwards.
const WATER_INDEX: f64 = 1.333;

/// Lengths of the line of sight at which colours are computed, as shares of the inner diameter; colours between are a
/// parabola through the three (exact within 0.0012 of full light at pH 10.4, the darkest liquid).
pub(super) const CHORDS: [f64; 3] = [1.0, 0.83, 0.66];

/// Length of the line of sight at x, as a share of the inner diameter: refraction keeps it within a chord that is never
/// shorter than 0.66 of it.
pub(super) fn chord(x: f64) -> f64 {
    let bent = (x / (WATER_INDEX * RADIUS)).clamp(-1.0, 1.0);
    (1.0 - bent * bent).sqrt().max(0.66)
}

/// Weights of the three values of [`CHORDS`] (or any three points) in the parabola through them.
pub(super) fn parabola(at: f64, points: [f64; 3]) -> [f32; 3] {
    std::array::from_fn(|own| {
        let mut weight = 1.0;
        for other in (0..3).filter(|other| *other != own) {
            weight *= (at - points[other]) / (points[own] - points[other]);
        }
        weight as f32
    })
}

/// Colours of a liquid for the three lengths of [`CHORDS`], seen through `path_cm` at the axis.
pub(super) fn chord_colours(liquid: &Liquid, path_cm: f64) -> [LinearRgb; 3] {
    CHORDS.map(|share| LinearRgb::shown(liquid.xyz(share * path_cm)))
}

/// One column of pixels within the beaker.
#[derive(Clone, Copy, Debug)]
pub(super) struct Column {
    /// Share of the inner diameter that the line of sight runs through.
    pub(super) chord: f32,
    /// Weights of the three colours of [`CHORDS`].
    pub(super) weights: [f32; 3],
    /// Share of the column that lies between the walls.
    pub(super) cover: f32,
    /// Place on the plume's grid across: cell and share of the way to the next.
    pub(super) plume_cell: u16,
    pub(super) plume_part: f32,
    /// How far a level circle bulges here, px, and the cosine of its slope.
    pub(super) bulge_px: f32,
    pub(super) bulge_cos: f32,
    /// Height of the floor's edge, px above the floor at the axis, and the cosine of its slope.
    pub(super) floor_px: f32,
    pub(super) floor_cos: f32,
}

/// All columns of the liquid, from `left` on.
#[derive(Clone, Debug)]
pub(super) struct Columns {
    pub(super) left: usize,
    pub(super) all: Vec<Column>,
}

impl Columns {
    pub(super) fn new(frame: &Frame) -> Columns {
        let left_edge = frame.x_px(-RADIUS);
        let right_edge = frame.x_px(RADIUS);
        let left = left_edge.max(0.0) as usize;
        let right = (libm::ceil(right_edge).max(0.0) as usize).min(frame.width);
        let step = 0.25 / frame.scale;
        let cos = |edge: &dyn Fn(f64) -> f64, x: f64| {
            let slope = (edge(x + step) - edge(x - step)) / (2.0 * step);
            (1.0 / (1.0 + slope * slope).sqrt()) as f32
        };
        let all = (left..right)
            .map(|column| {
                let x = frame.x_of(column).clamp(-RADIUS, RADIUS);
                let chord = chord(x);
                let cover = (column as f64 + 1.0).min(right_edge) - (column as f64).max(left_edge);
                let place = (x + RADIUS) * Plume::PER_UNIT;
                Column {
                    plume_cell: place as u16,
                    plume_part: (place - place.floor()) as f32,
                    chord: chord as f32,
                    weights: parabola(chord, CHORDS),
                    cover: cover.clamp(0.0, 1.0) as f32,
                    bulge_px: (bulge(x, RADIUS) * frame.scale) as f32,
                    bulge_cos: cos(&|x| bulge(x, RADIUS), x),
                    floor_px: (floor_edge(x, RADIUS, HEEL) * frame.scale) as f32,
                    floor_cos: cos(&|x| floor_edge(x, RADIUS, HEEL), x),
                }
            })
            .collect();
        Columns { left, all }
    }

    pub(super) fn len(&self) -> usize {
        self.all.len()
    }
}
