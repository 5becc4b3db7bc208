//! A lesson: what stands on the bench, what is poured when, what is asked,
//! and how an answer compares with the outcome.
//!
//! Every number of a lesson enters by one of two doors: typed text
//! ([`Recipe::from_text`]) or a link ([`Lesson::from_link`]). Both read the same table
//! of limits ([`Field::limits`]), so a [`Recipe`] that exists is one that the engine can run.
//! This room knows the names of reagents and colours, and no chemistry beyond the
//! bookkeeping that a student does by hand ([`Ledger`]).

mod base64url;
mod beaker;
mod dilution;
mod field;
mod guess;
mod ledger;
mod link;
mod number;
mod prep;
mod recipe;
mod safety;
mod score;
mod steps;
mod vessel;

pub use beaker::{Beaker, BeakerText, CELSIUS, ICE_G, KINDS};
pub use dilution::{ACID_STOCKS, BASE_STOCKS, Dilution, DilutionError, Mix, Stock};
pub use field::{Field, Limits};
pub use guess::{First, Guess, GuessError, GuessText, Seconds, WHY_MAX_CHARS};
pub use ledger::{HAND_MOLAR_MASS_G_MOL, Ledger, LedgerRow, Limiting};
pub use link::{LINK_MAX_CHARS, LINK_VERSION, LinkError};
pub use number::{NumberError, parse_number};
pub use prep::{Amounts, EndPoint, FULLEST_SHARE, Freeboard, LABEL_SHARES, SPARE_MAX, Strength};
pub use recipe::{FieldError, Place, Recipe, RecipeText};
pub use safety::{ALWAYS, Label, Left, Material, SOURCES, SafetyCard};
pub use score::{Match, Outcome, match_band, match_clarity, match_first, match_seconds};
pub use steps::{Card, Question, Step, steps, subject_beaker};
pub use vessel::Vessel;

/// A lesson: all that a link carries.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lesson {
    /// What stands on the bench and how much is poured.
    pub recipe: Recipe,
}

impl Lesson {
    /// The doses of this lesson in their order.
    pub fn steps(&self) -> Vec<Step> {
        steps(&self.recipe)
    }
}
