//! The lesson of Room 12: three beakers at 2, 21 and 34 °C, seven doses of acid and four of
//! base, with carbonate and heat, at the product's own tolerance.

use crate::{Run, cost_of};
use turnback::chemistry::{Action, Bath, Pour, Reagent, Setup};
use turnback::course::{Course, CourseError};

/// Doses of acid, then of base.
const ACID_DOSES: usize = 7;
const BASE_DOSES: usize = 4;
/// All doses.
pub const STEPS: usize = ACID_DOSES + BASE_DOSES;
/// Rest after a dose, s.
const ACID_REST_S: f64 = 300.0;
const BASE_REST_S: f64 = 60.0;
const FIRST_DOSE_S: f64 = 5.0;
/// pH at which the colour has turned back.
const TURNED_BACK_PH: f64 = 7.0;

/// Water, suspension and indicator, mL; solid in the suspension, mg/mL.
const WATER_ML: f64 = 505.0;
const SUSPENSION_ML: f64 = 15.0;
const SUSPENSION_MG_ML: f64 = 80.0;
const COLD_K: f64 = 275.15;
const ROOM_K: f64 = 294.15;
const WARM_K: f64 = 307.15;

/// Three beakers on one clock, as far as they have been dosed.
#[derive(Clone)]
pub struct Lesson {
    beakers: [Course; 3],
    step: usize,
    at_s: f64,
}

impl Lesson {
    /// Three beakers at rest before the first dose.
    ///
    /// # Errors
    /// None is expected: the numbers are in range.
    pub fn begin() -> Result<Self, CourseError> {
        let beaker = |start_k, bath| {
            let setup = Setup::of_suspension(WATER_ML, SUSPENSION_ML, SUSPENSION_MG_ML, start_k);
            Course::begin(Setup { bath, room_k: ROOM_K, ..setup })
        };
        let beakers = [
            beaker(COLD_K, Bath::Around { bath_k: COLD_K })?,
            beaker(ROOM_K, Bath::Room)?,
            beaker(WARM_K, Bath::Around { bath_k: WARM_K })?,
        ];
        Ok(Self { beakers, step: 0, at_s: FIRST_DOSE_S })
    }

    /// The next dose in all three, computed to its rest, and when each turned back. Gives
    /// the sum of the seconds, which nobody needs, so that nothing is optimised away.
    ///
    /// # Errors
    /// None is expected: the numbers are in range.
    pub fn next_dose(&mut self) -> Result<f64, CourseError> {
        let (reagent, rest_s) =
            if self.step < ACID_DOSES { (Reagent::Acid, ACID_REST_S) } else { (Reagent::Base, BASE_REST_S) };
        let pour = Pour { reagent, volume_ml: 2.0, concentration_mol_l: 3.0, duration_s: 1.0, temperature_k: ROOM_K };
        let rest_at_s = self.at_s + rest_s;
        let mut sum = 0.0;
        for beaker in &mut self.beakers {
            beaker.act(self.at_s, Action::Pour(pour))?;
            beaker.reach(rest_at_s)?;
            sum += beaker.turned_back_s(TURNED_BACK_PH, self.at_s, rest_at_s).unwrap_or(0.0);
        }
        self.step += 1;
        self.at_s = rest_at_s;
        Ok(sum)
    }

    /// The whole lesson from the start; the sum as in [`Self::next_dose`].
    ///
    /// # Errors
    /// None is expected: the numbers are in range.
    pub fn whole() -> Result<f64, CourseError> {
        let mut lesson = Self::begin()?;
        let mut sum = 0.0;
        for _ in 0..STEPS {
            sum += lesson.next_dose()?;
        }
        Ok(sum)
    }

    /// pH of the three at rest after the last dose, and what it cost to come here from an
    /// earlier point of the same lesson, or from the beginning.
    pub fn outcome_since(&self, earlier: Option<&Self>) -> Run {
        let ph = self.beakers.iter().map(|beaker| beaker.reading(self.at_s).ph).collect();
        let before = earlier.map_or([0; 4], Self::cost);
        let now = self.cost();
        Run { ph, cost: core::array::from_fn(|i| now[i] - before[i]) }
    }

    fn cost(&self) -> [u64; 4] {
        let mut sum = [0; 4];
        for beaker in &self.beakers {
            for (total, part) in sum.iter_mut().zip(cost_of(beaker.cost())) {
                *total += part;
            }
        }
        sum
    }
}
