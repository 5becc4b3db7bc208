//! The only room that knows JavaScript: it turns a page's values into [`Screen`]'s and back,
//! and decides nothing. Times are seconds on the lesson's clock; none later than now is read.
//!
//! Every object has camelCase keys; a value that is not there is null or absent. Nothing here
//! throws on bad input: a refused request answers `{ok: false, key, errors}`.

mod convert;
mod measured;

use js_sys::{JsString, Uint8ClampedArray};
use wasm_bindgen::prelude::*;

use crate::lesson::{BeakerText, Lesson, RecipeText, SLIP_MAX_CHARS};
use crate::view::{LevelView, Look, MarksVersion, QrView, Reply, Screen, arrhenius, constants};
use convert::{beakers_at, csv_of, decimal, either, file_text, guess_text, object, parsed, pour_text};

/// A lesson and everything that is shown of it.
#[wasm_bindgen]
pub struct Turnback {
    screen: Screen,
    /// The marks as they were handed out, and what they hung on: a page asks for them at every
    /// frame, and they change only with an event.
    marks: Option<(MarksVersion, JsValue)>,
}

#[wasm_bindgen]
impl Turnback {
    /// Our own scenario, in the brief of the guided lesson.
    #[wasm_bindgen(constructor)]
    pub fn new() -> Result<Turnback, JsError> {
        console_error_panic_hook::set_once();
        // Our own scenario always begins; a test runs it natively.
        let screen = Screen::new().map_err(|_| JsError::new("our own scenario does not begin"))?;
        Ok(Turnback { screen, marks: None })
    }

    /// `{fields: [{key, unit, min, max, value, decimals}], beakers: [{kind, celsius, iceG}]}`.
    pub fn fields(&self) -> JsValue {
        object(&self.screen.fields())
    }

    /// Takes `{waterMl: "500", ..., beakers: [{kind, celsius, iceG}]}` as typed.
    #[wasm_bindgen(js_name = setRecipe)]
    pub fn set_recipe(&mut self, typed: &JsValue) -> JsValue {
        object(&self.screen.set_recipe(&RecipeText::from_tree(typed)))
    }

    /// Opens the lesson of a link, with or without its #.
    #[wasm_bindgen(js_name = openLink)]
    pub fn open_link(&mut self, fragment: &str) -> JsValue {
        object(&self.screen.open_link(fragment))
    }

    /// The lesson as a link, without the #.
    pub fn link(&self) -> String {
        self.screen.link()
    }

    /// Begins anew: "guided" or "free".
    pub fn begin(&mut self, mode: &str) -> JsValue {
        object(&self.screen.begin(mode))
    }

    /// `{mode, stage, now, held, speed, step, restAt, canPour}`.
    pub fn state(&self) -> JsValue {
        object(&self.screen.state())
    }

    /// Locks `{atOnce, atRest, clarity, seconds, first, why}` and pours.
    pub fn lock(&mut self, answers: &JsValue) -> JsValue {
        object(&self.screen.lock(&guess_text(answers)))
    }

    /// Lets the clock run for so many real seconds: `{now, events}`.
    pub fn tick(&mut self, real_seconds: f64) -> JsValue {
        object(&self.screen.tick(real_seconds))
    }

    /// Lets the clock run to the next event: `{now, events}`.
    #[wasm_bindgen(js_name = nextEvent)]
    pub fn next_event(&mut self) -> JsValue {
        object(&self.screen.next_event())
    }

    /// Holds the clock, or lets it run.
    #[wasm_bindgen(js_name = setHeld)]
    pub fn set_held(&mut self, held: bool) {
        self.screen.set_held(held);
    }

    /// Sets the speed: 1, 4 or 16.
    #[wasm_bindgen(js_name = setSpeed)]
    pub fn set_speed(&mut self, speed: u32) {
        self.screen.set_speed(speed);
    }

    /// Takes down what was seen, as `lock` takes a guess; nothing needs to be answered.
    pub fn see(&mut self, answers: &JsValue) -> JsValue {
        object(&self.screen.see(&guess_text(answers)))
    }

    /// `{beakers, questions, seen, why}`; null in any other stage than "explain".
    pub fn explanation(&self) -> JsValue {
        object(&self.screen.explanation())
    }

    /// Goes on to the next dose, or to the end.
    #[wasm_bindgen(js_name = goOn)]
    pub fn go_on(&mut self) -> JsValue {
        object(&self.screen.go_on())
    }

