//! What a beaker shows that is worth telling: it turns back, changes its colour's name,
//! clears or clouds over.
//!
//! A beaker's path is looked at on a grid of its own time that begins anew at each action:
//! closely while the action is fresh, for then the pH may swing to and fro; later it only
//! rises or falls, and whatever names it passes between two looks are found by bisection.
//! Nothing depends on when the page looks, so sixteen times the speed finds the same times.

use crate::chemistry::Reagent;
use crate::colour::{Band, Clarity, clarity, is_pale, mark_contrast};
use crate::course::{Course, CourseError, Reading};

/// Distance of two looks, s, in the first looks after an action and later.
const CLOSE_LOOK_S: f64 = 0.5;
const LATER_LOOK_S: f64 = 2.0;

/// How many looks after an action are close: 20 s, ten times the time of mixing.
const CLOSE_LOOKS: u32 = 40;

/// Halvings that place an event within a look: 2 s / 2^12 is half a millisecond.
const HALVINGS: u32 = 12;

/// The pH at which the colour counts as turned back: the green of a universal indicator.
pub(super) const TURNED_BACK_PH: f64 = 7.0;

/// Something that happened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Event {
    /// When, s on the lesson's clock.
    pub at_s: f64,
    /// In which beaker, from 0; none where it is about the whole bench.
    pub beaker: Option<usize>,
    /// What.
    pub kind: EventKind,
}

/// What happened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EventKind {
    /// A pour began.
    Poured {
        /// What was poured.
        reagent: Reagent,
        /// How much, mL.
        volume_ml: f64,
    },
    /// The pH rose through 7.
    TurnedBack {
        /// Seconds since the start of the last pour; none where nothing was poured yet.
        since_s: Option<f64>,
    },
    /// The colour got another name.
    Band {
        /// The name before.
        from: Band,
        /// The name now.
        to: Band,
        /// Is it pale now with suspended solid?
        pale: bool,
    },
    /// The mark behind the beaker shows plainly.
    Clear,
    /// The mark behind the beaker is lost.
    Cloudy,
    /// The watched time of a dose is over.
    Rest,
}

impl EventKind {
    /// The name at the edge.
    pub fn key(&self) -> &'static str {
        match self {
            EventKind::Poured { .. } => "poured",
            EventKind::TurnedBack { .. } => "turnedBack",
            EventKind::Band { .. } => "band",
            EventKind::Clear => "clear",
            EventKind::Cloudy => "cloudy",
            EventKind::Rest => "rest",
        }
    }

    /// Does "next event" stop here?
    fn is_stop(&self) -> bool {
        matches!(self, EventKind::TurnedBack { .. } | EventKind::Clear | EventKind::Cloudy)
    }
}

/// How clear a beaker is: whether a mark at half depth behind it can be seen.
pub fn clarity_of(reading: &Reading, path_cm: f64) -> Clarity {
    // Where the solid has settled below the mark, the eye looks through the clear layer.
    let solids = if reading.clear_layer() > 0.5 { 0.0 } else { reading.suspended_bulk_g_l() };
    clarity(mark_contrast(solids, path_cm))
}

/// The looks at one beaker.
#[derive(Clone, Debug)]
pub(super) struct Watch {
    beaker: usize,
    path_cm: f64,
    /// Without a dye there is no colour whose name could change.
    is_dyed: bool,
    origin_s: f64,
    looks: u32,
    seen: Sight,
    last_pour_s: Option<f64>,
    found: Vec<Event>,
}

#[derive(Clone, Copy, Debug)]
struct Sight {
    at_s: f64,
    ph: f64,
    band: Band,
    /// Clear or cloudy as last told; hazy is neither, so that a slow change is told once.
    told_clear: bool,
}

impl Watch {
    /// Begins to watch a beaker at the start of its course.
    pub fn begin(course: &Course, beaker: usize, path_cm: f64, is_dyed: bool) -> Watch {
        let reading = course.reading(0.0);
        let clarity = clarity_of(&reading, path_cm);
        let seen =
            Sight { at_s: 0.0, ph: reading.ph, band: Band::of_ph(reading.ph), told_clear: clarity == Clarity::Clear };
        let found = Vec::new();
        Watch { beaker, path_cm, is_dyed, origin_s: 0.0, looks: 0, seen, last_pour_s: None, found }
    }

    /// Looks on until the beaker was seen at `to_s` or later.
    pub fn look_to(&mut self, course: &mut Course, to_s: f64) -> Result<(), CourseError> {
        while self.seen.at_s < to_s {
            self.looks += 1;
            self.look(course, self.origin_s + after_action_s(self.looks))?;
        }
        Ok(())
    }

    /// Looks on until something is found at which "next event" stops, after `now_s`.
    pub fn look_for_stop(&mut self, course: &mut Course, now_s: f64, limit_s: f64) -> Result<Option<f64>, CourseError> {
        loop {
            let stop = self.found.iter().find(|event| event.at_s > now_s && event.kind.is_stop());
            if let Some(event) = stop {
                return Ok(Some(event.at_s).filter(|&at_s| at_s <= limit_s));
            }
            if self.seen.at_s >= limit_s {
                return Ok(None);
            }
            self.looks += 1;
            self.look(course, self.origin_s + after_action_s(self.looks))?;
        }
    }

