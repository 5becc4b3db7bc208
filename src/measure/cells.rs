//! A table as text, cut into cells: which sign parts them, and which sign is the decimal mark.

use crate::decimal;

/// The sign between cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Delimiter {
    /// A tab, as a spreadsheet copies cells.
    Tab,
    /// A semicolon.
    Semicolon,
    /// A comma.
    Comma,
    /// Spaces.
    Space,
}

impl Delimiter {
    const ALL: [Delimiter; 4] = [Delimiter::Tab, Delimiter::Semicolon, Delimiter::Comma, Delimiter::Space];

    /// The name at the edge.
    pub fn key(self) -> &'static str {
        match self {
            Delimiter::Tab => "tab",
            Delimiter::Semicolon => "semicolon",
            Delimiter::Comma => "comma",
            Delimiter::Space => "space",
        }
    }

    /// The delimiter of a name.
    pub fn of_key(key: &str) -> Option<Delimiter> {
        Delimiter::ALL.into_iter().find(|delimiter| delimiter.key() == key)
    }

    /// The delimiter of a sign.
    pub(super) fn of_sign(sign: &str) -> Option<Delimiter> {
        Delimiter::ALL.into_iter().find(|delimiter| sign == delimiter.sign().encode_utf8(&mut [0; 4]))
    }

    fn sign(self) -> char {
        match self {
            Delimiter::Tab => '\t',
            Delimiter::Semicolon => ';',
            Delimiter::Comma => ',',
            Delimiter::Space => ' ',
        }
    }

    /// What parts the cells of these lines: the first sign, of those that never stand within a number before those that may,
    /// that most of the lines with digits have, outside of quotes.
    pub(super) fn of(lines: &[&str]) -> Delimiter {
        let with_digits = lines.iter().filter(|line| line.contains(|sign: char| sign.is_ascii_digit()));
        let with_digits: Vec<&&str> = with_digits.take(200).collect();
        let parts = |delimiter: &Delimiter| {
            let parted = with_digits.iter().filter(|line| cells(line, *delimiter).len() > 1).count();
            2 * parted > with_digits.len()
        };
        // "0,5 7,1" is two numbers with decimal commas between spaces, but "0,7.1" and "0, 7.1" are parted by their comma.
        let spaced = || {
            let numbers = |line: &&&str| {
                let cells = cells(line, Delimiter::Space);
                cells.len() > 1 && cells.iter().all(|cell| Mark::Comma.read(cell).is_some())
            };
            2 * with_digits.iter().filter(|line| numbers(line)).count() > with_digits.len()
        };
        if parts(&Delimiter::Tab) {
            Delimiter::Tab
        } else if parts(&Delimiter::Semicolon) {
            Delimiter::Semicolon
        } else if parts(&Delimiter::Comma) && !spaced() {
            Delimiter::Comma
        } else if parts(&Delimiter::Space) {
            Delimiter::Space
        } else {
            Delimiter::Comma
        }
    }
}

/// The decimal mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// 7.5
    Point,
    /// 7,5
    Comma,
}

impl Mark {
    /// The name at the edge.
    pub fn key(self) -> &'static str {
        match self {
            Mark::Point => "point",
            Mark::Comma => "comma",
        }
    }

    /// The mark of a name.
    pub fn of_key(key: &str) -> Option<Mark> {
        [Mark::Point, Mark::Comma].into_iter().find(|mark| mark.key() == key)
    }

    /// The mark with which more cells are numbers; the point where it makes no difference.
    pub(super) fn of<'a>(cells: impl Iterator<Item = &'a str> + Clone) -> Mark {
        let numbers = |mark: Mark| cells.clone().filter(|cell| mark.read(cell).is_some()).count();
        if numbers(Mark::Comma) > numbers(Mark::Point) { Mark::Comma } else { Mark::Point }
    }

    /// The number in a cell; none for anything else, also for a number with the other mark.
    pub(super) fn read(self, cell: &str) -> Option<f64> {
        // U+2212 is the minus sign that typeset text carries.
        let plain = cell.trim().replace('\u{2212}', "-");
        let read = match self {
            Mark::Point => decimal::read(&plain),
            Mark::Comma if plain.contains('.') => None,
            Mark::Comma => decimal::read(&plain.replace(',', ".")),
        };
        read.filter(|number| number.is_finite())
    }
}

/// The cells of a line, without spaces around them and without quotes.
pub(super) fn cells(line: &str, delimiter: Delimiter) -> Vec<&str> {
    let mut quoted = false;
    let parted = line.split(|sign: char| {
        quoted ^= sign == '"';
        sign == delimiter.sign() && !quoted
    });
    let cells = parted.map(unquoted);
    // Several spaces part no more than one.
    if delimiter == Delimiter::Space { cells.filter(|cell| !cell.is_empty()).collect() } else { cells.collect() }
}

fn unquoted(cell: &str) -> &str {
    let cell = cell.trim();
    cell.strip_prefix('"').and_then(|cell| cell.strip_suffix('"')).unwrap_or(cell).trim()
}
