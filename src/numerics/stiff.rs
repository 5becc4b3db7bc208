//! A stiff stepper: Rodas5P with a step-size control and dense output.
//!
//! The equations are autonomous, y' = f(y), between two events; the caller restarts the
//! stepper at an event. Method and coefficients: see `tableau.rs`. Step control:
//! Hairer & Wanner 1996, *Solving ODEs II*, eqs. IV.8.19 to IV.8.25 (predictive
//! controller of Gustafsson). Left out: time-dependent right-hand sides.

use super::linear::Factored;
use super::tableau::{A, C, GAMMA, H, STAGES};

/// An autonomous system y' = f(y) with its Jacobian.
pub trait Equations<const N: usize> {
    /// The rates f(y).
    fn rates(&self, y: &[f64; N]) -> [f64; N];
    /// The rates and the Jacobian, `jacobian[i][j]` = ∂f_i/∂y_j. It must be exact: the
    /// method's order rests on it, and so does the conservation of linear sums.
    fn rates_and_jacobian(&self, y: &[f64; N]) -> ([f64; N], [[f64; N]; N]);
}

/// Error allowed in one step: component i may err by absolute\[i\] + relative\[i\] · |y_i|.
#[derive(Clone, Copy, Debug)]
pub struct Tolerances<const N: usize> {
    /// Relative part of each component, dimensionless, ≥ 0.
    pub relative: [f64; N],
    /// Absolute part, in the unit of each component, > 0.
    pub absolute: [f64; N],
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
    /// Evaluations of the Jacobian (each also gives one right-hand side).
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
    dense: [[f64; N]; 3],
}

impl<const N: usize> Step<N> {
    /// Where the step ends.
    pub fn end(&self) -> f64 {
        self.start + self.length
    }

    /// The state at a time inside the step (order 4).
    pub fn at(&self, time: f64) -> [f64; N] {
        let theta = (time - self.start) / self.length;
        let rest = 1.0 - theta;
        let [d1, d2, d3] = &self.dense;
        core::array::from_fn(|i| {
            rest * self.from[i] + theta * (self.to[i] + rest * (d1[i] + theta * (d2[i] + theta * d3[i])))
        })
    }
}

/// Makes steps one after another, remembering the size that the error allows.
#[derive(Clone, Debug)]
pub struct Stepper<const N: usize> {
    tolerances: Tolerances<N>,
    next_length: Option<f64>,
    last: Option<(f64, f64)>,
    cost: Cost,
}

/// Part of the allowed error that a step aims at, so that few are rejected.
const SAFETY: f64 = 0.9;
/// A step may shrink to this part or grow to that multiple of the one before.
const SHRINK: f64 = 0.2;
const GROW: f64 = 6.0;
/// See [`Stepper::first_length`].
const FIRST_REACH: f64 = 100.0;
const SHORTEST_FIRST: f64 = 1e-6;
/// The error estimate is of order h^5.
const INVERSE_ORDER: f64 = 1.0 / 5.0;

impl<const N: usize> Stepper<N> {
    /// A stepper that keeps each step's error within the tolerances.
    pub fn new(tolerances: Tolerances<N>) -> Self {
        Self { tolerances, next_length: None, last: None, cost: Cost::default() }
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
        equations: &E,
        start: f64,
        from: &[f64; N],
        limit: f64,
    ) -> Result<Step<N>, StiffError> {
        let (rates, jacobian) = equations.rates_and_jacobian(from);
        self.cost.jacobians += 1;
        self.cost.right_hand_sides += 1;
        let mut length = self.next_length.unwrap_or_else(|| self.first_length(from, &rates));
        let mut refused = false;
        loop {
            let room = limit - start;
            // A sliver left before the limit would be a step of its own: take it along.
            let clipped = length * 1.01 >= room;
            let tried = if clipped { room } else { length };
            if !(tried > 1e-13 * (1.0 + start.abs())) {
                return Err(StiffError::StepTooSmall { time: start, length: tried });
            }
            let attempt = self.attempt(equations, from, &rates, &jacobian, tried);
            let Some((stages, to)) = attempt else {
                self.cost.rejected_steps += 1;
                length = SHRINK * tried;
                refused = true;
                continue;
            };
            let error = self.error(from, &to, &stages[STAGES - 1]);
            let mut factor = (SAFETY * libm::pow(error.max(1e-10), -INVERSE_ORDER)).clamp(SHRINK, GROW);
            if error <= 1.0 {
                if let Some((last_length, last_error)) = self.last {
                    let trend = SAFETY
                        * (tried / last_length)
                        * libm::pow(last_error / (error * error).max(1e-10), INVERSE_ORDER);
                    factor = factor.min(trend.max(SHRINK));
                }
                if refused {
                    factor = factor.min(1.0);
                }
                self.cost.steps += 1;
                self.last = Some((tried, error.max(1e-2)));
                // A step cut short by the limit says little about what the error allows.
                self.next_length = Some(if clipped { length.max(tried * factor) } else { tried * factor });
                return Ok(Step { start, length: tried, from: *from, to, dense: dense(&stages) });
            }
            self.cost.rejected_steps += 1;
            refused = true;
            length = tried * factor.min(SAFETY);
        }
    }

