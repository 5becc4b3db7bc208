//! What a screen needs of a session: keys and numbers, pictures and columns, no prose.
//!
//! [`Screen`] is the whole of what the page can ask for, natively too: `web.rs` only turns its
//! values into JavaScript's. Every method that takes a time reads it as not later than now.

mod about;
mod asks;
mod bottle;
mod columns;
mod explanation;
mod form;
mod labels;
mod ledger;
mod marks;
mod our_data;
mod outline;
mod plan;
mod prep;
mod rates;
mod recordings;
mod reply;
mod retell;
mod scene;
mod slip;
mod state;
mod tally;
mod terms;

pub use about::{ConstantRow, constants};
pub use asks::{AskView, KeyedChoice, KeyedQuestion, LevelSight, LevelView, MomentView, PlaceKey};
pub use bottle::BottleView;
pub use columns::COLUMNS;
pub use explanation::{BeakerOutcome, Compared, Explanation, Numbers, Reason, Told};
pub use form::{BeakerField, FormField, RecipeForm};
pub use labels::Label;
pub use ledger::LedgerFigures;
pub use marks::{DoseMark, EventMark, GuessMark, Marks, MarksVersion};
pub use our_data::{DataRefusal, FitView};
pub use outline::{PlaceView, QrView, ShareView};
pub use plan::{DoseView, Draft, PlanView, SpeedView};
pub use prep::{DilutionView, PrepView};
pub use rates::arrhenius;
pub use recordings::{Laying, OverlayView, Placed, ProbeView, RECORDINGS_MAX};
pub use reply::{FieldTrouble, LinkReply, Reply, Ticked};
pub use retell::{RetellView, RetoldDose, RunShare};
pub use scene::Look;
pub use slip::{ChosenView, DoseAnswers, SlipView, TimeView, TimingView};
pub use state::{StateView, StepView};
pub use tally::{
    AnswerView, AsideView, IdeaView, PressedRow, PressedView, QuestionView, Spread, StudentView, TallyView, TimesView,
};
pub use terms::PhShift;

use crate::lesson::{GuessText, Kept, Lesson, LinkError, Pile, RecipeText};
use crate::picture::Painter;
use crate::session::{BathText, Expected, PourText, Session, SessionError};
use plan::PathKey;
use retell::Telling;
use tally::ClassRun;

/// One session and everything that is shown of it.
pub struct Screen {
    session: Session,
    painter: Painter,
    /// How many lessons and benches were begun, so that one is not taken for another.
    lessons: u32,
    look: Look,
    /// How long the clock was watched running, s of the room: what moves of itself is shown by it.
    watched_s: f64,
    /// Paths that were computed ahead for the plan, the latest last.
    paths: Vec<(PathKey, Vec<Expected>)>,
    /// What the class measured, as far as it was handed in.
    measured: our_data::Measured,
    /// Slips that a teacher opened.
    pile: Pile,
    /// The outcome that they are set beside.
    class_run: Option<ClassRun>,
    /// A class's run that is told again.
    telling: Option<Telling>,
}

impl Screen {
    /// Our own scenario, in the brief of the guided lesson.
    ///
    /// # Errors
    /// A [`SessionError`] if the model can't begin.
    pub fn new() -> Result<Screen, SessionError> {
        Ok(Screen {
            session: Session::new(Lesson::default())?,
            painter: Painter::new(),
            lessons: 1,
            look: Look::default(),
            watched_s: 0.0,
            paths: Vec::new(),
            measured: our_data::Measured::default(),
            pile: Pile::default(),
            class_run: None,
            telling: None,
        })
    }

    /// The session that is shown.
    pub fn session(&self) -> &Session {
        &self.session
    }

    /// The recipe as a form.
    pub fn fields(&self) -> RecipeForm {
        RecipeForm::of(self.session.lesson())
    }

    /// Takes a typed recipe and begins its guided lesson. On errors nothing changes.
    pub fn set_recipe(&mut self, text: &RecipeText) -> Reply {
        match self.session.lesson().with_recipe_text(text) {
            Ok(lesson) => self.open(lesson),
            Err(errors) => Reply::of_fields(&errors),
        }
    }

    /// Opens the lesson of a link. On errors nothing changes.
    pub fn open_link(&mut self, fragment: &str) -> LinkReply {
        match Lesson::from_link(fragment) {
            Ok(lesson) => LinkReply::of_reply(self.open(lesson)),
            Err(error) => LinkReply::of_error(&error),
        }
    }

    /// The lesson as a link, without the #; empty where its words are too many for a link.
    pub fn link(&self) -> String {
        self.session.lesson().link().unwrap_or_default()
    }

