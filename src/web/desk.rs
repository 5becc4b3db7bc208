//! The teacher's desk, as JavaScript has it: what is planned, printed, counted and told of the model.

use std::cell::{RefCell, RefMut};
use std::rc::Rc;

use js_sys::JsString;
use wasm_bindgen::prelude::*;

use super::convert::{decimal, either, file_text, object, parsed};
use crate::lesson::{Lesson, RecipeText, SLIP_MAX_CHARS};
use crate::view::{LevelView, QrView, Reply, Screen, constants};

/// What only a teacher asks of the lesson that is open. What its methods alone call lies in a file of its own, which must have
/// come before any of them is called.
#[wasm_bindgen]
pub struct Desk {
    screen: Rc<RefCell<Screen>>,
}

impl Desk {
    pub(super) fn over(screen: &Rc<RefCell<Screen>>) -> Desk {
        Desk { screen: Rc::clone(screen) }
    }

    pub(super) fn screen(&self) -> RefMut<'_, Screen> {
        self.screen.borrow_mut()
    }
}

#[wasm_bindgen]
impl Desk {
    /// `[{group, key, of, value, unit, standing, source}]`: every number that the model computes with.
    pub fn constants(&self) -> JsValue {
        object(&constants())
    }

    /// The link with its length: `{ok, fragment, chars, max}`, or `{ok: false, key: "tooLong", chars, max}`.
    pub fn share(&self) -> JsValue {
        object(&self.screen().share())
    }

    /// The whole lesson as its file has it: `{turnback, title, level, minutes, recipe, beakers,
    /// brief, steps, end, notes}`.
    pub fn lesson(&self) -> JsValue {
        object(&self.screen().lesson_file())
    }

    /// Takes a lesson as `lesson` gives it, with whatever was typed into it, and begins it.
    #[wasm_bindgen(js_name = setLesson)]
    pub fn set_lesson(&mut self, typed: &JsValue) -> JsValue {
        object(&self.screen().set_lesson(Lesson::from_tree(typed)))
    }

    /// Takes `{waterMl: "500", ..., beakers: [{kind, celsius, iceG}]}` as typed.
    #[wasm_bindgen(js_name = setRecipe)]
    pub fn set_recipe(&mut self, typed: &JsValue) -> JsValue {
        object(&self.screen().set_recipe(&RecipeText::from_tree(typed)))
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
            Ok(file) => self.screen().set_lesson(Lesson::from_tree(&file)),
            Err(key) => Reply::refused(key),
        })
    }

    /// The five levels with all that each asks, and the key to it.
    pub fn levels(&self) -> JsValue {
        object(&LevelView::all())
    }

    /// Every place of the lesson with what is asked there.
    pub fn outline(&self) -> JsValue {
        object(&self.screen().outline())
    }

    /// The check code of the lesson itself, for the heads of its sheets.
    #[wasm_bindgen(js_name = lessonCode)]
    pub fn lesson_code(&self) -> String {
        self.screen().lesson_code()
    }

    /// What the lesson, or a draft of it as `setLesson` takes it, will do within so many minutes
    /// (0: no slot). Computes one beaker a call: ask again while `pending` is not 0.
    pub fn plan(&mut self, minutes: f64, draft: &JsValue) -> JsValue {
        let draft = (!draft.is_undefined() && !draft.is_null()).then(|| Lesson::from_tree(draft));
        either(&self.screen().plan(minutes, draft))
    }

    /// The prep sheet with so many spare doses for each beaker, from these stocks: a key of
    /// `stocks`, a concentration as typed, or nothing for the usual one.
    pub fn prep(&self, spare: u32, acid_stock: Option<String>, base_stock: Option<String>) -> JsValue {
        object(&self.screen().prep(spare, &acid_stock.unwrap_or_default(), &base_stock.unwrap_or_default()))
    }

    /// The safety card; with the stocks where they are named.
    pub fn safety(&self, acid_stock: Option<String>, base_stock: Option<String>) -> JsValue {
        object(&self.screen().safety(acid_stock.as_deref(), base_stock.as_deref()))
    }

    /// What it says of the bottle that the n-th dose, as typed, was the first to stay.
    pub fn counted(&self, typed: &JsValue) -> JsValue {
        either(&self.screen().counted(&decimal(typed)))
    }

    /// A QR code of an address: `{ok, svg, modules, reads}`.
    #[wasm_bindgen(js_name = qrSvg)]
    pub fn qr_svg(&self, text: &str) -> JsValue {
        either(&QrView::of(text))
    }

    /// Opens the text of a slip's file, or lines that were pasted. A text that is too long to be read is left out of account but
    /// for its length.
    #[wasm_bindgen(js_name = tallyAdd)]
    pub fn tally_add(&mut self, file: &str, text: &JsString) {
        let chars = text.length() as usize;
        if chars > SLIP_MAX_CHARS {
            self.screen().tally_too_long(file, chars);
        } else {
            self.screen().tally_add(file, &String::from(text));
        }
    }

    /// Takes all slips away.
    #[wasm_bindgen(js_name = tallyClear)]
    pub fn tally_clear(&mut self) {
        self.screen().tally_clear();
    }

    /// How many slips, or things taken for one, were opened.
    #[wasm_bindgen(js_name = tallyOpened)]
    pub fn tally_opened(&self) -> usize {
        self.screen().tally_opened()
    }

    /// `{ok, lessonCode, counted, aside, questions, ideas, times, students}`, or why there is none.
    pub fn tally(&mut self) -> JsValue {
        either(&self.screen().tally())
    }

    /// The opened slips as CSV; nothing while a lesson is under way.
    #[wasm_bindgen(js_name = tallyCsv)]
    pub fn tally_csv(&mut self, decimal_comma: bool) -> String {
        self.screen().tally_csv(decimal_comma).unwrap_or_default()
    }
}
