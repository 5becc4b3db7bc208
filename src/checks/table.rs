//! A table read from CSV: columns by name, cells as finite numbers, and a sentence with the
//! line's number for everything else.

use super::Refusal;

/// A table with `#` lines left out.
pub struct Table {
    header: csv::StringRecord,
    rows: Vec<Row>,
}

/// One row of a table.
pub struct Row {
    cells: csv::StringRecord,
    /// The line of the file on which it ends, from 1.
    pub line: u64,
}

/// A column by its name; it may be absent where something else counts in its stead.
pub struct Column {
    name: &'static str,
    at: Option<usize>,
    otherwise: Option<f64>,
}

impl Table {
    /// Reads a table; quoted fields and both kinds of line ends are understood.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .flexible(true)
            .trim(csv::Trim::All)
            .from_reader(text.as_bytes());
        let header = reader.headers()?.clone();
        let mut rows = Vec::new();
        let mut cells = csv::StringRecord::new();
        while reader.read_record(&mut cells)? {
            // A record's own position is where the search for it began, above any remarks.
            let end = reader.position();
            let newline = text.as_bytes().get(end.byte() as usize - 1) == Some(&b'\n');
            rows.push(Row { cells: cells.clone(), line: end.line() - u64::from(newline) });
        }
        if header.is_empty() {
            return Err("there is no table in the file: no line but empty ones and ones that begin with '#'".into());
        }
        Ok(Self { header, rows })
    }

    /// The rows in their order.
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// A column that must be there.
    pub fn needed(&self, name: &'static str) -> Result<Column, Refusal> {
        let at = self.place(name).ok_or_else(|| {
            let there: Vec<&str> = self.header.iter().collect();
            format!("there is no column {name}; the columns are {}", there.join(", "))
        })?;
        Ok(Column { name, at: Some(at), otherwise: None })
    }

    /// A column that may be absent, or have empty cells: that counts as `otherwise`.
    pub fn optional(&self, name: &'static str, otherwise: f64) -> Column {
        Column { name, at: self.place(name), otherwise: Some(otherwise) }
    }

    fn place(&self, name: &str) -> Option<usize> {
        self.header.iter().position(|title| title == name)
    }
}

impl Column {
    /// The number in a row, which must lie between two bounds.
    pub fn number(&self, row: &Row, least: f64, most: f64) -> Result<f64, Refusal> {
        let cell = self.at.and_then(|at| row.cells.get(at)).unwrap_or("");
        let here = || format!("line {}, {}", row.line, self.name);
        if cell.is_empty() {
            return self.otherwise.ok_or_else(|| format!("{}: a number is missing", here()).into());
        }
        let value: f64 = cell.parse().map_err(|_| format!("{}: '{cell}' is not a number", here()))?;
        if value >= least && value <= most {
            Ok(value)
        } else {
            Err(format!("{}: {cell} is not between {least} and {most}", here()).into())
        }
    }
}
