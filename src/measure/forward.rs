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
    right_hand_sides: u64,
}

/// What a class knows of an acid dose beside its times.
#[derive(Clone, Copy, Debug)]
pub(super) struct Dosed {
    /// Temperature at which the beaker is held while the dose is at work, °C.
    pub celsius: f64,
    /// The longest that was waited for it, s; 0 where nobody timed it.
    pub slowest_s: f64,
}

impl Bench {
    pub(super) fn of(lesson: &Lesson) -> Bench {
        Bench { recipe: lesson.recipe.clone(), steps: lesson.steps(), right_hand_sides: 0 }
    }

    /// Seconds from the pour to each (acid dose, pH) that is wanted, in a beaker whose acid doses are given from the first to
    /// the last that is wanted. None where the model is not back, or cannot be followed.
    pub(super) fn times(&mut self, values: &Values, wanted: &[(u32, f64)], doses: &[Dosed]) -> Option<Vec<f64>> {
        let mut course = self.begin(values, doses.first()?.celsius, Bath::Held)?;
        let times = self.followed(&mut course, wanted, doses);
        self.right_hand_sides += course.cost().right_hand_sides;
        times
    }

    fn followed(&self, course: &mut Course, wanted: &[(u32, f64)], doses: &[Dosed]) -> Option<Vec<f64>> {
        let mut times = vec![f64::NAN; wanted.len()];
        let (mut at_s, mut held_c) = (0.0, doses.first()?.celsius);
        for step in &self.steps {
            let dosed = (step.reagent == Reagent::Acid).then(|| doses[step.number as usize - 1]);
            let rest_s = step.rest_s.max(WAITED * dosed.map_or(0.0, |dosed| dosed.slowest_s));
            if let Some(dosed) = dosed.filter(|dosed| dosed.celsius != held_c) {
                held_c = dosed.celsius;
                course.hold_at(at_s, held_c + CELSIUS_ZERO_K).ok()?;
            }
            course.act(at_s, Action::Pour(self.pour(step))).ok()?;
            if step.reagent == Reagent::Acid {
                for (time, (_, ph)) in times.iter_mut().zip(wanted).filter(|(_, (dose, _))| *dose == step.number) {
                    *time = back_s(course, *ph, at_s, rest_s)?;
                }
                if step.number as usize == doses.len() {
                    return times.iter().all(|time| time.is_finite()).then_some(times);
                }
            }
            at_s += rest_s;
        }
        None
    }

    /// How many right-hand sides of the model's equations all times have taken.
    pub(super) fn right_hand_sides(&self) -> u64 {
        self.right_hand_sides
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
