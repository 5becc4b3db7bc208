//! A lesson from a tree of named values: an opened lesson file, or the page's own form. Every
//! number and every word in it counts as typed and is judged here.

use crate::chemistry::Reagent;

use super::beaker::BeakerText;
use super::choice::ChoiceQuestion;
use super::field::{Field, Limits};
use super::fitted::Fitted;
use super::level::Level;
use super::recipe::{FieldError, FieldTexts, Place, Recipe, RecipeText};
use super::script::{ASKS_MAX, Ask, At, CHOICES_MAX, DOSES_MAX, Dose, OwnQuestion, Script};
use super::steps::Question;
use super::words::{self, CHOICE, NOTES, QUESTION, TITLE};
use super::{FILE_VERSION, Lesson, Teacher};

/// Values by name, lists of values, texts: what every reader of JSON gives.
pub trait Tree: Sized {
    /// The value of a name; none where there is none, or it is null.
    fn member(&self, name: &str) -> Option<Self>;
    /// The first so many values of a list; none where this is no list.
    fn items(&self, most: usize) -> Option<Vec<Self>>;
    /// A text, or the digits of a number; none for anything else. Of a longer text than so
    /// many characters only the beginning needs to be given, but one more than so many.
    fn text(&self, most: usize) -> Option<String>;
}

/// Why a tree is no lesson.
#[derive(Clone, Debug, PartialEq)]
pub enum TreeError {
    /// It does not say that it is a lesson.
    NotOurs,
    /// It was written by a newer release.
    Newer {
        /// The version it names.
        version: u32,
    },
    /// It holds values that were refused, each with its place.
    Fields(Vec<FieldError>),
}

/// Limits of the minutes available: a school day.
static MINUTES: Limits =
    Limits { key: "minutes", unit: "min", min: 0.0, max: 480.0, default: 45.0, decimals: 0, finest: 0 };

/// Limits of the number of doses.
static DOSES: Limits =
    Limits { key: "steps", unit: "", min: 0.0, max: DOSES_MAX as f64, default: 11.0, decimals: 0, finest: 0 };

/// Limits of the number of questions at a place.
static ASKS: Limits =
    Limits { key: "asks", unit: "", min: 0.0, max: ASKS_MAX as f64, default: 1.0, decimals: 0, finest: 0 };

/// Limits of the number of choices of a question.
static CHOICES: Limits =
    Limits { key: "choices", unit: "", min: 0.0, max: CHOICES_MAX as f64, default: 3.0, decimals: 0, finest: 0 };

/// Longest text that is looked at as a number or a key, in characters.
const SHORT: usize = 50;

/// A text may be so many times longer before control characters are taken out of it.
const RAW_TIMES: usize = 4;

impl Lesson {
    /// Reads a lesson from a tree.
    ///
    /// # Errors
    /// A [`TreeError`]; every value that is refused is named at once.
    pub fn from_tree<T: Tree>(root: &T) -> Result<Lesson, TreeError> {
        let version: u32 = short(root, "turnback").parse().map_err(|_| TreeError::NotOurs)?;
        match version {
            0 => return Err(TreeError::NotOurs),
            FILE_VERSION => {}
            _ => return Err(TreeError::Newer { version }),
        }
        let mut reader = Reader { errors: Vec::new() };
        let lesson = reader.lesson(root);
        match lesson {
            Some(lesson) if reader.errors.is_empty() => {
                lesson.settled().map_err(|error| TreeError::Fields(vec![error]))
            }
            _ => Err(TreeError::Fields(reader.errors)),
        }
    }
}

/// Asked for at every turn: as one function it weighs little.
#[inline(never)]
pub(super) fn short<T: Tree>(tree: &T, name: &str) -> String {
    tree.member(name).and_then(|value| value.text(SHORT)).unwrap_or_default()
}

struct Reader {
    errors: Vec<FieldError>,
}

