//! A student's own times: from the pour to "It is back", against a finish that was chosen and
//! written down beforehand: this colour, all through. A wrong press can be taken back and stays
//! in the record as one that was.

use crate::chemistry::Reagent;
use crate::colour::Band;
use crate::lesson::{Act, FieldError, Limits, Place, Step};

use super::answers::Answer;
use super::watch::TURNED_BACK_PH;
use super::{Session, SessionError, Stage, seconds_of};

/// The colours that may be chosen as the finish.
pub const FINISHES: [Band; 4] = [Band::Yellow, Band::Green, Band::Teal, Band::Blue];

/// One press of "It is back".
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// Which dose, from 0.
    pub step: usize,
    /// Which beaker, from 0.
    pub beaker: usize,
    /// When, tenths of a second after the start of the pour.
    pub since_ds: u32,
    /// The colour that it had to show all through.
    pub finish: Band,
    /// Was it taken back?
    pub taken_back: bool,
}

impl Mark {
    /// When, s after the start of the pour.
    pub fn seconds(&self) -> f64 {
        seconds_of(self.since_ds)
    }
}

/// The pH that the liquid has when a finish is reached from the acid side: where the colour
/// begins. Green counts from the very pH at which everything else here says "turned back".
pub fn finish_ph(finish: Band) -> f64 {
    if finish == Band::Green { TURNED_BACK_PH } else { finish.from_ph() }
}

impl Session {
    /// May a time be taken now? Only after acid: base brings the colour back within the time of
    /// mixing, and what one would time there is the stirrer.
    pub fn can_mark(&self) -> bool {
        self.stage == Stage::Watch && self.current_step().is_some_and(|(_, step)| step.reagent == Reagent::Acid)
    }

    /// Takes the time of a beaker in the dose under way, by a finish's key.
    ///
    /// # Errors
    /// [`SessionError::NotNow`] unless a dose of acid is watched; [`SessionError::Fields`]:
    /// unknown beaker or finish, `twice` where a time of this beaker already stands, or `leapt`
    /// where the clock was made to leap to its turning back: the time would be the computed one.
    pub fn mark(&mut self, beaker: usize, finish: &str) -> Result<(), SessionError> {
        if self.can_mark() && self.has_leapt(beaker) {
            return Err(refused("leapt"));
        }
        self.put_mark(beaker, finish)
    }

    /// Was the clock made to leap to, or over, a beaker's turning back in the dose under way?
    pub fn has_leapt(&self, beaker: usize) -> bool {
        self.leapt.contains(&beaker)
    }

    /// Takes a time that was let through before, or just now.
    pub(super) fn put_mark(&mut self, beaker: usize, finish: &str) -> Result<(), SessionError> {
        let Some(answer) = self.answers.last().filter(|_| self.can_mark()) else {
            return Err(SessionError::NotNow { stage: self.stage });
        };
        let (step, poured_ds) = (answer.step, answer.poured_ds);
        let finish = FINISHES.into_iter().find(|band| band.key() == finish).ok_or_else(|| refused("unknown"))?;
        if beaker >= self.bench.len() {
            return Err(refused("unknown"));
        }
        if self.mark_of(step, beaker).is_some() {
            return Err(refused("twice"));
        }
        let since_ds = self.past_ds().saturating_sub(poured_ds);
        self.marks.push(Mark { step, beaker, since_ds, finish, taken_back: false });
        self.note_down(self.past_ds(), Act::Mark { beaker, finish });
        Ok(())
    }

    /// Takes a time of the dose under way back; it stays as one that was taken back.
    ///
    /// # Errors
    /// [`SessionError::NotNow`] once the dose is explained; [`SessionError::Fields`]: no such time.
    pub fn take_back(&mut self, mark: usize) -> Result<(), SessionError> {
        if !matches!(self.stage, Stage::Watch | Stage::See) {
            return Err(SessionError::NotNow { stage: self.stage });
        }
        let step = self.answers.last().map(|answer| answer.step);
        let Some(taken) = self.marks.get_mut(mark).filter(|mark| !mark.taken_back && Some(mark.step) == step) else {
            return Err(refused("unknown"));
        };
        taken.taken_back = true;
        self.note_down(self.past_ds(), Act::TakeBack { mark });
        Ok(())
    }

    /// Every time that was taken, in order, those taken back too.
    pub fn marks(&self) -> &[Mark] {
        &self.marks
    }

    /// The time of a beaker in a dose that stands.
    pub fn mark_of(&self, step: usize, beaker: usize) -> Option<&Mark> {
        self.marks.iter().find(|mark| mark.step == step && mark.beaker == beaker && !mark.taken_back)
    }

    /// May the computed time of a beaker in a dose be told? After the student's own, or, without
    /// one, when the dose is at rest or the clock was made to leap there.
    pub fn may_tell_time(&self, answer: &Answer, beaker: usize) -> bool {
        let is_at_rest = |step: &Step| answer.rest_s(step) <= self.clock.now_s();
        let is_last = self.answers.last().is_some_and(|last| last.step == answer.step);
        let is_leapt = is_last && self.has_leapt(beaker);
        is_leapt || self.mark_of(answer.step, beaker).is_some() || self.steps.get(answer.step).is_some_and(is_at_rest)
    }

    /// Seconds from the pour of a dose until a beaker reached a finish, as far as it has come.
    pub fn finish_s(&self, answer: &Answer, beaker: usize, finish: Band) -> Option<f64> {
        let step = self.steps.get(answer.step)?;
        let until_s = answer.rest_s(step).min(self.clock.now_s());
        let at_s = self.bench.crossing_s(beaker, finish_ph(finish), answer.poured_s(), until_s)?;
        Some(at_s - answer.poured_s())
    }

    /// Puts a note down, in place of the one before.
    ///
    /// # Errors
    /// [`SessionError::Fields`]: too long.
    pub fn note(&mut self, text: &str) -> Result<(), SessionError> {
        let text = checked(crate::lesson::paragraphs(text), &NOTE)?;
        self.note_down(self.past_ds(), Act::Note(text));
        Ok(())
    }

    /// Signs with a name or a code, in place of the one before.
    ///
    /// # Errors
    /// [`SessionError::Fields`]: too long.
    pub fn sign(&mut self, text: &str) -> Result<(), SessionError> {
        let text = checked(crate::lesson::line(text), &SIGNED)?;
        self.note_down(self.past_ds(), Act::Sign(text));
        Ok(())
    }
}

fn refused(key: &'static str) -> SessionError {
    SessionError::Fields(vec![FieldError::bare(Place::Pour { key: "mark" }, key)])
}

const fn characters(key: &'static str, max: usize) -> Limits {
    Limits { key, unit: "", min: 0.0, max: max as f64, default: 0.0, decimals: 0, finest: 0 }
}

static NOTE: Limits = characters("note", crate::lesson::NOTE_MAX_CHARS);
static SIGNED: Limits = characters("signed", crate::lesson::SIGNED_MAX_CHARS);

fn checked(text: String, limits: &'static Limits) -> Result<String, SessionError> {
    if text.chars().count() as f64 <= limits.max {
        return Ok(text);
    }
    Err(SessionError::Fields(vec![FieldError::new(Place::Pour { key: limits.key }, "tooLong", limits)]))
}
