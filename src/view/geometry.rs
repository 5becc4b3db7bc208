//! Where the parts of a painted beaker lie, for what the page sets beside them.

use serde::Serialize;

use crate::lesson::Field;
use crate::picture::geometry;

use super::Screen;
use super::scene::side;

/// Lengths in px from the upper left corner of the picture.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct GlassView {
    /// Outer edge of the wall, left and right.
    pub wall: [f64; 2],
    /// Height of the rim at the axis.
    pub rim_y: f64,
    /// Height of the floor at the axis.
    pub floor_y: f64,
    /// Middle of the mark behind the beaker.
    pub mark: [f64; 2],
    /// Ends of the long graduations, left and right.
    pub graduation: [f64; 2],
    /// The graduations from the lowest upwards.
    pub graduations: Vec<GraduationView>,
    /// Pixels in a centimetre of this beaker.
    pub px_per_cm: f64,
}

/// One graduation.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct GraduationView {
    /// Volume at this line, mL.
    pub volume_ml: f64,
    /// Is it a long line with a figure?
    pub major: bool,
    /// Height of the line, px.
    pub y: f64,
}

impl Screen {
    /// Where the parts of a beaker lie in a picture of this size.
    pub fn geometry(&self, width: usize, height: usize) -> GlassView {
        let vessel_ml = self.session.lesson().recipe.value(Field::VesselMl);
        let glass = geometry(vessel_ml, side(width), side(height));
        let line = |graduation: &crate::picture::Graduation| GraduationView {
            volume_ml: graduation.volume_ml,
            major: graduation.major,
            y: graduation.y_px,
        };
        GlassView {
            wall: glass.wall_px.into(),
            rim_y: glass.rim_y_px,
            floor_y: glass.floor_y_px,
            mark: glass.mark_px.into(),
            graduation: glass.graduation_px.into(),
            graduations: glass.graduations.iter().map(line).collect(),
            px_per_cm: glass.px_per_cm,
        }
    }
}
