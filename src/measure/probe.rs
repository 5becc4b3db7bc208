//! A pH probe's file: whatever its maker, a column of times and one of pH. What is assumed is told, and can be said
//! otherwise.

use super::cells::{Delimiter, Mark, cells};
use super::clock;
use super::columns::{Column, Columns};
use super::encoding::{Encoding, decode};

/// Largest file that is looked at, bytes: many times what a hundred thousand rows take.
pub const PROBE_MAX_BYTES: usize = 16_000_000;
/// Most rows that are read: more than a day of one reading each second.
pub const PROBE_MAX_ROWS: usize = 150_000;
/// Longest recording, s: a day. What is longer counts something else than seconds.
pub const PROBE_MAX_S: f64 = DAY_S;
/// What a pH may be; a cell in between whose readings lie outside shows millivolts, or a probe that was never calibrated.
const PH: [f64; 2] = [-1.0, 15.0];
/// Share of rows that may be broken before the whole is in doubt.
const BROKEN_SHARE: f64 = 0.1;
/// Share of rows whose time may lie before that of the row above, likewise.
const BACKWARDS_SHARE: f64 = 0.02;
const DAY_S: f64 = 86_400.0;
const HALF_DAY_S: f64 = DAY_S / 2.0;

/// What a column of times counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TimeUnit {
    /// Seconds.
    Seconds,
    /// Minutes, with decimals.
    Minutes,
    /// Hours, with decimals.
    Hours,
    /// A clock: h:mm:ss or m:ss.
    Clock,
}

impl TimeUnit {
    /// The name at the edge.
    pub fn key(self) -> &'static str {
        match self {
            TimeUnit::Seconds => "seconds",
            TimeUnit::Minutes => "minutes",
            TimeUnit::Hours => "hours",
            TimeUnit::Clock => "clock",
        }
    }

    /// The unit of a name.
    pub fn of_key(key: &str) -> Option<TimeUnit> {
        [TimeUnit::Seconds, TimeUnit::Minutes, TimeUnit::Hours, TimeUnit::Clock]
            .into_iter()
            .find(|unit| unit.key() == key)
    }

    fn seconds(self) -> f64 {
        match self {
            TimeUnit::Seconds | TimeUnit::Clock => 1.0,
            TimeUnit::Minutes => 60.0,
            TimeUnit::Hours => 3600.0,
        }
    }
}

/// What the reader is told instead of assuming it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Wishes {
    /// The sign between cells.
    pub delimiter: Option<Delimiter>,
    /// The decimal mark.
    pub mark: Option<Mark>,
    /// The column of times, from 0.
    pub time_column: Option<usize>,
    /// The column of pH, from 0.
    pub ph_column: Option<usize>,
    /// What the times count.
    pub time_unit: Option<TimeUnit>,
}

/// How a file was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Assumed {
    /// How its letters were written.
    pub encoding: Encoding,
    /// The sign between cells.
    pub delimiter: Delimiter,
    /// The decimal mark.
    pub mark: Mark,
    /// Every column.
    pub columns: Vec<Column>,
    /// Which of them holds the times.
    pub time_column: usize,
    /// Which holds the pH.
    pub ph_column: usize,
    /// What the times count.
    pub time_unit: TimeUnit,
    /// Rows that were passed over since they hold no time and pH, or a time already past.
    pub passed_over: usize,
    /// The line, from 1, of the first of them.
    pub first_passed_over: Option<usize>,
}

/// A probe's readings.
#[derive(Clone, Debug, PartialEq)]
pub struct Probe {
    /// Seconds since the first reading, rising.
    pub time_s: Vec<f64>,
    /// pH, as many.
    pub ph: Vec<f64>,
    /// How they were read.
    pub assumed: Assumed,
}

