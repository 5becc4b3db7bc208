//! Forward-mode differentiation: a number that carries its slopes.
//!
//! Code written once over [`Number`] runs on plain `f64` for the values and on
//! [`Dual`] for values and exact first derivatives (Wengert 1964, Commun. ACM 7, 463;
//! Griewank & Walther 2008, *Evaluating Derivatives*, ch. 3).

use core::ops::{Add, Div, Mul, Neg, Sub};

/// A number that the model's equations can be written over.
pub trait Number:
    Copy
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
    + Add<f64, Output = Self>
    + Sub<f64, Output = Self>
    + Mul<f64, Output = Self>
    + Div<f64, Output = Self>
{
    /// A number whose slopes are all zero.
    fn constant(value: f64) -> Self;
    /// The value without the slopes.
    fn value(self) -> f64;
    /// The number f(self), given f and f' at this number's value.
    fn chain(self, value: f64, slope: f64) -> Self;

    /// Square root; the value must not be negative.
    fn square_root(self) -> Self {
        let root = self.value().sqrt();
        self.chain(root, 0.5 / root)
    }
    /// Cube root; the value must be positive.
    fn cube_root(self) -> Self {
        let root = cube_root(self.value());
        self.chain(root, root / (3.0 * self.value()))
    }
    /// e to this power.
    fn exponential(self) -> Self {
        let power = libm::exp(self.value());
        self.chain(power, power)
    }
    /// Natural logarithm; the value must be positive.
    fn logarithm(self) -> Self {
        self.chain(libm::log(self.value()), 1.0 / self.value())
    }
    /// Absolute value; the slope at zero is taken from the right.
    fn magnitude(self) -> Self {
        if self.value() < 0.0 { -self } else { self }
    }
    /// The larger of this number and a bound; below the bound the slopes vanish.
    fn at_least(self, bound: f64) -> Self {
        if self.value() > bound { self } else { Self::constant(bound) }
    }
    /// The smaller of this number and a bound; above the bound the slopes vanish.
    fn at_most(self, bound: f64) -> Self {
        if self.value() < bound { self } else { Self::constant(bound) }
    }
}

/// Cube root of a positive number, from a third of its exponent and three steps of Halley's
/// method, each of which triples the figures. `libm`'s would do, but rests on a fused
/// multiply-add that WebAssembly must spell out: in Chromium this one takes a sixth of the
/// time, and it needs nothing but exact operations.
#[inline]
fn cube_root(x: f64) -> f64 {
    // A third of the bits, with the bias of the exponent put right: within 5 %.
    const BIAS: u64 = 0x2A9F_7893_782D_A1CE;
    let mut root = f64::from_bits(x.to_bits() / 3 + BIAS);
    for _ in 0..3 {
        let cube = root * root * root;
        root = root * (cube + 2.0 * x) / (2.0 * cube + x);
    }
    root
}

impl Number for f64 {
    #[inline]
    fn constant(value: f64) -> Self {
        value
    }
    #[inline]
    fn value(self) -> f64 {
        self
    }
    #[inline]
    fn chain(self, value: f64, _slope: f64) -> Self {
        value
    }
}

/// A value with its slopes along `K` directions.
#[derive(Clone, Copy, Debug)]
pub struct Dual<const K: usize> {
    value: f64,
    slopes: [f64; K],
}

impl<const K: usize> Dual<K> {
    /// The independent variable number `direction`, of this value: slope 1 along itself.
    pub fn variable(value: f64, direction: usize) -> Self {
        let mut slopes = [0.0; K];
        slopes[direction] = 1.0;
        Self { value, slopes }
    }

    /// A value with slopes that are already known.
    pub fn with_slopes(value: f64, slopes: [f64; K]) -> Self {
        Self { value, slopes }
    }

    /// The slopes along each direction.
    pub fn slopes(&self) -> &[f64; K] {
        &self.slopes
    }

