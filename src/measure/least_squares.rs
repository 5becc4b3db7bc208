//! Nonlinear least squares: Gauss's and Newton's step, damped after Levenberg and Marquardt, for models that are dear to
//! compute.
//!
//! Method: Moré 1978 (*Lecture Notes in Mathematics* 630, 105) with the slopes carried from step to step by Broyden's update
//! (Broyden 1965, *Math. Comp.* 19, 577) and taken anew by differences where a step disappoints, and near the end, where the
//! covariance hangs on them. It ends by Bates & Watts's relative offset (1981, *Technometrics* 23, 179): when what a further
//! step could gain is small against the scatter. These papers from memory; the results are held to certified data sets.
//!
//! Unknowns have no bounds here: whoever has some hands in a logarithm.

use super::orthogonal::Triangle;
use super::student::student_t;
use crate::numerics::sine_cosine;

/// What a search goes by.
#[derive(Clone, Copy, Debug)]
pub struct Rules<'a> {
    /// For each unknown the step over which slopes are taken; small against its reach, large against the model's noise.
    pub steps: &'a [f64],
    /// How close to the minimum, in standard errors of the unknowns.
    pub precision: f64,
    /// Whether the last slopes, on which the errors hang, are taken on both sides: for a model that bends within such a step.
    pub both_sides: bool,
    /// Most times that the model is computed.
    pub evaluations: usize,
}

/// Why there is no minimum to tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeastSquaresError {
    /// No more points than unknowns: nothing would be left to tell the scatter from.
    TooFewPoints {
        /// How many points there are.
        points: usize,
        /// How many unknowns.
        unknowns: usize,
    },
    /// The model cannot be computed where the search begins.
    NotComputable,
    /// The points say nothing of this unknown, or not apart from those before it.
    Undetermined {
        /// Which, from 0.
        unknown: usize,
    },
    /// The search came to no end.
    Lost,
}

/// The least sum of squares, and what it says of the unknowns.
#[derive(Clone, Debug, PartialEq)]
pub struct Minimum {
    /// The unknowns.
    pub values: Vec<f64>,
    /// Their covariance, by rows.
    pub covariance: Vec<f64>,
    /// What is left at each point.
    pub residuals: Vec<f64>,
    /// Leverage of each point, 0 to 1: how much of its own fit it makes.
    pub leverages: Vec<f64>,
    /// Degrees of freedom: points less unknowns.
    pub freedom: usize,
    /// How often the model was computed.
    pub evaluations: usize,
}

/// Computes the residuals at some unknowns; false where the model cannot.
pub type Residuals<'a> = dyn FnMut(&[f64], &mut [f64]) -> bool + 'a;

/// The unknowns with the least sum of squares, from a start.
///
/// # Errors
/// A [`LeastSquaresError`].
pub fn least_squares(
    start: &[f64],
    points: usize,
    rules: &Rules,
    residuals: &mut Residuals,
) -> Result<Minimum, LeastSquaresError> {
    let unknowns = start.len();
    if points <= unknowns {
        return Err(LeastSquaresError::TooFewPoints { points, unknowns });
    }
    let mut search = Search {
        rules,
        residuals,
        at: start.to_vec(),
        left: vec![0.0; points],
        slopes: vec![0.0; points * unknowns],
        evaluations: 0,
    };
    search.left = search.compute(&search.at.clone()).ok_or(LeastSquaresError::NotComputable)?;
    search.run()
}

impl Minimum {
    /// Widens what is known of the unknowns as for so many times fewer points, each of which says as much as `kin` of these.
    pub(super) fn hang_together(&mut self, kin: f64) {
        let points = self.residuals.len() as f64;
        let alone = ((points / kin) as usize).saturating_sub(self.values.len()).max(1);
        let wider = kin.max(1.0);
        for covariance in &mut self.covariance {
            *covariance *= wider;
        }
        self.freedom = alone.min(self.freedom);
    }

