use super::draw::Draw;
use std::time::Instant;
use turnback::colour::Band;
use turnback::lesson::Lesson;
use turnback::measure::{Timing, Unknown, Values, computed_times, fit_times};

/// What the class of Room 12 can time: doses 1 to 6 in three beakers, each from pour to green.
fn timings() -> Vec<Timing> {
    let mut timings = Vec::new();
    for (beaker, celsius) in [2.0, 21.0, 34.0].into_iter().enumerate() {
        for dose in 1..=6 {
            let beaker = Some(beaker as u32 + 1);
            timings.push(Timing { dose, beaker, start_c: celsius, end_c: None, seconds: 1.0, finish: Band::Green });
        }
    }
    timings
}

/// Invented bottles, wider apart than bottles are.
fn truth(draw: &mut Draw) -> Values {
    Values {
        acid_factor: draw.between(2.0, 12.0),
        carbonate: draw.between(0.0005, 0.006),
        energy_factor: draw.between(0.75, 1.25),
        ..Values::of(&Lesson::default())
    }
}

const WANTED: [Unknown; 3] = [Unknown::AcidFactor, Unknown::Carbonate, Unknown::Energy];
const NOISE: f64 = 0.03;

/// How many of so many trials cover each truth, and how long a fit took, ms (median).
fn covered(bottles: usize, trials: usize, seed: u64) -> ([usize; 3], usize, f64) {
    let lesson = Lesson::default();
    let mut draw = Draw(seed);
    let (mut covered, mut evaluations, mut times) = ([0; 3], 0, Vec::new());
    for _ in 0..bottles {
        let truth = truth(&mut draw);
        let mut timings = timings();
        let exact = computed_times(&lesson, &truth, &timings).expect("every dose comes back");
        for _ in 0..trials {
            for (timing, exact) in timings.iter_mut().zip(&exact) {
                timing.seconds = exact * (NOISE * draw.normal()).exp();
            }
            let begin = Instant::now();
            let fit = fit_times(&lesson, &timings, &WANTED).expect("a fit");
            times.push(begin.elapsed().as_secs_f64() * 1e3);
            evaluations += fit.evaluations;
            assert_eq!((fit.estimates.len(), fit.freedom), (3, 15), "{:?}", fit.untold);
            for (covered, estimate) in covered.iter_mut().zip(&fit.estimates) {
                let (told, [low, high]) = (estimate.unknown.told(&truth), estimate.range);
                *covered += usize::from(low <= told && told <= high);
            }
        }
    }
    times.sort_by(f64::total_cmp);
    (covered, evaluations / (bottles * trials), times[times.len() / 2])
}

/// 40 trials: fewer than 33 or more than 40 covered would be a range that is not one of 95 % (binomial, 99.9 % of chances for
/// 33 and more).
#[test]
fn the_ranges_cover_the_truth_in_a_few_seeded_trials() {
    let (covered, evaluations, median_ms) = covered(8, 5, 1);
    println!("covered {covered:?} of 40, {evaluations} evaluations a fit, {median_ms:.0} ms");
    assert!(covered.iter().all(|covered| *covered >= 33), "{covered:?}");
    assert!(evaluations <= 30, "{evaluations} evaluations a fit");
}

/// `cargo test --release --test fit -- --ignored --nocapture`
#[test]
#[ignore = "takes a minute"]
fn the_ranges_cover_the_truth_in_90_to_99_per_cent_of_500_trials() {
    let (covered, evaluations, median_ms) = covered(20, 25, 2026);
    println!("covered {covered:?} of 500, {evaluations} evaluations a fit, {median_ms:.0} ms");
    assert!(covered.iter().all(|covered| (450..=495).contains(covered)), "{covered:?}");
}
