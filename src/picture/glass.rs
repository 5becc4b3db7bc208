//! The beaker's glass in few fine lines: rim with spout, walls, floor, and the etched graduations.

use super::geometry::{BRIM, Frame, GRADUATION, HEEL, RADIUS, TILT, WALL, bulge, floor_edge, graduations_ml, level_of};
use super::lettering::write_to_left;
use super::pen::{Ink, Pen, Point, Surface};
use super::stage::{INK, PAPER, line_px};
use crate::decimal::write_briefly;
use crate::numerics::sine_cosine;

/// Glass where nothing coloured stands behind.
const GLASS: [u8; 3] = [240, 243, 245];

/// Half width of the rim at a height in its lip: the glass flares a little at the top.
const LIP: f64 = 0.28;
/// How far the spout reaches beyond the rim.
const SPOUT: f64 = 0.62;

/// The rim as a circle seen from above with the spout pulled out at its left, from `from` to `to` rad.
fn rim(frame: &Frame, radius: f64, from: f64, to: f64) -> [Point; 65] {
    std::array::from_fn(|step| {
        let angle = from + (to - from) * step as f64 / 64.0;
        let off_spout = (angle - std::f64::consts::PI) / 0.24;
        let radius = radius + SPOUT * libm::exp(-off_spout * off_spout);
        let (sine, cosine) = sine_cosine(angle);
        (frame.x_px(radius * cosine), frame.y_px(BRIM) + TILT * radius * sine * frame.scale)
    })
}

/// The far half of the rim.
pub(super) fn draw_far_glass(pen: &mut Pen, onto: &mut Surface, frame: &Frame) {
    let line = line_px(frame);
    let tau = 2.0 * std::f64::consts::PI;
    let outer = rim(frame, RADIUS + WALL + LIP, tau / 2.0, tau);
    pen.stroke(onto, &outer, 0.9 * line, Ink::new(INK, 0.55));
    let inner = rim(frame, RADIUS + LIP - 0.05, tau / 2.0, tau);
    pen.stroke(onto, &inner, 0.7 * line, Ink::new(INK, 0.25));
}

/// The side of the beaker from the rim down, along the floor's front and up again; `out` is how far outside of the space
/// within, `lip` how far the rim stands out.
fn silhouette(frame: &Frame, out: f64, lip: f64) -> Vec<Point> {
    let mut points = Vec::new();
    let radius = RADIUS + out;
    let flare = |y: f64, reach: f64, most: f64| {
        let t = ((y - (BRIM - reach)) / reach).max(0.0);
        most * t * t * t
    };
    let steps = 24;
    for step in 0..=steps {
        let y = BRIM - (BRIM - HEEL) * f64::from(step) / f64::from(steps);
        points.push((frame.x_px(-radius - flare(y, 1.6, lip + SPOUT)), frame.y_px(y)));
    }
    for step in 0..=96 {
        let x = -radius * sine_cosine(std::f64::consts::PI * f64::from(step) / 96.0).1;
        points.push((frame.x_px(x), frame.y_px(floor_edge(x, radius, HEEL + out) - out)));
    }
    for step in 0..=steps {
        let y = HEEL + (BRIM - HEEL) * f64::from(step) / f64::from(steps);
        points.push((frame.x_px(radius + flare(y, 0.9, lip)), frame.y_px(y)));
    }
    points
}

/// The near glass: wall and floor as a thin pale band between fine lines, the rim, and two cuts of light.
pub(super) fn draw_near_glass(pen: &mut Pen, onto: &mut Surface, frame: &Frame) {
    let line = line_px(frame);
    let outer = silhouette(frame, WALL, LIP);
    let inner = silhouette(frame, 0.0, LIP);
    let mut band = outer.clone();
    band.extend(inner.iter().rev());
    pen.fill(onto, &band, Ink::new(GLASS, 0.9));
    pen.stroke(onto, &inner, 0.8 * line, Ink::new(INK, 0.30));
    pen.stroke(onto, &outer, 1.15 * line, Ink::new(INK, 0.80));
    let half_turn = std::f64::consts::PI;
    let lip = rim(frame, RADIUS + WALL + LIP, 0.0, half_turn);
    pen.stroke(onto, &lip, 1.15 * line, Ink::new(INK, 0.80));
    let lip = rim(frame, RADIUS + LIP - 0.05, 0.0, half_turn);
    pen.stroke(onto, &lip, 0.7 * line, Ink::new(INK, 0.35));
    let at = |x: f64, y: f64| (frame.x_px(x), frame.y_px(y));
    let light = Ink::new(PAPER, 0.75);
    pen.stroke(onto, &[at(-3.95, 1.3), at(-3.95, BRIM - 1.9)], 1.3 * line, light);
    pen.stroke(onto, &[at(-3.65, 2.2), at(-3.65, 6.0)], 0.8 * line, light);
}

/// Height at which the beaker's size is etched, above any ordinary filling, and its right end, drawing units.
const SIZE_AT: (f64, f64) = (-0.55, 10.0);
/// Height of etched figures, drawing units.
const FIGURES: f64 = 0.50;
/// Below this many pixels a figure is a smudge, and is left out.
const LEAST_FIGURES_PX: f64 = 8.0;

/// How etched lines are drawn: the line, and a hair of the other tone below it.
#[derive(Clone, Copy, Debug)]
pub(super) enum Etching {
    /// Dark, for air and for pale liquids.
    Dark,
    /// Light, for dark liquids.
    Light,
}

impl Etching {
    fn inks(self) -> [Ink; 2] {
        match self {
            Etching::Dark => [Ink::new(PAPER, 0.4), Ink::new(INK, 0.92)],
            Etching::Light => [Ink::new(INK, 0.5), Ink::new(PAPER, 0.92)],
        }
    }
}

/// Graduations with figures, and the beaker's size.
pub(super) fn draw_graduations(pen: &mut Pen, onto: &mut Surface, frame: &Frame, vessel_ml: f64, etching: Etching) {
    let line = line_px(frame);
    let hair = (frame.scale / 22.0).clamp(0.6, 2.0);
    for (down, ink) in [hair, 0.0].into_iter().zip(etching.inks()) {
        for (volume_ml, major) in graduations_ml(vessel_ml) {
            let level = level_of(volume_ml, vessel_ml);
            let left = if major { GRADUATION.0 } else { GRADUATION.0 + 0.38 };
            let tick = [0.0, 0.5, 1.0].map(|part| {
                let x = left + (GRADUATION.1 - left) * part;
                (frame.x_px(x), frame.y_px(level - bulge(x, RADIUS)) + down)
            });
            pen.stroke(onto, &tick, line, ink);
            if major {
                let foot = (left - 0.22, level - bulge(left, RADIUS) - 0.25);
                etch(pen, onto, frame, &write_briefly(volume_ml, 1), (foot, down), ink);
            }
        }
        etch(pen, onto, frame, &(write_briefly(vessel_ml, 1) + " mL"), (SIZE_AT, down), ink);
    }
}

fn etch(pen: &mut Pen, onto: &mut Surface, frame: &Frame, text: &str, (foot, down): (Point, f64), ink: Ink) {
    let height_px = FIGURES * frame.scale;
    if height_px < LEAST_FIGURES_PX || text.len() > 8 {
        return;
    }
    let foot = (frame.x_px(foot.0), frame.y_px(foot.1) + down);
    write_to_left(pen, onto, text, foot, height_px, 0.85 * line_px(frame), ink);
}
