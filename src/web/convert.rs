//! Between JavaScript's values and the view's: nothing is judged here, only read as text.

use js_sys::{Array, JSON, JsString, Number, Reflect};
use serde::Serialize;
use serde_wasm_bindgen::Serializer;
use wasm_bindgen::{JsCast, JsValue};

use crate::lesson::{FILE_MAX_CHARS, GuessText, Tree};
use crate::record::{Cells, Column, Dialect, to_csv};
use crate::session::PourText;

/// A view's value as a plain object.
pub(super) fn object<T: Serialize>(value: &T) -> JsValue {
    let plain = Serializer::new().serialize_maps_as_objects(true).serialize_missing_as_null(true);
    // Only a map with keys that are no text could fail, and no view has one.
    value.serialize(&plain).unwrap_or(JsValue::NULL)
}

/// What was asked for, or why there is none.
pub(super) fn either<T: Serialize, E: Serialize>(result: &Result<T, E>) -> JsValue {
    match result {
        Ok(value) => object(value),
        Err(refusal) => object(refusal),
    }
}

/// A lesson's object as the text of its file.
pub(super) fn file_text(lesson: &JsValue) -> String {
    let text = JSON::stringify_with_replacer_and_space(lesson, &JsValue::NULL, &JsValue::from(2));
    text.map(String::from).unwrap_or_default()
}

/// The object of a file's text, or why there is none.
pub(super) fn parsed(text: &JsString) -> Result<JsValue, &'static str> {
    if text.length() as usize > FILE_MAX_CHARS {
        return Err("tooLong");
    }
    JSON::parse(&String::from(text)).map_err(|_| "damaged")
}

impl Tree for JsValue {
    fn member(&self, name: &str) -> Option<JsValue> {
        Some(get(self, name)).filter(|value| !value.is_undefined() && !value.is_null())
    }

    fn items(&self, most: usize) -> Option<Vec<JsValue>> {
        self.dyn_ref::<Array>().map(|list| list.slice(0, most as u32).iter().collect())
    }

    fn text(&self, most: usize) -> Option<String> {
        match self.dyn_ref::<JsString>() {
            // A character is two of JavaScript's units at most: enough of a long text is copied
            // to see that it is too long, and no more.
            Some(text) => Some(String::from(text.slice(0, 2 * most as u32 + 2))),
            None => self.as_f64().map(in_digits),
        }
    }
}

/// Answers as typed or chosen.
pub(super) fn guess_text(typed: &JsValue) -> GuessText {
    let answer = |key| Some(text_at(typed, key)).filter(|text| !text.is_empty());
    GuessText {
        at_once: answer("atOnce"),
        at_rest: answer("atRest"),
        clarity: answer("clarity"),
        seconds: answer("seconds"),
        first: answer("first"),
        why: answer("why"),
    }
}

/// Beakers by their numbers. What is no beaker's number is read as one that is not there.
pub(super) fn beakers_at(listed: &JsValue) -> Vec<usize> {
    let listed = Array::is_array(listed).then(|| Array::from(listed));
    let number = |beaker: JsValue| match beaker.as_f64() {
        Some(number) if number >= 0.0 && number.fract() == 0.0 => number as usize,
        _ => usize::MAX,
    };
    listed.iter().flat_map(Array::iter).take(4).map(number).collect()
}

/// A pour as typed.
pub(super) fn pour_text(typed: &JsValue) -> PourText {
    PourText {
        beakers: beakers_at(&get(typed, "beakers")),
        reagent: text_at(typed, "reagent"),
        volume_ml: text_at(typed, "volumeMl"),
    }
}

/// A page's table as CSV: `[{name, decimals, cells}]`. What is neither a number nor a word leaves its cell empty.
pub(super) fn csv_of(columns: &JsValue, decimal_comma: bool) -> String {
    let columns: Vec<JsValue> = Array::from(columns).iter().collect();
    let names: Vec<String> = columns.iter().map(|column| text_at(column, "name")).collect();
    let cells = columns.iter().map(|column| {
        let listed = Array::from(&get(column, "cells"));
        let cells = listed.iter();
        match get(column, "decimals").as_f64() {
            Some(decimals) => Cells::Numbers {
                values: cells.map(|cell| cell.as_f64().unwrap_or(f64::NAN)).collect(),
                decimals: decimals as usize,
            },
            None => Cells::Words(cells.map(|cell| decimal(&cell)).collect()),
        }
    });
    let columns: Vec<Column> = names.iter().zip(cells).map(|(name, cells)| Column { name, cells }).collect();
    to_csv(&columns, if decimal_comma { Dialect::SemicolonComma } else { Dialect::CommaPoint })
}

/// A text as it is, a number as its digits, anything else as nothing.
pub(super) fn decimal(value: &JsValue) -> String {
    value.as_string().or_else(|| value.as_f64().map(in_digits)).unwrap_or_default()
}

/// JavaScript's own digits: Rust's would bring their tables along.
fn in_digits(number: f64) -> String {
    Number::from(number).to_string_with_radix(10).map(String::from).unwrap_or_default()
}

fn text_at(typed: &JsValue, key: &str) -> String {
    decimal(&get(typed, key))
}

fn get(typed: &JsValue, key: &str) -> JsValue {
    Reflect::get(typed, &JsValue::from_str(key)).unwrap_or(JsValue::UNDEFINED)
}
