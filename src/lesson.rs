//! A lesson: what stands on the bench, what is poured when, what is asked,
//! and how an answer compares with the outcome.
//!
//! Every number of a lesson enters by one of two doors: typed text
//! ([`Recipe::from_text`]) or a link ([`Lesson::from_link`]). Both read the same table
//! of limits ([`Field::limits`]), so a [`Recipe`] that exists is one that the engine can run.
//! This room knows the names of reagents and colours, and no chemistry beyond the
//! bookkeeping that a student does by hand ([`Ledger`]).

mod act;
mod act_bytes;
mod base64url;
mod beaker;
mod choice;
mod code;
mod dilution;
mod envelope;
mod field;
mod file;
mod fitted;
mod guess;
mod kept;
mod ledger;
mod level;
mod link;
mod number;
mod pile;
mod prep;
mod recipe;
mod run;
mod safety;
mod score;
mod script;
mod sheet;
mod slip;
mod steps;
mod tree;
mod vessel;
mod words;

pub use act::{Act, Deed, Entry, NOTE_MAX_CHARS, Reached, SIGNED_MAX_CHARS, TYPED_MAX_CHARS, latest_run};
pub use beaker::{Beaker, BeakerText, CELSIUS, ICE_G, KINDS};
pub use choice::{CHOICES, Choice, ChoiceQuestion, IDEAS, Told};
pub use code::{CheckCode, Sum};
pub use dilution::{ACID_STOCKS, BASE_STOCKS, Dilution, DilutionError, Mix, Stock};
pub use field::{Field, Limits};
pub use file::{AskEntry, FILE_MAX_CHARS, FILE_VERSION, LessonFile};
pub use fitted::{Fitted, PUBLISHED_ENERGY_KJ_MOL};
pub use guess::{First, Guess, GuessError, GuessText, Seconds, WHY_MAX_CHARS};
pub use kept::{KEPT_MAX_CHARS, Kept};
pub use ledger::{HAND_MOLAR_MASS_G_MOL, Ledger, LedgerRow, Limiting};
pub use level::{INSTRUMENTS, Level, LevelPlan, Moment};
pub use link::{LINK_MAX_CHARS, LINK_VERSION, LinkError, LinkTooLong};
pub use number::{NumberError, parse_number};
pub use pile::{Aside, Counted, Pile, Received, Sorted};
pub use prep::{Amounts, EndPoint, FULLEST_SHARE, Freeboard, LABEL_SHARES, SPARE_MAX, Strength};
pub use recipe::{FieldError, FieldTexts, Place, Recipe, RecipeText};
pub use run::{RUN_MAX_CHARS, Run};
pub use safety::{ALWAYS, Label, Left, Material, SOURCES, SafetyCard};
pub use score::{Match, Outcome, match_band, match_clarity, match_first, match_seconds};
pub use script::{ASKS_MAX, Ask, At, CHOICES_MAX, DOSES_MAX, Dose, OwnQuestion, Script};
pub use sheet::{DoseSheet, Sheet, Time};
pub use slip::{SLIP_MAX_CHARS, Slip};
pub use steps::{Question, Step, steps, subject_beaker};
pub use tree::{Tree, TreeError};
pub use vessel::Vessel;
pub use words::{line, paragraphs};

/// A lesson. All of it but what is the teacher's own travels in its link.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lesson {
    /// What stands on the bench and how much is poured.
    pub recipe: Recipe,
    /// What is asked, told and shown.
    pub level: Level,
    /// A line for the board; empty in a lesson as it comes.
    pub title: String,
    /// What the teacher altered.
    pub script: Script,
    /// What only the teacher reads.
    pub teacher: Teacher,
    /// The bottle, where a class has fitted it to its own beakers.
    pub fitted: Option<Fitted>,
}

/// What only the teacher reads: it is kept in the lesson's file and in no link.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Teacher {
    /// Minutes available; 0 where nothing is said.
    pub minutes: u32,
    /// Notes, with their line breaks.
    pub notes: String,
}
