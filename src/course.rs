//! A beaker's path between actions: integrated once, sampled often.
//!
//! What is shown never depends on how often or at which times one looks: the steps follow
//! from the setup and the actions alone, and a reading comes from a step's dense output. An
//! action cuts the path at its time and the integration goes on from there.

mod crossing;
mod instruments;
mod limits;
mod reading;

use crate::chemistry::{Action, Beaker, Inflow, ONE_ZONE, Parameters, PhTerms, Setup, TWO_ZONES, saturated_start};
use crate::numerics::{Cost, Step, Stepper, StiffError, Tolerances};

pub use reading::Reading;

/// Why a path could not be followed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CourseError {
    /// A number of the setup or of an action is not one the equations can start from.
    NotAnAmount {
        /// Which number.
        what: &'static str,
        /// Its value.
        value: f64,
    },
    /// An action lies before the one before it.
    OutOfOrder {
        /// Its time, s.
        at_s: f64,
        /// The last action's time, s.
        last_s: f64,
    },
    /// A pour began while another was under way.
    StillPouring {
        /// When the pour under way ends, s.
        until_s: f64,
    },
    /// The stepper gave up.
    Stiff(StiffError),
}

impl From<StiffError> for CourseError {
    fn from(error: StiffError) -> Self {
        Self::Stiff(error)
    }
}

