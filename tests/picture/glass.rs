//! The glass: how high the liquid stands in it, its graduations, and what they are lettered in.

use turnback::picture::{Scene, geometry, path_cm};

use crate::{HEIGHT, Picture, WIDTH, light, scene};

/// Height over the floor, cm, at which the body of the liquid ends at the axis.
fn level_seen_cm(picture: &Picture) -> f64 {
    let axis = WIDTH as f64 / 2.0;
    let body = picture.at_cm(0.0, 1.6);
    let from = (picture.geometry.floor_y_px - 1.6 * picture.geometry.px_per_cm) as usize;
    let row = (0..from)
        .rev()
        .find(|row| {
            let here = picture.at(axis, *row as f64);
            here.iter().zip(body).any(|(a, b)| (i32::from(*a) - i32::from(b)).abs() > 6)
        })
        .expect("the liquid ends somewhere");
    (picture.geometry.floor_y_px - row as f64) / picture.geometry.px_per_cm
}

/// V = pi r^2 h with r = 4.5 cm; the near edge of the surface is drawn 0.12 x 4.5 cm lower, the eye being a little above.
#[test]
fn the_level_rises_with_the_volume() {
    let mut before = 0.0;
    for volume_ml in [200.0, 300.0, 400.0, 500.0, 520.0, 600.0, 680.0] {
        let picture = Picture::of(&Scene { volume_ml, ..scene() });
        let seen = level_seen_cm(&picture);
        let wanted = volume_ml / (std::f64::consts::PI * 4.5 * 4.5) - 0.54;
        assert!((seen - wanted).abs() < 0.15, "{volume_ml} mL: {seen} cm, not {wanted}");
        assert!(seen > before);
        before = seen;
    }
}

#[test]
fn floating_ice_lifts_the_level_by_the_water_that_it_will_be() {
    let level = |volume_ml: f64, ice_g: f64| level_seen_cm(&Picture::of(&Scene { volume_ml, ice_g, ..scene() }));
    assert!((level(400.0, 100.0) - level(500.0, 0.0)).abs() < 0.1);
}

#[test]
fn graduations_are_round_volumes_at_their_true_heights() {
    for (vessel_ml, long) in [
        (100.0, vec![20.0, 40.0, 60.0, 80.0]),
        (250.0, vec![50.0, 100.0, 150.0, 200.0]),
        (400.0, vec![50.0, 100.0, 150.0, 200.0, 250.0, 300.0]),
        (600.0, vec![100.0, 200.0, 300.0, 400.0, 500.0]),
        (1000.0, vec![200.0, 400.0, 600.0, 800.0]),
    ] {
        let geometry = geometry(vessel_ml, WIDTH, HEIGHT);
        let majors: Vec<f64> =
            geometry.graduations.iter().filter(|line| line.major).map(|line| line.volume_ml).collect();
        assert_eq!(majors, long, "{vessel_ml} mL");
        let radius_cm = path_cm(vessel_ml) / 2.0;
        for pair in geometry.graduations.windows(2) {
            let rise_px = pair[0].y_px - pair[1].y_px;
            let rise_ml = rise_px / geometry.px_per_cm * std::f64::consts::PI * radius_cm * radius_cm;
            let step_ml = pair[1].volume_ml - pair[0].volume_ml;
            assert!((rise_ml - step_ml).abs() < 1e-6 * step_ml, "{vessel_ml} mL: {rise_ml} for {step_ml}");
        }
    }
    assert_eq!(path_cm(600.0), 9.0);
}

/// pH and suspended solid, g/L, of our scenario's three beakers before the first dose and at rest after doses 1 to 6, as the
/// session gives them. Neighbours of one colour must not be lettered in ink here and in white there.
#[test]
fn the_beakers_of_a_lesson_are_lettered_alike_as_long_as_there_is_solid() {
    let beakers = [
        (11.23, 2.30),
        (10.53, 2.30),
        (10.11, 2.30),
        (10.15, 1.96),
        (9.77, 1.96),
        (9.37, 1.96),
        (9.84, 1.62),
        (9.64, 1.62),
        (9.26, 1.62),
        (9.54, 1.29),
        (9.52, 1.29),
        (9.20, 1.29),
        (9.20, 0.95),
        (9.35, 0.95),
        (9.14, 0.95),
        (8.75, 0.62),
        (9.12, 0.62),
        (9.03, 0.62),
        (7.58, 0.28),
        (8.74, 0.28),
        (8.75, 0.28),
    ];
    for (ph, solids_g_l) in beakers {
        let scene =
            Scene { bulk_ph: ph, plume_ph: ph, bulk_solids_g_l: solids_g_l, plume_solids_g_l: solids_g_l, ..scene() };
        let picture = Picture::of(&scene);
        let line =
            picture.geometry.graduations.iter().find(|line| line.major && line.volume_ml == 300.0).expect("there");
        // Rows and columns around the long line, in the right half of the glass and well within its wall.
        let (left, right) = picture.geometry.wall_px;
        let columns = 0.55..0.92;
        let luminance = |part: f64, row: f64| {
            let [r, g, b] = picture.at(left + part * (right - left), row).map(light);
            0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05
        };
        let seen: Vec<f64> = (0..40)
            .flat_map(|step| (-3..=3).map(move |row| (step, row)))
            .map(|(step, row)| {
                let part = columns.start + (columns.end - columns.start) * f64::from(step) / 40.0;
                luminance(part, line.y_px + f64::from(row))
            })
            .collect();
        let liquid = luminance(0.5, line.y_px);
        let darker = seen.iter().map(|at| liquid / at).fold(1.0, f64::max);
        let lighter = seen.iter().map(|at| at / liquid).fold(1.0, f64::max);
        println!("pH {ph}, {solids_g_l} g/L: ink {darker:.2}, white {lighter:.2}");
        // A line of white would be lighter by 3 and more; the hair of white below a line of ink is not.
        assert!(darker > 2.4 && lighter < 2.4, "pH {ph}, {solids_g_l} g/L: ink {darker}, white {lighter}");
    }
}
