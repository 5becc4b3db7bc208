//! Shape and size of the beaker, and where its parts come to lie in a picture.
//!
//! Low-form beakers of all sizes are drawn alike, with lengths that grow with the cube root of the nominal volume from a
//! 600 mL beaker of 9.0 cm inner width and 12 cm height. From memory, ISO 3819 has 70 x 95 mm for 250 mL, 90 x 125 mm for
//! 600 mL and 105 x 145 mm for 1000 mL (outside): within 3 % of this rule.
//!
//! Drawing units are centimetres of the 600 mL beaker, x from the axis, y up from the floor inside. The eye looks down by
//! seven degrees, so every level circle is drawn as an ellipse of aspect [`TILT`].

/// Inner radius, drawing units.
pub(super) const RADIUS: f64 = 4.5;
/// Height of the rim above the floor inside.
pub(super) const BRIM: f64 = 11.7;
/// Thickness of the wall and of the floor.
pub(super) const WALL: f64 = 0.2;
/// Radius of the rounding between wall and floor.
pub(super) const HEEL: f64 = 0.75;
/// Height over width of a level circle as drawn: sine of the angle at which the eye looks down.
pub(super) const TILT: f64 = 0.12;
/// Lowest and highest point of a picture, drawing units.
const LOWEST: f64 = -2.05;
const HIGHEST: f64 = 13.1;
/// Least width of a picture: the beaker with rim and spout.
const LEAST_WIDTH: f64 = 10.9;

/// Inner diameter of a beaker, cm: the path through which its liquid is seen.
pub fn path_cm(vessel_ml: f64) -> f64 {
    2.0 * RADIUS * cm_per_unit(vessel_ml)
}

/// Centimetres of a beaker of this nominal volume in one drawing unit.
pub(super) fn cm_per_unit(vessel_ml: f64) -> f64 {
    libm::cbrt(vessel_ml.max(1.0) / 600.0)
}

/// Height above the floor, drawing units, at which this volume stands; never above the brim.
pub(super) fn level_of(volume_ml: f64, vessel_ml: f64) -> f64 {
    let unit_cm = cm_per_unit(vessel_ml);
    let ml_per_unit = std::f64::consts::PI * RADIUS * RADIUS * unit_cm * unit_cm * unit_cm;
    (volume_ml / ml_per_unit).clamp(0.0, BRIM - 0.1)
}

/// How a drawing unit becomes pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Frame {
    pub(super) width: usize,
    pub(super) height: usize,
    /// Pixels in a drawing unit.
    pub(super) scale: f64,
    /// Pixel x of the axis.
    pub(super) axis_px: f64,
    /// Pixel y of the floor inside.
    pub(super) floor_px: f64,
}

impl Frame {
    /// The largest beaker that fits a picture of this size, in its middle, standing at its lower edge.
    pub(super) fn new(width: usize, height: usize) -> Frame {
        let scale = (height as f64 / (HIGHEST - LOWEST)).min(width as f64 / LEAST_WIDTH);
        Frame { width, height, scale, axis_px: width as f64 / 2.0, floor_px: height as f64 + LOWEST * scale }
    }

    pub(super) fn x_px(&self, x: f64) -> f64 {
        self.axis_px + x * self.scale
    }

    pub(super) fn y_px(&self, y: f64) -> f64 {
        self.floor_px - y * self.scale
    }

    /// x, drawing units, of the middle of a column of pixels.
    pub(super) fn x_of(&self, column: usize) -> f64 {
        (column as f64 + 0.5 - self.axis_px) / self.scale
    }

    /// y, drawing units, of the middle of a row of pixels.
    pub(super) fn y_of(&self, row: usize) -> f64 {
        (self.floor_px - row as f64 - 0.5) / self.scale
    }

    /// Half of the picture's width, drawing units.
    pub(super) fn half_width(&self) -> f64 {
        self.axis_px / self.scale
    }
}

