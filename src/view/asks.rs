//! What is asked, what was answered, and which idea stands behind an answer that is not right.

use serde::Serialize;

use crate::chemistry::Reagent;
use crate::colour::Band;
use crate::lesson::{
    Ask, At, Choice, ChoiceQuestion, First, Guess, Ledger, LedgerRow, Level, Moment, Outcome, OwnQuestion, Seconds,
    Told,
};
use crate::session::{Chosen, Session};

use super::Screen;

/// A question with choices that is asked now, or was.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct AskView {
    /// brief, end, or the dose from 0.
    pub at: PlaceKey,
    /// Which question of its place, from 0: `choose` takes it.
    pub ask: usize,
    /// Its key, where the page has its words.
    pub key: Option<&'static str>,
    /// Keys of its choices, where the page has their words.
    pub choices: Vec<&'static str>,
    /// The teacher's own question with its choices.
    pub own: Option<OwnQuestion>,
    /// What was answered: a key, the number of one of the teacher's choices, or free words.
    pub answer: Option<String>,
    /// Key of the right choice, once it may be told; none where only the teacher can judge.
    pub right: Option<&'static str>,
    /// Tag of the idea behind the answer, once it may be told; it has a name and a question
    /// that leads on.
    pub idea: Option<&'static str>,
}

/// A place of a lesson at the edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(untagged)]
pub enum PlaceKey {
    /// brief or end.
    Name(&'static str),
    /// A dose, from 0.
    Step(usize),
}

/// A level as the bench shows it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LevelSight {
    /// 1 to 5.
    pub level: u8,
    /// How many expected observations the page has words for.
    pub expected: u32,
    /// Keys of the instruments that are shown.
    pub shows: &'static [&'static str],
}

impl LevelSight {
    /// Every level, from 1 to 5.
    pub fn all() -> [LevelSight; 5] {
        Level::ALL.map(|level| {
            let plan = level.plan();
            LevelSight { level: level.number(), expected: plan.expected, shows: plan.shows }
        })
    }
}

/// A level with all that it asks.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct LevelView {
    /// 1 to 5.
    pub level: u8,
    /// How many expected observations the page has words for.
    pub expected: u32,
    /// Keys of the instruments that are shown.
    pub shows: &'static [&'static str],
    /// Keys of the reasons that are told.
    pub reasons: &'static [&'static str],
    /// What it asks at each moment that asks anything.
    pub moments: Vec<MomentView>,
}

/// What a level asks at a moment.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct MomentView {
    /// firstAcid, thirdAcid, lastAcid, acid, firstBase, base, brief or end.
    pub moment: &'static str,
    /// Keys of the predictions.
    pub card: Vec<&'static str>,
    /// The questions with choices.
    pub choices: Vec<KeyedQuestion>,
}

/// A question with choices, with its key for the teacher.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct KeyedQuestion {
    /// Its key.
    pub key: &'static str,
    /// Its choices.
    pub choices: Vec<KeyedChoice>,
}

/// A choice, with what it tells.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct KeyedChoice {
    /// Its key.
    pub key: &'static str,
    /// Is it right, whatever the dose?
    pub right: bool,
    /// Tag of the idea behind it.
    pub idea: Option<&'static str>,
}

impl LevelView {
    /// Every level, from 1 to 5.
    pub fn all() -> Vec<LevelView> {
        Level::ALL.into_iter().map(LevelView::of).collect()
    }

    fn of(level: Level) -> LevelView {
        let plan = level.plan();
        let moment = |moment: Moment| MomentView {
            moment: moment.key(),
            card: plan.card(moment).iter().map(|question| question.key()).collect(),
            choices: plan.choices(moment).map(KeyedQuestion::of).collect(),
        };
        LevelView {
            level: level.number(),
            expected: plan.expected,
            shows: plan.shows,
            reasons: plan.reasons,
            moments: Moment::ALL.into_iter().map(moment).collect(),
        }
    }
}

impl KeyedQuestion {
    fn of(question: &'static ChoiceQuestion) -> KeyedQuestion {
        let keyed = |choice: &Choice| KeyedChoice {
            key: choice.key,
            right: choice.told == Told::Right,
            idea: if let Told::Idea(tag) = choice.told { Some(tag) } else { None },
        };
        KeyedQuestion { key: question.key, choices: question.choices.iter().map(keyed).collect() }
    }
}

