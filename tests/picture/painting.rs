//! How the painter paints: nothing moves that must not, nothing hangs on what was painted before, and any scene can be
//! painted.

use proptest::prelude::*;
use turnback::colour::Indicator;
use turnback::picture::{Painter, PourLook, Scene, Surroundings, middle_colour};

use crate::{HEIGHT, Picture, WIDTH, assert_same, scene};

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
fn a_pour_is_seen_while_it_lasts() {
    let without = Picture::of(&scene()).bytes;
    let during = |fraction_done: f64| Picture::of(&Scene { pour: Some(PourLook { fraction_done }), ..scene() }).bytes;
    assert_ne!(during(0.5), without);
    assert_eq!(during(0.0), without, "nothing has left the vessel yet");
    assert_eq!(during(1.0), without, "the last of it has passed");
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
