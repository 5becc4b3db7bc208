//! What stands around the beaker: the stirrer below it and the bath about it, in few lines and no colour.

use std::f64::consts::TAU;

use super::geometry::{Frame, RADIUS, WALL};
use super::pen::{Ink, Pen, Point, Surface, arc};
use super::scene::Surroundings;
use super::stage::{INK, PAPER, line_px};
use crate::numerics::{sine, sine_cosine};

/// Underside of the beaker's floor at its front, drawing units.
const STANDS_AT: f64 = -0.80;
/// Pale grey of apparatus.
const CASING: [u8; 3] = [243, 243, 241];
/// Water and ice beside the beaker.
const WATER: [u8; 3] = [239, 244, 247];

/// Draws it onto the paper, before the beaker.
pub(super) fn draw_setting(pen: &mut Pen, onto: &mut Surface, frame: &Frame, surroundings: Surroundings) {
    draw_stirrer(pen, onto, frame, surroundings == Surroundings::HotPlate);
    match surroundings {
        Surroundings::Room | Surroundings::HotPlate => {}
        Surroundings::IceBath => draw_bath(pen, onto, frame, true),
        Surroundings::WarmBath => draw_bath(pen, onto, frame, false),
    }
}

/// A flat stirrer with one knob; as a hot plate it has a thick plate with three lines of heating.
fn draw_stirrer(pen: &mut Pen, onto: &mut Surface, frame: &Frame, heated: bool) {
    let line = line_px(frame);
    let reach = 5.15_f64.min(frame.half_width() - 0.15);
    let at = |x: f64, y: f64| (frame.x_px(x), frame.y_px(y));
    let body = rounded(frame, (-reach, -1.85), (reach, STANDS_AT), 0.22);
    pen.fill(onto, &body, Ink::new(CASING, 1.0));
    stroke_closed(pen, onto, &body, line, Ink::new(INK, 0.65));
    let knob: [Point; 33] = arc(at(reach - 0.75, -1.38), 0.22 * frame.scale, 0.22 * frame.scale, 0.0, TAU);
    pen.stroke(onto, &knob, line, Ink::new(INK, 0.65));
    pen.stroke(onto, &[at(reach - 0.75, -1.38), at(reach - 0.75, -1.20)], line, Ink::new(INK, 0.65));
    if heated {
        let plate = rounded(frame, (-reach, STANDS_AT - 0.30), (reach, STANDS_AT), 0.10);
        pen.fill(onto, &plate, Ink::new(INK, 0.62));
        for step in 0..3 {
            let x = -reach + 0.6 + 0.5 * f64::from(step);
            let wave: [Point; 9] = std::array::from_fn(|i| {
                let t = i as f64 / 8.0;
                at(x + 0.08 * sine(t * TAU), -1.68 + 0.46 * t)
            });
            pen.stroke(onto, &wave, line, Ink::new(INK, 0.6));
        }
    }
}

