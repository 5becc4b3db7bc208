use super::files::read;
use turnback::measure::{Probe, Wishes};

#[test]
fn the_doses_are_found_where_the_ph_falls() {
    for name in ["comma-points.csv", "midnight.csv", "hours.csv", "blank-and-broken.csv"] {
        let falls = read(name).falls_s();
        assert_eq!(falls.len(), 2, "{name}: {falls:?}");
        assert!((falls[0] - 20.0).abs() < 0.1 && (falls[1] - 80.0).abs() < 0.1, "{name}: {falls:?}");
    }
}

/// A slow electrode smears a fall over seconds, a noisy one shakes: a dose is found once, and where there is none none.
#[test]
fn a_slow_or_noisy_probe_shows_each_dose_once() {
    let (mut text, mut seen) = (String::from("s,pH\n"), 9.8);
    for row in 0..1200 {
        let time_s = 0.5 * f64::from(row);
        let since = time_s % 200.0;
        let ph = if since < 100.0 {
            9.8
        } else if since < 130.0 {
            2.5
        } else {
            9.2
        };
        seen += (ph - seen) * 0.2;
        let shake = if row % 2 == 0 { 0.03 } else { -0.03 };
        text += &format!("{time_s},{:.3}\n", seen + shake);
    }
    let falls = Probe::read(text.as_bytes(), &Wishes::default()).unwrap().falls_s();
    assert_eq!(falls.len(), 3, "{falls:?}");
    for (fall, dose) in falls.iter().zip([100.0, 300.0, 500.0]) {
        assert!((fall - dose).abs() <= 1.0, "{falls:?}");
    }
    let calm: String = (0..500).map(|row| format!("{row},{:.2}\n", 9.5 - 0.01 * f64::from(row))).collect();
    assert!(Probe::read(calm.as_bytes(), &Wishes::default()).unwrap().falls_s().is_empty());
}
