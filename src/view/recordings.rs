//! Recordings of a class's pH probes: read, laid beside the model one by one, fitted together.

use serde::Serialize;

use super::Screen;
use super::our_data::{DataRefusal, FitView, told, unknowns};
use crate::lesson::Lesson;
use crate::measure::{CELSIUS_RANGE, Delimiter, Mark, Probe, Run, Shape, TimeUnit, Values, Wishes, fit_curves};

/// Most recordings that are held at once: three beakers, each four times.
pub const RECORDINGS_MAX: usize = 12;

/// Readings of a recording in which a cause of its difference is sought, at most.
const MOST_COMPARED: usize = 12_000;

/// What was opened, each in its slot.
#[derive(Debug, Default)]
pub(super) struct Recordings([Option<Recording>; RECORDINGS_MAX]);

#[derive(Debug)]
struct Recording {
    probe: Probe,
    /// The curve that was laid beside it last.
    computed: Vec<f64>,
}

/// A recording in its slot, and how it stands to the lesson's doses.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// Which recording, from 0.
    pub slot: usize,
    /// Temperature of its beaker, °C.
    pub celsius: f64,
    /// When the lesson's doses were poured, s of the recording, rising.
    pub doses_s: Vec<f64>,
}

/// How the model's curve is laid beside a recording.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Laying {
    /// Lag of the electrode, s; 0 for none.
    pub lag_s: f64,
    /// With the values fitted last, where there are some; else with the lesson's.
    pub fitted: bool,
    /// Readings that are compared, at most: few while a hand still moves the doses.
    pub most: usize,
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
    /// Every so many readings, from the first on, one was compared.
    pub every: usize,
    /// Mean of computed less measured, pH.
    pub mean_ph: f64,
    /// Root of its mean square, pH.
    pub rms_ph: f64,
    /// For each dose seconds to pH 7, measured and computed; NaN where it is not back.
    pub back_s: Vec<Vec<f64>>,
}

impl Recordings {
    fn probe(&self, slot: usize) -> Result<&Probe, DataRefusal> {
        let recording = self.0.get(slot).and_then(Option::as_ref);
        recording.map(|recording| &recording.probe).ok_or_else(|| DataRefusal::of("noProbe", 0.0, 0.0))
    }
}

impl Placed {
    /// This recording as the fit reads it.
    fn run<'a>(&'a self, recordings: &'a Recordings, lesson: &Lesson) -> Result<Run<'a>, DataRefusal> {
        let probe = recordings.probe(self.slot)?;
        let doses_s = &self.doses_s;
        let last_s = probe.time_s.last().copied().unwrap_or(0.0);
        let most = lesson.steps().len();
        let rising = doses_s.windows(2).all(|two| two[1] > two[0]);
        let inside = doses_s.iter().all(|at_s| *at_s >= 0.0 && *at_s < last_s);
        if doses_s.is_empty() || !rising || !inside || doses_s.len() > most {
            return Err(DataRefusal::of("doses", most as f64, last_s));
        }
        let [coldest, warmest] = CELSIUS_RANGE;
        if !(self.celsius >= coldest && self.celsius <= warmest) {
            return Err(DataRefusal::of("celsius", coldest, warmest));
        }
        Ok(Run { probe, doses_s, celsius: self.celsius })
    }
}

impl Screen {
    /// Reads a probe's file into a slot, with wishes by their keys (delimiter, decimal mark, time's unit, columns of time and
    /// pH); an empty one leaves it open.
    ///
    /// # Errors
    /// Why it cannot be read; tooManyRecordings. What was read before stays.
    pub fn read_probe(&mut self, slot: usize, bytes: &[u8], wishes: &[String]) -> Result<ProbeView, DataRefusal> {
        let wish = |index: usize| wishes.get(index).map_or("", String::as_str);
        let wishes = Wishes {
            delimiter: Delimiter::of_key(wish(0)),
            mark: Mark::of_key(wish(1)),
            time_unit: TimeUnit::of_key(wish(2)),
            time_column: wish(3).parse().ok(),
            ph_column: wish(4).parse().ok(),
        };
        let place = self.measured.recordings.0.get_mut(slot);
        let place = place.ok_or_else(|| DataRefusal::of("tooManyRecordings", RECORDINGS_MAX as f64, 0.0))?;
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
        *place = Some(Recording { probe, computed: Vec::new() });
        Ok(view)
    }

