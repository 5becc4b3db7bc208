//! The colours of one layer of the liquid, column by column.

use super::columns::{Columns, chord_colours, parabola};
use super::light::{Light, Screen, WHITE};
use super::plume::{ACROSS, Plume};
use crate::colour::{LinearRgb, Liquid};

/// Shades between the bulk and the fullest plume.
const SHADES: usize = 16;

/// One layer: its colour in each column of pixels and, where a plume drifts, the shades towards the plume's.
#[derive(Clone, Debug, Default)]
pub(super) struct Layer {
    plain: Vec<[u8; 4]>,
    shades: Vec<[[u8; 4]; SHADES]>,
}

/// Linear light on the scale of [`WHITE`] for the three lengths of a line of sight.
type Levels = [[f32; 3]; 3];

impl Layer {
    /// Colours of a liquid without a plume.
    pub(super) fn plain(&mut self, columns: &Columns, screen: &Screen, liquid: &Liquid, path_cm: f64) {
        let levels = levels(chord_colours(liquid, path_cm));
        self.shades.clear();
        self.plain.clear();
        self.plain.extend(columns.all.iter().map(|column| screen.rgba(along(&levels, column.weights))));
    }

    /// Colours of a liquid with up to `fullest` of the line of sight in a plume.
    pub(super) fn mixed(
        &mut self,
        columns: &Columns,
        screen: &Screen,
        (bulk, plume): (&Liquid, &Liquid),
        fullest: f64,
        path_cm: f64,
    ) {
        self.plain(columns, screen, bulk, path_cm);
        let mixtures =
            [0.0, 0.5 * fullest, fullest].map(|share| levels(chord_colours(&plume.mixed_into(bulk, share), path_cm)));
        let by_shade: [Levels; SHADES] = std::array::from_fn(|shade| {
            let weights = parabola(shade as f64 / (SHADES - 1) as f64, [0.0, 0.5, 1.0]);
            std::array::from_fn(|chord| {
                std::array::from_fn(|channel| (0..3).map(|at| weights[at] * mixtures[at][chord][channel]).sum())
            })
        });
        self.shades.extend(
            columns
                .all
                .iter()
                .map(|column| std::array::from_fn(|shade| screen.rgba(along(&by_shade[shade], column.weights)))),
        );
    }

    /// The colours without the plume.
    pub(super) fn bulk(&self) -> &[[u8; 4]] {
        &self.plain
    }

    /// Whether a plume drifts in it.
    pub(super) fn drifts(&self) -> bool {
        !self.shades.is_empty()
    }

    /// The colours at a depth (0 surface, 1 floor) where a plume drifts; `turn` alternates from row to row.
    pub(super) fn shade(&self, line: &mut [[u8; 4]], columns: &Columns, plume: &Plume, depth: f64, turn: usize) {
        let places: [f32; ACROSS] = plume.row(depth, (SHADES - 1) as f32);
        // Two rounding offsets, laid like a chessboard, hide the steps between shades.
        let offsets = [0.25_f32, 0.75];
        for (at, ((pixel, shades), column)) in line.iter_mut().zip(&self.shades).zip(&columns.all).enumerate() {
            let cell = usize::from(column.plume_cell).min(ACROSS - 2);
            let density = places[cell] + (places[cell + 1] - places[cell]) * column.plume_part;
            let shade = (density + offsets[(turn + at) & 1]) as usize;
            *pixel = shades[shade.min(SHADES - 1)];
        }
    }
}

fn levels(colours: [LinearRgb; 3]) -> Levels {
    colours.map(|colour| colour.0.map(|value| value as f32 * f32::from(WHITE)))
}

/// The light along a line of sight with these weights.
fn along(levels: &Levels, [a, b, c]: [f32; 3]) -> Light {
    Light(std::array::from_fn(|channel| {
        let value = a * levels[0][channel] + b * levels[1][channel] + c * levels[2][channel];
        (value.max(0.0) + 0.5) as u16
    }))
}
