//! The surface of the liquid, seen from a little above.
//!
//! At so flat an angle water mirrors nearly half of the white surround (Fresnel); the other half of the light has come
//! through the liquid from the far wall, a path that is long at the near edge and nothing at the far one.

use super::body::blend;
use super::columns::Columns;
use super::geometry::{Frame, RADIUS, TILT};
use super::light::{Light, Screen, Share, share};
use crate::colour::{LinearRgb, Liquid};

const PATHS: usize = 64;
/// Shares of the inner diameter at which the colour is computed; straight lines of light between them.
const KNOTS: [f64; 6] = [0.0, 0.06, 0.15, 0.32, 0.6, 1.0];

/// Reflectance of water for unpolarised light at the angle of the picture (Fresnel, n = 1.333).
pub(super) fn mirror() -> f64 {
    let index = 1.333;
    let cos_in = TILT;
    let sin_out = (1.0 - cos_in * cos_in).sqrt() / index;
    let cos_out = (1.0 - sin_out * sin_out).sqrt();
    let across = (cos_in - index * cos_out) / (cos_in + index * cos_out);
    let along = (index * cos_in - cos_out) / (index * cos_in + cos_out);
    (across * across + along * along) / 2.0
}

/// Colours of the surface by the length of the path below it.
#[derive(Clone, Debug)]
pub(super) struct SurfaceColours {
    by_path: [[u8; 4]; PATHS + 1],
    /// The light that comes through the liquid alone.
    through: [Light; PATHS + 1],
    /// The liquid climbing the wall, darker than the surface.
    meniscus: [u8; 4],
    /// The hair of light above the near edge: the surround, mirrored.
    hair: [u8; 4],
}

impl SurfaceColours {
    pub(super) fn blank() -> SurfaceColours {
        SurfaceColours {
            by_path: [[255; 4]; PATHS + 1],
            through: [Light::default(); PATHS + 1],
            meniscus: [255; 4],
            hair: [255; 4],
        }
    }

    /// Colours over this liquid, `around` being the light of the surround.
    pub(super) fn compute(&mut self, screen: &Screen, liquid: &Liquid, path_cm: f64, around: Light) {
        let lights = KNOTS.map(|knot| Light::of_linear(LinearRgb::shown(liquid.xyz(knot * path_cm)).0));
        let mirrored = share(mirror());
        let mut knot = 0;
        for (at, (rgba, alone)) in self.by_path.iter_mut().zip(&mut self.through).enumerate() {
            let length = at as f64 / PATHS as f64;
            while length > KNOTS[knot + 1] {
                knot += 1;
            }
            let part = (length - KNOTS[knot]) / (KNOTS[knot + 1] - KNOTS[knot]);
            let through = lights[knot].towards(lights[knot + 1], share(part));
            *alone = through;
            *rgba = screen.rgba(through.towards(around, mirrored));
        }
        let deep = lights[KNOTS.len() - 1];
        self.meniscus = screen.rgba(deep.towards(Light::default(), share(0.28)));
        self.hair = screen.rgba(around);
    }

    /// Paints the surface; the body covers its near edge afterwards.
    pub(super) fn paint(&self, pixels: &mut [u8], frame: &Frame, columns: &Columns, level: f64) {
        let middle = frame.y_px(level);
        let half = TILT * RADIUS * frame.scale;
        let top = (middle - half - 1.0).max(0.0) as usize;
        let bottom = (libm::ceil(middle + half).max(0.0) as usize).min(frame.height);
        for row in top.min(frame.height)..bottom {
            let down = (row as f64 + 0.5 - middle) as f32;
            let start = 4 * (row * frame.width + columns.left);
            let line = &mut pixels[start..start + 4 * columns.len()];
            for (pixel, column) in line.chunks_exact_mut(4).zip(&columns.all) {
                let inside = (down + column.bulge_px) * column.bulge_cos + 0.5;
                let cover = inside.min(column.cover).min(1.0);
                if cover <= 0.0 {
                    continue;
                }
                // -1 at the far edge, 1 at the near one.
                let near = (down / column.bulge_px.max(0.5)).clamp(-1.0, 1.0);
                let path = column.chord * (1.0 + near) * 0.5;
                let colour = &self.by_path[((path * PATHS as f32 + 0.5) as usize).min(PATHS)];
                if cover >= 1.0 {
                    pixel.copy_from_slice(colour);
                } else {
                    blend(pixel, colour, cover);
                }
                let rim = (1.6 - (inside - 0.9).abs()).clamp(0.0, 1.0) * cover;
                if rim > 0.0 {
                    blend(pixel, &self.meniscus, 0.55 * rim);
                }
            }
        }
    }

