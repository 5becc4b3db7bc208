//! Answers to questions with choices, of a level or the teacher's own. A dose's are given
//! before its lock and stand after it; those of the brief may change until the first dose is
//! asked, and those of the end stand once they are given.

use crate::lesson::{Act, Ask, At, FieldError, Place, WHY_MAX_CHARS, paragraphs};

use super::{Session, SessionError, Stage};

/// An answer to one question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chosen {
    /// Where it was asked.
    pub at: At,
    /// Which of the questions of that place it answers, from 0, predictions counted too.
    pub ask: usize,
    /// The key of a choice, the number of one of the teacher's choices from 0, or free words.
    pub answer: String,
}

impl Session {
    /// Where something may be answered now.
    pub fn asked_at(&self) -> Option<At> {
        match self.stage {
            Stage::Brief => Some(At::Brief),
            Stage::Ask => Some(At::Step(self.answers.len())),
            Stage::End => Some(At::End),
            Stage::Watch | Stage::See | Stage::Explain | Stage::Free => None,
        }
    }

    /// Answers a question that is asked now; no words at all take the answer back.
    ///
    /// # Errors
    /// [`SessionError::NotNow`] where nothing is asked, or what is asked was answered for good;
    /// [`SessionError::Fields`] for a question or a choice that is not there, or too many words.
    pub fn choose(&mut self, ask: usize, answer: &str) -> Result<(), SessionError> {
        let at = self.asked_at().ok_or(SessionError::NotNow { stage: self.stage })?;
        let refused = |key| SessionError::Fields(vec![FieldError::bare(Place::Ask { at, ask, choice: None }, key)]);
        let asks = self.lesson.asks(at);
        let answer = paragraphs(answer);
        let answer = answer.as_str();
        let known = match asks.get(ask) {
            None | Some(Ask::Card(_)) => false,
            Some(_) if answer.is_empty() => true,
            Some(Ask::Choice(question)) => question.choice(answer).is_some(),
            Some(Ask::Own(own)) if own.choices.is_empty() => true,
            Some(Ask::Own(own)) => answer.parse().is_ok_and(|choice: usize| choice < own.choices.len()),
        };
        if !known {
            return Err(refused("unknown"));
        }
        if answer.chars().count() > WHY_MAX_CHARS {
            return Err(refused("tooLong"));
        }
        let before = self.chosen.iter().position(|chosen| chosen.at == at && chosen.ask == ask);
        if let Some(index) = before {
            if at == At::End {
                return Err(SessionError::NotNow { stage: self.stage });
            }
            self.chosen.remove(index);
        }
        self.note_down(self.past_ds(), Act::Choose { ask, answer: answer.to_owned() });
        if !answer.is_empty() {
            self.chosen.push(Chosen { at, ask, answer: answer.to_owned() });
        }
        Ok(())
    }

    /// What was answered, in the order in which it was.
    pub fn chosen(&self) -> &[Chosen] {
        &self.chosen
    }

    /// May it be told what is right? Of a dose when it is explained; of the brief and the end
    /// when all was poured.
    pub fn may_tell(&self, at: At) -> bool {
        match at {
            At::Step(index) => {
                index + 1 < self.answers.len()
                    || (index + 1 == self.answers.len()
                        && matches!(self.stage, Stage::Explain | Stage::Ask | Stage::End))
            }
            At::Brief | At::End => self.stage == Stage::End,
        }
    }
}
