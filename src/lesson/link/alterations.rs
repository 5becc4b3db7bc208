//! What follows the recipe in a link's body: the level and what a teacher altered.
//!
//! ```text
//! level   one byte, 1 to 5
//! flags   one byte: 1 title, 2 brief, 4 doses, 8 end, 16 fitted, 32 strength; those parts follow in this order
//! title   text
//! brief   questions
//! doses   their number, one byte; each: a byte (1 base, 2 own volume, 4 own rest, 8 own
//!         questions), then whole finest steps of the volume and of the rest as varints,
//!         and questions, as far as they are the dose's own
//! end     questions
//! fitted  acid factor, carbonate, energy, measurements, date: varints of whole finest steps
//! strength  of the fitted bottle, a varint of whole finest steps; only behind fitted
//! questions  their number, one byte; each: a byte, the number of a prediction in
//!         Question::ALL, or 16 and more: the number of a question in CHOICES plus 16, or 255:
//!         text, number of choices (one byte), texts
//! text    its bytes in UTF-8 after their number as a varint
//! ```
//!
//! None of it stands in a lesson of the default level as it comes. A byte that this release
//! does not know belongs to a later one.

use crate::chemistry::Reagent;

use super::{LINK_VERSION, Lesson, LinkError};
use crate::lesson::choice::CHOICES;
use crate::lesson::envelope::{self, read_byte, read_value, varint, write_text};
use crate::lesson::field::{Field, Limits};
use crate::lesson::fitted::{self, Fitted};
use crate::lesson::level::Level;
use crate::lesson::recipe::Place;
use crate::lesson::script::{ASKS_MAX, Ask, At, CHOICES_MAX, DOSES_MAX, Dose, OwnQuestion, Script};
use crate::lesson::steps::Question;
use crate::lesson::words::{self, CHOICE, QUESTION, TITLE};

const WITH_TITLE: u8 = 1;
const WITH_BRIEF: u8 = 2;
const WITH_DOSES: u8 = 4;
const WITH_END: u8 = 8;
const WITH_FITTED: u8 = 16;
const WITH_STRENGTH: u8 = 32;

const BASE: u8 = 1;
const OWN_VOLUME: u8 = 2;
const OWN_REST: u8 = 4;
const OWN_ASKS: u8 = 8;

const FIRST_CHOICE: u8 = 16;
const OWN: u8 = 255;

const NEWER: LinkError = LinkError::Newer { version: LINK_VERSION };

/// Adds what is not as it comes to a body.
pub(super) fn write(lesson: &Lesson, body: &mut Vec<u8>) {
    let Lesson { level, title, script, fitted, .. } = lesson;
    let flag = |there: bool, flag: u8| if there { flag } else { 0 };
    let flags = flag(!title.is_empty(), WITH_TITLE)
        | flag(script.brief.is_some(), WITH_BRIEF)
        | flag(script.doses.is_some(), WITH_DOSES)
        | flag(script.end.is_some(), WITH_END)
        | flag(fitted.is_some(), WITH_FITTED)
        | flag(fitted.is_some_and(|fitted| fitted.strength_mg_ml.is_some()), WITH_STRENGTH);
    if flags == 0 && *level == Level::default() {
        return;
    }
    body.extend([level.number(), flags]);
    if !title.is_empty() {
        write_text(title, body);
    }
    if let Some(asks) = &script.brief {
        write_asks(asks, body);
    }
    if let Some(doses) = &script.doses {
        body.push(doses.len() as u8);
        for dose in doses {
            write_dose(dose, body);
        }
    }
    if let Some(asks) = &script.end {
        write_asks(asks, body);
    }
    if let Some(fitted) = fitted {
        fitted.steps().for_each(|steps| body.extend(varint(steps)));
    }
}

fn write_dose(dose: &Dose, body: &mut Vec<u8>) {
    let flag = |there: bool, flag: u8| if there { flag } else { 0 };
    body.push(
        flag(dose.reagent == Reagent::Base, BASE)
            | flag(dose.volume_ml.is_some(), OWN_VOLUME)
            | flag(dose.rest_s.is_some(), OWN_REST)
            | flag(dose.asks.is_some(), OWN_ASKS),
    );
    if let Some(volume_ml) = dose.volume_ml {
        body.extend(varint(Field::DoseMl.limits().steps(volume_ml)));
    }
    if let Some(rest_s) = dose.rest_s {
        body.extend(varint(rest_limits(dose.reagent).steps(rest_s)));
    }
    if let Some(asks) = &dose.asks {
        write_asks(asks, body);
    }
}

fn rest_limits(reagent: Reagent) -> &'static Limits {
    match reagent {
        Reagent::Acid => Field::RestS.limits(),
        Reagent::Base => Field::BaseRestS.limits(),
    }
}

fn write_asks(asks: &[Ask], body: &mut Vec<u8>) {
    body.push(asks.len() as u8);
    for ask in asks {
        match ask {
            Ask::Card(question) => body.push(*question as u8),
            Ask::Choice(question) => body.push(FIRST_CHOICE + question.number()),
            Ask::Own(own) => {
                body.push(OWN);
                write_text(&own.text, body);
                body.push(own.choices.len() as u8);
                for choice in &own.choices {
                    write_text(choice, body);
                }
            }
        }
    }
}