    /// Pours `{beakers: [0, 1], reagent: "acid", volumeMl: "2.0"}` on the free bench.
    pub fn pour(&mut self, typed: &JsValue) -> JsValue {
        object(&self.screen.pour(&pour_text(typed)))
    }

    /// Sets a stirrer's speed as typed on the free bench; all of them for -1.
    #[wasm_bindgen(js_name = setStirrer)]
    pub fn set_stirrer(&mut self, beaker: i32, rpm: &JsValue) -> JsValue {
        object(&self.screen.set_stirrer(beaker, &decimal(rpm)))
    }

    /// Puts a beaker into `{kind, celsius}` on the free bench; all of them for -1.
    #[wasm_bindgen(js_name = setBath)]
    pub fn set_bath(&mut self, beaker: i32, typed: &JsValue) -> JsValue {
        object(&self.screen.set_bath(beaker, &BeakerText::from_tree(typed)))
    }

    /// Changes "halfWater", "noIndicator", "finer" or "ice" in `[0, 1]` of the free bench's beakers, or takes all changes back
    /// for "none", and sets all up anew.
    pub fn change(&mut self, beakers: &JsValue, key: &str) -> JsValue {
        object(&self.screen.change(&beakers_at(beakers), key))
    }

    /// Puts up or takes away the card with the mark, and the torch with its black card.
    #[wasm_bindgen(js_name = setLook)]
    pub fn set_look(&mut self, mark: bool, torch: bool) {
        self.screen.set_look(Look { mark, torch });
    }

    /// The words panel of every beaker at a time.
    pub fn labels(&self, time: f64) -> JsValue {
        object(&self.screen.labels(time))
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
        let painted = self.screen.paint(beaker, time, width, height, reduced_motion);
        match pixels.filter(|pixels| pixels.length() as usize == painted.len()) {
            Some(pixels) => {
                pixels.copy_from(painted);
                pixels
            }
            None => Uint8ClampedArray::from(painted),
        }
    }

    /// Where the parts of a painted beaker lie, px: `{wall, rimY, floorY, mark, graduation,
    /// graduations: [{volumeMl, major, y}], pxPerCm}`.
    pub fn geometry(&self, _beaker: usize, width: usize, height: usize) -> JsValue {
        object(&self.screen.geometry(width, height))
    }

    /// One beaker's colours from one time to another as RGBA pixels, `rows` (or 1) rows of
    /// `columns`; transparent beyond now.
    pub fn ribbon(&self, from: f64, to: f64, columns: usize, beaker: usize, rows: Option<usize>) -> Uint8ClampedArray {
        Uint8ClampedArray::from(self.screen.ribbon(beaker, from, to, columns, rows.unwrap_or(1)).as_slice())
    }

    /// `{doses, guesses, events}` up to now; the same object as long as nothing has happened.
    pub fn marks(&mut self) -> JsValue {
        let version = self.screen.marks_version();
        match &self.marks {
            Some((known, marks)) if *known == version => marks.clone(),
            _ => {
                let marks = object(&self.screen.marks());
                self.marks = Some((version, marks.clone()));
                marks
            }
        }
    }

    /// `n` values of a column from one time to another, NaN beyond now; undefined for a name
    /// that is not there.
    pub fn column(&self, name: &str, beaker: usize, from: f64, to: f64, n: usize) -> Option<Vec<f64>> {
        self.screen.column(name, beaker, from, to, n)
    }

    /// The values of a column at these times, NaN beyond now; undefined for a name that is not there.
    #[wasm_bindgen(js_name = columnAt)]
    pub fn column_at(&self, name: &str, beaker: usize, times: &[f64]) -> Option<Vec<f64>> {
        self.screen.column_at(name, beaker, times)
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
        self.screen.check_ledger(beaker, row, column, typed).to_owned()
    }

    /// The run up to now as CSV, a row every so many seconds; with semicolons and decimal
    /// commas if asked for.
    pub fn csv(&self, every_seconds: f64, decimal_comma: bool) -> String {
        self.screen.csv(every_seconds, decimal_comma)
    }

    /// The bookkeeping of a beaker (the first, where none is named) as far as was poured.
    pub fn ledger(&self, beaker: Option<usize>) -> JsValue {
        object(&self.screen.ledger(beaker.unwrap_or(0)))
    }

