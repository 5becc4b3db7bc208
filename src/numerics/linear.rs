//! Small linear systems: LU with row exchanges (Golub & Van Loan 2013, *Matrix
//! Computations*, 4th ed., algorithm 3.4.1), after unknowns that can be eliminated cheaply.

/// A factored `N` by `N` matrix, ready to be solved against.
#[derive(Clone, Debug)]
pub struct Factored<const N: usize> {
    /// By columns: below the diagonal the factors (of a passive unknown still times its pivot: most
    /// are never asked for), above it what is left of the matrix.
    columns: [[f64; N]; N],
    inverse_pivots: [f64; N],
    order: [usize; N],
    /// Beside the diagonal of each passive row: which columns hold something.
    beside: [u32; N],
}

impl<const N: usize> Factored<N> {
    /// Factors the matrix given by rows; `None` when it is singular or not finite.
    pub fn new(rows: &[[f64; N]; N]) -> Option<Self> {
        let mut factored = Self::empty();
        let negative = rows.map(|row| row.map(|entry| -entry));
        factored.fill(0.0, &negative, 0).then_some(factored)
    }

    /// Nothing yet: room for [`Self::fill`].
    pub fn empty() -> Self {
        Self { columns: [[0.0; N]; N], inverse_pivots: [0.0; N], order: [0; N], beside: [0; N] }
    }

    /// Factors, in place, `diagonal` times one less a matrix given by rows; whether it could be
    /// done.
    ///
    /// The first `passive` unknowns are eliminated first, without row exchanges and with
    /// regard to the zeros: their rows hold next to nothing beside a diagonal that outweighs
    /// it. Of the beaker's fifteen unknowns seven are passive (a zone's chloride is moved by
    /// mixing alone). At most 32 unknowns.
    #[inline]
    pub fn fill(&mut self, diagonal: f64, rows: &[[f64; N]; N], passive: usize) -> bool {
        for (j, column) in self.columns.iter_mut().enumerate() {
            for (entry, row) in column.iter_mut().zip(rows) {
                *entry = -row[j];
            }
            column[j] += diagonal;
        }
        self.order = core::array::from_fn(|i| i);
        self.factor(passive)
    }

    #[inline]
    fn factor(&mut self, passive: usize) -> bool {
        for k in 0..passive {
            let (done, rest) = self.columns.split_at_mut(k + 1);
            let factors = &mut done[k];
            let inverse = 1.0 / factors[k];
            if !inverse.is_finite() {
                return false;
            }
            self.inverse_pivots[k] = inverse;
            let mut beside = 0;
            for (j, column) in rest.iter_mut().enumerate() {
                if column[k] != 0.0 {
                    beside |= 1 << (k + 1 + j);
                    let above = column[k] * inverse;
                    for i in k + 1..N {
                        column[i] -= factors[i] * above;
                    }
                }
            }
            self.beside[k] = beside;
        }
        for k in passive..N {
            let best = Self::largest(&self.columns[k], k);
            if best != k {
                self.order.swap(k, best);
                for column in &mut self.columns {
                    column.swap(k, best);
                }
            }
            let inverse = 1.0 / self.columns[k][k];
            if !inverse.is_finite() {
                return false;
            }
            self.inverse_pivots[k] = inverse;
            // Zeros down to the diagonal let the loop below run over a fixed length, which a
            // compiler turns into straight lines: half of the time.
            let mut factors = [0.0; N];
            for (factor, entry) in factors.iter_mut().zip(&mut self.columns[k]).skip(k + 1) {
                *entry *= inverse;
                *factor = *entry;
            }
            for column in &mut self.columns[k + 1..] {
                let above = column[k];
                for (entry, factor) in column[passive..].iter_mut().zip(&factors[passive..]) {
                    *entry -= factor * above;
                }
            }
        }
        true
    }

    /// Place of the largest entry of a column from a row on.
    #[inline]
    fn largest(column: &[f64; N], from: usize) -> usize {
        let (mut best, mut size) = (from, column[from].abs());
        for i in from + 1..N {
            let other = column[i].abs();
            if other > size {
                (best, size) = (i, other);
            }
        }
        best
    }

    /// Solves for one right-hand side, with as many passive unknowns as it was factored with.
    #[inline]
    pub fn solve(&self, right: &[f64; N], passive: usize) -> [f64; N] {
        let mut x: [f64; N] = core::array::from_fn(|i| right[self.order[i]]);
        for j in 0..passive {
            // Sodium, ice and what has settled mostly are not there.
            if x[j] != 0.0 {
                let above = x[j] * self.inverse_pivots[j];
                for i in j + 1..N {
                    x[i] -= self.columns[j][i] * above;
                }
            }
        }
        for j in passive..N {
            for i in j + 1..N {
                x[i] -= self.columns[j][i] * x[j];
            }
        }
        for j in (passive..N).rev() {
            x[j] *= self.inverse_pivots[j];
            for i in passive..j {
                x[i] -= self.columns[j][i] * x[j];
            }
        }
        for i in (0..passive).rev() {
            let mut beside = self.beside[i];
            while beside != 0 {
                let j = beside.trailing_zeros() as usize;
                x[i] -= self.columns[j][i] * x[j];
                beside &= beside - 1;
            }
            x[i] *= self.inverse_pivots[i];
        }
        x
    }
}

#[cfg(test)]
mod tests {
    use super::Factored;

    #[test]
    fn solves_a_system_whose_first_pivot_is_zero() {
        let factored = Factored::new(&[[0.0, 2.0, 1.0], [1.0, 1.0, 0.0], [4.0, 0.0, -1.0]]).unwrap();
        // x = (1, 2, 3): the right-hand side by hand.
        let x = factored.solve(&[7.0, 3.0, 1.0], 0);
        for (found, wanted) in x.iter().zip([1.0, 2.0, 3.0]) {
            assert!((found - wanted).abs() < 1e-14);
        }
    }

    #[test]
    fn passive_unknowns_change_nothing_but_the_order_of_the_work() {
        let rows = [[-4.0, 0.0, 1.0, 0.0], [0.5, -3.0, 0.0, 0.0], [2.0, 1.0, 0.0, 5.0], [1.0, 0.0, 2.0, 1.0]];
        let (right, diagonal) = ([1.0, 2.0, 3.0, 4.0], 0.5);
        for passive in 0..=2 {
            let mut factored = Factored::empty();
            assert!(factored.fill(diagonal, &rows, passive));
            let x = factored.solve(&right, passive);
            for (i, wanted) in right.into_iter().enumerate() {
                let found = diagonal * x[i] - rows[i].iter().zip(x).map(|(a, x)| a * x).sum::<f64>();
                assert!((found - wanted).abs() < 1e-13, "{passive} passive: {found}, wanted {wanted}");
            }
        }
    }

    #[test]
    fn refuses_a_singular_matrix() {
        assert!(Factored::new(&[[1.0, 2.0], [2.0, 4.0]]).is_none());
    }
}