/// Why a file cannot be read as a probe's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ProbeError {
    /// More bytes than are looked at.
    TooLarge {
        /// Bytes found.
        bytes: usize,
    },
    /// More rows than are looked at.
    TooManyRows {
        /// Rows found.
        rows: usize,
    },
    /// Nothing in it.
    Empty,
    /// A single column: no pH beside the times.
    OneColumn,
    /// No row with a time and a pH.
    NoNumbers,
    /// A single row.
    OneRow,
    /// Times run backwards.
    Backwards {
        /// The line, from 1, where they first do.
        line: usize,
    },
    /// A recording longer than a day.
    TooLong {
        /// How long, s.
        seconds: f64,
    },
    /// The column does not hold pH.
    NotPh {
        /// Its lowest number.
        low: f64,
        /// Its highest.
        high: f64,
    },
}

impl ProbeError {
    /// The name at the edge.
    pub fn key(self) -> &'static str {
        match self {
            ProbeError::TooLarge { .. } => "tooLarge",
            ProbeError::TooManyRows { .. } => "tooManyRows",
            ProbeError::Empty => "empty",
            ProbeError::OneColumn => "oneColumn",
            ProbeError::NoNumbers => "noNumbers",
            ProbeError::OneRow => "oneRow",
            ProbeError::Backwards { .. } => "backwards",
            ProbeError::TooLong { .. } => "tooLong",
            ProbeError::NotPh { .. } => "notPh",
        }
    }
}

impl Probe {
    /// Reads a file. What `wishes` leave open is assumed.
    ///
    /// # Errors
    /// A [`ProbeError`]; limits come before anything is kept.
    pub fn read(bytes: &[u8], wishes: &Wishes) -> Result<Probe, ProbeError> {
        if bytes.len() > PROBE_MAX_BYTES {
            return Err(ProbeError::TooLarge { bytes: bytes.len() });
        }
        let (text, encoding) = decode(bytes);
        let ends = if text.contains('\n') { '\n' } else { '\r' };
        let rows = text.split(ends).filter(|line| !line.trim().is_empty()).count();
        if rows > PROBE_MAX_ROWS {
            return Err(ProbeError::TooManyRows { rows });
        }
        // A spreadsheet's own way to say what parts its cells.
        let (named, ahead) = match text.split(ends).next().and_then(|line| line.trim().strip_prefix("sep=")) {
            Some(sign) => (Delimiter::of_sign(sign), 1),
            None => (None, 0),
        };
        let lines = || text.split(ends).enumerate().skip(ahead).filter(|(_, line)| !line.trim().is_empty());
        let shown: Vec<&str> = lines().map(|(_, line)| line).take(SAMPLE).collect();
        if shown.is_empty() {
            return Err(ProbeError::Empty);
        }
        let delimiter = wishes.delimiter.or(named).unwrap_or_else(|| Delimiter::of(&shown));
        let mark = wishes.mark.unwrap_or_else(|| Mark::of(shown.iter().flat_map(|line| cells(line, delimiter))));
        let columns = Columns::of(&shown, delimiter, mark).ok_or(ProbeError::NoNumbers)?;
        if columns.columns.len() < 2 {
            return Err(ProbeError::OneColumn);
        }
        let last = columns.columns.len() - 1;
        let time_column = wishes.time_column.unwrap_or_else(|| columns.time()).min(last);
        let ph_column = wishes.ph_column.unwrap_or_else(|| columns.ph(time_column)).min(last);
        let time_unit = wishes.time_unit.unwrap_or_else(|| columns.time_unit(time_column));
        let mut reader = Reader { range: [f64::INFINITY, f64::NEG_INFINITY], ..Reader::default() };
        for (number, line) in lines().skip(columns.heads) {
            let cells = cells(line, delimiter);
            let cell = |column: usize| cells.get(column).copied().unwrap_or("");
            let time_s = match time_unit {
                TimeUnit::Clock => clock::seconds(cell(time_column)),
                unit => mark.read(cell(time_column)).map(|time| time * unit.seconds()),
            };
            match (time_s, mark.read(cell(ph_column))) {
                (Some(time_s), Some(ph)) => reader.take(number + 1, time_s, ph, time_unit == TimeUnit::Clock),
                _ => reader.passed_over.push(number + 1),
            }
        }
        let assumed = Assumed {
            encoding,
            delimiter,
            mark,
            columns: columns.columns,
            time_column,
            ph_column,
            time_unit,
            passed_over: 0,
            first_passed_over: None,
        };
        reader.probe(assumed)
    }

