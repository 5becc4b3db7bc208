//! Reads the files of NIST's Statistical Reference Datasets as they were published.
//!
//! NIST/ITL StRD, https://www.itl.nist.gov/div898/strd/ (a work of the United States' government, in the public domain). The
//! files here are the copies that the Python packages scipy 1.17.1 (Norris.dat, in `stats/tests/data/nist_linregress`) and
//! lmfit 1.3.3 (the rest, in `NIST_STRD`) carry.

use std::fs;
use std::path::Path;

/// A file's text.
pub fn text(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/nist").join(name);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// The numbers of a line; none where something in it is no number.
pub fn numbers(line: &str) -> Option<Vec<f64>> {
    let numbers: Option<Vec<f64>> = line.split_whitespace().map(|word| word.parse().ok()).collect();
    numbers.filter(|numbers| !numbers.is_empty())
}

/// The number at the end of a line that begins with these words.
pub fn certified(text: &str, words: &str) -> f64 {
    let lines = text.lines().filter(|line| line.trim_start().starts_with(words));
    let number = lines.filter_map(|line| line.split_whitespace().last()?.parse().ok()).next();
    number.unwrap_or_else(|| panic!("no line `{words}` with a number"))
}

/// The data: response, then predictor, in the file's order.
pub fn data(text: &str) -> (Vec<f64>, Vec<f64>) {
    let start = text.lines().position(|line| line.starts_with("Data:   ")).expect("a line of data's names");
    let last = text.lines().skip(start + 1).position(|line| line.starts_with("Data:   "));
    // The head of a file begins with the same word.
    let start = last.map_or(start, |more| start + 1 + more);
    let rows: Vec<Vec<f64>> = text.lines().skip(start + 1).filter_map(numbers).collect();
    rows.iter().map(|row| (row[0], row[1])).unzip()
}
