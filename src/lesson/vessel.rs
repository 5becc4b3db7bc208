//! The glass: from its nominal volume to the lengths that settling, air and light need.

/// A beaker of the low form, by its nominal volume.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vessel {
    /// Nominal volume, mL.
    pub nominal_ml: f64,
}

/// Inside diameter of a 600 mL beaker, cm: common practice, no source. Other sizes are taken as
/// of the same shape.
const DIAMETER_OF_600_ML_CM: f64 = 9.0;

impl Vessel {
    /// Inside diameter, cm.
    pub fn diameter_cm(self) -> f64 {
        DIAMETER_OF_600_ML_CM * libm::cbrt(self.nominal_ml / 600.0)
    }

    /// Surface of the liquid towards the air, m².
    pub fn surface_m2(self) -> f64 {
        let diameter_m = self.diameter_cm() / 100.0;
        core::f64::consts::PI / 4.0 * diameter_m * diameter_m
    }

    /// Depth of a volume of liquid given in mL, in m.
    pub fn depth_m(self, volume_ml: f64) -> f64 {
        volume_ml * 1e-6 / self.surface_m2()
    }
}