    /// The dose times that the falls of the pH show, s: where it falls by so much within a few seconds, as no reaction but a
    /// pour of acid does it.
    pub fn falls_s(&self) -> Vec<f64> {
        let mut falls = Vec::new();
        let mut index = 1;
        while index < self.ph.len() {
            // The lowest within the next seconds, or at the next reading where they come less often.
            let from_s = self.time_s[index - 1];
            let near = |at: &usize| *at == index || self.time_s[*at] - from_s <= FALL_S;
            let lowest = (index..self.ph.len()).take_while(near).map(|at| self.ph[at]).fold(f64::INFINITY, f64::min);
            let begins = self.ph[index - 1] - self.ph[index] > FALL_BEGINS_PH;
            if begins && self.ph[index - 1] - lowest >= FALL_PH {
                falls.push(from_s);
                while index < self.ph.len() && self.time_s[index] - from_s < APART_S {
                    index += 1;
                }
            }
            index += 1;
        }
        falls
    }
}

/// Lines by which a file's make is judged.
const SAMPLE: usize = 500;
/// A fall of this many units of pH within so many seconds is a dose: common practice, no source. Most doses fall from above
/// 8 to below 4.
const FALL_PH: f64 = 1.5;
const FALL_S: f64 = 6.0;
/// It begins where a single reading falls by more than a probe's noise.
const FALL_BEGINS_PH: f64 = 0.1;
/// No two doses come closer than this, s.
const APART_S: f64 = 8.0;

#[derive(Default)]
struct Reader {
    time_s: Vec<f64>,
    ph: Vec<f64>,
    /// Days that a clock has gone past midnight, s.
    days_s: f64,
    passed_over: Vec<usize>,
    backwards: Vec<usize>,
    /// Readings that are no pH, and the range of all.
    strange: usize,
    range: [f64; 2],
}

impl Reader {
    fn take(&mut self, line: usize, time_s: f64, ph: f64, is_clock: bool) {
        self.range = [self.range[0].min(ph), self.range[1].max(ph)];
        if !(PH[0]..=PH[1]).contains(&ph) {
            self.strange += 1;
            self.passed_over.push(line);
            return;
        }
        let mut time_s = time_s + self.days_s;
        if let Some(last_s) = self.time_s.last().copied() {
            if is_clock && time_s < last_s - HALF_DAY_S {
                self.days_s += DAY_S;
                time_s += DAY_S;
            }
            if time_s <= last_s {
                self.passed_over.push(line);
                if time_s < last_s {
                    self.backwards.push(line);
                }
                return;
            }
        }
        self.time_s.push(time_s);
        self.ph.push(ph);
    }

    fn probe(mut self, assumed: Assumed) -> Result<Probe, ProbeError> {
        let rows = self.ph.len();
        if self.strange as f64 > BROKEN_SHARE * (rows + self.strange) as f64 {
            return Err(ProbeError::NotPh { low: self.range[0], high: self.range[1] });
        }
        if rows == 0 {
            return Err(ProbeError::NoNumbers);
        }
        let backwards = self.backwards.len() as f64 > BACKWARDS_SHARE * (rows + self.backwards.len()) as f64;
        if let Some(line) = self.backwards.first().copied().filter(|_| backwards) {
            return Err(ProbeError::Backwards { line });
        }
        if rows == 1 {
            return Err(ProbeError::OneRow);
        }
        let seconds = self.time_s[rows - 1] - self.time_s[0];
        if seconds > PROBE_MAX_S {
            return Err(ProbeError::TooLong { seconds });
        }
        let first_s = self.time_s[0];
        for time_s in &mut self.time_s {
            *time_s -= first_s;
        }
        let (passed_over, first_passed_over) = (self.passed_over.len(), self.passed_over.first().copied());
        let assumed = Assumed { passed_over, first_passed_over, ..assumed };
        Ok(Probe { time_s: self.time_s, ph: self.ph, assumed })
    }
}