/// A glass trough around the beaker's foot; the liquid in front of the beaker is left out, so that nothing but its own
/// glass stands before the coloured liquid.
fn draw_bath(pen: &mut Pen, onto: &mut Surface, frame: &Frame, with_ice: bool) {
    let line = line_px(frame);
    let reach = 6.35_f64.min(frame.half_width() - 0.08);
    let wall = RADIUS + WALL;
    let (foot, water, top) = (STANDS_AT, 3.6, 4.7);
    let at = |x: f64, y: f64| (frame.x_px(x), frame.y_px(y));
    if reach < wall + 0.25 {
        return;
    }
    let basin = rounded(frame, (-reach, foot), (reach, water), 0.35);
    pen.fill(onto, &basin, Ink::new(WATER, 1.0));
    if with_ice {
        for (x, y, size, turn) in PIECES {
            for side in [-1.0, 1.0] {
                // The right side is not the mirror of the left: pieces lie elsewhere and turned.
                let (x, y, turn) = if side < 0.0 { (-x, y, turn) } else { (x + 0.1, 3.75 - y * 0.93, turn + 0.5) };
                if x.abs() + size * 0.6 < reach {
                    draw_piece(pen, onto, frame, (x, y), size, turn);
                }
            }
        }
    } else {
        for side in [-1.0, 1.0] {
            for (y, from, to) in
                [(water, wall, reach), (water - 0.45, wall + 0.35, wall + 1.0), (water - 0.8, wall + 0.7, wall + 1.3)]
            {
                let to = to.min(reach);
                pen.stroke(onto, &[at(side * from, y), at(side * to, y)], 0.8 * line, Ink::new(INK, 0.4));
            }
        }
    }
    let mut trough = vec![at(-reach, top)];
    trough
        .extend(rounded(frame, (-reach, foot), (reach, top), 0.35).into_iter().filter(|p| p.1 > frame.y_px(top - 0.5)));
    trough.push(at(reach, top));
    pen.stroke(onto, &trough, line, Ink::new(INK, 0.6));
    for side in [-1.0, 1.0] {
        pen.stroke(onto, &[at(side * reach, top), at(side * (reach - 0.3), top)], line, Ink::new(INK, 0.6));
    }
}

/// Pieces of ice beside the beaker: x, y, size in drawing units, turn in rad.
const PIECES: [(f64, f64, f64, f64); 6] = [
    (5.25, 0.05, 1.15, 0.2),
    (5.75, 1.15, 1.05, 0.9),
    (5.10, 1.65, 0.95, 0.4),
    (5.55, 2.65, 1.20, 0.1),
    (5.95, 3.75, 0.90, 0.7),
    (5.15, 3.70, 1.00, 0.3),
];

/// A piece of ice: a four-sided block with a worn corner and one edge seen inside.
fn draw_piece(pen: &mut Pen, onto: &mut Surface, frame: &Frame, (x, y): Point, size: f64, turn: f64) {
    let line = line_px(frame);
    let (sin, cos) = sine_cosine(turn);
    let at = |u: f64, v: f64| {
        let (u, v) = (u * size, v * size);
        (frame.x_px(x + u * cos - v * sin), frame.y_px(y + u * sin + v * cos))
    };
    let outline = [
        at(-0.46, -0.40),
        at(0.40, -0.48),
        at(0.50, -0.36),
        at(0.45, 0.42),
        at(0.30, 0.50),
        at(-0.44, 0.45),
        at(-0.52, 0.30),
    ];
    pen.fill(onto, &outline, Ink::new(PAPER, 0.85));
    stroke_closed(pen, onto, &outline, 0.8 * line, Ink::new(INK, 0.42));
    pen.stroke(onto, &[at(-0.30, 0.24), at(0.18, 0.27), at(0.24, -0.14)], 0.7 * line, Ink::new(INK, 0.22));
}

/// A rectangle with rounded corners, from its lower left to its upper right corner, drawing units.
fn rounded(frame: &Frame, low: Point, high: Point, radius: f64) -> Vec<Point> {
    let quarter = std::f64::consts::FRAC_PI_2;
    let corners = [
        (high.0 - radius, high.1 - radius, 0.0),
        (low.0 + radius, high.1 - radius, 1.0),
        (low.0 + radius, low.1 + radius, 2.0),
        (high.0 - radius, low.1 + radius, 3.0),
    ];
    let mut points = Vec::with_capacity(28);
    for (x, y, turn) in corners {
        for step in 0..=6 {
            let angle = quarter * (turn + f64::from(step) / 6.0);
            let (sine, cosine) = sine_cosine(angle);
            points.push((frame.x_px(x + radius * cosine), frame.y_px(y + radius * sine)));
        }
    }
    points
}

fn stroke_closed(pen: &mut Pen, onto: &mut Surface, outline: &[Point], width_px: f64, ink: Ink) {
    let mut closed = outline.to_vec();
    closed.push(outline[0]);
    pen.stroke(onto, &closed, width_px, ink);
}
