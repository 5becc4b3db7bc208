//! What a class measured, and what the model learns from it.
//!
//! Knows beakers as courses and recipes, and nothing of sessions or screens. Every estimate comes with its 95 % range, and
//! what the measurements cannot tell is refused with its reason.

mod line;
mod student;

pub use line::{Line, LineError};
pub use student::{student_t, two_sided_probability};
