//! One to three beakers on one clock, the guided lesson and the free bench.
//!
//! The clock's `now` moves only by [`Session::tick`] and [`Session::next_event`], and no
//! reading beyond it is given. In the guided lesson nothing of a dose is computed before its
//! guess is locked: that, and no curtain, is what makes peeking impossible. Times of actions
//! are whole tenths of a second, and events are found on a grid of the beaker's own time, so
//! a run is the same at every speed and frame rate.

mod answers;
mod bench;
mod check_code;
mod choices;
mod clock;
mod free;
mod guided;
mod plan;
mod replay;
mod timing;
mod watch;
mod what_if;

pub use answers::Answer;
pub use bench::{Bench, Logged, START_S};
pub use choices::Chosen;
pub use clock::{Clock, SPEEDS};
pub use free::{BathText, PourText};
pub use plan::{Expected, expected};
pub use timing::{FINISHES, Mark, finish_ph};
pub use watch::{Event, EventKind, clarity_of};
pub use what_if::{FINENESS, ICE_G, WHAT_IFS, WhatIf};

use replay::Recorder;

use crate::chemistry::PhTerms;
use crate::course::{CourseError, Reading};
use crate::lesson::{Act, CheckCode, FieldError, GuessError, Lesson, Step};

/// Where the lesson stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// What stands on the bench, and the cautions; nothing was poured yet.
    Brief,
    /// The next dose is announced and its guess not yet locked.
    Ask,
    /// The dose runs until its rest is over.
    Watch,
    /// The student says what was seen.
    See,
    /// What happened and why.
    Explain,
    /// Every dose was poured.
    End,
    /// The free bench.
    Free,
}

impl Stage {
    /// The name at the edge.
    pub fn key(self) -> &'static str {
        match self {
            Stage::Brief => "brief",
            Stage::Ask => "ask",
            Stage::Watch => "watch",
            Stage::See => "see",
            Stage::Explain => "explain",
            Stage::End => "end",
            Stage::Free => "free",
        }
    }
}

/// Why a request was refused. Nothing has changed then.
#[derive(Clone, Debug, PartialEq)]
pub enum SessionError {
    /// The free bench would give away the outcome of the lesson under way.
    LessonOpen,
    /// This is not the stage for it.
    NotNow {
        /// The stage that the lesson is in.
        stage: Stage,
    },
    /// Typed amounts were refused.
    Fields(Vec<FieldError>),
    /// Answers were refused.
    Answers(Vec<GuessError>),
    /// Another pour is under way in one of the beakers.
    StillPouring {
        /// When it ends, s on the lesson's clock.
        until_s: f64,
    },
    /// The model could not go on from here.
    Course(CourseError),
}

impl From<CourseError> for SessionError {
    fn from(error: CourseError) -> SessionError {
        SessionError::Course(error)
    }
}

/// A lesson in progress, or the free bench.
#[derive(Debug)]
pub struct Session {
    lesson: Lesson,
    steps: Vec<Step>,
    stage: Stage,
    bench: Bench,
    clock: Clock,
    rest_at_ds: Option<u32>,
    answers: Vec<Answer>,
    chosen: Vec<Chosen>,
    events: Vec<Event>,
    /// What is changed in each beaker.
    what_ifs: Vec<WhatIf>,
    marks: Vec<Mark>,
    /// Beakers whose turning back in the dose under way was leapt to or over.
    leapt: Vec<usize>,
    recorder: Recorder,
}

impl Session {
    /// A guided lesson in its brief.
    ///
    /// # Errors
    /// [`SessionError::Course`] if the model can't begin with this recipe.
    pub fn new(lesson: Lesson) -> Result<Session, SessionError> {
        let what_ifs = vec![WhatIf::default(); lesson.recipe.beakers().len()];
        let bench = Bench::begin(&lesson, &what_ifs)?;
        Ok(Session {
            steps: lesson.steps(),
            lesson,
            stage: Stage::Brief,
            bench,
            clock: Clock::at(START_S),
            rest_at_ds: None,
            answers: Vec::new(),
            chosen: Vec::new(),
            events: Vec::new(),
            what_ifs,
            marks: Vec::new(),
            leapt: Vec::new(),
            recorder: Recorder::default(),
        })
    }

    /// Begins anew, guided or free, with fresh beakers of the same lesson.
    ///
    /// # Errors
    /// [`SessionError::LessonOpen`]: the free bench while a guided lesson is under way.
    pub fn begin(&mut self, free: bool) -> Result<(), SessionError> {
        if free && self.is_under_way() {
            return Err(SessionError::LessonOpen);
        }
        if free {
            // What was changed on the free bench stays changed: the same can be tried again.
            let left = self.left();
            self.begin_free(self.what_ifs.clone())?;
            self.note_down(self.past_ds(), Act::Begin { free, left });
            return Ok(());
        }
        let left = self.left();
        let fresh = Session::new(self.lesson.clone())?;
        self.replace(fresh);
        self.note_down(self.past_ds(), Act::Begin { free, left });
        Ok(())
    }

    /// Fresh beakers; the record goes on.
    fn replace(&mut self, fresh: Session) {
        let recorder = std::mem::take(&mut self.recorder);
        *self = Session { recorder, ..fresh };
    }

