//! What the benchmark times: the same work, natively and in a browser.
//!
//! The problems are those of tests/bench/README.md. Each function does one whole piece of
//! work from a start that is ready and gives back what the timing is worth: the pH that was
//! reached, so that a fast but wrong run shows, and what it cost.

mod frame;
mod lesson;
mod one_beaker;
mod one_zone;
#[cfg(target_arch = "wasm32")]
mod page;
mod workbench;

pub use workbench::{NoSuchProblem, Workbench};

/// A path sampled each second, and its cost.
#[derive(Clone, Debug, Default)]
pub struct Run {
    /// pH of the bulk at the problem's times.
    pub ph: Vec<f64>,
    /// Accepted and rejected steps, right-hand sides, Jacobians.
    pub cost: [u64; 4],
}

fn cost_of(cost: turnback::numerics::Cost) -> [u64; 4] {
    [cost.steps, cost.rejected_steps, cost.right_hand_sides, cost.jacobians]
}
