//! The questions with choices that the levels ask: what may be chosen, what is right, and
//! which idea stands behind a choice that is not. The words are the page's, under
//! `level.` and the question's key.

use super::ledger::{LedgerRow, Limiting};

/// A question with choices.
#[derive(Debug, PartialEq, Eq)]
pub struct ChoiceQuestion {
    /// Its key, with the level that asks it: "3.ranOut".
    pub key: &'static str,
    /// What may be chosen, in the order of the card.
    pub choices: &'static [Choice],
}

/// One choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Choice {
    /// Its key.
    pub key: &'static str,
    /// What it tells of the one who chose it.
    pub told: Told,
}

/// What a choice tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Told {
    /// It is right.
    Right,
    /// An idea that many share stands behind it; its tag.
    Idea(&'static str),
    /// It is not right, and no idea is known behind it.
    Open,
}

use Told::{Idea, Open, Right};

macro_rules! question {
    ($key:literal, $($choice:literal $told:expr),+) => {
        ChoiceQuestion { key: $key, choices: &[$(Choice { key: $choice, told: $told }),+] }
    };
}

/// Every question with choices. Its place in this table is its number in a link: it never
/// changes, and a new one goes to the end.
pub static CHOICES: [ChoiceQuestion; 24] = [
    question!("1.oneThing", "bits" Right, "oneLiquid" Idea("oneLiquid"), "air" Open),
    question!("1.bitsNow", "smaller" Right, "melt" Idea("melted"), "gone" Idea("disappeared"), "stay" Open),
    question!("1.clearMeans", "seeThrough" Right, "noColour" Idea("clearIsColourless"), "clean" Open),
    question!("1.whereWhite", "inWater" Right, "melted" Idea("melted"), "gone" Idea("disappeared"),
        "inColour" Idea("colourOfSolid")),
    question!("2.whyRed", "littleDissolved" Right, "stronger" Idea("strongerWins"),
        "indicator" Idea("indicatorDidIt")),
    question!("2.whyBack", "moreDissolves" Right, "indicator" Idea("indicatorDidIt"), "mixing" Idea("onlyMixing"),
        "intoAir" Open),
    question!("2.whatIndicator", "shows" Right, "makesReact" Idea("indicatorDidIt"),
        "usesAcid" Idea("indicatorDidIt")),
    question!("2.whatAcidDoes", "react" Right, "eats" Idea("eatsAway"), "mixes" Idea("onlyMixing")),
    question!("2.whyGentle", "littleAtATime" Right, "nothingDissolves" Idea("insolubleIsNothing"),
        "takesLittle" Idea("gentleTakesLittle")),
    question!("3.whichExcess", "amounts" Right, "bigger" Idea("biggerIsExcess"), "stronger" Idea("strongerWins")),
    question!("3.ranOut", "acid" Open, "solid" Idea("strongerWins"), "both" Idea("endsAt7"),
        "neither" Idea("onlyMixing")),
    question!("3.halfDose", "twice" Right, "same" Idea("countsDoses"), "half" Open),
    question!("3.moreWater", "same" Right, "more" Idea("waterNeedsAcid"), "fewer" Open),
    question!("3.endPh", "whatIsLeft" Right, "always7" Idea("endsAt7"), "indicator" Idea("indicatorDidIt")),
    question!("4.whichMore", "same" Right, "warm" Idea("warmthChangesAmount"), "cold" Idea("warmthChangesAmount")),
    question!("4.whySlower", "lessSurface" Right, "acidTires" Idea("acidTires"), "cools" Open,
        "moreWater" Idea("waterNeedsAcid")),
    question!("4.whatFaster", "sameAmount" Right, "moreSolid" Idea("fasterIsMore"), "acidStronger" Open),
    question!("4.fair", "sameDose" Right, "anyDose" Open, "wholeLesson" Open),
    question!("5.whyBlue", "littleDissolves" Right, "indicatorBlue" Idea("insolubleIsNothing"),
        "solidBlue" Idea("colourOfSolid")),
    question!("5.atRest", "bothWays" Right, "stopped" Idea("equilibriumStops"), "onlyDissolves" Open),
    question!("5.moreSolid", "same" Right, "higher" Idea("solidRaises"), "lower" Open),
    question!("5.whyLessBlue", "magnesium" Right, "lessSolid" Idea("solidRaises"),
        "ionDissolves" Idea("commonIonDissolves"), "dyeThins" Idea("indicatorDidIt")),
    question!("5.whenCloud", "afterAcid" Right, "at7" Idea("endsAt7"), "never" Idea("disappeared"), "firstDrop" Open),
    question!("5.coldPh", "waterItself" Right, "moreBase" Idea("higherPhIsMoreBase"), "dyeInCold" Open),
];

/// The question whose right choice is what the bookkeeping of its dose says.
const BY_LEDGER: &str = "3.ranOut";

/// Every idea that a choice or a guess can point to, by its tag. Each has its name, what it
/// says and a question that leads on, in the page's words.
pub const IDEAS: [&str; 24] = [
    "oneLiquid",
    "melted",
    "disappeared",
    "clearIsColourless",
    "colourOfSolid",
    "strongerWins",
    "baseAtOnce",
    "indicatorDidIt",
    "onlyMixing",
    "eatsAway",
    "gentleTakesLittle",
    "insolubleIsNothing",
    "biggerIsExcess",
    "countsDoses",
    "waterNeedsAcid",
    "endsAt7",
    "warmthChangesAmount",
    "warmthNoMatter",
    "acidTires",
    "fasterIsMore",
    "equilibriumStops",
    "solidRaises",
    "commonIonDissolves",
    "higherPhIsMoreBase",
];

impl ChoiceQuestion {
    /// The question of a key.
    pub fn of_key(key: &str) -> Option<&'static ChoiceQuestion> {
        CHOICES.iter().find(|question| question.key == key)
    }

    /// Its number in a link.
    pub(super) fn number(&self) -> u8 {
        CHOICES.iter().position(|question| question.key == self.key).unwrap_or(CHOICES.len()) as u8
    }

    /// The choice of a key.
    pub fn choice(&self, key: &str) -> Option<&'static Choice> {
        self.choices.iter().find(|choice| choice.key == key)
    }

    /// The key of the right choice, in a dose with this row of the bookkeeping where there is
    /// one; none for a question about a dose that was no acid.
    pub fn right(&self, row: Option<&LedgerRow>) -> Option<&'static str> {
        if self.key == BY_LEDGER {
            return row.and_then(|row| row.limiting).map(Limiting::key);
        }
        self.choices.iter().find(|choice| choice.told == Right).map(|choice| choice.key)
    }

    /// The idea behind a choice that is not the right one.
    pub fn idea(&self, choice: &str, row: Option<&LedgerRow>) -> Option<&'static str> {
        if self.right(row) == Some(choice) {
            return None;
        }
        match self.choice(choice)?.told {
            Idea(tag) => Some(tag),
            Right | Open => None,
        }
    }
}
