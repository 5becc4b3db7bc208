//! A run told again: the same lesson, whose doses run as they ran for a class, with its holds
//! and its speeds; or in one's own pace. Whoever watches predicts first, as the class did, and
//! sees what the class said only after.

use serde::Serialize;

use crate::chemistry::Reagent;
use crate::lesson::{Act, LINK_MAX_CHARS, Run, Sheet};
use crate::session::{Event, Session, SessionError, Stage};

use super::Screen;
use super::explanation::{Compared, compare};
use super::reply::LinkReply;

/// A run that is told again, and how far.
#[derive(Debug)]
pub(super) struct Telling {
    run: Run,
    sheet: Sheet,
    /// As it ran, or in one's own pace?
    paced: bool,
    /// What was done to the clock in each dose.
    cues: Vec<Vec<Cue>>,
    /// The dose that runs, and how many of its cues are over.
    at: (usize, usize),
    /// What is left of a hold of the class, s.
    hold_s: Option<f64>,
    /// Is the check code the class's?
    same: Option<bool>,
}

/// Something that was done to the clock.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Cue {
    at_s: f64,
    what: CueKind,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum CueKind {
    /// It was held for so many seconds of the room.
    Hold(f64),
    Speed(u32),
    Leap,
}

/// The run that is told again, as far as it may be told.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct RetellView {
    /// Does it run as it ran?
    pub paced: bool,
    /// Check code of the class's run.
    pub code: String,
    /// Is the one here the same? None until as much was poured.
    pub same: Option<bool>,
    /// How many doses the class poured.
    pub count: usize,
    /// Those that were poured here too.
    pub doses: Vec<RetoldDose>,
    /// What the class had predicted for the dose that is explained, beside what happened.
    pub questions: Vec<Compared>,
    /// What it said to have seen.
    pub seen: Vec<Compared>,
}

/// A dose of the class.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct RetoldDose {
    /// acid or base.
    pub reagent: &'static str,
    /// From 1 among the doses of the same reagent.
    pub number: u32,
    /// When it was poured, s of the room since the class began.
    pub room_s: f64,
    /// How often the clock was held.
    pub holds: usize,
    /// How long in all, s of the room.
    pub held_s: f64,
}

/// A run as a text to hand on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct RunShare {
    /// The text.
    pub text: String,
    /// Is it short enough for a link?
    pub fits: bool,
    /// Was anything poured yet?
    pub blank: bool,
}

impl Telling {
    fn of(run: Run, session: &Session) -> Telling {
        let sheet = Sheet::of(&run.entries, session.steps().len());
        let cues = cues_of(&run);
        Telling { run, sheet, paced: true, cues, at: (0, 0), hold_s: None, same: None }
    }

    /// What is left of a hold of the class, s.
    pub(super) fn hold_s(&self) -> Option<f64> {
        self.hold_s
    }

    /// Whoever watches has taken the clock in hand.
    pub(super) fn end_hold(&mut self) {
        self.hold_s = None;
    }

    /// Lets the clock run as it ran for the class.
    fn tick(&mut self, session: &mut Session, real_s: f64) -> Result<Vec<Event>, SessionError> {
        // Not so for a NaN, which counts as nothing; a jump of the clock was watched by nobody.
        let mut left_s = if real_s > 0.0 { real_s.min(1.0) } else { 0.0 };
        let mut events = Vec::new();
        let dose = session.answers().len();
        if self.at.0 != dose {
            // A telling that goes on half way does not hold once more where it was held before.
            let over = |cue: &&Cue| cue.at_s + 0.1 < session.clock().now_s();
            let cues = self.cues.get(dose.wrapping_sub(1));
            self.at = (dose, cues.map_or(0, |cues| cues.iter().take_while(over).count()));
        }
        while session.stage() == Stage::Watch {
            if let Some(hold_s) = self.hold_s {
                let waited_s = hold_s.min(left_s);
                left_s -= waited_s;
                self.hold_s = Some(hold_s - waited_s).filter(|hold_s| *hold_s > 0.0);
                if self.hold_s.is_some() {
                    return Ok(events);
                }
                session.set_held(false);
            }
            let cue = self.cues.get(self.at.0.wrapping_sub(1)).and_then(|cues| cues.get(self.at.1)).copied();
            let wait_s =
                cue.map(|cue| (cue.at_s - session.clock().now_s()).max(0.0) / f64::from(session.clock().speed()));
            match (cue, wait_s) {
                (Some(cue), Some(wait_s)) if wait_s <= left_s && !session.clock().held => {
                    events.extend(session.tick(wait_s)?);
                    left_s -= wait_s;
                    self.at.1 += 1;
                    match cue.what {
                        CueKind::Hold(seconds) => {
                            session.set_held(true);
                            self.hold_s = Some(seconds);
                        }
                        CueKind::Speed(speed) => session.set_speed(speed),
                        CueKind::Leap => events.extend(session.next_event()?),
                    }
                }
                _ => {
                    events.extend(session.tick(left_s)?);
                    return Ok(events);
                }
            }
        }
        self.hold_s = None;
        Ok(events)
    }
}

