//! The check code of a run: two runs with the same code had the same recipe, the same things
//! done at the same times, and the same bits in every beaker.

use crate::chemistry::{Action, Bath, Reagent};
use crate::course::Reading;
use crate::lesson::{CheckCode, Recipe, Sum};

use super::bench::{Bench, Logged};
use super::what_if::WhatIf;

/// Distance of the readings that are summed up, s.
const GRID_S: f64 = 10.0;

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
        add_action(&mut sum, entry);
    }
    let last = (now_s / GRID_S).floor() as u32;
    for point in 0..=last {
        for beaker in 0..bench.len() {
            add_reading(&mut sum, &bench.reading(beaker, f64::from(point) * GRID_S));
        }
    }
    sum.code()
}

fn add_action(sum: &mut Sum, entry: &Logged) {
    sum.add(&entry.at_ds.to_le_bytes());
    sum.add(&[entry.beaker as u8]);
    match entry.action {
        Action::Pour(pour) => {
            sum.add(&[if pour.reagent == Reagent::Acid { 0 } else { 1 }]);
            sum.add_number(pour.volume_ml);
            sum.add_number(pour.concentration_mol_l);
            sum.add_number(pour.duration_s);
            sum.add_number(pour.temperature_k);
        }
        Action::Stir { rpm } => {
            sum.add(&[2]);
            sum.add_number(rpm);
        }
        Action::Bath(Bath::Held) => sum.add(&[3]),
        Action::Bath(Bath::Room) => sum.add(&[4]),
        Action::Bath(Bath::Around { bath_k }) => {
            sum.add(&[5]);
            sum.add_number(bath_k);
        }
        Action::Bath(Bath::HotPlate { set_k, max_w }) => {
            sum.add(&[6]);
            sum.add_number(set_k);
            sum.add_number(max_w);
        }
    }
}

fn add_reading(sum: &mut Sum, reading: &Reading) {
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
        sum.add_number(number);
    }
}
