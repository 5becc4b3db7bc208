//! Numerical methods that know no chemistry: small linear systems, bounds, a cube root, sine and cosine, and
//! a stiff stepper with error control and dense output.
//!
//! Everything works on fixed-size arrays of `f64`: no allocation in a step, and the same
//! bits on every machine, because only `+ - * /`, `sqrt` and the `libm` crate are used.

mod bounds;
mod cube_root;
mod linear;
mod rosenbrock;
mod stepper;
mod turn;

pub use bounds::{at_least, at_most};
pub use cube_root::cube_root;
pub use linear::Factored;
pub use stepper::{Cost, Equations, Step, Stepper, StiffError, Tolerances};
pub use turn::{sine, sine_cosine};
