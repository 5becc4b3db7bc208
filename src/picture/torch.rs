//! The torch: with the lamp off and a black card behind, its beam through the liquid, and the glow that it dissolves into.
//!
//! The beam is single scattering at 90° as [`torch_contrast`] has it, in the dye's colour for the way that it has gone. Where
//! µs′ x nears [`GLOW_FROM`] the light that it has lost spreads around it over [`torch_beam_width_cm`] and reaches the eye as
//! from a lit fog (a slab passes 1 / (1 + ¾ µs′ y)); that glow is drawn from these two rules, not from a photon walk. Left
//! out: the light spot on the far wall, reflections in the glass, and a beam that crosses a plume.

use super::columns::{Columns, chord};
use super::geometry::{Frame, RADIUS};
use super::light::{Light, Screen};
use super::pen::{Ink, Pen, Surface};
use super::scene::Scene;
use super::stage::line_px;
use crate::colour::{
    GLOW_FROM, LinearRgb, Liquid, SolidOptics, TorchView, to_the_front_cm, torch_beam_width_cm, torch_contrast,
};

/// Height of the beam, as a share of the liquid's depth from the floor.
pub const TORCH_HEIGHT: f64 = 0.62;
/// Least level, drawing units, at which a beam fits into the liquid.
const LEAST_LEVEL: f64 = 1.6;
/// Light of lines that are drawn before black, linear.
const CHALK: [u8; 3] = [176, 178, 180];
const CASING: [u8; 3] = [112, 114, 116];

/// The beam in one column of pixels, in linear light.
#[derive(Clone, Copy, Debug, Default)]
struct Slice {
    beam: [f32; 3],
    glow: [f32; 3],
    /// Standard deviation of the glow, px.
    spread_px: f32,
}

/// The beam through one beaker; keeps its columns from frame to frame.
#[derive(Clone, Debug, Default)]
pub(super) struct Torch {
    slices: Vec<Slice>,
}

/// Whether the torch's beam runs through liquid that is clear because it has settled.
pub(super) fn runs_in_the_clear(scene: &Scene) -> bool {
    scene.clear_layer > 1.0 - TORCH_HEIGHT
}

impl Torch {
    /// Lays the beam over the finished liquid.
    pub(super) fn shine(
        &mut self,
        pixels: &mut [u8],
        frame: &Frame,
        screen: &Screen,
        columns: &Columns,
        (liquid, solids_g_l): (&Liquid, f64),
        (level, unit_cm): (f64, f64),
    ) {
        if level < LEAST_LEVEL || solids_g_l <= 0.0 {
            return;
        }
        self.slices.clear();
        self.slices.extend((0..columns.len()).map(|at| {
            let x = frame.x_of(columns.left + at).clamp(-RADIUS, RADIUS);
            slice(liquid, solids_g_l, x, unit_cm, frame.scale)
        }));
        let centre_px = frame.y_px(level * TORCH_HEIGHT);
        let sigma_px = 0.5 * TorchView::WIDTH_CM / unit_cm * frame.scale;
        let widest = self.slices.iter().fold(sigma_px as f32, |widest, slice| widest.max(slice.spread_px));
        let reach = f64::from(3.2 * widest);
        let top = (centre_px - reach).max(frame.y_px(level)).max(0.0) as usize;
        let bottom = ((centre_px + reach).min(frame.floor_px).max(0.0) as usize).min(frame.height);
        for row in top..bottom {
            let off = (row as f64 + 0.5 - centre_px) as f32;
            let sharp = bell(off / sigma_px as f32);
            let start = 4 * (row * frame.width + columns.left);
            let line = &mut pixels[start..start + 4 * columns.len()];
            for ((pixel, column), slice) in line.as_chunks_mut::<4>().0.iter_mut().zip(&columns.all).zip(&self.slices) {
                let soft = bell(off / slice.spread_px.max(1e-3));
                let before = screen.light(pixel);
                let lit = Light(std::array::from_fn(|channel| {
                    let added = (slice.beam[channel] * sharp + slice.glow[channel] * soft) * column.cover;
                    before.0[channel].saturating_add(added as u16)
                }));
                pixel.copy_from_slice(&screen.rgba(lit));
            }
        }
    }
}

/// exp(-t²/2), by (1 - t²/64)³² out to where it is nothing: no exponential for each pixel.
fn bell(t: f32) -> f32 {
    let mut value = (1.0 - t * t / 64.0).max(0.0);
    for _ in 0..5 {
        value *= value;
    }
    value
}

/// The beam at x, drawing units from the axis; the torch stands at the left.
fn slice(liquid: &Liquid, solids_g_l: f64, x: f64, unit_cm: f64, scale: f64) -> Slice {
    let diameter_cm = 2.0 * RADIUS * unit_cm;
    let beam_cm = (x + RADIUS) * unit_cm;
    let sight_cm = to_the_front_cm(beam_cm, diameter_cm) * chord(x);
    // What the eye gets of it relative to white, the dye left out: it is coloured below.
    let view = TorchView { sight_cm, ..TorchView::on_bench(solids_g_l, 0.0, beam_cm, diameter_cm) };
    let beam = torch_contrast(&view) * view.background;
    let thickness = SolidOptics::REDUCED_SCATTERING_PER_G_L * solids_g_l;
    let scattered = thickness * beam_cm / GLOW_FROM;
    let dissolved = 1.0 - libm::exp(-scattered * scattered);
    // The same source without the loss of contrast, less what the beam keeps.
    let source = torch_contrast(&TorchView { beam_cm: 0.0, sight_cm: 0.0, ..view }) * view.background;
    let arrives = libm::exp(-thickness * beam_cm) / (1.0 + 0.75 * thickness * sight_cm);
    let width_cm = torch_beam_width_cm(TorchView::WIDTH_CM, solids_g_l, beam_cm);
    let glow = dissolved * (source * arrives - beam).max(0.0) * TorchView::WIDTH_CM / width_cm;
    let LinearRgb(colour) = LinearRgb::shown(liquid.dyed_xyz(beam_cm + sight_cm));
    let levels = |light: f64| colour.map(|value| (value * light * f64::from(super::light::WHITE)) as f32);
    Slice { beam: levels(beam), glow: levels(glow), spread_px: (0.5 * width_cm / unit_cm * scale) as f32 }
}

/// Draws the torch beside the beaker, at the height of its beam.
pub(super) fn draw_torch(pen: &mut Pen, onto: &mut Surface, frame: &Frame, level: f64) {
    let y = level * TORCH_HEIGHT;
    let left = -frame.half_width() - 1.0;
    let lens = -RADIUS - 0.36;
    let at = |x: f64, y_off: f64| (frame.x_px(x), frame.y_px(y + y_off));
    let body = [at(left, 0.40), at(lens - 0.42, 0.40), at(lens, 0.66), at(lens, -0.66), at(lens - 0.42, -0.40)];
    let outline = [body[0], body[1], body[2], body[3], body[4], at(left, -0.40)];
    pen.fill(onto, &outline, Ink::new(CASING, 1.0));
    pen.stroke(onto, &outline, line_px(frame), Ink::new(CHALK, 1.0));
    pen.stroke(onto, &[at(lens, 0.60), at(lens, -0.60)], 2.2 * line_px(frame), Ink::new([255; 3], 1.0));
}
