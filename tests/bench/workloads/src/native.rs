//! The native clock.

use serde_json::json;
use std::hint::black_box;
use std::time::{Duration, Instant};
use workloads::{NoSuchProblem, Workbench};

/// A measurement repeats the work for at least this long ...
const LEAST: Duration = Duration::from_millis(40);
/// ... and the median of so many measurements counts.
const MEASUREMENTS: usize = 9;

/// Times every problem and prints it.
pub fn run() -> Result<(), NoSuchProblem> {
    let mut workbench = Workbench::new()?;
    for problem in workbench.problems() {
        let milliseconds = milliseconds(&mut workbench, &problem)?;
        let outcome = workbench.outcome(&problem)?;
        let [steps, rejected, right_hand_sides, jacobians] = outcome.cost;
        let line = json!({
            "problem": problem, "who": "Turnback", "where": "native", "milliseconds": milliseconds,
            "steps": steps, "rejectedSteps": rejected, "rightHandSides": right_hand_sides, "jacobians": jacobians,
            "ph": outcome.ph,
        });
        println!("{line}");
    }
    Ok(())
}

/// Median milliseconds of one piece of work.
fn milliseconds(workbench: &mut Workbench, problem: &str) -> Result<f64, NoSuchProblem> {
    let mut measure = |repeats: u32| {
        let started = Instant::now();
        for _ in 0..repeats {
            black_box(workbench.work(problem)?);
        }
        Ok(started.elapsed())
    };
    let mut repeats = 1;
    while measure(repeats)? < LEAST {
        repeats *= 2;
    }
    let mut each = Vec::with_capacity(MEASUREMENTS);
    for _ in 0..MEASUREMENTS {
        each.push(measure(repeats)?.as_secs_f64() * 1e3 / f64::from(repeats));
    }
    each.sort_by(f64::total_cmp);
    Ok(each[MEASUREMENTS / 2])
}
