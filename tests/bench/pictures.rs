//! Paints beakers in the states of our scenario to `target/pictures/*.png`, to be looked at, and prints what a frame costs.
//!
//! `cargo run --release --example pictures`

use std::fs::{File, create_dir_all};
use std::io::BufWriter;
use std::time::Instant;

use turnback::chemistry::{Action, Pour, Reagent, Setup};
use turnback::colour::Indicator;
use turnback::course::Course;
use turnback::picture::{Painter, PourLook, RibbonSample, Scene, Surroundings, path_cm, ribbon_rgba};

#[path = "../picture/start.rs"]
mod start;

/// What a class sees before the first dose.
fn scene() -> Scene {
    Scene { stirring: true, mark_shown: true, ..start::scene() }
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
        ("19-torch-milk", Scene { torch: true, ..start }),
        ("20-torch-cloudy", Scene { torch: true, bulk_ph: 8.6, bulk_solids_g_l: 0.15, ..start }),
        ("21-torch-hazy", Scene { torch: true, bulk_ph: 6.0, bulk_solids_g_l: 0.02, ..start }),
        ("22-torch-hardly", Scene { torch: true, bulk_solids_g_l: 0.003, ..end }),
        ("23-torch-clear", Scene { torch: true, surroundings: Surroundings::IceBath, ..end }),
        (
            "24-torch-settled",
            Scene { torch: true, bulk_ph: 9.9, clear_layer: 0.25, sediment_g: 0.6, stirring: false, ..start },
        ),
        ("25-finer", Scene { fineness: 2.0, bulk_ph: 8.8, bulk_solids_g_l: 0.9, ..start }),
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
    sheet("large", &[states[4], states[6], states[12]], 3, 600, 680);
    sheet("narrow", &states, 9, 110, 130);
    courses();
    measure_ribbons();
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

/// One beaker of our scenario at a temperature: seven doses of acid 150 s apart, then four of base 60 s apart.
fn course(celsius: f64) -> Course {
    let start_k = celsius + 273.15;
    let mut course = Course::begin(Setup::of_suspension(500.0, 15.0, 80.0, start_k)).expect("our scenario runs");
    for dose in 0..11 {
        let at_s = if dose < 7 { 5.0 + 150.0 * f64::from(dose) } else { 1055.0 + 60.0 * f64::from(dose - 7) };
        course
            .act(
                at_s,
                Action::Pour(Pour {
                    reagent: if dose < 7 { Reagent::Acid } else { Reagent::Base },
                    volume_ml: 2.0,
                    concentration_mol_l: 3.0,
                    duration_s: 1.0,
                    temperature_k: start_k,
                }),
            )
            .expect("a dose is poured");
    }
    course.reach(1295.0).expect("our scenario runs");
    course
}

/// What one sees of a course at a time.
fn seen(course: &Course, time_s: f64, pour: Option<f64>) -> Scene {
    let reading = course.reading(time_s);
    let volume_ml = reading.volume_l() * 1000.0 + 5.0;
    Scene {
        bulk_ph: reading.ph,
        plume_ph: reading.plume_ph,
        plume_share: reading.plume_share,
        bulk_solids_g_l: reading.suspended_bulk_g_l(),
        plume_solids_g_l: reading.suspended_plume_g_l(),
        volume_ml,
        indicator: Indicator::universal(5.0, volume_ml),
        stir_angle_rad: time_s * 3.0,
        pour: pour.map(|fraction_done| PourLook { fraction_done }),
        time_s,
        ..scene()
    }
}

/// The first seconds after a dose, and the ribbons of three beakers, as the chemistry has them.
fn courses() {
    let courses = [2.0, 21.0, 34.0].map(course);
    let mut film = Vec::new();
    for dose_at in [5.0, 905.0, 1055.0] {
        for since in [0.1, 0.25, 0.5, 0.8, 1.2, 2.0, 4.0, 12.0] {
            let pour = (since < 1.0).then_some(since);
            film.push(("", seen(&courses[1], dose_at + since, pour)));
        }
    }
    sheet("film", &film, 8, 220, 250);
    let width = 1295;
    let mut pixels = Vec::new();
    for course in &courses {
        let samples: Vec<RibbonSample> = (0..width)
            .map(|second| {
                let reading = course.reading(f64::from(second) + 0.5);
                RibbonSample { ph: reading.ph, solids_g_l: reading.suspended_bulk_g_l() }
            })
            .collect();
        pixels.extend(ribbon_rgba(&samples, (Indicator::universal(5.0, 530.0), 1.0), path_cm(600.0), 42));
        pixels.extend(vec![255; 4 * width as usize * 8]);
    }
    write("ribbons", width as usize, pixels.len() / 4 / width as usize, &pixels);
}

/// What a ribbon costs.
fn measure_ribbons() {
    let indicator = Indicator::universal(5.0, 530.0);
    let rest = vec![RibbonSample { ph: 8.0, solids_g_l: 1.0 }; 600];
    let turning: Vec<_> = (0..600).map(|at| RibbonSample { ph: 2.0 + f64::from(at) / 80.0, solids_g_l: 1.0 }).collect();
    for (what, samples) in [("at rest", rest), ("all changing", turning)] {
        let mut times_ms: Vec<f64> = (0..31)
            .map(|_| {
                let began = Instant::now();
                std::hint::black_box(ribbon_rgba(&samples, (indicator, 1.0), 9.0, 28));
                began.elapsed().as_secs_f64() * 1e3
            })
            .collect();
        times_ms.sort_by(f64::total_cmp);
        println!("ribbon 600 x 28, {what}: median {:.3} ms", times_ms[15]);
    }
}
