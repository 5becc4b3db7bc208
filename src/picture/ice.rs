//! Ice floating in the liquid: blocks that bob a little, a tenth of each above the surface.

use super::geometry::{Frame, RADIUS, TILT};
use super::pen::{Ink, Pen, Point, Surface};
use super::stage::{INK, PAPER, line_px};
use crate::numerics::{sine, sine_cosine};

/// Blocks, from the farthest to the nearest: place across and towards the eye (shares of the free radius), tilt in rad,
/// phase of the bobbing.
const BLOCKS: [(f64, f64, f64, f64); 9] = [
    (0.34, -0.88, 0.05, 0.9),
    (-0.42, -0.80, -0.10, 2.4),
    (0.88, -0.20, -0.08, 5.2),
    (-0.92, -0.10, 0.12, 3.1),
    (0.02, -0.12, 0.04, 4.4),
    (0.55, 0.45, 0.14, 1.9),
    (-0.50, 0.50, -0.06, 0.0),
    (0.05, 0.92, -0.12, 3.7),
    (-0.80, 0.55, 0.09, 5.9),
];
/// In which order blocks are there: the first few lie well apart.
const ORDER: [usize; 9] = [6, 5, 1, 2, 3, 7, 0, 4, 8];
/// Density of ice at 0 °C, g/mL (0.9167, textbooks; from memory).
const ICE_G_ML: f64 = 0.9167;
/// Mass of a common ice cube, g: 2.5 cm of edge (from memory).
const CUBE_G: f64 = 14.0;
/// Share of a block's edge that stands out of the water, near enough to its density.
const ABOVE: f64 = 0.10;

/// The floating blocks.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ice {
    /// Edge of each block, drawing units.
    edge: f64,
    count: usize,
}

/// How a block is seen through the liquid.
#[derive(Clone, Copy, Debug)]
pub(super) struct IceLook {
    /// The liquid's colour where a block of this edge shortens the path.
    pub(super) rgb: [u8; 3],
    /// Contrast of what lies behind 1 cm of liquid, as share of that in water: the power to the cm before a block is its own.
    pub(super) contrast_per_cm: f64,
    /// Length of a drawing unit, cm.
    pub(super) unit_cm: f64,
}

impl Ice {
    /// Blocks for this much ice: three at least, more where they would be larger than common cubes, all alike.
    pub(super) fn of_mass(ice_g: f64, unit_cm: f64) -> Ice {
        let count = (libm::ceil(ice_g / CUBE_G) as usize).clamp(3, BLOCKS.len());
        let edge = libm::cbrt(ice_g / count as f64 / ICE_G_ML) / unit_cm;
        Ice { edge: edge.min(3.2), count }
    }

    /// Edge of a block, drawing units.
    pub(super) fn edge(&self) -> f64 {
        self.edge
    }

    /// Draws the blocks from the farthest to the nearest.
    pub(super) fn draw(
        &self,
        pen: &mut Pen,
        onto: &mut Surface,
        frame: &Frame,
        (level, time_s): (f64, f64),
        look: IceLook,
    ) {
        let free = (RADIUS - 0.62 * self.edge).max(0.0);
        for (at, (across, nearness, tilt, phase)) in BLOCKS.iter().enumerate() {
            if !ORDER[..self.count].contains(&at) {
                continue;
            }
            let bob = 0.04 * self.edge * sine(1.3 * time_s + phase);
            let tilt = tilt + 0.04 * sine(0.7 * time_s + 2.0 * phase);
            // Within the round of the wall.
            let across = across * (1.0 - nearness * nearness * 0.5).sqrt();
            let water = level - TILT * nearness * free;
            let middle = (across * free, water + (ABOVE - 0.5) * self.edge + bob);
            let before = ((1.0 - nearness) * free + 0.1 * self.edge) * look.unit_cm;
            let contrast = libm::pow(look.contrast_per_cm, before);
            let block = Block { middle, half: 0.5 * self.edge, tilt, water };
            block.draw(pen, onto, frame, look.rgb, contrast);
        }
    }
}

