//! Counting: each question of the lesson over all slips.

use crate::colour::Band;
use crate::lesson::{
    Ask, AskEntry, At, ChoiceQuestion, Counted, Guess, LedgerRow, Match, Question, Seconds, Sheet, Sorted,
};

use super::{
    AnswerView, AsideView, ClassRun, IdeaView, QuestionView, Spread, StudentView, TallyView, TimesView, dose_of,
    in_order,
};
use crate::view::asks::{PlaceKey, ideas_of_guess};
use crate::view::explanation::{Compared, Told, compare, told_answers_of};

/// Slips with their answers in order.
pub(super) struct Count<'a> {
    run: &'a ClassRun,
    sorted: &'a Sorted<'a>,
    sheets: Vec<Sheet>,
    questions: Vec<QuestionView>,
}

impl<'a> Count<'a> {
    pub(super) fn of(run: &'a ClassRun, sorted: &'a Sorted<'a>) -> Count<'a> {
        let steps = run.session.steps();
        let sheets = sorted.counted.iter().map(|counted| Sheet::of(&counted.slip.entries, steps.len())).collect();
        Count { run, sorted, sheets, questions: Vec::new() }
    }

    pub(super) fn view(mut self) -> TallyView {
        let doses = self.run.session.steps().len();
        self.choices(At::Brief);
        for dose in 0..doses {
            self.choices(At::Step(dose));
            self.predictions(dose, "guess");
            self.predictions(dose, "seen");
        }
        self.choices(At::End);
        let (times, ideas, students) = (self.times(), self.ideas(), self.students());
        TallyView {
            ok: true,
            lesson_code: self.run.code.to_string(),
            counted: self.sheets.len(),
            aside: self.sorted.aside.iter().map(AsideView::of).collect(),
            questions: self.questions,
            ideas,
            times,
            students,
        }
    }

    fn who(&self, index: usize) -> String {
        self.sorted.counted[index].who().to_owned()
    }

    fn row(&self, at: At) -> Option<&LedgerRow> {
        if let At::Step(dose) = at { self.run.rows.get(dose) } else { None }
    }

    fn empty(&self, at: At, kind: &'static str, question: AskEntry, outcome: Told) -> QuestionView {
        let (reagent, number) = if let At::Step(dose) = at { dose_of(self.run, dose) } else { (None, 0) };
        let (answers, words) = (Vec::new(), Vec::new());
        let at = PlaceKey::of(at);
        QuestionView { at, reagent, number, kind, question, outcome, answers, seconds: None, words, open: 0 }
    }

    /// The questions with choices of a place, and the teacher's own.
    fn choices(&mut self, at: At) {
        let asks = self.run.session.lesson().asks(at);
        let entries = AskEntry::all(&asks);
        for (ask, (asked, entry)) in asks.iter().zip(entries).enumerate() {
            let keyed = match asked {
                Ask::Card(_) => continue,
                Ask::Choice(question) => Some(*question),
                Ask::Own(_) => None,
            };
            let free = matches!(asked, Ask::Own(own) if own.choices.is_empty());
            let right = keyed.and_then(|question| question.right(self.row(at)));
            let outcome = right.map_or(Told::Nothing, |key| Told::Words(key.to_owned()));
            let mut view = self.empty(at, "choice", entry, outcome);
            for (index, sheet) in self.sheets.iter().enumerate() {
                match sheet.answer(at, ask) {
                    Some(words) if free => view.words.push((self.who(index), words.to_owned())),
                    Some(answer) => {
                        let (near, idea) = self.judged(keyed, answer, at);
                        add(&mut view.answers, Told::Words(answer.to_owned()), near, idea);
                    }
                    None if came_to(sheet, at) => view.open += 1,
                    None => {}
                }
            }
            self.keep(view);
        }
    }

    /// How near a choice is, and the idea behind it.
    fn judged(
        &self,
        question: Option<&'static ChoiceQuestion>,
        answer: &str,
        at: At,
    ) -> (Option<&'static str>, Option<&'static str>) {
        let Some(question) = question else { return (None, None) };
        let row = self.row(at);
        let near = question.right(row).map(|right| if right == answer { Match::Same } else { Match::Other }.key());
        (near, question.idea(answer, row))
    }

    /// The predictions of a dose, or what was seen of it.
    fn predictions(&mut self, dose: usize, kind: &'static str) {
        let Some(outcome) = self.run.outcomes.get(dose) else { return };
        let asked = self.run.session.lesson().questions(dose);
        // What happened, question by question: a complete answer set beside it tells.
        let happened = |question: Question| {
            let whole = Guess {
                at_once: Some(Band::Red),
                at_rest: Some(Band::Red),
                clarity: Some(outcome.clarity),
                seconds: Some(outcome.seconds()),
                first: Some(outcome.first()),
                why: None,
            };
            let told = compare(&whole, outcome).into_iter().find(|compared| compared.question == question.key());
            told.map_or(Told::Nothing, |compared| compared.outcome)
        };
        for question in Question::ALL {
            let entry = AskEntry::Key(question.key());
            let mut view = self.empty(At::Step(dose), kind, entry, happened(question));
            let mut seconds = Vec::new();
            for (index, sheet) in self.sheets.iter().enumerate() {
                let Some(said) = sheet.doses.get(dose) else { continue };
                let Some(guess) = (if kind == "guess" { Some(&said.guess) } else { said.seen.as_ref() }) else {
                    continue;
                };
                let answer = told_answers_of(guess).into_iter().find(|(key, _)| *key == question.key());
                match answer {
                    Some((_, Told::Words(words))) if question == Question::Why => {
                        view.words.push((self.who(index), words));
                    }
                    Some((key, answer)) => {
                        let compared = compare(guess, outcome).into_iter().find(|compared| compared.question == key);
                        add(&mut view.answers, answer, compared.and_then(|compared| compared.near), None);
                        if let (Question::Seconds, Some(Seconds::After(guessed))) = (question, guess.seconds) {
                            seconds.push(guessed);
                        }
                    }
                    None if kind == "guess" && asked.contains(&question) => view.open += 1,
                    None => {}
                }
            }
            if question == Question::Seconds {
                in_order(&mut view.answers, |one, other| in_seconds(&one.answer) < in_seconds(&other.answer));
                view.seconds = Spread::of(seconds);
            }
            self.keep(view);
        }
    }

    /// A question that nobody answered is not shown.
    fn keep(&mut self, view: QuestionView) {
        if !view.answers.is_empty() || !view.words.is_empty() {
            self.questions.push(view);
        }
    }

    /// Each idea that a student's choices or predictions point to, once.
    fn ideas_of(&self, sheet: &Sheet) -> Vec<&'static str> {
        let mut found: Vec<&'static str> = Vec::new();
        for (at, ask, answer) in &sheet.chosen {
            if let Some(Ask::Choice(question)) = self.run.session.lesson().asks(*at).get(*ask) {
                found.extend(question.idea(answer, self.row(*at)));
            }
        }
        let steps = self.run.session.steps();
        for (((said, outcome), step), row) in sheet.doses.iter().zip(&self.run.outcomes).zip(steps).zip(&self.run.rows)
        {
            found.extend(ideas_of_guess(&said.guess, outcome, step.reagent, row));
        }
        let mut once = Vec::new();
        for idea in found {
            if !once.contains(&idea) {
                once.push(idea);
            }
        }
        once
    }

