//! A probe's curve beside the model's: the electrode's lag, the difference in pH and in seconds, and the fit.

use crate::chemistry::{Action, Bath, Reagent};
use crate::course::Course;
use crate::lesson::Lesson;

use super::fit::{Fit, FitError, LEAST_SPAN_K, Untold, search, told};
use super::forward::Bench;
use super::probe::Probe;
use super::unknown::{Unknown, Values};

/// A recording laid beside the lesson's doses.
#[derive(Clone, Debug, PartialEq)]
pub struct Run<'a> {
    /// The recording.
    pub probe: &'a Probe,
    /// When the lesson's doses were poured, s of the recording, rising.
    pub doses_s: &'a [f64],
    /// Temperature of the beaker, °C.
    pub celsius: f64,
}

/// A computed curve at the times of a recording.
#[derive(Clone, Debug, PartialEq)]
pub struct Overlay {
    /// Every so many readings, from the first on, one was compared.
    pub every: usize,
    /// Computed pH at each reading that was compared, as an electrode of the lag shows it.
    pub computed: Vec<f64>,
    /// Mean of computed less measured, pH.
    pub mean_ph: f64,
    /// Root of the mean square of that difference, pH.
    pub rms_ph: f64,
    /// For each dose the seconds to pH 7, measured and computed; none where it is not back before the next dose.
    pub back_s: Vec<[Option<f64>; 2]>,
}

/// Points of a recording that a fit looks at: a probe's readings lie so close that more would only cost time.
const POINTS: usize = 240;
/// A lagging electrode is followed in steps not shorter than this, s, however the pH bends.
const LAG_STEP_S: f64 = 0.25;
/// Where the clock of a curve stops, pH.
const BACK_PH: f64 = 7.0;
/// At most so many times wider become the ranges for readings that hang together.
const MOST_KIN: f64 = 400.0;

/// The computed pH at rising times, seen through a first-order lag: dy/dt = (pH - y)/τ, exact for a pH that goes straight
/// from point to point.
pub fn lagged(times_s: &[f64], ph: &[f64], lag_s: f64) -> Vec<f64> {
    let mut seen = ph.first().copied().unwrap_or(0.0);
    let mut shown = Vec::with_capacity(ph.len());
    for (index, ph_now) in ph.iter().enumerate() {
        let step_s = if index == 0 { 0.0 } else { times_s[index] - times_s[index - 1] };
        if lag_s > 0.0 && step_s > 0.0 {
            let before = ph[index - 1];
            let (slope, fade) = ((ph_now - before) / step_s, libm::exp(-step_s / lag_s));
            // The straight line, late by τ, and what is left of an older difference.
            seen = ph_now - slope * lag_s + (seen - before + slope * lag_s) * fade;
        } else {
            seen = *ph_now;
        }
        shown.push(seen);
    }
    shown
}

