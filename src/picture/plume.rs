//! The plume that a pour leaves: where in the picture the line of sight meets it, and how much of it.
//!
//! Not a flow computation: two strands wind down around the axis and widen, drawn out by smooth seeded noise, so that the
//! mean over the liquid is the plume's share as the chemistry has it. What colour it has is computed.

use super::geometry::RADIUS;
use crate::numerics::sine_cosine;

/// Points of the grid across and down; the field is smooth over two of its steps.
pub(super) const ACROSS: usize = 34;
pub(super) const DOWN: usize = 34;

/// Where the pour enters, as a share of the radius to the right of the axis.
pub(super) const POUR_AT: f64 = 0.34;

/// How the plume moves.
#[derive(Clone, Copy, Debug)]
pub(super) struct Drift {
    /// Time, s.
    pub(super) time_s: f64,
    /// Whether the stirrer carries it round.
    pub(super) stirring: bool,
    /// How deep it has come, share of the depth; 1 once the pour is over.
    pub(super) reach: f64,
}

/// Angular speed of the drift as shown, rad/s: calm enough to be followed by the eye.
const TURN_STIRRED: f64 = 2.2;
const TURN_AT_REST: f64 = 0.15;
/// Most of a line of sight that the plume can fill.
const FULLEST: f64 = 0.92;

/// Density of the plume over the picture of the liquid, 0 to 1, on a grid from the surface (row 0) to the floor.
#[derive(Clone, Debug)]
pub(super) struct Plume {
    density: [f32; ACROSS * DOWN],
    /// Share of the line of sight where the density is 1.
    pub(super) fullest: f64,
}

impl Plume {
    pub(super) fn still() -> Plume {
        Plume { density: [0.0; ACROSS * DOWN], fullest: 0.0 }
    }

    /// Lays out the plume of a given share of the liquid.
    pub(super) fn lay_out(&mut self, share: f64, drift: Drift) {
        let turn = drift.time_s * if drift.stirring { TURN_STIRRED } else { TURN_AT_REST };
        // Whole turns leave the sines as they are; small numbers keep their digits.
        let turn = turn % (2.0 * std::f64::consts::PI);
        let rise = drift.time_s * if drift.stirring { 0.55 } else { 0.12 };
        let winding = if drift.stirring { 4.6 } else { 1.2 };
        let jet = if drift.reach < 1.0 { 0.9 } else { 0.0 };
        let mut sum = 0.0;
        for row in 0..DOWN {
            let depth = row as f64 / (DOWN - 1) as f64;
            // The strands begin at the pour and come nearer to the wall as they sink.
            let radius = if drift.stirring { POUR_AT + 0.36 * depth } else { POUR_AT };
            let width = 0.15 + 0.25 * depth;
            let strands = [0.0, 2.4].map(|offset| {
                let angle = 1.2 + winding * depth - turn + offset;
                let (sine, cosine) = sine_cosine(angle);
                (radius * sine, 0.78 + 0.22 * cosine)
            });
            // It fades in over a fifth of the depth at its head.
            let head = ((drift.reach * 1.2 - depth) / 0.2).clamp(0.0, 1.0);
            for column in 0..ACROSS {
                let across = 2.0 * column as f64 / (ACROSS - 1) as f64 - 1.0;
                let aside = across + 0.42 * (noise(1.7 * across + 3.0, 2.3 * depth - 0.6 * rise) - 0.5);
                let lower = depth + 0.30 * (noise(2.1 * across - 5.0, 2.1 * depth - 0.4 * rise) - 0.5);
                // The jet of the pour itself, which no thread breaks up.
                let off = (aside - POUR_AT) / (0.07 + 0.10 * depth);
                let jet = jet * (1.0 - 1.4 * depth).max(0.0) / (1.0 + off * off * off * off);
                let mut veil: f64 = 0.0;
                for (at, nearness) in strands {
                    let off = (aside - at) / width;
                    let bell = 1.0 / (1.0 + off * off);
                    veil = veil.max(nearness * bell * bell);
                }
                // Threads run where the noise passes its middle.
                let thread = 1.0 - (2.0 * noise(3.3 * aside + 9.0, 4.0 * lower - 1.1 * rise) - 1.0).abs();
                let density = smooth((1.45 * veil * (0.22 + 0.95 * thread * thread) + jet) * head);
                sum += density;
                self.density[row * ACROSS + column] = density as f32;
            }
        }
        let mean = sum / (ACROSS * DOWN) as f64;
        self.fullest = if mean > 0.0 { (share / mean).min(FULLEST) } else { 0.0 };
    }

