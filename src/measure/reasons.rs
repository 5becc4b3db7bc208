//! Why a beaker and the model differ: the usual causes, those first whose sign and shape are those of the difference.
//!
//! A cause is known by what it does to a beaker's times: to all of them, more with each dose, more where it is warm; and to
//! the pH at rest. The shapes are the model's own, with the cause at work in our scenario (`tests/fit/causes.rs` computes
//! them anew). They order a list for a person to think about and decide nothing.

use super::curve::{Overlay, Run};
use super::orthogonal::Triangle;
use super::timing::Timing;

/// What a difference looks like. A part is none where the measurements say nothing of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shape {
    /// Slower on the whole: ln of measured over computed seconds.
    pub slower: Option<Part>,
    /// How much more so over the doses of our scenario, from the first to the sixth.
    pub with_dose: Option<Part>,
    /// How much more so over the temperatures of our scenario, from 2 to 34 °C.
    pub with_warmth: Option<Part>,
    /// Higher at rest, pH.
    pub at_rest: Option<Part>,
    /// How it was measured.
    pub by: By,
}

/// A part of a difference, and how sure it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// How much.
    pub size: f64,
    /// Its standard error.
    pub error: f64,
    /// How much of it these measurements could show.
    pub shown: f64,
}

/// How a difference was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    /// A hand's clock.
    Hand,
    /// A pH probe.
    Probe,
    /// Of a cause: it shows in both.
    Either,
}

/// A usual cause.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cause {
    /// Its name at the edge.
    pub key: &'static str,
    /// Where it stands; empty for common practice, no source.
    pub source: &'static str,
    by: By,
    shape: [f64; 4],
}

const fn cause(key: &'static str, by: By, shape: [f64; 4], source: &'static str) -> Cause {
    Cause { key, source, by, shape }
}

/// Every cause with the shape of what it does: slower, with dose, with warmth, at rest, in multiples of what can be noticed, and
/// the largest as 1.
pub const CAUSES: [Cause; 15] = [
    cause("coarseSolid", By::Either, [0.9, -0.3, -1.0, -0.1], "3.5–106 m²/g: Lin et al. 2008; Vatsha et al. 2013"),
    cause("fineSolid", By::Either, [-0.8, 0.3, 1.0, 0.1], "3.5–106 m²/g: Lin et al. 2008; Vatsha et al. 2013"),
    cause("notShaken", By::Either, [0.6, 0.9, -0.1, -0.2], ""),
    cause("strongBottle", By::Either, [-0.8, -0.9, 0.2, 0.2], "USP, Milk of Magnesia: 90.0–115.0 %"),
    cause("bigDoses", By::Either, [0.5, 0.9, -0.1, -0.2], ""),
    cause("smallDoses", By::Either, [-0.6, -0.9, 0.1, 0.2], ""),
    cause("moreCarbonate", By::Either, [1.0, 0.8, 0.3, -0.2], ""),
    cause("lessCarbonate", By::Either, [-1.0, -1.0, -0.4, 0.2], ""),
    cause("slowStirring", By::Either, [0.6, -0.5, 1.0, 0.0], ""),
    cause("lateClock", By::Hand, [-0.7, 0.9, -0.9, 0.0], ""),
    cause("laterColour", By::Hand, [1.0, 0.8, 0.1, 0.0], ""),
    cause("bathNotBeaker", By::Either, [-0.2, 0.0, 1.0, 0.1], ""),
    cause("slowElectrode", By::Probe, [0.8, -0.8, 0.9, 0.0], ""),
    cause("probeHigh", By::Probe, [-0.4, -0.5, 0.0, 1.0], ""),
    cause("probeLow", By::Probe, [0.4, 0.5, 0.0, -1.0], ""),
];

/// A difference of fewer standard errors than this is none.
const NOTICED: f64 = 2.0;
/// Nor is one of a smaller share of the time than this, however steady: by so much two hands differ that stop one clock at one
/// colour. Common practice, no source.
const LEAST_SHARE: f64 = 0.05;
/// Nor one of fewer pH at rest: by so much a probe may be off that was calibrated in two buffers. Common practice, no source.
const LEAST_PH: f64 = 0.05;
/// The doses and the temperatures of our scenario, over which the shapes of the causes are told: six doses, 2 to 34 °C.
const DOSES: f64 = 5.0;
const WARMTH_K: f64 = 32.0;
/// A cause of which less than this share can be seen in the measurements is not named for them.
const SEEN: f64 = 0.5;
/// Nor is one that is less like the difference than this (the cosine between both shapes). Common practice, no source.
const ALIKE: f64 = 0.5;

/// A time beside the computed one.
struct Compared {
    dose: f64,
    celsius: f64,
    slower: f64,
}

impl Shape {
    /// The shape of measured times against computed ones, s.
    pub fn of_times(timings: &[Timing], computed: &[f64]) -> Shape {
        let compared = timings.iter().zip(computed).map(|(timing, computed)| Compared {
            dose: f64::from(timing.dose),
            celsius: timing.celsius(),
            slower: libm::log(timing.seconds / computed),
        });
        Shape::of(&compared.collect::<Vec<_>>(), &[], By::Hand)
    }

