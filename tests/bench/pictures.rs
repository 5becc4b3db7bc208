//! Paints beakers in the states of our scenario to `target/pictures/*.png`, to be looked at, and prints what a frame costs.
//!
//! `cargo run --release --example pictures`

use std::fs::{File, create_dir_all};
use std::io::BufWriter;
use std::time::Instant;

use turnback::colour::Indicator;
use turnback::picture::{Painter, PourLook, RibbonSample, Scene, Surroundings, path_cm, ribbon_rgba};

fn scene() -> Scene {
    Scene {
        bulk_ph: 10.5,
        plume_ph: 10.5,
        plume_share: 0.0,
        bulk_solids_g_l: 2.30,
        plume_solids_g_l: 2.30,
        clear_layer: 0.0,
        sediment_g: 0.0,
        volume_ml: 520.0,
        vessel_ml: 600.0,
        indicator: Indicator::universal(5.0, 520.0),
        ice_g: 0.0,
        surroundings: Surroundings::Room,
        stir_angle_rad: 0.6,
        stirring: true,
        pour: None,
        time_s: 3.0,
        reduced_motion: false,
        mark_shown: true,
    }
}

fn states() -> Vec<(&'static str, Scene)> {
    let start = scene();
    let acid = Scene { plume_ph: 1.1, plume_share: 0.06, plume_solids_g_l: 2.1, ..start };
    let end = Scene { bulk_ph: 2.9, bulk_solids_g_l: 0.0, volume_ml: 534.0, ..start };
    vec![
        ("01-start", start),
        ("02-pour", Scene { bulk_ph: 9.0, pour: Some(PourLook { fraction_done: 0.4 }), time_s: 0.4, ..acid }),
        ("03-one-second", Scene { bulk_ph: 2.6, time_s: 1.0, pour: Some(PourLook { fraction_done: 0.9 }), ..acid }),
        (
            "04-half-way",
            Scene {
                bulk_ph: 6.4,
                bulk_solids_g_l: 1.8,
                surroundings: Surroundings::IceBath,
                stir_angle_rad: 0.1,
                ..start
            },
        ),
        (
            "05-at-rest",
            Scene {
                bulk_ph: 8.8,
                bulk_solids_g_l: 0.9,
                surroundings: Surroundings::WarmBath,
                stir_angle_rad: 2.0,
                ..start
            },
        ),
        ("06-late", Scene { bulk_ph: 8.1, bulk_solids_g_l: 0.06, surroundings: Surroundings::IceBath, ..start }),
        ("07-hazy", Scene { bulk_ph: 6.0, bulk_solids_g_l: 0.02, ..start }),
        ("08-end-point", end),
        (
            "09-after-base",
            Scene {
                bulk_ph: 9.6,
                bulk_solids_g_l: 0.3,
                plume_ph: 11.0,
                plume_share: 0.06,
                plume_solids_g_l: 3.0,
                ..end
            },
        ),
        (
            "10-base-in-acid",
            Scene {
                plume_ph: 11.0,
                plume_share: 0.06,
                plume_solids_g_l: 1.0,
                pour: Some(PourLook { fraction_done: 0.7 }),
                ..end
            },
        ),
        ("11-settled", Scene { bulk_ph: 9.9, clear_layer: 0.45, sediment_g: 0.9, stirring: false, ..start }),
        (
            "12-all-settled",
            Scene { bulk_ph: 8.8, clear_layer: 1.0, sediment_g: 1.0, bulk_solids_g_l: 0.0, stirring: false, ..start },
        ),
        ("13-ice-within", Scene { ice_g: 80.0, ..start }),
        ("14-ice-clear", Scene { ice_g: 60.0, ..end }),
        ("15-hot-plate", Scene { surroundings: Surroundings::HotPlate, bulk_ph: 7.1, bulk_solids_g_l: 0.4, ..start }),
        ("16-water", Scene { indicator: Indicator::none(), bulk_solids_g_l: 0.0, ..start }),
        ("17-milk", Scene { indicator: Indicator::none(), ..start }),
        ("18-small-beaker", Scene { vessel_ml: 250.0, volume_ml: 180.0, ..end }),
    ]
}

fn write(name: &str, width: usize, height: usize, rgba: &[u8]) {
    let path = format!("target/pictures/{name}.png");
    let file = BufWriter::new(File::create(path).expect("target/pictures can be written to"));
    let mut encoder = png::Encoder::new(file, width as u32, height as u32);
    encoder.set_color(png::ColorType::Rgba);
    encoder.set_depth(png::BitDepth::Eight);
    let mut writer = encoder.write_header().expect("a PNG header");
    writer.write_image_data(rgba).expect("PNG data");
}

