//! A lesson's bottle: as its label and the model have it, and as a class fitted it.

use serde::Serialize;

use crate::chemistry::Bottle;
use crate::lesson::{Field, Lesson, PUBLISHED_ENERGY_KJ_MOL};

use super::Screen;

/// A fitted bottle beside the one that it stands for.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BottleView {
    /// The day it was fitted: 20261125.
    pub date: u32,
    /// To how many measurements.
    pub measurements: u32,
    /// acidFactor, carbonate (mol per mol), energy (kJ/mol) and strength (mg/mL): as they come, or as the label says, and as
    /// fitted; none where it was not.
    pub numbers: Vec<(&'static str, f64, Option<f64>)>,
}

impl Screen {
    /// The bottle of the lesson, where a class has fitted it.
    pub fn bottle(&self) -> Option<BottleView> {
        BottleView::of(self.session.lesson())
    }
}

impl BottleView {
    pub(super) fn of(lesson: &Lesson) -> Option<BottleView> {
        let fitted = lesson.fitted?;
        let plain = Bottle::default();
        Some(BottleView {
            date: fitted.date,
            measurements: fitted.measurements,
            numbers: vec![
                ("acidFactor", plain.acid_factor, Some(fitted.acid_factor)),
                ("carbonate", plain.carbonate_mol_per_mol, Some(fitted.carbonate)),
                ("energy", plain.energy_factor * PUBLISHED_ENERGY_KJ_MOL, Some(fitted.energy_kj_mol)),
                ("strength", lesson.recipe.value(Field::SuspensionMgMl), fitted.strength_mg_ml),
            ],
        })
    }
}