    /// The shape of recordings of one or more beakers, each with the curve beside it, by the seconds to pH 7 and the pH at
    /// rest.
    pub fn of_curves(laid: &[(Run, Overlay)]) -> Shape {
        let compared = laid.iter().flat_map(|(run, overlay)| {
            overlay.back_s.iter().enumerate().filter_map(|(index, [measured, computed])| {
                let slower = libm::log((*measured)? / (*computed)?);
                Some(Compared { dose: index as f64 + 1.0, celsius: run.celsius, slower })
            })
        });
        let at_rest: Vec<f64> = laid.iter().flat_map(|(run, overlay)| run.at_rest(overlay)).collect();
        Shape::of(&compared.collect::<Vec<_>>(), &at_rest, By::Probe)
    }

    fn of(compared: &[Compared], at_rest: &[f64], by: By) -> Shape {
        let [slower, with_dose, with_warmth] = plane(compared);
        Shape { slower, with_dose, with_warmth, at_rest: mean(at_rest, LEAST_PH), by }
    }

    /// The usual causes that look like this, the likest first; none where there is no difference to speak of.
    pub fn causes(&self) -> Vec<&'static Cause> {
        let told = |part: Option<Part>, least: f64| part.map(|part| part.told(least));
        let [share, ph] = [LEAST_SHARE, LEAST_PH];
        let parts = [
            told(self.slower, share),
            told(self.with_dose, share),
            told(self.with_warmth, share),
            told(self.at_rest, ph),
        ];
        let mut causes: Vec<(&Cause, f64)> = Vec::new();
        for cause in CAUSES.iter().filter(|cause| cause.by == By::Either || cause.by == self.by) {
            let likeness = cause.likeness(parts);
            if likeness >= ALIKE {
                let behind = causes.iter().rposition(|(_, other)| *other >= likeness);
                causes.insert(behind.map_or(0, |place| place + 1), (cause, likeness));
            }
        }
        causes.into_iter().map(|(cause, _)| cause).collect()
    }
}

impl Cause {
    /// The cosine between this cause's shape and a difference's, whose parts are multiples of what can be noticed; 0 where there is
    /// no difference, or too little of this cause could be seen.
    fn likeness(&self, parts: [Option<f64>; 4]) -> f64 {
        let (mut product, mut seen, mut all, mut length) = (0.0, 0.0, 0.0, 0.0);
        for (shape, part) in self.shape.iter().zip(parts) {
            all += shape * shape;
            if let Some(part) = part {
                seen += shape * shape;
                length += part * part;
                product += shape * part;
            }
        }
        if length > 0.0 && seen >= SEEN * all { product / (seen * length).sqrt() } else { 0.0 }
    }
}

impl Part {
    /// In multiples of what can be noticed; 0 for less than that, and for what scatter alone may have made.
    fn told(&self, least: f64) -> f64 {
        let noticed = self.size.abs() >= NOTICED * self.error && self.size.abs() * self.shown >= least;
        if noticed { self.size / least } else { 0.0 }
    }
}

/// Mean, slope along the doses and slope along the temperatures, all three at once; those that these points cannot tell are
/// none.
fn plane(compared: &[Compared]) -> [Option<Part>; 3] {
    let count = compared.len() as f64;
    let along = |of: fn(&Compared) -> f64, span: f64| -> (Vec<f64>, f64) {
        let mean = compared.iter().map(of).sum::<f64>() / count;
        let places: Vec<f64> = compared.iter().map(|point| (of(point) - mean) / span).collect();
        let ends = places.iter().fold([0.0f64; 2], |[low, high], place| [low.min(*place), high.max(*place)]);
        (places, ends[1] - ends[0])
    };
    let slopes = [along(|point| point.dose, DOSES), along(|point| point.celsius, WARMTH_K)];
    let mut kept: Vec<usize> = (0..2).filter(|&which| slopes[which].1 > 0.0).collect();
    let side: Vec<f64> = compared.iter().map(|point| point.slower).collect();
    loop {
        let size = 1 + kept.len();
        if compared.len() <= size {
            if kept.pop().is_some() {
                continue;
            }
            return [mean(&side, LEAST_SHARE), None, None];
        }
        let mut matrix = Vec::with_capacity(size * compared.len());
        for index in 0..compared.len() {
            matrix.push(1.0);
            matrix.extend(kept.iter().map(|&which| slopes[which].0[index]));
        }
        let triangle = Triangle::of(&matrix, &side, size);
        if let Some(column) = triangle.dependent() {
            kept.remove(column - 1);
            continue;
        }
        let (found, inverse) = (triangle.solve(), triangle.inverse());
        let left = matrix.chunks(size).zip(&side).map(|(row, side)| {
            let off = side - row.iter().zip(&found).map(|(place, found)| place * found).sum::<f64>();
            off * off
        });
        let scatter = (left.sum::<f64>() / (compared.len() - size) as f64).sqrt();
        let part = |column: usize, shown: f64| {
            let spread: f64 = inverse[column * size..(column + 1) * size].iter().map(|part| part * part).sum();
            Some(Part { size: found[column], error: scatter * spread.sqrt(), shown })
        };
        let slope =
            |which: usize| kept.iter().position(|&kept| kept == which).and_then(|at| part(at + 1, slopes[which].1));
        return [part(0, 1.0), slope(0), slope(1)];
    }
}

/// The mean with its error; none of nothing. A single value has no scatter: what can be noticed then counts as one standard error.
fn mean(values: &[f64], alone: f64) -> Option<Part> {
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let squares: f64 = values.iter().map(|value| (value - mean) * (value - mean)).sum();
    let error = if values.len() > 1 { (squares / (count - 1.0) / count).sqrt() } else { alone };
    (!values.is_empty()).then_some(Part { size: mean, error, shown: 1.0 })
}
