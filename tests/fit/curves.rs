use super::draw::Draw;
use turnback::lesson::Lesson;
use turnback::measure::{FitError, Probe, Run, Unknown, Untold, Values, Wishes, fit_curves, lagged};

/// A recording of these pH, one a second.
pub fn probe(ph: &[f64]) -> Probe {
    let rows: Vec<String> = ph.iter().enumerate().map(|(second, ph)| format!("{second},{ph:.4}")).collect();
    Probe::read(rows.join("\n").as_bytes(), &Wishes::default()).expect("a recording")
}

/// What a probe of this lag shows of a beaker with these values.
fn recorded(values: &Values, doses_s: &[f64], celsius: f64, draw: &mut Draw) -> Probe {
    let blank = probe(&vec![7.0; 700]);
    let run = Run { probe: &blank, doses_s, celsius };
    let shown = run.overlay(&Lesson::default(), values, usize::MAX).expect("a curve").computed;
    probe(&shown.iter().map(|ph| ph + 0.02 * draw.normal()).collect::<Vec<_>>())
}

/// The filter's own closed forms: after a step 1 - exp(-t/τ); behind a ramp late by τ (any text on first-order systems).
#[test]
fn the_lag_is_a_first_order_filter() {
    let times: Vec<f64> = (0..400).map(|k| 0.25 * f64::from(k)).collect();
    let ramp: Vec<f64> = times.iter().map(|t| 3.0 + 0.05 * t).collect();
    let shown = lagged(&times, &ramp, 4.0);
    for (k, t) in times.iter().enumerate() {
        let wanted = 3.0 + 0.05 * (t - 4.0 * (1.0 - (-t / 4.0).exp()));
        assert!((shown[k] - wanted).abs() < 1e-12, "{t} s");
    }
    // A fall within a nanosecond, as good as a step.
    let times = [0.0, 1e-9, 1.0, 3.0, 10.0];
    let shown = lagged(&times, &[9.0, 3.0, 3.0, 3.0, 3.0], 2.0);
    for (t, shown) in times.iter().zip(&shown).skip(2) {
        assert!((shown - (3.0 + 6.0 * (-t / 2.0f64).exp())).abs() < 1e-7, "{t} s: {shown}");
    }
    assert_eq!(lagged(&times, &[9.0, 3.0, 4.0, 5.0, 6.0], 0.0), [9.0, 3.0, 4.0, 5.0, 6.0]);
}

#[test]
fn a_curve_gives_back_acid_factor_carbonate_and_lag() {
    let lesson = Lesson::default();
    let truth = Values { acid_factor: 4.5, carbonate: 0.003, lag_s: 4.0, ..Values::of(&lesson) };
    let doses_s = [20.0, 260.0, 480.0];
    let recording = recorded(&truth, &doses_s, 21.0, &mut Draw(3));
    let run = Run { probe: &recording, doses_s: &doses_s, celsius: 21.0 };
    let wanted = [Unknown::AcidFactor, Unknown::Carbonate, Unknown::Energy, Unknown::Strength, Unknown::Lag];
    let fit = fit_curves(&lesson, std::slice::from_ref(&run), &wanted).unwrap();
    assert_eq!(
        fit.untold,
        [
            Untold { unknown: Unknown::Energy, reason: "oneTemperature" },
            Untold { unknown: Unknown::Strength, reason: "noLateDose" }
        ]
    );
    for (estimate, truth) in fit.estimates.iter().zip([4.5, 0.003, 4.0]) {
        let [low, high] = estimate.range;
        assert!(low < truth && truth < high, "{estimate:?}");
        assert!(high / low < 1.5, "{estimate:?}");
    }
    // Before the fit the model runs ahead of the recording, after it they lie on each other.
    let before = run.overlay(&lesson, &Values::of(&lesson), usize::MAX).unwrap();
    let after = run.overlay(&lesson, &fit.values, usize::MAX).unwrap();
    assert!(before.rms_ph > 0.3 && after.rms_ph < 0.03, "{} {}", before.rms_ph, after.rms_ph);
    for ([measured, computed], [_, early]) in after.back_s.iter().zip(&before.back_s) {
        let [measured, computed, early] = [measured, computed, early].map(|seconds| seconds.expect("back"));
        assert!((computed - measured).abs() < 0.8 && early < measured - 3.0, "{measured} {computed} {early}");
    }
}

#[test]
fn a_curve_without_a_dose_or_with_too_many_is_refused() {
    let lesson = Lesson::default();
    let recording = probe(&[9.0, 8.0, 7.0, 6.0]);
    for doses in [0u32, 12] {
        let doses_s: Vec<f64> = (0..doses).map(f64::from).collect();
        let run = Run { probe: &recording, doses_s: &doses_s, celsius: 21.0 };
        let refused = fit_curves(&lesson, &[run], &[Unknown::AcidFactor]);
        assert_eq!(refused, Err(FitError::NoSuchDose { dose: doses }));
    }
    let run = Run { probe: &recording, doses_s: &[1.0], celsius: 21.0 };
    let wanted = [Unknown::AcidFactor, Unknown::Carbonate, Unknown::Lag];
    let few = probe(&[9.0, 8.0]);
    let refused = fit_curves(&lesson, &[Run { probe: &few, ..run }], &wanted);
    assert_eq!(refused, Err(FitError::TooFew { points: 2, unknowns: 3 }));
}
