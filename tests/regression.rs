//! The regression against certified and published numbers.

#[path = "regression/curve.rs"]
mod curve;
#[path = "regression/line.rs"]
mod line;
#[path = "regression/nist.rs"]
mod nist;
#[path = "regression/student.rs"]
mod student;