    /// Paints the near edge over the body: a hair of light above it and the darker meniscus below.
    pub(super) fn paint_near_edge(&self, pixels: &mut [u8], frame: &Frame, columns: &Columns, level: f64) {
        let middle = frame.y_px(level);
        let hair = (frame.scale / 20.0).clamp(0.7, 3.0) as f32;
        for (at, column) in columns.all.iter().enumerate() {
            let edge = middle as f32 + column.bulge_px;
            let reach = hair / column.bulge_cos;
            let first = (edge - reach - 1.0).max(0.0) as usize;
            let last = ((edge + reach + 1.0).max(0.0) as usize).min(frame.height.saturating_sub(1));
            for row in first..=last.max(first) {
                if row >= frame.height {
                    break;
                }
                let off = (row as f32 + 0.5 - edge) * column.bulge_cos;
                let above = (1.0 - (off + 0.5 * hair).abs() / hair).max(0.0);
                let below = (1.0 - (off - 0.5 * hair).abs() / hair).max(0.0);
                let pixel_at = 4 * (row * frame.width + columns.left + at);
                let pixel = &mut pixels[pixel_at..pixel_at + 4];
                blend(pixel, &self.hair, 0.55 * above * column.cover);
                blend(pixel, &self.meniscus, 0.5 * below * column.cover);
            }
        }
    }

    /// Paints the top of a sediment, seen from above through what liquid stands before it; `bed` is its own colour in each
    /// column, `contrast` what is left of it for a path, as share of the inner diameter.
    pub(super) fn paint_bed(
        &self,
        pixels: &mut [u8],
        frame: &Frame,
        screen: &Screen,
        columns: &Columns,
        (bed, height): (&[[u8; 4]], f64),
        contrast: impl Fn(f64) -> f64,
    ) {
        let shares: [Share; PATHS + 1] = std::array::from_fn(|at| share(contrast(at as f64 / PATHS as f64)));
        let middle = frame.y_px(height);
        let half = TILT * RADIUS * frame.scale;
        let top = ((middle - half - 1.0).max(0.0) as usize).min(frame.height);
        let bottom = (libm::ceil(middle + half).max(0.0) as usize).min(frame.height);
        for row in top..bottom {
            let down = (row as f64 + 0.5 - middle) as f32;
            let start = 4 * (row * frame.width + columns.left);
            let line = &mut pixels[start..start + 4 * columns.len()];
            for ((pixel, column), bed) in line.as_chunks_mut::<4>().0.iter_mut().zip(&columns.all).zip(bed) {
                let far = ((down + column.bulge_px) * column.bulge_cos + 0.5).clamp(0.0, 1.0);
                let near = ((column.bulge_px - down) * column.bulge_cos + 0.5).clamp(0.0, 1.0);
                let cover = far.min(near).min(column.cover);
                if cover <= 0.0 {
                    continue;
                }
                let before = column.chord * (1.0 - (down / column.bulge_px.max(0.5)).clamp(-1.0, 1.0)) * 0.5;
                let at = (before * PATHS as f32 + 0.5) as usize;
                let light = screen.light(bed).filtered(self.through[at], self.through[0]);
                screen.lay(pixel, light, (shares[at] as f32 * cover) as Share);
            }
        }
    }
}
