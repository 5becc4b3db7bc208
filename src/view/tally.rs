//! What a class believed, saw and timed: many slips set beside the one outcome that the lesson
//! has. Nothing of it is sent anywhere, and no answer is marked right or wrong by a person's
//! name: a distribution is what a teacher can act on.

mod count;
mod pressed;
mod table;

pub use pressed::{PressedRow, PressedView};

use serde::Serialize;

use crate::chemistry::Reagent;
use crate::colour::Band;
use crate::lesson::{Aside, AskEntry, CheckCode, Ledger, LedgerRow, Lesson, LinkError, Outcome, Pile, Reached};
use crate::session::{Answer, Session, SessionError};

use super::Screen;
use super::asks::PlaceKey;
use super::explanation::Told;
use super::reply::Reply;
use count::Count;

/// A class's slips, counted.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct TallyView {
    /// True.
    pub ok: bool,
    /// Code of the lesson that is open here.
    pub lesson_code: String,
    /// Slips that count.
    pub counted: usize,
    /// Things that were opened and don't count.
    pub aside: Vec<AsideView>,
    /// Every question that somebody answered, in the order of the lesson.
    pub questions: Vec<QuestionView>,
    /// Ideas behind answers, the most frequent first.
    pub ideas: Vec<IdeaView>,
    /// The class's own times.
    pub times: Vec<TimesView>,
    /// A row for each slip.
    pub students: Vec<StudentView>,
}

/// Something that does not count, and why.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct AsideView {
    /// The name of its file.
    pub file: String,
    /// duplicate, earlier, blank, otherLesson, newer, tooLong, empty, notOurs, badCharacter,
    /// incomplete, damaged.
    pub key: &'static str,
    /// The file that counts instead.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub instead: Option<String>,
    /// Code of the lesson it belongs to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lesson: Option<String>,
    /// The newer version.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub version: Option<u32>,
}

/// A question with what the class answered.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct QuestionView {
    /// brief, end, or the dose from 0.
    pub at: PlaceKey,
    /// What the dose was.
    pub reagent: Option<&'static str>,
    /// From 1 among the doses of the same reagent; 0 in the brief and at the end.
    pub number: u32,
    /// guess, seen or choice.
    pub kind: &'static str,
    /// The question: its key, or the teacher's own words.
    pub question: AskEntry,
    /// What happened, or the key of the right choice; nothing where only the teacher can judge.
    pub outcome: Told,
    /// What was answered, each with how often: choices in the order in which they first came,
    /// seconds from few to many.
    pub answers: Vec<AnswerView>,
    /// The middle of the guessed seconds and their spread.
    pub seconds: Option<Spread>,
    /// Answers in free words, each with its student.
    pub words: Vec<(String, String)>,
    /// How many came to this question and left it open.
    pub open: usize,
}

/// One answer of a question.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AnswerView {
    /// The answer.
    pub answer: Told,
    /// How often.
    pub count: usize,
    /// same, near or other; of a choice same or other; none where only the teacher can judge.
    pub near: Option<&'static str>,
    /// Tag of the idea behind a choice.
    pub idea: Option<&'static str>,
}

/// An idea and how many students' answers point to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct IdeaView {
    /// Its tag.
    pub idea: &'static str,
    /// Students, each counted once.
    pub count: usize,
}

/// Times of one dose in one beaker against one finish.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TimesView {
    /// From 1 among the doses of acid.
    pub number: u32,
    /// The beaker, from 0.
    pub beaker: usize,
    /// Its temperature at the pour, °C.
    pub celsius: f64,
    /// Key of the colour that it had to show all through.
    pub finish: &'static str,
    /// The class's times.
    pub spread: Spread,
    /// The computed time.
    pub computed: Option<f64>,
}

/// Seconds of several people.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Spread {
    /// How many.
    pub n: usize,
    /// The shortest, s.
    pub least: f64,
    /// The middle one, s.
    pub middle: f64,
    /// The longest, s.
    pub most: f64,
    /// The mean, s.
    pub mean: f64,
    /// The standard deviation of one of them, s (n - 1 below the fraction); none of a single one.
    pub deviation: Option<f64>,
}

/// A slip as a row of a table.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct StudentView {
    /// The name of its file.
    pub file: String,
    /// The name or the code that was typed.
    pub signed: String,
    /// Which try it was, from 1.
    pub attempt: u32,
    /// Doses that were predicted.
    pub doses: usize,
    /// Predictions and choices that were what happened, near it, or something else.
    pub same: usize,
    /// As above.
    pub near: usize,
    /// As above.
    pub other: usize,
    /// Times that stand, and those that were taken back.
    pub times: usize,
    /// As above.
    pub taken_back: usize,
    /// Did that device compute what this one does? None where it can't be told.
    pub same_run: Option<bool>,
    /// Something for the teacher to look at: alike or sameName.
    pub remark: Option<&'static str>,
    /// The file that is about.
    pub remark_file: Option<String>,
    /// The note that was typed.
    pub note: String,
}

