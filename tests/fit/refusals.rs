use turnback::colour::Band;
use turnback::lesson::Lesson;
use turnback::measure::{FitError, Timing, Unknown, Untold, Values, computed_times, fit_times, straight_lines};

fn timing(dose: u32, celsius: f64) -> Timing {
    Timing { dose, beaker: None, start_c: celsius, end_c: None, seconds: 1.0, finish: Band::Green }
}

/// Timings as the model gives them with these values, with a little of every hand's error.
fn timed(timings: &[(u32, f64)], values: &Values) -> Vec<Timing> {
    let mut timings: Vec<Timing> = timings.iter().map(|(dose, celsius)| timing(*dose, *celsius)).collect();
    let times = computed_times(&Lesson::default(), values, &timings).expect("every dose comes back");
    for (index, (timing, seconds)) in timings.iter_mut().zip(times).enumerate() {
        timing.seconds = seconds * [1.01, 0.98, 1.0, 1.02, 0.99][index % 5];
    }
    timings
}

fn values() -> Values {
    Values { acid_factor: 4.0, carbonate: 0.003, energy_factor: 0.9, ..Values::of(&Lesson::default()) }
}

const THREE: [Unknown; 3] = [Unknown::AcidFactor, Unknown::Carbonate, Unknown::Energy];

/// Times generated at a known acid factor, carbonate and energy come back within their range.
#[test]
fn known_numbers_come_back_within_their_ranges() {
    let doses: Vec<(u32, f64)> = (1..=5).flat_map(|dose| [(dose, 2.0), (dose, 21.0), (dose, 34.0)]).collect();
    let fit = fit_times(&Lesson::default(), &timed(&doses, &values()), &THREE).unwrap();
    assert!(fit.untold.is_empty());
    for (estimate, truth) in fit.estimates.iter().zip([4.0, 0.003, 0.9 * 59.0]) {
        let [low, high] = estimate.range;
        assert!(low < truth && truth < high, "{estimate:?}");
        assert!(low < estimate.value && estimate.value < high, "{estimate:?}");
        assert!(high / low < 1.4, "too wide to mean anything: {estimate:?}");
    }
    assert_eq!(fit.estimates[0].before, 6.0);
    assert!(fit.points.iter().all(|point| !point.misfit), "{:?}", fit.points);
    assert!(fit.deviation > 0.008 && fit.deviation < 0.025, "scatter {}", fit.deviation);
    assert_eq!(fit.pairs.len(), 3);
    for pair in &fit.pairs {
        assert!(pair.correlation.abs() <= 1.0);
        assert_eq!(pair.outline.len(), 48);
    }
}

/// One temperature alone: the energy is refused, and says why; the rest is fitted.
#[test]
fn one_temperature_tells_no_energy() {
    let doses: Vec<(u32, f64)> = (1..=6).map(|dose| (dose, 21.0)).collect();
    let fit = fit_times(&Lesson::default(), &timed(&doses, &values()), &THREE).unwrap();
    assert_eq!(fit.untold, [Untold { unknown: Unknown::Energy, reason: "oneTemperature" }]);
    assert_eq!(fit.values.energy_factor, 1.0, "what cannot be told stays");
    assert_eq!(fit.estimates.len(), 2);
    // A beaker that wandered by a few kelvin is still one temperature.
    let wandering: Vec<(u32, f64)> = (1..=6).map(|dose| (dose, 19.0 + 0.6 * f64::from(dose))).collect();
    let fit = fit_times(&Lesson::default(), &timed(&wandering, &values()), &THREE).unwrap();
    assert_eq!(fit.untold.len(), 1);
}

#[test]
fn what_times_alone_cannot_tell_is_refused_with_its_reason() {
    let lesson = Lesson::default();
    let early = timed(&[(1, 2.0), (1, 21.0), (1, 34.0), (1, 21.5)], &values());
    let fit = fit_times(&lesson, &early, &Unknown::ALL).unwrap();
    let reasons: Vec<(Unknown, &str)> = fit.untold.iter().map(|untold| (untold.unknown, untold.reason)).collect();
    assert_eq!(
        reasons,
        [(Unknown::Carbonate, "oneDose"), (Unknown::Strength, "noLateDose"), (Unknown::Lag, "noCurve")]
    );
    let only_energy = fit_times(&lesson, &timed(&[(1, 21.0), (2, 21.0)], &values()), &[Unknown::Energy]);
    let untold = vec![Untold { unknown: Unknown::Energy, reason: "oneTemperature" }];
    assert_eq!(only_energy, Err(FitError::NothingToTell(untold)));
}