/// Pictures side by side on white.
fn sheet(name: &str, scenes: &[(&str, Scene)], across: usize, width: usize, height: usize) {
    let mut painter = Painter::new();
    let down = scenes.len().div_ceil(across);
    let mut pixels = vec![255; 4 * across * width * down * height];
    for (at, (_, scene)) in scenes.iter().enumerate() {
        let picture = painter.paint(scene, width, height);
        let (left, top) = (at % across * width, at / across * height);
        for row in 0..height {
            let to = 4 * ((top + row) * across * width + left);
            pixels[to..to + 4 * width].copy_from_slice(&picture[4 * row * width..4 * (row + 1) * width]);
        }
    }
    write(name, across * width, down * height, &pixels);
}

fn measure(what: &str, scenes: &[Scene; 3], width: usize, height: usize) {
    let mut painter = Painter::new();
    let frames = 300;
    let mut times_ms = Vec::with_capacity(frames);
    for frame in 0..frames + 10 {
        let begun = Instant::now();
        let mut sum = 0_u64;
        for scene in scenes {
            let scene =
                Scene { time_s: scene.time_s + frame as f64 / 60.0, stir_angle_rad: frame as f64 / 19.0, ..*scene };
            sum += u64::from(painter.paint(&scene, width, height)[4 * (width * height / 2)]);
        }
        if frame >= 10 {
            times_ms.push(begun.elapsed().as_secs_f64() * 1e3);
        }
        std::hint::black_box(sum);
    }
    times_ms.sort_by(f64::total_cmp);
    println!(
        "{what:<34} three of {width}x{height}: median {:.3} ms, p95 {:.3} ms",
        times_ms[frames / 2],
        times_ms[frames * 95 / 100]
    );
}

fn main() {
    create_dir_all("target/pictures").expect("target/pictures can be made");
    let states = states();
    for (name, scene) in &states {
        write(name, 300, 340, Painter::new().paint(scene, 300, 340));
    }
    sheet("sheet", &states, 6, 300, 340);
    sheet("large", &states[7..10], 3, 600, 680);
    sheet("narrow", &states, 9, 110, 130);
    ribbons();
    let pick = |names: [usize; 3]| names.map(|at| states[at].1);
    measure("at rest, milky", &pick([0, 3, 4]), 300, 340);
    measure("plume", &pick([1, 1, 8]), 300, 340);
    measure("clear, mark and bar seen", &pick([7, 6, 5]), 300, 340);
    measure("plume in clear acid", &pick([9, 9, 9]), 300, 340);
    measure("settled", &pick([10, 11, 10]), 300, 340);
    measure("ice within", &pick([12, 13, 12]), 300, 340);
    let began = Instant::now();
    Painter::new().paint(&states[3].1, 300, 340);
    println!("first frame of a new painter and setting: {:.2} ms", began.elapsed().as_secs_f64() * 1e3);
}

/// Ribbons of a made-up path: seven doses of acid 150 s apart that each turn back, slower each time and less far.
fn ribbons() {
    let slowness = [4.0, 1.2, 0.8];
    let width = 1500;
    let mut pixels = Vec::new();
    for slow in slowness {
        let samples: Vec<RibbonSample> = (0..width)
            .map(|column| {
                let dose = column / 214;
                let since = (column % 214) as f64 * 0.7;
                let back = slow * (12.0 + 6.0 * dose as f64);
                let ph = if dose == 6 {
                    2.9
                } else if since < back {
                    2.2 + 2.0 * (since / back) * (since / back)
                } else {
                    let top = 9.7 - 0.25 * dose as f64;
                    top - (top - 4.2) * (-(since - back) / (0.5 * back)).exp()
                };
                RibbonSample { ph, solids_g_l: (2.3 - 0.34 * (dose as f64 + (since / 80.0).min(1.0))).max(0.0) }
            })
            .collect();
        pixels.extend(ribbon_rgba(&samples, Indicator::universal(5.0, 530.0), path_cm(600.0), 42));
        pixels.extend(vec![255; 4 * width * 8]);
    }
    write("ribbons", width, pixels.len() / 4 / width, &pixels);
    let samples = vec![RibbonSample { ph: 8.0, solids_g_l: 1.0 }; 600];
    let began = Instant::now();
    std::hint::black_box(ribbon_rgba(&samples, Indicator::universal(5.0, 530.0), 9.0, 28));
    println!("ribbon at rest, 600 x 28: {:.3} ms", began.elapsed().as_secs_f64() * 1e3);
    let samples: Vec<_> = (0..600).map(|at| RibbonSample { ph: 2.0 + at as f64 / 80.0, solids_g_l: 1.0 }).collect();
    let began = Instant::now();
    std::hint::black_box(ribbon_rgba(&samples, Indicator::universal(5.0, 530.0), 9.0, 28));
    println!("ribbon all changing, 600 x 28: {:.3} ms", began.elapsed().as_secs_f64() * 1e3);
}
