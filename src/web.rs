//! The only room that knows JavaScript: it turns a page's values into [`Screen`]'s and back,
//! and decides nothing. Times are seconds on the lesson's clock; none later than now is read.
//!
//! Every object has camelCase keys; a value that is not there is null or absent. Nothing here
//! throws on bad input: a refused request answers `{ok: false, key, errors}`.

mod convert;

use wasm_bindgen::Clamped;
use wasm_bindgen::prelude::*;

use crate::view::Screen;
use convert::{bath_text, decimal, guess_text, object, pour_text, recipe_text};

/// A lesson and everything that is shown of it.
#[wasm_bindgen]
pub struct Turnback(Screen);

#[wasm_bindgen]
impl Turnback {
    /// Our own scenario, in the brief of the guided lesson.
    #[wasm_bindgen(constructor)]
    pub fn new() -> Result<Turnback, JsError> {
        console_error_panic_hook::set_once();
        // Our own scenario always begins; a test runs it natively.
        Screen::new().map(Turnback).map_err(|error| JsError::new(&format!("{error:?}")))
    }

    /// `{fields: [{key, unit, min, max, value, decimals}], beakers: [{kind, celsius, iceG}]}`.
    pub fn fields(&self) -> JsValue {
        object(&self.0.fields())
    }

    /// Takes `{waterMl: "500", ..., beakers: [{kind, celsius, iceG}]}` as typed.
    #[wasm_bindgen(js_name = setRecipe)]
    pub fn set_recipe(&mut self, typed: &JsValue) -> JsValue {
        object(&self.0.set_recipe(&recipe_text(typed)))
    }

    /// Opens the lesson of a link, with or without its #.
    #[wasm_bindgen(js_name = openLink)]
    pub fn open_link(&mut self, fragment: &str) -> JsValue {
        object(&self.0.open_link(fragment))
    }

    /// The lesson as a link, without the #.
    pub fn link(&self) -> String {
        self.0.link()
    }

    /// Begins anew: "guided" or "free".
    pub fn begin(&mut self, mode: &str) -> JsValue {
        object(&self.0.begin(mode))
    }

    /// `{mode, stage, now, held, speed, step, restAt, canPour}`.
    pub fn state(&self) -> JsValue {
        object(&self.0.state())
    }

    /// Locks `{atOnce, atRest, clarity, seconds, first, why}` and pours.
    pub fn lock(&mut self, answers: &JsValue) -> JsValue {
        object(&self.0.lock(&guess_text(answers)))
    }

    /// Lets the clock run for so many real seconds: `{now, events}`.
    pub fn tick(&mut self, real_seconds: f64) -> JsValue {
        object(&self.0.tick(real_seconds))
    }

    /// Lets the clock run to the next event: `{now, events}`.
    #[wasm_bindgen(js_name = nextEvent)]
    pub fn next_event(&mut self) -> JsValue {
        object(&self.0.next_event())
    }

    /// Holds the clock, or lets it run.
    #[wasm_bindgen(js_name = setHeld)]
    pub fn set_held(&mut self, held: bool) {
        self.0.set_held(held);
    }

    /// Sets the speed: 1, 4 or 16.
    #[wasm_bindgen(js_name = setSpeed)]
    pub fn set_speed(&mut self, speed: u32) {
        self.0.set_speed(speed);
    }

    /// Takes down what was seen, as `lock` takes a guess; nothing needs to be answered.
    pub fn see(&mut self, answers: &JsValue) -> JsValue {
        object(&self.0.see(&guess_text(answers)))
    }

    /// `{beakers, questions, seen, why}`; null in any other stage than "explain".
    pub fn explanation(&self) -> JsValue {
        object(&self.0.explanation())
    }

    /// Goes on to the next dose, or to the end.
    #[wasm_bindgen(js_name = goOn)]
    pub fn go_on(&mut self) -> JsValue {
        object(&self.0.go_on())
    }

    /// Pours `{beakers: [0, 1], reagent: "acid", volumeMl: "2.0"}` on the free bench.
    pub fn pour(&mut self, typed: &JsValue) -> JsValue {
        object(&self.0.pour(&pour_text(typed)))
    }

    /// Sets a stirrer's speed as typed on the free bench; all of them for -1.
    #[wasm_bindgen(js_name = setStirrer)]
    pub fn set_stirrer(&mut self, beaker: i32, rpm: &JsValue) -> JsValue {
        object(&self.0.set_stirrer(beaker, &decimal(rpm)))
    }

    /// Puts a beaker into `{kind, celsius}` on the free bench; all of them for -1.
    #[wasm_bindgen(js_name = setBath)]
    pub fn set_bath(&mut self, beaker: i32, typed: &JsValue) -> JsValue {
        object(&self.0.set_bath(beaker, &bath_text(typed)))
    }

    /// The words panel of every beaker at a time.
    pub fn labels(&self, time: f64) -> JsValue {
        object(&self.0.labels(time))
    }

    /// One beaker at a time as RGBA pixels.
    pub fn paint(
        &mut self,
        beaker: usize,
        time: f64,
        width: usize,
        height: usize,
        reduced_motion: bool,
    ) -> Clamped<Vec<u8>> {
        Clamped(self.0.paint(beaker, time, width, height, reduced_motion).to_vec())
    }

    /// Where the parts of a painted beaker lie, px: `{wall, rimY, floorY, mark, graduation,
    /// graduations: [{volumeMl, major, y}], pxPerCm}`.
    pub fn geometry(&self, _beaker: usize, width: usize, height: usize) -> JsValue {
        object(&self.0.geometry(width, height))
    }

    /// One beaker's colours from one time to another as RGBA pixels, `rows` (or 1) rows of
    /// `columns`; transparent beyond now.
    pub fn ribbon(&self, from: f64, to: f64, columns: usize, beaker: usize, rows: Option<usize>) -> Clamped<Vec<u8>> {
        Clamped(self.0.ribbon(beaker, from, to, columns, rows.unwrap_or(1)))
    }

    /// `{doses, guesses, events}` up to now.
    pub fn marks(&self) -> JsValue {
        object(&self.0.marks())
    }

    /// `n` values of a column from one time to another, NaN beyond now; undefined for a name
    /// that is not there.
    pub fn column(&self, name: &str, beaker: usize, from: f64, to: f64, n: usize) -> Option<Vec<f64>> {
        self.0.column(name, beaker, from, to, n)
    }

    /// The run up to now as CSV, a row every so many seconds; with semicolons and decimal
    /// commas if asked for.
    pub fn csv(&self, every_seconds: f64, decimal_comma: bool) -> String {
        self.0.csv(every_seconds, decimal_comma)
    }

    /// The bookkeeping of a beaker (the first, where none is named) as far as was poured.
    pub fn ledger(&self, beaker: Option<usize>) -> JsValue {
        object(&self.0.ledger(beaker.unwrap_or(0)))
    }

    /// XXXX-XXXX, the check code of the run up to now.
    #[wasm_bindgen(js_name = checkCode)]
    pub fn check_code(&self) -> String {
        self.0.check_code()
    }
}