    /// How a beaker's pH has moved from one time to another: `{before, now, commonIon, activity, saturation, temperature}`, or
    /// null.
    #[wasm_bindgen(js_name = phShift)]
    pub fn ph_shift(&self, beaker: usize, from: f64, to: f64) -> JsValue {
        object(&self.screen.ph_shift(beaker, from, to))
    }

    /// `[{group, key, of, value, unit, standing, source}]`: every number that the model computes with.
    pub fn constants(&self) -> JsValue {
        object(&constants())
    }

    /// XXXX-XXXX, the check code of the run up to now.
    #[wasm_bindgen(js_name = checkCode)]
    pub fn check_code(&self) -> String {
        self.screen.check_code()
    }

    /// The link with its length: `{ok, fragment, chars, max}`, or `{ok: false, key: "tooLong", chars, max}`.
    pub fn share(&self) -> JsValue {
        object(&self.screen.share())
    }

    /// The five levels with all that each asks, and the key to it.
    pub fn levels(&self) -> JsValue {
        object(&LevelView::all())
    }

    /// Begins the same lesson at another level, 1 to 5.
    #[wasm_bindgen(js_name = setLevel)]
    pub fn set_level(&mut self, level: u32) -> JsValue {
        object(&self.screen.set_level(level))
    }

    /// The whole lesson as its file has it: `{turnback, title, level, minutes, recipe, beakers,
    /// brief, steps, end, notes}`.
    pub fn lesson(&self) -> JsValue {
        object(&self.screen.lesson_file())
    }

    /// Takes a lesson as `lesson` gives it, with whatever was typed into it, and begins it.
    #[wasm_bindgen(js_name = setLesson)]
    pub fn set_lesson(&mut self, typed: &JsValue) -> JsValue {
        object(&self.screen.set_lesson(Lesson::from_tree(typed)))
    }

    /// The lesson as the text of its file.
    #[wasm_bindgen(js_name = lessonFile)]
    pub fn lesson_file(&self) -> String {
        file_text(&self.lesson())
    }

    /// Opens the text of a lesson's file.
    #[wasm_bindgen(js_name = openLessonFile)]
    pub fn open_lesson_file(&mut self, text: &JsString) -> JsValue {
        object(&match parsed(text) {
            Ok(file) => self.screen.set_lesson(Lesson::from_tree(&file)),
            Err(key) => Reply::refused(key),
        })
    }

    /// Every place of the lesson with what is asked there.
    pub fn outline(&self) -> JsValue {
        object(&self.screen.outline())
    }

    /// The check code of the lesson itself, for the heads of its sheets.
    #[wasm_bindgen(js_name = lessonCode)]
    pub fn lesson_code(&self) -> String {
        self.screen.lesson_code()
    }

    /// The beaker that the predictions are about, from 0.
    pub fn subject(&self) -> usize {
        self.screen.subject()
    }

    /// Answers a question of `state().asks`: the key of a choice, the number of one of the
    /// teacher's choices, or free words; nothing takes the answer back.
    pub fn choose(&mut self, ask: usize, answer: &JsValue) -> JsValue {
        object(&self.screen.choose(ask, &decimal(answer)))
    }

    /// The answered questions with choices, with what is right, as far as it may be told by now.
    pub fn told(&self) -> JsValue {
        object(&self.screen.told_answers())
    }

    /// What the lesson, or a draft of it as `setLesson` takes it, will do within so many minutes
    /// (0: no slot). Computes one beaker a call: ask again while `pending` is not 0.
    pub fn plan(&mut self, minutes: f64, draft: &JsValue) -> JsValue {
        let draft = (!draft.is_undefined() && !draft.is_null()).then(|| Lesson::from_tree(draft));
        either(&self.screen.plan(minutes, draft))
    }

    /// The prep sheet with so many spare doses for each beaker, from these stocks: a key of
    /// `stocks`, a concentration as typed, or nothing for the usual one.
    pub fn prep(&self, spare: u32, acid_stock: Option<String>, base_stock: Option<String>) -> JsValue {
        object(&self.screen.prep(spare, &acid_stock.unwrap_or_default(), &base_stock.unwrap_or_default()))
    }

    /// The safety card; with the stocks where they are named.
    pub fn safety(&self, acid_stock: Option<String>, base_stock: Option<String>) -> JsValue {
        object(&self.screen.safety(acid_stock.as_deref(), base_stock.as_deref()))
    }