impl Run<'_> {
    /// The model's curve beside the recording, compared at no more than `most` readings, which are taken evenly; none where
    /// the model cannot follow.
    pub fn overlay(&self, lesson: &Lesson, values: &Values, most: usize) -> Option<Overlay> {
        let course = self.course(&Bench::of(lesson), values)?;
        let (times_s, ph) = self.thinned(most);
        let computed = self.curve(&course, values.lag_s, &times_s);
        let differences: Vec<f64> = computed.iter().zip(&ph).map(|(computed, ph)| computed - ph).collect();
        let count = differences.len() as f64;
        let ends = self.doses_s.iter().skip(1).copied().chain([f64::INFINITY]);
        let back_s = self
            .doses_s
            .iter()
            .zip(ends)
            .map(|(from_s, to_s)| [&ph, &computed].map(|ph| back_s(&times_s, ph, *from_s, to_s)));
        let back_s = back_s.collect();
        Some(Overlay {
            every: self.every(most),
            mean_ph: differences.iter().sum::<f64>() / count,
            rms_ph: (differences.iter().map(|d| d * d).sum::<f64>() / count).sqrt(),
            computed,
            back_s,
        })
    }

    /// How much higher than computed the recording lies at rest, pH: at the last reading before each next dose, where both are
    /// back by then.
    pub fn at_rest(&self, overlay: &Overlay) -> Vec<f64> {
        let ends = self.doses_s.iter().skip(1).map(|at_s| self.probe.time_s.partition_point(|time_s| time_s < at_s));
        let rests = ends.chain([self.probe.ph.len()]).zip(&overlay.back_s);
        let back = rests.filter(|(end, both)| *end > 0 && both.iter().all(Option::is_some));
        let at = back.map(|(end, _)| (end - 1) / overlay.every);
        at.map(|at| self.probe.ph[at * overlay.every] - overlay.computed[at]).collect()
    }

    /// The beaker with its doses, followed to the end of the recording. Its clock is the recording's.
    fn course(&self, bench: &Bench, values: &Values) -> Option<Course> {
        let mut course = bench.begin(values, self.celsius, Bath::Held)?;
        for (step, at_s) in bench.steps().iter().zip(self.doses_s) {
            course.act(at_s.max(0.0), Action::Pour(bench.pour(step))).ok()?;
        }
        course.reach(*self.probe.time_s.last()?).ok()?;
        Some(course)
    }

    fn curve(&self, course: &Course, lag_s: f64, times_s: &[f64]) -> Vec<f64> {
        if lag_s <= 0.0 {
            return times_s.iter().map(|time_s| course.ph(*time_s)).collect();
        }
        // Between two readings the electrode goes its own way: it is followed wherever the pH bends, and shown at the readings.
        let bends = course.bends_s(LAG_STEP_S);
        let (mut fine_s, mut shown) = (Vec::new(), Vec::with_capacity(times_s.len()));
        let mut next = bends.partition_point(|at_s| Some(at_s) <= times_s.first());
        for time_s in times_s {
            let between = bends[next..].iter().take_while(|at_s| *at_s < time_s);
            fine_s.extend(between);
            next += bends[next..].partition_point(|at_s| at_s <= time_s);
            shown.push(fine_s.len());
            fine_s.push(*time_s);
        }
        let ph: Vec<f64> = fine_s.iter().map(|time_s| course.ph(*time_s)).collect();
        let seen = lagged(&fine_s, &ph, lag_s);
        shown.into_iter().map(|index| seen[index]).collect()
    }
}

/// Seconds from a time until a curve rises through pH 7, before another time.
fn back_s(times_s: &[f64], ph: &[f64], from_s: f64, to_s: f64) -> Option<f64> {
    let first = times_s.partition_point(|time_s| *time_s < from_s);
    let mut below = false;
    for index in first..ph.len() {
        if times_s[index] >= to_s {
            return None;
        }
        if below && ph[index] >= BACK_PH {
            let share = (BACK_PH - ph[index - 1]) / (ph[index] - ph[index - 1]);
            return Some(times_s[index - 1] + share * (times_s[index] - times_s[index - 1]) - from_s);
        }
        below = ph[index] < BACK_PH;
    }
    None
}

