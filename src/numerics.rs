//! Numerical methods that know no chemistry: forward-mode derivatives, small dense
//! linear systems, and a stiff stepper with error control and dense output.
//!
//! Everything works on fixed-size arrays of `f64`: no allocation in a step, and the same
//! bits on every machine, because only `+ - * /`, `sqrt` and the `libm` crate are used.

mod dual;
mod linear;
mod rosenbrock;
mod stepper;

pub use dual::{Dual, Number};
pub use linear::Factored;
pub use stepper::{Cost, Equations, Step, Stepper, StiffError, Tolerances};
