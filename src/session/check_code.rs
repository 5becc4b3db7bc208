//! The check code of a run: two runs with the same code had the same recipe, the same things
//! done at the same times, and the same bits in every beaker.

use std::fmt;

use crate::chemistry::{Action, Bath, Reagent};
use crate::course::Reading;
use crate::lesson::{Lesson, Recipe};

use super::bench::{Bench, Logged};
use super::what_if::WhatIf;

/// Distance of the readings that are summed up, s.
const GRID_S: f64 = 10.0;

/// Digits and capitals without 0, O, 1 and I, which are mistaken for one another.
const ALPHABET: &[u8; 32] = b"23456789ABCDEFGHJKLMNPQRSTUVWXYZ";

/// Eight signs, forty bits, written XXXX-XXXX.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CheckCode(u64);

impl CheckCode {
    /// The code of a lesson, of all that its link holds: for the heads of its sheets.
    pub fn of_lesson(lesson: &Lesson) -> CheckCode {
        let mut sum = Sum::default();
        sum.add(&lesson.bytes());
        CheckCode(sum.forty_bits())
    }

    /// The code of a run up to a time, s. What was done later than that does not count.
    pub(super) fn of_run(recipe: &Recipe, what_ifs: &[WhatIf], bench: &Bench, now_s: f64) -> CheckCode {
        let mut sum = Sum::default();
        sum.add(&recipe.bytes());
        for (beaker, what_if) in what_ifs.iter().enumerate() {
            // Nothing changed adds nothing: the code of a lesson is that of its recipe and its doses.
            for (change, changed) in what_if.changed().into_iter().enumerate() {
                if changed {
                    sum.add(&[beaker as u8, change as u8]);
                }
            }
        }
        for entry in bench.log().iter().filter(|entry| entry.at_s() <= now_s) {
            sum.add_action(entry);
        }
        let last = (now_s / GRID_S).floor() as u32;
        for point in 0..=last {
            for beaker in 0..bench.len() {
                sum.add_reading(&bench.reading(beaker, f64::from(point) * GRID_S));
            }
        }
        CheckCode(sum.forty_bits())
    }
}

impl fmt::Display for CheckCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for sign in 0..8_u32 {
            if sign == 4 {
                f.write_str("-")?;
            }
            let five_bits = (self.0 >> (35 - 5 * sign)) & 31;
            write!(f, "{}", char::from(ALPHABET[five_bits as usize]))?;
        }
        Ok(())
    }
}

/// FNV-1a, 64 bits (Fowler, Noll and Vo; RFC 9923): no protection, only a comparison.
struct Sum(u64);

impl Default for Sum {
    fn default() -> Sum {
        Sum(0xcbf2_9ce4_8422_2325)
    }
}

impl Sum {
    fn add(&mut self, bytes: &[u8]) {
        for &byte in bytes {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }

    fn add_number(&mut self, number: f64) {
        self.add(&number.to_bits().to_le_bytes());
    }

    fn add_action(&mut self, entry: &Logged) {
        self.add(&entry.at_ds.to_le_bytes());
        self.add(&[entry.beaker as u8]);
        match entry.action {
            Action::Pour(pour) => {
                self.add(&[if pour.reagent == Reagent::Acid { 0 } else { 1 }]);
                self.add_number(pour.volume_ml);
                self.add_number(pour.concentration_mol_l);
                self.add_number(pour.duration_s);
                self.add_number(pour.temperature_k);
            }
            Action::Stir { rpm } => {
                self.add(&[2]);
                self.add_number(rpm);
            }
            Action::Bath(Bath::Held) => self.add(&[3]),
            Action::Bath(Bath::Room) => self.add(&[4]),
            Action::Bath(Bath::Around { bath_k }) => {
                self.add(&[5]);
                self.add_number(bath_k);
            }
            Action::Bath(Bath::HotPlate { set_k, max_w }) => {
                self.add(&[6]);
                self.add_number(set_k);
                self.add_number(max_w);
            }
        }
    }

    fn add_reading(&mut self, reading: &Reading) {
        for number in [
            reading.ph,
            reading.plume_ph,
            reading.temperature_k,
            reading.water_kg,
            reading.solid_bulk_mol,
            reading.solid_plume_mol,
            reading.solid_settled_mol,
            reading.magnesium_mol,
            reading.carbon_mol,
            reading.ionic_strength,
            reading.saturation_ratio,
            reading.ice_kg,
        ] {
            self.add_number(number);
        }
    }

    fn forty_bits(&self) -> u64 {
        (self.0 ^ (self.0 >> 40)) & 0xff_ffff_ffff
    }
}
