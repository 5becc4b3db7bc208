//! The recipe as a form: each number with its unit, its limits and the decimals to show.

use serde::Serialize;

use crate::lesson::{Beaker, Field, Lesson, Recipe};

/// A recipe's numbers and beakers.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct RecipeForm {
    /// The numbers, in the order of the form.
    pub fields: Vec<FormField>,
    /// The beakers, from left to right.
    pub beakers: Vec<BeakerField>,
}

/// One number of the form.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct FormField {
    /// Its name.
    pub key: &'static str,
    /// Unit symbol.
    pub unit: &'static str,
    /// Smallest value.
    pub min: f64,
    /// Largest value.
    pub max: f64,
    /// The value in use.
    pub value: f64,
    /// Decimals that the value is shown with.
    pub decimals: u32,
}

/// One beaker of the form.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct BeakerField {
    /// Kind of surroundings.
    pub kind: &'static str,
    /// Temperature at which it begins, °C.
    pub celsius: f64,
    /// Ice in it, g.
    pub ice_g: f64,
    /// How sentences call it where the level shows no temperatures: cold, room, warm, or place where two would be called the
    /// same; none where its temperature is its name.
    pub name: Option<&'static str>,
}

/// A beaker that begins colder or warmer than this, °C, is called so.
const COLD_C: f64 = 10.0;
const WARM_C: f64 = 28.0;

/// The names of a recipe's beakers without their temperatures.
fn names(recipe: &Recipe) -> Vec<&'static str> {
    let room_c = recipe.value(Field::RoomC);
    let name = |beaker: &Beaker| match beaker.start_c(room_c) {
        celsius if celsius < COLD_C => "cold",
        celsius if celsius > WARM_C => "warm",
        _ => "room",
    };
    let names: Vec<&str> = recipe.beakers().iter().map(name).collect();
    let is_shared = |name: &&str| names.iter().filter(|other| *other == name).count() > 1;
    names.iter().map(|name| if is_shared(name) { "place" } else { name }).collect()
}

impl RecipeForm {
    pub(super) fn of(lesson: &Lesson) -> RecipeForm {
        let recipe = &lesson.recipe;
        let room_c = recipe.value(Field::RoomC);
        let shows_celsius = lesson.level.plan().shows.contains(&"celsius");
        let names = names(recipe).into_iter().map(|name| Some(name).filter(|_| !shows_celsius));
        let beaker = |(beaker, name): (&Beaker, Option<&'static str>)| BeakerField {
            kind: beaker.kind(),
            celsius: beaker.start_c(room_c),
            ice_g: beaker.ice_g(),
            name,
        };
        RecipeForm {
            fields: Field::ALL.map(|field| FormField::of(field, recipe.value(field))).to_vec(),
            beakers: recipe.beakers().iter().zip(names).map(beaker).collect(),
        }
    }
}

impl FormField {
    fn of(field: Field, value: f64) -> FormField {
        let limits = field.limits();
        FormField {
            key: limits.key,
            unit: limits.unit,
            min: limits.min,
            max: limits.max,
            value,
            decimals: limits.decimals_of(value),
        }
    }
}
