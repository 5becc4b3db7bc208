//! Every reader of what comes from outside, each as a test of any bytes at all: it must end, soon, without a panic, and
//! what it lets in must come back from what is written of it.

use std::sync::LazyLock;
use std::time::{Duration, Instant};

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use turnback::lesson::{
    BeakerText, FieldTexts, Kept, Lesson, LessonFile, LinkError, Pile, Recipe, RecipeText, Run, Slip, parse_number,
};
use turnback::measure::{Probe, ROW_FIELDS, ROWS_MAX, TimeUnit, Wishes, pasted, timings};

/// Version 1 of what travels as sealed text.
const LINK_MARK: &str = "v1.";
const SLIP_MARK: &str = "slip1.";
const RUN_MARK: &str = "run1.";
const KEPT_MARK: &str = "kept1.";

/// Reads any bytes; panics where a promise is broken.
pub type Reader = fn(&[u8]);

/// No input may hold up the page longer.
pub const LONGEST_READ: Duration = Duration::from_millis(50);

/// Whether a reader takes longer than [`LONGEST_READ`] over these bytes.
pub fn is_slow(reader: Reader, bytes: &[u8]) -> bool {
    let started = Instant::now();
    reader(bytes);
    if started.elapsed() <= LONGEST_READ {
        return false;
    }
    // The machine does other things too, and this thread may have waited for it. What counts is the processor's time, the
    // least of three.
    (0..3).all(|_| {
        let before = processor_time();
        reader(bytes);
        processor_time() - before > LONGEST_READ
    })
}

/// Time that this thread has had the processor, as Linux tells it; elsewhere the clock's.
pub fn processor_time() -> Duration {
    static START: LazyLock<Instant> = LazyLock::new(Instant::now);
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let nanoseconds = told.and_then(|told| told.split(' ').next()?.parse().ok());
    nanoseconds.map_or_else(|| START.elapsed(), Duration::from_nanos)
}

/// Each reader by its name, which is also that of its folder of seeds.
pub const READERS: [(&str, Reader); 10] = [
    ("slip", slip),
    ("pasted-slips", pasted_slips),
    ("run", run),
    ("kept", kept),
    ("pasted-times", pasted_times),
    ("link", link),
    ("link-body", link_body),
    ("lesson-file", lesson_file),
    ("probe", probe),
    ("typed", typed),
];

/// A body under a right length and a right checksum: what a reader of sealed text never sees by chance.
fn sealed(mark: &str, body: &[u8]) -> String {
    let mut whole = Vec::with_capacity(body.len() + 9);
    // The length as postcard writes it: seven bits a byte, the lowest first.
    let mut rest = body.len();
    while rest >= 0x80 {
        whole.push(rest as u8 | 0x80);
        rest >>= 7;
    }
    whole.push(rest as u8);
    whole.extend_from_slice(body);
    let mut sum = crc32fast::Hasher::new();
    sum.update(mark.as_bytes());
    sum.update(&whole);
    whole.extend_from_slice(&sum.finalize().to_le_bytes());
    format!("{mark}{}", URL_SAFE_NO_PAD.encode(&whole))
}

/// What is read both as a text and as the body of a sealed one: what is let in comes back from what is written of it.
fn text_or_body<T: PartialEq + std::fmt::Debug>(
    bytes: &[u8],
    mark: &str,
    read: fn(&str) -> Result<T, LinkError>,
    write: fn(&T) -> String,
) {
    let comes_back = |text: &str| {
        if let Ok(one) = read(text) {
            assert_eq!(read(&write(&one)).as_ref(), Ok(&one), "what was let in comes back");
        }
    };
    if let Ok(text) = std::str::from_utf8(bytes) {
        comes_back(text);
    }
    comes_back(&sealed(mark, bytes));
}

/// One slip, as the line that is handed in.
fn slip(bytes: &[u8]) {
    text_or_body(bytes, SLIP_MARK, Slip::from_line, Slip::line);
}

/// Slips with anything between them, as mail and chat hand them on, and the pile that they make: words and bodies of slips
/// in turn, parted by two bytes FF, which no text has.
fn pasted_slips(bytes: &[u8]) {
    let (mut text, mut lines) = (String::new(), Vec::new());
    let mut rest = bytes;
    for is_slip in [false, true].into_iter().cycle() {
        let end = rest.windows(2).position(|two| two == [0xff, 0xff]);
        let part = &rest[..end.unwrap_or(rest.len())];
        if is_slip {
            lines.push((text.len(), sealed(SLIP_MARK, part)));
            text.push_str(&lines[lines.len() - 1].1);
        } else {
            text.push_str(&String::from_utf8_lossy(part));
        }
        match end {
            Some(end) => rest = &rest[end + 2..],
            None => break,
        }
    }
    let found = Slip::all(&text);
    assert!(!found.is_empty(), "a text without a slip is told as one");
    for (start, line) in &lines {
        let is_letter = |sign: char| sign.is_alphanumeric() || matches!(sign, '-' | '_' | '.');
        let is_apart = !text[..*start].ends_with(is_letter) && !text[start + line.len()..].starts_with(is_letter);
        if let (true, Ok(slip)) = (is_apart, Slip::from_line(line)) {
            assert!(found.contains(&Ok(slip)), "a whole slip is found between other words");
        }
    }
    let mut pile = Pile::default();
    pile.add("pasted", &text);
    assert_eq!(pile.len(), found.len());
    let lesson = found.iter().find_map(|slip| Some(slip.as_ref().ok()?.lesson)).unwrap_or(Lesson::default().code());
    let sorted = pile.sorted(lesson);
    assert_eq!(sorted.counted.len() + sorted.aside.len(), pile.len(), "each counts or is laid aside with its reason");
}

