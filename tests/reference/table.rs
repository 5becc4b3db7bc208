//! Reading the reference files: a table of CSV with remark lines, some of which hold JSON.

#![allow(dead_code, reason = "several tests read tables, each what it needs of them")]

/// A file of `tests/reference/`.
pub struct Table {
    name: String,
    remarks: Vec<String>,
    header: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Table {
    /// Reads `chemistry/kw.csv` and the like; what cannot be read fails the test.
    pub fn read(name: &str) -> Self {
        let path = format!("{}/tests/reference/{name}", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
        let remarks = text.lines().filter_map(|line| line.strip_prefix('#')).map(str::to_owned).collect();
        let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
        let words = |record: &csv::StringRecord| record.iter().map(str::to_owned).collect::<Vec<_>>();
        let header = words(reader.headers().unwrap());
        let rows: Vec<_> = reader.records().map(|row| words(&row.unwrap())).collect();
        assert!(!rows.is_empty(), "{name} has no rows");
        Self { name: name.to_owned(), remarks, header, rows }
    }

    /// How many rows there are.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Whether there is such a column.
    pub fn has(&self, column: &str) -> bool {
        self.header.iter().any(|title| title == column)
    }

    /// A column as it is written.
    pub fn words(&self, column: &str) -> Vec<&str> {
        let at = self.header.iter().position(|title| title == column);
        let at = at.unwrap_or_else(|| panic!("{} has no column {column}", self.name));
        self.rows.iter().map(|row| row[at].as_str()).collect()
    }

    /// A column of numbers.
    pub fn numbers(&self, column: &str) -> Vec<f64> {
        self.words(column).iter().map(|word| word.parse().unwrap_or_else(|_| panic!("{column}: {word}"))).collect()
    }

    /// The JSON object of the remark `# WORD {...}`, or of `# {...}` where the word is empty.
    pub fn json(&self, word: &str) -> serde_json::Value {
        let object = |remark: &String| {
            let rest = remark.trim_start().strip_prefix(word)?.trim_start();
            rest.starts_with('{').then(|| serde_json::from_str(rest).unwrap())
        };
        self.remarks.iter().find_map(object).unwrap_or_else(|| panic!("{}: no remark {word}", self.name))
    }
}
