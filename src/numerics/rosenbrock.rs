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
//! stages they missed by fifty times the tolerance.

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

/// A step that was tried: its end, its estimated error, its dense output.
pub(super) struct Attempt<const N: usize> {
    pub to: [f64; N],
    pub estimate: [f64; N],
    pub dense: [[f64; N]; 2],
}

/// A step of this length; `None` when it leaves the realm of finite numbers.
pub(super) fn attempt<const N: usize, E: Equations<N>>(
    equations: &E,
    from: &[f64; N],
    rates: &[f64; N],
    jacobian: &[[f64; N]; N],
    length: f64,
    cost: &mut Cost,
) -> Option<Attempt<N>> {
    let diagonal = 1.0 / (length * GAMMA);
    let mut matrix = [[0.0; N]; N];
    for i in 0..N {
        for j in 0..N {
            matrix[i][j] = -jacobian[i][j];
        }
        matrix[i][i] += diagonal;
    }
    let factored = Factored::after_passive(matrix, E::PASSIVE)?;
    let inverse_length = 1.0 / length;
    let mut stages = [[0.0; N]; STAGES];
    let mut point = *from;
    for stage in 0..STAGES {
        let mut right = if stage == 0 {
            *rates
        } else {
            if stage < A.len() {
                point = *from;
                for j in 0..stage {
                    add_scaled(&mut point, A[stage][j], &stages[j]);
                }
            } else {
                // Stiff accuracy: the last points are the one before plus its stage.
                add_scaled(&mut point, 1.0, &stages[stage - 1]);
            }
            cost.right_hand_sides += 1;
            equations.rates(&point)
        };
        for j in 0..stage {
            add_scaled(&mut right, C[stage][j] * inverse_length, &stages[j]);
        }
        stages[stage] = factored.solve(&right);
    }
    let estimate = stages[STAGES - 1];
    add_scaled(&mut point, 1.0, &estimate);
    let mut dense = [[0.0; N]; 2];
    for (row, weights) in dense.iter_mut().zip(&H) {
        for (weight, stage) in weights.iter().zip(&stages) {
            add_scaled(row, *weight, stage);
        }
    }
    let finite = point.iter().all(|y| y.is_finite());
    finite.then_some(Attempt { to: point, estimate, dense })
}

#[inline]
fn add_scaled<const N: usize>(sum: &mut [f64; N], scale: f64, part: &[f64; N]) {
    for (s, p) in sum.iter_mut().zip(part) {
        *s += scale * p;
    }
}