    /// Residual standard deviation.
    pub fn deviation(&self) -> f64 {
        (squares(&self.residuals) / (self.residuals.len() - self.values.len()) as f64).sqrt()
    }

    /// Standard error of an unknown.
    pub fn error(&self, unknown: usize) -> f64 {
        self.covariance[unknown * (self.values.len() + 1)].sqrt()
    }

    /// 95 % range of an unknown, by Student's t.
    pub fn range(&self, unknown: usize) -> [f64; 2] {
        let reach = student_t(0.95, self.freedom) * self.error(unknown);
        [self.values[unknown] - reach, self.values[unknown] + reach]
    }

    /// How much two unknowns trade off, -1 to 1.
    pub fn correlation(&self, one: usize, other: usize) -> f64 {
        self.covariance[one * self.values.len() + other] / (self.error(one) * self.error(other))
    }

    /// The outline of what two unknowns may be together with 95 % probability, as `corners` points.
    ///
    /// The ellipse xᵀ C⁻¹ x = 2 F, where F of 2 and ν degrees of freedom has the closed form ν/2 (0.05^(-2/ν) - 1).
    pub fn ellipse(&self, one: usize, other: usize, corners: usize) -> Vec<[f64; 2]> {
        let freedom = self.freedom as f64;
        let reach = (freedom * (libm::exp(-2.0 / freedom * libm::log(0.05)) - 1.0)).sqrt();
        let (a, b, r) = (self.error(one), self.error(other), self.correlation(one, other));
        let across = (1.0 - r * r).max(0.0).sqrt();
        let corner = |k: usize| {
            let angle = core::f64::consts::TAU * k as f64 / corners as f64;
            let (sine, cosine) = sine_cosine(angle);
            [self.values[one] + reach * a * cosine, self.values[other] + reach * b * (r * cosine + across * sine)]
        };
        (0..corners).map(corner).collect()
    }

    /// Studentised residual of each point, its own part taken out of the scatter (Cook & Weisberg 1982, *Residuals and
    /// Influence in Regression*, 2.2.1): distributed as Student's t with one degree of freedom less. 0 where the point
    /// alone decides its own fit.
    pub fn studentised(&self) -> Vec<f64> {
        let (sum, freedom) = (squares(&self.residuals), (self.residuals.len() - self.values.len()) as f64);
        let one = |(left, leverage): (&f64, &f64)| {
            let apart = 1.0 - leverage;
            let without = (sum - left * left / apart) / (freedom - 1.0);
            let studentised = left / (without * apart).sqrt();
            if apart > 1e-9 && studentised.is_finite() { studentised } else { 0.0 }
        };
        self.residuals.iter().zip(&self.leverages).map(one).collect()
    }

    /// A studentised residual beyond this does not fit: Student's t at 5 % shared out over all points (Bonferroni; Cook &
    /// Weisberg 1982; Weisberg 2014, *Applied Linear Regression*, 4th ed., 9.2). Infinite with a single degree of freedom.
    pub fn misfit_bound(&self) -> f64 {
        student_t(1.0 - 0.05 / self.residuals.len() as f64, self.freedom - 1)
    }
}

/// Damping at the start, against the squared lengths of the columns.
const FIRST_DAMPING: f64 = 1e-3;
const MOST_DAMPING: f64 = 1e12;
/// A step that brings less than this share of what was foreseen, or more than its inverse, shows that the slopes have aged.
const DISAPPOINTING: f64 = 0.5;
/// So many times farther off than the precision asked for, a search may end where no step brings it nearer.
const NOISY: f64 = 4.0;
/// From so many times the precision asked for, the best slopes there are lead home: they hold on over so short a step, and to
/// take them anew after it would cost as much as all of the search before.
const NEAR: f64 = 10.0;

struct Search<'a, 'b> {
    rules: &'a Rules<'a>,
    residuals: &'a mut Residuals<'b>,
    at: Vec<f64>,
    left: Vec<f64>,
    /// Slopes of the residuals along the unknowns, a row each point.
    slopes: Vec<f64>,
    evaluations: usize,
}

