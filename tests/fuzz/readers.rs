//! Every reader of what comes from outside, each as a test of any bytes at all: it must end, soon, without a panic, and
//! what it lets in must come back from what is written of it.

use std::sync::LazyLock;
use std::time::{Duration, Instant};

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use turnback::lesson::{BeakerText, FieldTexts, Lesson, LessonFile, Recipe, RecipeText, parse_number};
use turnback::measure::{Probe, TimeUnit, Wishes};

/// Version 1 of the link.
const MARK: &str = "v1.";

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
fn processor_time() -> Duration {
    static START: LazyLock<Instant> = LazyLock::new(Instant::now);
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let nanoseconds = told.and_then(|told| told.split(' ').next()?.parse().ok());
    nanoseconds.map_or_else(|| START.elapsed(), Duration::from_nanos)
}

/// Each reader by its name, which is also that of its folder of seeds.
pub const READERS: [(&str, Reader); 5] =
    [("link", link), ("link-body", link_body), ("lesson-file", lesson_file), ("probe", probe), ("typed", typed)];

/// The part of a link behind #.
fn link(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let Ok(lesson) = Lesson::from_link(text) else { return };
    // A lesson near the limit of length may be let in by an older, shorter form of the link.
    let Ok(written) = lesson.link() else { return };
    assert_eq!(Lesson::from_link(&written).as_ref(), Ok(&lesson), "a link that was let in comes back");
}

/// A link's body under a right length and a right checksum: what a link's reader never sees by chance.
fn link_body(bytes: &[u8]) {
    let Ok(length) = u32::try_from(bytes.len()) else { return };
    let mut whole = Vec::with_capacity(bytes.len() + 9);
    // The length as postcard writes it: seven bits a byte, the lowest first.
    let mut rest = length;
    while rest >= 0x80 {
        whole.push(rest as u8 | 0x80);
        rest >>= 7;
    }
    whole.push(rest as u8);
    whole.extend_from_slice(bytes);
    let mut sum = crc32fast::Hasher::new();
    sum.update(MARK.as_bytes());
    sum.update(&whole);
    whole.extend_from_slice(&sum.finalize().to_le_bytes());
    link(format!("{MARK}{}", URL_SAFE_NO_PAD.encode(&whole)).as_bytes());
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
