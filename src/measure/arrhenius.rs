//! The class's own straight line: ln(1/t) against 1/T for one dose and one finish.
//!
//! Its slope gives an apparent activation energy, E = -R slope (Arrhenius 1889). It is no constant of the reaction: the seconds
//! of pouring and mixing, which hardly depend on the temperature, are in every time and count most where it is warm. The same
//! line through the model's own times shows how far below the energy that the model computes with it comes to lie.

use crate::colour::Band;
use crate::constants::{CELSIUS_ZERO_K, GAS_CONSTANT};

use super::line::{Line, LineError};
use super::timing::Timing;

/// A line of ln(1/t) against 1/T.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Apparent {
    /// The line; x in 1/K, y is ln of 1/s.
    pub line: Line,
    /// Apparent activation energy, kJ/mol.
    pub energy_kj_mol: f64,
    /// Its 95 % range; none with two points.
    pub range: Option<[f64; 2]>,
}

impl Apparent {
    /// Through so many pairs of a temperature, °C, and a time, s.
    ///
    /// # Errors
    /// A [`LineError`]: fewer than two temperatures.
    pub fn through(points: &[(f64, f64)]) -> Result<Apparent, LineError> {
        let inverse: Vec<f64> = points.iter().map(|(celsius, _)| 1.0 / (celsius + CELSIUS_ZERO_K)).collect();
        let ln_rate: Vec<f64> = points.iter().map(|(_, seconds)| -libm::log(*seconds)).collect();
        let line = Line::through(&inverse, &ln_rate)?;
        let energy = |slope: f64| -slope * GAS_CONSTANT * 1e-3;
        let range = line.slope_range().map(|[low, high]| [energy(high), energy(low)]);
        Ok(Apparent { line, energy_kj_mol: energy(line.slope), range })
    }
}

/// The lines of one dose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DoseLine {
    /// Which acid dose.
    pub dose: u32,
    /// The colour that stopped the clock.
    pub finish: Band,
    /// Through what was measured.
    pub measured: Apparent,
    /// Through what the model computes for the very same points.
    pub computed: Apparent,
}

/// For each dose and finish that was timed at more than one temperature, the straight line through the measured times and the
/// one through the computed ones, s.
pub fn straight_lines(timings: &[Timing], computed: &[f64]) -> Vec<DoseLine> {
    let last = timings.iter().map(|timing| timing.dose).max().unwrap_or(0);
    let kinds = (1..=last).flat_map(|dose| Band::ALL.map(|finish| (dose, finish)));
    let line = |(dose, finish): (u32, Band)| {
        let same =
            || timings.iter().zip(computed).filter(move |(timing, _)| (timing.dose, timing.finish) == (dose, finish));
        let measured: Vec<(f64, f64)> = same().map(|(timing, _)| (timing.celsius(), timing.seconds)).collect();
        let computed: Vec<(f64, f64)> = same().map(|(timing, computed)| (timing.celsius(), *computed)).collect();
        let (measured, computed) = (Apparent::through(&measured).ok()?, Apparent::through(&computed).ok()?);
        Some(DoseLine { dose, finish, measured, computed })
    };
    kinds.filter_map(line).collect()
}
