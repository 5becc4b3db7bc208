//! The fit of turn-back times: least squares over the model itself, each unknown with its 95 % range.
//!
//! The difference at a point is ln(computed/measured): a time is taken as known to the same part of itself, a short one as
//! well as a long one (a hand errs by tenths of a second on the short ones, by judging a colour on the long ones). The
//! 95 % ranges are Student's, on the scale of [`Unknown`]; the scatter is told by the points themselves.

use crate::lesson::{EndPoint, Lesson};

use super::beakers::Beakers;
use super::least_squares::{LeastSquaresError, Minimum, Rules, least_squares};
use super::timing::Timing;
use super::unknown::{Unknown, Values};

/// Temperatures that lie less than this apart say nothing of an energy, K: common practice, no source.
pub const LEAST_SPAN_K: f64 = 5.0;
/// Strength shows in the times only where the solid runs low: from this share of the doses to the end point on.
pub(super) const LATE_DOSE: f64 = 0.7;
/// How close to the minimum the search comes, in standard errors.
const PRECISION: f64 = 0.05;
const MOST_EVALUATIONS: usize = 150;
/// Corners of an outline of two unknowns.
const CORNERS: usize = 48;

/// A fitted unknown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// Which.
    pub unknown: Unknown,
    /// Its value, in its unit.
    pub value: f64,
    /// Ends of its 95 % range.
    pub range: [f64; 2],
    /// What it was before.
    pub before: f64,
}

/// An unknown that was asked for and cannot be told from these measurements: it stays as it was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Untold {
    /// Which.
    pub unknown: Unknown,
    /// oneTemperature, oneDose, noLateDose, noCurve or notApart.
    pub reason: &'static str,
}

/// A point beside the fitted model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FittedPoint {
    /// As measured: s, or pH.
    pub measured: f64,
    /// As computed.
    pub computed: f64,
    /// Studentised residual, computed less measured.
    pub studentised: f64,
    /// It does not fit with the others.
    pub misfit: bool,
}

/// How two unknowns trade off.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// The one.
    pub one: Unknown,
    /// The other.
    pub other: Unknown,
    /// Correlation, -1 to 1.
    pub correlation: f64,
    /// Outline of what both may be together with 95 % probability, in their units.
    pub outline: Vec<[f64; 2]>,
}

/// What a fit found.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The fitted unknowns.
    pub estimates: Vec<Estimate>,
    /// Those that could not be told.
    pub untold: Vec<Untold>,
    /// All values, fitted or left.
    pub values: Values,
    /// Every pair of fitted unknowns.
    pub pairs: Vec<Pair>,
    /// Every measurement, in the order given.
    pub points: Vec<FittedPoint>,
    /// Scatter of a single measurement about the model: a share of the time, or pH.
    pub deviation: f64,
    /// A studentised residual beyond this is a misfit.
    pub bound: f64,
    /// Points less unknowns.
    pub freedom: usize,
    /// How often the model was computed.
    pub evaluations: usize,
    /// How many right-hand sides of the model's equations that took, for a fit of times.
    pub right_hand_sides: u64,
    /// What the lesson gave for each time before the fit, s; empty for curves.
    pub at_first: Vec<f64>,
}

/// Why nothing could be fitted.
#[derive(Clone, Debug, PartialEq)]
pub enum FitError {
    /// No more measurements than unknowns.
    TooFew {
        /// Measurements.
        points: usize,
        /// Unknowns.
        unknowns: usize,
    },
    /// None of the unknowns asked for can be told.
    NothingToTell(Vec<Untold>),
    /// A dose that the lesson does not have, or that the model never brings back.
    NoSuchDose {
        /// Which acid dose.
        dose: u32,
    },
    /// The model never comes near these measurements.
    Lost,
}

impl FitError {
    /// The name at the edge.
    pub fn key(&self) -> &'static str {
        match self {
            FitError::TooFew { .. } => "tooFewPoints",
            FitError::NothingToTell(_) => "nothingToTell",
            FitError::NoSuchDose { .. } => "noSuchDose",
            FitError::Lost => "lost",
        }
    }
}

