//! RODAS: a stiffly accurate, L-stable Rosenbrock method of order 4 with an embedded method
//! of order 3 and a dense output of order 3.
//!
//! Source: Hairer & Wanner 1996, *Solving Ordinary Differential Equations II*, 2nd ed.,
//! section IV.7 (transformed form, eq. IV.7.25) and table VI.4.1; the digits are those of
//! their program RODAS. That they were copied right is checked in
//! `tests/stiff_problems.rs`: the order of the step and of the dense output is measured,
//! and published end values are met.
//!
//! Two methods of order 5 were tried in its place (Steinebach's Rodas5P of 2023, Dormand &
//! Prince's of 1980 for the stretches that are not stiff): for the same time they met the
//! same error on average, but where the plume passes the neutral point between two of their
//! stages they missed by fifty times the tolerance. A method of four stages (GRK4T, Kaps &
//! Rentrop 1979, *Numer. Math.* 33, 55) did the beaker's work for a sixth less, but is of order 2
//! where the stiffness is high: van der Pol's end was missed at a tolerance of 10⁻⁷, in four
//! times the steps.

use super::linear::Factored;
use super::stepper::{Cost, Equations};

/// Stages of the method.
const STAGES: usize = 6;

/// The diagonal coefficient γ.
const GAMMA: f64 = 0.25;

/// A[i][j]: share of stage j in the point where stage i evaluates the right-hand side. The
/// last stage's row is the one before with a one appended, and so is the step's.
const A: [[f64; 4]; 5] = [
    [0.0, 0.0, 0.0, 0.0],
    [1.544, 0.0, 0.0, 0.0],
    [0.9466785280815826, 0.2557011698983284, 0.0, 0.0],
    [3.314825187068521, 2.896124015972201, 0.9986419139977817, 0.0],
    [1.221224509226641, 6.019134481288629, 12.53708332932087, -0.687886036105895],
];

/// C[i][j] / h: weight of stage j on the right-hand side of stage i's linear system.
const C: [[f64; 5]; STAGES] = [
    [0.0, 0.0, 0.0, 0.0, 0.0],
    [-5.6688, 0.0, 0.0, 0.0, 0.0],
    [-2.430093356833875, -0.2063599157091915, 0.0, 0.0, 0.0],
    [-0.1073529058151375, -9.594562251023355, -20.47028614809616, 0.0, 0.0],
    [7.496443313967647, -10.24680431464352, -33.99990352819905, 11.7089089320616, 0.0],
    [8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054],
];

/// Rows of the dense output: each is a sum of stages with these weights.
const H: [[f64; STAGES - 1]; 2] = [
    [10.12623508344586, -7.487995877610167, -34.80091861555747, -7.992771707568823, 1.025137723295662],
    [-0.6762803392801253, 6.087714651680015, 16.43084320892478, 24.76722511418386, -6.594389125716872],
];

/// What a step is tried in: kept from step to step, so that nothing large is copied.
#[derive(Clone, Debug)]
pub(super) struct Attempt<const N: usize> {
    pub rates: [f64; N],
    pub jacobian: [[f64; N]; N],
    /// The end of the step, its estimated error, its dense output.
    pub to: [f64; N],
    pub estimate: [f64; N],
    pub dense: [[f64; N]; 2],
    factored: Factored<N>,
    stages: [[f64; N]; STAGES],
}

impl<const N: usize> Attempt<N> {
    pub fn new() -> Self {
        Self {
            rates: [0.0; N],
            jacobian: [[0.0; N]; N],
            to: [0.0; N],
            estimate: [0.0; N],
            dense: [[0.0; N]; 2],
            factored: Factored::empty(),
            stages: [[0.0; N]; STAGES],
        }
    }

    /// A step of this length from the point that the rates and the Jacobian belong to;
    /// whether it stayed in the realm of finite numbers.
    pub fn step<E: Equations<N>>(&mut self, equations: &mut E, from: &[f64; N], length: f64, cost: &mut Cost) -> bool {
        if !self.factored.fill(1.0 / (length * GAMMA), &self.jacobian, E::PASSIVE) {
            return false;
        }
        let inverse_length = 1.0 / length;
        let mut point = *from;
        for stage in 0..STAGES {
            let (known, rest) = self.stages.split_at_mut(stage);
            let mut right = if stage == 0 {
                self.rates
            } else {
                if stage < A.len() {
                    point = combined(from, known, &A[stage], 1.0);
                } else {
                    // Stiff accuracy: the last points are the one before plus its stage.
                    point = combined(&point, &known[stage - 1..], &[1.0], 1.0);
                }
                cost.right_hand_sides += 1;
                equations.rates(&point)
            };
            right = combined(&right, known, &C[stage], inverse_length);
            rest[0] = self.factored.solve(&right, E::PASSIVE);
        }
        self.estimate = self.stages[STAGES - 1];
        self.to = combined(&point, &[self.estimate], &[1.0], 1.0);
        for (dense, weights) in self.dense.iter_mut().zip(&H) {
            *dense = combined(&[0.0; N], &self.stages, weights, 1.0);
        }
        self.to.iter().all(|y| y.is_finite())
    }
}

/// A point plus so many times each stage.
#[inline]
fn combined<const N: usize>(point: &[f64; N], stages: &[[f64; N]], weights: &[f64], scale: f64) -> [f64; N] {
    let mut sum = *point;
    for (stage, weight) in stages.iter().zip(weights) {
        let weight = weight * scale;
        for (s, p) in sum.iter_mut().zip(stage) {
            *s += weight * p;
        }
    }
    sum
}
