//! Timings by beaker, and what the model gives for them: a run of each beaker, in which every dose happens at the temperature
//! that was read with it.

use crate::constants::CELSIUS_ZERO_K;
use crate::lesson::Lesson;

use super::forward::{Bench, Dosed};
use super::timing::Timing;
use super::unknown::Values;

/// Without a beaker's number, times belong to one beaker as long as their temperatures leave no gap wider than this, K.
const BEAKER_GAP_K: f64 = 3.0;
/// A dose whose times lie at temperatures farther apart than this is computed at both ends, K.
const STEADY_K: f64 = 0.2;

/// The beakers that a class timed, as the model runs them.
pub(super) struct Beakers<'a> {
    bench: Bench,
    timings: &'a [Timing],
    groups: Vec<Group>,
}

/// The timings of one beaker.
struct Group {
    members: Vec<usize>,
    /// What is wanted of each member: dose and pH.
    wanted: Vec<(u32, f64)>,
    /// What is known of each acid dose, from the first to the last that was timed, at its coldest and at its warmest.
    coldest: Vec<Dosed>,
    warmest: Vec<Dosed>,
}

impl<'a> Beakers<'a> {
    /// Sorts timings by beaker: by its number, or by temperature where that was not written down.
    pub(super) fn of(lesson: &Lesson, timings: &'a [Timing]) -> Beakers<'a> {
        let rank = |timing: &Timing| (timing.beaker.unwrap_or(u32::MAX), timing.celsius());
        // Put in one by one: the library's sorting would weigh more than all of this file.
        let mut order: Vec<usize> = Vec::with_capacity(timings.len());
        for (index, timing) in timings.iter().enumerate() {
            let behind = order.iter().rposition(|&other| rank(&timings[other]) <= rank(timing));
            order.insert(behind.map_or(0, |place| place + 1), index);
        }
        let mut members: Vec<Vec<usize>> = Vec::new();
        for index in order {
            let timing = &timings[index];
            let fits = |group: &&mut Vec<usize>| {
                let last = &timings[group[group.len() - 1]];
                let near = timing.celsius() - last.celsius() < BEAKER_GAP_K;
                last.beaker == timing.beaker && (timing.beaker.is_some() || near)
            };
            match members.last_mut().filter(fits) {
                Some(group) => group.push(index),
                None => members.push(vec![index]),
            }
        }
        let groups = members.into_iter().map(|members| Group::of(members, timings)).collect();
        Beakers { bench: Bench::of(lesson), timings, groups }
    }

    /// ln of the computed time of every timing, s; none where the model is never back. Where one dose of a beaker was timed
    /// at several temperatures, ln t goes straight in 1/T between the coldest and the warmest, as over a few kelvin it does.
    pub(super) fn ln_times(&mut self, values: &Values) -> Option<Vec<f64>> {
        let mut computed = vec![0.0; self.timings.len()];
        let inverse = |celsius: f64| 1.0 / (celsius + CELSIUS_ZERO_K);
        for group in &self.groups {
            let cold = self.bench.times(values, &group.wanted, &group.coldest)?;
            let warm = match group.is_steady() {
                true => None,
                false => Some(self.bench.times(values, &group.wanted, &group.warmest)?),
            };
            for (place, &index) in group.members.iter().enumerate() {
                let low = libm::log(cold[place]);
                let timing = &self.timings[index];
                let dose = timing.dose as usize - 1;
                let (cold_c, warm_c) = (group.coldest[dose].celsius, group.warmest[dose].celsius);
                computed[index] = match &warm {
                    Some(warm) if warm_c > cold_c => {
                        let between =
                            (inverse(timing.celsius()) - inverse(cold_c)) / (inverse(warm_c) - inverse(cold_c));
                        low + between * (libm::log(warm[place]) - low)
                    }
                    _ => low,
                };
            }
        }
        Some(computed)
    }

    /// How many right-hand sides of the model's equations all this has taken.
    pub(super) fn right_hand_sides(&self) -> u64 {
        self.bench.right_hand_sides()
    }
}

impl Group {
    fn of(members: Vec<usize>, timings: &[Timing]) -> Group {
        let wanted = members.iter().map(|&index| (timings[index].dose, timings[index].finish_ph())).collect();
        let last = members.iter().map(|&index| timings[index].dose).max().unwrap_or(0);
        let (mut coldest, mut warmest): (Vec<Dosed>, Vec<Dosed>) = (Vec::new(), Vec::new());
        // A dose that nobody timed has the temperature of the one before it; the first ones that of the first timed.
        let first = members.iter().min_by_key(|&&index| timings[index].dose).map_or(0, |&index| index);
        let mut still = timings[first].celsius();
        for dose in 1..=last {
            let same = || members.iter().map(|&index| &timings[index]).filter(|timing| timing.dose == dose);
            let slowest_s = same().map(|timing| timing.seconds).fold(0.0, f64::max);
            let cold = same().map(Timing::celsius).reduce(f64::min).unwrap_or(still);
            let warm = same().map(Timing::celsius).reduce(f64::max).unwrap_or(still);
            let middle = 0.5 * (cold + warm);
            let ends = if warm - cold > STEADY_K { [cold, warm] } else { [middle; 2] };
            let [cold, warm] = ends.map(|celsius| Dosed { celsius, slowest_s });
            coldest.push(cold);
            warmest.push(warm);
            still = middle;
        }
        Group { members, wanted, coldest, warmest }
    }

    /// Whether no dose was timed at temperatures that lie apart.
    fn is_steady(&self) -> bool {
        self.coldest.iter().zip(&self.warmest).all(|(cold, warm)| cold.celsius == warm.celsius)
    }
}
