//! The workbench as a page sees it. The page keeps the time.

use crate::{NoSuchProblem, Workbench};
use wasm_bindgen::prelude::*;

fn told(error: NoSuchProblem) -> JsError {
    JsError::new(&error.to_string())
}

/// All problems, prepared.
#[wasm_bindgen(js_name = Workbench)]
pub struct PageWorkbench(Workbench);

#[wasm_bindgen(js_class = Workbench)]
impl PageWorkbench {
    /// Prepares everything.
    #[wasm_bindgen(constructor)]
    pub fn new() -> Result<Self, JsError> {
        Workbench::new().map(Self).map_err(told)
    }

    /// The names of all problems.
    pub fn problems(&self) -> Vec<String> {
        self.0.problems()
    }

    /// Does a problem's work so many times.
    pub fn work(&mut self, problem: &str, times: u32) -> Result<f64, JsError> {
        let mut sum = 0.0;
        for _ in 0..times {
            sum += self.0.work(problem).map_err(told)?;
        }
        Ok(sum)
    }

    /// The pH that a problem's work comes to.
    pub fn ph(&self, problem: &str) -> Result<Vec<f64>, JsError> {
        self.0.outcome(problem).map(|run| run.ph).map_err(told)
    }
}
