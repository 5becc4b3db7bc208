//! What stands on the ribbons: doses, guesses, events.

use serde::Serialize;

use crate::chemistry::Action;
use crate::colour::Band;
use crate::lesson::Seconds;
use crate::session::{Event, EventKind};

use super::Screen;

/// Everything that stands on the ribbons up to now.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Marks {
    /// Doses, in order.
    pub doses: Vec<DoseMark>,
    /// Locked guesses of colours, in order.
    pub guesses: Vec<GuessMark>,
    /// Events, in order.
    pub events: Vec<EventMark>,
}

/// One dose, in one beaker or in several at the same instant.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct DoseMark {
    /// Start of the pour, s on the lesson's clock.
    pub at: f64,
    /// From 1 among the doses of the same reagent.
    pub number: u32,
    /// acid or base.
    pub reagent: &'static str,
    /// Volume, mL.
    pub volume_ml: f64,
    /// The beakers it went into, from 0.
    pub beakers: Vec<usize>,
}

/// One guessed colour at rest, pinned where it was expected.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct GuessMark {
    /// Position of its dose in `doses`, from 0.
    pub dose: usize,
    /// The beaker it is about.
    pub beaker: usize,
    /// The guessed time of turning back, s on the lesson's clock; none where the card did not
    /// ask or the answer was "never".
    pub at: Option<f64>,
    /// Key of the colour.
    pub band: &'static str,
    /// Its letter.
    pub letter: char,
}

/// One event.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct EventMark {
    /// poured, turnedBack, band, clear, cloudy or rest.
    pub key: &'static str,
    /// When, s on the lesson's clock.
    pub at: f64,
    /// The beaker, from 0; absent for the rest of all.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub beaker: Option<usize>,
    /// Seconds since the start of the pour, of a turning back.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seconds: Option<f64>,
    /// The colour's new name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub band: Option<&'static str>,
    /// Its letter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub letter: Option<char>,
    /// Is that colour pale?
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pale: Option<bool>,
    /// What was poured.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reagent: Option<&'static str>,
    /// How much, mL.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
}

impl EventMark {
    fn of(event: &Event) -> EventMark {
        let mut mark = EventMark {
            key: event.kind.key(),
            at: event.at_s,
            beaker: event.beaker,
            seconds: None,
            band: None,
            letter: None,
            pale: None,
            reagent: None,
            volume_ml: None,
        };
        match event.kind {
            EventKind::Poured { reagent, volume_ml } => {
                mark.reagent = Some(reagent.key());
                mark.volume_ml = Some(volume_ml);
            }
            EventKind::TurnedBack { since_s } => mark.seconds = since_s,
            EventKind::Band { to, pale, .. } => {
                mark.band = Some(to.key());
                mark.letter = Some(to.letter());
                mark.pale = Some(pale);
            }
            EventKind::Clear | EventKind::Cloudy | EventKind::Rest => {}
        }
        mark
    }
}

/// What the marks hang on: as long as it is the same, so are they.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MarksVersion {
    lesson: u32,
    actions: usize,
    answers: usize,
    events: usize,
    times: usize,
}

impl Screen {
    /// What the marks hang on.
    pub fn marks_version(&self) -> MarksVersion {
        MarksVersion {
            lesson: self.lessons,
            actions: self.session.bench().log().len(),
            answers: self.session.answers().len(),
            events: self.session.events().len(),
            times: self.session.marks().iter().map(|mark| 1 + usize::from(mark.taken_back)).sum(),
        }
    }

    /// Everything that stands on the ribbons up to now.
    pub fn marks(&self) -> Marks {
        let events = self.session.events().iter();
        Marks {
            doses: self.dose_marks(),
            guesses: self.guess_marks(),
            events: events.map(|event| self.event_mark(event)).collect(),
        }
    }

    /// An event as it may be told: how long a beaker took waits for the student's own time, or for
    /// the rest.
    pub(super) fn event_mark(&self, event: &Event) -> EventMark {
        let mut mark = EventMark::of(event);
        if let (Some(answer), Some(beaker)) = (self.session.answers().last(), event.beaker)
            && event.at_s > answer.poured_s()
            && !self.session.may_tell_time(answer, beaker)
        {
            mark.seconds = None;
        }
        mark
    }

    fn dose_marks(&self) -> Vec<DoseMark> {
        let now_s = self.session.clock().now_s();
        let mut doses: Vec<DoseMark> = Vec::new();
        for entry in self.session.bench().log().iter().filter(|entry| entry.at_s() <= now_s) {
            let Action::Pour(pour) = entry.action else { continue };
            let reagent = pour.reagent.key();
            match doses.last_mut() {
                Some(dose) if dose.at == entry.at_s() && dose.reagent == reagent => dose.beakers.push(entry.beaker),
                _ => doses.push(DoseMark {
                    at: entry.at_s(),
                    number: 1 + doses.iter().filter(|dose| dose.reagent == reagent).count() as u32,
                    reagent,
                    volume_ml: pour.volume_ml,
                    beakers: vec![entry.beaker],
                }),
            }
        }
        doses
    }

    fn guess_marks(&self) -> Vec<GuessMark> {
        let subject = self.session.subject_beaker();
        let pinned = |(dose, answer): (usize, &crate::session::Answer)| {
            let band: Band = answer.guess.at_rest?;
            let at = match answer.guess.seconds {
                Some(Seconds::After(seconds)) => Some(answer.poured_s() + seconds),
                Some(Seconds::Never) | None => None,
            };
            Some(GuessMark { dose, beaker: subject, at, band: band.key(), letter: band.letter() })
        };
        self.session.answers().iter().enumerate().filter_map(pinned).collect()
    }
}
