//! What a lesson will do, computed ahead for the one who plans it: never in a lesson under way.

use crate::chemistry::Action;
use crate::colour::Clarity;
use crate::course::{Course, CourseError};
use crate::lesson::{Field, Lesson, Vessel};

use super::START_S;
use super::answers::ph_at_once;
use super::bench::setup_of;
use super::guided::pour_of;
use super::watch::{TURNED_BACK_PH, clarity_of};
use super::what_if::WhatIf;

/// What one dose will do in one beaker.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expected {
    /// Seconds from the start of the pour to the upward crossing of pH 7, if that comes before
    /// the rest is over.
    pub turned_back_s: Option<f64>,
    /// pH at once: the furthest that the dose takes it.
    pub ph_at_once: f64,
    /// pH at rest.
    pub ph_at_rest: f64,
    /// How clear it is at rest.
    pub clarity_at_rest: Clarity,
    /// Undissolved solid at rest, g.
    pub solid_g: f64,
}

/// What every dose of a lesson will do in one of its beakers, each poured as soon as the one
/// before it is at rest. That is how the guided lesson pours, whose clock stands while it asks:
/// the numbers are the very ones that it will show.
///
/// # Errors
/// A [`CourseError`] if the model can't follow this recipe.
pub fn expected(lesson: &Lesson, beaker: usize) -> Result<Vec<Expected>, CourseError> {
    let recipe = &lesson.recipe;
    let Some(&surroundings) = recipe.beakers().get(beaker) else { return Ok(Vec::new()) };
    let mut course = Course::begin(setup_of(lesson, surroundings, &WhatIf::default()))?;
    let path_cm = Vessel { nominal_ml: recipe.value(Field::VesselMl) }.diameter_cm();
    let mut at_s = START_S;
    let mut doses = Vec::new();
    for step in lesson.steps() {
        course.act(at_s, Action::Pour(pour_of(recipe, &step)))?;
        let rest_s = at_s + step.rest_s;
        course.reach(rest_s)?;
        let reading = course.reading(rest_s);
        doses.push(Expected {
            turned_back_s: course.turned_back_s(TURNED_BACK_PH, at_s, rest_s).map(|back_s| back_s - at_s),
            ph_at_once: ph_at_once(&step, at_s, |time_s| course.reading(time_s).ph).unwrap_or(reading.ph),
            ph_at_rest: reading.ph,
            clarity_at_rest: clarity_of(&reading, path_cm),
            solid_g: reading.solid_g(),
        });
        at_s = rest_s;
    }
    Ok(doses)
}