/// How the slopes were come by.
#[derive(Clone, Copy, PartialEq)]
enum Slopes {
    Carried,
    Forward,
    Central,
}

impl Search<'_, '_> {
    fn run(mut self) -> Result<Minimum, LeastSquaresError> {
        let unknowns = self.at.len();
        let points = self.left.len();
        let freedom = points - unknowns;
        let mut kind = self.differences(false)?;
        let mut damping = FIRST_DAMPING;
        loop {
            let triangle = Triangle::of(&self.slopes, &self.left, unknowns);
            let sum = squares(&self.left);
            // What a step could gain by the slopes, against the scatter that would be left.
            let gain = squares(&triangle.image);
            let scatter = (sum - gain).max(0.0) / freedom as f64;
            let offset = self.rules.precision * self.rules.precision * unknowns as f64;
            let is_best = kind == Slopes::Central || (kind == Slopes::Forward && !self.rules.both_sides);
            let is_there = gain <= (offset * scatter).max(f64::EPSILON * f64::EPSILON * sum) || sum == 0.0;
            let is_near = gain <= NEAR * NEAR * offset * scatter;
            if (is_there || is_near) && !is_best {
                kind = self.differences(self.rules.both_sides)?;
                continue;
            }
            if is_there {
                return self.minimum(&triangle, freedom);
            }
            if self.evaluations >= self.rules.evaluations {
                return Err(lost(&triangle));
            }
            let (step, foreseen) = damped(&triangle, damping, gain);
            let there: Vec<f64> = self.at.iter().zip(&step).map(|(at, step)| at + step).collect();
            let left = self.compute(&there).filter(|left| squares(left) < sum);
            let Some(left) = left else {
                // No nearer, by the best slopes there are: rounding, or the noise of a computed model.
                if is_best && (still(&self.at, &there) || gain <= NOISY * NOISY * offset * scatter) {
                    return self.minimum(&triangle, freedom);
                }
                // Slopes that have aged, or that a bend of the model puts off, may be what misleads.
                kind = match kind {
                    Slopes::Carried => self.differences(false)?,
                    Slopes::Forward => self.differences(true)?,
                    Slopes::Central if damping > MOST_DAMPING => return Err(lost(&triangle)),
                    Slopes::Central => {
                        damping *= 10.0;
                        kind
                    }
                };
                continue;
            };
            let ratio = (sum - squares(&left)) / foreseen;
            damping *= if ratio > 0.75 {
                0.1
            } else if ratio < 0.25 {
                4.0
            } else {
                1.0
            };
            if is_near {
                self.at = there;
                self.left = left;
                continue;
            }
            self.carry(&step, &left);
            self.at = there;
            self.left = left;
            kind = Slopes::Carried;
            if !(ratio > DISAPPOINTING && ratio < 1.0 / DISAPPOINTING) {
                kind = self.differences(false)?;
            }
        }
    }

    fn compute(&mut self, at: &[f64]) -> Option<Vec<f64>> {
        let mut left = vec![0.0; self.left.len()];
        self.evaluations += 1;
        let computed = (self.residuals)(at, &mut left) && left.iter().all(|left| left.is_finite());
        computed.then_some(left)
    }

    /// Slopes by differences, one-sided or central.
    fn differences(&mut self, central: bool) -> Result<Slopes, LeastSquaresError> {
        let unknowns = self.at.len();
        for j in 0..unknowns {
            let step = self.rules.steps[j];
            let mut beside = self.at.clone();
            beside[j] += step;
            let above = self.compute(&beside);
            beside[j] = self.at[j] - step;
            let below = if central || above.is_none() { self.compute(&beside) } else { None };
            // Where the model ends on one side, the other side has to do.
            let (high, low, width) = match (&above, &below) {
                (Some(above), Some(below)) => (above, below, 2.0 * step),
                (Some(above), None) => (above, &self.left, step),
                (None, Some(below)) => (&self.left, below, step),
                (None, None) => return Err(LeastSquaresError::NotComputable),
            };
            for i in 0..self.left.len() {
                self.slopes[i * unknowns + j] = (high[i] - low[i]) / width;
            }
        }
        Ok(if central { Slopes::Central } else { Slopes::Forward })
    }