impl PlaceKey {
    pub(super) fn of(at: At) -> PlaceKey {
        match at {
            At::Brief => PlaceKey::Name("brief"),
            At::End => PlaceKey::Name("end"),
            At::Step(index) => PlaceKey::Step(index),
        }
    }
}

impl AskView {
    /// The questions of a place but for its predictions, with what was answered; what is right is
    /// left out.
    pub(super) fn all(session: &Session, at: At) -> Vec<AskView> {
        let asks = session.lesson().asks(at).into_iter().enumerate();
        asks.filter_map(|(ask, asked)| AskView::of(session, at, ask, asked)).collect()
    }

    fn of(session: &Session, at: At, ask: usize, asked: Ask) -> Option<AskView> {
        let (key, choices, own) = match asked {
            Ask::Card(_) => return None,
            Ask::Choice(question) => {
                (Some(question.key), question.choices.iter().map(|choice| choice.key).collect(), None)
            }
            Ask::Own(own) => (None, Vec::new(), Some(own)),
        };
        let answers = |chosen: &&Chosen| chosen.at == at && chosen.ask == ask;
        let answer = session.chosen().iter().find(answers).map(|chosen| chosen.answer.clone());
        Some(AskView { at: PlaceKey::of(at), ask, key, choices, own, answer, right: None, idea: None })
    }
}

impl Screen {
    /// Every answered question with choices of which it may be told by now what is right.
    pub fn told_answers(&self) -> Vec<AskView> {
        let session = &self.session;
        let steps = (0..session.steps().len()).map(At::Step);
        let places = [At::Brief].into_iter().chain(steps).chain([At::End]);
        places.filter(|&at| session.may_tell(at)).flat_map(|at| self.told_at(at)).collect()
    }

    /// The answered questions with choices of one place, with what is right.
    pub(super) fn told_at(&self, at: At) -> Vec<AskView> {
        let row = if let At::Step(index) = at { self.row_after(index) } else { None };
        let mut asks = AskView::all(&self.session, at);
        asks.retain(|asked| asked.answer.is_some());
        for asked in &mut asks {
            if let (Some(question), Some(answer)) = (asked.key.and_then(ChoiceQuestion::of_key), &asked.answer) {
                asked.right = question.right(row.as_ref());
                asked.idea = question.idea(answer, row.as_ref());
            }
        }
        asks
    }

    /// The bookkeeping of one beaker after a dose of the guided lesson, all beakers alike.
    fn row_after(&self, step: usize) -> Option<LedgerRow> {
        let mut ledger = Ledger::begin(&self.session.lesson().computed_recipe());
        for step in self.session.steps().iter().take(step + 1) {
            ledger.pour(step.reagent, step.amount_mmol());
        }
        ledger.rows().last().copied()
    }
}

/// Tags of the ideas that a prediction points to, where it is not what happened.
pub(super) fn ideas_of_guess(guess: &Guess, outcome: &Outcome, reagent: Reagent, row: &LedgerRow) -> Vec<&'static str> {
    let acid = reagent == Reagent::Acid;
    let at_rest = Band::of_ph(outcome.ph_at_rest);
    let sour = |band| matches!(band, Band::Red | Band::Orange | Band::Yellow);
    let stays = guess.at_rest.is_some_and(sour) || guess.seconds == Some(Seconds::Never);
    let solid_left = row.hydrogen_left_mmol == 0.0;
    let neutral = guess.at_rest == Some(Band::Green) && at_rest != Band::Green;
    let base_at_once = matches!(guess.at_once, Some(Band::Teal | Band::Blue | Band::Violet));
    let another_first = match (guess.first, outcome.first()) {
        (Some(guessed), First::Beaker(_)) => guessed != outcome.first(),
        _ => false,
    };
    [
        (acid && solid_left && stays && !sour(at_rest), "strongerWins"),
        (neutral, "endsAt7"),
        (acid && base_at_once && sour(Band::of_ph(outcome.ph_at_once)), "baseAtOnce"),
        (acid && another_first, "warmthNoMatter"),
    ]
    .into_iter()
    .filter(|(points, _)| *points)
    .map(|(_, tag)| tag)
    .collect()
}
