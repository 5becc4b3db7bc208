//! Rates of turning back against temperature.

use crate::measure::Apparent;

/// The straight line of ln(1/t) against 1/T through pairs of a temperature, °C, and a time, s, one after another: slope (K),
/// intercept, apparent activation energy (kJ/mol), and the ends of its 95 % range, NaN with two pairs.
/// Empty where no line can be laid: fewer than two pairs, or all at one temperature.
pub fn arrhenius(pairs: &[f64]) -> Vec<f64> {
    let points: Vec<(f64, f64)> = pairs.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect();
    let Ok(Apparent { line, energy_kj_mol, range }) = Apparent::through(&points) else { return Vec::new() };
    let [low, high] = range.unwrap_or([f64::NAN; 2]);
    vec![line.slope, line.intercept, energy_kj_mol, low, high]
}
