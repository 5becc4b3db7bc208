//! The picture judged by program: its colours are the computed ones, and its parts are where the numbers put them.

use proptest::prelude::*;
use turnback::colour::{
    DISPLAY_GAIN, Indicator, LinearRgb, MARK_CONTRAST_IN_WATER, Srgb, TorchView, liquid_xyz, mark_contrast,
    sharp_contrast, shown, torch_contrast,
};
use turnback::picture::{
    Geometry, Painter, PourLook, RibbonSample, Scene, Surroundings, TORCH_HEIGHT, geometry, middle_colour, path_cm,
    ribbon_rgba,
};

const WIDTH: usize = 300;
const HEIGHT: usize = 340;
/// Rounding to bytes on the way there and in the table of light: a step each.
const STEPS: i32 = 2;

fn scene() -> Scene {
    Scene {
        bulk_ph: 10.5,
        plume_ph: 10.5,
        plume_share: 0.0,
        bulk_solids_g_l: 2.3,
        plume_solids_g_l: 2.3,
        clear_layer: 0.0,
        sediment_g: 0.0,
        volume_ml: 520.0,
        vessel_ml: 600.0,
        indicator: Indicator::universal(5.0, 520.0),
        ice_g: 0.0,
        surroundings: Surroundings::Room,
        stir_angle_rad: 0.6,
        stirring: false,
        pour: None,
        time_s: 3.0,
        reduced_motion: false,
        mark_shown: false,
        fineness: 1.0,
        torch: false,
    }
}

struct Picture {
    bytes: Vec<u8>,
    geometry: Geometry,
}

impl Picture {
    fn of(scene: &Scene) -> Picture {
        let bytes = Painter::new().paint(scene, WIDTH, HEIGHT).to_vec();
        Picture { bytes, geometry: geometry(scene.vessel_ml, WIDTH, HEIGHT) }
    }

    fn at(&self, x: f64, y: f64) -> [u8; 3] {
        let at = 4 * (y as usize * WIDTH + x as usize);
        [self.bytes[at], self.bytes[at + 1], self.bytes[at + 2]]
    }

    /// The pixel this many cm to the right of the axis and above the floor.
    fn at_cm(&self, x_cm: f64, y_cm: f64) -> [u8; 3] {
        let axis = (self.geometry.wall_px.0 + self.geometry.wall_px.1) / 2.0;
        self.at(axis + x_cm * self.geometry.px_per_cm, self.geometry.floor_y_px - y_cm * self.geometry.px_per_cm)
    }
}

fn assert_same(got: [u8; 3], Srgb(wanted): Srgb, what: &str) {
    for (got, wanted) in got.into_iter().zip(wanted) {
        assert!((i32::from(got) - i32::from(wanted)).abs() <= STEPS, "{what}: {got} where {wanted} was wanted");
    }
}

/// Linear light of a byte, IEC 61966-2-1 read backwards.
fn light(byte: u8) -> f64 {
    let v = f64::from(byte) / 255.0;
    if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
}

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
fn nothing_moves_of_itself_under_reduced_motion() {
    let still = Scene {
        reduced_motion: true,
        stirring: true,
        ice_g: 40.0,
        plume_ph: 1.0,
        plume_share: 0.06,
        bulk_solids_g_l: 0.01,
        mark_shown: true,
        ..scene()
    };
    let later = Scene { time_s: 77.7, stir_angle_rad: 2.2, ..still };
    assert_eq!(Picture::of(&still).bytes, Picture::of(&later).bytes);
}

#[test]
fn the_same_scene_gives_the_same_bytes_whatever_was_painted_before() {
    let scenes: Vec<Scene> = (0..12)
        .map(|step| Scene {
            bulk_ph: 2.0 + 0.8 * f64::from(step),
            plume_ph: 1.0,
            plume_share: if step % 2 == 0 { 0.06 } else { 0.0 },
            stirring: step % 3 == 0,
            clear_layer: if step % 4 == 0 { 0.3 } else { 0.0 },
            sediment_g: f64::from(step % 3) * 0.3,
            surroundings: [Surroundings::IceBath, Surroundings::WarmBath, Surroundings::HotPlate][step as usize % 3],
            vessel_ml: if step % 5 == 0 { 800.0 } else { 600.0 },
            mark_shown: true,
            ..scene()
        })
        .collect();
    let fresh: Vec<Vec<u8>> = scenes.iter().map(|scene| Painter::new().paint(scene, WIDTH, HEIGHT).to_vec()).collect();
    let mut painter = Painter::new();
    for turn in 0..3 {
        for at in 0..scenes.len() {
            let at = (at * 7 + turn) % scenes.len();
            let size = if turn == 1 { (110, 130) } else { (WIDTH, HEIGHT) };
            let bytes = painter.paint(&scenes[at], size.0, size.1);
            if turn != 1 {
                assert!(bytes == fresh[at], "scene {at} in turn {turn}");
            }
        }
    }
}

