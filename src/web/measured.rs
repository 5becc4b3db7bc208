//! What a class measured: tables, recordings and fits, as JavaScript has them.

use js_sys::Array;
use wasm_bindgen::prelude::*;

use super::convert::{decimal, either, object};
use super::desk::Desk;
use crate::measure::{Row, pasted};

#[wasm_bindgen]
impl Desk {
    /// A table pasted from a spreadsheet as rows of six texts: dose, °C at start and end, seconds, finish, beaker.
    #[wasm_bindgen(js_name = pastedTimes)]
    pub fn pasted_times(&self, text: &str) -> JsValue {
        object(&pasted(text))
    }

    /// Fits `wanted` (acidFactor, carbonate, energy, strength) to rows as `pastedTimes` gives them.
    #[wasm_bindgen(js_name = fitTimes)]
    pub fn fit_times(&mut self, rows: &JsValue, wanted: &JsValue) -> JsValue {
        let rows: Vec<Row> = items(rows).iter().map(row).collect();
        either(&self.screen().fit_times(&rows, &texts(wanted)))
    }

    /// Reads a probe's file; `wishes` are keys of delimiter, decimal mark and time's unit and the columns of time and pH, empty
    /// texts for what is left open.
    #[wasm_bindgen(js_name = readProbe)]
    pub fn read_probe(&mut self, bytes: &[u8], wishes: &JsValue) -> JsValue {
        either(&self.screen().read_probe(bytes, &texts(wishes)))
    }

    /// "time", "ph" or "computed" of the recording.
    #[wasm_bindgen(js_name = probeColumn)]
    pub fn probe_column(&self, name: &str) -> Vec<f64> {
        self.screen().probe_column(name)
    }

    /// Lays the model's curve beside the recording: `{meanPh, rmsPh, backS, causes}`.
    #[wasm_bindgen(js_name = overlayProbe)]
    pub fn overlay_probe(&mut self, doses: &[f64], celsius: f64, lag: f64, fitted: bool) -> JsValue {
        either(&self.screen().overlay(doses, celsius, lag, fitted))
    }

    /// Fits `wanted` (those of `fitTimes`, lag) to the recording.
    #[wasm_bindgen(js_name = fitProbe)]
    pub fn fit_probe(&mut self, doses: &[f64], celsius: f64, wanted: &JsValue) -> JsValue {
        either(&self.screen().fit_probe(doses, celsius, &texts(wanted)))
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