impl Spread {
    /// Of some seconds; none of none.
    pub fn of(mut seconds: Vec<f64>) -> Option<Spread> {
        in_order(&mut seconds, |one, other| one < other);
        let (&least, &most) = (seconds.first()?, seconds.last()?);
        let n = seconds.len();
        let mean = seconds.iter().sum::<f64>() / n as f64;
        let squares: f64 = seconds.iter().map(|value| (value - mean) * (value - mean)).sum();
        let deviation = (n > 1).then(|| (squares / (n - 1) as f64).sqrt());
        let middle = 0.5 * (seconds[(n - 1) / 2] + seconds[n / 2]);
        Some(Spread { n, least, middle, most, mean, deviation })
    }
}

/// A lesson's outcome, computed once.
pub(super) struct ClassRun {
    code: CheckCode,
    session: Session,
    outcomes: Vec<Outcome>,
    /// The bookkeeping after each dose, all beakers alike.
    rows: Vec<LedgerRow>,
    reached: Vec<Reached>,
}

impl ClassRun {
    fn of(lesson: &Lesson) -> Result<ClassRun, SessionError> {
        let (session, reached) = Session::run_through(lesson.clone())?;
        let outcomes = session.answers().iter().filter_map(|answer| session.outcome(answer)).collect();
        let mut ledger = Ledger::begin(&lesson.computed_recipe());
        for step in session.steps() {
            ledger.pour(step.reagent, step.amount_mmol());
        }
        // The first row is the start.
        let rows = ledger.rows().iter().skip(1).copied().collect();
        Ok(ClassRun { code: lesson.code(), session, outcomes, rows, reached })
    }

    /// What is computed for a time of a dose; none for a beaker that is not there.
    fn computed_s(&self, answer: &Answer, beaker: usize, finish: Band) -> Option<f64> {
        if beaker >= self.session.bench().len() {
            return None;
        }
        self.session.finish_s(answer, beaker, finish)
    }
}

impl Screen {
    /// Opens the text of a slip's file, or lines that were pasted.
    pub fn tally_add(&mut self, file: &str, text: &str) {
        self.pile.add(file, text);
    }

    /// Puts down a file that was too long to be opened.
    pub fn tally_too_long(&mut self, file: &str, chars: usize) {
        self.pile.add_unread(file, LinkError::TooLong { chars });
    }

    /// Takes all slips away.
    pub fn tally_clear(&mut self) {
        self.pile.clear();
    }

    /// How many slips, or things taken for one, were opened.
    pub fn tally_opened(&self) -> usize {
        self.pile.len()
    }

    /// The opened slips, counted for the lesson that is open here.
    ///
    /// # Errors
    /// `lessonOpen` while a guided lesson is under way, whose outcome it would tell; `model`.
    pub fn tally(&mut self) -> Result<TallyView, Reply> {
        let (run, pile) = self.class_run()?;
        Ok(Count::of(run, &pile.sorted(run.code)).view())
    }

    /// The opened slips as CSV, a row for each answer and each time.
    ///
    /// # Errors
    /// As [`Screen::tally`].
    pub fn tally_csv(&mut self, decimal_comma: bool) -> Result<String, Reply> {
        let (run, pile) = self.class_run()?;
        Ok(table::csv(run, &pile.sorted(run.code), decimal_comma))
    }

    fn class_run(&mut self) -> Result<(&ClassRun, &Pile), Reply> {
        if self.session.is_under_way() {
            return Err(Reply::refused("lessonOpen"));
        }
        let lesson = self.session.lesson();
        let known = self.class_run.take().filter(|run| run.code == lesson.code());
        let run = match known {
            Some(run) => run,
            None => ClassRun::of(lesson).map_err(|error| Reply::of::<()>(Err(error)))?,
        };
        Ok((self.class_run.insert(run), &self.pile))
    }
}

impl AsideView {
    fn of(aside: &Aside<'_>) -> AsideView {
        AsideView {
            file: aside.file.to_owned(),
            key: aside.key,
            instead: aside.instead.map(str::to_owned),
            lesson: aside.lesson.map(|code| code.to_string()),
            version: aside.version,
        }
    }
}

/// Puts a list in order, equal ones as they came. The standard library's ways weigh as much,
/// compressed, as the rest of this room together; a class's lists are short.
fn in_order<T>(list: &mut [T], before: impl Fn(&T, &T) -> bool) {
    for end in 1..list.len() {
        let mut at = end;
        while at > 0 && before(&list[at], &list[at - 1]) {
            list.swap(at, at - 1);
            at -= 1;
        }
    }
}

/// The dose's reagent and its number among those of the same.
fn dose_of(run: &ClassRun, step: usize) -> (Option<&'static str>, u32) {
    run.session.steps().get(step).map_or((None, 0), |step| (Some(Reagent::key(step.reagent)), step.number))
}
