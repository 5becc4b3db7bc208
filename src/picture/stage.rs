//! What stays the same from frame to frame: the paper with all that stands behind the beaker, the mark as seen through the
//! liquid, the lines of the glass in front, and how wide the liquid is in each column of pixels.

use std::rc::Rc;

use super::card::draw_behind;
use super::columns::Columns;
use super::geometry::{Frame, RADIUS};
use super::glass::{Etching, draw_far_glass, draw_graduations, draw_near_glass};
use super::light::{Light, Screen, WHITE};
use super::outlook::{Outlook, SMALL_ANGLE_SPREAD};
use super::pen::{Pen, Surface};
use super::scene::Surroundings;
use super::setting::draw_setting;
use crate::colour::{DISPLAY_GAIN, TorchView};

/// Ink of the drawing.
pub(super) const INK: [u8; 3] = [38, 41, 48];
/// The paper and everything that is white on it.
pub(super) const PAPER: [u8; 3] = [255, 255, 255];

/// What a stage depends on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct StageKey {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) vessel_ml: f64,
    pub(super) surroundings: Surroundings,
    pub(super) mark_shown: bool,
    /// Whether it stands in the dark before a black card.
    pub(super) dark: bool,
}

impl StageKey {
    /// Whether two stages differ in nothing but what stands around the beaker.
    fn has_glass_of(&self, other: &StageKey) -> bool {
        StageKey { surroundings: other.surroundings, ..*self } == *other
    }
}

/// Pixels of glass, from the upper left on.
type Film = Vec<FilmPixel>;

/// A pixel of the glass that lies in front of everything.
#[derive(Clone, Copy, Debug)]
struct FilmPixel {
    at: u32,
    rgb: [u8; 3],
    opacity: u8,
}

/// The beaker itself, as it stands in any surroundings. Beakers in a row share one: it takes most of the time of a stage.
#[derive(Clone, Debug)]
pub(super) struct Glass {
    near: Film,
    etched_dark: Film,
    etched_light: Film,
    /// What stands behind the liquid, as it darkens it.
    pub(super) outlook: Outlook,
    /// Where the liquid lies.
    pub(super) columns: Columns,
}

impl Glass {
    fn new(key: StageKey, frame: &Frame, pen: &mut Pen, screen: &Screen) -> Glass {
        let mut behind = Surface::filled(key.width, key.height, [PAPER[0], PAPER[1], PAPER[2], 255]);
        draw_behind(pen, &mut behind, frame, key.mark_shown && !key.dark);
        let sigma_px = SMALL_ANGLE_SPREAD * 2.0 * RADIUS * frame.scale;
        let outlook = Outlook::of_surface(&behind, screen, sigma_px);
        let mut film = |draw: &mut dyn FnMut(&mut Pen, &mut Surface)| {
            let mut surface = Surface::filled(key.width, key.height, [0; 4]);
            draw(pen, &mut surface);
            if key.dark { dark_film_of(&surface) } else { film_of(&surface) }
        };
        let near = film(&mut |pen, onto| draw_near_glass(pen, onto, frame));
        let mut etched = |etching| film(&mut |pen, onto| draw_graduations(pen, onto, frame, key.vessel_ml, etching));
        let etched_dark = etched(Etching::Dark);
        let etched_light = etched(Etching::Light);
        Glass { near, etched_dark, etched_light, outlook, columns: Columns::new(frame) }
    }
}

/// The unchanging part of a picture.
#[derive(Clone, Debug)]
pub(super) struct Stage {
    pub(super) key: StageKey,
    pub(super) frame: Frame,
    /// The paper with everything behind the liquid, opaque.
    pub(super) back: Surface,
    pub(super) glass: Rc<Glass>,
}

/// Width of a drawn line, px: finer in small pictures, never below a hair.
pub(super) fn line_px(frame: &Frame) -> f64 {
    (frame.scale / 17.0).clamp(0.7, 3.0)
}

impl Stage {
    /// A stage; what it has in common with one of the `others` is theirs.
    pub(super) fn new(key: StageKey, others: &[Stage], pen: &mut Pen, screen: &Screen) -> Stage {
        let frame = Frame::new(key.width, key.height);
        let alike = others.iter().find(|other| key.has_glass_of(&other.key));
        let glass = match alike {
            Some(other) => Rc::clone(&other.glass),
            None => Rc::new(Glass::new(key, &frame, pen, screen)),
        };
        let mut back = Surface::filled(key.width, key.height, [PAPER[0], PAPER[1], PAPER[2], 255]);
        draw_setting(pen, &mut back, &frame, key.surroundings);
        // The inside of the empty beaker shows what stands behind it.
        glass.outlook.darken(&mut back, screen);
        draw_far_glass(pen, &mut back, &frame);
        if key.dark {
            turn_dark(&mut back, screen);
        }
        Stage { key, frame, back, glass }
    }

    /// Lays the glass over the finished liquid. Etched lines are dark; from the row `light_from` on they are light.
    pub(super) fn lay_glass(&self, pixels: &mut [u8], light_from: usize) {
        let Glass { near, etched_dark, etched_light, .. } = &*self.glass;
        lay(near, pixels);
        let split = (light_from * self.frame.width) as u32;
        let dark = etched_dark.partition_point(|pixel| pixel.at < split);
        let light = etched_light.partition_point(|pixel| pixel.at < split);
        lay(&etched_dark[..dark], pixels);
        lay(&etched_light[light..], pixels);
    }
}

fn film_of(surface: &Surface) -> Film {
    let pixels = surface.pixels.chunks_exact(4).enumerate();
    let seen = pixels.filter(|(_, pixel)| pixel[3] > 0);
    seen.map(|(at, pixel)| FilmPixel { at: at as u32, rgb: [pixel[0], pixel[1], pixel[2]], opacity: pixel[3] })
        .collect()
}

/// Light of a drawn line in the dark, over that of the card: the lines become chalk, in the same places.
const CHALK_LIGHT: f64 = 0.20;

/// Turns a drawing on white paper into chalk on black card.
fn turn_dark(surface: &mut Surface, screen: &Screen) {
    for pixel in surface.pixels.as_chunks_mut::<4>().0 {
        let drawn = 1.0 - f64::from(screen.light(pixel).0[1]) / f64::from(WHITE);
        let light = DISPLAY_GAIN * TorchView::BLACK_CARD + CHALK_LIGHT * drawn;
        *pixel = screen.rgba(Light::of_linear([light; 3]));
    }
}

/// The same for the glass in front: dark lines become light ones, and its pale parts hardly show.
fn dark_film_of(surface: &Surface) -> Film {
    let mut film = film_of(surface);
    for pixel in &mut film {
        let is_line = pixel.rgb[1] < 128;
        (pixel.rgb, pixel.opacity) =
            if is_line { ([150, 152, 154], pixel.opacity) } else { ([96, 98, 100], pixel.opacity / 2) };
    }
    film
}

fn lay(film: &[FilmPixel], pixels: &mut [u8]) {
    for front in film {
        let at = 4 * front.at as usize;
        let opacity = u32::from(front.opacity);
        for (byte, value) in pixels[at..at + 3].iter_mut().zip(front.rgb) {
            let sum = u32::from(*byte) * (255 - opacity) + u32::from(value) * opacity;
            *byte = ((sum + 127) / 255) as u8;
        }
    }
}
