//! The beakers: each a course with its watch, and the log of what was done to them.

use crate::chemistry::{Action, Bath, PhTerms, Pour, Setup};
use crate::constants::CELSIUS_ZERO_K;
use crate::course::{Course, CourseError, Reading};
use crate::lesson::{Beaker, Field, Lesson, Vessel};

use super::seconds_of;
use super::watch::{Event, EventKind, Watch};
use super::what_if::WhatIf;

/// The lesson's clock begins this many seconds after the beakers were set up, so that the
/// ribbons show what they looked like before the first dose.
pub const START_S: f64 = 10.0;

/// Power of a small teaching hot plate, W: common practice, no source.
pub(super) const PLATE_MAX_W: f64 = 300.0;

/// One to three beakers that began together.
#[derive(Debug)]
pub struct Bench {
    beakers: Vec<Watched>,
    log: Vec<Logged>,
    diameter_cm: f64,
}

#[derive(Debug)]
struct Watched {
    course: Course,
    watch: Watch,
}

/// Something done to a beaker.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Logged {
    /// When, tenths of a second on the lesson's clock.
    pub at_ds: u32,
    /// To which beaker, from 0.
    pub beaker: usize,
    /// What.
    pub action: Action,
}

impl Logged {
    /// When, s on the lesson's clock.
    pub fn at_s(&self) -> f64 {
        seconds_of(self.at_ds)
    }
}

impl Bench {
    /// Sets the beakers up, each with what is changed in it, and lets them stand until the clock begins.
    ///
    /// # Errors
    /// A [`CourseError`] if the model can't begin with this recipe.
    pub(super) fn begin(lesson: &Lesson, what_ifs: &[WhatIf]) -> Result<Bench, CourseError> {
        let recipe = &lesson.recipe;
        let diameter_cm = Vessel { nominal_ml: recipe.value(Field::VesselMl) }.diameter_cm();
        let mut beakers = Vec::new();
        for (index, &beaker) in recipe.beakers().iter().enumerate() {
            let what_if = what_ifs.get(index).copied().unwrap_or_default();
            let course = Course::begin(setup_of(lesson, beaker, &what_if))?;
            let is_dyed = what_if.indicator_ml(recipe) > 0.0;
            let watch = Watch::begin(&course, index, diameter_cm, is_dyed);
            beakers.push(Watched { course, watch });
        }
        let mut bench = Bench { beakers, log: Vec::new(), diameter_cm };
        bench.go_to(START_S)?;
        Ok(bench)
    }

    /// How many beakers there are.
    pub fn len(&self) -> usize {
        self.beakers.len()
    }

    /// A bench has at least one beaker.
    pub fn is_empty(&self) -> bool {
        self.beakers.is_empty()
    }

    /// Light's way through a beaker, cm: its inside diameter.
    pub fn path_cm(&self) -> f64 {
        self.diameter_cm
    }

    /// Everything done so far, in order.
    pub fn log(&self) -> &[Logged] {
        &self.log
    }

    /// Does something to one beaker at a time not before the last thing done to it.
    pub(super) fn act(&mut self, entry: Logged) -> Result<(), CourseError> {
        let Watched { course, watch } = &mut self.beakers[entry.beaker];
        let at_s = entry.at_s();
        watch.cut(course, at_s)?;
        course.act(at_s, entry.action)?;
        watch.go_on(course, at_s, poured(&entry.action));
        self.log.push(entry);
        Ok(())
    }

    /// Runs every beaker to a time and returns what happened up to it and was not yet told.
    pub(super) fn go_to(&mut self, at_s: f64) -> Result<Vec<Event>, CourseError> {
        let mut events = Vec::new();
        for Watched { course, watch } in &mut self.beakers {
            watch.look_to(course, at_s)?;
            watch.take_until(at_s, &mut events);
        }
        Ok(events)
    }

    /// The next time after now, and not after the limit, at which "next event" stops.
    pub(super) fn next_stop(&mut self, now_s: f64, limit_s: f64) -> Result<Option<f64>, CourseError> {
        let mut next = None;
        let mut limit_s = limit_s;
        for Watched { course, watch } in &mut self.beakers {
            if let Some(at_s) = watch.look_for_stop(course, now_s, limit_s)? {
                next = Some(at_s);
                limit_s = at_s;
            }
        }
        Ok(next)
    }

    /// What one beaker reads at a time it has reached.
    pub(super) fn reading(&self, beaker: usize, time_s: f64) -> Reading {
        self.beakers[beaker].course.reading(time_s)
    }

    /// The first upward crossing of a pH in a beaker between two times it has reached, s.
    pub(super) fn crossing_s(&self, beaker: usize, ph: f64, from_s: f64, to_s: f64) -> Option<f64> {
        self.beakers[beaker].course.turned_back_s(ph, from_s, to_s)
    }

    /// What each cause holds of a beaker's pH at a time it has reached.
    pub(super) fn ph_terms(&self, beaker: usize, time_s: f64) -> Option<PhTerms> {
        self.beakers[beaker].course.ph_terms(time_s)
    }

    /// What was poured into a beaker up to a time, first pour first, each with its start, s.
    pub fn pours(&self, beaker: usize, time_s: f64) -> impl DoubleEndedIterator<Item = (f64, &Pour)> {
        self.log.iter().filter_map(move |entry| match &entry.action {
            Action::Pour(pour) if entry.beaker == beaker && entry.at_s() <= time_s => Some((entry.at_s(), pour)),
            _ => None,
        })
    }
}

fn poured(action: &Action) -> Option<EventKind> {
    match action {
        Action::Pour(pour) => Some(EventKind::Poured { reagent: pour.reagent, volume_ml: pour.volume_ml }),
        Action::Stir { .. } | Action::Bath(_) => None,
    }
}

/// What the model needs to know of one beaker of a lesson.
pub(super) fn setup_of(lesson: &Lesson, beaker: Beaker, what_if: &WhatIf) -> Setup {
    let recipe = &lesson.computed_recipe();
    let room_c = recipe.value(Field::RoomC);
    let vessel = Vessel { nominal_ml: recipe.value(Field::VesselMl) };
    let suspension_ml = recipe.value(Field::SuspensionMl);
    let water_ml = what_if.water_ml(recipe);
    let start_k = beaker.start_c(room_c) + CELSIUS_ZERO_K;
    let strength_mg_ml = recipe.value(Field::SuspensionMgMl);
    Setup {
        ice_kg: (beaker.ice_g() + what_if.ice_g()) / 1000.0,
        room_k: room_c + CELSIUS_ZERO_K,
        bath: bath_of(beaker),
        stirrer_rpm: recipe.value(Field::StirRpm),
        bottle: what_if.bottle(lesson.bottle()),
        depth_m: vessel.depth_m(water_ml + suspension_ml),
        surface_m2: vessel.surface_m2(),
        ..Setup::of_suspension(water_ml, suspension_ml, strength_mg_ml, start_k)
    }
}

pub(super) fn bath_of(beaker: Beaker) -> Bath {
    match beaker {
        Beaker::Bath { celsius } => Bath::Around { bath_k: celsius + CELSIUS_ZERO_K },
        Beaker::Held { .. } => Bath::Held,
        Beaker::Room | Beaker::Ice { .. } => Bath::Room,
        Beaker::Plate { celsius } => Bath::HotPlate { set_k: celsius + CELSIUS_ZERO_K, max_w: PLATE_MAX_W },
    }
}