impl core::fmt::Display for CourseError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::NotAnAmount { what, value } => write!(f, "{what} cannot be {value}"),
            Self::OutOfOrder { at_s, last_s } => {
                write!(f, "an action at {at_s} s cannot follow one at {last_s} s")
            }
            Self::StillPouring { until_s } => write!(f, "the pour under way ends at {until_s} s"),
            Self::Stiff(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for CourseError {}

/// Relative error allowed in a step.
const RELATIVE_TOLERANCE: f64 = 2e-6;
/// Absolute error allowed in the acid excess, mol: at pH 7 it is 10⁻⁸ mol.
const EXCESS_TOLERANCE_MOL: f64 = 3e-11;
/// Absolute errors allowed in the other amounts (mol, kg, K): far below what is shown.
const AMOUNT_TOLERANCE_MOL: f64 = 1e-9;
const CARBON_TOLERANCE_MOL: f64 = 1e-10;
const WATER_TOLERANCE_KG: f64 = 1e-8;
const TEMPERATURE_TOLERANCE_K: f64 = 3e-6;
/// Plume and bulk become one zone when their amounts per kilogram differ by less than this
/// part: the bulk's pH then moves by a few 10⁻⁶ at most.
const MERGE_PART: f64 = 1e-4;

/// The beaker with plume and bulk, and with both as one.
type Split = Beaker<2, TWO_ZONES>;
type Merged = Beaker<1, ONE_ZONE>;

fn tolerances<const Z: usize, const N: usize>(relative: f64) -> Tolerances<N> {
    let mut absolute = [AMOUNT_TOLERANCE_MOL; N];
    absolute[Beaker::<Z, N>::ACID_EXCESS..][..Z].fill(EXCESS_TOLERANCE_MOL);
    absolute[Beaker::<Z, N>::CARBON..][..Z].fill(CARBON_TOLERANCE_MOL);
    absolute[Beaker::<Z, N>::WATER] = WATER_TOLERANCE_KG;
    absolute[Beaker::<Z, N>::TEMPERATURE] = TEMPERATURE_TOLERANCE_K;
    absolute[Beaker::<Z, N>::ICE] = WATER_TOLERANCE_KG;
    let scale = relative / RELATIVE_TOLERANCE;
    let mut relatives = [relative; N];
    // A part of 294 K is no measure of what a temperature may err by.
    relatives[Beaker::<Z, N>::TEMPERATURE] = 0.0;
    Tolerances { relative: relatives, absolute: absolute.map(|a| a * scale) }
}

/// A state with plume and bulk, or with both as one.
#[derive(Clone, Copy, Debug)]
enum State {
    Split([f64; TWO_ZONES]),
    Merged([f64; ONE_ZONE]),
}

/// One accepted step of either kind, and the bulk's activity of H⁺ where it starts.
#[derive(Clone, Copy, Debug)]
enum Leg {
    Split(Step<TWO_ZONES>, f64),
    Merged(Step<ONE_ZONE>, f64),
}

impl Leg {
    fn start_s(&self) -> f64 {
        match self {
            Self::Split(step, _) => step.start,
            Self::Merged(step, _) => step.start,
        }
    }

    fn end_s(&self) -> f64 {
        match self {
            Self::Split(step, _) => step.end(),
            Self::Merged(step, _) => step.end(),
        }
    }

    fn at(&self, time_s: f64) -> State {
        match self {
            Self::Split(step, _) => State::Split(step.at(time_s)),
            Self::Merged(step, _) => State::Merged(step.at(time_s)),
        }
    }

    fn from(&self) -> State {
        match self {
            Self::Split(step, _) => State::Split(step.from),
            Self::Merged(step, _) => State::Merged(step.from),
        }
    }

    fn start_activity(&self) -> f64 {
        match self {
            Self::Split(_, activity) | Self::Merged(_, activity) => *activity,
        }
    }
}

/// The path of one beaker.
#[derive(Clone, Debug)]
pub struct Course {
    parameters: Parameters,
    /// The last pour and when it ends, s.
    pour: Option<(Inflow, f64)>,
    legs: Vec<Leg>,
    state: State,
    reached_s: f64,
    last_action_s: f64,
    split: Stepper<TWO_ZONES>,
    merged: Stepper<ONE_ZONE>,
    /// The equations between two events. They keep what makes the next step cheaper, and
    /// forget it at each event, so that a path depends on nothing but its actions.
    split_beaker: Split,
    merged_beaker: Merged,
}

impl Course {
    /// A beaker at rest, saturated with its solid, at time 0.
    ///
    /// # Errors
    /// [`CourseError::NotAnAmount`] names the number that the equations cannot start from.
    pub fn begin(setup: Setup) -> Result<Self, CourseError> {
        limits::of_setup(&setup)?;
        Ok(Self::from_state(setup.parameters(), setup.start(), RELATIVE_TOLERANCE))
    }

    /// A beaker given by its equations' parameters, for those who check: water (kg), solid
    /// (mol), temperature (K) and ice (kg) at saturation, and the relative tolerance
    /// (`None` for the product's own).
    pub fn of_parameters(
        parameters: Parameters,
        water_kg: f64,
        solid_mol: f64,
        start_k: f64,
        ice_kg: f64,
        relative_tolerance: Option<f64>,
    ) -> Self {
        let mut start = saturated_start(water_kg, solid_mol, start_k, parameters.bottle.carbonate_mol_per_mol);
        start[Merged::ICE] = ice_kg;
        Self::from_state(parameters, start, relative_tolerance.unwrap_or(RELATIVE_TOLERANCE))
    }

    fn from_state(parameters: Parameters, start: [f64; ONE_ZONE], relative: f64) -> Self {
        let mut course = Self {
            parameters,
            pour: None,
            legs: Vec::new(),
            state: State::Merged(start),
            reached_s: 0.0,
            last_action_s: 0.0,
            split: Stepper::new(tolerances::<2, TWO_ZONES>(relative)),
            merged: Stepper::new(tolerances::<1, ONE_ZONE>(relative)),
            split_beaker: Split::new(parameters, None),
            merged_beaker: Merged::new(parameters, None),
        };
        course.keep_apart();
        course
    }

    /// Where solid sinks, plume and bulk stay two: the bulk settles and the plume does not.
    fn keep_apart(&mut self) {
        if self.parameters.settles() {
            self.state = State::Split(self.split_state());
        }
    }

    /// Does something to the beaker at a time (s), not before the last action: the path
    /// beyond is forgotten and will be integrated anew.
    ///
    /// # Errors
    /// [`CourseError::OutOfOrder`], [`CourseError::StillPouring`],
    /// [`CourseError::NotAnAmount`]; the path is then as it was.
    pub fn act(&mut self, at_s: f64, action: Action) -> Result<(), CourseError> {
        self.in_order(at_s)?;
        limits::of_action(&action)?;
        if let (Action::Pour(_), Some((_, until_s))) = (&action, self.pour)
            && before(at_s, until_s)
        {
            return Err(CourseError::StillPouring { until_s });
        }
        self.arrive(at_s)?;
        match action {
            Action::Pour(pour) if pour.volume_ml == 0.0 => {}
            Action::Pour(pour) => {
                self.pour = Some((pour.inflow(), at_s + pour.duration_s));
                self.state = State::Split(self.split_state());
            }
            Action::Stir { rpm } => {
                self.parameters.stir(rpm);
                self.keep_apart();
            }
            Action::Bath(bath) => self.parameters.surround(bath),
        }
        self.forget();
        Ok(())
    }

    /// Refuses an action before the last one, s.
    fn in_order(&self, at_s: f64) -> Result<(), CourseError> {
        let last_s = self.last_action_s;
        if at_s >= last_s { Ok(()) } else { Err(CourseError::OutOfOrder { at_s, last_s }) }
    }

    /// Makes the path end at the time of an action, s.
    fn arrive(&mut self, at_s: f64) -> Result<(), CourseError> {
        self.reach(at_s)?;
        self.cut(at_s)?;
        self.last_action_s = at_s;
        self.split.restart();
        self.merged.restart();
        Ok(())
    }

    /// Integrates on, at least to a time, s.
    ///
    /// # Errors
    /// [`CourseError::Stiff`] when the equations cannot be followed.
    pub fn reach(&mut self, time_s: f64) -> Result<(), CourseError> {
        limits::of_time(time_s)?;
        while self.reached_s < time_s {
            self.step(f64::INFINITY)?;
        }
        Ok(())
    }

    /// How far the path is known, s.
    pub fn reached_s(&self) -> f64 {
        self.reached_s
    }

    /// What all steps have cost.
    pub fn cost(&self) -> Cost {
        let mut cost = self.split.cost();
        cost += self.merged.cost();
        cost
    }

    /// What is in the beaker at a time (s), which is held within what has been reached.
    pub fn reading(&self, time_s: f64) -> Reading {
        let time_s = self.within(time_s);
        Reading::of(time_s, &self.state_at(time_s), &self.parameters)
    }

    /// What each cause holds of the bulk's pH at a time, s, held within what has been reached; none without magnesium.
    pub fn ph_terms(&self, time_s: f64) -> Option<PhTerms> {
        reading::bulk_ph_terms(&self.state_at(self.within(time_s)), &self.parameters)
    }

    /// The state at a time, s, within what has been reached.
    fn state_at(&self, time_s: f64) -> State {
        let index = self.legs.partition_point(|leg| leg.end_s() < time_s);
        self.legs.get(index).map_or(self.state, |leg| leg.at(time_s))
    }

    /// A time, s, held within what has been reached.
    fn within(&self, time_s: f64) -> f64 {
        // Not `clamp`: the message of its panic would bring along, into the page, the means to write any number.
        if time_s.is_finite() { time_s.max(0.0).min(self.reached_s) } else { self.reached_s }
    }

    /// Forgets what the equations keep from step to step.
    fn forget(&mut self) {
        self.split_beaker = Split::new(self.parameters, None);
        self.merged_beaker = Merged::new(self.parameters, None);
    }

    /// Makes the path end at a time, by making the last step again up to there.
    fn cut(&mut self, at_s: f64) -> Result<(), CourseError> {
        while let Some(leg) = self.legs.last().copied().filter(|leg| leg.end_s() > at_s) {
            self.legs.pop();
            self.state = leg.from();
            self.reached_s = leg.start_s();
        }
        self.forget();
        // The whole way in one step: a longer one has been good enough before.
        self.split.expect(at_s - self.reached_s);
        self.merged.expect(at_s - self.reached_s);
        while before(self.reached_s, at_s) {
            self.step(at_s)?;
        }
        self.reached_s = at_s;
        Ok(())
    }

    /// One step, at most to a limit, s, or to the end of the pour under way.
    fn step(&mut self, limit_s: f64) -> Result<(), CourseError> {
        let pour = self.pour.filter(|(_, until_s)| before(self.reached_s, *until_s));
        let inflow = pour.map(|(inflow, _)| inflow);
        let limit_s = pour.map_or(limit_s, |(_, until_s)| until_s.min(limit_s));
        match self.state {
            State::Split(y) => {
                self.split_beaker.inflow = inflow;
                let step = self.split.advance(&mut self.split_beaker, self.reached_s, &y, limit_s)?;
                self.legs.push(Leg::Split(step, self.split_beaker.hydrogen_activity()));
                self.reached_s = step.end();
                self.state = match self.merge(&step.to) {
                    Some(one) if inflow.is_none() => {
                        self.merged.expect(step.length);
                        State::Merged(one)
                    }
                    _ => State::Split(step.to),
                };
                if pour.is_some_and(|(_, until_s)| self.reached_s >= until_s) {
                    // The rates jump, but the state has long been as smooth as it will be.
                    self.split.expect(step.length);
                }
            }
            State::Merged(y) => {
                self.merged_beaker.inflow = inflow;
                let step = self.merged.advance(&mut self.merged_beaker, self.reached_s, &y, limit_s)?;
                self.legs.push(Leg::Merged(step, self.merged_beaker.hydrogen_activity()));
                self.reached_s = step.end();
                self.state = State::Merged(step.to);
            }
        }
        Ok(())
    }

    /// The state as plume and bulk.
    fn split_state(&self) -> [f64; TWO_ZONES] {
        match self.state {
            State::Split(y) => y,
            State::Merged(one) => {
                let mut y = [0.0; TWO_ZONES];
                for (two, single) in Split::OF_ZONES.into_iter().zip(Merged::OF_ZONES) {
                    y[two] = one[single] * self.parameters.plume_share;
                    y[two + 1] = one[single] - y[two];
                }
                for (two, single) in Split::SHARED.into_iter().zip(Merged::SHARED) {
                    y[two] = one[single];
                }
                y
            }
        }
    }

    /// Both zones as one, once they differ by next to nothing and nothing drives them apart.
    fn merge(&self, y: &[f64; TWO_ZONES]) -> Option<[f64; ONE_ZONE]> {
        let p = &self.parameters;
        if p.settles() {
            return None;
        }
        let (plume, bulk) = (p.plume_share, 1.0 - p.plume_share);
        let alike = Split::OF_ZONES.into_iter().all(|i| {
            let (a, b) = (y[i] / plume, y[i + 1] / bulk);
            (a - b).abs() <= MERGE_PART * b.abs() + 1e-3 * EXCESS_TOLERANCE_MOL
        });
        alike.then(|| {
            let mut one = [0.0; ONE_ZONE];
            for (two, single) in Split::OF_ZONES.into_iter().zip(Merged::OF_ZONES) {
                one[single] = y[two] + y[two + 1];
            }
            for (two, single) in Split::SHARED.into_iter().zip(Merged::SHARED) {
                one[single] = y[two];
            }
            one
        })
    }
}

/// Whether a time (s) lies before another by more than the clock can tell apart: sums of
/// the same seconds in another order differ in their last bits.
fn before(time_s: f64, other_s: f64) -> bool {
    other_s - time_s > 1e-12 * (1.0 + other_s.abs())
}
