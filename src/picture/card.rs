//! What stands behind the beaker and is seen through it: the printed mark, and the far edge of the floor.

use super::geometry::{Frame, MARK, RADIUS, TILT};
use super::pen::{Ink, Pen, Point, Surface, arc};
use super::stage::{INK, line_px};

/// Draws it in black and grey on white, the mark only if it is wanted.
pub(super) fn draw_behind(pen: &mut Pen, onto: &mut Surface, frame: &Frame, mark_shown: bool) {
    let line = line_px(frame);
    let at = |x: f64, y: f64| (frame.x_px(x), frame.y_px(y));
    if mark_shown {
        draw_card(pen, onto, frame);
    }
    let far: [Point; 65] = arc(at(0.0, 0.0), (RADIUS - 0.1) * frame.scale, TILT * RADIUS * frame.scale, -0.1, -3.04);
    pen.stroke(onto, &far, line, Ink::new(INK, 0.35));
}

/// Radius of the star, and how many black sectors it has.
const STAR: f64 = 1.42;
const SECTORS: usize = 9;

/// The mark: white card with fine ruled lines and a star of sectors, the figure by which sharpness is tested in optics: its
/// middle is lost first, and its rim last.
///
/// Not a cross or a tick, which would say wrong or right, and not a letter, which would name a colour.
fn draw_card(pen: &mut Pen, onto: &mut Surface, frame: &Frame) {
    let line = line_px(frame);
    let at = |x: f64, y: f64| (frame.x_px(MARK.0 + x), frame.y_px(MARK.1 + y));
    let (half_width, half_height) = (2.15, 2.75);
    let rule = Ink::new(INK, 0.30);
    for step in 0..8 {
        let y = -half_height + 2.0 * half_height * f64::from(step) / 7.0;
        if y.abs() > STAR {
            pen.stroke(onto, &[at(-half_width, y), at(half_width, y)], 0.8 * line, rule);
        }
    }
    let (right, top) = (half_width + 0.25, half_height + 0.35);
    let sheet = [at(-right, -top), at(right, -top), at(right, top), at(-right, top), at(-right, -top)];
    pen.stroke(onto, &sheet, line, Ink::new(INK, 0.55));
    let turn = 2.0 * std::f64::consts::PI;
    for sector in 0..SECTORS {
        let from = turn * sector as f64 / SECTORS as f64;
        let rim: [Point; 9] =
            arc(at(0.0, 0.0), STAR * frame.scale, STAR * frame.scale, from, from + 0.5 * turn / SECTORS as f64);
        let mut outline = [at(0.0, 0.0); 10];
        outline[1..].copy_from_slice(&rim);
        pen.fill(onto, &outline, Ink::new([0, 0, 0], 1.0));
    }
}
