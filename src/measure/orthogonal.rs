//! Tall linear least squares by Householder reflections (Golub & Van Loan 2013, *Matrix Computations*, 4th ed., 5.2.1):
//! no normal equations, which would halve the digits.

/// A matrix A of many rows as Qᵀ A = R, with Qᵀ b.
#[derive(Clone, Debug)]
pub(super) struct Triangle {
    /// R by rows, upper triangle of `size` by `size`.
    pub right: Vec<f64>,
    /// The first `size` of Qᵀ b.
    pub image: Vec<f64>,
    /// Number of columns.
    pub size: usize,
}

impl Triangle {
    /// Reduces a matrix (by rows, `size` columns) and a right side.
    pub(super) fn of(matrix: &[f64], side: &[f64], size: usize) -> Triangle {
        let (mut a, mut b) = (matrix.to_vec(), side.to_vec());
        let rows = b.len();
        for column in 0..size.min(rows) {
            let norm = (column..rows).map(|i| a[i * size + column] * a[i * size + column]).sum::<f64>().sqrt();
            let head = a[column * size + column];
            let diagonal = if head > 0.0 { -norm } else { norm };
            let first = head - diagonal;
            if first == 0.0 {
                continue;
            }
            // v = (1, a₁/first, ...), reflection I - β v vᵀ.
            let beta = -first / diagonal;
            for i in column + 1..rows {
                a[i * size + column] /= first;
            }
            for j in column + 1..size {
                let sum: f64 = (column + 1..rows).map(|i| a[i * size + column] * a[i * size + j]).sum();
                let share = beta * (a[column * size + j] + sum);
                a[column * size + j] -= share;
                for i in column + 1..rows {
                    a[i * size + j] -= share * a[i * size + column];
                }
            }
            let sum: f64 = (column + 1..rows).map(|i| a[i * size + column] * b[i]).sum();
            let share = beta * (b[column] + sum);
            b[column] -= share;
            for i in column + 1..rows {
                b[i] -= share * a[i * size + column];
            }
            a[column * size + column] = diagonal;
        }
        a.truncate(size * size);
        b.truncate(size);
        Triangle { right: a, image: b, size }
    }

    /// The x that makes A x closest to b.
    pub(super) fn solve(&self) -> Vec<f64> {
        let n = self.size;
        let mut x = self.image.clone();
        for i in (0..n).rev() {
            for j in i + 1..n {
                x[i] -= self.right[i * n + j] * x[j];
            }
            x[i] /= self.right[i * n + i];
        }
        x
    }

    /// R⁻¹ by rows.
    pub(super) fn inverse(&self) -> Vec<f64> {
        let n = self.size;
        let mut inverse = vec![0.0; n * n];
        for j in 0..n {
            let mut unit = vec![0.0; n];
            unit[j] = 1.0;
            let column = Triangle { image: unit, right: self.right.clone(), size: n }.solve();
            for i in 0..n {
                inverse[i * n + j] = column[i];
            }
        }
        inverse
    }

    /// The first column that is, to rounding, a mixture of those before it.
    pub(super) fn dependent(&self) -> Option<usize> {
        let n = self.size;
        (0..n).find(|&j| {
            let column = (0..=j).map(|i| self.right[i * n + j] * self.right[i * n + j]).sum::<f64>().sqrt();
            !(self.right[j * n + j].abs() > DEPENDENT * column)
        })
    }
}

/// A column of which so little is left beside the others says nothing of its own: differences of a computed model are not
/// better known than that.
const DEPENDENT: f64 = 1e-10;
