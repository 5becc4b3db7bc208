//! What a class measured beside the model: tables, recordings, fits.

use serde::Serialize;

use super::Screen;
use super::reply::{FieldTrouble, Reply};
use crate::chemistry::Reagent;
use crate::lesson::Lesson;
use crate::measure::{
    Cause, Delimiter, Fit, FitError, LITERATURE, Mark, Overlay, Probe, ProbeError, Row, RowTrouble, Run, Shape,
    TimeUnit, Timing, Unknown, Untold, Values, Wishes, computed_times, fit_curves, fit_times, straight_lines, timings,
};

/// The recording that is looked at, the curve beside it, and what was fitted last.
#[derive(Debug, Default)]
pub(super) struct Measured {
    probe: Option<Probe>,
    computed: Vec<f64>,
    /// Fitted values, and to how many measurements.
    fitted: Option<(Values, usize)>,
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
pub struct FitView {
    /// True.
    pub ok: bool,
    /// Key; value, low and high end of the 95 % range, and what it was before.
    pub estimates: Vec<(&'static str, Vec<f64>)>,
    /// Key and reason of what cannot be told.
    pub untold: Vec<[&'static str; 2]>,
    /// The row of each point (its number, for a curve), from 0; measured, computed, studentised residual, 1 for a misfit.
    pub points: Vec<Vec<f64>>,
    /// Two keys; their correlation, then the corners of their outline, both numbers of each in turn.
    pub pairs: Vec<([&'static str; 2], Vec<f64>)>,
    /// Scatter of a measurement: a share of a time, or pH; points less unknowns; how often the model was computed.
    pub scatter: Vec<f64>,
    /// Straight lines: dose and finish; energy of the measured line, its range (NaN for two points), energy of the model's line.
    pub lines: Vec<(&'static str, Vec<f64>)>,
    /// Usual causes of the difference to the lesson as it was, the likest first: key and source.
    pub causes: Vec<[&'static str; 2]>,
    /// Key and source of what the literature says; low and high.
    pub literature: Vec<([&'static str; 2], Vec<f64>)>,
}

/// A recording as it was read.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct ProbeView {
    /// True.
    pub ok: bool,
    /// How many readings, and over how many seconds.
    pub rows: usize,
    /// See `rows`.
    pub seconds: f64,
    /// Keys of encoding, delimiter, decimal mark and time's unit.
    pub assumed: [&'static str; 4],
    /// Columns of time and of pH, from 0.
    pub columns: Vec<usize>,
    /// Names of all columns.
    pub names: Vec<String>,
    /// Rows that were passed over, and the line of the first (0 for none).
    pub passed_over: Vec<usize>,
    /// When doses seem to have been poured, s of the recording.
    pub falls: Vec<f64>,
}

/// The model's curve beside a recording.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct OverlayView {
    /// True.
    pub ok: bool,
    /// Mean of computed less measured, pH.
    pub mean_ph: f64,
    /// Root of its mean square, pH.
    pub rms_ph: f64,
    /// For each dose seconds to pH 7, measured and computed; NaN where it is not back.
    pub back_s: Vec<Vec<f64>>,
    /// Usual causes: key and source.
    pub causes: Vec<[&'static str; 2]>,
}

impl DataRefusal {
    fn of(key: &'static str, first: f64, second: f64) -> DataRefusal {
        DataRefusal { ok: false, key, first, second, untold: Vec::new(), errors: Vec::new() }
    }

    fn of_fit(error: &FitError) -> DataRefusal {
        let (first, second) = match error {
            FitError::TooFew { points, unknowns } => (*points as f64, *unknowns as f64),
            FitError::NoSuchDose { dose } => (f64::from(*dose), 0.0),
            FitError::NothingToTell(_) | FitError::Lost => (0.0, 0.0),
        };
        let untold = if let FitError::NothingToTell(untold) = error { keys_of(untold) } else { Vec::new() };
        DataRefusal { untold, ..DataRefusal::of(error.key(), first, second) }
    }

    fn of_probe(error: ProbeError) -> DataRefusal {
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

fn told(causes: &[&'static Cause]) -> Vec<[&'static str; 2]> {
    causes.iter().map(|cause| [cause.key, cause.source]).collect()
}

fn unknowns(wanted: &[String]) -> Vec<Unknown> {
    wanted.iter().filter_map(|key| Unknown::of_key(key)).collect()
}

impl FitView {
    fn of(fit: &Fit, rows: &[usize], timings: &[Timing], causes: Vec<[&'static str; 2]>) -> FitView {
        let computed: Vec<f64> = fit.points.iter().map(|point| point.computed).collect();
        let point = |(index, point): (usize, &crate::measure::FittedPoint)| {
            let row = rows.get(index).copied().unwrap_or(index) as f64;
            vec![row, point.measured, point.computed, point.studentised, f64::from(u8::from(point.misfit))]
        };
        let line = |line: &crate::measure::DoseLine| {
            let [low, high] = line.measured.range.unwrap_or([f64::NAN; 2]);
            let energies = [line.measured.energy_kj_mol, low, high, line.computed.energy_kj_mol];
            (line.finish.key(), [&[f64::from(line.dose)], energies.as_slice()].concat())
        };
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
            lines: straight_lines(timings, &computed).iter().map(line).collect(),
            causes,
            literature: LITERATURE
                .iter()
                .map(|row| ([row.unknown.key(), row.source], vec![row.low, row.high]))
                .collect(),
        }
    }
}

impl Screen {
    /// Fits unknowns (by their keys) to a table of times.
    ///
    /// # Errors
    /// Refused cells, or why nothing can be told; lessonOpen while a guided lesson is under way: the model's times would give
    /// its outcome away.
    pub fn fit_times(&mut self, rows: &[Row], wanted: &[String]) -> Result<FitView, DataRefusal> {
        self.check_closed()?;
        let lesson = self.session.lesson();
        let doses = lesson.steps().iter().filter(|step| step.reagent == Reagent::Acid).count() as u32;
        let (places, timings): (Vec<usize>, Vec<Timing>) =
            timings(rows, doses).map_err(|troubles| DataRefusal::of_rows(&troubles))?.into_iter().unzip();
        let fit = fit_times(lesson, &timings, &unknowns(wanted)).map_err(|error| DataRefusal::of_fit(&error))?;
        let before = computed_times(lesson, &Values::of(lesson), &timings).unwrap_or_default();
        let causes = Shape::of_times(&timings, &before).causes();
        self.measured.fitted = Some((fit.values, timings.len()));
        Ok(FitView::of(&fit, &places, &timings, told(&causes)))
    }

    /// Reads a probe's file, with wishes by their keys (delimiter, decimal mark, time's unit, columns of time and pH); an empty
    /// one leaves it open.
    ///
    /// # Errors
    /// Why it cannot be read. What was read before stays.
    pub fn read_probe(&mut self, bytes: &[u8], wishes: &[String]) -> Result<ProbeView, DataRefusal> {
        let wish = |index: usize| wishes.get(index).map_or("", String::as_str);
        let wishes = Wishes {
            delimiter: Delimiter::of_key(wish(0)),
            mark: Mark::of_key(wish(1)),
            time_unit: TimeUnit::of_key(wish(2)),
            time_column: wish(3).parse().ok(),
            ph_column: wish(4).parse().ok(),
        };
        let probe = Probe::read(bytes, &wishes).map_err(DataRefusal::of_probe)?;
        let assumed = &probe.assumed;
        let view = ProbeView {
            ok: true,
            rows: probe.ph.len(),
            seconds: probe.time_s.last().copied().unwrap_or(0.0),
            assumed: [assumed.encoding.key(), assumed.delimiter.key(), assumed.mark.key(), assumed.time_unit.key()],
            columns: vec![assumed.time_column, assumed.ph_column],
            names: assumed.columns.iter().map(|column| column.name.clone()).collect(),
            passed_over: vec![assumed.passed_over, assumed.first_passed_over.unwrap_or(0)],
            falls: probe.falls_s(),
        };
        self.measured.computed.clear();
        self.measured.probe = Some(probe);
        Ok(view)
    }

    /// A column of the recording: "time", "ph", or "computed" for the curve beside it.
    pub fn probe_column(&self, name: &str) -> Vec<f64> {
        let probe = self.measured.probe.as_ref();
        match name {
            "time" => probe.map(|probe| probe.time_s.clone()).unwrap_or_default(),
            "ph" => probe.map(|probe| probe.ph.clone()).unwrap_or_default(),
            _ => self.measured.computed.clone(),
        }
    }

    /// Lays the model's curve beside the recording: doses at these seconds of it, a beaker of this temperature, an electrode of
    /// this lag, s; with the values fitted last, or the lesson's.
    ///
    /// # Errors
    /// lessonOpen, noProbe, doses, model.
    pub fn overlay(
        &mut self,
        doses_s: &[f64],
        celsius: f64,
        lag_s: f64,
        fitted: bool,
    ) -> Result<OverlayView, DataRefusal> {
        let lesson = self.check_run(doses_s, celsius)?;
        let values = self.measured.fitted.filter(|_| fitted).map_or_else(|| Values::of(&lesson), |(values, _)| values);
        let values = Values { lag_s: lag_s.max(0.0), ..values };
        let probe = self.measured.probe.as_ref().ok_or_else(no_probe)?;
        let run = Run { probe, doses_s, celsius };
        let overlay = run.overlay(&lesson, &values).ok_or_else(|| DataRefusal::of("model", 0.0, 0.0))?;
        let causes = told(&curve_shape(&run, &overlay).causes());
        let seconds = |both: &[Option<f64>; 2]| both.iter().map(|seconds| seconds.unwrap_or(f64::NAN)).collect();
        let view = OverlayView {
            ok: true,
            mean_ph: overlay.mean_ph,
            rms_ph: overlay.rms_ph,
            back_s: overlay.back_s.iter().map(seconds).collect(),
            causes,
        };
        self.measured.computed = overlay.computed;
        Ok(view)
    }

    /// Fits unknowns (by their keys) to the recording.
    ///
    /// # Errors
    /// As [`Screen::overlay`], and why nothing can be told.
    pub fn fit_probe(&mut self, doses_s: &[f64], celsius: f64, wanted: &[String]) -> Result<FitView, DataRefusal> {
        let lesson = self.check_run(doses_s, celsius)?;
        let probe = self.measured.probe.as_ref().ok_or_else(no_probe)?;
        let run = Run { probe, doses_s, celsius };
        let before =
            run.overlay(&lesson, &Values::of(&lesson)).map(|overlay| told(&curve_shape(&run, &overlay).causes()));
        let fit = fit_curves(&lesson, &[run], &unknowns(wanted)).map_err(|error| DataRefusal::of_fit(&error))?;
        self.measured.fitted = Some((fit.values, fit.points.len()));
        Ok(FitView::of(&fit, &[], &[], before.unwrap_or_default()))
    }

    /// Keeps what was fitted last with the lesson, of a day (20261125), and begins the lesson anew.
    pub fn keep_fit(&mut self, date: u32) -> Reply {
        if self.session.is_under_way() {
            return Reply::refused("lessonOpen");
        }
        let Some((values, measurements)) = self.measured.fitted else { return Reply::refused("notNow") };
        match values.fitted(measurements, date) {
            Ok(fitted) => self.open(Lesson { fitted: Some(fitted), ..self.session.lesson().clone() }),
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

    fn check_closed(&self) -> Result<(), DataRefusal> {
        if self.session.is_under_way() { Err(DataRefusal::of("lessonOpen", 0.0, 0.0)) } else { Ok(()) }
    }

    fn check_run(&self, doses_s: &[f64], celsius: f64) -> Result<Lesson, DataRefusal> {
        self.check_closed()?;
        let probe = self.measured.probe.as_ref().ok_or_else(no_probe)?;
        let last_s = probe.time_s.last().copied().unwrap_or(0.0);
        let lesson = self.session.lesson().clone();
        let rising = doses_s.windows(2).all(|two| two[1] > two[0]);
        let inside = doses_s.iter().all(|at_s| *at_s >= 0.0 && *at_s < last_s);
        if doses_s.is_empty() || !rising || !inside || doses_s.len() > lesson.steps().len() {
            return Err(DataRefusal::of("doses", lesson.steps().len() as f64, last_s));
        }
        let [coldest, warmest] = crate::measure::CELSIUS_RANGE;
        if !(celsius >= coldest && celsius <= warmest) {
            return Err(DataRefusal::of("celsius", coldest, warmest));
        }
        Ok(lesson)
    }
}

fn no_probe() -> DataRefusal {
    DataRefusal::of("noProbe", 0.0, 0.0)
}

/// The shape of a curve's difference: at rest is the last reading before each next dose.
fn curve_shape(run: &Run, overlay: &Overlay) -> Shape {
    let probe = run.probe;
    let ends = run.doses_s.iter().skip(1).map(|at_s| probe.time_s.partition_point(|time_s| time_s < at_s));
    let rests = ends.chain([probe.ph.len()]).filter(|end| *end > 0);
    let at_rest: Vec<f64> = rests.map(|end| probe.ph[end - 1] - overlay.computed[end - 1]).collect();
    Shape::of_curve(&overlay.back_s, &at_rest)
}
