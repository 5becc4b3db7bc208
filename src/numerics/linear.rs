//! Small linear systems: LU with row exchanges (Golub & Van Loan 2013, *Matrix
//! Computations*, 4th ed., algorithm 3.4.1), after unknowns that can be eliminated cheaply.

/// A factored `N` by `N` matrix, ready to be solved against.
#[derive(Clone, Debug)]
pub struct Factored<const N: usize> {
    lower_upper: [[f64; N]; N],
    inverse_pivots: [f64; N],
    order: [usize; N],
    passive: usize,
}

impl<const N: usize> Factored<N> {
    /// Factors the matrix given by rows; `None` when it is singular or not finite.
    pub fn new(rows: [[f64; N]; N]) -> Option<Self> {
        Self::after_passive(rows, 0)
    }

    /// As [`Self::new`], where the first unknowns are passive: their rows hold next to
    /// nothing beside a diagonal that outweighs it, so that they are eliminated first, without
    /// row exchanges and with regard to the zeros. Of the beaker's fifteen unknowns seven are
    /// (a zone's chloride is moved by mixing alone): that takes a third of the time.
    pub fn after_passive(mut rows: [[f64; N]; N], passive: usize) -> Option<Self> {
        let mut order = core::array::from_fn(|i| i);
        let mut inverse_pivots = [0.0; N];
        for column in 0..passive {
            let inverse = 1.0 / rows[column][column];
            if !inverse.is_finite() {
                return None;
            }
            inverse_pivots[column] = inverse;
            let (above, below) = rows.split_at_mut(column + 1);
            let pivot_row = &above[column];
            // What the pivot's row holds beside the diagonal.
            let (mut beside, mut count) = ([0; N], 0);
            for j in column + 1..N {
                if pivot_row[j] != 0.0 {
                    beside[count] = j;
                    count += 1;
                }
            }
            for row in below {
                let factor = row[column] * inverse;
                row[column] = factor;
                if factor != 0.0 {
                    for &j in &beside[..count] {
                        row[j] -= factor * pivot_row[j];
                    }
                }
            }
        }
        for column in passive..N {
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
                let factor = row[column] * inverse;
                row[column] = factor;
                for j in column + 1..N {
                    row[j] -= factor * pivot_row[j];
                }
            }
        }
        Some(Self { lower_upper: rows, inverse_pivots, order, passive })
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
    fn passive_unknowns_change_nothing_but_the_order_of_the_work() {
        let rows = [[4.0, 0.0, 1.0, 0.0], [0.5, 3.0, 0.0, 0.0], [2.0, 1.0, 0.0, 5.0], [1.0, 0.0, 2.0, 1.0]];
        let right = [1.0, 2.0, 3.0, 4.0];
        for passive in 0..=2 {
            let x = Factored::after_passive(rows, passive).unwrap().solve(&right);
            for (row, wanted) in rows.iter().zip(right) {
                let found: f64 = row.iter().zip(x).map(|(a, x)| a * x).sum();
                assert!((found - wanted).abs() < 1e-13, "{passive} passive: {found}, wanted {wanted}");
            }
        }
    }

    #[test]
    fn refuses_a_singular_matrix() {
        assert!(Factored::new([[1.0, 2.0], [2.0, 4.0]]).is_none());
    }
}