    #[inline]
    fn combine(self, other: Self, value: f64, by_self: f64, by_other: f64) -> Self {
        let mut slopes = [0.0; K];
        for (slope, (a, b)) in slopes.iter_mut().zip(self.slopes.iter().zip(&other.slopes)) {
            *slope = by_self * a + by_other * b;
        }
        Self { value, slopes }
    }
}

impl<const K: usize> Number for Dual<K> {
    #[inline]
    fn constant(value: f64) -> Self {
        Self { value, slopes: [0.0; K] }
    }
    #[inline]
    fn value(self) -> f64 {
        self.value
    }
    #[inline]
    fn chain(self, value: f64, slope: f64) -> Self {
        Self { value, slopes: self.slopes.map(|s| slope * s) }
    }
}

impl<const K: usize> Add for Dual<K> {
    type Output = Self;
    #[inline]
    fn add(self, other: Self) -> Self {
        self.combine(other, self.value + other.value, 1.0, 1.0)
    }
}

impl<const K: usize> Sub for Dual<K> {
    type Output = Self;
    #[inline]
    fn sub(self, other: Self) -> Self {
        self.combine(other, self.value - other.value, 1.0, -1.0)
    }
}

impl<const K: usize> Mul for Dual<K> {
    type Output = Self;
    #[inline]
    fn mul(self, other: Self) -> Self {
        self.combine(other, self.value * other.value, other.value, self.value)
    }
}

impl<const K: usize> Div for Dual<K> {
    type Output = Self;
    #[inline]
    fn div(self, other: Self) -> Self {
        let quotient = self.value / other.value;
        let inverse = 1.0 / other.value;
        self.combine(other, quotient, inverse, -quotient * inverse)
    }
}

impl<const K: usize> Neg for Dual<K> {
    type Output = Self;
    #[inline]
    fn neg(self) -> Self {
        self.chain(-self.value, -1.0)
    }
}

impl<const K: usize> Add<f64> for Dual<K> {
    type Output = Self;
    #[inline]
    fn add(self, other: f64) -> Self {
        Self { value: self.value + other, slopes: self.slopes }
    }
}

impl<const K: usize> Sub<f64> for Dual<K> {
    type Output = Self;
    #[inline]
    fn sub(self, other: f64) -> Self {
        Self { value: self.value - other, slopes: self.slopes }
    }
}

impl<const K: usize> Mul<f64> for Dual<K> {
    type Output = Self;
    #[inline]
    fn mul(self, other: f64) -> Self {
        self.chain(self.value * other, other)
    }
}

impl<const K: usize> Div<f64> for Dual<K> {
    type Output = Self;
    #[inline]
    fn div(self, other: f64) -> Self {
        self.chain(self.value / other, 1.0 / other)
    }
}

#[cfg(test)]
mod tests {
    use super::{Dual, Number};

    fn curve<N: Number>(x: N, y: N) -> N {
        (x * y + 2.0).square_root() * (y / x).exponential() - x.cube_root() / y.logarithm()
    }

    #[test]
    fn the_cube_root_cubed_is_the_number() {
        for i in 0..20_000 {
            let x = 1e-12 * f64::from(i + 1) * f64::from(i + 1) * f64::from(i + 1);
            let root = super::cube_root(x);
            assert!((root - 1e-4 * f64::from(i + 1)).abs() <= 1e-15 * root, "{x}: {root}");
        }
    }

    #[test]
    fn slopes_equal_finite_differences() {
        let (x, y, step) = (1.3, 2.1, 1e-6);
        let dual = curve(Dual::<2>::variable(x, 0), Dual::<2>::variable(y, 1));
        let along_x = (curve(x + step, y) - curve(x - step, y)) / (2.0 * step);
        let along_y = (curve(x, y + step) - curve(x, y - step)) / (2.0 * step);
        assert_eq!(dual.value(), curve(x, y));
        assert!((dual.slopes()[0] - along_x).abs() < 1e-8);
        assert!((dual.slopes()[1] - along_y).abs() < 1e-8);
    }
}
