//! What a class's instruments ask of a path: to be at the temperature that a thermometer read, and the pH at all the times that
//! matter to a slow electrode.

use super::{Course, CourseError, Merged, Split, State, limits};

/// Points that an electrode is shown of each step of the path, at most.
const POINTS: f64 = 4.0;

impl Course {
    /// Brings the whole beaker to a temperature (K) at a time (s) not before the last action. It stays there only where the
    /// surroundings are [`crate::chemistry::Bath::Held`].
    ///
    /// # Errors
    /// As [`Course::act`]; the path is then as it was.
    pub fn hold_at(&mut self, at_s: f64, temperature_k: f64) -> Result<(), CourseError> {
        self.in_order(at_s)?;
        limits::temperature("the temperature", temperature_k)?;
        self.arrive(at_s)?;
        match &mut self.state {
            State::Split(y) => y[Split::TEMPERATURE] = temperature_k,
            State::Merged(y) => y[Merged::TEMPERATURE] = temperature_k,
        }
        self.forget();
        Ok(())
    }

    /// pH of the bulk at a time (s), held within what has been reached: that of [`Course::reading`], at less cost.
    pub fn ph(&self, time_s: f64) -> f64 {
        -libm::log10(self.hydrogen_activity(self.within(time_s)))
    }

    /// Rising times (s) between which the pH goes nearly straight: dense where the path was stepped densely, but no denser
    /// than `apart_s` (s).
    pub fn bends_s(&self, apart_s: f64) -> Vec<f64> {
        let mut bends = vec![0.0];
        for leg in &self.legs {
            let (start_s, length_s) = (leg.start_s(), leg.end_s() - leg.start_s());
            let points = libm::ceil(length_s / apart_s).min(POINTS);
            for point in 1..=points as usize {
                let at_s = start_s + length_s * point as f64 / points;
                if at_s >= bends[bends.len() - 1] + apart_s {
                    bends.push(at_s);
                }
            }
        }
        bends
    }
}
