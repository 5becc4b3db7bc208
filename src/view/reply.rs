//! Answers to a request: taken, or refused with keys and numbers.

use serde::Serialize;

use crate::lesson::{At, FieldError, GuessError, Limits, LinkError, Place, TreeError};
use crate::session::{Event, SessionError};

use super::Screen;
use super::marks::EventMark;

/// Was a request taken?
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Reply {
    /// It was.
    pub ok: bool,
    /// Why not, where no field is to blame: lessonOpen, notNow, stillPouring, model,
    /// unknown, notOurs, newer, damaged, tooLong, saysNothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub key: Option<&'static str>,
    /// The stage that stands in the way of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stage: Option<&'static str>,
    /// When the pour under way ends, s on the lesson's clock.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub until: Option<f64>,
    /// Every field or question that was refused.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub errors: Vec<FieldTrouble>,
}

/// One field or question that was refused.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct FieldTrouble {
    /// Key of the field.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub field: Option<&'static str>,
    /// The beaker it belongs to, from 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub beaker: Option<usize>,
    /// Key of the question.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub question: Option<&'static str>,
    /// The dose it belongs to, from 0; for questions of the brief and the end, `field` says so.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub step: Option<usize>,
    /// Which question of that place, from 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ask: Option<usize>,
    /// Which choice of that question, from 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub choice: Option<usize>,
    /// What is wrong.
    pub key: &'static str,
    /// Smallest value that may stand there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub min: Option<f64>,
    /// Largest value that may stand there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max: Option<f64>,
    /// Unit of the two.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unit: Option<&'static str>,
    /// Most decimals that may stand there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub decimals: Option<u32>,
}

/// Was a link opened?
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct LinkReply {
    /// It was.
    pub ok: bool,
    /// Why not: a key of [`LinkError`], or model.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub key: Option<&'static str>,
    /// The newer version.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub version: Option<u32>,
    /// Place of the strange character, from 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<usize>,
    /// Length, in characters.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chars: Option<usize>,
    /// The field outside its limits.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub error: Option<FieldTrouble>,
}

/// What a piece of time brought.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Ticked {
    /// Now, s on the lesson's clock.
    pub now: f64,
    /// What happened, in order.
    pub events: Vec<EventMark>,
    /// Set where the model could not go on; the clock then stands.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub trouble: Option<&'static str>,
}

impl Reply {
    /// A request that was taken.
    pub(super) fn ok() -> Reply {
        Reply { ok: true, key: None, stage: None, until: None, errors: Vec::new() }
    }

    /// A request that was refused for a reason that no field explains.
    pub fn refused(key: &'static str) -> Reply {
        Reply { ok: false, key: Some(key), ..Reply::ok() }
    }

    pub(super) fn of_fields(errors: &[FieldError]) -> Reply {
        Reply { ok: false, errors: errors.iter().map(FieldTrouble::of_field).collect(), ..Reply::ok() }
    }

    /// Why a tree is no lesson.
    pub(super) fn of_tree(error: &TreeError) -> Reply {
        match error {
            TreeError::NotOurs => Reply::refused("notOurs"),
            TreeError::Newer { .. } => Reply::refused("newer"),
            TreeError::Fields(errors) => Reply::of_fields(errors),
        }
    }

    pub(super) fn of<T>(result: Result<T, SessionError>) -> Reply {
        match result {
            Ok(_) => Reply::ok(),
            Err(SessionError::LessonOpen) => Reply::refused("lessonOpen"),
            Err(SessionError::NotNow { stage }) => Reply { stage: Some(stage.key()), ..Reply::refused("notNow") },
            Err(SessionError::StillPouring { until_s }) => {
                Reply { until: Some(until_s), ..Reply::refused("stillPouring") }
            }
            Err(SessionError::Fields(errors)) => Reply::of_fields(&errors),
            Err(SessionError::Answers(errors)) => {
                Reply { ok: false, errors: errors.iter().map(FieldTrouble::of_question).collect(), ..Reply::ok() }
            }
            Err(SessionError::Course(_)) => Reply::refused("model"),
        }
    }
}

impl FieldTrouble {
    pub(super) fn of_key(key: &'static str, limits: Option<&Limits>) -> FieldTrouble {
        FieldTrouble {
            field: None,
            beaker: None,
            question: None,
            step: None,
            ask: None,
            choice: None,
            key,
            min: limits.map(|limits| limits.min),
            max: limits.map(|limits| limits.max),
            unit: limits.map(|limits| limits.unit),
            decimals: limits.map(|limits| limits.finest),
        }
    }

    fn of_field(error: &FieldError) -> FieldTrouble {
        let mut trouble = FieldTrouble::of_key(error.key, error.limits.as_ref());
        trouble.field = Some(match error.place {
            Place::Field(field) => field.key(),
            Place::Beaker { index, key } => {
                trouble.beaker = Some(index);
                key
            }
            Place::Beakers => "beakers",
            Place::Pour { key } | Place::Lesson { key } => key,
            Place::Step { index, key } => {
                trouble.step = Some(index);
                key
            }
            Place::Ask { at, ask, choice } => {
                (trouble.ask, trouble.choice) = (Some(ask), choice);
                match at {
                    At::Brief => "brief",
                    At::End => "end",
                    At::Step(index) => {
                        trouble.step = Some(index);
                        "asks"
                    }
                }
            }
        });
        trouble
    }

    fn of_question(error: &GuessError) -> FieldTrouble {
        let trouble = FieldTrouble::of_key(error.key, error.limits.as_ref());
        FieldTrouble { question: Some(error.question.key()), ..trouble }
    }
}

impl LinkReply {
    pub(super) fn of_reply(reply: Reply) -> LinkReply {
        LinkReply { ok: reply.ok, key: reply.key, version: None, at: None, chars: None, error: None }
    }

    pub(super) fn of_error(error: &LinkError) -> LinkReply {
        let mut reply = LinkReply::of_reply(Reply::refused(error.key()));
        match error {
            LinkError::TooLong { chars } => reply.chars = Some(*chars),
            LinkError::Newer { version } => reply.version = Some(*version),
            LinkError::BadCharacter { at } => reply.at = Some(*at),
            LinkError::OutOfLimits(error) => reply.error = Some(FieldTrouble::of_field(error)),
            LinkError::Empty | LinkError::NotOurs | LinkError::Incomplete { .. } | LinkError::Damaged => {}
        }
        reply
    }
}

impl Screen {
    /// Tells what a piece of time brought.
    pub(super) fn ticked(&mut self, events: Result<Vec<Event>, SessionError>) -> Ticked {
        let trouble = events.as_ref().err().map(|_| "model");
        if trouble.is_some() {
            self.session.set_held(true);
        }
        let events = events.unwrap_or_default();
        let events = events.iter().map(|event| self.event_mark(event)).collect();
        Ticked { now: self.session.clock().now_s(), events, trouble }
    }
}