#[test]
fn a_pour_is_seen_while_it_lasts() {
    let without = Picture::of(&scene()).bytes;
    let during = |fraction_done: f64| Picture::of(&Scene { pour: Some(PourLook { fraction_done }), ..scene() }).bytes;
    assert_ne!(during(0.5), without);
    assert_eq!(during(0.0), without, "nothing has left the vessel yet");
    assert_eq!(during(1.0), without, "the last of it has passed");
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

/// Every number that a scene holds, from the reasonable to the impossible.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        6 => -2.0..20.0_f64,
        2 => 0.0..1500.0_f64,
        1 => Just(0.0),
        1 => prop_oneof![Just(f64::NAN), Just(f64::INFINITY), Just(f64::NEG_INFINITY), Just(-1e300), Just(1e300)],
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]
    #[test]
    fn any_numbers_at_any_size_give_an_opaque_picture(
        numbers in prop::collection::vec(any_number(), 15),
        flags in prop::collection::vec(any::<bool>(), 5),
        setting in 0..4_usize,
        width in 0..90_usize,
        height in 0..90_usize,
    ) {
        let scene = Scene {
            bulk_ph: numbers[0],
            plume_ph: numbers[1],
            plume_share: numbers[2],
            bulk_solids_g_l: numbers[3],
            plume_solids_g_l: numbers[4],
            clear_layer: numbers[5],
            sediment_g: numbers[6],
            volume_ml: numbers[7],
            vessel_ml: numbers[8],
            indicator: Indicator::universal(numbers[9], numbers[7]),
            ice_g: numbers[10],
            surroundings: [
                Surroundings::Room, Surroundings::IceBath, Surroundings::WarmBath, Surroundings::HotPlate,
            ][setting],
            stir_angle_rad: numbers[11],
            stirring: flags[0],
            pour: flags[1].then_some(PourLook { fraction_done: numbers[12] }),
            time_s: numbers[13],
            reduced_motion: flags[2],
            mark_shown: flags[3],
            fineness: numbers[14],
            torch: flags[4],
        };
        let mut painter = Painter::new();
        let bytes = painter.paint(&scene, width, height);
        prop_assert_eq!(bytes.len(), 4 * width * height);
        prop_assert!(bytes.chunks_exact(4).all(|pixel| pixel[3] == 255));
    }
}

#[test]
fn the_smallest_and_the_emptiest_pictures_are_painted() {
    for (width, height) in [(1, 1), (1, 400), (400, 1), (2, 3), (0, 0), (0, 5)] {
        assert_eq!(Painter::new().paint(&scene(), width, height).len(), 4 * width * height);
    }
    let empty = Picture::of(&Scene { volume_ml: 0.0, ..scene() });
    assert_eq!(empty.at_cm(0.0, 4.0), [255; 3], "an empty beaker shows the paper");
    let overfull = Picture::of(&Scene { volume_ml: 5000.0, ..scene() });
    assert_same(overfull.at_cm(0.0, 9.0), middle_colour(&scene()), "brimful");
    assert_eq!(overfull.at_cm(0.0, 13.0), [255; 3], "nothing stands above the rim");
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

#[test]
fn a_pale_liquid_is_paler_in_the_picture_too() {
    let light_of = |solids: f64| {
        let Srgb(rgb) = middle_colour(&Scene { bulk_ph: 9.6, bulk_solids_g_l: solids, ..scene() });
        rgb.iter().map(|byte| light(*byte)).sum::<f64>()
    };
    assert!(light_of(3.0) > light_of(1.0) && light_of(1.0) > light_of(0.0));
    assert!(MARK_CONTRAST_IN_WATER < 1.0 && LinearRgb([1.0; 3]).encoded() == Srgb([255; 3]));
}
