//! Why a beaker and the model differ: the usual causes, those first whose sign and shape are those of the difference.
//!
//! A cause is known by what it does to a beaker's times: to all of them, more with each dose, more where it is warm; and to
//! the pH at rest. The likenesses are common practice, no source, unless one is named; they order a list for a person to
//! think about and decide nothing.

use super::line::Line;
use super::timing::Timing;

/// What a difference looks like, each part in standard errors: positive where the beaker is slower, more so with each dose,
/// more so where it is warm, and where its pH at rest lies higher than computed.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Shape {
    /// Slower on the whole.
    pub slower: f64,
    /// Slower from dose to dose.
    pub with_dose: f64,
    /// Slower with warmth.
    pub with_warmth: f64,
    /// Higher at rest, pH.
    pub at_rest: f64,
}

/// A usual cause.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cause {
    /// Its name at the edge.
    pub key: &'static str,
    /// Where it stands; empty for common practice, no source.
    pub source: &'static str,
    shape: [f64; 4],
}

const fn cause(key: &'static str, shape: [f64; 4], source: &'static str) -> Cause {
    Cause { key, source, shape }
}

/// Every cause with the shape of what it does: slower, with dose, with warmth, at rest.
pub const CAUSES: [Cause; 14] = [
    cause("coarseSolid", [1.0, 0.0, 0.0, 0.0], "3.5–106 m²/g: Lin et al. 2008; Vatsha et al. 2013"),
    cause("fineSolid", [-1.0, 0.0, 0.0, 0.0], "3.5–106 m²/g: Lin et al. 2008; Vatsha et al. 2013"),
    cause("notShaken", [0.8, 0.6, 0.0, 0.0], ""),
    cause("strongBottle", [-0.6, -0.8, 0.0, 0.0], "USP, Milk of Magnesia: 90.0–115.0 %"),
    cause("bigDoses", [0.7, 0.7, 0.0, -0.1], ""),
    cause("smallDoses", [-0.7, -0.7, 0.0, 0.1], ""),
    cause("moreCarbonate", [0.3, 0.9, 0.2, -0.4], ""),
    cause("lessCarbonate", [-0.3, -0.9, -0.2, 0.4], ""),
    cause("slowStirring", [0.7, 0.0, 0.7, 0.0], ""),
    cause("lateClock", [-0.6, 0.4, -0.7, 0.0], ""),
    cause("laterColour", [0.7, 0.5, 0.3, 0.0], ""),
    cause("bathNotBeaker", [0.0, 0.0, 1.0, 0.0], ""),
    cause("probeHigh", [-0.2, 0.0, 0.0, 1.0], ""),
    cause("probeLow", [0.2, 0.0, 0.0, -1.0], ""),
];

/// A difference of fewer standard errors than this is none.
const NOTICED: f64 = 2.0;
/// No part of a shape counts for more than this.
const MOST: f64 = 10.0;

impl Shape {
    /// The shape of measured times against computed ones, s.
    pub fn of_times(timings: &[Timing], computed: &[f64]) -> Shape {
        let slower = |(timing, computed): (&Timing, &f64)| libm::log(timing.seconds / computed);
        let slower: Vec<f64> = timings.iter().zip(computed).map(slower).collect();
        let along = |x: Vec<f64>| {
            let line = Line::through(&x, &slower).ok();
            line.and_then(|line| Some(held(line.slope / line.slope_error?))).unwrap_or(0.0)
        };
        Shape {
            slower: mean_in_errors(&slower),
            with_dose: along(timings.iter().map(|timing| f64::from(timing.dose)).collect()),
            with_warmth: along(timings.iter().map(Timing::celsius).collect()),
            at_rest: 0.0,
        }
    }

    /// The shape of a curve: seconds to pH 7, measured and computed, of each dose, and pH at rest, measured less computed.
    pub fn of_curve(back_s: &[[Option<f64>; 2]], at_rest: &[f64]) -> Shape {
        let both = back_s
            .iter()
            .enumerate()
            .filter_map(|(dose, [measured, computed])| Some((dose as f64, libm::log((*measured)? / (*computed)?))));
        let (doses, slower): (Vec<f64>, Vec<f64>) = both.unzip();
        let line = Line::through(&doses, &slower).ok();
        let with_dose = line.and_then(|line| Some(held(line.slope / line.slope_error?))).unwrap_or(0.0);
        Shape { slower: mean_in_errors(&slower), with_dose, with_warmth: 0.0, at_rest: mean_in_errors(at_rest) }
    }

    /// The usual causes that look like this, the likest first; none where there is no difference to speak of.
    pub fn causes(&self) -> Vec<&'static Cause> {
        let parts = [self.slower, self.with_dose, self.with_warmth, self.at_rest];
        if parts.iter().all(|part| part.abs() < NOTICED) {
            return Vec::new();
        }
        let likeness = |cause: &Cause| {
            let (product, length) =
                cause.shape.iter().zip(parts).fold((0.0, 0.0), |(product, length), (shape, part)| {
                    (product + shape * part, length + shape * shape)
                });
            product / f64::sqrt(length)
        };
        let mut causes: Vec<&Cause> = Vec::new();
        // Times alone say nothing of a probe.
        let is_probes = |cause: &Cause| cause.shape[3].abs() >= 1.0;
        for cause in CAUSES.iter().filter(|cause| likeness(cause) > 0.0 && (parts[3] != 0.0 || !is_probes(cause))) {
            let behind = causes.iter().rposition(|other| likeness(other) >= likeness(cause));
            causes.insert(behind.map_or(0, |place| place + 1), cause);
        }
        causes
    }
}

fn mean_in_errors(values: &[f64]) -> f64 {
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let squares: f64 = values.iter().map(|value| (value - mean) * (value - mean)).sum();
    // A single value has no scatter: a tenth then counts as one standard error.
    let error = if values.len() > 1 { (squares / (count - 1.0) / count).sqrt() } else { 0.1 };
    held(mean / error)
}

fn held(part: f64) -> f64 {
    if part.is_nan() { 0.0 } else { part.clamp(-MOST, MOST) }
}