/// A run that is told again, as a file or behind the # of an address.
fn run(bytes: &[u8]) {
    text_or_body(bytes, RUN_MARK, Run::from_text, Run::text);
}

/// What a device keeps of a lesson.
fn kept(bytes: &[u8]) {
    text_or_body(bytes, KEPT_MARK, Kept::from_text, |kept| Kept::text(&kept.lesson, kept.now_s, &kept.entries));
}

/// A table of times that was pasted from a spreadsheet, and its rows as a fit takes them.
fn pasted_times(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let rows = pasted(text);
    assert!(rows.len() <= ROWS_MAX + 1);
    assert!(rows.iter().flatten().all(|cell| cell.chars().count() <= 40), "no cell is longer than may be typed");
    match timings(&rows, 7) {
        Ok(found) => {
            assert!(found.windows(2).all(|two| two[0].0 < two[1].0), "each row once, in order");
            let finite = |value: f64| value.is_finite();
            assert!(found.iter().all(|(_, timing)| finite(timing.celsius()) && finite(timing.seconds)));
        }
        Err(troubles) => {
            assert!(!troubles.is_empty(), "what is refused is named");
            assert!(troubles.iter().all(|cell| cell.row < rows.len() && ROW_FIELDS.contains(&cell.field)));
        }
    }
}

/// The part of a link behind #.
fn link(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let Ok(lesson) = Lesson::from_link(text) else { return };
    // A lesson near the limit of length may be let in by an older, shorter form of the link.
    let Ok(written) = lesson.link() else { return };
    assert_eq!(Lesson::from_link(&written).as_ref(), Ok(&lesson), "a link that was let in comes back");
}

/// A link's body.
fn link_body(bytes: &[u8]) {
    link(sealed(LINK_MARK, bytes).as_bytes());
}

/// A lesson's file.
fn lesson_file(bytes: &[u8]) {
    let Ok(tree) = serde_json::from_slice::<serde_json::Value>(bytes) else { return };
    let Ok(lesson) = Lesson::from_tree(&tree) else { return };
    let written = serde_json::to_value(LessonFile::of(&lesson)).expect("names are text");
    assert_eq!(Lesson::from_tree(&written).as_ref(), Ok(&lesson), "a file that was let in comes back");
}

/// A pH probe's file; the first byte says what the reader is told instead of assuming it.
fn probe(bytes: &[u8]) {
    let Some((&told, file)) = bytes.split_first() else { return };
    let column = |shift: u8| (told & 1 << shift != 0).then_some(usize::from(told >> 4));
    let wishes = Wishes {
        time_column: column(0),
        ph_column: column(1),
        time_unit: (told & 4 != 0).then_some(if told & 8 != 0 { TimeUnit::Clock } else { TimeUnit::Minutes }),
        ..Wishes::default()
    };
    let Ok(probe) = Probe::read(file, &wishes) else { return };
    assert_eq!(probe.time_s.len(), probe.ph.len());
    assert!(probe.ph.iter().chain(&probe.time_s).all(|value| value.is_finite()), "only numbers come in");
    assert!(probe.time_s.windows(2).all(|pair| pair[0] < pair[1]), "times rise");
    assert!(probe.falls_s().iter().all(|at| at.is_finite()));
}

/// What is typed into a field: the text before each line's end into the fields of the form in turn, then into its beakers.
fn typed(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    if let Ok((number, _)) = parse_number(text) {
        assert!(number.is_finite(), "{text:?} is read as {number}");
    }
    let mut lines = text.split('\n').map(str::to_owned);
    let mut next = || lines.next().unwrap_or_default();
    let fields = FieldTexts::of(|_| next());
    let beakers = (0..3).map(|_| BeakerText { kind: next(), celsius: next(), ice_g: next() }).collect();
    let Ok(recipe) = Recipe::from_text(&RecipeText { fields, beakers }) else { return };
    let lesson = Lesson::of_recipe(recipe);
    let written = lesson.link().expect("a recipe alone is short");
    assert_eq!(Lesson::from_link(&written).as_ref(), Ok(&lesson), "a form that was let in comes back by link");
}
