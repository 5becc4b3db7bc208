//! What a student committed to and saw, dose by dose, and what the beakers did.

use crate::chemistry::Reagent;
use crate::lesson::{Guess, Outcome, Step};

use super::watch::{EventKind, clarity_of};
use super::{Session, seconds_of};

/// One dose's answers. The guess is locked with the pour and never changes again.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Index of the step.
    pub step: usize,
    /// Start of the pour, tenths of a second on the lesson's clock.
    pub poured_ds: u32,
    /// What was locked before the pour.
    pub guess: Guess,
    /// What was seen, once said.
    pub seen: Option<Guess>,
}

impl Answer {
    /// Start of the pour, s on the lesson's clock.
    pub fn poured_s(&self) -> f64 {
        seconds_of(self.poured_ds)
    }

    /// End of the watched time, s on the lesson's clock.
    pub fn rest_s(&self, step: &Step) -> f64 {
        self.poured_s() + step.rest_s
    }
}

/// "At once" is over this long after the start of a pour, s: a slow stirrer needs it.
const AT_ONCE_S: f64 = 30.0;

/// Distance of the looks for the furthest colour, s.
const AT_ONCE_LOOK_S: f64 = 0.5;

impl Session {
    /// What the beakers did in a dose whose rest is over; none before that.
    pub fn outcome(&self, answer: &Answer) -> Option<Outcome> {
        let step = self.steps().get(answer.step)?;
        let rest_s = answer.rest_s(step);
        if rest_s > self.clock().now_s() {
            return None;
        }
        let subject = self.subject_beaker();
        let at_rest = self.reading(subject, rest_s);
        let beakers = 0..self.bench().len();
        Some(Outcome {
            ph_at_once: self.ph_at_once(answer, subject)?,
            ph_at_rest: at_rest.ph,
            clarity: clarity_of(&at_rest, self.bench().path_cm()),
            turned_back_s: beakers.map(|beaker| self.turned_back_s(answer, beaker)).collect(),
            subject,
        })
    }

    /// Seconds from the pour of a dose to the first upward crossing of pH 7 in a beaker, if that
    /// has come by now; an upward crossing after the dose's rest belongs to the next dose.
    pub fn turned_back_s(&self, answer: &Answer, beaker: usize) -> Option<f64> {
        let poured_s = answer.poured_s();
        let rest_s = answer.rest_s(self.steps().get(answer.step)?);
        self.events()
            .iter()
            .filter(|event| event.beaker == Some(beaker) && event.at_s > poured_s && event.at_s <= rest_s)
            .find(|event| matches!(event.kind, EventKind::TurnedBack { .. }))
            .map(|event| event.at_s - poured_s)
    }

    /// The pH that a beaker went to first in a dose, as far as it has come by now: the lowest
    /// after acid, the highest after base.
    pub fn ph_at_once(&self, answer: &Answer, beaker: usize) -> Option<f64> {
        let step = self.steps().get(answer.step)?;
        ph_at_once(step, answer.poured_s(), |time_s| self.reading(beaker, time_s).ph)
    }
}

/// The furthest pH that a dose poured at a time (s) takes a beaker to at once, from its pH at
/// times; none where it is watched for less than a look.
pub(super) fn ph_at_once(step: &Step, poured_s: f64, ph: impl Fn(f64) -> f64) -> Option<f64> {
    let looks = (AT_ONCE_S.min(step.rest_s) / AT_ONCE_LOOK_S) as u32;
    (1..=looks).map(|look| ph(poured_s + f64::from(look) * AT_ONCE_LOOK_S)).reduce(match step.reagent {
        Reagent::Acid => f64::min,
        Reagent::Base => f64::max,
    })
}