    /// Takes what was found up to now.
    pub fn take_until(&mut self, now_s: f64, into: &mut Vec<Event>) {
        let come = self.found.partition_point(|event| event.at_s <= now_s);
        for event in self.found.drain(..come) {
            insert_in_time(into, event);
        }
    }

    /// Prepares for an action: looks as far as its time and forgets what was found beyond.
    pub fn cut(&mut self, course: &mut Course, at_s: f64) -> Result<(), CourseError> {
        if self.seen.at_s < at_s {
            while self.origin_s + after_action_s(self.looks + 1) < at_s {
                self.looks += 1;
                self.look(course, self.origin_s + after_action_s(self.looks))?;
            }
            self.look(course, at_s)?;
        }
        self.found.retain(|event| event.at_s <= at_s);
        Ok(())
    }

    /// Goes on after an action, with its event where it was a pour.
    pub fn go_on(&mut self, course: &Course, at_s: f64, poured: Option<EventKind>) {
        self.origin_s = at_s;
        self.looks = 0;
        self.seen = self.sight(course, at_s);
        if let Some(kind) = poured {
            self.last_pour_s = Some(at_s);
            self.tell(at_s, kind);
        }
    }

    fn sight(&self, course: &Course, at_s: f64) -> Sight {
        let reading = course.reading(at_s);
        let clarity = clarity_of(&reading, self.path_cm);
        let told_clear = match clarity {
            Clarity::Clear => true,
            Clarity::Hazy => self.seen.told_clear,
            Clarity::Cloudy | Clarity::Milky => false,
        };
        Sight { at_s, ph: reading.ph, band: Band::of_ph(reading.ph), told_clear }
    }

    fn look(&mut self, course: &mut Course, at_s: f64) -> Result<(), CourseError> {
        course.reach(at_s)?;
        let before = self.seen;
        let after = self.sight(course, at_s);
        self.find_turning_back(course, &before, &after);
        if self.is_dyed {
            self.find_band(course, &before, &after);
        }
        self.find_clarity(course, &before, &after);
        self.seen = after;
        Ok(())
    }

    fn find_turning_back(&mut self, course: &Course, before: &Sight, after: &Sight) {
        if !(before.ph < TURNED_BACK_PH && after.ph >= TURNED_BACK_PH) {
            return;
        }
        if let Some(at_s) = course.turned_back_s(TURNED_BACK_PH, before.at_s, after.at_s) {
            let since_s = self.last_pour_s.map(|pour_s| at_s - pour_s);
            self.tell(at_s, EventKind::TurnedBack { since_s });
        }
    }

    fn find_band(&mut self, course: &Course, before: &Sight, after: &Sight) {
        // Several names may pass within one look; each is told at its own time.
        let (mut from, mut start_s) = (before.band, before.at_s);
        while from != after.band {
            let is_from = |reading: &Reading| Band::of_ph(reading.ph) == from;
            let at_s = last_moment(course, start_s, after.at_s, is_from);
            let reading = course.reading(at_s);
            let (to, pale) = (Band::of_ph(reading.ph), is_pale(reading.suspended_bulk_g_l()));
            if to == from {
                return;
            }
            self.tell(at_s, EventKind::Band { from, to, pale });
            (from, start_s) = (to, at_s);
        }
    }

    fn find_clarity(&mut self, course: &Course, before: &Sight, after: &Sight) {
        if before.told_clear == after.told_clear {
            return;
        }
        let path_cm = self.path_cm;
        let (kind, turned): (_, fn(Clarity) -> bool) = if after.told_clear {
            (EventKind::Clear, |clarity| clarity == Clarity::Clear)
        } else {
            (EventKind::Cloudy, |clarity| matches!(clarity, Clarity::Cloudy | Clarity::Milky))
        };
        let not_yet = |reading: &Reading| !turned(clarity_of(reading, path_cm));
        let at_s = last_moment(course, before.at_s, after.at_s, not_yet);
        self.tell(at_s, kind);
    }

    fn tell(&mut self, at_s: f64, kind: EventKind) {
        insert_in_time(&mut self.found, Event { at_s, beaker: Some(self.beaker), kind });
    }
}

/// Puts an event behind all that are not later.
fn insert_in_time(events: &mut Vec<Event>, event: Event) {
    let place = events.partition_point(|other| other.at_s <= event.at_s);
    events.insert(place, event);
}

/// When the n-th look after an action falls, s after it.
fn after_action_s(look: u32) -> f64 {
    let close = look.min(CLOSE_LOOKS);
    f64::from(close) * CLOSE_LOOK_S + f64::from(look - close) * LATER_LOOK_S
}

/// The first time, within half a millisecond, at which `still` has ended; it holds at `from_s`
/// and not at `to_s`.
fn last_moment(course: &Course, from_s: f64, to_s: f64, still: impl Fn(&Reading) -> bool) -> f64 {
    let (mut holds_s, mut ended_s) = (from_s, to_s);
    for _ in 0..HALVINGS {
        let middle_s = 0.5 * (holds_s + ended_s);
        if still(&course.reading(middle_s)) {
            holds_s = middle_s;
        } else {
            ended_s = middle_s;
        }
    }
    ended_s
}