/// Fits unknowns of the model to recordings of one or more beakers of a lesson. The difference at a reading is one of pH.
///
/// Readings of one curve hang together: an error at one goes on at the next. The ranges are widened as for so many fewer
/// readings as the differences' likeness from one to the next asks for (Bayley & Hammersley 1946, *J. R. Stat. Soc. Suppl.* 8,
/// 184; from memory).
///
/// # Errors
/// A [`FitError`] where nothing can be fitted.
pub fn fit_curves(lesson: &Lesson, runs: &[Run], wanted: &[Unknown]) -> Result<Fit, FitError> {
    let bench = Bench::of(lesson);
    let most = bench.steps().len();
    if let Some(run) = runs.iter().find(|run| run.doses_s.len() > most || run.doses_s.is_empty()) {
        return Err(FitError::NoSuchDose { dose: run.doses_s.len() as u32 });
    }
    let before = Values::of(lesson);
    let (mut unknowns, mut untold) = (Vec::new(), Vec::new());
    for unknown in Unknown::ALL.into_iter().filter(|unknown| wanted.contains(unknown)) {
        match silence(lesson, runs, unknown) {
            Some(reason) => untold.push(Untold { unknown, reason }),
            None => unknowns.push(unknown),
        }
    }
    // A lag of nothing has a corner there: the search begins beside it.
    let before = if unknowns.contains(&Unknown::Lag) { Values { lag_s: 1.0, ..before } } else { before };
    let thinned: Vec<(Vec<f64>, Vec<f64>)> = runs.iter().map(Run::fitted_readings).collect();
    let measured: Vec<f64> = thinned.iter().flat_map(|(_, ph)| ph.iter().copied()).collect();
    let mut differences = |values: &Values, left: &mut [f64]| {
        let mut from = 0;
        for (run, (times_s, ph)) in runs.iter().zip(&thinned) {
            let Some(course) = run.course(&bench, values) else { return false };
            for (computed, ph) in run.curve(&course, values.lag_s, times_s).iter().zip(ph) {
                left[from] = computed - ph;
                from += 1;
            }
        }
        true
    };
    // A pH that rises by four units within seconds bends within any step.
    let (mut minimum, values) = search(before, &mut unknowns, &mut untold, measured.len(), true, &mut differences)?;
    minimum.hang_together(kinship(&minimum.residuals));
    let points = measured.iter().zip(&minimum.residuals).map(|(ph, left)| (*ph, ph + left)).collect();
    Ok(told(&minimum, Values { lag_s: 0.0, ..before }, values, &unknowns, untold, points))
}

impl Run<'_> {
    /// Times, s, and pH of the readings that a fit looks at: its points are these of every recording in turn.
    pub fn fitted_readings(&self) -> (Vec<f64>, Vec<f64>) {
        self.thinned(POINTS)
    }

    fn thinned(&self, most: usize) -> (Vec<f64>, Vec<f64>) {
        let thin = |values: &[f64]| values.iter().step_by(self.every(most)).copied().collect();
        (thin(&self.probe.time_s), thin(&self.probe.ph))
    }

    fn every(&self, most: usize) -> usize {
        self.probe.ph.len().div_ceil(most.max(1)).max(1)
    }
}

fn silence(lesson: &Lesson, runs: &[Run], unknown: Unknown) -> Option<&'static str> {
    let celsius = |extreme: fn(f64, f64) -> f64| runs.iter().map(|run| run.celsius).reduce(extreme).unwrap_or(0.0);
    let one_temperature = celsius(f64::max) - celsius(f64::min) < LEAST_SPAN_K;
    let late = || {
        let steps = lesson.steps();
        let end = crate::lesson::EndPoint::of(&lesson.computed_recipe(), &steps)?;
        let acid = |run: &Run| steps.iter().zip(run.doses_s).filter(|(step, _)| step.reagent == Reagent::Acid).count();
        Some(runs.iter().any(|run| acid(run) as f64 >= super::fit::LATE_DOSE * end.exact))
    };
    match unknown {
        Unknown::Energy if one_temperature => Some("oneTemperature"),
        Unknown::Strength if late() != Some(true) => Some("noLateDose"),
        _ => None,
    }
}

/// How many readings say as much as one that stood alone, from the likeness of neighbours: (1 + r)/(1 - r).
fn kinship(residuals: &[f64]) -> f64 {
    let squares: f64 = residuals.iter().map(|left| left * left).sum();
    let alike: f64 = residuals.windows(2).map(|two| two[0] * two[1]).sum();
    let likeness = if squares > 0.0 { (alike / squares).max(0.0) } else { 0.0 };
    ((1.0 + likeness) / (1.0 - likeness)).min(MOST_KIN)
}
