//! The recipe as a form: each number with its unit, its limits and the decimals to show.

use serde::Serialize;

use crate::lesson::{Beaker, Field, Recipe};

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
}

impl RecipeForm {
    pub(super) fn of(recipe: &Recipe) -> RecipeForm {
        let room_c = recipe.value(Field::RoomC);
        let beaker = |beaker: &Beaker| BeakerField {
            kind: beaker.kind(),
            celsius: beaker.start_c(room_c),
            ice_g: beaker.ice_g(),
        };
        RecipeForm {
            fields: Field::ALL.map(|field| FormField::of(field, recipe.value(field))).to_vec(),
            beakers: recipe.beakers().iter().map(beaker).collect(),
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