    /// Puts a recording away.
    pub fn drop_probe(&mut self, slot: usize) {
        if let Some(place) = self.measured.recordings.0.get_mut(slot) {
            *place = None;
        }
    }

    /// A column of a recording: "time", "ph", or "computed" for the curve beside it.
    pub fn probe_column(&self, slot: usize, name: &str) -> Vec<f64> {
        let Some(Some(Recording { probe, computed })) = self.measured.recordings.0.get(slot) else { return Vec::new() };
        match name {
            "time" => probe.time_s.clone(),
            "ph" => probe.ph.clone(),
            _ => computed.clone(),
        }
    }

    /// Lays the model's curve beside a recording.
    ///
    /// # Errors
    /// lessonOpen, noProbe, doses, celsius, model.
    pub fn overlay(&mut self, placed: &Placed, laying: Laying) -> Result<OverlayView, DataRefusal> {
        self.check_closed()?;
        let lesson = self.session.lesson().clone();
        let run = placed.run(&self.measured.recordings, &lesson)?;
        let fitted = self.measured.fitted.filter(|_| laying.fitted);
        let values = fitted.map_or_else(|| Values::of(&lesson), |(values, _)| values);
        let values = Values { lag_s: laying.lag_s.max(0.0), ..values };
        let overlay = run.overlay(&lesson, &values, laying.most).ok_or_else(|| DataRefusal::of("model", 0.0, 0.0))?;
        let seconds = |both: &[Option<f64>; 2]| both.iter().map(|seconds| seconds.unwrap_or(f64::NAN)).collect();
        let view = OverlayView {
            ok: true,
            every: overlay.every,
            mean_ph: overlay.mean_ph,
            rms_ph: overlay.rms_ph,
            back_s: overlay.back_s.iter().map(seconds).collect(),
        };
        if let Some(Some(recording)) = self.measured.recordings.0.get_mut(placed.slot) {
            recording.computed = overlay.computed;
        }
        Ok(view)
    }

    /// Fits unknowns (by their keys) to recordings, all at once.
    ///
    /// # Errors
    /// As [`Screen::overlay`], and why nothing can be told.
    pub fn fit_probes(&mut self, placed: &[Placed], wanted: &[String]) -> Result<FitView, DataRefusal> {
        self.check_closed()?;
        let lesson = self.session.lesson().clone();
        let recordings = &self.measured.recordings;
        if placed.is_empty() {
            return Err(DataRefusal::of("noProbe", 0.0, 0.0));
        }
        let runs: Vec<Run> = placed
            .iter()
            .take(RECORDINGS_MAX)
            .map(|placed| placed.run(recordings, &lesson))
            .collect::<Result<_, _>>()?;
        let fit = fit_curves(&lesson, &runs, &unknowns(wanted)).map_err(|error| DataRefusal::of_fit(&error))?;
        // What the electrode adds is no cause of a difference between beakers.
        let before = Values { lag_s: fit.values.lag_s, ..Values::of(&lesson) };
        let laid = runs.iter().filter_map(|run| Some((run.clone(), run.overlay(&lesson, &before, MOST_COMPARED)?)));
        let causes = Shape::of_curves(&laid.collect::<Vec<_>>()).causes();
        let mut view = FitView::of(&fit, &[], &[], told(&causes));
        let origins = runs.iter().zip(placed).flat_map(|(run, placed)| {
            let (times_s, _) = run.fitted_readings();
            times_s.into_iter().map(|time_s| [placed.slot as f64, time_s])
        });
        for (point, origin) in view.points.iter_mut().zip(origins) {
            point.extend(origin);
        }
        self.measured.fitted = Some((fit.values, fit.points.len()));
        Ok(view)
    }
}