    fn ideas(&self) -> Vec<IdeaView> {
        let mut ideas: Vec<IdeaView> = Vec::new();
        for idea in self.sheets.iter().flat_map(|sheet| self.ideas_of(sheet)) {
            match ideas.iter_mut().find(|known| known.idea == idea) {
                Some(known) => known.count += 1,
                None => ideas.push(IdeaView { idea, count: 1 }),
            }
        }
        in_order(&mut ideas, |one, other| (other.count, one.idea) < (one.count, other.idea));
        ideas
    }

    fn times(&self) -> Vec<TimesView> {
        let session = &self.run.session;
        let mut times = Vec::new();
        self.run.each_pressed(self.sheets.iter(), &mut |dose, beaker, finish, stand| {
            let seconds = stand.into_iter().map(|(_, seconds)| seconds);
            let (Some(spread), Some(answer)) = (Spread::of(seconds.collect()), session.answers().get(dose)) else {
                return;
            };
            times.push(TimesView {
                number: dose_of(self.run, dose).1,
                beaker,
                celsius: self.run.celsius(dose, beaker, 0.0),
                finish: finish.key(),
                spread,
                computed: session.finish_s(answer, beaker, finish),
            });
        });
        times
    }

    fn students(&self) -> Vec<StudentView> {
        self.sorted.counted.iter().zip(&self.sheets).map(|(counted, sheet)| self.student(counted, sheet)).collect()
    }

    fn student(&self, counted: &Counted<'_>, sheet: &Sheet) -> StudentView {
        let slip = counted.slip;
        let guesses = sheet.doses.iter().zip(&self.run.outcomes);
        let predicted = guesses.flat_map(|(said, outcome)| compare(&said.guess, outcome));
        let mut nears: Vec<&str> = predicted.filter_map(|compared: Compared| compared.near).collect();
        for (at, ask, answer) in &sheet.chosen {
            if let Some(Ask::Choice(question)) = self.run.session.lesson().asks(*at).get(*ask) {
                nears.extend(self.judged(Some(question), answer, *at).0);
            }
        }
        let count = |near: Match| nears.iter().filter(|known| **known == near.key()).count();
        let times = |back: bool| {
            let all = sheet.doses.iter().flat_map(|said| &said.times);
            all.filter(|time| time.taken_back == back).count()
        };
        StudentView {
            file: counted.file.to_owned(),
            signed: slip.signed.clone(),
            attempt: slip.attempt,
            doses: sheet.doses.len(),
            same: count(Match::Same),
            near: count(Match::Near),
            other: count(Match::Other),
            times: times(false),
            taken_back: times(true),
            same_run: self.same_run(counted, sheet),
            remark: counted.remark.map(|(key, _)| key),
            remark_file: counted.remark.map(|(_, file)| file.to_owned()),
            note: slip.note.clone(),
        }
    }

    /// Was a slip handed in at a rest, and is its code the one that this device has there?
    fn same_run(&self, counted: &Counted<'_>, sheet: &Sheet) -> Option<bool> {
        let here = self.run.reached.get(sheet.doses.len())?;
        let there = counted.slip.reached;
        (here.now_ds == there.now_ds).then_some(here.code == there.code)
    }
}

fn add(answers: &mut Vec<AnswerView>, answer: Told, near: Option<&'static str>, idea: Option<&'static str>) {
    match answers.iter_mut().find(|known| known.answer == answer) {
        Some(known) => known.count += 1,
        None => answers.push(AnswerView { answer, count: 1, near, idea }),
    }
}

/// "Never" comes after every number of seconds.
fn in_seconds(answer: &Told) -> f64 {
    if let Told::Number(seconds) = answer { *seconds } else { f64::INFINITY }
}

/// Did a student come as far as this place?
fn came_to(sheet: &Sheet, at: At) -> bool {
    match at {
        At::Brief => true,
        At::Step(dose) => sheet.doses.len() > dose,
        At::End => sheet.chosen.iter().any(|(place, ..)| *place == At::End),
    }
}
