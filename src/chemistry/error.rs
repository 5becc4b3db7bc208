//! How large the error of a step is: what it does to all that is shown later.
//!
//! What plume and bulk hold together decides the time of the next turn and is held closely.
//! What they hold apart is mixed within seconds: an error there, of opposite sign in both,
//! is one of the pH alone. Holding both zones as closely as their sum would cost a third more
//! steps between a pour and its turn.

use super::anchor::Anchor;
use super::beaker::Beaker;
use crate::numerics::Tolerances;

/// How much of the buffer (mol per unit of ln h) counts towards the size of the acid excess: at
/// a relative tolerance of 2e-6 a step may then move the pH by 4e-5.
const BUFFERED_SIZE: f64 = 40.0;
/// Where the liquid is still to pass through a weaker buffer than its own, no more than this
/// counts.
const BUFFER_BOUND_MOLALITY: f64 = 2e-6;
/// While a pour lasts, what so many seconds of it bring counts towards the size of the
/// excess: the bulk passes the neutral point within a tenth of a second, unseen, and to
/// follow that closely would cost as much as the whole way back.
const POUR_SIZE_S: f64 = 0.2;
/// The same for each zone alone.
const POUR_SIZE_APART_S: f64 = 2.0;
/// What so many seconds of dissolution turn counts, too: an error in the excess shifts the
/// time of all that follows by itself over the rate, here by 6e-6 s in a step.
const TURNED_SIZE_S: f64 = 3.0;
/// How much more a zone alone may err by than both together, plume and bulk: in its amounts,
/// and in its acid excess as a part of the buffer.
const APART: [f64; 2] = [100.0, 10.0];
const EXCESS_APART: [f64; 2] = [200.0, 20.0];

impl<const Z: usize, const N: usize> Beaker<Z, N> {
    /// The error in units of what is allowed: root mean square over the quantities.
    #[inline]
    pub(super) fn error_of_step(
        &self,
        tolerances: &Tolerances<N>,
        y: &[f64; N],
        rates: &[f64; N],
        error: &[f64; N],
    ) -> f64 {
        let inflow = self.inflow.unwrap_or_default();
        let poured_mol_s = inflow.chloride_mol_s + inflow.sodium_mol_s;
        let shares = self.shares();
        let mut sum = 0.0;
        let mut add = |part: f64| sum += part * part;
        for i in Self::SHARED {
            add(error[i] / tolerances.allowed(i, y[i].abs()));
        }
        for i in Self::OF_ZONES {
            let (mut whole, mut size) = (0.0, 0.0);
            for z in 0..Z {
                whole += error[i + z];
                size += y[i + z].abs();
            }
            let excess = i == Self::ACID_EXCESS;
            add(whole / tolerances.allowed(i, if excess { size + self.excess_size(y, rates) } else { size }));
            for z in (0..Z).take_while(|_| Z == 2) {
                let apart = if excess {
                    // What moves the zone's ln h by one.
                    let buffer = self.anchors[z].as_ref().map_or(0.0, Anchor::buffer_molality);
                    EXCESS_APART[z] * buffer * y[Self::WATER] * shares[z] + POUR_SIZE_APART_S * poured_mol_s
                } else {
                    APART[z] * size
                };
                add(error[i + z] / tolerances.allowed(i, apart));
            }
        }
        (sum / N as f64).sqrt()
    }

    /// What counts towards the size of the acid excess of the whole beaker, mol.
    fn excess_size(&self, y: &[f64; N], rates: &[f64; N]) -> f64 {
        let inflow = self.inflow.unwrap_or_default();
        let poured_mol_s = inflow.chloride_mol_s + inflow.sodium_mol_s;
        let moved_mol_s: f64 = rates[Self::ACID_EXCESS..][..Z].iter().sum();
        let turned_mol_s = (moved_mol_s - inflow.chloride_mol_s + inflow.sodium_mol_s).abs();
        let buffer = self.anchors[Self::BULK].as_ref().map_or(0.0, |bulk| bulk.buffer_left(BUFFER_BOUND_MOLALITY));
        BUFFERED_SIZE * y[Self::WATER] * buffer + TURNED_SIZE_S * turned_mol_s + POUR_SIZE_S * poured_mol_s
    }
}