    /// Broyden's update: the slopes least changed that explain the step just made.
    fn carry(&mut self, step: &[f64], left: &[f64]) {
        // Unknowns count in their own steps, so that none is large only by its unit.
        let weight: Vec<f64> = step.iter().zip(self.rules.steps).map(|(d, s)| d / (s * s)).collect();
        let length: f64 = step.iter().zip(&weight).map(|(d, w)| d * w).sum();
        let unknowns = step.len();
        for i in 0..left.len() {
            let row = &mut self.slopes[i * unknowns..(i + 1) * unknowns];
            let foreseen: f64 = row.iter().zip(step).map(|(slope, d)| slope * d).sum();
            let missed = (left[i] - self.left[i] - foreseen) / length;
            for (slope, w) in row.iter_mut().zip(&weight) {
                *slope += missed * w;
            }
        }
    }

    fn minimum(self, triangle: &Triangle, freedom: usize) -> Result<Minimum, LeastSquaresError> {
        let unknowns = self.at.len();
        if let Some(unknown) = triangle.dependent() {
            return Err(LeastSquaresError::Undetermined { unknown });
        }
        let inverse = triangle.inverse();
        let scatter = squares(&self.left) / freedom as f64;
        let row = |i: usize| &inverse[i * unknowns..(i + 1) * unknowns];
        let product = |i: usize, j: usize| row(i).iter().zip(row(j)).map(|(a, b)| a * b).sum::<f64>();
        let covariance = (0..unknowns * unknowns).map(|k| scatter * product(k / unknowns, k % unknowns)).collect();
        let leverage = |slopes: &[f64]| {
            let part = |j: usize| (0..unknowns).map(|i| slopes[i] * inverse[i * unknowns + j]).sum::<f64>();
            (0..unknowns).map(|j| part(j) * part(j)).sum()
        };
        let leverages = self.slopes.chunks(unknowns).map(leverage).collect();
        let Search { at, left, evaluations, .. } = self;
        Ok(Minimum { values: at, covariance, residuals: left, leverages, freedom, evaluations })
    }
}

/// The step that makes the sum of squares by the slopes least, with the damped length of the step; and what it should gain.
fn damped(triangle: &Triangle, damping: f64, gain: f64) -> (Vec<f64>, f64) {
    let n = triangle.size;
    let mut rows = triangle.right.clone();
    for i in 0..n {
        // Below the diagonal R's place holds the reflections.
        for j in 0..i {
            rows[i * n + j] = 0.0;
        }
    }
    let tall = rows.clone();
    for j in 0..n {
        let column: f64 = (0..=j).map(|i| tall[i * n + j] * tall[i * n + j]).sum();
        let mut row = vec![0.0; n];
        row[j] = (damping * column).sqrt();
        rows.extend(row);
    }
    let mut side: Vec<f64> = triangle.image.iter().map(|image| -image).collect();
    side.resize(2 * n, 0.0);
    let step = Triangle::of(&rows, &side, n).solve();
    let rest: f64 = (0..n)
        .map(|i| triangle.image[i] + (i..n).map(|j| tall[i * n + j] * step[j]).sum::<f64>())
        .map(|rest| rest * rest)
        .sum();
    (step, gain - rest)
}

/// Why a search came to no end: most often because the points say nothing of an unknown.
fn lost(triangle: &Triangle) -> LeastSquaresError {
    triangle.dependent().map_or(LeastSquaresError::Lost, |unknown| LeastSquaresError::Undetermined { unknown })
}

fn still(at: &[f64], there: &[f64]) -> bool {
    at.iter().zip(there).all(|(at, there)| (there - at).abs() <= 4.0 * f64::EPSILON * at.abs())
}

fn squares(values: &[f64]) -> f64 {
    values.iter().map(|value| value * value).sum()
}
