//! What a class's fit costs, to the last right-hand side: a slow-down fails here before anyone waits for it.
//!
//! After a change that is meant to move the cost, the failing test prints what would have to stand here; say in the commit
//! why it moved.

use turnback::colour::Band;
use turnback::lesson::Lesson;
use turnback::measure::{Timing, Unknown, fit_times};

/// Temperature before, after, seconds: three beakers, six doses each, those of `tests/browser/classtimes.mjs`.
const ROWS: [[f64; 3]; 18] = [
    [1.8, 2.0, 64.0],
    [2.0, 2.1, 88.0],
    [2.1, 2.2, 112.0],
    [2.2, 2.3, 149.0],
    [2.3, 2.5, 210.0],
    [2.4, 2.6, 322.0],
    [21.0, 21.2, 18.6],
    [21.2, 21.4, 25.4],
    [21.4, 21.5, 31.8],
    [21.5, 21.6, 43.5],
    [21.6, 21.7, 58.9],
    [21.7, 21.8, 95.0],
    [33.8, 33.9, 12.4],
    [33.9, 34.0, 15.2],
    [34.0, 34.0, 19.6],
    [34.0, 34.1, 25.3],
    [34.0, 34.1, 33.0],
    [34.1, 34.2, 53.5],
];

/// How often the model is computed and how many right-hand sides that takes: for acid factor, carbonate and energy, and with
/// the strength.
const COSTS: [(usize, u64); 2] = [(10, 50_189), (12, 60_114)];

#[test]
fn a_fit_of_eighteen_times_costs_what_it_cost_yesterday() {
    let timing = |(index, [start_c, end_c, seconds]): (usize, [f64; 3])| Timing {
        dose: index as u32 % 6 + 1,
        beaker: Some(index as u32 / 6 + 1),
        start_c,
        end_c: Some(end_c),
        seconds,
        finish: Band::Green,
    };
    let timings: Vec<Timing> = ROWS.into_iter().enumerate().map(timing).collect();
    let today = [&Unknown::ALL[..3], &Unknown::ALL[..4]].map(|wanted| {
        let fit = fit_times(&Lesson::default(), &timings, wanted).unwrap();
        for estimate in &fit.estimates {
            println!("{:?} {:.5} {:.5?}", estimate.unknown, estimate.value, estimate.range);
        }
        (fit.evaluations, fit.right_hand_sides)
    });
    assert_eq!(today, COSTS, "the cost has moved");
}
