//! What the lesson will do and need, for the one who plans it.

use serde::Serialize;

use crate::chemistry::Reagent;
use crate::colour::Band;
use crate::lesson::{
    Amounts, At, Beaker, EndPoint, FULLEST_SHARE, Field, Fitted, Freeboard, KINDS, Lesson, TreeError, subject_beaker,
};
use crate::session::{Expected, SPEEDS, expected};

use super::Screen;
use super::bottle::BottleView;
use super::explanation::{Reason, reason, rounded};
use super::ledger::LedgerFigures;
use super::outline::PlaceView;
use super::reply::Reply;

/// Time that a class takes besides watching, s: this program's choice, to be seen on the plan.
/// For each question; to say what was seen and to read why, after a dose of one question and
/// of more; for the brief; for the end.
const QUESTION_S: f64 = 15.0;
const SHORT_TALK_S: f64 = 10.0;
const LONG_TALK_S: f64 = 45.0;
const BRIEF_S: f64 = 120.0;
const END_S: f64 = 120.0;

/// How many beakers' paths are kept: those of the last two plans.
const KEPT_PATHS: usize = 6;

/// What a plan foretells.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct PlanView {
    /// True.
    pub ok: bool,
    /// How many beakers are still to be computed: ask again.
    pub pending: usize,
    /// What each dose will do, by beaker; none where it is still to be computed.
    pub beakers: Vec<Option<Vec<DoseView>>>,
    /// Every place of the lesson with what is asked there, from the brief to the end.
    pub places: Vec<PlaceView>,
    /// The beaker that the predictions are about, from 0.
    pub subject: usize,
    /// The books of the whole lesson, from the start.
    pub ledger: Vec<LedgerFigures>,
    /// The end point by the bookkeeping; none without acid.
    pub end_point: Option<EndPoint>,
    /// The same for the fitted strength, where there is one.
    pub fitted_end: Option<EndPoint>,
    /// The bottle, where a class has fitted it.
    pub bottle: Option<BottleView>,
    /// How full the fullest beaker gets.
    pub freeboard: Freeboard,
    /// What the beakers of this bench need, without spare doses.
    pub amounts: Amounts,
    /// Minutes that a class thinks and talks.
    pub talk_min: f64,
    /// How long the lesson takes at each speed.
    pub speeds: Vec<SpeedView>,
    /// The slowest speed at which it fits into the slot; none where none does, or nothing is
    /// said of a slot.
    pub speed: Option<u32>,
    /// What to think about, as keys with numbers.
    pub warnings: Vec<Reason>,
}

/// What one dose will do in one beaker.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct DoseView {
    /// Seconds to turn back; none where it does not before the rest is over.
    pub seconds: Option<f64>,
    /// Key of the colour at once.
    pub band_at_once: &'static str,
    /// Key of the colour at rest.
    pub band_at_rest: &'static str,
    /// Key of the clarity at rest.
    pub clarity: &'static str,
    /// pH at rest.
    pub ph: f64,
    /// Solid at rest, g.
    pub solid_g: f64,
}

/// How long the lesson takes at a speed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SpeedView {
    /// Seconds of the lesson in one real second.
    pub speed: u32,
    /// Minutes of the room.
    pub minutes: f64,
    /// Does it fit into the slot?
    pub fits: bool,
}

/// What is handed to a plan.
pub type Draft = Result<Lesson, TreeError>;

impl Screen {
    /// What a draft of a lesson (or the lesson itself) will do within so many minutes; 0 where
    /// nothing is said of a slot. Each call computes one beaker at most, so that a page can
    /// follow the typing hand: it asks again while something is pending.
    ///
    /// # Errors
    /// lessonOpen while a guided lesson is under way: the plan would give its outcome away.
    /// Refused values of the draft, with their places; model.
    pub fn plan(&mut self, minutes: f64, draft: Option<Draft>) -> Result<PlanView, Reply> {
        if self.session.is_under_way() {
            return Err(Reply::refused("lessonOpen"));
        }
        let lesson = match draft {
            Some(draft) => draft.map_err(|error| Reply::of_tree(&error))?,
            None => self.session.lesson().clone(),
        };
        let paths = self.paths(&lesson).ok_or_else(|| Reply::refused("model"))?;
        Ok(PlanView::of(&lesson, minutes, &paths))
    }

    /// The paths of a lesson's beakers as far as they are known, after computing one more.
    fn paths(&mut self, lesson: &Lesson) -> Option<Vec<Option<Vec<Expected>>>> {
        let mut computed = false;
        let mut paths = Vec::new();
        for (index, &beaker) in lesson.recipe.beakers().iter().enumerate() {
            let key = path_key(lesson, beaker);
            let known = self.paths.iter().position(|(known, _)| *known == key);
            let path = match known {
                Some(at) => Some(self.paths[at].1.clone()),
                None if computed => None,
                None => {
                    computed = true;
                    let path = expected(lesson, index).ok()?;
                    if self.paths.len() == KEPT_PATHS {
                        self.paths.remove(0);
                    }
                    self.paths.push((key, path.clone()));
                    Some(path)
                }
            };
            paths.push(path);
        }
        Some(paths)
    }
}

/// What a path hangs on: the numbers of the recipe, one beaker's surroundings, and the doses.
pub(super) type PathKey = Vec<u64>;

