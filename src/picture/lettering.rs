//! The few signs that are etched on a beaker: figures and "mL", as single strokes.

use super::pen::{Ink, Pen, Point, Surface};

/// Width and height of the grid on which the signs are drawn, and the step to the next sign.
const GRID: (f64, f64) = (4.0, 6.0);
const STEP: f64 = 5.4;

type Strokes = &'static [&'static [Point]];

const ZERO: Strokes = &[&[
    (2.0, 0.0),
    (0.7, 0.6),
    (0.2, 1.8),
    (0.2, 4.2),
    (0.7, 5.4),
    (2.0, 6.0),
    (3.3, 5.4),
    (3.8, 4.2),
    (3.8, 1.8),
    (3.3, 0.6),
    (2.0, 0.0),
]];
const ONE: Strokes = &[&[(0.8, 1.3), (2.3, 0.0), (2.3, 6.0)]];
const TWO: Strokes =
    &[&[(0.3, 1.5), (0.8, 0.4), (2.0, 0.0), (3.2, 0.4), (3.7, 1.5), (3.2, 2.7), (0.2, 6.0), (3.9, 6.0)]];
const THREE: Strokes = &[&[
    (0.4, 0.8),
    (1.2, 0.1),
    (2.2, 0.0),
    (3.3, 0.5),
    (3.6, 1.5),
    (3.1, 2.5),
    (1.9, 2.8),
    (3.2, 3.2),
    (3.8, 4.3),
    (3.3, 5.5),
    (2.0, 6.0),
    (0.9, 5.8),
    (0.2, 5.0),
]];
const FOUR: Strokes = &[&[(2.9, 6.0), (2.9, 0.0), (0.1, 4.2), (3.9, 4.2)]];
const FIVE: Strokes = &[&[
    (3.5, 0.0),
    (0.8, 0.0),
    (0.5, 2.7),
    (1.9, 2.2),
    (3.2, 2.7),
    (3.8, 4.0),
    (3.2, 5.5),
    (1.9, 6.0),
    (0.7, 5.7),
    (0.1, 4.9),
]];
const SIX: Strokes = &[&[
    (3.3, 0.4),
    (2.0, 0.0),
    (0.9, 0.7),
    (0.2, 2.4),
    (0.2, 4.3),
    (0.8, 5.6),
    (2.0, 6.0),
    (3.2, 5.6),
    (3.8, 4.3),
    (3.2, 3.0),
    (2.0, 2.5),
    (0.8, 3.0),
    (0.2, 4.3),
]];
const SEVEN: Strokes = &[&[(0.2, 0.0), (3.8, 0.0), (1.5, 6.0)]];
const EIGHT: Strokes = &[&[
    (2.0, 2.8),
    (0.8, 2.3),
    (0.4, 1.4),
    (0.9, 0.4),
    (2.0, 0.0),
    (3.1, 0.4),
    (3.6, 1.4),
    (3.2, 2.3),
    (2.0, 2.8),
    (0.7, 3.3),
    (0.2, 4.4),
    (0.7, 5.5),
    (2.0, 6.0),
    (3.3, 5.5),
    (3.8, 4.4),
    (3.3, 3.3),
    (2.0, 2.8),
]];
const NINE: Strokes = &[&[
    (0.7, 5.6),
    (2.0, 6.0),
    (3.1, 5.3),
    (3.8, 3.6),
    (3.8, 1.7),
    (3.2, 0.4),
    (2.0, 0.0),
    (0.8, 0.4),
    (0.2, 1.7),
    (0.8, 3.0),
    (2.0, 3.5),
    (3.2, 3.0),
    (3.8, 1.7),
]];
const SMALL_M: Strokes = &[
    &[(0.0, 6.0), (0.0, 2.4)],
    &[(0.0, 3.3), (0.9, 2.4), (1.8, 2.8), (2.0, 3.6), (2.0, 6.0)],
    &[(2.0, 3.5), (2.9, 2.4), (3.8, 2.8), (4.0, 3.6), (4.0, 6.0)],
];
const CAPITAL_L: Strokes = &[&[(0.3, 0.0), (0.3, 6.0), (3.6, 6.0)]];

fn strokes(sign: char) -> Strokes {
    match sign {
        '0' => ZERO,
        '1' => ONE,
        '2' => TWO,
        '3' => THREE,
        '4' => FOUR,
        '5' => FIVE,
        '6' => SIX,
        '7' => SEVEN,
        '8' => EIGHT,
        '9' => NINE,
        'm' => SMALL_M,
        'L' => CAPITAL_L,
        _ => &[],
    }
}

/// Writes figures, `m`, `L` and spaces so that they end at `right`, with their foot on `foot`; lengths in px.
pub(super) fn write_to_left(
    pen: &mut Pen,
    onto: &mut Surface,
    text: &str,
    (right, foot): Point,
    height_px: f64,
    line_px: f64,
    ink: Ink,
) {
    let unit = height_px / GRID.1;
    let mut left = right - GRID.0 * unit;
    for sign in text.chars().rev() {
        for stroke in strokes(sign) {
            let mut points = [(0.0, 0.0); 20];
            for (to, from) in points.iter_mut().zip(*stroke) {
                *to = (left + from.0 * unit, foot + (from.1 - GRID.1) * unit);
            }
            pen.stroke(onto, &points[..stroke.len()], line_px, ink);
        }
        left -= STEP * unit;
    }
}