/// One block: its front face upright before the eye, its top face seen from a little above.
#[derive(Clone, Copy, Debug)]
struct Block {
    middle: Point,
    half: f64,
    tilt: f64,
    /// Height of the water around it.
    water: f64,
}

impl Block {
    fn at(&self, u: f64, v: f64) -> Point {
        let (sin, cos) = sine_cosine(self.tilt);
        let (u, v) = (u * self.half, v * self.half);
        (self.middle.0 + u * cos - v * sin, self.middle.1 + u * sin + v * cos)
    }

    fn draw(&self, pen: &mut Pen, onto: &mut Surface, frame: &Frame, rgb: [u8; 3], contrast: f64) {
        let line = line_px(frame);
        let front = [
            self.at(-0.82, -1.0),
            self.at(0.82, -1.0),
            self.at(1.0, -0.82),
            self.at(1.0, 1.0),
            self.at(-1.0, 1.0),
            self.at(-1.0, -0.82),
        ];
        let mut part = [(0.0, 0.0); 10];
        if contrast > 0.01 {
            let count = cut(&front, self.water, false, &mut part);
            fill(pen, onto, frame, &part[..count], Ink::new(rgb, 0.9 * contrast));
            let count = cut(&front, self.water, false, &mut part);
            outline(pen, onto, frame, &part[..count], 0.8 * line, Ink::new(PAPER, 0.75 * contrast));
            let crack = [self.at(-0.62, 0.45), self.at(-0.25, 0.60), self.at(0.05, 0.30)].map(|p| px(frame, p));
            pen.stroke(onto, &crack, 0.7 * line, Ink::new(PAPER, 0.6 * contrast));
        }
        let back = 2.0 * TILT;
        let top = [self.at(-1.0, 1.0), self.at(1.0, 1.0), self.at(0.90, 1.0 + back), self.at(-0.88, 1.0 + back)];
        let count = cut(&front, self.water, true, &mut part);
        fill(pen, onto, frame, &part[..count], Ink::new([236, 241, 244], 0.9));
        outline(pen, onto, frame, &part[..count], 0.8 * line, Ink::new(INK, 0.45));
        fill(pen, onto, frame, &top, Ink::new(PAPER, 0.92));
        outline(pen, onto, frame, &top, 0.8 * line, Ink::new(INK, 0.45));
    }
}

fn px(frame: &Frame, point: Point) -> Point {
    (frame.x_px(point.0), frame.y_px(point.1))
}

fn fill(pen: &mut Pen, onto: &mut Surface, frame: &Frame, shape: &[Point], ink: Ink) {
    let mut points = [(0.0, 0.0); 10];
    for (to, from) in points.iter_mut().zip(shape) {
        *to = px(frame, *from);
    }
    if shape.len() > 2 {
        pen.fill(onto, &points[..shape.len()], ink);
    }
}

fn outline(pen: &mut Pen, onto: &mut Surface, frame: &Frame, shape: &[Point], width_px: f64, ink: Ink) {
    let mut points = [(0.0, 0.0); 11];
    for (to, from) in points.iter_mut().zip(shape.iter().cycle().take(shape.len() + 1)) {
        *to = px(frame, *from);
    }
    if shape.len() > 2 {
        pen.stroke(onto, &points[..=shape.len()], width_px, ink);
    }
}

/// The part of a convex outline above or below a level, and how many points it has.
fn cut(outline: &[Point; 6], level: f64, above: bool, into: &mut [Point; 10]) -> usize {
    let mut count = 0;
    let keeps = |p: &Point| (p.1 > level) == above;
    for (at, p) in outline.iter().enumerate() {
        let next = &outline[(at + 1) % outline.len()];
        if keeps(p) {
            into[count] = *p;
            count += 1;
        }
        if keeps(p) != keeps(next) {
            let part = (level - p.1) / (next.1 - p.1);
            into[count] = (p.0 + part * (next.0 - p.0), level);
            count += 1;
        }
    }
    count
}
