//! What a class measured beside the model: tables, recordings, fits.

use serde::Serialize;

use super::Screen;
use super::recordings::Recordings;
use super::reply::{FieldTrouble, Reply};
use crate::chemistry::Reagent;
use crate::constants::CELSIUS_ZERO_K;
use crate::lesson::Lesson;
use crate::measure::{
    Cause, DoseLine, Fit, FitError, LITERATURE, ProbeError, Row, RowTrouble, Shape, Timing, Unknown, Untold, Values,
    common_slopes, fit_times, straight_lines, timings,
};

/// The recordings that were opened, and what was fitted last.
#[derive(Debug, Default)]
pub(super) struct Measured {
    pub(super) recordings: Recordings,
    /// Fitted values, and to how many measurements.
    pub(super) fitted: Option<(Values, usize)>,
}

/// Why something measured was not taken, with two numbers that say more: points and unknowns, lowest and highest, a line, rows,
/// bytes, seconds.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DataRefusal {
    /// False.
    pub ok: bool,
    /// A key of the fit's or the probe's refusals; lessonOpen, noProbe, doses, model.
    pub key: &'static str,
    /// The first number.
    pub first: f64,
    /// The second.
    pub second: f64,
    /// What was asked for and cannot be told: key and reason.
    pub untold: Vec<[&'static str; 2]>,
    /// Cells that were refused; `step` is the row, from 0.
    pub errors: Vec<FieldTrouble>,
}

