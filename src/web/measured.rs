//! What a class measured: tables, recordings and fits, as JavaScript has them.

use js_sys::{Array, Float64Array};
use wasm_bindgen::prelude::*;

use super::convert::{decimal, either, object};
use super::desk::Desk;
use crate::measure::{Row, pasted};
use crate::view::{Laying, Placed};

#[wasm_bindgen]
impl Desk {
    /// A table pasted from a spreadsheet as rows of six texts: dose, °C at start and end, seconds, finish, beaker.
    #[wasm_bindgen(js_name = pastedTimes)]
    pub fn pasted_times(&self, text: &str) -> JsValue {
        object(&pasted(text))
    }

    /// Times that were pressed at the computed beakers ("own", "each", "medians"):
    /// `{lessonCode, rows: [{dose, startC, endC, seconds, finish, beaker, from, count}], takenBack, delay}`.
    #[wasm_bindgen(js_name = pressedTimes)]
    pub fn pressed_times(&mut self, kind: &str) -> JsValue {
        either(&self.screen().pressed_times(kind))
    }

    /// Fits `wanted` (acidFactor, carbonate, energy, strength) to rows as `pastedTimes` gives them: measured at real beakers,
    /// or `pressed` at the computed ones.
    #[wasm_bindgen(js_name = fitTimes)]
    pub fn fit_times(&mut self, rows: &JsValue, wanted: &JsValue, pressed: bool) -> JsValue {
        let rows: Vec<Row> = items(rows).iter().map(row).collect();
        either(&self.screen().fit_times(&rows, &texts(wanted), pressed))
    }

    /// Reads a probe's file into a slot; `wishes` are keys of delimiter, decimal mark and time's unit and the columns of time
    /// and pH, empty texts for what is left open.
    #[wasm_bindgen(js_name = readProbe)]
    pub fn read_probe(&mut self, slot: usize, bytes: &[u8], wishes: &JsValue) -> JsValue {
        either(&self.screen().read_probe(slot, bytes, &texts(wishes)))
    }

    /// Puts a recording away.
    #[wasm_bindgen(js_name = dropProbe)]
    pub fn drop_probe(&mut self, slot: usize) {
        self.screen().drop_probe(slot);
    }

    /// "time", "ph" or "computed" of a recording.
    #[wasm_bindgen(js_name = probeColumn)]
    pub fn probe_column(&self, slot: usize, name: &str) -> Vec<f64> {
        self.screen().probe_column(slot, name)
    }

    /// Lays the model's curve beside a recording, compared at no more than `most` readings; `placed` is its slot, the °C of
    /// its beaker and the seconds of its doses: `{every, meanPh, rmsPh, backS, causes}`.
    #[wasm_bindgen(js_name = overlayProbe)]
    pub fn overlay_probe(&mut self, placed: &[f64], lag_s: f64, fitted: bool, most: usize) -> JsValue {
        either(&self.screen().overlay(&placed_of(placed), Laying { lag_s, fitted, most }))
    }

    /// Fits `wanted` (those of `fitTimes`, lag) to recordings, each as `overlayProbe` has it.
    #[wasm_bindgen(js_name = fitProbes)]
    pub fn fit_probes(&mut self, placed: &JsValue, wanted: &JsValue) -> JsValue {
        let numbers = |list: &JsValue| list.dyn_ref::<Float64Array>().map(Float64Array::to_vec).unwrap_or_default();
        let placed: Vec<Placed> = items(placed).iter().map(|list| placed_of(&numbers(list))).collect();
        either(&self.screen().fit_probes(&placed, &texts(wanted)))
    }

    /// Keeps the last fit with the lesson, of a day such as 20261125.
    #[wasm_bindgen(js_name = keepFit)]
    pub fn keep_fit(&mut self, date: u32) -> JsValue {
        object(&self.screen().keep_fit(date))
    }

    /// Back to the bottle as it comes.
    #[wasm_bindgen(js_name = dropFit)]
    pub fn drop_fit(&mut self) -> JsValue {
        object(&self.screen().drop_fit())
    }
}

fn items(list: &JsValue) -> Vec<JsValue> {
    list.dyn_ref::<Array>()
        .map(|list| list.slice(0, crate::measure::ROWS_MAX as u32).iter().collect())
        .unwrap_or_default()
}

fn texts(list: &JsValue) -> Vec<String> {
    items(list).iter().map(decimal).collect()
}

fn row(cells: &JsValue) -> Row {
    let mut row = Row::default();
    for (cell, text) in row.iter_mut().zip(texts(cells)) {
        *cell = text;
    }
    row
}

fn placed_of(numbers: &[f64]) -> Placed {
    let slot = numbers.first().map_or(usize::MAX, |slot| *slot as usize);
    Placed {
        slot,
        celsius: numbers.get(1).copied().unwrap_or(f64::NAN),
        doses_s: numbers.get(2..).unwrap_or_default().to_vec(),
    }
}
