//! The guided lesson: brief, then for every dose ask, watch, see, explain, and the end.

use crate::chemistry::{Action, Pour};
use crate::constants::CELSIUS_ZERO_K;
use crate::lesson::{Act, Field, Guess, GuessText, Question, Recipe, Step, subject_beaker};

use super::answers::Answer;
use super::bench::Logged;
use super::watch::Event;
use super::{Session, SessionError, Stage};

impl Session {
    /// The dose that is asked about, runs or is explained; none in the brief, at the end and
    /// on the free bench.
    pub fn current_step(&self) -> Option<(usize, &Step)> {
        let index = match self.stage {
            Stage::Ask => self.answers.len(),
            Stage::Watch | Stage::See | Stage::Explain => self.answers.len() - 1,
            Stage::Brief | Stage::End | Stage::Free => return None,
        };
        self.steps.get(index).map(|step| (index, step))
    }

    /// What the current dose asks.
    pub fn questions(&self) -> Vec<Question> {
        self.current_step().map_or_else(Vec::new, |(index, _)| self.lesson.questions(index))
    }

    /// The beaker that the questions on colour and seconds are about, from 0.
    pub fn subject_beaker(&self) -> usize {
        subject_beaker(&self.lesson.recipe)
    }

    /// Locks the guess and pours the dose into every beaker in the same instant: from here on
    /// the guess is part of the run, and only from here on the dose is computed.
    ///
    /// # Errors
    /// [`SessionError::NotNow`] unless a dose is asked; [`SessionError::Answers`] with every
    /// answer that is missing or refused; [`SessionError::Course`].
    pub fn lock(&mut self, text: &GuessText) -> Result<Vec<Event>, SessionError> {
        self.expect_step(Stage::Ask)?;
        let guess = Guess::from_text(text, &self.questions(), self.bench.len(), true).map_err(SessionError::Answers)?;
        self.pour_on(guess)
    }

    /// Pours the dose that is asked, on a guess that was checked.
    pub(super) fn pour_on(&mut self, guess: Guess) -> Result<Vec<Event>, SessionError> {
        let (index, step) = self.expect_step(Stage::Ask)?;
        let poured_ds = self.now_ds();
        let pour = pour_of(&self.lesson.recipe, &step);
        for beaker in 0..self.bench.len() {
            self.bench.act(Logged { at_ds: poured_ds, beaker, action: Action::Pour(pour) })?;
        }
        self.note_down(poured_ds, Act::Lock(guess.clone()));
        self.answers.push(Answer { step: index, poured_ds, guess, seen: None });
        self.rest_at_ds = Some(poured_ds + (step.rest_s * 10.0) as u32);
        self.stage = Stage::Watch;
        self.leapt.clear();
        self.clock.held = false;
        self.go_to(self.clock.now_s())
    }

    /// Takes down what the student saw. Nothing needs to be answered.
    ///
    /// # Errors
    /// [`SessionError::NotNow`] unless a dose has just come to rest; [`SessionError::Answers`].
    pub fn see(&mut self, text: &GuessText) -> Result<(), SessionError> {
        self.expect_step(Stage::See)?;
        let seen = Guess::from_text(text, &Question::ALL, self.bench.len(), false).map_err(SessionError::Answers)?;
        self.put_down_seen(seen)
    }

    /// Takes down what was seen, as it was checked.
    pub(super) fn put_down_seen(&mut self, seen: Guess) -> Result<(), SessionError> {
        self.expect_step(Stage::See)?;
        self.note_down(self.past_ds(), Act::See(seen.clone()));
        if let Some(answer) = self.answers.last_mut() {
            answer.seen = Some(seen);
        }
        self.stage = Stage::Explain;
        Ok(())
    }

    /// Goes from the brief or an explanation on to the next dose's question, or to the end.
    ///
    /// # Errors
    /// [`SessionError::NotNow`] in any other stage.
    pub fn go_on(&mut self) -> Result<(), SessionError> {
        if !matches!(self.stage, Stage::Brief | Stage::Explain) {
            return Err(SessionError::NotNow { stage: self.stage });
        }
        self.note_down(self.past_ds(), Act::GoOn);
        let more = self.answers.len() < self.steps.len();
        self.stage = if more { Stage::Ask } else { Stage::End };
        Ok(())
    }

    fn expect_step(&self, stage: Stage) -> Result<(usize, Step), SessionError> {
        match self.current_step() {
            Some((index, step)) if self.stage == stage => Ok((index, *step)),
            _ => Err(SessionError::NotNow { stage: self.stage }),
        }
    }

    /// Now in whole tenths of a second, or the next of them: nothing is done in the past.
    pub(super) fn now_ds(&self) -> u32 {
        // A tenth such as 0.3 is a little off in binary: 1e-6 s keeps it where it is.
        (self.clock.now_s() * 10.0 - 1e-5).ceil() as u32
    }

    pub(super) fn dose_k(&self) -> f64 {
        dose_k(&self.lesson.recipe)
    }
}

/// The reagents stand in the room: a dose has its temperature.
fn dose_k(recipe: &Recipe) -> f64 {
    recipe.value(Field::RoomC) + CELSIUS_ZERO_K
}

/// One dose as it runs into a beaker.
pub(super) fn pour_of(recipe: &Recipe, step: &Step) -> Pour {
    Pour {
        reagent: step.reagent,
        volume_ml: step.volume_ml,
        concentration_mol_l: step.concentration_mol_l,
        duration_s: step.pour_s,
        temperature_k: dose_k(recipe),
    }
}
