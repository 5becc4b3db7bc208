//! Random lessons: setups and logs of actions.

use turnback::chemistry::{Action, Bath, Bottle, Inflow, Parameters, Pour, Reagent, Setup};
use turnback::course::{Course, CourseError, Reading};

/// Numbers that look random and are the same in every run and on every machine (Knuth's
/// MMIX generator, upper bits).
pub struct Draw(u64);

impl Draw {
    pub fn new(number: u32) -> Self {
        let mut draw = Self(u64::from(number).wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x0DDB_1A5E_5BAD_5EED);
        draw.unit();
        draw
    }

    /// From 0 to 1.
    pub fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.unit()
    }

    /// As likely in each decade: from a drop to a flood.
    pub fn by_size(&mut self, least: f64, most: f64) -> f64 {
        (self.between(least.ln(), most.ln())).exp()
    }

    pub fn chance(&mut self, share: f64) -> bool {
        self.unit() < share
    }
}

/// What a lesson may hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Anything that the page's form allows.
    Any,
    /// Acid alone, temperature held, no air, stirred fast.
    AcidAlone,
}

/// A setup and what is done to it.
#[derive(Clone, Debug)]
pub struct Lesson {
    pub number: u32,
    pub setup: Setup,
    pub actions: Vec<(f64, Action)>,
    pub end_s: f64,
}

const ZERO_C: f64 = 273.15;

fn bath(draw: &mut Draw) -> Bath {
    match (draw.unit() * 4.0) as u32 {
        0 => Bath::Held,
        1 => Bath::Room,
        2 => Bath::Around { bath_k: ZERO_C + draw.between(0.0, 60.0) },
        _ => Bath::HotPlate { set_k: ZERO_C + draw.between(20.0, 60.0), max_w: draw.between(0.0, 300.0) },
    }
}

/// Speed of a stirrer, rpm; a third of the time off or slow.
fn stirrer_rpm(draw: &mut Draw) -> f64 {
    if draw.chance(0.15) {
        0.0
    } else if draw.chance(0.2) {
        draw.between(1.0, 200.0)
    } else {
        draw.between(200.0, 1200.0)
    }
}

fn setup(draw: &mut Draw, kind: Kind) -> Setup {
    let start_k = ZERO_C + draw.between(0.0, 60.0);
    let suspension_ml = if draw.chance(0.1) { 0.0 } else { draw.by_size(0.1, 60.0) };
    let mut setup = Setup::of_suspension(draw.by_size(50.0, 2000.0), suspension_ml, draw.between(20.0, 240.0), start_k);
    setup.depth_m = draw.between(0.03, 0.3);
    if draw.chance(0.7) {
        setup.bottle = Bottle {
            acid_factor: draw.between(0.5, 10.0),
            acid_area_m2_g: draw.between(10.0, 150.0),
            neutral_area_m2_g: draw.between(5.0, 100.0),
            carbonate_mol_per_mol: if draw.chance(0.3) { 0.0 } else { draw.between(0.0, 0.02) },
            ..Bottle::default()
        };
    }
    match kind {
        Kind::AcidAlone => {
            setup.stirrer_rpm = draw.between(200.0, 1200.0);
            setup.surface_m2 = 0.0;
        }
        Kind::Any => {
            setup.stirrer_rpm = stirrer_rpm(draw);
            setup.surface_m2 = if draw.chance(0.3) { 0.0 } else { draw.between(0.0, 0.03) };
            setup.room_k = ZERO_C + draw.between(5.0, 40.0);
            setup.bath = bath(draw);
            setup.ice_kg = if draw.chance(0.2) { draw.by_size(1e-3, 0.5) } else { 0.0 };
        }
    }
    setup
}

fn pour(draw: &mut Draw, reagent: Reagent) -> Pour {
    Pour {
        reagent,
        volume_ml: draw.by_size(1e-3, 50.0),
        concentration_mol_l: draw.by_size(0.01, 6.0),
        duration_s: draw.between(0.5, 10.0),
        temperature_k: ZERO_C + draw.between(0.0, 60.0),
    }
}

