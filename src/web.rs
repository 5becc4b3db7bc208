//! The only room that knows JavaScript: it turns a page's values into [`Screen`]'s and back,
//! and decides nothing. Times are seconds on the lesson's clock; none later than now is read.
//!
//! Every object has camelCase keys; a value that is not there is null or absent. Nothing here
//! throws on bad input: a refused request answers `{ok: false, key, errors}`.
//!
//! A student needs [`Turnback`] and a teacher [`desk::Desk`] as well. The build lays what only the
//! desk calls into a second file, so that the bench need not wait for it.

mod convert;
mod desk;
mod measured;

use std::cell::{RefCell, RefMut};
use std::rc::Rc;

use js_sys::Uint8ClampedArray;
use wasm_bindgen::prelude::*;

use crate::lesson::BeakerText;
use crate::view::{LevelSight, Look, MarksVersion, Screen, arrhenius};
use convert::{beakers_at, csv_of, decimal, guess_text, object, pour_text};
use desk::Desk;

/// A lesson and everything that is shown of it.
#[wasm_bindgen]
pub struct Turnback {
    screen: Rc<RefCell<Screen>>,
    /// The marks as they were handed out, and what they hung on: a page asks for them at every
    /// frame, and they change only with an event.
    marks: Option<(MarksVersion, JsValue)>,
}

impl Turnback {
    // Nothing that is called here calls back, so it is never borrowed twice.
    fn screen(&self) -> RefMut<'_, Screen> {
        self.screen.borrow_mut()
    }
}

#[wasm_bindgen]
impl Turnback {
    /// Our own scenario, in the brief of the guided lesson.
    #[wasm_bindgen(constructor)]
    pub fn new() -> Result<Turnback, JsError> {
        console_error_panic_hook::set_once();
        // Our own scenario always begins; a test runs it natively.
        let screen = Screen::new().map_err(|_| JsError::new("our own scenario does not begin"))?;
        Ok(Turnback { screen: Rc::new(RefCell::new(screen)), marks: None })
    }

    /// The teacher's desk over the same lesson.
    pub fn desk(&self) -> Desk {
        Desk::over(&self.screen)
    }

    /// `{fields: [{key, unit, min, max, value, decimals}], beakers: [{kind, celsius, iceG}]}`.
    pub fn fields(&self) -> JsValue {
        object(&self.screen().fields())
    }

    /// `{date, measurements, numbers: [[key, as it comes, as fitted or null]]}` of a fitted bottle, or null.
    pub fn bottle(&self) -> JsValue {
        object(&self.screen().bottle())
    }

    /// Opens the lesson of a link, with or without its #.
    #[wasm_bindgen(js_name = openLink)]
    pub fn open_link(&mut self, fragment: &str) -> JsValue {
        object(&self.screen().open_link(fragment))
    }

    /// The lesson as a link, without the #.
    pub fn link(&self) -> String {
        self.screen().link()
    }

    /// Begins anew: "guided" or "free".
    pub fn begin(&mut self, mode: &str) -> JsValue {
        object(&self.screen().begin(mode))
    }

    /// Begins the same lesson as if nothing had been done in it.
    pub fn forget(&mut self) -> JsValue {
        object(&self.screen().forget())
    }

    /// `{mode, stage, now, held, speed, step, restAt, canPour}`.
    pub fn state(&self) -> JsValue {
        object(&self.screen().state())
    }

    /// Locks `{atOnce, atRest, clarity, seconds, first, why}` and pours.
    pub fn lock(&mut self, answers: &JsValue) -> JsValue {
        object(&self.screen().lock(&guess_text(answers)))
    }

    /// Lets the clock run for so many real seconds: `{now, events}`.
    pub fn tick(&mut self, real_seconds: f64) -> JsValue {
        object(&self.screen().tick(real_seconds))
    }

    /// Lets the clock run to the next event: `{now, events}`.
    #[wasm_bindgen(js_name = nextEvent)]
    pub fn next_event(&mut self) -> JsValue {
        object(&self.screen().next_event())
    }

    /// Holds the clock, or lets it run.
    #[wasm_bindgen(js_name = setHeld)]
    pub fn set_held(&mut self, held: bool) {
        self.screen().set_held(held);
    }

    /// Sets the speed: 1, 4 or 16.
    #[wasm_bindgen(js_name = setSpeed)]
    pub fn set_speed(&mut self, speed: u32) {
        self.screen().set_speed(speed);
    }

    /// Takes down what was seen, as `lock` takes a guess; nothing needs to be answered.
    pub fn see(&mut self, answers: &JsValue) -> JsValue {
        object(&self.screen().see(&guess_text(answers)))
    }

    /// `{beakers, questions, seen, why}`; null in any other stage than "explain".
    pub fn explanation(&self) -> JsValue {
        object(&self.screen().explanation())
    }

