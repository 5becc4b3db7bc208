//! A stiff stepper with error control and dense output.
//!
//! The equations are autonomous, y' = f(y), between two events; the caller restarts the
//! stepper at an event. Method: see `rosenbrock.rs`. The control of the step size is
//! predictive (Gustafsson 1994, *ACM TOMS* 20, 496; Hairer & Wanner 1996, *Solving ODEs
//! II*, section IV.8), with half the trend. Left out: time-dependent right-hand sides.

use super::rosenbrock::Attempt;

/// An autonomous system y' = f(y) with its Jacobian.
pub trait Equations<const N: usize> {
    /// So many states from the first are passive: their rates depend on next to nothing but
    /// themselves, and they decay or stand still (see [`super::Factored::after_passive`]).
    const PASSIVE: usize = 0;
    /// The rates f(y). A system may keep from here, too, what makes the rates nearby cheaper.
    fn rates(&mut self, y: &[f64; N]) -> [f64; N];
    /// The rates at the start of a step and the Jacobian, `jacobian[i][j]` = ∂f_i/∂y_j; both
    /// are to be written in full. The Jacobian must be exact: the method's order rests on it,
    /// and so does the conservation of linear sums. A system may keep from here what makes the
    /// rates nearby cheaper.
    fn linearise(&mut self, y: &[f64; N], rates: &mut [f64; N], jacobian: &mut [[f64; N]; N]);
    /// How large an error is, in units of what is allowed in a step from this state, where the
    /// rates are known: the root mean square over the components. A system that knows better
    /// what an error does says so here.
    fn error(&self, tolerances: &Tolerances<N>, y: &[f64; N], rates: &[f64; N], error: &[f64; N]) -> f64 {
        let _ = rates;
        let mut sum = 0.0;
        for i in 0..N {
            let part = error[i] / tolerances.allowed(i, y[i].abs());
            sum += part * part;
        }
        (sum / N as f64).sqrt()
    }
}

/// Error allowed in one step: component i may err by absolute\[i\] + relative\[i\] times its
/// size.
#[derive(Clone, Copy, Debug)]
pub struct Tolerances<const N: usize> {
    /// Relative part of each component, dimensionless, ≥ 0.
    pub relative: [f64; N],
    /// Absolute part, in the unit of each component, > 0.
    pub absolute: [f64; N],
}

impl<const N: usize> Tolerances<N> {
    /// What component i may err by where it, or what its error matters against, has this size.
    #[inline]
    pub fn allowed(&self, i: usize, size: f64) -> f64 {
        self.absolute[i] + self.relative[i] * size
    }
}

/// What an integration has cost; frozen in tests so that a slowdown fails there.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cost {
    /// Accepted steps.
    pub steps: u64,
    /// Steps whose error was too large.
    pub rejected_steps: u64,
    /// Evaluations of the right-hand side.
    pub right_hand_sides: u64,
    /// Evaluations of the Jacobian (each also counts as one right-hand side).
    pub jacobians: u64,
}

impl core::ops::AddAssign for Cost {
    fn add_assign(&mut self, other: Self) {
        self.steps += other.steps;
        self.rejected_steps += other.rejected_steps;
        self.right_hand_sides += other.right_hand_sides;
        self.jacobians += other.jacobians;
    }
}

/// Why a step could not be made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StiffError {
    /// The step shrank below what the clock can tell apart.
    StepTooSmall {
        /// Where, in the unit of the independent variable.
        time: f64,
        /// The step that was refused.
        length: f64,
    },
}

impl core::fmt::Display for StiffError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::StepTooSmall { time, length } => {
                write!(f, "at t = {time} the step shrank to {length}: the equations cannot be followed")
            }
        }
    }
}

impl std::error::Error for StiffError {}

/// One accepted step with its dense output.
#[derive(Clone, Copy, Debug)]
pub struct Step<const N: usize> {
    /// Where the step begins.
    pub start: f64,
    /// How far it goes, > 0.
    pub length: f64,
    /// The state at the beginning.
    pub from: [f64; N],
    /// The state at the end.
    pub to: [f64; N],
    /// Where the step ends: exactly at the limit that cut it short, where start and length
    /// add up to a number beside it.
    end: f64,
    dense: [[f64; N]; 2],
}

impl<const N: usize> Step<N> {
    /// Where the step ends.
    pub fn end(&self) -> f64 {
        self.end
    }

    /// The state at a time inside the step (order 3): with θ the share of the step,
    /// (1-θ) y0 + θ (y1 + (1-θ)(d1 + θ d2)).
    pub fn at(&self, time: f64) -> [f64; N] {
        let theta = (time - self.start) / self.length;
        let rest = 1.0 - theta;
        let [d1, d2] = &self.dense;
        core::array::from_fn(|i| rest * self.from[i] + theta * (self.to[i] + rest * (d1[i] + theta * d2[i])))
    }
}