/// What was done to the clock, dose by dose, each with its time on the lesson's clock.
fn cues_of(run: &Run) -> Vec<Vec<Cue>> {
    let mut cues: Vec<Vec<Cue>> = Vec::new();
    let mut held_since = None;
    let mut speed = 1;
    for entry in &run.entries {
        let at_s = f64::from(entry.at_ds) / 10.0;
        // A hold ends with the next act that lets the clock go, or that was possible only after.
        let ends_hold = matches!(entry.act, Act::Hold(false) | Act::Lock(_) | Act::See(_));
        if let (true, Some((from_ds, held_at_s)), Some(dose)) =
            (ends_hold, held_since.take_if(|_| ends_hold), cues.last_mut())
        {
            let seconds = f64::from(entry.room_ds.saturating_sub(from_ds)) / 10.0;
            dose.push(Cue { at_s: held_at_s, what: CueKind::Hold(seconds) });
        }
        let what = match entry.act {
            Act::Lock(_) => {
                cues.push(Vec::new());
                CueKind::Speed(speed)
            }
            Act::Speed(other) => {
                speed = other;
                CueKind::Speed(speed)
            }
            Act::Hold(true) => {
                held_since = Some((entry.room_ds, at_s));
                continue;
            }
            Act::Leap => CueKind::Leap,
            _ => continue,
        };
        if let Some(dose) = cues.last_mut() {
            dose.push(Cue { at_s, what });
        }
    }
    cues
}

impl Screen {
    /// Opens a run that is told again: its lesson begins anew. On errors nothing changes.
    pub fn open_run(&mut self, text: &str) -> LinkReply {
        let run = match Run::from_text(text) {
            Ok(run) => run,
            Err(error) => return LinkReply::of_error(&error),
        };
        let reply = self.open(run.lesson.clone());
        if reply.ok {
            self.telling = Some(Telling::of(run, &self.session));
        }
        LinkReply::of_reply(reply)
    }

    /// Goes on telling a run again, where the lesson that was resumed is its own.
    pub(super) fn tell_on(&mut self, text: &str) {
        let run = Run::from_text(text).ok().filter(|run| run.lesson.code() == self.session.lesson().code());
        self.telling = run.map(|run| Telling::of(run, &self.session));
    }

    /// The latest guided run of this device as a text to hand on.
    pub fn run_text(&self) -> RunShare {
        let session = &self.session;
        let run = Run::of(session.lesson(), session.reached(), session.record());
        let text = run.text();
        let blank = !run.entries.iter().any(|entry| matches!(entry.act, Act::Lock(_)));
        RunShare { fits: text.len() < LINK_MAX_CHARS, text, blank }
    }

    /// As it ran for the class, or in one's own pace.
    pub fn set_paced(&mut self, paced: bool) {
        if let Some(telling) = &mut self.telling {
            telling.paced = paced;
            if telling.hold_s.take().is_some() {
                self.session.set_held(false);
            }
        }
    }

    /// The run that is told again; none where none is.
    pub fn retell(&mut self) -> Option<RetellView> {
        let telling = self.telling.as_mut()?;
        let session = &self.session;
        let poured = session.answers().len();
        let reached = telling.run.reached;
        let guided = session.stage() != Stage::Free;
        let there = poured == telling.sheet.doses.len() && session.past_tenth() >= reached.now_ds;
        if guided && poured > 0 && there {
            telling.same = Some(session.code_at(reached.now_ds) == reached.code);
        }
        let dose = |((dose, step), cues): ((&crate::lesson::DoseSheet, &crate::lesson::Step), &Vec<Cue>)| {
            let holds =
                cues.iter().filter_map(|cue| if let CueKind::Hold(held_s) = cue.what { Some(held_s) } else { None });
            RetoldDose {
                reagent: Reagent::key(step.reagent),
                number: step.number,
                room_s: f64::from(dose.room_ds) / 10.0,
                holds: holds.clone().count(),
                held_s: holds.sum(),
            }
        };
        let doses = telling.sheet.doses.iter().zip(session.steps()).zip(&telling.cues).map(dose).take(poured).collect();
        let explained = (session.stage() == Stage::Explain).then(|| session.answers().last()).flatten();
        let outcome = explained.and_then(|answer| session.outcome(answer));
        let said = explained.and_then(|answer| telling.sheet.doses.get(answer.step)).zip(outcome.as_ref());
        Some(RetellView {
            paced: telling.paced,
            code: reached.code.to_string(),
            same: telling.same,
            count: telling.sheet.doses.len(),
            doses,
            questions: said.map_or_else(Vec::new, |(said, outcome)| compare(&said.guess, outcome)),
            seen: said
                .and_then(|(said, outcome)| said.seen.as_ref().map(|seen| compare(seen, outcome)))
                .unwrap_or_default(),
        })
    }

    /// Lets the clock run for so many real seconds, as it ran for a class where one is told again.
    pub(super) fn run_clock(&mut self, real_s: f64) -> Result<Vec<Event>, SessionError> {
        match &mut self.telling {
            Some(telling) if telling.paced && self.session.stage() == Stage::Watch => {
                telling.tick(&mut self.session, real_s)
            }
            _ => self.session.tick(real_s),
        }
    }
}