/// Reads what follows a recipe into its lesson.
pub(super) fn read(mut rest: &[u8], lesson: &mut Lesson) -> Result<(), LinkError> {
    if rest.is_empty() {
        return Ok(());
    }
    let rest = &mut rest;
    lesson.level = Level::of_number(read_byte(rest)?).ok_or(NEWER)?;
    let flags = read_flags(rest, WITH_TITLE | WITH_BRIEF | WITH_DOSES | WITH_END | WITH_FITTED | WITH_STRENGTH)?;
    if flags & WITH_TITLE != 0 {
        lesson.title = read_text(rest, &TITLE, Place::Lesson { key: "title" })?;
    }
    let mut script = Script::default();
    if flags & WITH_BRIEF != 0 {
        script.brief = Some(read_asks(rest, At::Brief)?);
    }
    if flags & WITH_DOSES != 0 {
        let count = read_count(rest, DOSES_MAX)?;
        script.doses = Some((0..count).map(|index| read_dose(rest, index)).collect::<Result<_, _>>()?);
    }
    if flags & WITH_END != 0 {
        script.end = Some(read_asks(rest, At::End)?);
    }
    lesson.script = script;
    if flags & WITH_FITTED != 0 {
        let mut numbers = [0.0; 5];
        for (number, limits) in numbers.iter_mut().zip(&fitted::LIMITS) {
            *number = read_value(rest, limits, Place::Lesson { key: limits.key })?;
        }
        let mut strength_mg_ml = None;
        if flags & WITH_STRENGTH != 0 {
            let limits = &fitted::STRENGTH;
            strength_mg_ml = Some(read_value(rest, limits, Place::Lesson { key: limits.key })?);
        }
        lesson.fitted = Some(Fitted::of(numbers, strength_mg_ml).map_err(LinkError::OutOfLimits)?);
    }
    if rest.is_empty() { Ok(()) } else { Err(NEWER) }
}

fn read_dose(rest: &mut &[u8], index: usize) -> Result<Dose, LinkError> {
    let flags = read_flags(rest, BASE | OWN_VOLUME | OWN_REST | OWN_ASKS)?;
    let reagent = if flags & BASE == 0 { Reagent::Acid } else { Reagent::Base };
    let mut dose = Dose::plain(reagent);
    if flags & OWN_VOLUME != 0 {
        let place = Place::Step { index, key: "volumeMl" };
        dose.volume_ml = Some(read_value(rest, Field::DoseMl.limits(), place)?);
    }
    if flags & OWN_REST != 0 {
        dose.rest_s = Some(read_value(rest, rest_limits(reagent), Place::Step { index, key: "restS" })?);
    }
    if flags & OWN_ASKS != 0 {
        dose.asks = Some(read_asks(rest, At::Step(index))?);
    }
    Ok(dose)
}

fn read_asks(rest: &mut &[u8], at: At) -> Result<Vec<Ask>, LinkError> {
    let count = read_count(rest, ASKS_MAX)?;
    let mut asks = Vec::with_capacity(count);
    for index in 0..count {
        let ask = read_ask(rest, at, index)?;
        // No door lets a question in twice, nor a prediction where nothing is poured.
        if asks.contains(&ask) || matches!((&ask, at), (Ask::Card(_), At::Brief | At::End)) {
            return Err(LinkError::Damaged);
        }
        asks.push(ask);
    }
    Ok(asks)
}

fn read_ask(rest: &mut &[u8], at: At, ask: usize) -> Result<Ask, LinkError> {
    let place = |choice| Place::Ask { at, ask, choice };
    match read_byte(rest)? {
        OWN => {
            let text = read_text(rest, &QUESTION, place(None))?;
            let count = read_count(rest, CHOICES_MAX)?;
            let choices = (0..count).map(|index| read_text(rest, &CHOICE, place(Some(index))));
            Ok(Ask::Own(OwnQuestion { text, choices: choices.collect::<Result<_, _>>()? }))
        }
        number if number < FIRST_CHOICE => Question::ALL.get(usize::from(number)).copied().map(Ask::Card).ok_or(NEWER),
        number => CHOICES.get(usize::from(number - FIRST_CHOICE)).map(Ask::Choice).ok_or(NEWER),
    }
}

fn read_flags(rest: &mut &[u8], known: u8) -> Result<u8, LinkError> {
    let flags = read_byte(rest)?;
    if flags & !known == 0 { Ok(flags) } else { Err(NEWER) }
}

fn read_count(rest: &mut &[u8], most: usize) -> Result<usize, LinkError> {
    let count = usize::from(read_byte(rest)?);
    if count <= most { Ok(count) } else { Err(LinkError::Damaged) }
}

/// A text that a door lets in as it is: within its limits, and with nothing to be cleaned out.
fn read_text(rest: &mut &[u8], limits: &'static Limits, place: Place) -> Result<String, LinkError> {
    let text = envelope::read_text(rest, usize::MAX)?;
    words::check(text, limits, true, place).map_err(LinkError::OutOfLimits)?;
    if words::line(text) == text { Ok(text.to_owned()) } else { Err(LinkError::Damaged) }
}