    /// What it says of the bottle that the n-th dose, as typed, was the first to stay.
    pub fn counted(&self, typed: &JsValue) -> JsValue {
        either(&self.screen.counted(&decimal(typed)))
    }

    /// A QR code of an address: `{ok, svg, modules, reads}`.
    #[wasm_bindgen(js_name = qrSvg)]
    pub fn qr_svg(&self, text: &str) -> JsValue {
        either(&QrView::of(text))
    }

    /// Tells what a clock of the room shows, s from any start: what is done next is put down with it.
    #[wasm_bindgen(js_name = roomIs)]
    pub fn room_is(&mut self, seconds: f64) {
        self.screen.room_is(seconds);
    }

    /// What a device keeps, to go on from here.
    pub fn kept(&self) -> String {
        self.screen.kept()
    }

    /// Goes on with what was kept, and with the run that it tells again, where it does.
    pub fn resume(&mut self, kept: &str, run: Option<String>) -> JsValue {
        object(&self.screen.resume(kept, &run.unwrap_or_default()))
    }

    /// "It is back": takes the time of a beaker against a finish.
    pub fn mark(&mut self, beaker: usize, finish: &str) -> JsValue {
        object(&self.screen.mark(beaker, finish))
    }

    /// Takes a time back; it stays as one that was taken back.
    #[wasm_bindgen(js_name = takeBack)]
    pub fn take_back(&mut self, mark: usize) -> JsValue {
        object(&self.screen.take_back(mark))
    }

    /// `{open, undo, finishes, times: [{mark, beaker, celsius, finish, seconds, takenBack}], computed}`, or null.
    pub fn timing(&self, finish: &str) -> JsValue {
        object(&self.screen.timing(finish))
    }

    /// Puts a note down, in place of the one before.
    pub fn note(&mut self, text: &str) -> JsValue {
        object(&self.screen.note(text))
    }

    /// Signs with a name or a code, in place of the one before.
    pub fn sign(&mut self, text: &str) -> JsValue {
        object(&self.screen.sign(text))
    }

    /// What would be handed in: `{line, lessonCode, runCode, attempt, blank, signed, note, choices, doses}`.
    pub fn slip(&self) -> JsValue {
        object(&self.screen.slip())
    }

    /// Opens the text of a slip's file, or lines that were pasted. A text that is too long to be read is left out of account but
    /// for its length.
    #[wasm_bindgen(js_name = tallyAdd)]
    pub fn tally_add(&mut self, file: &str, text: &JsString) {
        let chars = text.length() as usize;
        if chars > SLIP_MAX_CHARS {
            self.screen.tally_too_long(file, chars);
        } else {
            self.screen.tally_add(file, &String::from(text));
        }
    }

    /// Takes all slips away.
    #[wasm_bindgen(js_name = tallyClear)]
    pub fn tally_clear(&mut self) {
        self.screen.tally_clear();
    }

    /// How many slips, or things taken for one, were opened.
    #[wasm_bindgen(js_name = tallyOpened)]
    pub fn tally_opened(&self) -> usize {
        self.screen.tally_opened()
    }

    /// `{ok, lessonCode, counted, aside, questions, ideas, times, students}`, or why there is none.
    pub fn tally(&mut self) -> JsValue {
        either(&self.screen.tally())
    }

    /// The opened slips as CSV; nothing while a lesson is under way.
    #[wasm_bindgen(js_name = tallyCsv)]
    pub fn tally_csv(&mut self, decimal_comma: bool) -> String {
        self.screen.tally_csv(decimal_comma).unwrap_or_default()
    }

    /// The latest guided run as a text to hand on: `{text, fits, blank}`.
    #[wasm_bindgen(js_name = runText)]
    pub fn run_text(&self) -> JsValue {
        object(&self.screen.run_text())
    }

    /// Opens a run that is told again, as a link or the text of its file.
    #[wasm_bindgen(js_name = openRun)]
    pub fn open_run(&mut self, text: &str) -> JsValue {
        object(&self.screen.open_run(text))
    }

    /// As it ran for the class, or in one's own pace.
    #[wasm_bindgen(js_name = setPaced)]
    pub fn set_paced(&mut self, paced: bool) {
        self.screen.set_paced(paced);
    }

    /// `{paced, code, same, count, doses, questions, seen}` of the run that is told again, or null.
    pub fn retell(&mut self) -> JsValue {
        object(&self.screen.retell())
    }
}