impl Reader {
    fn lesson<T: Tree>(&mut self, root: &T) -> Option<Lesson> {
        let doses = root.member("steps").map(|list| self.doses(&list));
        let script = Script {
            brief: root.member("brief").map(|list| self.asks(&list, At::Brief)),
            end: root.member("end").map(|list| self.asks(&list, At::End)),
            doses,
        };
        let title = self.words(root, "title", &TITLE, false, Place::Lesson { key: "title" }, words::line);
        let notes = self.words(root, "notes", &NOTES, false, Place::Lesson { key: "notes" }, words::paragraphs);
        let minutes = match short(root, "minutes") {
            typed if typed.trim().is_empty() => Some(0.0),
            typed => self.kept(MINUTES.read(&typed, Place::Lesson { key: "minutes" })),
        };
        let level = short(root, "level").trim().parse().ok().and_then(Level::of_number);
        if level.is_none() {
            self.refuse(Place::Lesson { key: "level" }, "unknown");
        }
        let recipe = match Recipe::read(&recipe_text(root, script.doses.as_deref())) {
            Ok(recipe) => Some(recipe),
            Err(errors) => {
                self.errors.extend(errors);
                None
            }
        };
        let teacher = Teacher { minutes: minutes? as u32, notes };
        let fitted = root.member("fitted").map(|tree| Fitted::from_tree(&tree)).and_then(|read| self.kept(read));
        Some(Lesson { recipe: recipe?, level: level?, title, script, teacher, fitted })
    }

    fn doses<T: Tree>(&mut self, list: &T) -> Vec<Dose> {
        let items = self.items(list, &DOSES, Place::Lesson { key: "steps" });
        items.iter().enumerate().map(|(index, item)| self.dose(item, index)).collect()
    }

    fn dose<T: Tree>(&mut self, item: &T, index: usize) -> Dose {
        let place = |key| Place::Step { index, key };
        let reagent = match short(item, "reagent").as_str() {
            "acid" => Reagent::Acid,
            "base" => Reagent::Base,
            _ => {
                self.refuse(place("reagent"), "unknown");
                Reagent::Acid
            }
        };
        let rest = if reagent == Reagent::Acid { Field::RestS } else { Field::BaseRestS };
        let mut number = |key, field: Field| match short(item, key) {
            typed if typed.trim().is_empty() => None,
            typed => self.kept(field.limits().read(&typed, place(key))),
        };
        let (volume_ml, rest_s) = (number("volumeMl", Field::DoseMl), number("restS", rest));
        let asks = item.member("asks").map(|list| self.asks(&list, At::Step(index)));
        Dose { reagent, volume_ml, rest_s, asks }
    }

    fn asks<T: Tree>(&mut self, list: &T, at: At) -> Vec<Ask> {
        let place = match at {
            At::Brief => Place::Lesson { key: "brief" },
            At::End => Place::Lesson { key: "end" },
            At::Step(index) => Place::Step { index, key: "asks" },
        };
        let items = self.items(list, &ASKS, place);
        let mut asks = Vec::with_capacity(items.len());
        for (ask, item) in items.iter().enumerate() {
            let place = Place::Ask { at, ask, choice: None };
            let read = match item.text(SHORT) {
                None => Ok(Ask::Own(self.own(item, at, ask))),
                Some(key) => built_in(&key, at),
            };
            match read {
                Ok(read) if asks.contains(&read) => self.refuse(place, "twice"),
                Ok(read) => asks.push(read),
                Err(key) => self.refuse(place, key),
            }
        }
        asks
    }

    fn own<T: Tree>(&mut self, item: &T, at: At, ask: usize) -> OwnQuestion {
        let place = |choice| Place::Ask { at, ask, choice };
        let text = self.words(item, "text", &QUESTION, true, place(None), words::line);
        let listed = item.member("choices").map(|list| self.items(&list, &CHOICES, place(None))).unwrap_or_default();
        let choice = |(index, item): (usize, &T)| {
            let typed = item.text(RAW_TIMES * CHOICE.max as usize).unwrap_or_default();
            self.cleaned(&typed, &CHOICE, true, place(Some(index)), words::line)
        };
        OwnQuestion { text, choices: listed.iter().enumerate().map(choice).collect() }
    }

    fn words<T: Tree>(
        &mut self,
        tree: &T,
        name: &str,
        limits: &'static Limits,
        needed: bool,
        place: Place,
        clean: fn(&str) -> String,
    ) -> String {
        let typed = tree.member(name).and_then(|value| value.text(RAW_TIMES * limits.max as usize)).unwrap_or_default();
        self.cleaned(&typed, limits, needed, place, clean)
    }

