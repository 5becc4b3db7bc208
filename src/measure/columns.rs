//! What the columns of a table hold: by their names, and by the numbers below them.

use super::cells::{Delimiter, Mark, cells};
use super::clock;
use super::probe::TimeUnit;

/// A column of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// What stands above it, with its unit; empty where nothing does.
    pub name: String,
    /// How many of the looked-at cells are numbers or times.
    pub numbers: usize,
    /// Lowest and highest number among them.
    pub range: [f64; 2],
    clocks: usize,
    rises: bool,
}

/// The columns of a table.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Columns {
    pub columns: Vec<Column>,
    /// Lines above the numbers.
    pub heads: usize,
}

/// Longest name that is kept, characters.
const NAME_CHARS: usize = 60;

impl Columns {
    /// The columns of lines that are not blank; none where no line has a number.
    pub(super) fn of(lines: &[&str], delimiter: Delimiter, mark: Mark) -> Option<Columns> {
        let table: Vec<Vec<&str>> = lines.iter().map(|line| cells(line, delimiter)).collect();
        let value = |cell: &str| clock::seconds(cell).or_else(|| mark.read(cell));
        // The first line that is mostly numbers: a title with a date in it is not.
        let is_data = |row: &Vec<&str>| {
            let filled = row.iter().filter(|cell| !cell.is_empty()).count();
            let numbers = row.iter().filter(|cell| value(cell).is_some()).count();
            numbers > 0 && 2 * numbers >= filled && (numbers > 1 || row.len() == 1)
        };
        let heads = table.iter().position(is_data)?;
        let count = table[heads..].iter().filter(|row| is_data(row)).map(Vec::len).max().unwrap_or(0);
        // Names, and units below them: the lines just above the numbers that have as many cells.
        let named = table[..heads].iter().rev().take(2).take_while(|row| row.len() >= 2 && row.len() + 1 >= count);
        let mut named: Vec<&Vec<&str>> = named.collect();
        named.reverse();
        let columns = (0..count).map(|column| {
            let words: Vec<&str> =
                named.iter().filter_map(|row| row.get(column).copied()).filter(|word| !word.is_empty()).collect();
            let below = table[heads..].iter().filter_map(|row| row.get(column).copied());
            let values: Vec<f64> = below.clone().filter_map(value).collect();
            Column {
                name: words.join(" ").chars().take(NAME_CHARS).collect(),
                numbers: values.len(),
                range: values
                    .iter()
                    .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], v| [low.min(*v), high.max(*v)]),
                clocks: below.filter(|cell| clock::seconds(cell).is_some()).count(),
                rises: values.len() > 1
                    && 10 * values.windows(2).filter(|two| two[1] > two[0]).count() >= 9 * (values.len() - 1),
            }
        });
        Some(Columns { columns: columns.collect(), heads })
    }

    /// The column that is likeliest to hold the times.
    pub(super) fn time(&self) -> usize {
        let clock = |column: &Column| 2 * column.clocks > column.numbers;
        let named = |column: &Column| column.rises && TIME_WORDS.iter().any(|word| column.has_word(word));
        let rising = |column: &Column| column.rises && !column.has_word("ph");
        let find = |is: &dyn Fn(&Column) -> bool| self.columns.iter().position(is);
        // A column of clock times beside one of seconds is the coarser of the two.
        find(&named).or_else(|| find(&clock)).or_else(|| find(&rising)).unwrap_or(0)
    }

    /// The column beside the times that is likeliest to hold the pH.
    pub(super) fn ph(&self, time: usize) -> usize {
        let find = |is: &dyn Fn(&Column) -> bool| {
            self.columns
                .iter()
                .enumerate()
                .position(|(index, column)| index != time && column.numbers > 0 && is(column))
        };
        let named = |column: &Column| column.has_word("ph");
        let like_ph = |column: &Column| column.range[0] >= 0.0 && column.range[1] <= 14.0 && !column.rises;
        find(&named).or_else(|| find(&like_ph)).or_else(|| find(&|_| true)).unwrap_or(usize::from(time == 0))
    }

    /// What the times count, by the column's name.
    pub(super) fn time_unit(&self, time: usize) -> TimeUnit {
        let column = &self.columns[time];
        if 2 * column.clocks > column.numbers {
            TimeUnit::Clock
        } else if ["min", "mins", "minute", "minutes", "minuten", "minutos"].iter().any(|word| column.has_word(word)) {
            TimeUnit::Minutes
        } else if ["h", "hr", "hrs", "hour", "hours", "stunden", "horas", "heures"]
            .iter()
            .any(|word| column.has_word(word))
        {
            TimeUnit::Hours
        } else {
            TimeUnit::Seconds
        }
    }
}

/// How the column of times is called, in a few of the languages that probes speak.
const TIME_WORDS: [&str; 14] = [
    "time", "elapsed", "t", "zeit", "temps", "tiempo", "tempo", "tid", "tijd", "czas", "s", "sec", "seconds",
    "segundos",
];

/// Letters and digits; of those beyond ASCII all but punctuation. The standard library's tables of all letters weigh more than
/// the rest of this reader.
fn is_letter(sign: char) -> bool {
    let punctuation = matches!(sign, '\u{80}'..='\u{bf}' | '\u{2000}'..='\u{206f}' | '\u{3000}'..='\u{303f}' | '\u{ff00}'..='\u{ff0f}');
    sign.is_ascii_alphanumeric() || (!sign.is_ascii() && !punctuation)
}

impl Column {
    /// Whether a word stands in its name: letters and digits between other signs.
    fn has_word(&self, word: &str) -> bool {
        self.name.split(|sign| !is_letter(sign)).any(|part| part.eq_ignore_ascii_case(word))
    }
}