    /// Is a guided lesson begun and not yet ended?
    pub fn is_under_way(&self) -> bool {
        !matches!(self.stage, Stage::Brief | Stage::End | Stage::Free)
    }

    /// Lets the clock run for so many real seconds and returns what happened in that time.
    /// Not a number, or less than zero, counts as nothing; a jump of the clock (a laptop that
    /// slept) counts as one second.
    ///
    /// # Errors
    /// [`SessionError::Course`] if the model can't go on; the clock then stands.
    pub fn tick(&mut self, real_s: f64) -> Result<Vec<Event>, SessionError> {
        if !self.runs() || self.clock.held {
            return Ok(Vec::new());
        }
        self.go_to(self.clock.after(real_s))
    }

    /// Lets the clock run at once to the next event: a beaker that turns back or clears, or
    /// the rest. Changes of colour on the way are told, not stopped at.
    ///
    /// On the free bench nothing may come any more: then the clock stands, and nothing is told.
    ///
    /// # Errors
    /// As [`Session::tick`].
    pub fn next_event(&mut self) -> Result<Vec<Event>, SessionError> {
        if !self.runs() {
            return Ok(Vec::new());
        }
        self.note_down(self.past_ds(), Act::Leap);
        let limit = self.rest_at_s().unwrap_or(self.clock.now_s() + LOOK_AHEAD_S);
        let events = match (self.bench.next_stop(self.clock.now_s(), limit)?, self.rest_at_s()) {
            (Some(at_s), _) | (None, Some(at_s)) => self.go_to(at_s)?,
            (None, None) => Vec::new(),
        };
        let turned = events.iter().filter(|event| matches!(event.kind, EventKind::TurnedBack { .. }));
        self.leapt.extend(turned.filter_map(|event| event.beaker));
        Ok(events)
    }

    /// Does the clock run in this stage (unless it is held)?
    pub fn runs(&self) -> bool {
        matches!(self.stage, Stage::Watch | Stage::Free)
    }

    fn go_to(&mut self, at_s: f64) -> Result<Vec<Event>, SessionError> {
        let rest_at_s = self.rest_at_s();
        let at_s = rest_at_s.map_or(at_s, |rest| at_s.min(rest));
        let mut events = self.bench.go_to(at_s)?;
        self.clock.set(at_s);
        if rest_at_s == Some(at_s) {
            events.push(Event { at_s, beaker: None, kind: EventKind::Rest });
            self.stage = Stage::See;
            self.rest_at_ds = None;
        }
        self.events.extend_from_slice(&events);
        Ok(events)
    }

    /// What one beaker reads at a time that has already come; a later time reads as now, an
    /// earlier one than the start as the start, and none (NaN) as now.
    pub fn reading(&self, beaker: usize, time_s: f64) -> Reading {
        self.bench.reading(beaker, self.past(time_s))
    }

    /// What each cause holds of a beaker's pH, at a time as in [`Session::reading`]; none without magnesium.
    pub fn ph_terms(&self, beaker: usize, time_s: f64) -> Option<PhTerms> {
        self.bench.ph_terms(beaker, self.past(time_s))
    }

    /// A time moved into what has already come.
    pub fn past(&self, time_s: f64) -> f64 {
        let now_s = self.clock.now_s();
        if time_s < now_s { time_s.max(0.0) } else { now_s }
    }

    /// The lesson that runs.
    pub fn lesson(&self) -> &Lesson {
        &self.lesson
    }

    /// Its doses.
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// Where it stands.
    pub fn stage(&self) -> Stage {
        self.stage
    }

    /// The clock.
    pub fn clock(&self) -> &Clock {
        &self.clock
    }

    /// Holds the clock, or lets it run.
    pub fn set_held(&mut self, held: bool) {
        if self.clock.held != held && self.runs() {
            self.note_down(self.past_ds(), Act::Hold(held));
        }
        self.clock.held = held;
    }

    /// Sets how many seconds of the lesson one real second shows; one of [`SPEEDS`], any
    /// other is left out of account.
    pub fn set_speed(&mut self, speed: u32) {
        let before = self.clock.speed();
        self.clock.set_speed(speed);
        if self.clock.speed() != before {
            self.note_down(self.past_ds(), Act::Speed(speed));
        }
    }

    /// When the running dose comes to rest, s on the lesson's clock.
    pub fn rest_at_s(&self) -> Option<f64> {
        self.rest_at_ds.map(seconds_of)
    }

    /// The beakers with all that was done to them.
    pub fn bench(&self) -> &Bench {
        &self.bench
    }

    /// What was answered so far, a dose each, in order.
    pub fn answers(&self) -> &[Answer] {
        &self.answers
    }

    /// Everything that happened up to now, in order.
    pub fn events(&self) -> &[Event] {
        &self.events
    }

    /// The check code of the run up to now.
    pub fn check_code(&self) -> CheckCode {
        check_code::of_run(&self.lesson.recipe, &self.what_ifs, &self.bench, self.clock.now_s())
    }
}

/// How far the free bench looks ahead for the next event, s.
const LOOK_AHEAD_S: f64 = 600.0;

/// Whole tenths of a second as seconds.
fn seconds_of(ds: u32) -> f64 {
    f64::from(ds) / 10.0
}