    fn cleaned(
        &mut self,
        typed: &str,
        limits: &'static Limits,
        needed: bool,
        place: Place,
        clean: fn(&str) -> String,
    ) -> String {
        let text = clean(typed);
        let whole = typed.chars().count() <= RAW_TIMES * limits.max as usize;
        if !whole {
            self.errors.push(FieldError::new(place, "tooLong", limits));
        } else if let Err(error) = words::check(&text, limits, needed, place) {
            self.errors.push(error);
        }
        text
    }

    /// A list of no more than so many values.
    fn items<T: Tree>(&mut self, list: &T, limits: &'static Limits, place: Place) -> Vec<T> {
        let most = limits.max as usize;
        match list.items(most + 1) {
            Some(items) if items.len() > most => self.errors.push(FieldError::new(place, "tooBig", limits)),
            Some(items) => return items,
            None => self.refuse(place, "unknown"),
        }
        Vec::new()
    }

    #[inline(never)]
    fn kept<V>(&mut self, read: Result<V, FieldError>) -> Option<V> {
        read.map_err(|error| self.errors.push(error)).ok()
    }

    #[inline(never)]
    fn refuse(&mut self, place: Place, key: &'static str) {
        self.errors.push(FieldError::bare(place, key));
    }
}

/// A question that the page has words for: a prediction belongs before a dose.
fn built_in(key: &str, at: At) -> Result<Ask, &'static str> {
    if let Some(question) = Question::of_key(key) {
        return if matches!(at, At::Step(_)) { Ok(Ask::Card(question)) } else { Err("notHere") };
    }
    ChoiceQuestion::of_key(key).map(Ask::Choice).ok_or("unknown")
}

impl RecipeText {
    /// A recipe from a tree that holds its numbers by their keys, and its beakers.
    pub fn from_tree<T: Tree>(root: &T) -> RecipeText {
        RecipeText::from_trees(root, root)
    }

    fn from_trees<T: Tree>(numbers: &T, root: &T) -> RecipeText {
        // One more than may be is enough to be refused as too many.
        let listed = root.member("beakers").and_then(|list| list.items(Recipe::BEAKERS[1] + 1)).unwrap_or_default();
        RecipeText {
            fields: FieldTexts::of(|field| short(numbers, field.key())),
            beakers: listed.iter().map(BeakerText::from_tree).collect(),
        }
    }
}

impl BeakerText {
    /// A beaker's surroundings from a tree.
    pub fn from_tree<T: Tree>(tree: &T) -> BeakerText {
        BeakerText { kind: short(tree, "kind"), celsius: short(tree, "celsius"), ice_g: short(tree, "iceG") }
    }
}

/// The recipe as typed; a list of doses decides over the numbers of doses.
fn recipe_text<T: Tree>(root: &T, doses: Option<&[Dose]>) -> RecipeText {
    let mut text = match root.member("recipe") {
        Some(numbers) => RecipeText::from_trees(&numbers, root),
        None => RecipeText::default(),
    };
    if let Some(doses) = doses {
        for (field, reagent) in [(Field::AcidDoses, Reagent::Acid), (Field::BaseDoses, Reagent::Base)] {
            let count = doses.iter().filter(|dose| dose.reagent == reagent).count();
            text.fields.set(field, count.to_string());
        }
    }
    text
}

#[cfg(not(target_arch = "wasm32"))]
impl Tree for serde_json::Value {
    fn member(&self, name: &str) -> Option<Self> {
        self.get(name).filter(|value| !value.is_null()).cloned()
    }

    fn items(&self, most: usize) -> Option<Vec<Self>> {
        self.as_array().map(|items| items.iter().take(most).cloned().collect())
    }

    fn text(&self, most: usize) -> Option<String> {
        match self {
            serde_json::Value::String(text) => Some(text.chars().take(most + 1).collect()),
            serde_json::Value::Number(number) => number.as_f64().map(|number| number.to_string()),
            _ => None,
        }
    }
}