fn path_key(lesson: &Lesson, beaker: Beaker) -> PathKey {
    let recipe = &lesson.computed_recipe();
    let room_c = recipe.value(Field::RoomC);
    let mut key: PathKey = Field::ALL.into_iter().map(|field| recipe.value(field).to_bits()).collect();
    let kind = KINDS.iter().position(|kind| *kind == beaker.kind()).unwrap_or_default();
    key.extend([kind as u64, beaker.start_c(room_c).to_bits(), beaker.ice_g().to_bits()]);
    key.extend(lesson.fitted.iter().flat_map(Fitted::numbers).map(f64::to_bits));
    for step in lesson.steps() {
        key.extend([step.reagent as u64, step.volume_ml.to_bits(), step.rest_s.to_bits()]);
    }
    key
}

impl PlanView {
    fn of(lesson: &Lesson, minutes: f64, paths: &[Option<Vec<Expected>>]) -> PlanView {
        let (recipe, steps) = (&lesson.recipe, lesson.steps());
        let (watch_s, talk_s) = times(lesson);
        let speed = |speed: u32| {
            let minutes_at = (watch_s / f64::from(speed) + talk_s) / 60.0;
            SpeedView { speed, minutes: minutes_at, fits: minutes > 0.0 && minutes_at <= minutes }
        };
        let speeds = SPEEDS.map(speed);
        let dose = |expected: &Expected| DoseView {
            seconds: expected.turned_back_s,
            band_at_once: Band::of_ph(expected.ph_at_once).key(),
            band_at_rest: Band::of_ph(expected.ph_at_rest).key(),
            clarity: expected.clarity_at_rest.key(),
            ph: expected.ph_at_rest,
            solid_g: expected.solid_g,
        };
        let mut view = PlanView {
            ok: true,
            pending: paths.iter().filter(|path| path.is_none()).count(),
            beakers: paths.iter().map(|path| path.as_ref().map(|path| path.iter().map(dose).collect())).collect(),
            places: PlaceView::all(lesson),
            subject: subject_beaker(recipe),
            ledger: LedgerFigures::of_lesson(lesson),
            end_point: EndPoint::of(recipe, &steps),
            fitted_end: EndPoint::as_fitted(lesson),
            bottle: BottleView::of(lesson),
            freeboard: Freeboard::of(recipe, &steps),
            amounts: Amounts::of(recipe, &steps, recipe.beakers().len() as u32, 0),
            talk_min: talk_s / 60.0,
            speed: speeds.iter().find(|speed| speed.fits).map(|speed| speed.speed),
            speeds: speeds.to_vec(),
            warnings: Vec::new(),
        };
        view.warnings = view.warn(lesson, minutes);
        view
    }

    fn warn(&self, lesson: &Lesson, minutes: f64) -> Vec<Reason> {
        let steps = lesson.steps();
        let acid_doses = steps.iter().filter(|step| step.reagent == Reagent::Acid).count() as f64;
        let board = &self.freeboard;
        let mut warnings = Vec::new();
        if let Some(end) = self.fitted_end.or(self.end_point) {
            let needed = f64::from(end.dose);
            if !end.reached {
                warnings.push(reason("noEndPoint", &[("doses", acid_doses), ("needed", needed)]));
            } else if self.fitted_end.is_none() && f64::from(end.most_dose) > acid_doses {
                warnings.push(reason("perhapsLater", &[("doses", acid_doses), ("most", f64::from(end.most_dose))]));
            }
        } else {
            warnings.push(reason("noAcid", &[]));
        }
        if minutes > 0.0 && self.speed.is_none() {
            let fastest = self.speeds[self.speeds.len() - 1].minutes;
            warnings.push(reason("slotTooShort", &[("minutes", minutes), ("needed", rounded(fastest, 0))]));
        }
        if board.warns_with_reversal {
            let key = if board.warns_without_reversal { "tooFull" } else { "tooFullWithReversal" };
            let numbers = [
                ("endMl", board.end_ml),
                ("fullestMl", board.fullest_ml),
                ("percent", FULLEST_SHARE * 100.0),
                ("enoughMl", board.enough_vessel_ml.unwrap_or_default()),
            ];
            warnings.push(reason(key, &numbers));
        }
        warnings.extend(self.not_back(lesson));
        warnings
    }

    /// For each beaker its first dose that leaves solid over, and yet does not turn back.
    fn not_back(&self, lesson: &Lesson) -> Vec<Reason> {
        let steps = lesson.steps();
        let end = self.fitted_end.or(self.end_point).map_or(0, |end| end.dose);
        let first = |(beaker, path): (usize, &Option<Vec<DoseView>>)| {
            let doses = path.as_ref()?.iter().zip(&steps);
            let (_, step) = doses
                .take_while(|(_, step)| step.reagent == Reagent::Acid && step.number < end)
                .find(|(dose, _)| dose.seconds.is_none() && dose.ph < 7.0)?;
            let numbers = [("beaker", beaker as f64), ("dose", f64::from(step.number)), ("restS", step.rest_s)];
            Some(reason("notBack", &numbers))
        };
        self.beakers.iter().enumerate().filter_map(first).collect()
    }
}

/// Seconds of the lesson's clock, and seconds of thinking and talking.
fn times(lesson: &Lesson) -> (f64, f64) {
    let steps = lesson.steps();
    let watch_s = steps.iter().map(|step| step.rest_s).sum();
    let asked_s = |at| QUESTION_S * lesson.asks(at).len() as f64;
    let dose_s = |index| {
        let one = lesson.asks(At::Step(index)).len() <= 1;
        asked_s(At::Step(index)) + if one { SHORT_TALK_S } else { LONG_TALK_S }
    };
    let doses_s: f64 = (0..steps.len()).map(dose_s).sum();
    (watch_s, BRIEF_S + asked_s(At::Brief) + doses_s + asked_s(At::End) + END_S)
}
