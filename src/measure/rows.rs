//! The table of measured times, as typed or as pasted from a spreadsheet.

use crate::colour::Band;
use crate::lesson::{NumberError, parse_number};

use super::cells::{Delimiter, cells};
use super::clock;
use super::timing::{CELSIUS_RANGE, SECONDS, Timing};

/// The cells of a row, in the order in which they stand.
pub const ROW_FIELDS: [&str; 6] = ["dose", "start", "end", "seconds", "finish", "beaker"];

/// A row as typed: dose, °C at the start and at the end, seconds (or m:ss), key or letter of the finish colour, beaker. The end,
/// the finish (green) and the beaker may be left empty.
pub type Row = [String; 6];

/// A cell that was refused.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RowTrouble {
    /// Which row, from 0.
    pub row: usize,
    /// Which cell: one of [`ROW_FIELDS`].
    pub field: &'static str,
    /// empty, notANumber, tooSmall, tooBig or unknown.
    pub key: &'static str,
    /// What may stand there.
    pub range: [f64; 2],
}

/// Most rows that are looked at.
pub const ROWS_MAX: usize = 2000;

/// Longest part of a pasted line that is looked at, in characters: many times what six cells take.
const LINE_MAX_CHARS: usize = 1000;

/// Rows as timings; rows with nothing in them are left out of account. Beside each timing its row.
///
/// # Errors
/// Every cell that is refused.
pub fn timings(rows: &[Row], doses: u32) -> Result<Vec<(usize, Timing)>, Vec<RowTrouble>> {
    let (mut found, mut troubles) = (Vec::new(), Vec::new());
    for (row, cells) in rows.iter().enumerate().take(ROWS_MAX) {
        if cells.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        let before = troubles.len();
        let mut number = |index: usize, range: [f64; 2], whole: bool, may_be_empty: bool| {
            let mut refuse = |key| troubles.push(RowTrouble { row, field: ROW_FIELDS[index], key, range });
            let read = match clock::seconds(&cells[index]).filter(|_| index == 3) {
                Some(seconds) => Ok((seconds, 0)),
                None => parse_number(&cells[index]),
            };
            match read {
                Err(NumberError::Empty) if may_be_empty => return None,
                Err(NumberError::Empty) => refuse("empty"),
                Ok((value, _)) if whole && value != libm::floor(value) => refuse("notANumber"),
                Err(NumberError::NotANumber) => refuse("notANumber"),
                Ok((value, _)) if value < range[0] => refuse("tooSmall"),
                Ok((value, _)) if value > range[1] => refuse("tooBig"),
                Ok((value, _)) => return Some(value),
            }
            None
        };
        let dose = number(0, [1.0, f64::from(doses)], true, false);
        let start_c = number(1, CELSIUS_RANGE, false, false);
        let end_c = number(2, CELSIUS_RANGE, false, true);
        let seconds = number(3, SECONDS, false, false);
        let beaker = number(5, [1.0, 99.0], true, true);
        let finish = finish(&cells[4]);
        if finish.is_none() {
            troubles.push(RowTrouble { row, field: "finish", key: "unknown", range: [0.0, 0.0] });
        }
        if let (true, Some(dose), Some(start_c), Some(seconds), Some(finish)) =
            (troubles.len() == before, dose, start_c, seconds, finish)
        {
            let beaker = beaker.map(|beaker| beaker as u32);
            found.push((row, Timing { dose: dose as u32, beaker, start_c, end_c, seconds, finish }));
        }
    }
    if troubles.is_empty() { Ok(found) } else { Err(troubles) }
}

/// A colour that can stop a clock: the key or the letter of a band; green where nothing stands. Red is where it begins.
fn finish(cell: &str) -> Option<Band> {
    let cell = cell.trim();
    if cell.is_empty() {
        return Some(Band::Green);
    }
    let named = |band: &Band| {
        let letter = |sign: char| sign.eq_ignore_ascii_case(&band.letter());
        band.key().eq_ignore_ascii_case(cell) || (cell.len() == 1 && cell.chars().all(letter))
    };
    Band::ALL.into_iter().filter(|band| *band != Band::Red).find(named)
}

/// A table pasted from a spreadsheet, as rows. Where a head names its columns in words that are known, they are put in their
/// places; else a table of three columns is dose, °C and seconds, and a wider one has the order of [`ROW_FIELDS`].
pub fn pasted(text: &str) -> Vec<Row> {
    let lines = || text.lines().filter(|line| !line.trim().is_empty()).take(ROWS_MAX + 1).map(beginning);
    let shown: Vec<&str> = lines().take(50).collect();
    let delimiter = Delimiter::of(&shown);
    let is_number = |cell: &str| parse_number(cell).is_ok() || clock::seconds(cell).is_some();
    // A line of empty quotes between spaces has no cell at all.
    let is_head = |cells: &Vec<&str>| !cells.first().is_some_and(|cell| is_number(cell));
    let head: Option<Vec<&str>> = shown.first().map(|line| cells(line, delimiter)).filter(is_head);
    let width = shown.iter().map(|line| cells(line, delimiter).len()).max().unwrap_or(0);
    let mut places: Vec<Option<usize>> = match &head {
        Some(names) => names.iter().map(|name| place(name)).collect(),
        None => Vec::new(),
    };
    if places.iter().flatten().count() < 3 {
        places = if width == 3 { vec![Some(0), Some(1), Some(3)] } else { (0..6).map(Some).collect() };
    }
    let row = |line: &str| {
        let mut row = Row::default();
        for (cell, place) in cells(line, delimiter).iter().zip(&places) {
            if let Some(place) = *place
                && row[place].is_empty()
            {
                row[place] = cell.chars().take(40).collect();
            }
        }
        row
    };
    lines().skip(usize::from(head.is_some())).map(row).collect()
}

fn beginning(line: &str) -> &str {
    line.char_indices().nth(LINE_MAX_CHARS).map_or(line, |(end, _)| &line[..end])
}

/// The place of a column by its name, in English and Spanish.
fn place(name: &str) -> Option<usize> {
    const WORDS: [(usize, &[&str]); 6] = [
        (5, &["beaker", "vaso"]),
        (2, &["end", "after", "final"]),
        (1, &["start", "before", "temp", "°c", "inicio", "inicial"]),
        (4, &["finish", "colour", "color"]),
        (0, &["dose", "dosis"]),
        (3, &["second", "time", "segundo", "tiempo", "(s)"]),
    ];
    let name = name.to_ascii_lowercase();
    let named = |words: &[&str]| words.iter().any(|word| name.contains(word));
    if name == "t" || name == "s" {
        return Some(3);
    }
    WORDS.into_iter().find(|(_, words)| named(words)).map(|(place, _)| place)
}
