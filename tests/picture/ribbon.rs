//! The ribbon of colours over time.

use turnback::colour::{Indicator, liquid_xyz, shown};
use turnback::picture::{RibbonSample, ribbon_rgba};

fn ribbon(samples: &[RibbonSample]) -> Vec<[u8; 4]> {
    let bytes = ribbon_rgba(samples, (Indicator::universal(5.0, 520.0), 1.0), 9.0, 8);
    assert_eq!(bytes.len(), 4 * 8 * samples.len());
    bytes.as_chunks::<4>().0.to_vec()
}

/// Samples on a made-up way from acid to base and back with jumps and slow parts.
fn path() -> Vec<RibbonSample> {
    (0..700)
        .map(|at| {
            let part = f64::from(at % 175) / 175.0;
            let ph = if at % 175 < 40 { 2.2 + 0.8 * part } else { 9.6 - 5.2 * (-(part - 0.23) * 9.0).exp() };
            RibbonSample { ph, solids_g_l: 2.2 - 0.6 * f64::from(at / 175) - 0.3 * part }
        })
        .collect()
}

#[test]
fn the_ribbon_has_the_colours_of_the_middle_of_the_beaker() {
    let samples = path();
    let pixels = ribbon(&samples);
    for (column, sample) in samples.iter().enumerate() {
        let wanted = shown(liquid_xyz(&Indicator::universal(5.0, 520.0), sample.ph, sample.solids_g_l, 9.0));
        // The first row never carries a point of the pattern.
        let [r, g, b, opacity] = pixels[column];
        assert_eq!(opacity, 255);
        for (got, wanted) in [r, g, b].into_iter().zip(wanted.0) {
            assert!(got.abs_diff(wanted) <= 1, "column {column}, pH {}: {got}, not {wanted}", sample.ph);
        }
    }
}

#[test]
fn the_ribbon_shows_cloudiness_as_points_and_nothing_where_nothing_is_known() {
    let points = |solids_g_l: f64| {
        let pixels = ribbon(&vec![RibbonSample { ph: 8.0, solids_g_l }; 96]);
        let plain = pixels[0];
        pixels.iter().filter(|pixel| **pixel != plain).count()
    };
    assert_eq!(points(0.0), 0, "clear");
    let counts: Vec<usize> = [0.005, 0.02, 1.0].into_iter().map(points).collect();
    assert!(counts[0] > 0 && counts[0] < counts[1] && counts[1] < counts[2], "{counts:?}");
    let unknown = RibbonSample { ph: f64::NAN, solids_g_l: f64::NAN };
    let pixels = ribbon(&[RibbonSample { ph: 8.0, solids_g_l: 0.0 }, unknown, unknown]);
    assert_eq!((pixels[0][3], pixels[1][3], pixels[2][3]), (255, 0, 0));
    assert!(ribbon(&[]).is_empty());
}