/// Fits unknowns of the model to measured times. Those that cannot be told are left as they are, with the reason.
///
/// # Errors
/// A [`FitError`] where nothing can be fitted.
pub fn fit_times(lesson: &Lesson, timings: &[Timing], wanted: &[Unknown]) -> Result<Fit, FitError> {
    let doses = lesson.steps().iter().filter(|step| step.reagent == crate::chemistry::Reagent::Acid).count() as u32;
    if let Some(timing) = timings.iter().find(|timing| timing.dose == 0 || timing.dose > doses) {
        return Err(FitError::NoSuchDose { dose: timing.dose });
    }
    let before = Values::of(lesson);
    let (mut unknowns, mut untold) = (Vec::new(), Vec::new());
    for unknown in Unknown::ALL.into_iter().filter(|unknown| wanted.contains(unknown)) {
        match silence(lesson, timings, unknown) {
            Some(reason) => untold.push(Untold { unknown, reason }),
            None => unknowns.push(unknown),
        }
    }
    let mut beakers = Beakers::of(lesson, timings);
    // The search begins with the lesson's own values.
    let mut at_first: Option<Vec<f64>> = None;
    let mut logs = |values: &Values, left: &mut [f64]| {
        let Some(computed) = beakers.ln_times(values) else { return false };
        for (left, (computed, timing)) in left.iter_mut().zip(computed.iter().zip(timings)) {
            *left = computed - libm::log(timing.seconds);
        }
        at_first.get_or_insert(computed);
        true
    };
    // ln t bends by a few per cent of itself within a step, which moves an end of a range by as little: one side is enough.
    let (minimum, values) = search(before, &mut unknowns, &mut untold, timings.len(), false, &mut logs)?;
    let points = timings
        .iter()
        .zip(&minimum.residuals)
        .map(|(timing, left)| (timing.seconds, libm::exp(*left) * timing.seconds));
    let fit = told(&minimum, before, values, &unknowns, untold, points.collect());
    let at_first = at_first.unwrap_or_default().into_iter().map(libm::exp).collect();
    Ok(Fit { at_first, right_hand_sides: beakers.right_hand_sides(), ..fit })
}

/// Times that the model gives for the same doses, temperatures and finishes, s; none where it is never back.
pub fn computed_times(lesson: &Lesson, values: &Values, timings: &[Timing]) -> Option<Vec<f64>> {
    let ln = Beakers::of(lesson, timings).ln_times(values)?;
    Some(ln.into_iter().map(libm::exp).collect())
}

/// Why these timings say nothing of an unknown.
fn silence(lesson: &Lesson, timings: &[Timing], unknown: Unknown) -> Option<&'static str> {
    let extremes = |of: &dyn Fn(&Timing) -> f64| {
        timings
            .iter()
            .map(of)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)))
    };
    match unknown {
        Unknown::AcidFactor => None,
        Unknown::Energy => {
            let (coldest, warmest) = extremes(&Timing::celsius);
            (warmest - coldest < LEAST_SPAN_K).then_some("oneTemperature")
        }
        Unknown::Carbonate => {
            let (first, last) = extremes(&|timing| f64::from(timing.dose));
            let (lowest, highest) = extremes(&Timing::finish_ph);
            (first == last && lowest == highest).then_some("oneDose")
        }
        Unknown::Strength => {
            let end = EndPoint::of(&lesson.computed_recipe(), &lesson.steps())?;
            let (_, last) = extremes(&|timing| f64::from(timing.dose));
            (last < LATE_DOSE * end.exact).then_some("noLateDose")
        }
        Unknown::Lag => Some("noCurve"),
    }
}

