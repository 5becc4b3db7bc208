//! What a student hands in, as the page shows it before it goes; and the student's own times in
//! the dose that is watched.

use serde::Serialize;

use crate::chemistry::Reagent;
use crate::constants::CELSIUS_ZERO_K;
use crate::lesson::{AskEntry, At, DoseSheet, Field, Guess, Sheet, Slip, latest_run};
use crate::session::{FINISHES, Stage};

use super::Screen;
use super::asks::PlaceKey;
use super::explanation::{Told, rounded, told_answers_of};
use super::reply::Reply;

/// A slip, ready to be handed in.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct SlipView {
    /// The line that is handed in.
    pub line: String,
    /// Code of the lesson.
    pub lesson_code: String,
    /// Check code of the run.
    pub run_code: String,
    /// Which try it is, from 1.
    pub attempt: u32,
    /// Was nothing answered yet?
    pub blank: bool,
    /// The name or the code that was typed.
    pub signed: String,
    /// The note that was typed.
    pub note: String,
    /// Answers to questions with choices, in order.
    pub choices: Vec<ChosenView>,
    /// The doses, in order.
    pub doses: Vec<DoseAnswers>,
}

/// A question with choices and its answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChosenView {
    /// brief, end, or the dose from 0.
    pub at: PlaceKey,
    /// The question: its key, or the teacher's own words.
    pub question: AskEntry,
    /// A key, the number of one of the teacher's choices, or free words.
    pub answer: String,
}

/// What was said of a dose.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DoseAnswers {
    /// acid or base.
    pub reagent: &'static str,
    /// From 1 among the doses of the same reagent.
    pub number: u32,
    /// Each question that was answered before the dose.
    pub guess: Vec<(&'static str, Told)>,
    /// Each that was answered after it.
    pub seen: Vec<(&'static str, Told)>,
    /// Times that were taken.
    pub times: Vec<TimeView>,
}

/// A time that was taken.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct TimeView {
    /// Its number among all, for taking it back.
    pub mark: usize,
    /// The beaker, from 0.
    pub beaker: usize,
    /// Its temperature at the pour, °C.
    pub celsius: f64,
    /// Key of the colour that it had to show all through.
    pub finish: &'static str,
    /// Seconds after the start of the pour.
    pub seconds: f64,
    /// Was it taken back?
    pub taken_back: bool,
}

/// The times of the dose under way, and what is computed for them.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct TimingView {
    /// May a time be taken now?
    pub open: bool,
    /// May one be taken back?
    pub undo: bool,
    /// Keys of the colours that may be the finish.
    pub finishes: Vec<&'static str>,
    /// Times of this dose, in order.
    pub times: Vec<TimeView>,
    /// What is computed for each beaker, as far as it may be told.
    pub computed: Vec<Option<f64>>,
    /// For each beaker: was the clock made to leap to its turning back, so that no time can be taken any more?
    pub leapt: Vec<bool>,
}

impl Screen {
    /// What would be handed in now.
    pub fn slip(&self) -> SlipView {
        let session = &self.session;
        let slip = Slip::of(session.lesson().code(), session.reached(), session.record());
        let sheet = Sheet::of(latest_run(session.record()).0, session.steps().len());
        SlipView {
            line: slip.line(),
            lesson_code: slip.lesson.to_string(),
            run_code: slip.reached.code.to_string(),
            attempt: slip.attempt,
            blank: slip.is_blank(),
            signed: slip.signed,
            note: slip.note,
            choices: self.chosen_views(&sheet),
            doses: self.dose_answers(&sheet),
        }
    }

    fn chosen_views(&self, sheet: &Sheet) -> Vec<ChosenView> {
        let view = |(at, ask, answer): &(At, usize, String)| {
            let question = AskEntry::all(&self.session.lesson().asks(*at)).into_iter().nth(*ask)?;
            Some(ChosenView { at: PlaceKey::of(*at), question, answer: answer.clone() })
        };
        sheet.chosen.iter().filter_map(view).collect()
    }

