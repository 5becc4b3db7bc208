//! The model asked for what a class can measure: turn-back times at a temperature, with a bottle of given numbers.

use crate::chemistry::{Action, Bath, Bottle, Pour, Reagent, Setup};
use crate::constants::CELSIUS_ZERO_K;
use crate::course::Course;
use crate::lesson::{Field, Lesson, Recipe, Step, Vessel};

use super::unknown::Values;

/// Relative tolerance of the steps while a fit searches: times then err by a few parts in 10⁴, far below what a hand can
/// time, and a path costs half.
const SEARCH_TOLERANCE: f64 = 5e-5;
/// A dose that was not back by the end of its rest is followed on for so many times that rest.
const PATIENCE: f64 = 40.0;
/// A beaker that took longer than the lesson's rest was surely waited for: the next dose came this much later.
const WAITED: f64 = 1.25;

/// One lesson's beakers, as the fit computes them.
#[derive(Clone, Debug)]
pub(super) struct Bench {
    recipe: Recipe,
    steps: Vec<Step>,
}

impl Bench {
    pub(super) fn of(lesson: &Lesson) -> Bench {
        Bench { recipe: lesson.recipe.clone(), steps: lesson.steps() }
    }

    /// Seconds from the pour to each (acid dose, pH) that is wanted, in a beaker held at a temperature; `slowest` gives the
    /// longest that a class waited for a dose. None where the model is not back, or cannot be followed.
    pub(super) fn times(
        &self,
        values: &Values,
        celsius: f64,
        wanted: &[(u32, f64)],
        slowest: &dyn Fn(u32) -> f64,
    ) -> Option<Vec<f64>> {
        let last = wanted.iter().map(|(dose, _)| *dose).max()?;
        let mut course = self.begin(values, celsius, Bath::Held)?;
        let mut times = vec![f64::NAN; wanted.len()];
        let mut at_s = 0.0;
        for step in &self.steps {
            let rest_s = step.rest_s.max(WAITED * slowest(step.number));
            course.act(at_s, Action::Pour(self.pour(step))).ok()?;
            if step.reagent == Reagent::Acid {
                for (time, (_, ph)) in times.iter_mut().zip(wanted).filter(|(_, (dose, _))| *dose == step.number) {
                    *time = back_s(&mut course, *ph, at_s, rest_s)?;
                }
                if step.number == last {
                    return times.iter().all(|time| time.is_finite()).then_some(times);
                }
            }
            at_s += rest_s;
        }
        None
    }

    /// A beaker with a bottle of these numbers, at rest.
    pub(super) fn begin(&self, values: &Values, celsius: f64, bath: Bath) -> Option<Course> {
        if !values.can_be() {
            return None;
        }
        let recipe = &self.recipe;
        let (water_ml, suspension_ml) = (recipe.value(Field::WaterMl), recipe.value(Field::SuspensionMl));
        let vessel = Vessel { nominal_ml: recipe.value(Field::VesselMl) };
        let setup = Setup {
            bath,
            room_k: recipe.value(Field::RoomC) + CELSIUS_ZERO_K,
            stirrer_rpm: recipe.value(Field::StirRpm),
            bottle: values.bottle(),
            depth_m: vessel.depth_m(water_ml + suspension_ml),
            surface_m2: vessel.surface_m2(),
            ..Setup::of_suspension(water_ml, suspension_ml, values.strength_mg_ml, celsius + CELSIUS_ZERO_K)
        };
        let parameters = setup.parameters();
        let (water_kg, solid_mol, start_k) = (setup.water_kg, setup.solid_mol, setup.start_k);
        Some(Course::of_parameters(parameters, water_kg, solid_mol, start_k, 0.0, Some(SEARCH_TOLERANCE)))
    }

    pub(super) fn pour(&self, step: &Step) -> Pour {
        Pour {
            reagent: step.reagent,
            volume_ml: step.volume_ml,
            concentration_mol_l: step.concentration_mol_l,
            duration_s: step.pour_s,
            temperature_k: self.recipe.value(Field::RoomC) + CELSIUS_ZERO_K,
        }
    }

    pub(super) fn steps(&self) -> &[Step] {
        &self.steps
    }
}

/// Seconds until the pH rises through a value; followed beyond the rest on a path of its own where that is needed.
fn back_s(course: &mut Course, ph: f64, at_s: f64, rest_s: f64) -> Option<f64> {
    // Most doses are back early: no further than that needs to be known before the next time is asked for.
    let mut reach_s = 0.25 * rest_s;
    while reach_s <= PATIENCE * rest_s {
        course.reach(at_s + reach_s).ok()?;
        if let Some(back_s) = course.turned_back_s(ph, at_s, at_s + reach_s) {
            return Some(back_s - at_s);
        }
        reach_s *= 2.0;
    }
    None
}

impl Values {
    /// The bottle with these numbers.
    pub fn bottle(&self) -> Bottle {
        Bottle {
            acid_factor: self.acid_factor,
            carbonate_mol_per_mol: self.carbonate,
            energy_factor: self.energy_factor,
            ..Bottle::default()
        }
    }
}
