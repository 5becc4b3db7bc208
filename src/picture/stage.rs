//! What stays the same from frame to frame: the paper with all that stands behind the beaker, the mark as seen through the
//! liquid, the lines of the glass in front, and how wide the liquid is in each column of pixels.

use super::columns::Columns;
use super::geometry::{
    BRIM, Frame, GRADUATION, HEEL, MARK, RADIUS, TILT, WALL, bulge, floor_edge, graduations_ml, level_of,
};
use super::lettering::write_to_left;
use super::light::Screen;
use super::outlook::{Outlook, SMALL_ANGLE_SPREAD};
use super::pen::{Ink, Pen, Point, Surface, arc};
use super::scene::Surroundings;
use super::setting::draw_setting;

/// Ink of the drawing.
pub(super) const INK: [u8; 3] = [38, 41, 48];
/// The paper and everything that is white on it.
pub(super) const PAPER: [u8; 3] = [255, 255, 255];
/// Glass where nothing coloured stands behind.
const GLASS: [u8; 3] = [240, 243, 245];
/// Black card behind the beaker when a torch is used.
const BLACK_CARD: [u8; 3] = [44, 44, 48];

/// What a stage depends on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct StageKey {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) vessel_ml: f64,
    pub(super) surroundings: Surroundings,
    pub(super) mark_shown: bool,
    pub(super) black_card: bool,
}

/// A pixel of the glass that lies in front of everything.
#[derive(Clone, Copy, Debug)]
struct FrontPixel {
    at: u32,
    rgb: [u8; 3],
    opacity: u8,
}

/// The unchanging part of a picture.
#[derive(Clone, Debug)]
pub(super) struct Stage {
    pub(super) key: StageKey,
    pub(super) frame: Frame,
    /// The paper with everything behind the liquid, opaque.
    pub(super) back: Surface,
    front: Vec<FrontPixel>,
    /// What stands behind the liquid, as it darkens it.
    pub(super) outlook: Outlook,
    /// Where the liquid lies.
    pub(super) columns: Columns,
}

/// Width of a drawn line, px: finer in small pictures, never below a hair.
pub(super) fn line_px(frame: &Frame) -> f64 {
    (frame.scale / 17.0).clamp(0.7, 3.0)
}

impl Stage {
    pub(super) fn new(key: StageKey, pen: &mut Pen, screen: &Screen) -> Stage {
        let frame = Frame::new(key.width, key.height);
        let paper = [PAPER[0], PAPER[1], PAPER[2], 255];
        let mut back = Surface::filled(key.width, key.height, paper);
        draw_setting(pen, &mut back, &frame, key.surroundings);
        let mut behind = Surface::filled(key.width, key.height, paper);
        draw_behind(pen, &mut behind, &frame, &key);
        // The inside of the empty beaker shows what stands behind it.
        let outlook = Outlook::of_surface(&behind, screen, SMALL_ANGLE_SPREAD * 2.0 * RADIUS * frame.scale);
        outlook.darken(&mut back, screen);
        draw_far_glass(pen, &mut back, &frame);
        let mut front = Surface::filled(key.width, key.height, [0; 4]);
        draw_near_glass(pen, &mut front, &frame);
        draw_graduations(pen, &mut front, &frame, key.vessel_ml);
        let front = front
            .pixels
            .chunks_exact(4)
            .enumerate()
            .filter(|(_, pixel)| pixel[3] > 0)
            .map(|(at, pixel)| FrontPixel { at: at as u32, rgb: [pixel[0], pixel[1], pixel[2]], opacity: pixel[3] })
            .collect();
        Stage { key, frame, back, front, outlook, columns: Columns::new(&frame) }
    }

    /// Lays the glass over the finished liquid.
    pub(super) fn lay_front(&self, pixels: &mut [u8]) {
        for front in &self.front {
            let at = 4 * front.at as usize;
            let opacity = u32::from(front.opacity);
            for (byte, value) in pixels[at..at + 3].iter_mut().zip(front.rgb) {
                let sum = u32::from(*byte) * (255 - opacity) + u32::from(value) * opacity;
                *byte = ((sum + 127) / 255) as u8;
            }
        }
    }
}

/// What is seen through the beaker: the ruled card with its cross, or black card; and the far edge of the floor.
fn draw_behind(pen: &mut Pen, onto: &mut Surface, frame: &Frame, key: &StageKey) {
    let line = line_px(frame);
    let at = |x: f64, y: f64| (frame.x_px(x), frame.y_px(y));
    if key.black_card {
        let edge = RADIUS - 0.05;
        let sheet = [at(-edge, -0.4), at(edge, -0.4), at(edge, BRIM - 1.5), at(-edge, BRIM - 1.5)];
        pen.fill(onto, &sheet, Ink::new(BLACK_CARD, 1.0));
        return;
    }
    if key.mark_shown {
        draw_card(pen, onto, frame);
    }
    let far = arc(at(0.0, 0.0), (RADIUS - 0.1) * frame.scale, TILT * RADIUS * frame.scale, -0.1, -3.04);
    pen.stroke(onto, &far, line, Ink::new(INK, 0.35));
}