/// Makes steps one after another, remembering the size that the error allows.
#[derive(Clone, Debug)]
pub struct Stepper<const N: usize> {
    tolerances: Tolerances<N>,
    next_length: Option<f64>,
    last: Option<(f64, f64)>,
    cost: Cost,
    attempt: Attempt<N>,
}

/// Part of the allowed error that a step aims at, so that few are rejected.
const SAFETY: f64 = 0.9;
/// A step may shrink to this part or grow to that multiple of the one before. An estimate may
/// be small by chance: with 6 instead of 3 a turn was now and then leapt over.
const SHRINK: f64 = 0.2;
const GROW: f64 = 3.0;
/// Errors below this part of what is allowed say no more than that a step may grow.
const SMALLEST_ERROR: f64 = 1e-4;
/// See [`first_length`].
const FIRST_REACH: f64 = 100.0;
const SHORTEST_FIRST: f64 = 1e-4;

/// The error estimate is of order h⁴: the length goes by the fourth root of the error.
fn fourth_root(error: f64) -> f64 {
    error.sqrt().sqrt()
}

impl<const N: usize> Stepper<N> {
    /// A stepper that keeps each step's error within the tolerances.
    pub fn new(tolerances: Tolerances<N>) -> Self {
        Self { tolerances, next_length: None, last: None, cost: Cost::default(), attempt: Attempt::new() }
    }

    /// What all steps so far have cost.
    pub fn cost(&self) -> Cost {
        self.cost
    }

    /// Forgets the step size: call at an event, where the equations change.
    pub fn restart(&mut self) {
        self.next_length = None;
        self.last = None;
    }

    /// Tries this length next: for a caller who knows more than the stepper.
    pub fn expect(&mut self, length: f64) {
        self.next_length = Some(length);
        self.last = None;
    }

    /// One accepted step from `start`, at most to `limit`.
    ///
    /// # Errors
    /// [`StiffError::StepTooSmall`] when no step of a size the clock can resolve keeps
    /// the error within the tolerances, or the rates are not finite.
    pub fn advance<E: Equations<N>>(
        &mut self,
        equations: &mut E,
        start: f64,
        from: &[f64; N],
        limit: f64,
    ) -> Result<Step<N>, StiffError> {
        let Attempt { rates, jacobian, .. } = &mut self.attempt;
        equations.linearise(from, rates, jacobian);
        self.cost.right_hand_sides += 1;
        self.cost.jacobians += 1;
        let mut length =
            self.next_length.unwrap_or_else(|| first_length(equations.error(&self.tolerances, from, rates, rates)));
        let mut refused = false;
        loop {
            let room = limit - start;
            // A sliver left before the limit would be a step of its own: take it along.
            let clipped = length * 1.01 >= room;
            let tried = if clipped { room } else { length };
            if !(tried > 1e-13 * (1.0 + start.abs())) {
                return Err(StiffError::StepTooSmall { time: start, length: tried });
            }
            if !self.attempt.step(equations, from, tried, &mut self.cost) {
                self.cost.rejected_steps += 1;
                length = SHRINK * tried;
                refused = true;
                continue;
            }
            let Attempt { rates, to, estimate, dense, .. } = &self.attempt;
            let error = equations.error(&self.tolerances, from, rates, estimate);
            if error <= 1.0 {
                let mut factor = self.growth(tried, error);
                if refused {
                    factor = factor.min(1.0);
                }
                self.cost.steps += 1;
                self.last = Some((tried, error.max(SMALLEST_ERROR)));
                // A step cut short by the limit says little about what the error allows.
                self.next_length = Some(if clipped { length.max(tried * factor) } else { tried * factor });
                let end = if clipped { limit } else { start + tried };
                return Ok(Step { start, length: tried, from: *from, to: *to, end, dense: *dense });
            }
            // An error that is no number is as bad as a large one.
            let error = if error.is_finite() { error } else { f64::MAX };
            self.cost.rejected_steps += 1;
            refused = true;
            length = tried * (SAFETY / fourth_root(error)).clamp(SHRINK, SAFETY);
        }
    }

    /// How much longer the next step may be: what the error of this one allows, times half
    /// the trend from the one before.
    fn growth(&self, tried: f64, error: f64) -> f64 {
        let error = error.max(SMALLEST_ERROR);
        let mut factor = SAFETY / fourth_root(error);
        if let Some((last_length, last_error)) = self.last {
            factor *= (tried / last_length * fourth_root(last_error / error)).sqrt();
        }
        factor.clamp(SHRINK, GROW)
    }
}

/// A first step over which the state, moving at its present rate, goes a hundred times as far
/// as one step may err: the method errs far less than it moves. The error control corrects a
/// bad guess within two steps. Given is how far it goes in one second.
fn first_length(speed: f64) -> f64 {
    if speed > 0.0 { (FIRST_REACH / speed).clamp(SHORTEST_FIRST, 1.0) } else { 1.0 }
}
