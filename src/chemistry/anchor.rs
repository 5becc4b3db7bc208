//! A solved liquid from which a search nearby starts.

use super::factors::{Factors, factor};
use super::search::Root;
use super::speciation::Composition;
use crate::numerics::at_most;

/// What a liquid's root depends on: acid excess, chloride, sodium, carbon (mol/kg) and
/// temperature (K).
pub const INPUTS: usize = 5;

/// A solved liquid, and how its root moves: within a step of the stepper the tangent leads
/// so close to the next root that a single balance is enough there, and the factors move by
/// so little that a series replaces the exponentials.
#[derive(Clone, Copy, Debug)]
pub struct Anchor {
    inputs: [f64; INPUTS],
    hydrogen: f64,
    ionic_strength: f64,
    charge_slope: f64,
    hydroxide_by_excess: f64,
    /// ln h along the inputs.
    pub ln_h_by: [f64; INPUTS],
    /// The ionic strength along the inputs.
    pub strength_by: [f64; INPUTS],
    /// See [`Root::by_strength`].
    pub by_strength: [f64; 2],
    /// Logarithms of the factors, without water's activity.
    pub ln: Factors,
    /// The factors, without water's activity.
    pub bare: Factors,
    /// The farthest miss of the tangent so far.
    miss: Option<Miss>,
}

/// Where a search starts.
#[derive(Clone, Copy, Debug)]
pub struct Guess {
    /// h, mol/kg.
    pub hydrogen: f64,
    /// Ionic strength, mol/kg.
    pub ionic_strength: f64,
    /// What the tangent alone leads to: the move of ln h, h and the ionic strength.
    along: f64,
    straight: [f64; 2],
}

/// How a tangent missed a root: the points of a step lie along one path, so that the tangent
/// misses the next of them by this times the square of how much farther it is.
#[derive(Clone, Copy, Debug)]
pub struct Miss {
    /// The tangent's move of ln h.
    along: f64,
    /// What was missing in ln h, and in the ionic strength (mol/kg).
    ln_h: f64,
    strength: f64,
}

/// The tangent is trusted as far as this in ln h.
const FARTHEST: f64 = 0.5;
/// A miss says something up to so many times its own distance.
const REACH: f64 = 2.0;

impl Guess {
    /// How the tangent missed the root that was found.
    pub fn miss(&self, hydrogen: f64, ionic_strength: f64) -> Miss {
        let [straight_h, straight_strength] = self.straight;
        Miss {
            along: self.along,
            // The logarithm of their ratio, which is close to one.
            ln_h: 2.0 * (hydrogen - straight_h) / (hydrogen + straight_h),
            strength: ionic_strength - straight_strength,
        }
    }
}

impl Anchor {
    /// From a root and how it moves with the inputs.
    pub fn of(
        composition: &Composition,
        temperature_k: f64,
        root: &Root,
        ln_h_by: [f64; INPUTS],
        strength_by: [f64; INPUTS],
    ) -> Self {
        Self {
            inputs: composition.inputs(temperature_k),
            hydrogen: root.balance.hydrogen * (1.0 + root.lacking),
            ionic_strength: root.ionic_strength,
            charge_slope: root.balance.charge_slope,
            hydroxide_by_excess: root.balance.hydroxide_by_excess(),
            ln_h_by,
            strength_by,
            by_strength: root.by_strength,
            ln: root.ln,
            bare: root.bare,
            miss: None,
        }
    }

    /// Keeps a miss, unless one from farther away is known.
    #[inline]
    pub fn learn(&mut self, miss: Miss) {
        if self.miss.is_none_or(|known| miss.along.abs() >= known.along.abs()) {
            self.miss = Some(miss);
        }
    }

    /// Activity of H⁺.
    pub fn hydrogen_activity(&self) -> f64 {
        self.hydrogen * self.bare[factor::HYDROGEN_GAMMA]
    }

    /// Acid excess that moves ln h by one, mol/kg: buffer intensity over ln 10.
    pub fn buffer_molality(&self) -> f64 {
        self.charge_slope
    }

    /// The buffer as far as the liquid can count on it from here on: where OH⁻ is what buffers,
    /// all of it; elsewhere up to a bound, for the liquid is on its way through neutral.
    pub fn buffer_left(&self, bound: f64) -> f64 {
        let by_hydroxide = self.hydroxide_by_excess * self.hydroxide_by_excess;
        at_most(self.charge_slope, bound) + self.charge_slope * by_hydroxide
    }

    /// Along the tangent; `None` where that leads too far. Acid follows E in proportion, and
    /// so does base: there h or 1/h is followed, not ln h.
    #[inline]
    pub fn guess(&self, composition: &Composition, temperature_k: f64) -> Option<Guess> {
        let inputs = composition.inputs(temperature_k);
        let (mut step, mut ionic_strength) = (0.0, self.ionic_strength);
        for i in 0..INPUTS {
            let moved = inputs[i] - self.inputs[i];
            step += self.ln_h_by[i] * moved;
            ionic_strength += self.strength_by[i] * moved;
        }
        if !(step.abs() < FARTHEST && ionic_strength > 0.5 * self.ionic_strength) {
            return None;
        }
        let (acid, base) = (self.hydrogen, self.charge_slope - self.hydrogen);
        let linear = base - acid - self.charge_slope * step;
        let root = (linear * linear + 4.0 * acid * base).sqrt();
        let hydrogen = if linear > 0.0 { 2.0 * base * acid / (linear + root) } else { 0.5 * (root - linear) };
        let straight = [hydrogen, ionic_strength];
        let farther = self.miss.map(|miss| (miss, step / miss.along)).filter(|(_, farther)| farther.abs() <= REACH);
        let [hydrogen, ionic_strength] = farther.map_or(straight, |(miss, farther)| {
            let bent = farther * farther;
            [hydrogen * (1.0 + bent * miss.ln_h), ionic_strength + bent * miss.strength]
        });
        Some(Guess { hydrogen, ionic_strength, along: step, straight })
    }
}