    /// Goes on to the next dose, or to the end.
    #[wasm_bindgen(js_name = goOn)]
    pub fn go_on(&mut self) -> JsValue {
        object(&self.screen().go_on())
    }

    /// Pours `{beakers: [0, 1], reagent: "acid", volumeMl: "2.0"}` on the free bench.
    pub fn pour(&mut self, typed: &JsValue) -> JsValue {
        object(&self.screen().pour(&pour_text(typed)))
    }

    /// Sets a stirrer's speed as typed on the free bench; all of them for -1.
    #[wasm_bindgen(js_name = setStirrer)]
    pub fn set_stirrer(&mut self, beaker: i32, rpm: &JsValue) -> JsValue {
        object(&self.screen().set_stirrer(beaker, &decimal(rpm)))
    }

    /// Puts a beaker into `{kind, celsius}` on the free bench; all of them for -1.
    #[wasm_bindgen(js_name = setBath)]
    pub fn set_bath(&mut self, beaker: i32, typed: &JsValue) -> JsValue {
        object(&self.screen().set_bath(beaker, &BeakerText::from_tree(typed)))
    }

    /// Changes "halfWater", "noIndicator", "finer" or "ice" in `[0, 1]` of the free bench's beakers, or takes all changes back
    /// for "none", and sets all up anew.
    pub fn change(&mut self, beakers: &JsValue, key: &str) -> JsValue {
        object(&self.screen().change(&beakers_at(beakers), key))
    }

    /// Puts up or takes away the card with the mark, and the torch with its black card.
    #[wasm_bindgen(js_name = setLook)]
    pub fn set_look(&mut self, mark: bool, torch: bool) {
        self.screen().set_look(Look { mark, torch });
    }

    /// The words panel of every beaker at a time.
    pub fn labels(&self, time: f64) -> JsValue {
        object(&self.screen().labels(time))
    }

    /// One beaker at a time as RGBA pixels. They are written into `pixels` where that has their
    /// length, so that a page that keeps its pictures makes no new ones at every frame.
    pub fn paint(
        &mut self,
        beaker: usize,
        time: f64,
        width: usize,
        height: usize,
        reduced_motion: bool,
        pixels: Option<Uint8ClampedArray>,
    ) -> Uint8ClampedArray {
        let mut screen = self.screen();
        let painted = screen.paint(beaker, time, width, height, reduced_motion);
        match pixels.filter(|pixels| pixels.length() as usize == painted.len()) {
            Some(pixels) => {
                pixels.copy_from(painted);
                pixels
            }
            None => Uint8ClampedArray::from(painted),
        }
    }

    /// One beaker's colours from one time to another as RGBA pixels, `rows` (or 1) rows of
    /// `columns`; transparent beyond now.
    pub fn ribbon(&self, from: f64, to: f64, columns: usize, beaker: usize, rows: Option<usize>) -> Uint8ClampedArray {
        Uint8ClampedArray::from(self.screen().ribbon(beaker, from, to, columns, rows.unwrap_or(1)).as_slice())
    }

    /// `{doses, guesses, events}` up to now; the same object as long as nothing has happened.
    pub fn marks(&mut self) -> JsValue {
        let version = self.screen().marks_version();
        match &self.marks {
            Some((known, marks)) if *known == version => marks.clone(),
            _ => {
                let marks = object(&self.screen().marks());
                self.marks = Some((version, marks.clone()));
                marks
            }
        }
    }

    /// The values of a column at these times, NaN beyond now; undefined for a name that is not there.
    #[wasm_bindgen(js_name = columnAt)]
    pub fn column_at(&self, name: &str, beaker: usize, times: &[f64]) -> Option<Vec<f64>> {
        self.screen().column_at(name, beaker, times)
    }

    /// The straight line of ln(1/t) against 1/T through pairs of a temperature, °C, and a time, s: slope (K), intercept, the
    /// apparent activation energy (kJ/mol), and the ends of its 95 % range, which are NaN with two pairs. Empty where no line
    /// can be laid.
    pub fn arrhenius(&self, pairs: &[f64]) -> Vec<f64> {
        arrhenius(pairs)
    }

    /// A table as CSV: `[{name, decimals, cells}]`, the cells numbers or words.
    #[wasm_bindgen(js_name = tableCsv)]
    pub fn table_csv(&self, columns: &JsValue, decimal_comma: bool) -> String {
        csv_of(columns, decimal_comma)
    }

    /// What is to be said of one figure of the Ledger as somebody typed it: right, near, other, empty or notANumber.
    #[wasm_bindgen(js_name = checkLedger)]
    pub fn check_ledger(&self, beaker: usize, row: usize, column: &str, typed: &str) -> String {
        self.screen().check_ledger(beaker, row, column, typed).to_owned()
    }