/// A fit as it is told.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct FitView {
    /// True.
    pub ok: bool,
    /// Key; value, low and high end of the 95 % range, and what it was before.
    pub estimates: Vec<(&'static str, Vec<f64>)>,
    /// Key and reason of what cannot be told.
    pub untold: Vec<[&'static str; 2]>,
    /// The row of each point (its number, for a curve), from 0; measured, computed, studentised residual, 1 for a misfit; for
    /// a curve also the slot of its recording and the second of it.
    pub points: Vec<Vec<f64>>,
    /// Two keys; their correlation, then the corners of their outline, both numbers of each in turn.
    pub pairs: Vec<([&'static str; 2], Vec<f64>)>,
    /// Scatter of a measurement: a share of a time, or pH; points less unknowns; how often the model was computed.
    pub scatter: Vec<f64>,
    /// Straight lines: finish; dose, energy of the measured line, its range (NaN for two points), energy of the model's line, the
    /// energy that the model computes with, height (at 1/T = 0) and slope (K/1000) of the measured line. Last, without finish, dose,
    /// height and slope, what all lines have in common.
    pub lines: Vec<(&'static str, Vec<f64>)>,
    /// Points of these lines: the line's place, 1000/T (1/K), measured ln(1/t).
    pub line_points: Vec<Vec<f64>>,
    /// Usual causes of the difference to the lesson as it was, the likest first: key and source.
    pub causes: Vec<[&'static str; 2]>,
    /// Key and source of what the literature says; low and high.
    pub literature: Vec<([&'static str; 2], Vec<f64>)>,
}

impl DataRefusal {
    pub(super) fn of(key: &'static str, first: f64, second: f64) -> DataRefusal {
        DataRefusal { ok: false, key, first, second, untold: Vec::new(), errors: Vec::new() }
    }

    pub(super) fn of_fit(error: &FitError) -> DataRefusal {
        let (first, second) = match error {
            FitError::TooFew { points, unknowns } => (*points as f64, *unknowns as f64),
            FitError::NoSuchDose { dose } => (f64::from(*dose), 0.0),
            FitError::NothingToTell(_) | FitError::Lost => (0.0, 0.0),
        };
        let untold = if let FitError::NothingToTell(untold) = error { keys_of(untold) } else { Vec::new() };
        DataRefusal { untold, ..DataRefusal::of(error.key(), first, second) }
    }

    pub(super) fn of_probe(error: ProbeError) -> DataRefusal {
        let (first, second) = match error {
            ProbeError::TooLarge { bytes } => (bytes as f64, 0.0),
            ProbeError::TooManyRows { rows } => (rows as f64, 0.0),
            ProbeError::Backwards { line } => (line as f64, 0.0),
            ProbeError::TooLong { seconds } => (seconds, 0.0),
            ProbeError::NotPh { low, high } => (low, high),
            ProbeError::Empty | ProbeError::OneColumn | ProbeError::NoNumbers | ProbeError::OneRow => (0.0, 0.0),
        };
        DataRefusal::of(error.key(), first, second)
    }

    fn of_rows(troubles: &[RowTrouble]) -> DataRefusal {
        let trouble = |trouble: &RowTrouble| FieldTrouble {
            field: Some(trouble.field),
            step: Some(trouble.row),
            min: Some(trouble.range[0]),
            max: Some(trouble.range[1]),
            ..FieldTrouble::of_key(trouble.key, None)
        };
        DataRefusal { errors: troubles.iter().map(trouble).collect(), ..DataRefusal::of("rows", 0.0, 0.0) }
    }
}

fn keys_of(untold: &[Untold]) -> Vec<[&'static str; 2]> {
    untold.iter().map(|untold| [untold.unknown.key(), untold.reason]).collect()
}

pub(super) fn told(causes: &[&'static Cause]) -> Vec<[&'static str; 2]> {
    causes.iter().map(|cause| [cause.key, cause.source]).collect()
}

pub(super) fn unknowns(wanted: &[String]) -> Vec<Unknown> {
    wanted.iter().filter_map(|key| Unknown::of_key(key)).collect()
}

impl FitView {
    pub(super) fn of(fit: &Fit, rows: &[usize], timings: &[Timing], causes: Vec<[&'static str; 2]>) -> FitView {
        let computed: Vec<f64> = fit.points.iter().map(|point| point.computed).collect();
        let point = |(index, point): (usize, &crate::measure::FittedPoint)| {
            let row = rows.get(index).copied().unwrap_or(index) as f64;
            vec![row, point.measured, point.computed, point.studentised, f64::from(u8::from(point.misfit))]
        };
        let energy_kj_mol = Unknown::Energy.told(&fit.values);
        let straight = straight_lines(timings, &computed);
        let mut lines: Vec<(&'static str, Vec<f64>)> = Vec::new();
        let mut line_points = Vec::new();
        for DoseLine { dose, finish, measured, computed } in &straight {
            let [low, high] = measured.range.unwrap_or([f64::NAN; 2]);
            let energies = [measured.energy_kj_mol, low, high, computed.energy_kj_mol, energy_kj_mol];
            let drawn = [measured.line.intercept, 1e-3 * measured.line.slope];
            for timing in timings.iter().filter(|timing| (timing.dose, timing.finish) == (*dose, *finish)) {
                let inverse = 1e3 / (timing.celsius() + CELSIUS_ZERO_K);
                line_points.push(vec![lines.len() as f64, inverse, -libm::log(timing.seconds)]);
            }
            lines.push((finish.key(), [&[f64::from(*dose)], energies.as_slice(), &drawn].concat()));
        }
        if let Some([measured, computed]) = common_slopes(timings, &computed).filter(|_| straight.len() > 1) {
            let [low, high] = measured.range.unwrap_or([f64::NAN; 2]);
            lines.push(("", vec![f64::NAN, measured.energy_kj_mol, low, high, computed.energy_kj_mol, energy_kj_mol]));
        }
        FitView {
            ok: true,
            estimates: fit
                .estimates
                .iter()
                .map(|told| (told.unknown.key(), vec![told.value, told.range[0], told.range[1], told.before]))
                .collect(),
            untold: keys_of(&fit.untold),
            points: fit.points.iter().enumerate().map(point).collect(),
            pairs: fit
                .pairs
                .iter()
                .map(|pair| {
                    let mut numbers = vec![pair.correlation];
                    numbers.extend(pair.outline.iter().flatten());
                    ([pair.one.key(), pair.other.key()], numbers)
                })
                .collect(),
            scatter: vec![fit.deviation, fit.freedom as f64, fit.evaluations as f64],
            lines,
            line_points,
            causes,
            literature: LITERATURE
                .iter()
                .map(|row| ([row.unknown.key(), row.source], vec![row.low, row.high]))
                .collect(),
        }
    }
}

impl Screen {
    /// Fits unknowns (by their keys) to a table of times: measured at real beakers, or `pressed` at the computed ones. The
    /// latter know nothing of a bottle, so that their fit is no cause for a difference, and is not kept.
    ///
    /// # Errors
    /// Refused cells, or why nothing can be told; lessonOpen while a guided lesson is under way: the model's times would give
    /// its outcome away.
    pub fn fit_times(&mut self, rows: &[Row], wanted: &[String], pressed: bool) -> Result<FitView, DataRefusal> {
        self.check_closed()?;
        let lesson = self.session.lesson();
        let doses = lesson.steps().iter().filter(|step| step.reagent == Reagent::Acid).count() as u32;
        let (places, timings): (Vec<usize>, Vec<Timing>) =
            timings(rows, doses).map_err(|troubles| DataRefusal::of_rows(&troubles))?.into_iter().unzip();
        let fit = fit_times(lesson, &timings, &unknowns(wanted)).map_err(|error| DataRefusal::of_fit(&error))?;
        if pressed {
            return Ok(FitView::of(&fit, &places, &timings, Vec::new()));
        }
        let causes = Shape::of_times(&timings, &fit.at_first).causes();
        self.measured.fitted = Some((fit.values, timings.len()));
        Ok(FitView::of(&fit, &places, &timings, told(&causes)))
    }

    /// Keeps what was fitted last with the lesson, of a day (20261125), and begins the lesson anew.
    pub fn keep_fit(&mut self, date: u32) -> Reply {
        if self.session.is_under_way() {
            return Reply::refused("lessonOpen");
        }
        let Some((values, measurements)) = self.measured.fitted else { return Reply::refused("notNow") };
        let lesson = self.session.lesson();
        match values.fitted(&lesson.recipe, measurements, date) {
            Ok(fitted) => self.open(Lesson { fitted: Some(fitted), ..lesson.clone() }),
            Err(error) => Reply::of_fields(&[error]),
        }
    }

    /// Goes back to the bottle as it comes, and begins the lesson anew.
    pub fn drop_fit(&mut self) -> Reply {
        if self.session.is_under_way() {
            return Reply::refused("lessonOpen");
        }
        self.open(Lesson { fitted: None, ..self.session.lesson().clone() })
    }

    pub(super) fn check_closed(&self) -> Result<(), DataRefusal> {
        if self.session.is_under_way() { Err(DataRefusal::of("lessonOpen", 0.0, 0.0)) } else { Ok(()) }
    }
}
