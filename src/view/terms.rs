//! Which cause took the pH at rest down, in numbers: the terms of the pH, dose by dose.

use serde::Serialize;

use crate::chemistry::PhTerms;

use super::Screen;

/// How far the pH of a beaker has moved, and what each cause did of it; the four add up to the whole.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct PhShift {
    /// pH before.
    pub before: f64,
    /// pH now.
    pub now: f64,
    /// By dissolved magnesium, the common ion.
    pub common_ion: f64,
    /// By what all dissolved ions do to each other's activity.
    pub activity: f64,
    /// By being further from saturation, or nearer to it.
    pub saturation: f64,
    /// By another temperature.
    pub temperature: f64,
}

impl PhShift {
    fn between(before: &PhTerms, now: &PhTerms) -> PhShift {
        let PhTerms { temperature, saturation, common_ion, activity } = now.since(before);
        PhShift { before: before.ph(), now: now.ph(), common_ion, activity, saturation, temperature }
    }
}

impl Screen {
    /// How a beaker's pH has moved from one time to another, neither later than now; none where a liquid holds no magnesium,
    /// or for a beaker that is not there.
    pub fn ph_shift(&self, beaker: usize, from_s: f64, to_s: f64) -> Option<PhShift> {
        if beaker >= self.session.bench().len() {
            return None;
        }
        let before = self.session.ph_terms(beaker, from_s)?;
        let now = self.session.ph_terms(beaker, to_s)?;
        Some(PhShift::between(&before, &now))
    }
}
