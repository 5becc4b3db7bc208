//! Ice floating in the liquid: blocks that bob a little, a tenth of each above the surface.

use super::geometry::Frame;
use super::pen::{Ink, Pen, Point, Surface};
use super::stage::{INK, PAPER, line_px};

/// Blocks, at most: place across and towards the eye (shares of the radius), turn in rad, phase of the bobbing.
const BLOCKS: [(f64, f64, f64, f64); 7] = [
    (-0.30, 0.55, 0.20, 0.0),
    (0.42, 0.50, -0.35, 1.9),
    (-0.66, 0.15, 0.50, 3.1),
    (0.08, 0.05, -0.12, 4.4),
    (0.70, -0.05, 0.30, 5.2),
    (-0.30, -0.45, -0.40, 2.4),
    (0.30, -0.55, 0.15, 0.9),
];
/// Density of ice at 0 °C, g/mL (Wikipedia and textbooks: 0.9167).
const ICE_G_ML: f64 = 0.9167;
/// A block larger than this is cut in two: common ice cubes weigh 15 to 30 g.
const LARGEST_G: f64 = 24.0;

/// The floating blocks at one moment.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ice {
    /// Edge of each block, drawing units.
    edge: f64,
    count: usize,
}

/// How one block is seen through the liquid before it.
#[derive(Clone, Copy, Debug)]
pub(super) struct IceLook {
    /// The liquid's colour where a block of this edge shortens the path.
    pub(super) rgb: [u8; 3],
    /// Contrast of what lies at the depth of the nearest blocks, 0 to 1.
    pub(super) contrast: f64,
}

impl Ice {
    /// Blocks for this much ice: as many as needed from the first on, all alike.
    pub(super) fn of_mass(ice_g: f64, unit_cm: f64) -> Ice {
        let count = libm::ceil(ice_g / (LARGEST_G * unit_cm * unit_cm * unit_cm));
        let count = (count as usize).clamp(3, BLOCKS.len());
        let edge = libm::cbrt(ice_g / count as f64 / ICE_G_ML) / unit_cm;
        Ice {
            edge: edge.min(3.0),
            count,
        }
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
        level: f64,
        time_s: f64,
        look: IceLook,
    ) {
        let line = line_px(frame);
        for (across, nearness, turn, phase) in BLOCKS[..self.count].iter().rev() {
            let clear = (super::geometry::RADIUS - 0.72 * self.edge).max(0.0);
            let bob = 0.05 * libm::sin(1.3 * time_s + phase);
            let tilt = turn + 0.06 * libm::sin(0.7 * time_s + 2.0 * phase);
            let water = level - super::geometry::TILT * nearness * clear;
            // A tenth by volume stands out of the water.
            let middle = (across * clear, water - 0.40 * self.edge + bob);
            self.draw_block(pen, onto, frame, middle, tilt, water, line, look);
        }
    }

    #[allow(clippy::too_many_arguments)]
    fn draw_block(
        &self,
        pen: &mut Pen,
        onto: &mut Surface,
        frame: &Frame,
        middle: Point,
        tilt: f64,
        water: f64,
        line: f64,
        look: IceLook,
    ) {
        let half = 0.5 * self.edge;
        let (sin, cos) = (libm::sin(tilt), libm::cos(tilt));
        let at = |u: f64, v: f64| {
            (
                middle.0 + half * (u * cos - v * sin),
                middle.1 + half * (u * sin + v * cos),
            )
        };
        let outline = [
            at(-0.86, -1.0),
            at(0.84, -1.0),
            at(1.0, -0.82),
            at(1.0, 0.80),
            at(0.82, 1.0),
            at(-0.80, 1.0),
            at(-1.0, 0.84),
            at(-1.0, -0.84),
        ];
        let mut wet = [(0.0, 0.0); 12];
        let count = cut(&outline, water, false, &mut wet);
        self.draw_part(
            pen,
            onto,
            frame,
            &wet[..count],
            Ink::new(look.rgb, look.contrast),
            None,
        );
        self.draw_part(
            pen,
            onto,
            frame,
            &wet[..count],
            Ink::new(PAPER, 0.0),
            Some((line, 0.5 * look.contrast)),
        );
        let inner = [at(-0.55, 0.5), at(0.3, 0.58), at(0.5, -0.35)].map(|p| to_px(frame, p));
        pen.stroke(
            onto,
            &inner,
            0.8 * line,
            Ink::new(PAPER, 0.5 * look.contrast),
        );
        let count = cut(&outline, water, true, &mut wet);
        self.draw_part(
            pen,
            onto,
            frame,
            &wet[..count],
            Ink::new(PAPER, 0.82),
            Some((line, 0.6)),
        );
    }

    fn draw_part(
        &self,
        pen: &mut Pen,
        onto: &mut Surface,
        frame: &Frame,
        outline: &[Point],
        fill: Ink,
        edge: Option<(f64, f64)>,
    ) {
        if outline.len() < 3 {
            return;
        }
        let mut points = [(0.0, 0.0); 13];
        for (to, from) in points.iter_mut().zip(outline) {
            *to = to_px(frame, *from);
        }
        points[outline.len()] = points[0];
        if fill.opacity > 0.0 {
            pen.fill(onto, &points[..outline.len()], fill);
        }
        if let Some((line, opacity)) = edge {
            pen.stroke(
                onto,
                &points[..=outline.len()],
                0.9 * line,
                Ink::new(INK, opacity),
            );
        }
    }
}

fn to_px(frame: &Frame, point: Point) -> Point {
    (frame.x_px(point.0), frame.y_px(point.1))
}

/// The part of a convex outline above or below a level, and how many points it has.
fn cut(outline: &[Point; 8], level: f64, above: bool, into: &mut [Point; 12]) -> usize {
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
