//! A small pen: smooth lines and filled shapes on an RGBA surface.
//!
//! Method: coverage of each pixel is gathered in a mask first (the greatest of all parts of a stroke, the sum of the
//! scan lines of a fill), then laid over the surface once, so that joints do not darken. Lengths in pixels.

use crate::numerics::sine_cosine;

/// A colour with its opacity, 0 to 1.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ink {
    pub(super) rgb: [u8; 3],
    pub(super) opacity: f64,
}

impl Ink {
    pub(super) const fn new(rgb: [u8; 3], opacity: f64) -> Ink {
        Ink { rgb, opacity }
    }
}

/// Pixels, red green blue and opacity (not premultiplied), row by row from the upper left corner.
#[derive(Clone, Debug, Default)]
pub(super) struct Surface {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) pixels: Vec<u8>,
}

impl Surface {
    pub(super) fn filled(width: usize, height: usize, rgba: [u8; 4]) -> Surface {
        Surface { width, height, pixels: rgba.repeat(width * height) }
    }
}

/// A point, px.
pub(super) type Point = (f64, f64);

/// Lines that a fill is cut into within one pixel row.
const SCANS: usize = 4;

/// The pen and its mask, kept from stroke to stroke.
#[derive(Clone, Debug, Default)]
pub(super) struct Pen {
    mask: Vec<f32>,
    crossings: Vec<f64>,
}

/// A rectangle of pixels: columns and rows, ends excluded.
#[derive(Clone, Copy, Debug)]
struct Window {
    left: usize,
    right: usize,
    top: usize,
    bottom: usize,
}

impl Window {
    /// The pixels of a surface within `margin` of these points.
    fn around(points: &[Point], margin: f64, width: usize, height: usize) -> Window {
        let (mut left, mut right) = (f64::INFINITY, f64::NEG_INFINITY);
        let (mut top, mut bottom) = (f64::INFINITY, f64::NEG_INFINITY);
        for (x, y) in points {
            left = left.min(*x);
            right = right.max(*x);
            top = top.min(*y);
            bottom = bottom.max(*y);
        }
        // `as usize` takes what is below zero to zero.
        Window {
            left: ((left - margin).floor() as usize).min(width),
            right: ((right + margin).ceil() as usize).min(width),
            top: ((top - margin).floor() as usize).min(height),
            bottom: ((bottom + margin).ceil() as usize).min(height),
        }
    }
}

impl Pen {
    /// Draws a line of this width through the points.
    pub(super) fn stroke(&mut self, onto: &mut Surface, points: &[Point], width_px: f64, ink: Ink) {
        let half = width_px / 2.0;
        self.fit(onto);
        for ends in points.windows(2) {
            let window = Window::around(ends, half + 1.0, onto.width, onto.height);
            let (from, to) = (ends[0], ends[1]);
            let along = (to.0 - from.0, to.1 - from.1);
            let per_length2 = 1.0 / (along.0 * along.0 + along.1 * along.1).max(1e-12);
            for row in window.top..window.bottom {
                for column in window.left..window.right {
                    let p = (column as f64 + 0.5 - from.0, row as f64 + 0.5 - from.1);
                    let t = ((p.0 * along.0 + p.1 * along.1) * per_length2).clamp(0.0, 1.0);
                    let (dx, dy) = (p.0 - t * along.0, p.1 - t * along.1);
                    let distance2 = dx * dx + dy * dy;
                    if distance2 >= (half + 0.5) * (half + 0.5) {
                        continue;
                    }
                    // A line finer than a pixel is a paler line of one pixel.
                    let cover = (half + 0.5 - distance2.sqrt()).min(width_px.min(1.0)) as f32;
                    let cell = &mut self.mask[row * onto.width + column];
                    *cell = cell.max(cover);
                }
            }
        }
        let window = Window::around(points, half + 1.0, onto.width, onto.height);
        self.lay(onto, window, ink);
    }

    /// Fills a closed shape (even-odd).
    pub(super) fn fill(&mut self, onto: &mut Surface, outline: &[Point], ink: Ink) {
        self.fit(onto);
        let window = Window::around(outline, 1.0, onto.width, onto.height);
        for row in window.top..window.bottom {
            for scan in 0..SCANS {
                let y = row as f64 + (scan as f64 + 0.5) / SCANS as f64;
                self.crossings.clear();
                let mut from = outline[outline.len() - 1];
                for to in outline.iter().copied() {
                    if (from.1 <= y) != (to.1 <= y) {
                        let x = from.0 + (y - from.1) / (to.1 - from.1) * (to.0 - from.0);
                        self.crossings.push(x);
                    }
                    from = to;
                }
                put_in_order(&mut self.crossings);
                for pair in self.crossings.chunks_exact(2) {
                    let first = pair[0].max(window.left as f64);
                    let last = pair[1].min(window.right as f64);
                    let mut column = first as usize;
                    while (column as f64) < last {
                        let cover = (column as f64 + 1.0).min(last) - (column as f64).max(first);
                        self.mask[row * onto.width + column] += cover as f32 / SCANS as f32;
                        column += 1;
                    }
                }
            }
        }
        self.lay(onto, window, ink);
    }

    fn fit(&mut self, onto: &Surface) {
        let wanted = onto.width * onto.height;
        if self.mask.len() < wanted {
            self.mask.resize(wanted, 0.0);
        }
    }

    /// Lays ink over the surface through the mask, and clears the mask.
    fn lay(&mut self, onto: &mut Surface, window: Window, ink: Ink) {
        let opacity = ink.opacity as f32;
        for row in window.top..window.bottom {
            for column in window.left..window.right {
                let at = row * onto.width + column;
                let cover = std::mem::take(&mut self.mask[at]).clamp(0.0, 1.0) * opacity;
                if cover > 0.0 {
                    over(&mut onto.pixels[4 * at..4 * at + 4], ink.rgb, cover);
                }
            }
        }
    }
}

/// Lays a colour over a pixel that may itself be transparent.
pub(super) fn over(pixel: &mut [u8], rgb: [u8; 3], opacity: f32) {
    let below = f32::from(pixel[3]) / 255.0 * (1.0 - opacity);
    let total = opacity + below;
    if total <= 0.0 {
        return;
    }
    for (channel, value) in rgb.into_iter().enumerate() {
        let mixed = (opacity * f32::from(value) + below * f32::from(pixel[channel])) / total;
        pixel[channel] = (mixed + 0.5) as u8;
    }
    pixel[3] = (total * 255.0 + 0.5) as u8;
}

/// The points of an arc of an ellipse with half axes `rx` and `ry`, from and to in rad (0 right, a quarter turn down).
///
/// 65 points on a whole turn keep chord and arc within a tenth of a pixel of each other up to 80 px of radius.
pub(super) fn arc<const POINTS: usize>(centre: Point, rx: f64, ry: f64, from: f64, to: f64) -> [Point; POINTS] {
    std::array::from_fn(|step| {
        let angle = from + (to - from) * step as f64 / (POINTS - 1) as f64;
        let (sine, cosine) = sine_cosine(angle);
        (centre.0 + rx * cosine, centre.1 + ry * sine)
    })
}

/// Sorts the crossings of one line by inserting them one by one: there are a handful.
fn put_in_order(crossings: &mut [f64]) {
    for next in 1..crossings.len() {
        let mut at = next;
        while at > 0 && crossings[at - 1] > crossings[at] {
            crossings.swap(at - 1, at);
            at -= 1;
        }
    }
}
