//! The five levels. A level chooses what is asked before each dose, what is told after it and
//! which instruments are shown; the recipe, and with it the run, is the same at every level.
//!
//! A question that is asked before a dose is about what was seen already or about what is known
//! of the beakers: it never gives away the outcome that the same card asks to be predicted.

use super::choice::{CHOICES, ChoiceQuestion};
use super::steps::Question::{self, AtOnce, AtRest, Clarity, First, Seconds, Why};

/// One of the five levels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Level(u8);

/// What a level chooses.
#[derive(Debug)]
pub struct LevelPlan {
    /// What a dose asks at each of the six moments of doses, in their order.
    cards: [&'static [Question]; 6],
    /// Which questions with choices are asked at each moment, in their order: those of the
    /// doses, of the brief and of the end; by their number.
    choices: [&'static [u8]; 8],
    /// How many expected observations the page has words for.
    pub expected: u32,
    /// Keys of the instruments that are shown; the others are hidden.
    pub shows: &'static [&'static str],
    /// Keys of the reasons that are told after a dose.
    pub reasons: &'static [&'static str],
}

/// A place in the story of a lesson. The doses come first, in the order of
/// [`LevelPlan`]'s tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moment {
    /// Before the first dose of acid.
    FirstAcid,
    /// Before the third dose of acid.
    ThirdAcid,
    /// Before the dose that by the bookkeeping is one too many for the solid.
    LastAcid,
    /// Before any other dose of acid.
    Acid,
    /// Before the first dose of base.
    FirstBase,
    /// Before any other dose of base.
    Base,
    /// In the brief, before anything is poured.
    Brief,
    /// After the last dose.
    End,
}

impl Moment {
    /// Every moment, in the order of a lesson's story.
    pub const ALL: [Moment; 8] = [
        Moment::Brief,
        Moment::FirstAcid,
        Moment::ThirdAcid,
        Moment::Acid,
        Moment::LastAcid,
        Moment::FirstBase,
        Moment::Base,
        Moment::End,
    ];

    /// The name at the edge.
    pub fn key(self) -> &'static str {
        match self {
            Moment::FirstAcid => "firstAcid",
            Moment::ThirdAcid => "thirdAcid",
            Moment::LastAcid => "lastAcid",
            Moment::Acid => "acid",
            Moment::FirstBase => "firstBase",
            Moment::Base => "base",
            Moment::Brief => "brief",
            Moment::End => "end",
        }
    }
}

/// Every instrument there is; a level shows some of them.
pub static INSTRUMENTS: [&str; 9] =
    ["seconds", "celsius", "ph", "solid", "ledger", "trace", "rate", "dissolved", "saturation"];

/// Every reason that an explanation knows; a level tells some of them.
static REASONS: [&str; 10] = [
    "acidFirst",
    "acidUsedUp",
    "solidUsedUp",
    "stillOnTheWay",
    "warmFirst",
    "sameAmount",
    "slower",
    "lessBlue",
    "baseTakesAcid",
    "solidBack",
];

const BASE: &[Question] = &[AtOnce, AtRest, Clarity, Why];

static PLANS: [LevelPlan; 5] = [
    LevelPlan {
        cards: [
            &[AtOnce, AtRest, Clarity, Why],
            &[AtRest, First, Why],
            &[AtRest, Clarity, Why],
            &[AtRest],
            BASE,
            &[Clarity],
        ],
        choices: [&[1], &[], &[2], &[], &[], &[], &[0], &[3]],
        expected: 5,
        shows: INSTRUMENTS.split_at(1).0,
        reasons: &["acidFirst", "acidUsedUp", "solidUsedUp", "stillOnTheWay", "warmFirst", "slower", "solidBack"],
    },
    LevelPlan {
        cards: [
            &[AtOnce, AtRest, Clarity, Seconds, First, Why],
            &[AtOnce, AtRest, Clarity, Seconds, First, Why],
            &[AtOnce, AtRest, Clarity, Seconds, First, Why],
            &[AtRest],
            BASE,
            &[AtRest],
        ],
        choices: [&[6], &[4, 5], &[], &[], &[], &[], &[7], &[8]],
        expected: 5,
        shows: INSTRUMENTS.split_at(5).0,
        reasons: &REASONS,
    },
    LevelPlan {
        cards: [
            &[AtOnce, AtRest, Clarity, Seconds, Why],
            &[AtRest, Clarity, Seconds, Why],
            &[AtOnce, AtRest, Clarity, Seconds, First, Why],
            &[AtRest],
            BASE,
            &[AtRest],
        ],
        choices: [&[10], &[11, 12], &[10], &[], &[], &[], &[9], &[13]],
        expected: 5,
        shows: INSTRUMENTS.split_at(6).0,
        reasons: &REASONS,
    },
    LevelPlan {
        cards: [
            &[First, Seconds, AtRest, Why],
            &[First, Seconds, Why],
            &[AtRest, Clarity, First, Why],
            &[Seconds],
            &[AtOnce, Clarity, Why],
            &[AtRest],
        ],
        choices: [&[], &[15], &[16], &[], &[], &[], &[14], &[17]],
        expected: 4,
        shows: INSTRUMENTS.split_at(7).0,
        reasons: &REASONS,
    },
    LevelPlan {
        cards: [&[AtOnce, AtRest, Clarity, Why], &[AtRest, Why], &[AtRest, Clarity, Why], &[AtRest], BASE, &[Clarity]],
        choices: [&[20], &[21], &[], &[], &[22], &[], &[18, 19], &[23]],
        expected: 5,
        shows: &INSTRUMENTS,
        reasons: &REASONS,
    },
];

impl Default for Level {
    /// Acid, base and indicator: what a class meets first.
    fn default() -> Level {
        Level(2)
    }
}

impl Level {
    /// Every level, from observation to solubility.
    pub const ALL: [Level; 5] = [Level(1), Level(2), Level(3), Level(4), Level(5)];

    /// The level of a number from 1 to 5.
    pub fn of_number(number: u8) -> Option<Level> {
        Level::ALL.into_iter().find(|level| level.0 == number)
    }

    /// Its number, 1 to 5.
    pub fn number(self) -> u8 {
        self.0
    }

    /// What it chooses.
    pub fn plan(self) -> &'static LevelPlan {
        &PLANS[usize::from(self.0) - 1]
    }
}

impl LevelPlan {
    /// What is to be predicted at a moment; nothing in the brief and at the end.
    pub fn card(&self, moment: Moment) -> &'static [Question] {
        self.cards.get(moment as usize).copied().unwrap_or(&[])
    }

    /// The questions with choices at a moment.
    pub fn choices(&self, moment: Moment) -> impl Iterator<Item = &'static ChoiceQuestion> {
        self.choices[moment as usize].iter().map(|&number| &CHOICES[usize::from(number)])
    }
}
