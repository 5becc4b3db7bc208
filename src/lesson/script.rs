//! What a teacher made of a lesson: doses added, moved, altered or taken out, and questions of
//! their own. What was not touched follows from the recipe and the level.

use serde::Serialize;

use crate::chemistry::Reagent;

use super::Lesson;
use super::choice::ChoiceQuestion;
use super::field::Field;
use super::level::Moment;
use super::recipe::{FieldError, Recipe, RecipeText};
use super::steps::{Question, Step, to_steps};

/// Most doses of one lesson: as many as a recipe can have of both reagents.
pub const DOSES_MAX: usize = 60;

/// Most questions at one place.
pub const ASKS_MAX: usize = 8;

/// Most choices of a question of the teacher's own.
pub const CHOICES_MAX: usize = 6;

/// A teacher's alterations; none of them in a lesson as it comes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Script {
    /// What is asked in the brief; the level's questions where nothing is set.
    pub brief: Option<Vec<Ask>>,
    /// The doses; those that the recipe counts where nothing is set.
    pub doses: Option<Vec<Dose>>,
    /// What is asked at the end; the level's questions where nothing is set.
    pub end: Option<Vec<Ask>>,
}

/// One dose as a teacher planned it.
#[derive(Clone, Debug, PartialEq)]
pub struct Dose {
    /// What is poured.
    pub reagent: Reagent,
    /// How much, mL; the recipe's dose where nothing is set.
    pub volume_ml: Option<f64>,
    /// How long it is watched, s; the recipe's rest where nothing is set.
    pub rest_s: Option<f64>,
    /// What is asked before it; the level's questions where nothing is set.
    pub asks: Option<Vec<Ask>>,
}

/// Something that is asked.
#[derive(Clone, Debug, PartialEq)]
pub enum Ask {
    /// A prediction, to be compared with the outcome.
    Card(Question),
    /// A question with choices of one of the levels.
    Choice(&'static ChoiceQuestion),
    /// A question of the teacher's own.
    Own(OwnQuestion),
}

/// A question of the teacher's own. Its words are shown as they are; nobody but the teacher
/// judges the answer.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct OwnQuestion {
    /// The question.
    pub text: String,
    /// What may be chosen; free words where there is nothing to choose.
    pub choices: Vec<String>,
}

/// Where in a lesson something is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum At {
    /// In the brief.
    Brief,
    /// Before this dose, from 0.
    Step(usize),
    /// After the last dose.
    End,
}

impl Dose {
    /// A dose as the recipe has it.
    pub fn plain(reagent: Reagent) -> Dose {
        Dose { reagent, volume_ml: None, rest_s: None, asks: None }
    }

    fn is_plain(&self) -> bool {
        self.volume_ml.is_none() && self.rest_s.is_none() && self.asks.is_none()
    }
}

impl Lesson {
    /// The lesson that a recipe makes, as it comes.
    pub fn of_recipe(recipe: Recipe) -> Lesson {
        Lesson { recipe, ..Lesson::default() }
    }

    /// This lesson with another recipe, as typed. Where the number of doses differs, doses are
    /// added behind the last of their reagent, or the last ones are taken out.
    ///
    /// # Errors
    /// As [`Recipe::from_text`].
    pub fn with_recipe_text(&self, text: &RecipeText) -> Result<Lesson, Vec<FieldError>> {
        let mut lesson = Lesson { recipe: Recipe::read(text)?, ..self.clone() };
        if let Some(doses) = &mut lesson.script.doses {
            set_count(doses, Reagent::Acid, lesson.recipe.count(Field::AcidDoses));
            set_count(doses, Reagent::Base, lesson.recipe.count(Field::BaseDoses));
        }
        lesson.settled().map_err(|error| vec![error])
    }

    /// The doses of this lesson in their order.
    pub fn steps(&self) -> Vec<Step> {
        to_steps(&self.computed_recipe(), &self.doses())
    }

    /// Every dose as a teacher may alter it.
    pub fn doses(&self) -> Vec<Dose> {
        self.script.doses.clone().unwrap_or_else(|| plain_doses(&self.recipe))
    }

    /// What is asked at a place, in its order; nothing at a step that is not there.
    pub fn asks(&self, at: At) -> Vec<Ask> {
        let (set, moment) = match at {
            At::Brief => (self.script.brief.as_ref(), Moment::Brief),
            At::End => (self.script.end.as_ref(), Moment::End),
            At::Step(index) => {
                let Some(step) = self.steps().into_iter().nth(index) else { return Vec::new() };
                let dose = self.script.doses.as_ref().and_then(|doses| doses.get(index));
                (dose.and_then(|dose| dose.asks.as_ref()), step.moment)
            }
        };
        let plan = self.level.plan();
        let mut asks = set.cloned().unwrap_or_else(|| {
            let cards = plan.card(moment).iter().copied().map(Ask::Card);
            cards.chain(plan.choices(moment).map(Ask::Choice)).collect()
        });
        if self.recipe.beakers().len() == 1 {
            // One beaker is always the first.
            asks.retain(|ask| *ask != Ask::Card(Question::First));
        }
        asks
    }

    /// What a dose asks to be predicted.
    pub fn questions(&self, step: usize) -> Vec<Question> {
        let card = |ask| if let Ask::Card(question) = ask { Some(question) } else { None };
        self.asks(At::Step(step)).into_iter().filter_map(card).collect()
    }

    /// The most that any beaker holds after the last dose, mL.
    fn final_ml(&self) -> f64 {
        let poured: f64 = self.steps().iter().map(|step| step.volume_ml).sum();
        self.recipe.start_ml() + self.recipe.most_ice_g() + poured
    }

    /// This lesson with its doses counted in its recipe and without alterations that alter
    /// nothing, if its glass holds all that is poured.
    pub(super) fn settled(mut self) -> Result<Lesson, FieldError> {
        if let Some(doses) = &self.script.doses {
            let count = |reagent| doses.iter().filter(|dose| dose.reagent == reagent).count();
            self.recipe.set_counts(count(Reagent::Acid), count(Reagent::Base));
            if doses.iter().all(Dose::is_plain) && *doses == plain_doses(&self.recipe) {
                self.script.doses = None;
            }
        }
        self.recipe.check_holds(self.final_ml())?;
        Ok(self)
    }
}

fn plain_doses(recipe: &Recipe) -> Vec<Dose> {
    let of = |reagent, field| (0..recipe.count(field)).map(move |_| Dose::plain(reagent));
    of(Reagent::Acid, Field::AcidDoses).chain(of(Reagent::Base, Field::BaseDoses)).collect()
}

fn set_count(doses: &mut Vec<Dose>, reagent: Reagent, wanted: u32) {
    let last = |doses: &[Dose]| doses.iter().rposition(|dose| dose.reagent == reagent);
    let mut count = doses.iter().filter(|dose| dose.reagent == reagent).count() as u32;
    while count > wanted {
        if let Some(index) = last(doses) {
            doses.remove(index);
        }
        count -= 1;
    }
    while count < wanted {
        let behind = last(doses).map(|index| index + 1);
        let first = if reagent == Reagent::Acid { 0 } else { doses.len() };
        doses.insert(behind.unwrap_or(first), Dose::plain(reagent));
        count += 1;
    }
}
