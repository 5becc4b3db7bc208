//! What a picture is painted from: numbers only, sampled by the caller at the time that is shown.

use crate::colour::Indicator;

/// One beaker at one moment, as far as the eye is concerned.
///
/// Any number may be passed: what is negative, too large or not a number is drawn as the nearest thing that can be drawn.
#[derive(Clone, Copy, Debug)]
pub struct Scene {
    /// pH of the bulk of the liquid.
    pub bulk_ph: f64,
    /// pH of the plume that a pour has left.
    pub plume_ph: f64,
    /// Share of the liquid that belongs to the plume, 0 (none, or merged) to 1.
    pub plume_share: f64,
    /// Suspended solid in the bulk, g/L; with a clear layer, in the cloudy part below it.
    pub bulk_solids_g_l: f64,
    /// Suspended solid in the plume, g/L.
    pub plume_solids_g_l: f64,
    /// Share of the depth, from the top, that has settled clear, 0 to 1.
    pub clear_layer: f64,
    /// Solid lying on the floor, g.
    pub sediment_g: f64,
    /// Liquid, mL; more than the beaker holds is drawn brimful.
    pub volume_ml: f64,
    /// Nominal size of the beaker, mL.
    pub vessel_ml: f64,
    /// The dye.
    pub indicator: Indicator,
    /// Ice floating in the liquid, g.
    pub ice_g: f64,
    /// What stands around the beaker.
    pub surroundings: Surroundings,
    /// Direction of the stir bar, rad. A calm turn is a tenth of the true one: 300 rpm shown as one turn in two seconds.
    pub stir_angle_rad: f64,
    /// Whether the stirrer runs: the plume circles, or sinks slowly.
    pub stirring: bool,
    /// The pour under way, if there is one.
    pub pour: Option<PourLook>,
    /// How long somebody has watched, s of the room, not of the lesson: it drives the drift of the plume and the floating of
    /// ice, which stay calm however fast the lesson runs. Nothing else hangs on it.
    pub time_s: f64,
    /// Nothing moves of itself: no drift of the plume, no turning bar, no bobbing ice. Colours and levels still follow the
    /// numbers.
    pub reduced_motion: bool,
    /// Whether the ruled card with its mark stands behind the beaker. A black card stands in its place while the torch
    /// shines.
    pub mark_shown: bool,
    /// How many times smaller across the solid's particles are than those of the bottle: so many grams scatter more.
    pub fineness: f64,
    /// Whether the lamp is off, a black card stands behind and a torch shines in from the left.
    pub torch: bool,
}

/// What stands around the beaker.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surroundings {
    /// Nothing but the stirrer below.
    Room,
    /// A trough with pieces of ice and water.
    IceBath,
    /// A trough with warm water.
    WarmBath,
    /// A heated plate below.
    HotPlate,
}

/// A pour under way. Acid and base are both colourless: what is poured is not told apart by the eye.
#[derive(Clone, Copy, Debug)]
pub struct PourLook {
    /// Share of the pour that is done, 0 to 1.
    pub fraction_done: f64,
}

/// The nearest number in a range; what is not a number becomes the lower end.
pub(super) fn within(value: f64, low: f64, high: f64) -> f64 {
    if value >= low { value.min(high) } else { low }
}

impl Scene {
    /// The same scene with every number where it can be drawn.
    pub(super) fn drawable(&self) -> Scene {
        let share = within(self.plume_share, 0.0, 1.0);
        Scene {
            bulk_ph: if self.bulk_ph.is_nan() { 7.0 } else { self.bulk_ph },
            plume_ph: if self.plume_ph.is_nan() { self.bulk_ph } else { self.plume_ph },
            plume_share: share,
            bulk_solids_g_l: within(self.bulk_solids_g_l, 0.0, 1e3),
            plume_solids_g_l: within(self.plume_solids_g_l, 0.0, 1e3),
            clear_layer: within(self.clear_layer, 0.0, 1.0),
            sediment_g: within(self.sediment_g, 0.0, 1e4),
            volume_ml: within(self.volume_ml, 0.0, 1e6),
            vessel_ml: within(self.vessel_ml, 1.0, 1e5),
            ice_g: within(self.ice_g, 0.0, 1e4),
            stir_angle_rad: if self.stir_angle_rad.is_finite() { self.stir_angle_rad } else { 0.0 },
            // A week: far beyond it the drift would only lose its digits.
            time_s: within(self.time_s, 0.0, 604_800.0),
            fineness: within(self.fineness, 0.01, 100.0),
            pour: self.pour.map(|pour| PourLook { fraction_done: within(pour.fraction_done, 0.0, 1.0) }),
            ..*self
        }
    }
}
