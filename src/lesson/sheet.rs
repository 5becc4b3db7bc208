//! The answers of a run, put in order: what was chosen where, and what was guessed, seen and
//! timed in each dose.

use crate::colour::Band;

use super::act::{Act, Entry};
use super::guess::Guess;
use super::script::At;

/// The answers of one run.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheet {
    /// Answers to questions with choices and to the teacher's own: where, which, and what stands.
    pub chosen: Vec<(At, usize, String)>,
    /// The doses that were poured, in order.
    pub doses: Vec<DoseSheet>,
}

/// What was said of one dose.
#[derive(Clone, Debug, PartialEq)]
pub struct DoseSheet {
    /// Start of the pour, tenths of a second on the lesson's clock.
    pub poured_ds: u32,
    /// When it was poured, tenths of a second of the room since the run began.
    pub room_ds: u32,
    /// What was locked before.
    pub guess: Guess,
    /// What was seen after, once that was said.
    pub seen: Option<Guess>,
    /// Times that were taken, in order.
    pub times: Vec<Time>,
}

/// A time that was taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Time {
    /// Which beaker, from 0.
    pub beaker: usize,
    /// Tenths of a second after the start of the pour.
    pub since_ds: u32,
    /// The colour that it had to show all through.
    pub finish: Band,
    /// Was it taken back?
    pub taken_back: bool,
}

impl Sheet {
    /// The answers in the entries of one run of a lesson with so many doses. What could not have
    /// been done in such a run is left out.
    pub fn of(entries: &[Entry], doses: usize) -> Sheet {
        let mut sheet = Sheet::default();
        let mut at = Some(At::Brief);
        for entry in entries {
            let poured = sheet.doses.len();
            let dose = sheet.doses.last_mut();
            match &entry.act {
                Act::GoOn => at = Some(if poured < doses { At::Step(poured) } else { At::End }),
                Act::Lock(guess) if poured < doses => {
                    let (guess, times) = (guess.clone(), Vec::new());
                    let (poured_ds, room_ds) = (entry.at_ds, entry.room_ds);
                    sheet.doses.push(DoseSheet { poured_ds, room_ds, guess, seen: None, times });
                    at = None;
                }
                Act::See(seen) => {
                    if let Some(dose) = dose {
                        dose.seen = Some(seen.clone());
                    }
                }
                Act::Choose { ask, answer } => {
                    if let Some(at) = at {
                        sheet.choose(at, *ask, answer);
                    }
                }
                Act::Mark { beaker, finish } => {
                    if let Some(dose) = dose {
                        let since_ds = entry.at_ds.saturating_sub(dose.poured_ds);
                        dose.times.push(Time { beaker: *beaker, since_ds, finish: *finish, taken_back: false });
                    }
                }
                Act::TakeBack { mark } => {
                    let taken = sheet.doses.iter_mut().flat_map(|dose| &mut dose.times).nth(*mark);
                    if let Some(time) = taken {
                        time.taken_back = true;
                    }
                }
                _ => {}
            }
        }
        sheet
    }

    fn choose(&mut self, at: At, ask: usize, answer: &str) {
        self.chosen.retain(|(place, which, _)| (*place, *which) != (at, ask));
        if !answer.is_empty() {
            self.chosen.push((at, ask, answer.to_owned()));
        }
    }

    /// What stands as the answer to a question.
    pub fn answer(&self, at: At, ask: usize) -> Option<&str> {
        let found = self.chosen.iter().find(|(place, which, _)| (*place, *which) == (at, ask));
        found.map(|(_, _, answer)| answer.as_str())
    }
}
