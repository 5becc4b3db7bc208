//! The coloured body of the liquid, row by row of pixels.
//!
//! From the floor upwards: sediment, the cloudy liquid, and, where it has settled, a clear layer. Each is computed at three
//! lengths of the line of sight and, where a plume drifts, for three shares of it; all pixels lie between.

use super::columns::Columns;
use super::geometry::{Frame, HEEL, RADIUS, TILT};
use super::layer::Layer;
use super::plume::Plume;

/// Where one layer ends and the one above begins.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Boundary {
    /// Height at the axis, drawing units; far below or far above where there is no such layer.
    pub(super) height: f64,
    /// How far the two run into each other, px.
    pub(super) softness_px: f32,
}

/// The body: layers from the floor upwards, and the boundary above each but the last.
#[derive(Clone, Debug, Default)]
pub(super) struct Body {
    /// Sediment, cloudy liquid, clear liquid.
    pub(super) layers: [Layer; 3],
    /// Above the sediment and above the cloudy liquid.
    pub(super) boundaries: [Boundary; 2],
    /// Height of the surface at the axis, drawing units.
    pub(super) level: f64,
    line: Vec<[u8; 4]>,
    /// The last row that a plume was laid out for, and its layer: the next row shares it, for a plume is softer than two
    /// pixels.
    shaded: Vec<[u8; 4]>,
    shaded_for: Option<(usize, usize)>,
}

impl Body {
    /// Rows of pixels that the body touches, ends excluded.
    pub(super) fn rows(&self, frame: &Frame) -> (usize, usize) {
        let top = frame.y_px(self.level).max(0.0) as usize;
        let bottom = libm::ceil(frame.y_px(-TILT * RADIUS)).max(0.0) as usize;
        (top.min(frame.height), (bottom + 1).min(frame.height))
    }

    /// Paints the body onto the frame.
    pub(super) fn paint(&mut self, pixels: &mut [u8], frame: &Frame, columns: &Columns, plume: &Plume) {
        let count = columns.len();
        let (top, bottom) = self.rows(frame);
        let bulge = TILT * RADIUS;
        let heel_row = frame.y_px(HEEL) - 1.0;
        let edge_row = frame.y_px(self.level - bulge) + 1.0;
        self.line.resize(count, [0; 4]);
        self.shaded.resize(count, [0; 4]);
        self.shaded_for = None;
        for row in top..bottom {
            let y = frame.y_of(row);
            let mut line = std::mem::take(&mut self.line);
            self.fill_line(&mut line, row, y, frame, columns, plume);
            let start = 4 * (row * frame.width + columns.left);
            let into = &mut pixels[start..start + 4 * count];
            if (row as f64) > edge_row && (row as f64) < heel_row {
                let into = into.as_chunks_mut::<4>().0;
                for at in [0, count - 1] {
                    let mut edge = into[at];
                    blend(&mut edge, &line[at], columns.all[at].cover);
                    line[at] = edge;
                }
                into.copy_from_slice(&line);
            } else {
                let below_surface = (row as f64 + 0.5 - frame.y_px(self.level)) as f32;
                let above_floor = (frame.floor_px - row as f64 - 0.5) as f32;
                for ((pixel, colour), column) in into.chunks_exact_mut(4).zip(&line).zip(&columns.all) {
                    let from_top = (below_surface - column.bulge_px) * column.bulge_cos + 0.5;
                    let from_floor = (above_floor - column.floor_px) * column.floor_cos + 0.5;
                    let cover = from_top.min(from_floor).min(column.cover);
                    if cover >= 1.0 {
                        pixel.copy_from_slice(colour);
                    } else if cover > 0.0 {
                        blend(pixel, colour, cover);
                    }
                }
            }
            self.line = line;
        }
    }

    /// The colours of one row of pixels over the whole width.
    fn fill_line(&mut self, line: &mut [[u8; 4]], row: usize, y: f64, frame: &Frame, columns: &Columns, plume: &Plume) {
        let bulge = TILT * RADIUS;
        let below = |boundary: &Boundary| {
            let soft = f64::from(boundary.softness_px) / frame.scale;
            y < boundary.height - bulge - soft
        };
        let above = |boundary: &Boundary| y > boundary.height + f64::from(boundary.softness_px) / frame.scale;
        // The lowest layer that this row may show.
        let mut lowest = 0;
        while lowest < 2 && above(&self.boundaries[lowest]) {
            lowest += 1;
        }
        self.fill_from_layer(lowest, line, row, y, columns, plume);
        for at in lowest..2 {
            let boundary = &self.boundaries[at];
            if below(boundary) {
                break;
            }
            let upper = self.layers[at + 1].bulk();
            let off = ((y - boundary.height) * frame.scale) as f32;
            for ((pixel, upper), column) in line.iter_mut().zip(upper).zip(&columns.all) {
                let part = (off + column.bulge_px) / boundary.softness_px.max(1.0) + 0.5;
                if part > 0.0 {
                    blend(pixel, upper, part.min(1.0));
                }
            }
        }
    }

    fn fill_from_layer(
        &mut self,
        layer: usize,
        line: &mut [[u8; 4]],
        row: usize,
        y: f64,
        columns: &Columns,
        plume: &Plume,
    ) {
        if !self.layers[layer].drifts() {
            line.copy_from_slice(self.layers[layer].bulk());
            return;
        }
        let pair = row / 2;
        if self.shaded_for != Some((layer, pair)) {
            let depth = 1.0 - y / self.level.max(1e-9);
            self.layers[layer].shade(&mut self.shaded, columns, plume, depth, pair);
            self.shaded_for = Some((layer, pair));
        }
        line.copy_from_slice(&self.shaded);
    }
}

/// Lays a share of a colour over a pixel.
#[inline]
pub(super) fn blend(pixel: &mut [u8], colour: &[u8; 4], part: f32) {
    let part = (part * 256.0) as u32;
    for (byte, value) in pixel.iter_mut().zip(colour).take(3) {
        *byte = ((u32::from(*byte) * (256 - part) + u32::from(*value) * part + 128) >> 8) as u8;
    }
}