    /// The stages and the end of a step of this length; `None` when it leaves the
    /// realm of finite numbers.
    fn attempt<E: Equations<N>>(
        &mut self,
        equations: &E,
        from: &[f64; N],
        rates: &[f64; N],
        jacobian: &[[f64; N]; N],
        length: f64,
    ) -> Option<([[f64; N]; STAGES], [f64; N])> {
        let diagonal = 1.0 / (length * GAMMA);
        let mut matrix = [[0.0; N]; N];
        for i in 0..N {
            for j in 0..N {
                matrix[i][j] = -jacobian[i][j];
            }
            matrix[i][i] += diagonal;
        }
        let factored = Factored::new(matrix)?;
        let inverse_length = 1.0 / length;
        let mut stages = [[0.0; N]; STAGES];
        let mut point = *from;
        for stage in 0..STAGES {
            let mut right = if stage == 0 {
                *rates
            } else {
                if stage < 6 {
                    point = *from;
                    for j in 0..stage {
                        add_scaled(&mut point, A[stage][j], &stages[j]);
                    }
                } else {
                    // Stiff accuracy: the last points are the one before plus its stage.
                    add_scaled(&mut point, 1.0, &stages[stage - 1]);
                }
                self.cost.right_hand_sides += 1;
                equations.rates(&point)
            };
            for j in 0..stage {
                add_scaled(&mut right, C[stage][j] * inverse_length, &stages[j]);
            }
            stages[stage] = factored.solve(&right);
        }
        add_scaled(&mut point, 1.0, &stages[STAGES - 1]);
        point.iter().all(|y| y.is_finite()).then_some((stages, point))
    }

    /// Root mean square of the error in units of what is allowed.
    fn error(&self, from: &[f64; N], to: &[f64; N], estimate: &[f64; N]) -> f64 {
        let mut sum = 0.0;
        for i in 0..N {
            let allowed = self.tolerances.absolute[i] + self.tolerances.relative[i] * from[i].abs().max(to[i].abs());
            let part = estimate[i] / allowed;
            sum += part * part;
        }
        let error = (sum / N as f64).sqrt();
        if error.is_finite() { error } else { f64::MAX }
    }

    /// A first step over which the state, moving at its present rate, goes a hundred times
    /// as far as one step may err: a fifth-order method errs far less than it moves. The
    /// error control corrects a bad guess within two steps.
    fn first_length(&self, from: &[f64; N], rates: &[f64; N]) -> f64 {
        let speed = self.error(from, from, rates);
        if speed > 0.0 { (FIRST_REACH / speed).clamp(SHORTEST_FIRST, 1.0) } else { 1.0 }
    }
}

#[inline]
fn add_scaled<const N: usize>(sum: &mut [f64; N], scale: f64, part: &[f64; N]) {
    for (s, p) in sum.iter_mut().zip(part) {
        *s += scale * p;
    }
}

fn dense<const N: usize>(stages: &[[f64; N]; STAGES]) -> [[f64; N]; 3] {
    let mut dense = [[0.0; N]; 3];
    for (row, weights) in dense.iter_mut().zip(&H) {
        for (weight, stage) in weights.iter().zip(stages) {
            add_scaled(row, *weight, stage);
        }
    }
    dense
}
