//! What a class measured, and what the model learns from it.
//!
//! Knows beakers as courses and recipes, and nothing of sessions or screens. Every estimate comes with its 95 % range, and
//! what the measurements cannot tell is refused with its reason.

mod least_squares;
mod line;
mod orthogonal;
mod student;

pub use least_squares::{LeastSquaresError, Minimum, Residuals, Rules, least_squares};
pub use line::{Line, LineError};
pub use student::{student_t, two_sided_probability};