fn action(draw: &mut Draw, kind: Kind) -> Action {
    if kind == Kind::AcidAlone {
        return Action::Pour(pour(draw, Reagent::Acid));
    }
    match (draw.unit() * 6.0) as u32 {
        0..=2 => Action::Pour(pour(draw, Reagent::Acid)),
        3 => Action::Pour(pour(draw, Reagent::Base)),
        4 => Action::Stir { rpm: stirrer_rpm(draw) },
        _ => Action::Bath(bath(draw)),
    }
}

impl Lesson {
    /// The lesson with this number.
    pub fn draw(number: u32, kind: Kind) -> Self {
        let mut draw = Draw::new(number);
        let setup = setup(&mut draw, kind);
        let mut time_s = 0.0;
        let mut pouring_until_s = 0.0;
        let mut actions = Vec::new();
        for _ in 0..(draw.unit() * 9.0) as u32 {
            time_s += draw.by_size(0.5, 300.0);
            let mut action = action(&mut draw, kind);
            if let Action::Pour(pour) = &mut action {
                // One hand pours: a pour waits for the one before it.
                time_s = f64::max(time_s, pouring_until_s);
                pouring_until_s = time_s + pour.duration_s;
            }
            actions.push((time_s, action));
        }
        let end_s = f64::max(time_s, pouring_until_s) + draw.by_size(1.0, 600.0);
        Self { number, setup, actions, end_s }
    }

    /// The beaker's path from 0 to the lesson's end.
    pub fn follow(&self) -> Course {
        self.try_to_follow().unwrap_or_else(|error| panic!("lesson {}: {error}; {self:?}", self.number))
    }

    /// As [`Lesson::follow`], where a refusal may be expected.
    pub fn try_to_follow(&self) -> Result<Course, CourseError> {
        let mut course = Course::begin(self.setup)?;
        for (at_s, action) in &self.actions {
            course.act(*at_s, *action)?;
        }
        course.reach(self.end_s)?;
        Ok(course)
    }

    /// Readings at the start, at each action and 3 s after it, at eight times between, and
    /// at the end.
    pub fn readings(&self, course: &Course) -> Vec<Reading> {
        let mut times: Vec<f64> = (0..=8).map(|i| self.end_s * f64::from(i) / 8.0).collect();
        times.extend(self.actions.iter().flat_map(|(at_s, _)| [*at_s, at_s + 0.3, at_s + 3.0]));
        times.sort_by(f64::total_cmp);
        times.into_iter().filter(|time_s| *time_s <= self.end_s).map(|time_s| course.reading(time_s)).collect()
    }

    /// Whether the stirrer is ever slow enough for solid to settle: below 200 rpm.
    pub fn ever_settles(&self) -> bool {
        let slow = |rpm: f64| rpm < 200.0;
        slow(self.setup.stirrer_rpm)
            || self.actions.iter().any(|(_, action)| matches!(action, Action::Stir { rpm } if slow(*rpm)))
    }

    /// The equations' parameters and the pour under way at a time.
    pub fn parameters(&self, time_s: f64) -> (Parameters, Option<Inflow>) {
        let (mut parameters, mut inflow) = (self.setup.parameters(), None);
        for (at_s, action) in self.actions.iter().filter(|(at_s, _)| *at_s <= time_s) {
            match action {
                Action::Pour(pour) => inflow = (time_s < at_s + pour.duration_s).then(|| pour.inflow()),
                Action::Stir { rpm } => parameters.stir(*rpm),
                Action::Bath(bath) => parameters.surround(*bath),
            }
        }
        (parameters, inflow)
    }

    /// Acid and base that have been poured by a time, mol.
    pub fn poured_mol(&self, time_s: f64) -> (f64, f64) {
        let mut poured = (0.0, 0.0);
        for (at_s, action) in &self.actions {
            if let Action::Pour(pour) = action {
                let amount = pour.amount_mol() * ((time_s - at_s) / pour.duration_s).clamp(0.0, 1.0);
                match pour.reagent {
                    Reagent::Acid => poured.0 += amount,
                    Reagent::Base => poured.1 += amount,
                }
            }
        }
        poured
    }
}
