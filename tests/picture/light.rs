//! What is seen through the liquid: the mark behind it, the bar on its floor, and the beam of the torch.

use turnback::colour::{DISPLAY_GAIN, Indicator, Srgb, TorchView, mark_contrast, sharp_contrast, torch_contrast};
use turnback::picture::{Scene, TORCH_HEIGHT};

use crate::{Picture, assert_same, light, scene};

#[test]
fn the_mark_fades_by_the_computed_contrast() {
    let mut before = 1.0;
    for solids in [0.0, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 1.0] {
        let scene = Scene { bulk_ph: 6.0, bulk_solids_g_l: solids, mark_shown: true, ..scene() };
        let picture = Picture::of(&scene);
        let (x, y) = picture.geometry.mark_px;
        let radius = 1.15 * picture.geometry.px_per_cm;
        let along = |degrees: f64| {
            let turn = degrees.to_radians();
            light(picture.at(x + radius * turn.cos(), y + radius * turn.sin())[1])
        };
        // A black sector and its white neighbour.
        let contrast = 1.0 - along(10.0) / along(30.0);
        // In between: the blurred part of the light spreads over the neighbours.
        let (low, high) = (sharp_contrast(solids, 8.8), mark_contrast(solids, 8.8));
        assert!(contrast > low - 0.03 && contrast < high + 0.03, "{solids} g/L: {contrast} not in {low}..{high}");
        assert!(contrast <= before + 1e-9, "{solids} g/L: it came back");
        before = contrast;
    }
    assert!(before.abs() < 0.01, "a milky liquid hides the mark");
}

#[test]
fn the_bar_is_seen_in_clear_liquid_and_hidden_in_milk() {
    let lit = |solids: f64| {
        let scene =
            Scene { bulk_ph: 2.9, bulk_solids_g_l: solids, stir_angle_rad: 0.0, reduced_motion: false, ..scene() };
        let picture = Picture::of(&scene);
        // The shaded lower side of the bar against the liquid well above it.
        light(picture.at_cm(0.9, 0.12)[0]) / light(picture.at_cm(0.9, 2.4)[0])
    };
    assert!(lit(0.0) < 0.75, "clear: {}", lit(0.0));
    assert!(lit(0.03) > lit(0.0) + 0.03 && lit(0.03) < 0.99, "hazy: {}", lit(0.03));
    assert!((lit(2.0) - 1.0).abs() < 0.02, "milky: {}", lit(2.0));
}

/// Lamp off, black card, torch from the left: the beam stands out from what is beside it by the computed contrast, before the
/// card's luminance of 0.05 and the four faces of glass.
#[test]
fn the_torch_s_beam_has_the_computed_contrast() {
    let height_cm = TORCH_HEIGHT * 520.0 / (std::f64::consts::PI * 4.5 * 4.5);
    // Thicker than this it begins to dissolve.
    for solids in [0.005, 0.01, 0.02] {
        for from_wall in [1.0, 1.5, 2.5, 4.5] {
            let scene =
                Scene { torch: true, indicator: Indicator::none(), bulk_ph: 7.0, bulk_solids_g_l: solids, ..scene() };
            let picture = Picture::of(&scene);
            let x = from_wall - 4.5;
            let beam = light(picture.at_cm(x, height_cm)[1]);
            let beside = light(picture.at_cm(x, height_cm - 2.6)[1]);
            let mut view = TorchView::on_bench(solids, 0.0, from_wall, 9.0);
            // The eye's way to the beam is bent as that through the whole beaker is.
            view.sight_cm *= (1.0 - (x / (1.333 * 4.5)).powi(2)).sqrt();
            let wanted = torch_contrast(&view) * view.background * DISPLAY_GAIN;
            // A step of 255 is 0.0016 of white here.
            let what = format!("{solids} g/L, {from_wall} cm: {} where {wanted} was wanted", beam - beside);
            assert!((beam - beside - wanted).abs() < 0.0018 + 0.06 * wanted, "{what}");
        }
    }
}

#[test]
fn the_torch_shows_nothing_where_there_is_nothing() {
    let clear = Scene { torch: true, bulk_ph: 2.9, bulk_solids_g_l: 0.0, ..scene() };
    let picture = Picture::of(&clear);
    let height_cm = TORCH_HEIGHT * 520.0 / (std::f64::consts::PI * 4.5 * 4.5);
    for x in [-3.0, -1.0, 0.5, 1.2] {
        assert_eq!(picture.at_cm(x, height_cm), picture.at_cm(x, height_cm - 2.6), "clear liquid, {x} cm");
    }
    // What has settled leaves the light alone, however much of it lies below.
    let settled = Scene { clear_layer: 0.5, bulk_solids_g_l: 2.0, sediment_g: 0.5, ..clear };
    let picture = Picture::of(&settled);
    for x in [-3.0, -1.0, 0.5] {
        let (beam, beside) = (picture.at_cm(x, height_cm), picture.at_cm(x, height_cm + 0.9));
        assert_same(beam, Srgb(beside), "the clear layer");
    }
}