    /// Begins anew: "guided" or "free".
    pub fn begin(&mut self, mode: &str) -> Reply {
        match mode {
            "guided" | "free" => {
                self.lessons += 1;
                Reply::of(self.session.begin(mode == "free"))
            }
            _ => Reply::refused("unknown"),
        }
    }

    /// Where the lesson stands.
    pub fn state(&self) -> StateView {
        let class_hold = self.telling.as_ref().and_then(Telling::hold_s);
        StateView { class_hold, ..StateView::of(&self.session) }
    }

    /// Locks the guess and pours.
    pub fn lock(&mut self, guess: &GuessText) -> Reply {
        Reply::of(self.session.lock(guess))
    }

    /// Lets the clock run for so many real seconds.
    pub fn tick(&mut self, real_s: f64) -> Ticked {
        if self.session.runs() && !self.session.clock().held && real_s.is_finite() {
            self.watched_s += real_s.max(0.0);
        }
        let events = self.run_clock(real_s);
        self.ticked(events)
    }

    /// Lets the clock run to the next event.
    pub fn next_event(&mut self) -> Ticked {
        let events = self.session.next_event();
        self.ticked(events)
    }

    /// Holds the clock, or lets it run.
    pub fn set_held(&mut self, held: bool) {
        if let Some(telling) = &mut self.telling {
            telling.end_hold();
        }
        self.session.set_held(held);
    }

    /// Sets the speed: 1, 4 or 16.
    pub fn set_speed(&mut self, speed: u32) {
        self.session.set_speed(speed);
    }

    /// Takes down what was seen.
    pub fn see(&mut self, seen: &GuessText) -> Reply {
        Reply::of(self.session.see(seen))
    }

    /// Goes on to the next dose, or to the end.
    pub fn go_on(&mut self) -> Reply {
        Reply::of(self.session.go_on())
    }

    /// Pours on the free bench.
    pub fn pour(&mut self, pour: &PourText) -> Reply {
        Reply::of(self.session.pour(pour))
    }

    /// Sets a stirrer's speed on the free bench; all of them for a beaker below 0.
    pub fn set_stirrer(&mut self, beaker: i32, rpm: &str) -> Reply {
        Reply::of(self.session.set_stirrer(&self.chosen(beaker), rpm))
    }

    /// Puts a beaker into other surroundings on the free bench; all of them for a beaker below 0.
    pub fn set_bath(&mut self, beaker: i32, bath: &BathText) -> Reply {
        Reply::of(self.session.set_bath(&self.chosen(beaker), bath))
    }

    /// Changes something in some beakers of the free bench and sets all up anew.
    pub fn change(&mut self, beakers: &[usize], key: &str) -> Reply {
        let done = self.session.change(beakers, key);
        if done.is_ok() {
            self.lessons += 1;
        }
        Reply::of(done)
    }

    /// Puts up or takes away what the bench is looked at with.
    pub fn set_look(&mut self, look: Look) {
        self.look = look;
    }

    /// The check code of the run up to now.
    pub fn check_code(&self) -> String {
        self.session.check_code().to_string()
    }

    /// Begins the same lesson as if nothing had been done in it.
    pub fn forget(&mut self) -> Reply {
        self.open(self.session.lesson().clone())
    }

    fn open(&mut self, lesson: Lesson) -> Reply {
        match Session::new(lesson) {
            Ok(session) => {
                self.take(session);
                Reply::ok()
            }
            Err(error) => Reply::of::<()>(Err(error)),
        }
    }

    fn take(&mut self, session: Session) {
        self.session = session;
        self.telling = None;
        self.lessons += 1;
    }

    /// Goes on with a lesson that was kept, exactly where it was, and with the run that it tells
    /// again, where it does. On errors nothing changes.
    pub fn resume(&mut self, text: &str, run: &str) -> LinkReply {
        let kept = match Kept::from_text(text) {
            Ok(kept) => kept,
            Err(error) => return LinkReply::of_error(&error),
        };
        match Session::resume(kept.lesson, kept.now_s, &kept.entries) {
            Ok(session) => {
                self.take(session);
                self.tell_on(run);
                LinkReply::of_reply(Reply::ok())
            }
            // Whole, but nothing that a session could have done.
            Err(_) => LinkReply::of_error(&LinkError::Damaged),
        }
    }

    fn chosen(&self, beaker: i32) -> Vec<usize> {
        match usize::try_from(beaker) {
            Ok(beaker) => vec![beaker],
            Err(_) => (0..self.session.bench().len()).collect(),
        }
    }
}
