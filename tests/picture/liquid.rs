//! The colour of the liquid and its cloud.

use turnback::colour::{LinearRgb, MARK_CONTRAST_IN_WATER, Srgb, liquid_xyz, shown};
use turnback::picture::{Scene, middle_colour};

use crate::{Picture, assert_same, light, scene};

#[test]
fn the_middle_has_the_computed_colour() {
    for ph in [1.5, 2.9, 4.0, 5.2, 6.0, 6.6, 7.1, 8.0, 8.8, 9.6, 10.6] {
        for solids in [0.0, 0.01, 0.2, 1.0, 2.3] {
            let scene = Scene { bulk_ph: ph, bulk_solids_g_l: solids, ..scene() };
            let wanted = shown(liquid_xyz(&scene.indicator, ph, solids, 9.0));
            let what = format!("pH {ph}, {solids} g/L");
            assert_same(Picture::of(&scene).at_cm(0.0, 5.0), wanted, &what);
            assert_eq!(middle_colour(&scene), wanted, "{what}");
        }
    }
}

/// D(h) = D sqrt(1 - (h / 1.333 R)^2): a line of sight beside the axis is shorter, and the liquid paler there.
#[test]
fn beside_the_middle_the_path_is_the_bent_chord() {
    for off in [0.3, 0.6, 0.9_f64] {
        for solids in [0.0, 1.0] {
            let scene = Scene { bulk_ph: 9.8, bulk_solids_g_l: solids, ..scene() };
            let path = 9.0 * (1.0 - (off / 1.333).powi(2)).sqrt();
            let wanted = shown(liquid_xyz(&scene.indicator, 9.8, solids, path));
            let picture = Picture::of(&scene);
            // Left and right between the lines on the glass.
            for height in [7.2, 7.3] {
                let what = format!("{off} of the radius, {solids} g/L");
                assert_same(picture.at_cm(off * 4.5 * if off < 0.8 { -1.0 } else { 1.0 }, height), wanted, &what);
            }
        }
    }
}

#[test]
fn what_has_settled_is_clear_above_and_cloudy_below() {
    let scene = Scene { bulk_ph: 9.0, bulk_solids_g_l: 1.5, clear_layer: 0.5, sediment_g: 0.4, ..scene() };
    let picture = Picture::of(&scene);
    let colour = |solids: f64| shown(liquid_xyz(&scene.indicator, 9.0, solids, 9.0));
    assert_same(picture.at_cm(0.0, 6.0), colour(0.0), "above");
    assert_same(picture.at_cm(0.0, 2.0), colour(1.5), "below");
}

#[test]
fn all_settled_is_clear_down_to_the_sediment() {
    let scene = Scene { bulk_ph: 9.0, bulk_solids_g_l: 1e3, clear_layer: 1.0, sediment_g: 1.2, ..scene() };
    let picture = Picture::of(&scene);
    assert_same(picture.at_cm(0.0, 4.0), shown(liquid_xyz(&scene.indicator, 9.0, 0.0, 9.0)), "clear");
    let bed = light(picture.at_cm(-2.4, -0.3)[0]);
    assert!(bed > light(picture.at_cm(0.0, 4.0)[0]) + 0.2, "the sediment is white: {bed}");
}

#[test]
fn a_plume_shows_its_own_colour_in_some_places_and_none_when_it_is_merged() {
    let calm = Scene { bulk_ph: 2.9, bulk_solids_g_l: 0.0, ..scene() };
    let plume = Scene { plume_ph: 11.0, plume_share: 0.06, plume_solids_g_l: 0.5, stirring: true, ..calm };
    let merged = Scene { plume_ph: 2.9, plume_share: 0.06, plume_solids_g_l: 0.0, ..calm };
    let count = |scene: &Scene| {
        let (with, without) = (Picture::of(scene), Picture::of(&Scene { stirring: scene.stirring, ..calm }));
        let pairs = with.bytes.chunks_exact(4).zip(without.bytes.chunks_exact(4));
        pairs.filter(|(a, b)| a.iter().zip(*b).any(|(a, b)| a.abs_diff(*b) > 12)).count()
    };
    assert_eq!(count(&merged), 0);
    let drifting = count(&plume);
    // A tenth to two thirds of the liquid's some 36,000 pixels.
    assert!((3_600..24_000).contains(&drifting), "{drifting} pixels");
    let later = Scene { time_s: plume.time_s + 0.5, ..plume };
    assert_ne!(Picture::of(&plume).bytes, Picture::of(&later).bytes, "it drifts");
}

#[test]
fn a_pale_liquid_is_paler_in_the_picture_too() {
    let light_of = |solids: f64| {
        let Srgb(rgb) = middle_colour(&Scene { bulk_ph: 9.6, bulk_solids_g_l: solids, ..scene() });
        rgb.iter().map(|byte| light(*byte)).sum::<f64>()
    };
    assert!(light_of(3.0) > light_of(1.0) && light_of(1.0) > light_of(0.0));
    assert!(MARK_CONTRAST_IN_WATER < 1.0 && LinearRgb([1.0; 3]).encoded() == Srgb([255; 3]));
}
