//! Columns of a run and their CSV (RFC 4180).

/// A named column of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Column<'a> {
    /// Name with its unit, as the head of a file has it.
    pub name: &'a str,
    /// Its cells, from top to bottom.
    pub cells: Cells,
}

/// The cells of a column.
#[derive(Clone, Debug, PartialEq)]
pub enum Cells {
    /// Numbers, written with so many decimals; one that is not finite leaves its cell empty.
    Numbers {
        /// The values.
        values: Vec<f64>,
        /// Decimals.
        decimals: usize,
    },
    /// Words.
    Words(Vec<String>),
}

/// How a file writes its numbers and parts its cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dialect {
    /// Comma between cells, decimal point.
    CommaPoint,
    /// Semicolon between cells, decimal comma: what spreadsheets of many languages expect.
    SemicolonComma,
}

impl Cells {
    fn len(&self) -> usize {
        match self {
            Cells::Numbers { values, .. } => values.len(),
            Cells::Words(words) => words.len(),
        }
    }
}

/// Writes columns as CSV by RFC 4180: a head, CRLF after every line, quotes where needed.
/// A column shorter than the longest leaves its last cells empty.
///
/// A word that begins as a formula would (= + - @, a tab or a line's end) gets an apostrophe
/// before it, so that no spreadsheet runs what somebody typed.
pub fn to_csv(columns: &[Column], dialect: Dialect) -> String {
    let separator = match dialect {
        Dialect::CommaPoint => ",",
        Dialect::SemicolonComma => ";",
    };
    let rows = columns.iter().map(|column| column.cells.len()).max().unwrap_or(0);
    let head: Vec<String> = columns.iter().map(|column| quoted(&harmless(column.name))).collect();
    let mut csv = head.join(separator) + "\r\n";
    for row in 0..rows {
        let cells: Vec<String> = columns.iter().map(|column| cell(&column.cells, row, dialect)).collect();
        csv.push_str(&cells.join(separator));
        csv.push_str("\r\n");
    }
    csv
}

fn cell(cells: &Cells, row: usize, dialect: Dialect) -> String {
    match cells {
        Cells::Numbers { values, decimals } => match values.get(row) {
            Some(value) if value.is_finite() => number(*value, *decimals, dialect),
            _ => String::new(),
        },
        Cells::Words(words) => words.get(row).map_or_else(String::new, |word| quoted(&harmless(word))),
    }
}

fn number(value: f64, decimals: usize, dialect: Dialect) -> String {
    let plain = crate::decimal::write(value, decimals);
    match dialect {
        Dialect::CommaPoint => plain,
        Dialect::SemicolonComma => plain.replace('.', ","),
    }
}

/// A number as a cell of words has it: with at most one decimal.
pub fn briefly(value: f64) -> String {
    crate::decimal::write_briefly(value, 1)
}

fn harmless(word: &str) -> String {
    if word.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) { format!("'{word}") } else { word.to_owned() }
}

fn quoted(word: &str) -> String {
    if word.contains(['"', ',', ';', '\r', '\n']) {
        format!("\"{}\"", word.replace('"', "\"\""))
    } else {
        word.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn columns() -> Vec<Column<'static>> {
        let numbers = vec![0.0, 1.25, f64::NAN];
        let words = ["red", "say \"no\", then; go", "=1+1"].map(str::to_owned).to_vec();
        vec![
            Column { name: "time_s", cells: Cells::Numbers { values: numbers, decimals: 1 } },
            Column { name: "note", cells: Cells::Words(words) },
        ]
    }

    /// RFC 4180, section 2, rules 1, 2, 5, 6 and 7.
    #[test]
    fn csv_is_written_as_rfc_4180_asks() {
        let expected = "time_s,note\r\n0.0,red\r\n1.2,\"say \"\"no\"\", then; go\"\r\n,'=1+1\r\n";
        assert_eq!(to_csv(&columns(), Dialect::CommaPoint), expected);
    }

    #[test]
    fn the_other_dialect_parts_by_semicolons_and_writes_decimal_commas() {
        let csv = to_csv(&columns(), Dialect::SemicolonComma);
        assert!(csv.starts_with("time_s;note\r\n0,0;red\r\n1,2;"));
    }

    #[test]
    fn a_reader_that_is_not_ours_reads_the_same_cells() {
        let csv = to_csv(&columns(), Dialect::CommaPoint);
        let mut reader = csv::Reader::from_reader(csv.as_bytes());
        let rows: Vec<Vec<String>> =
            reader.records().map(|row| row.expect("well-formed").iter().map(str::to_owned).collect()).collect();
        assert_eq!(rows[1], ["1.2", "say \"no\", then; go"]);
        assert_eq!(rows[2], ["", "'=1+1"]);
    }
}