/// How far a level circle of radius `radius` bulges towards the eye at x, drawing units; 0 outside.
pub(super) fn bulge(x: f64, radius: f64) -> f64 {
    TILT * (radius * radius - x * x).max(0.0).sqrt()
}

/// Lower edge of the space inside at x, y in drawing units: the front of the floor, rounded at the heel.
pub(super) fn floor_edge(x: f64, radius: f64, heel: f64) -> f64 {
    let into_heel = (x.abs() - (radius - heel)).max(0.0).min(heel);
    heel - (heel * heel - into_heel * into_heel).sqrt() - bulge(x, radius)
}

/// A graduation of the beaker.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Graduation {
    /// Volume at this line, mL.
    pub volume_ml: f64,
    /// Whether the line is long and carries a number.
    pub major: bool,
    /// Height of the line where it is drawn, px from the upper edge.
    pub y_px: f64,
}

/// Where the parts of a painted beaker lie, for whoever sets words beside them. Pixels from the upper left corner.
#[derive(Clone, Debug, PartialEq)]
pub struct Geometry {
    /// Outer edge of the wall, left and right.
    pub wall_px: (f64, f64),
    /// Height of the rim at the axis.
    pub rim_y_px: f64,
    /// Height of the floor at the axis.
    pub floor_y_px: f64,
    /// Middle of the mark on the card.
    pub mark_px: (f64, f64),
    /// Ends of the long graduations, left and right.
    pub graduation_px: (f64, f64),
    /// Graduations from the lowest upwards.
    pub graduations: Vec<Graduation>,
    /// Pixels in a centimetre of this beaker.
    pub px_per_cm: f64,
}

/// Left and right end of long graduations, drawing units.
pub(super) const GRADUATION: (f64, f64) = (3.35, 4.1);
/// Middle of the mark, drawing units.
pub(super) const MARK: (f64, f64) = (-0.95, 4.3);

/// Where the parts of a beaker of this size lie in a picture of this size.
pub fn geometry(vessel_ml: f64, width: usize, height: usize) -> Geometry {
    let frame = Frame::new(width, height);
    let vessel_ml = vessel_ml.max(1.0);
    let middle = (GRADUATION.0 + GRADUATION.1) / 2.0;
    Geometry {
        wall_px: (frame.x_px(-RADIUS - WALL), frame.x_px(RADIUS + WALL)),
        rim_y_px: frame.y_px(BRIM),
        floor_y_px: frame.y_px(0.0),
        mark_px: (frame.x_px(MARK.0), frame.y_px(MARK.1)),
        graduation_px: (frame.x_px(GRADUATION.0), frame.x_px(GRADUATION.1)),
        graduations: graduations_ml(vessel_ml)
            .map(|(volume_ml, major)| Graduation {
                volume_ml,
                major,
                y_px: frame.y_px(level_of(volume_ml, vessel_ml) - bulge(middle, RADIUS)),
            })
            .collect(),
        px_per_cm: frame.scale / cm_per_unit(vessel_ml),
    }
}

/// Volumes at which a beaker is graduated, mL, and whether the line is a long one: five to eight long lines of a round volume
/// with a short one between each two, up to five sixths of the nominal volume, as is common practice (no source).
pub(super) fn graduations_ml(vessel_ml: f64) -> impl Iterator<Item = (f64, bool)> {
    let wanted = vessel_ml / 5.0;
    let decade = libm::pow(10.0, libm::floor(libm::log10(wanted) + 1e-9));
    let step = [5.0, 2.0, 1.0]
        .into_iter()
        .map(|digit| digit * decade)
        .find(|step| *step <= wanted * (1.0 + 1e-9))
        .unwrap_or(decade);
    let count = libm::floor(2.0 * vessel_ml * (5.0 / 6.0) / step + 1e-9) as usize;
    // The lowest short line would lie in the rounding of the heel.
    (2..=count).map(move |half| (half as f64 * step / 2.0, half % 2 == 0))
}
