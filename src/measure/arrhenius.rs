//! The class's own straight line: ln(1/t) against 1/T for one dose and one finish.
//!
//! Its slope gives an apparent activation energy, E = -R slope (Arrhenius 1889). It is no constant of the reaction: the seconds
//! of pouring and mixing, which hardly depend on the temperature, are in every time and count most where it is warm. The same
//! line through the model's own times shows how far below the energy that the model computes with it comes to lie.

use crate::colour::Band;
use crate::constants::{CELSIUS_ZERO_K, GAS_CONSTANT};

use super::line::{Line, LineError};
use super::student::student_t;
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

/// A slope that several lines have in common, each at a height of its own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Common {
    /// Apparent activation energy, kJ/mol.
    pub energy_kj_mol: f64,
    /// Its 95 % range; none where no scatter is left to tell it from.
    pub range: Option<[f64; 2]>,
}

impl Common {
    /// Through lines of so many pairs of a temperature, °C, and a time, s; none where no line has two temperatures.
    ///
    /// Parallel lines (Draper & Smith 1998, *Applied Regression Analysis*, 3rd ed., 14.4): every line's points about their own
    /// means, and a degree of freedom for each mean.
    pub fn through(lines: &[Vec<(f64, f64)>]) -> Option<Common> {
        let (mut x_squares, mut y_squares, mut products, mut points) = (0.0, 0.0, 0.0, 0);
        for line in lines {
            let rate = |&(celsius, seconds): &(f64, f64)| (1.0 / (celsius + CELSIUS_ZERO_K), -libm::log(seconds));
            let count = line.len() as f64;
            let sums = line.iter().map(rate).fold((0.0, 0.0), |sums, point| (sums.0 + point.0, sums.1 + point.1));
            for (x, y) in line.iter().map(rate) {
                let (dx, dy) = (x - sums.0 / count, y - sums.1 / count);
                x_squares += dx * dx;
                y_squares += dy * dy;
                products += dx * dy;
            }
            points += line.len();
        }
        let slope = products / x_squares;
        let freedom = points.saturating_sub(lines.len() + 1);
        let left = (y_squares - slope * products).max(0.0);
        let reach = student_t(0.95, freedom) * (left / freedom as f64 / x_squares).sqrt();
        let energy = |slope: f64| -slope * GAS_CONSTANT * 1e-3;
        let range = (freedom > 0).then(|| [energy(slope + reach), energy(slope - reach)]);
        slope.is_finite().then(|| Common { energy_kj_mol: energy(slope), range })
    }
}

/// What was timed of one dose to one finish: temperatures, °C, with measured and with computed times, s.
struct Timed {
    dose: u32,
    finish: Band,
    measured: Vec<(f64, f64)>,
    computed: Vec<(f64, f64)>,
}

fn by_dose(timings: &[Timing], computed: &[f64]) -> Vec<Timed> {
    let last = timings.iter().map(|timing| timing.dose).max().unwrap_or(0);
    let kinds = (1..=last).flat_map(|dose| Band::ALL.map(|finish| (dose, finish)));
    let timed = |(dose, finish): (u32, Band)| {
        let same =
            || timings.iter().zip(computed).filter(move |(timing, _)| (timing.dose, timing.finish) == (dose, finish));
        let measured: Vec<(f64, f64)> = same().map(|(timing, _)| (timing.celsius(), timing.seconds)).collect();
        let computed = same().map(|(timing, computed)| (timing.celsius(), *computed)).collect();
        (!measured.is_empty()).then_some(Timed { dose, finish, measured, computed })
    };
    kinds.filter_map(timed).collect()
}

/// For each dose and finish that was timed at more than one temperature, the straight line through the measured times and the
/// one through the computed ones, s.
pub fn straight_lines(timings: &[Timing], computed: &[f64]) -> Vec<DoseLine> {
    let line = |timed: &Timed| {
        let (measured, computed) = (Apparent::through(&timed.measured).ok()?, Apparent::through(&timed.computed).ok()?);
        Some(DoseLine { dose: timed.dose, finish: timed.finish, measured, computed })
    };
    by_dose(timings, computed).iter().filter_map(line).collect()
}

/// The slope that all doses and finishes have in common, measured and computed, s; none where each was timed at a single
/// temperature.
pub fn common_slopes(timings: &[Timing], computed: &[f64]) -> Option<[Common; 2]> {
    let timed = by_dose(timings, computed);
    let through =
        |of: fn(&Timed) -> &Vec<(f64, f64)>| Common::through(&timed.iter().map(of).cloned().collect::<Vec<_>>());
    Some([through(|timed| &timed.measured)?, through(|timed| &timed.computed)?])
}
