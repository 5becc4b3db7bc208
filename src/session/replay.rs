//! The record of a session as it grows, and a session made anew from it.
//!
//! Every act is put down where it is taken, by the session itself, so that none is missed. The
//! times of acts are tenths of a second and everything between them is computed, so that the
//! same acts lead to the same bits.

use crate::lesson::{Act, BeakerText, Deed, Entry, Guess, Kept, Lesson, Reached};

use super::free::PourText;
use super::{Session, SessionError, Stage, check_code, seconds_of};

/// Longer than this, s, no kept clock has run: two days and nights.
const LONGEST_S: f64 = 200_000.0;

/// Longer than this, s, nobody waits between two looks at the room's clock: the machine slept.
const LONGEST_ROOM_S: f64 = 3600.0;

/// The record, and the clock of the room.
#[derive(Clone, Debug, Default)]
pub(super) struct Recorder {
    entries: Vec<Entry>,
    room_s: f64,
    told_s: Option<f64>,
}

impl Recorder {
    fn room_is(&mut self, clock_s: f64) {
        if let Some(before_s) = self.told_s {
            let passed_s = clock_s - before_s;
            // Not so for a NaN, which counts as nothing.
            if passed_s > 0.0 {
                self.room_s += passed_s.min(LONGEST_ROOM_S);
            }
        }
        self.told_s = Some(clock_s);
    }
}

impl Session {
    /// Tells what a clock of the room shows, s from any start: acts that follow are put down
    /// with the time that has passed by it.
    pub fn room_is(&mut self, clock_s: f64) {
        self.recorder.room_is(clock_s);
    }

    /// Everything that was done, in order.
    pub fn record(&self) -> &[Entry] {
        &self.recorder.entries
    }

    /// What a device keeps, to go on from here.
    pub fn kept_text(&self) -> String {
        Kept::text(&self.lesson, self.clock.now_s(), self.record())
    }

    /// How far the latest guided run with an answer came, and its code there.
    pub fn reached(&self) -> Reached {
        let left = |entry: &Entry| if let Act::Begin { left, .. } = entry.act { left } else { None };
        let is_current = self.stage != Stage::Free && self.has_answers();
        let before = self.record().iter().rev().find_map(left).filter(|_| !is_current);
        before.unwrap_or_else(|| Reached { code: self.check_code(), now_ds: self.past_ds() })
    }

    /// The last whole tenth of a second of the lesson's clock.
    pub fn past_tenth(&self) -> u32 {
        self.past_ds()
    }

    /// The code of the run as it was at an earlier time, before anything done later.
    pub fn code_at(&self, now_ds: u32) -> crate::lesson::CheckCode {
        check_code::of_run(&self.lesson.recipe, &self.what_ifs, &self.bench, self.past(seconds_of(now_ds)))
    }

    fn has_answers(&self) -> bool {
        !self.answers.is_empty() || !self.chosen.is_empty()
    }

    /// Puts an act down, at so many tenths of a second on the lesson's clock.
    pub(super) fn note_down(&mut self, at_ds: u32, act: Act) {
        let room_ds = (self.recorder.room_s * 10.0).floor() as u32;
        self.recorder.entries.push(Entry { at_ds, room_ds, act });
    }

    /// What is left behind when fresh beakers are set up, where it is a guided run.
    pub(super) fn left(&self) -> Option<Reached> {
        (self.stage != Stage::Free && self.has_answers()).then(|| self.reached())
    }

    /// The last whole tenth of a second that has passed.
    pub(super) fn past_ds(&self) -> u32 {
        // A tenth such as 0.3 is a little off in binary: 1e-6 s keeps it where it is.
        (self.clock.now_s() * 10.0 + 1e-5).floor() as u32
    }

    /// A session exactly as it was when its record was kept.
    ///
    /// # Errors
    /// The [`SessionError`] of the first act that could not have been taken: the record was not
    /// made by a session.
    pub fn resume(lesson: Lesson, now_s: f64, entries: &[Entry]) -> Result<Session, SessionError> {
        let mut session = Session::new(lesson)?;
        // What was done to beakers that were taken away since is kept, and not done again.
        let fresh = entries.iter().rposition(is_fresh).unwrap_or(0);
        for (index, entry) in entries.iter().enumerate() {
            if index >= fresh || is_fresh(entry) {
                session.redo(entry)?;
            }
            session.recorder.entries.truncate(index);
            session.recorder.entries.push(entry.clone());
        }
        session.run_to(now_s)?;
        session.recorder.room_s = entries.last().map_or(0.0, |entry| seconds_of(entry.room_ds));
        Ok(session)
    }

    fn run_to(&mut self, at_s: f64) -> Result<(), SessionError> {
        let at_s = at_s.min(LONGEST_S);
        if self.runs() && at_s > self.clock.now_s() {
            self.go_to(at_s)?;
        }
        Ok(())
    }

    /// Does an act again, at its time.
    fn redo(&mut self, entry: &Entry) -> Result<(), SessionError> {
        if !is_fresh(entry) {
            self.run_to(seconds_of(entry.at_ds))?;
        }
        match &entry.act {
            Act::Begin { free, .. } => self.begin(*free),
            Act::GoOn => self.go_on(),
            Act::Lock(guess) => self.pour_on(guess.clone()).map(drop),
            Act::See(seen) => self.put_down_seen(seen.clone()),
            Act::Choose { ask, answer } => self.choose(*ask, answer),
            // It was let through when it was taken.
            Act::Mark { beaker, finish } => self.put_mark(*beaker, finish.key()),
            Act::TakeBack { mark } => self.take_back(*mark),
            Act::Leap => self.next_event().map(drop),
            Act::Note(_) | Act::Sign(_) => Ok(()),
            Act::Hold(held) => {
                self.set_held(*held);
                Ok(())
            }
            Act::Speed(speed) => {
                self.set_speed(*speed);
                Ok(())
            }
            Act::Bench { deed, beakers, typed } => self.redo_deed(*deed, beakers, typed),
        }
    }

    fn redo_deed(&mut self, deed: Deed, beakers: &[usize], typed: &[String; 2]) -> Result<(), SessionError> {
        let [first, second] = typed.clone();
        match deed {
            Deed::Pour => {
                let text = PourText { beakers: beakers.to_vec(), reagent: first, volume_ml: second };
                self.pour(&text).map(drop)
            }
            Deed::Stir => self.set_stirrer(beakers, &first).map(drop),
            Deed::Bath => {
                let text = BeakerText { kind: first, celsius: second, ice_g: String::new() };
                self.set_bath(beakers, &text).map(drop)
            }
            Deed::Change => self.change(beakers, &first),
        }
    }

    /// A lesson's whole run, every dose poured as soon as the one before is at rest, with nothing
    /// guessed: what a class's answers are set beside. Returns the session and the code at each rest.
    ///
    /// # Errors
    /// [`SessionError::Course`] if the model can't go on.
    pub fn run_through(lesson: Lesson) -> Result<(Session, Vec<Reached>), SessionError> {
        let mut session = Session::new(lesson)?;
        let mut reached = vec![session.reached()];
        for _ in 0..session.steps.len() {
            session.go_on()?;
            session.pour_on(Guess::default())?;
            session.go_to(LONGEST_S)?;
            session.put_down_seen(Guess::default())?;
            reached.push(session.reached());
        }
        Ok((session, reached))
    }
}

/// Does an act set up fresh beakers?
fn is_fresh(entry: &Entry) -> bool {
    matches!(entry.act, Act::Begin { .. } | Act::Bench { deed: Deed::Change, .. })
}
