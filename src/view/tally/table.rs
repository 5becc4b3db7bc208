//! A class's slips as a file for a spreadsheet: a row for each answer and each time.
//!
//! The writer is [`crate::record`]'s. The csv crate reads and checks it in the tests; in the
//! core it would add its reader's and writer's weight to a dozen lines.

use crate::chemistry::Reagent;
use crate::constants::CELSIUS_ZERO_K;
use crate::lesson::{Ask, AskEntry, At, Counted, DoseSheet, Sheet, Sorted, Step};
use crate::record::{Cells, Column, Dialect, to_csv};

use super::ClassRun;
use crate::view::explanation::{Told, compare, rounded, told_answers_of};

/// The columns of words and of numbers, row by row.
#[derive(Default)]
struct Rows {
    words: [Vec<String>; 10],
    numbers: [Vec<f64>; 6],
}

/// Names of the word columns, in their order.
const WORDS: [&str; 10] =
    ["file", "student", "kind", "reagent", "question", "answer", "outcome", "near", "idea", "finish"];

/// Names of the number columns and their decimals.
const NUMBERS: [(&str, usize); 6] =
    [("try", 0), ("dose", 0), ("beaker", 0), ("temperature_C", 1), ("time_s", 1), ("computed_s", 1)];

/// One row; what it does not say is empty.
struct Row<'a> {
    words: [&'a str; 10],
    numbers: [f64; 6],
}

pub(super) fn csv(run: &ClassRun, sorted: &Sorted<'_>, decimal_comma: bool) -> String {
    let mut rows = Rows::default();
    for counted in &sorted.counted {
        let sheet = Sheet::of(&counted.slip.entries, run.session.steps().len());
        rows.add_slip(run, counted, &sheet);
    }
    let words = WORDS.into_iter().zip(rows.words).map(|(name, words)| Column { name, cells: Cells::Words(words) });
    let mut columns: Vec<Column> = words.collect();
    for ((name, decimals), values) in NUMBERS.into_iter().zip(rows.numbers) {
        columns.push(Column { name, cells: Cells::Numbers { values, decimals } });
    }
    to_csv(&columns, if decimal_comma { Dialect::SemicolonComma } else { Dialect::CommaPoint })
}

impl Rows {
    fn add(&mut self, counted: &Counted<'_>, row: Row<'_>) {
        for (column, word) in self.words.iter_mut().zip(row.words) {
            column.push(word.to_owned());
        }
        counted.file.clone_into(self.words[0].last_mut().expect("just pushed"));
        counted.slip.signed.clone_into(self.words[1].last_mut().expect("just pushed"));
        for (column, number) in self.numbers.iter_mut().zip(row.numbers) {
            column.push(number);
        }
        *self.numbers[0].last_mut().expect("just pushed") = f64::from(counted.slip.attempt);
    }

    fn add_slip(&mut self, run: &ClassRun, counted: &Counted<'_>, sheet: &Sheet) {
        for (at, ask, answer) in &sheet.chosen {
            self.add_choice(run, counted, *at, *ask, answer);
        }
        for (dose, (said, step)) in sheet.doses.iter().zip(run.session.steps()).enumerate() {
            self.add_dose(run, counted, dose, said, step);
        }
        if !counted.slip.note.is_empty() {
            let words = ["", "", "note", "", "", &counted.slip.note, "", "", "", ""];
            self.add(counted, Row { words, numbers: [f64::NAN; 6] });
        }
    }

    fn add_choice(&mut self, run: &ClassRun, counted: &Counted<'_>, at: At, ask: usize, answer: &str) {
        let asks = run.session.lesson().asks(at);
        let Some(asked) = asks.get(ask) else { return };
        let entry = AskEntry::all(&asks).swap_remove(ask);
        let question = match &entry {
            AskEntry::Key(key) => (*key).to_owned(),
            AskEntry::Own(own) => own.text.clone(),
        };
        let step = if let At::Step(dose) = at { run.session.steps().get(dose) } else { None };
        let (mut outcome, mut near, mut idea) = ("", "", "");
        let mut own = "";
        match asked {
            Ask::Choice(keyed) => {
                let row = run.rows.get(if let At::Step(dose) = at { dose } else { usize::MAX });
                outcome = keyed.right(row).unwrap_or("");
                near = if outcome.is_empty() {
                    ""
                } else if outcome == answer {
                    "same"
                } else {
                    "other"
                };
                idea = keyed.idea(answer, row).unwrap_or("");
            }
            Ask::Own(asked) => {
                own = answer.parse().ok().and_then(|index: usize| asked.choices.get(index)).map_or("", String::as_str);
            }
            Ask::Card(_) => {}
        }
        let said = if own.is_empty() { answer } else { own };
        let place = step.map_or(if at == At::Brief { "brief" } else { "end" }, |step| step.reagent.key());
        let mut numbers = [f64::NAN; 6];
        numbers[1] = step.map_or(f64::NAN, |step| f64::from(step.number));
        self.add(counted, Row { words: ["", "", "choice", place, &question, said, outcome, near, idea, ""], numbers });
    }

    fn add_dose(&mut self, run: &ClassRun, counted: &Counted<'_>, dose: usize, said: &DoseSheet, step: &Step) {
        let reagent = Reagent::key(step.reagent);
        let mut numbers = [f64::NAN; 6];
        numbers[1] = f64::from(step.number);
        for (kind, guess) in [("guess", Some(&said.guess)), ("seen", said.seen.as_ref())] {
            let (Some(guess), Some(outcome)) = (guess, run.outcomes.get(dose)) else { continue };
            for ((key, answer), compared) in told_answers_of(guess).into_iter().zip(compare(guess, outcome)) {
                let (answer, happened) = (in_words(key, &answer), in_words(key, &compared.outcome));
                let near = compared.near.unwrap_or("");
                let words = ["", "", kind, reagent, key, &answer, &happened, near, "", ""];
                self.add(counted, Row { words, numbers });
            }
        }
        let Some(answer) = run.session.answers().get(dose) else { return };
        for time in &said.times {
            let kind = if time.taken_back { "time taken back" } else { "time" };
            let kelvin = run.session.reading(time.beaker.min(run.session.bench().len() - 1), answer.poured_s());
            numbers[2] = time.beaker as f64 + 1.0;
            numbers[3] = rounded(kelvin.temperature_k - CELSIUS_ZERO_K, 1);
            numbers[4] = f64::from(time.since_ds) / 10.0;
            numbers[5] = run.computed_s(answer, time.beaker, time.finish).unwrap_or(f64::NAN);
            let words = ["", "", kind, reagent, "", "", "", "", "", time.finish.key()];
            self.add(counted, Row { words, numbers });
        }
    }
}

fn in_words(question: &str, told: &Told) -> String {
    match told {
        Told::Words(words) => words.clone(),
        // A beaker counts from 1 for people.
        Told::Number(beaker) if question == "first" => crate::record::briefly(*beaker + 1.0),
        Told::Number(number) => crate::record::briefly(*number),
        Told::Nothing => String::new(),
    }
}