/// The solid's amount shows in the times of the last doses.
#[test]
fn a_late_dose_tells_the_strength() {
    let doses: Vec<(u32, f64)> = (1..=6).flat_map(|dose| [(dose, 2.0), (dose, 34.0)]).collect();
    let strong = Values { strength_mg_ml: 86.0, ..values() };
    let wanted = [Unknown::AcidFactor, Unknown::Carbonate, Unknown::Energy, Unknown::Strength];
    let fit = fit_times(&Lesson::default(), &timed(&doses, &strong), &wanted).unwrap();
    assert!(fit.untold.is_empty(), "{:?}", fit.untold);
    let strength = fit.estimates[3];
    let [low, high] = strength.range;
    assert!(low < 86.0 && 86.0 < high && low > 80.0 && high < 92.0, "{strength:?}");
}

#[test]
fn fewer_points_than_unknowns_are_refused() {
    let lesson = Lesson::default();
    let two = timed(&[(1, 2.0), (2, 21.0)], &values());
    let refused = fit_times(&lesson, &two, &THREE);
    assert_eq!(refused, Err(FitError::TooFew { points: 2, unknowns: 3 }));
    assert_eq!(refused.unwrap_err().key(), "tooFewPoints");
    // As many points as unknowns leave no scatter to tell a range from.
    let three = timed(&[(1, 2.0), (2, 21.0), (3, 34.0)], &values());
    assert_eq!(fit_times(&lesson, &three, &THREE), Err(FitError::TooFew { points: 3, unknowns: 3 }));
    // Nothing at all says nothing of an energy to begin with.
    assert_eq!(fit_times(&lesson, &[], &THREE), Err(FitError::TooFew { points: 0, unknowns: 2 }));
}

#[test]
fn a_dose_that_the_lesson_does_not_have_is_named() {
    let lesson = Lesson::default();
    for dose in [0, 8] {
        let refused = fit_times(&lesson, &[timing(dose, 21.0); 6], &[Unknown::AcidFactor]);
        assert_eq!(refused, Err(FitError::NoSuchDose { dose }));
    }
    // The seventh stays acid: no time can be measured there, and none is computed.
    let timings = vec![timing(7, 21.0); 6];
    assert_eq!(fit_times(&lesson, &timings, &[Unknown::AcidFactor]), Err(FitError::Lost));
}

#[test]
fn a_point_that_does_not_fit_is_flagged_and_no_other() {
    let doses: Vec<(u32, f64)> = (1..=5).flat_map(|dose| [(dose, 2.0), (dose, 21.0), (dose, 34.0)]).collect();
    let mut timings = timed(&doses, &values());
    timings[7].seconds *= 1.4;
    let fit = fit_times(&Lesson::default(), &timings, &THREE).unwrap();
    let flagged: Vec<usize> = (0..15).filter(|&index| fit.points[index].misfit).collect();
    assert_eq!(flagged, [7]);
    assert!(fit.points[7].studentised < -fit.bound, "the model is faster than this hand");
}

/// The class's own line of ln(1/t) against 1/T, and the model's through the same points: both lie below the energy that the
/// model computes with, because pouring and mixing take their seconds at every temperature.
#[test]
fn the_straight_line_lies_below_the_energy_and_the_model_says_by_how_much() {
    let doses: Vec<(u32, f64)> = [(2, 2.0), (2, 21.0), (2, 34.0), (4, 2.0), (4, 34.0), (5, 21.0)].to_vec();
    let timings = timed(&doses, &values());
    let fit = fit_times(&Lesson::default(), &timings, &THREE).unwrap();
    let computed: Vec<f64> = fit.points.iter().map(|point| point.computed).collect();
    let lines = straight_lines(&timings, &computed);
    assert_eq!(lines.iter().map(|line| line.dose).collect::<Vec<_>>(), [2, 4], "a dose at one temperature has no line");
    let [three, two] = [&lines[0], &lines[1]];
    // By hand from the very points: R (ln t1 - ln t2)/(1/T1 - 1/T2) through the two of dose 4.
    let (cold, warm) = (&timings[3], &timings[4]);
    let by_hand = 8.31446261815324e-3 * (cold.seconds / warm.seconds).ln() / (1.0 / 275.15 - 1.0 / 307.15);
    assert!((two.measured.energy_kj_mol - by_hand).abs() < 1e-9);
    assert_eq!(two.measured.range, None);
    let [low, high] = three.measured.range.unwrap();
    assert!(low < three.measured.energy_kj_mol && three.measured.energy_kj_mol < high);
    let input = fit.values.energy_factor * 59.0;
    assert!(three.computed.energy_kj_mol < input && two.computed.energy_kj_mol < input);
    assert!(three.computed.energy_kj_mol > 0.6 * input, "{}", three.computed.energy_kj_mol);
}
