//! Small dense linear systems: LU with row exchanges (Golub & Van Loan 2013, *Matrix
//! Computations*, 4th ed., algorithm 3.4.1).

/// A factored `N` by `N` matrix, ready to be solved against.
#[derive(Clone, Debug)]
pub struct Factored<const N: usize> {
    lower_upper: [[f64; N]; N],
    inverse_pivots: [f64; N],
    order: [usize; N],
}

impl<const N: usize> Factored<N> {
    /// Factors the matrix given by rows; `None` when it is singular or not finite.
    pub fn new(mut rows: [[f64; N]; N]) -> Option<Self> {
        let mut order = core::array::from_fn(|i| i);
        let mut inverse_pivots = [0.0; N];
        for column in 0..N {
            let mut best = column;
            for row in column + 1..N {
                if rows[row][column].abs() > rows[best][column].abs() {
                    best = row;
                }
            }
            let inverse = 1.0 / rows[best][column];
            if !inverse.is_finite() {
                return None;
            }
            if best != column {
                rows.swap(best, column);
                order.swap(best, column);
            }
            inverse_pivots[column] = inverse;
            let (above, below) = rows.split_at_mut(column + 1);
            let pivot_row = &above[column];
            for row in below {
                // Half of the beaker's matrix is zeros (a zone's chloride is moved by
                // mixing alone): passing them over saves a third of the factoring.
                if row[column] != 0.0 {
                    let factor = row[column] * inverse;
                    row[column] = factor;
                    for j in column + 1..N {
                        row[j] -= factor * pivot_row[j];
                    }
                }
            }
        }
        Some(Self { lower_upper: rows, inverse_pivots, order })
    }

    /// Solves for one right-hand side.
    pub fn solve(&self, right: &[f64; N]) -> [f64; N] {
        let mut x = [0.0; N];
        for i in 0..N {
            let mut sum = right[self.order[i]];
            for j in 0..i {
                sum -= self.lower_upper[i][j] * x[j];
            }
            x[i] = sum;
        }
        for i in (0..N).rev() {
            let mut sum = x[i];
            for j in i + 1..N {
                sum -= self.lower_upper[i][j] * x[j];
            }
            x[i] = sum * self.inverse_pivots[i];
        }
        x
    }
}

#[cfg(test)]
mod tests {
    use super::Factored;

    #[test]
    fn solves_a_system_whose_first_pivot_is_zero() {
        let factored = Factored::new([[0.0, 2.0, 1.0], [1.0, 1.0, 0.0], [4.0, 0.0, -1.0]]).unwrap();
        // x = (1, 2, 3): the right-hand side by hand.
        let x = factored.solve(&[7.0, 3.0, 1.0]);
        for (found, wanted) in x.iter().zip([1.0, 2.0, 3.0]) {
            assert!((found - wanted).abs() < 1e-14);
        }
    }

    #[test]
    fn refuses_a_singular_matrix() {
        assert!(Factored::new([[1.0, 2.0], [2.0, 4.0]]).is_none());
    }
}
