//! One turn-back that a class timed.

use crate::colour::Band;

/// A measured turn-back time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Timing {
    /// Which acid dose, from 1.
    pub dose: u32,
    /// Which beaker, where that was written down. Times of one beaker share its temperature's errors.
    pub beaker: Option<u32>,
    /// Temperature of the beaker when the dose was poured, °C.
    pub start_c: f64,
    /// Temperature when the clock was stopped, °C, where it was read.
    pub end_c: Option<f64>,
    /// Seconds from the start of the pour.
    pub seconds: f64,
    /// The colour at which the clock was stopped.
    pub finish: Band,
}

/// Shortest and longest time that a hand can have taken in a lesson, s: this program's choice.
pub const SECONDS: [f64; 2] = [0.5, 7200.0];
/// Temperatures at which the model's constants hold, °C.
pub const CELSIUS_RANGE: [f64; 2] = [0.0, 60.0];
/// The pH at which a beaker counts as turned back, where the clock was stopped at green: what the lesson's own clock takes.
const TURNED_BACK_PH: f64 = 7.0;

impl Timing {
    /// Mean temperature while the dose was at work, °C.
    pub fn celsius(&self) -> f64 {
        self.end_c.map_or(self.start_c, |end_c| 0.5 * (self.start_c + end_c))
    }

    /// The pH whose upward crossing stopped the clock: the lower edge of the colour, and 7 for green.
    pub fn finish_ph(&self) -> f64 {
        finish_ph(self.finish)
    }
}

/// See [`Timing::finish_ph`].
pub fn finish_ph(finish: Band) -> f64 {
    if finish == Band::Green { TURNED_BACK_PH } else { finish.from_ph() }
}
