//! The picture judged by program: its colours are the computed ones, and its parts are where the numbers put them.

use turnback::colour::Srgb;
use turnback::picture::{Geometry, Painter, Scene, geometry};

mod picture {
    mod glass;
    mod light;
    mod liquid;
    mod painting;
    mod ribbon;
    pub mod start;
}

use picture::start::scene;

const WIDTH: usize = 300;
const HEIGHT: usize = 340;
/// Rounding to bytes on the way there and in the table of light: a step each.
const STEPS: i32 = 2;

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
