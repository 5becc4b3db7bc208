//! A straight line through measured points by least squares, with its errors and 95 % ranges.
//!
//! y = intercept + slope x; the x are taken as exact, the y as scattering equally and independently. Sums are taken about the
//! means (Björck 1996, *Numerical Methods for Least Squares Problems*, 1.2), so that a large common part of x or y costs
//! no digits.

use super::student::student_t;

/// A line through points, and how sure it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Rise per unit of x.
    pub slope: f64,
    /// Its standard error; none with two points.
    pub slope_error: Option<f64>,
    /// Height at x = 0.
    pub intercept: f64,
    /// Its standard error; none with two points.
    pub intercept_error: Option<f64>,
    /// R²: the share of the scatter of y that the line takes up, 0 to 1; 1 where y does not scatter at all.
    pub r_squared: f64,
    /// Residual standard deviation s = √(sum of squares/degrees of freedom), in the unit of y; none with two points.
    pub residual_deviation: Option<f64>,
    /// Degrees of freedom: points less two.
    pub freedom: usize,
    /// Mean of x.
    x_mean: f64,
    /// Sum of the squares of x about its mean.
    x_squares: f64,
}

/// Why no line can be laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineError {
    /// Fewer than two points.
    TooFew {
        /// How many there are.
        points: usize,
    },
    /// All points lie at the same x.
    OneX,
    /// Something that is no finite number among them.
    NotANumber,
}

impl LineError {
    /// The name at the edge.
    pub fn key(self) -> &'static str {
        match self {
            LineError::TooFew { .. } => "tooFew",
            LineError::OneX => "oneX",
            LineError::NotANumber => "notANumber",
        }
    }
}

impl Line {
    /// The line through points; where one list is longer than the other, its end is left out of account.
    ///
    /// # Errors
    /// A [`LineError`] where the points leave a line open.
    pub fn through(x: &[f64], y: &[f64]) -> Result<Line, LineError> {
        let points = x.len().min(y.len());
        let (x, y) = (&x[..points], &y[..points]);
        if points < 2 {
            return Err(LineError::TooFew { points });
        }
        if !x.iter().chain(y).all(|value| value.is_finite()) {
            return Err(LineError::NotANumber);
        }
        let (x_mean, y_mean) = (mean(x), mean(y));
        let (mut x_squares, mut y_squares, mut products) = (0.0, 0.0, 0.0);
        for (x, y) in x.iter().zip(y) {
            let (dx, dy) = (x - x_mean, y - y_mean);
            x_squares += dx * dx;
            y_squares += dy * dy;
            products += dx * dy;
        }
        let slope = products / x_squares;
        if !slope.is_finite() {
            return Err(LineError::OneX);
        }
        let residual = |(x, y): (&f64, &f64)| (y - y_mean) - slope * (x - x_mean);
        let left: f64 = x.iter().zip(y).map(residual).map(|r| r * r).sum();
        let freedom = points - 2;
        let deviation = (freedom > 0).then(|| (left / freedom as f64).sqrt());
        Ok(Line {
            slope,
            slope_error: deviation.map(|s| s / x_squares.sqrt()),
            intercept: y_mean - slope * x_mean,
            intercept_error: deviation.map(|s| s * (1.0 / points as f64 + x_mean * x_mean / x_squares).sqrt()),
            r_squared: if y_squares > 0.0 { 1.0 - left / y_squares } else { 1.0 },
            residual_deviation: deviation,
            freedom,
            x_mean,
            x_squares,
        })
    }

    /// Height of the line at an x.
    pub fn at(&self, x: f64) -> f64 {
        self.intercept + self.slope * x
    }

    /// 95 % range of the slope; none with two points.
    pub fn slope_range(&self) -> Option<[f64; 2]> {
        self.slope_error.map(|error| self.around(self.slope, error))
    }

    /// 95 % range of the intercept; none with two points.
    pub fn intercept_range(&self) -> Option<[f64; 2]> {
        self.intercept_error.map(|error| self.around(self.intercept, error))
    }

    /// 95 % range of the line's height at an x (of the mean there, not of another point); none with two points.
    pub fn range_at(&self, x: f64) -> Option<[f64; 2]> {
        let points = (self.freedom + 2) as f64;
        let off = x - self.x_mean;
        let error = |s: f64| s * (1.0 / points + off * off / self.x_squares).sqrt();
        self.residual_deviation.map(|s| self.around(self.at(x), error(s)))
    }

    fn around(&self, value: f64, error: f64) -> [f64; 2] {
        let reach = student_t(0.95, self.freedom) * error;
        [value - reach, value + reach]
    }
}

/// Mean, with the rounding of the first pass taken back by a second.
fn mean(values: &[f64]) -> f64 {
    let count = values.len() as f64;
    let first = values.iter().sum::<f64>() / count;
    first + values.iter().map(|value| value - first).sum::<f64>() / count
}
