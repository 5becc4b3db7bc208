//! When the pH of the bulk rises through a value.

use super::{Course, reading};

/// A rise that begins and ends within one step may hide between two activities that differ from
/// the wanted one by no more than this factor (0.3 pH): there the middle is looked at, too.
const NEAR: f64 = 2.0;
/// How closely a crossing is found: in ln a(H⁺), or in seconds.
const CLOSE: f64 = 1e-9;
const CLOSE_S: f64 = 1e-7;
/// Ten are enough; the bound only guards against a hang.
const MOST_LOOKS: usize = 100;

impl Course {
    /// When the bulk's pH first rises through a value after a time, up to another (s).
    pub fn turned_back_s(&self, ph: f64, from_s: f64, to_s: f64) -> Option<f64> {
        let wanted = libm::exp10(-ph);
        let to_s = to_s.min(self.reached_s);
        let first = self.legs.partition_point(|leg| leg.end_s() <= from_s);
        let mut before = (from_s, self.hydrogen_activity(from_s));
        for (i, leg) in self.legs.iter().enumerate().skip(first) {
            let end_s = leg.end_s().min(to_s);
            // What the stepper knew there takes no speciation.
            let known = self.legs.get(i + 1).filter(|_| end_s < to_s);
            let end = known.map_or_else(|| self.hydrogen_activity(end_s), |next| next.start_activity());
            let near = |activity: f64| activity < wanted * NEAR && activity * NEAR > wanted;
            let middle_s = 0.5 * (before.0 + end_s);
            let middle = (near(before.1) && near(end)).then(|| (middle_s, self.hydrogen_activity(middle_s)));
            for now in middle.into_iter().chain([(end_s, end)]) {
                if now.0 > before.0 {
                    if before.1 > wanted && now.1 <= wanted {
                        return Some(self.crossing(wanted, before, now));
                    }
                    before = now;
                }
            }
            if end_s >= to_s {
                break;
            }
        }
        None
    }

    /// The bulk's activity of H⁺ at a time, s, within what has been reached.
    pub(super) fn hydrogen_activity(&self, time_s: f64) -> f64 {
        reading::bulk_hydrogen_activity(&self.state_at(time_s), &self.parameters)
    }

    /// Where the activity falls through a value between two times (s) on either side of it:
    /// false position, with the weight of an end that stays halved (Dowell & Jarratt 1971,
    /// *BIT* 11, 168).
    fn crossing(&self, wanted: f64, acid: (f64, f64), base: (f64, f64)) -> f64 {
        let above = |(time_s, activity): (f64, f64)| (time_s, libm::log(activity / wanted));
        let (mut acid, mut base) = (above(acid), above(base));
        let mut stayed = None;
        for _ in 0..MOST_LOOKS {
            if base.0 - acid.0 <= CLOSE_S {
                break;
            }
            let time_s = acid.0 + (base.0 - acid.0) * acid.1 / (acid.1 - base.1);
            let now = above((time_s, self.hydrogen_activity(time_s)));
            if now.1.abs() <= CLOSE {
                return time_s;
            }
            let in_acid = now.1 > 0.0;
            if in_acid {
                acid = now;
            } else {
                base = now;
            }
            if stayed == Some(in_acid) {
                let still = if in_acid { &mut base } else { &mut acid };
                still.1 *= 0.5;
            }
            stayed = Some(in_acid);
        }
        0.5 * (acid.0 + base.0)
    }
}
