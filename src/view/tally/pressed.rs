//! Times that were pressed at the beakers on the screen, as rows for the table of measured times.
//!
//! They are observations of the model, not of a bottle: fitted, they give the lesson's own numbers back as well as a hand can
//! time. So they stand beside what was measured at real beakers and are never fitted together with it.

use serde::Serialize;

use crate::chemistry::Reagent;
use crate::colour::Band;
use crate::constants::CELSIUS_ZERO_K;
use crate::lesson::{Sheet, latest_run};

use super::super::explanation::rounded;
use super::{ClassRun, Reply, Screen, Spread};

/// Pressed times of the lesson that is open here.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct PressedView {
    /// True.
    pub ok: bool,
    /// Code of the lesson at whose beakers they were pressed.
    pub lesson_code: String,
    /// By dose, beaker and finish.
    pub rows: Vec<PressedRow>,
    /// Presses that were taken back, and so are in no row.
    pub taken_back: usize,
    /// How long after the computed time the presses came, s; before it where it is negative.
    pub delay: Option<Spread>,
}

/// One of them, or the middle of several.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct PressedRow {
    /// Which acid dose, from 1.
    pub dose: u32,
    /// Computed temperature of the beaker at the pour, °C.
    pub start_c: f64,
    /// The same when it was pressed, °C.
    pub end_c: f64,
    /// Seconds after the start of the pour.
    pub seconds: f64,
    /// Key of the colour that the beaker had to show all through.
    pub finish: &'static str,
    /// Which beaker, from 1.
    pub beaker: usize,
    /// Who pressed: the name on the slip, else its file; empty for this device, and for a middle.
    pub from: String,
    /// How many presses stand behind it.
    pub count: usize,
}

impl Screen {
    /// Times that were pressed at the computed beakers: this device's "own" in its latest run, those of "each" opened slip, or
    /// the middle one ("medians") of the slips for every dose, beaker and finish.
    ///
    /// # Errors
    /// `lessonOpen` while a guided lesson is under way; `unknown` for another kind; `model`.
    pub fn pressed_times(&mut self, kind: &str) -> Result<PressedView, Reply> {
        let own = latest_run(self.session.record()).0.to_vec();
        let (run, pile) = self.class_run()?;
        let doses = run.session.steps().len();
        let sheets: Vec<(String, Sheet)> = match kind {
            "own" => vec![(String::new(), Sheet::of(&own, doses))],
            "each" | "medians" => {
                let counted = pile.sorted(run.code).counted;
                let sheet = |counted: &crate::lesson::Counted<'_>| {
                    (counted.who().to_owned(), Sheet::of(&counted.slip.entries, doses))
                };
                counted.iter().map(sheet).collect()
            }
            _ => return Err(Reply::refused("unknown")),
        };
        Ok(run.pressed(&sheets, kind == "medians"))
    }
}

impl ClassRun {
    /// Runs `take` for every dose of acid, beaker and finish with the times that stand for it, each with its sheet's place.
    pub(super) fn each_pressed<'a>(
        &self,
        sheets: impl Iterator<Item = &'a Sheet> + Clone,
        take: &mut dyn FnMut(usize, usize, Band, Vec<(usize, f64)>),
    ) {
        let doses = self.session.answers().iter().zip(self.session.steps()).enumerate();
        for (dose, _) in doses.filter(|(_, (_, step))| step.reagent == Reagent::Acid) {
            for beaker in 0..self.session.bench().len() {
                for finish in Band::ALL {
                    let times = sheets.clone().enumerate().flat_map(|(place, sheet)| {
                        let times = sheet.doses.get(dose).map_or(&[][..], |said| &said.times);
                        times.iter().map(move |time| (place, time))
                    });
                    let stand =
                        times.filter(|(_, time)| !time.taken_back && time.beaker == beaker && time.finish == finish);
                    let stand: Vec<(usize, f64)> =
                        stand.map(|(place, time)| (place, f64::from(time.since_ds) / 10.0)).collect();
                    if !stand.is_empty() {
                        take(dose, beaker, finish, stand);
                    }
                }
            }
        }
    }

    /// Computed temperature of a beaker so many seconds after the pour of a dose, °C; of its end where that is later.
    pub(super) fn celsius(&self, dose: usize, beaker: usize, seconds: f64) -> f64 {
        let poured_s = self.session.answers().get(dose).map_or(0.0, |answer| answer.poured_s());
        let at_s = (poured_s + seconds).min(self.session.clock().now_s());
        rounded(self.session.reading(beaker, at_s).temperature_k - CELSIUS_ZERO_K, 1)
    }

    fn pressed(&self, sheets: &[(String, Sheet)], medians: bool) -> PressedView {
        let (mut rows, mut delays) = (Vec::new(), Vec::new());
        self.each_pressed(sheets.iter().map(|(_, sheet)| sheet), &mut |dose, beaker, finish, stand| {
            let computed =
                self.session.answers().get(dose).and_then(|answer| self.session.finish_s(answer, beaker, finish));
            delays
                .extend(computed.iter().flat_map(|computed| stand.iter().map(move |(_, seconds)| seconds - computed)));
            let mut add = |from: &str, seconds: f64, count: usize| {
                rows.push(PressedRow {
                    dose: self.session.steps().get(dose).map_or(0, |step| step.number),
                    start_c: self.celsius(dose, beaker, 0.0),
                    end_c: self.celsius(dose, beaker, seconds),
                    seconds,
                    finish: finish.key(),
                    beaker: beaker + 1,
                    from: from.to_owned(),
                    count,
                });
            };
            if medians {
                let spread = Spread::of(stand.iter().map(|(_, seconds)| *seconds).collect());
                spread.iter().for_each(|spread| add("", spread.middle, spread.n));
            } else {
                stand.iter().for_each(|(place, seconds)| add(&sheets[*place].0, *seconds, 1));
            }
        });
        let times = sheets.iter().flat_map(|(_, sheet)| sheet.doses.iter().flat_map(|said| &said.times));
        PressedView {
            ok: true,
            lesson_code: self.code.to_string(),
            rows,
            taken_back: times.filter(|time| time.taken_back).count(),
            delay: Spread::of(delays),
        }
    }
}