    /// The run up to now as CSV, a row every so many seconds; with semicolons and decimal
    /// commas if asked for.
    pub fn csv(&self, every_seconds: f64, decimal_comma: bool) -> String {
        self.screen().csv(every_seconds, decimal_comma)
    }

    /// The bookkeeping of a beaker (the first, where none is named) as far as was poured.
    pub fn ledger(&self, beaker: Option<usize>) -> JsValue {
        object(&self.screen().ledger(beaker.unwrap_or(0)))
    }

    /// How a beaker's pH has moved from one time to another: `{before, now, commonIon, activity, saturation, temperature}`, or
    /// null.
    #[wasm_bindgen(js_name = phShift)]
    pub fn ph_shift(&self, beaker: usize, from: f64, to: f64) -> JsValue {
        object(&self.screen().ph_shift(beaker, from, to))
    }

    /// XXXX-XXXX, the check code of the run up to now.
    #[wasm_bindgen(js_name = checkCode)]
    pub fn check_code(&self) -> String {
        self.screen().check_code()
    }

    /// `[{level, expected, shows}]` of the five levels.
    pub fn levels(&self) -> JsValue {
        object(&LevelSight::all())
    }

    /// Begins the same lesson at another level, 1 to 5.
    #[wasm_bindgen(js_name = setLevel)]
    pub fn set_level(&mut self, level: u32) -> JsValue {
        object(&self.screen().set_level(level))
    }

    /// The beaker that the predictions are about, from 0.
    pub fn subject(&self) -> usize {
        self.screen().subject()
    }

    /// Answers a question of `state().asks`: the key of a choice, the number of one of the
    /// teacher's choices, or free words; nothing takes the answer back.
    pub fn choose(&mut self, ask: usize, answer: &JsValue) -> JsValue {
        object(&self.screen().choose(ask, &decimal(answer)))
    }

    /// The answered questions with choices, with what is right, as far as it may be told by now.
    pub fn told(&self) -> JsValue {
        object(&self.screen().told_answers())
    }

    /// Tells what a clock of the room shows, s from any start: what is done next is put down with it.
    #[wasm_bindgen(js_name = roomIs)]
    pub fn room_is(&mut self, seconds: f64) {
        self.screen().room_is(seconds);
    }

    /// What a device keeps, to go on from here.
    pub fn kept(&self) -> String {
        self.screen().kept()
    }

    /// Goes on with what was kept, and with the run that it tells again, where it does.
    pub fn resume(&mut self, kept: &str, run: Option<String>) -> JsValue {
        object(&self.screen().resume(kept, &run.unwrap_or_default()))
    }

    /// "It is back": takes the time of a beaker against a finish.
    pub fn mark(&mut self, beaker: usize, finish: &str) -> JsValue {
        object(&self.screen().mark(beaker, finish))
    }

    /// Takes a time back; it stays as one that was taken back.
    #[wasm_bindgen(js_name = takeBack)]
    pub fn take_back(&mut self, mark: usize) -> JsValue {
        object(&self.screen().take_back(mark))
    }

    /// `{open, undo, finishes, times: [{mark, beaker, celsius, finish, seconds, takenBack}], computed}`, or null.
    pub fn timing(&self, finish: &str) -> JsValue {
        object(&self.screen().timing(finish))
    }

    /// Puts a note down, in place of the one before.
    pub fn note(&mut self, text: &str) -> JsValue {
        object(&self.screen().note(text))
    }

    /// Signs with a name or a code, in place of the one before.
    pub fn sign(&mut self, text: &str) -> JsValue {
        object(&self.screen().sign(text))
    }

    /// What would be handed in: `{line, lessonCode, runCode, attempt, blank, signed, note, choices, doses}`.
    pub fn slip(&self) -> JsValue {
        object(&self.screen().slip())
    }

    /// The latest guided run as a text to hand on: `{text, fits, blank}`.
    #[wasm_bindgen(js_name = runText)]
    pub fn run_text(&self) -> JsValue {
        object(&self.screen().run_text())
    }

    /// Opens a run that is told again, as a link or the text of its file.
    #[wasm_bindgen(js_name = openRun)]
    pub fn open_run(&mut self, text: &str) -> JsValue {
        object(&self.screen().open_run(text))
    }

    /// As it ran for the class, or in one's own pace.
    #[wasm_bindgen(js_name = setPaced)]
    pub fn set_paced(&mut self, paced: bool) {
        self.screen().set_paced(paced);
    }

    /// `{paced, code, same, count, doses, questions, seen}` of the run that is told again, or null.
    pub fn retell(&mut self) -> JsValue {
        object(&self.screen().retell())
    }
}