    /// Mean share of the lines of sight that the plume fills: its share of the liquid, unless it is cut at the fullest.
    #[cfg(test)]
    fn mean_share(&self) -> f64 {
        self.density.iter().map(|density| f64::from(*density)).sum::<f64>() * self.fullest / (ACROSS * DOWN) as f64
    }

    /// The density along a row at this depth (0 surface, 1 floor), at the grid's points across, times `full`.
    pub(super) fn row(&self, depth: f64, full: f32) -> [f32; ACROSS] {
        let place = depth.clamp(0.0, 1.0) * (DOWN - 1) as f64;
        let above = (place as usize).min(DOWN - 2);
        let part = (place - above as f64) as f32;
        let (upper, lower) = (&self.density[above * ACROSS..], &self.density[(above + 1) * ACROSS..]);
        std::array::from_fn(|at| full * (upper[at] * (1.0 - part) + lower[at] * part))
    }

    /// Grid places per drawing unit across.
    pub(super) const PER_UNIT: f64 = (ACROSS - 1) as f64 / (2.0 * RADIUS);
}

fn smooth(value: f64) -> f64 {
    let t = value.clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

/// Moves every place that is asked for to where it is not negative: a week of drift is less than this.
const BEYOND: f64 = 1_048_576.0;

/// Smooth noise, 0 to 1, the same for the same place on every machine.
fn noise(x: f64, y: f64) -> f64 {
    // Cutting off digits is the floor for what is not negative, and quicker.
    let (x, y) = (x + BEYOND, y + BEYOND);
    let (left, top) = (x as u64, y as u64);
    let (u, v) = (smooth(x - left as f64), smooth(y - top as f64));
    let (i, j) = (left as u32, top as u32);
    let upper = lattice(i, j) * (1.0 - u) + lattice(i.wrapping_add(1), j) * u;
    let below = j.wrapping_add(1);
    let lower = lattice(i, below) * (1.0 - u) + lattice(i.wrapping_add(1), below) * u;
    upper * (1.0 - v) + lower * v
}

/// A number from 0 to 1 for a lattice point, by a whole-number hash (constants of the 32-bit "triple32" family of Wellons).
fn lattice(i: u32, j: u32) -> f64 {
    let mut x = i.wrapping_mul(0x9e37_79b9) ^ j.wrapping_mul(0x85eb_ca6b);
    x ^= x >> 17;
    x = x.wrapping_mul(0xed5a_d4bb);
    x ^= x >> 11;
    x = x.wrapping_mul(0xac4c_1b51);
    x ^= x >> 15;
    f64::from(x >> 8) / f64::from(1u32 << 24)
}

#[cfg(test)]
mod tests {
    use super::{Drift, Plume};

    #[test]
    fn the_plume_fills_its_share_of_the_liquid_at_any_time() {
        let mut plume = Plume::still();
        for step in 0..40 {
            let drift = Drift { time_s: 0.37 * f64::from(step), stirring: step % 2 == 0, reach: 1.0 };
            plume.lay_out(0.06, drift);
            assert!((plume.mean_share() - 0.06).abs() < 1e-6, "{drift:?}: {}", plume.mean_share());
        }
    }

    #[test]
    fn what_has_hardly_entered_never_fills_more_than_the_fullest_line_of_sight() {
        let mut plume = Plume::still();
        for reach in [0.0, 0.01, 0.1, 0.3] {
            plume.lay_out(0.06, Drift { time_s: 3.0, stirring: true, reach });
            assert!(plume.fullest <= super::FULLEST && plume.mean_share() <= 0.06 + 1e-6);
        }
    }
}