/// The mark: white card with fine ruled lines, and a bold ring with a dot.
///
/// Not a cross or a tick, which would say wrong or right, and not a letter, which would name a colour.
fn draw_card(pen: &mut Pen, onto: &mut Surface, frame: &Frame) {
    let line = line_px(frame);
    let at = |x: f64, y: f64| (frame.x_px(MARK.0 + x), frame.y_px(MARK.1 + y));
    let (half_width, half_height) = (2.15, 2.75);
    let rule = Ink::new(INK, 0.33);
    for step in 0..8 {
        let y = -half_height + 2.0 * half_height * f64::from(step) / 7.0;
        pen.stroke(onto, &[at(-half_width, y), at(half_width, y)], 0.8 * line, rule);
    }
    let (right, top) = (half_width + 0.25, half_height + 0.35);
    let sheet = [at(-right, -top), at(right, -top), at(right, top), at(-right, top), at(-right, -top)];
    pen.stroke(onto, &sheet, line, Ink::new(INK, 0.55));
    let black = Ink::new([0, 0, 0], 1.0);
    let turn = 2.0 * std::f64::consts::PI;
    let radius = 1.05 * frame.scale;
    pen.stroke(onto, &arc(at(0.0, 0.0), radius, radius, 0.0, turn), 0.46 * frame.scale, black);
    let radius = 0.36 * frame.scale;
    pen.fill(onto, &arc(at(0.0, 0.0), radius, radius, 0.0, turn), black);
}

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
        (frame.x_px(radius * libm::cos(angle)), frame.y_px(BRIM) + TILT * radius * libm::sin(angle) * frame.scale)
    })
}

/// The far half of the rim.
fn draw_far_glass(pen: &mut Pen, onto: &mut Surface, frame: &Frame) {
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
        let x = -radius * libm::cos(std::f64::consts::PI * f64::from(step) / 96.0);
        points.push((frame.x_px(x), frame.y_px(floor_edge(x, radius, HEEL + out) - out)));
    }
    for step in 0..=steps {
        let y = HEEL + (BRIM - HEEL) * f64::from(step) / f64::from(steps);
        points.push((frame.x_px(radius + flare(y, 0.9, lip)), frame.y_px(y)));
    }
    points
}

/// The near glass: wall and floor as a thin pale band between fine lines, the rim, and two cuts of light.
fn draw_near_glass(pen: &mut Pen, onto: &mut Surface, frame: &Frame) {
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

/// Height at which the beaker's size is etched, above any ordinary filling, drawing units.
const SIZE_AT: f64 = 9.55;

/// Graduations with figures, as if etched: dark with a hair of light below, so that they show on every liquid.
fn draw_graduations(pen: &mut Pen, onto: &mut Surface, frame: &Frame, vessel_ml: f64) {
    let line = line_px(frame);
    let hair = (frame.scale / 22.0).clamp(0.6, 2.0);
    let figures_px = 0.50 * frame.scale;
    for (volume_ml, major) in graduations_ml(vessel_ml) {
        let level = level_of(volume_ml, vessel_ml);
        let left = if major { GRADUATION.0 } else { GRADUATION.0 + 0.38 };
        let tick = |down: f64| {
            [0.0, 0.5, 1.0].map(|part| {
                let x = left + (GRADUATION.1 - left) * part;
                (frame.x_px(x), frame.y_px(level - bulge(x, RADIUS)) + down)
            })
        };
        pen.stroke(onto, &tick(hair), line, Ink::new(PAPER, 0.55));
        pen.stroke(onto, &tick(0.0), line, Ink::new(INK, 0.8));
        if major {
            let foot = level - bulge(left, RADIUS);
            let text = format!("{volume_ml}");
            write_etched(pen, onto, frame, &text, (left - 0.22, foot - 0.25), figures_px);
        }
    }
    let size = format!("{vessel_ml} mL");
    write_etched(pen, onto, frame, &size, (GRADUATION.1, SIZE_AT), figures_px);
}

fn write_etched(pen: &mut Pen, onto: &mut Surface, frame: &Frame, text: &str, foot: Point, height_px: f64) {
    // Below this height a sign is a smudge.
    if height_px < 8.0 || text.len() > 8 {
        return;
    }
    let line = 0.85 * line_px(frame);
    let (right, foot) = (frame.x_px(foot.0), frame.y_px(foot.1));
    let light = Ink::new(PAPER, 0.55);
    write_to_left(pen, onto, text, (right, foot + line), height_px, line, light);
    write_to_left(pen, onto, text, (right, foot), height_px, line, Ink::new(INK, 0.8));
}