/// Searches the least squares, with the last slopes from both sides or from one; an unknown that turns out not to stand apart from the others is left as it is.
pub(super) fn search(
    before: Values,
    unknowns: &mut Vec<Unknown>,
    untold: &mut Vec<Untold>,
    points: usize,
    both_sides: bool,
    residuals: &mut dyn FnMut(&Values, &mut [f64]) -> bool,
) -> Result<(Minimum, Values), FitError> {
    loop {
        if unknowns.is_empty() {
            return Err(FitError::NothingToTell(core::mem::take(untold)));
        }
        let start: Vec<f64> = unknowns.iter().map(|unknown| unknown.coordinate(&before)).collect();
        let steps: Vec<f64> = unknowns.iter().map(|unknown| unknown.step()).collect();
        let rules = Rules { steps: &steps, precision: PRECISION, both_sides, evaluations: MOST_EVALUATIONS };
        let found = least_squares(&start, points, &rules, &mut |at, left| {
            let mut values = before;
            for (unknown, place) in unknowns.iter().zip(at) {
                unknown.set(&mut values, *place);
            }
            mirrored(unknowns, values, left, residuals)
        });
        match found {
            Ok(minimum) => {
                let mut values = before;
                for (unknown, place) in unknowns.iter().zip(&minimum.values) {
                    let least = if unknown.ends_at_nothing() { 0.0 } else { f64::NEG_INFINITY };
                    unknown.set(&mut values, place.max(least));
                }
                return Ok((minimum, values));
            }
            Err(LeastSquaresError::TooFewPoints { points, unknowns }) => {
                return Err(FitError::TooFew { points, unknowns });
            }
            Err(LeastSquaresError::Undetermined { unknown }) => {
                untold.push(Untold { unknown: unknowns.remove(unknown), reason: "notApart" });
            }
            Err(LeastSquaresError::NotComputable | LeastSquaresError::Lost) => return Err(FitError::Lost),
        }
    }
}

/// Residuals also where an amount is less than nothing: the model goes on straight through nothing, so that a scatter about
/// nothing is told as such and not cut in half. What is told in the end is cut at nothing.
fn mirrored(
    unknowns: &[Unknown],
    values: Values,
    left: &mut [f64],
    residuals: &mut dyn FnMut(&Values, &mut [f64]) -> bool,
) -> bool {
    let below = |unknown: &&Unknown| unknown.ends_at_nothing() && unknown.coordinate(&values) < 0.0;
    let Some(unknown) = unknowns.iter().find(below) else { return residuals(&values, left) };
    let (mut nothing, mut as_much) = (values, values);
    unknown.set(&mut nothing, 0.0);
    unknown.set(&mut as_much, -unknown.coordinate(&values));
    let mut above = vec![0.0; left.len()];
    let computed = mirrored(unknowns, nothing, left, residuals) && mirrored(unknowns, as_much, &mut above, residuals);
    for (left, above) in left.iter_mut().zip(&above) {
        *left = 2.0 * *left - above;
    }
    computed
}

/// What a minimum says, in the units of the unknowns.
pub(super) fn told(
    minimum: &Minimum,
    before: Values,
    values: Values,
    unknowns: &[Unknown],
    untold: Vec<Untold>,
    points: Vec<(f64, f64)>,
) -> Fit {
    let estimate = |(index, unknown): (usize, &Unknown)| Estimate {
        unknown: *unknown,
        value: unknown.told(&values),
        range: minimum.range(index).map(|end| unknown.value_at(end)),
        before: unknown.told(&before),
    };
    let mut pairs = Vec::new();
    for one in 0..unknowns.len() {
        for other in one + 1..unknowns.len() {
            let corner = |[x, y]: [f64; 2]| [unknowns[one].value_at(x), unknowns[other].value_at(y)];
            pairs.push(Pair {
                one: unknowns[one],
                other: unknowns[other],
                correlation: minimum.correlation(one, other),
                outline: minimum.ellipse(one, other, CORNERS).into_iter().map(corner).collect(),
            });
        }
    }
    let bound = minimum.misfit_bound();
    let point = |((measured, computed), studentised): ((f64, f64), f64)| FittedPoint {
        measured,
        computed,
        studentised,
        misfit: studentised.abs() > bound,
    };
    Fit {
        estimates: unknowns.iter().enumerate().map(estimate).collect(),
        untold,
        values,
        pairs,
        points: points.into_iter().zip(minimum.studentised()).map(point).collect(),
        deviation: minimum.deviation(),
        bound,
        freedom: minimum.freedom,
        evaluations: minimum.evaluations,
        right_hand_sides: 0,
        at_first: Vec::new(),
    }
}