    fn dose_answers(&self, sheet: &Sheet) -> Vec<DoseAnswers> {
        let mut mark = 0;
        let mut views = Vec::new();
        for (dose, step) in sheet.doses.iter().zip(self.session.steps()) {
            let times = dose.times.len();
            views.push(DoseAnswers {
                reagent: step.reagent.key(),
                number: step.number,
                guess: answers(Some(&dose.guess)),
                seen: answers(dose.seen.as_ref()),
                times: self.time_views(dose, mark),
            });
            mark += times;
        }
        views
    }

    /// The times of a dose; `first` is the number of its first among all.
    fn time_views(&self, dose: &DoseSheet, first: usize) -> Vec<TimeView> {
        let view = |(index, time): (usize, &crate::lesson::Time)| TimeView {
            mark: first + index,
            beaker: time.beaker,
            celsius: self.celsius_at(time.beaker, f64::from(dose.poured_ds) / 10.0),
            finish: time.finish.key(),
            seconds: f64::from(time.since_ds) / 10.0,
            taken_back: time.taken_back,
        };
        dose.times.iter().enumerate().map(view).collect()
    }

    fn celsius_at(&self, beaker: usize, time_s: f64) -> f64 {
        let session = &self.session;
        let recipe = &session.lesson().recipe;
        // The beakers of the run are gone when the free bench is set up: what they began with is known.
        let celsius = match recipe.beakers().get(beaker) {
            Some(surroundings) if session.stage() == Stage::Free => surroundings.start_c(recipe.value(Field::RoomC)),
            _ => session.reading(beaker, time_s).temperature_k - CELSIUS_ZERO_K,
        };
        rounded(celsius, 1)
    }

    /// The student's own times in the dose that is watched or was; nothing where none is taken.
    /// What is computed for a beaker is told against the finish that was chosen for it, or
    /// against this one.
    pub fn timing(&self, finish: &str) -> Option<TimingView> {
        let session = &self.session;
        let (_, step) = session.current_step().filter(|(_, step)| step.reagent == Reagent::Acid)?;
        let answer = session.answers().last().filter(|answer| session.steps().get(answer.step) == Some(step))?;
        let wanted = FINISHES.into_iter().find(|band| band.key() == finish)?;
        let times: Vec<TimeView> = session
            .marks()
            .iter()
            .enumerate()
            .filter(|(_, mark)| mark.step == answer.step)
            .map(|(index, mark)| TimeView {
                mark: index,
                beaker: mark.beaker,
                celsius: self.celsius_at(mark.beaker, answer.poured_s()),
                finish: mark.finish.key(),
                seconds: mark.seconds(),
                taken_back: mark.taken_back,
            })
            .collect();
        let computed = |beaker| {
            let finish = session.mark_of(answer.step, beaker).map_or(wanted, |mark| mark.finish);
            session.finish_s(answer, beaker, finish).filter(|_| session.may_tell_time(answer, beaker))
        };
        Some(TimingView {
            open: session.can_mark(),
            undo: matches!(session.stage().key(), "watch" | "see"),
            finishes: FINISHES.into_iter().map(|band| band.key()).collect(),
            times,
            computed: (0..session.bench().len()).map(computed).collect(),
            leapt: (0..session.bench().len()).map(|beaker| session.has_leapt(beaker)).collect(),
        })
    }

    /// Takes the time of a beaker.
    pub fn mark(&mut self, beaker: usize, finish: &str) -> Reply {
        Reply::of(self.session.mark(beaker, finish))
    }

    /// Takes a time back.
    pub fn take_back(&mut self, mark: usize) -> Reply {
        Reply::of(self.session.take_back(mark))
    }

    /// Puts a note down.
    pub fn note(&mut self, text: &str) -> Reply {
        Reply::of(self.session.note(text))
    }

    /// Signs with a name or a code.
    pub fn sign(&mut self, text: &str) -> Reply {
        Reply::of(self.session.sign(text))
    }

    /// Tells what a clock of the room shows, s.
    pub fn room_is(&mut self, clock_s: f64) {
        self.session.room_is(clock_s);
    }

    /// What a device keeps, to go on from here.
    pub fn kept(&self) -> String {
        self.session.kept_text()
    }
}

fn answers(guess: Option<&Guess>) -> Vec<(&'static str, Told)> {
    guess.map_or_else(Vec::new, told_answers_of)
}
