//! The stream of a pour: colourless, thinning as it falls, with a ring where it enters.

use std::f64::consts::TAU;

use super::geometry::{Frame, RADIUS, TILT};
use super::pen::{Ink, Pen, Point, Surface, arc};
use super::plume::POUR_AT;
use super::stage::{INK, PAPER, line_px};

/// Where the stream stands between the middle and the near edge of the surface, as share of the radius.
const NEARNESS: f64 = 0.2;
/// Half width of the stream at the top of the picture and at the surface, drawing units.
const WIDTH: (f64, f64) = (0.20, 0.11);

/// Draws the stream; it arrives within the first tenth of the pour and its tail passes in the last.
pub(super) fn draw_stream(pen: &mut Pen, onto: &mut Surface, frame: &Frame, level: f64, fraction_done: f64) {
    let line = line_px(frame);
    let x = POUR_AT * RADIUS;
    let entry = level - TILT * NEARNESS * RADIUS;
    let source = frame.y_of(0) + 1.0;
    let fall = |done: f64| source + (entry - source) * done * done;
    let head = fall((fraction_done / 0.1).min(1.0));
    let tail = fall(((fraction_done - 0.9) / 0.1).clamp(0.0, 1.0));
    if tail - head < 0.05 {
        return;
    }
    let half = |y: f64| WIDTH.1 + (WIDTH.0 - WIDTH.1) * ((y - entry) / (source - entry).max(1e-9));
    let side = |sign: f64| {
        let ends = [tail, 0.5 * (tail + head), head];
        ends.map(|y| (frame.x_px(x + sign * half(y)), frame.y_px(y)))
    };
    let (left, right) = (side(-1.0), side(1.0));
    let shape = [left[0], left[1], left[2], right[2], right[1], right[0]];
    pen.fill(onto, &shape, Ink::new(PAPER, 0.55));
    pen.stroke(onto, &left, 0.8 * line, Ink::new(INK, 0.55));
    pen.stroke(onto, &right, 0.8 * line, Ink::new(INK, 0.30));
    if head <= entry + 1e-9 {
        let centre = (frame.x_px(x), frame.y_px(entry));
        for (radius, opacity) in [(0.42, 0.45), (0.78, 0.22)] {
            let ring: [Point; 33] = arc(centre, radius * frame.scale, TILT * 1.6 * radius * frame.scale, 0.0, TAU);
            pen.stroke(onto, &ring, 0.8 * line, Ink::new(INK, opacity));
        }
    }
}
