//! A pile of slips as a teacher opens them: each is read, and those that can't be counted are
//! laid aside with the reason, by the name of their file.

use super::act::Entry;
use super::code::CheckCode;
use super::link::LinkError;
use super::slip::Slip;

/// Slips in the order in which they were opened.
#[derive(Clone, Debug, Default)]
pub struct Pile {
    received: Vec<Received>,
}

/// Something that was opened.
#[derive(Clone, Debug, PartialEq)]
pub struct Received {
    /// The name of its file, or what the page calls pasted words.
    pub file: String,
    /// What was in it.
    pub slip: Result<Slip, LinkError>,
}

/// A pile sorted for one lesson.
#[derive(Debug, Default)]
pub struct Sorted<'a> {
    /// What counts.
    pub counted: Vec<Counted<'a>>,
    /// What does not.
    pub aside: Vec<Aside<'a>>,
}

/// A slip that counts.
#[derive(Clone, Copy, Debug)]
pub struct Counted<'a> {
    /// The name of its file.
    pub file: &'a str,
    /// The slip.
    pub slip: &'a Slip,
    /// Something for the teacher to look at: alike or sameName, and the file it is about.
    pub remark: Option<(&'static str, &'a str)>,
}

/// Something that does not count, and why.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aside<'a> {
    /// The name of its file.
    pub file: &'a str,
    /// duplicate, earlier, blank, otherLesson, or a key of [`LinkError`].
    pub key: &'static str,
    /// The file that counts instead.
    pub instead: Option<&'a str>,
    /// The lesson it belongs to.
    pub lesson: Option<CheckCode>,
    /// The newer version that wrote it.
    pub version: Option<u32>,
}

impl Pile {
    /// Takes the text of a file, or what was pasted. Every slip in it counts for itself.
    pub fn add(&mut self, file: &str, text: &str) {
        let slips = Slip::all(text);
        let many = slips.len() > 1;
        for (index, slip) in slips.into_iter().enumerate() {
            let file = if many { format!("{file} ({})", index + 1) } else { file.to_owned() };
            self.received.push(Received { file, slip });
        }
    }

    /// Puts a thing that could not be opened down, by its key.
    pub fn add_unread(&mut self, file: &str, error: LinkError) {
        self.received.push(Received { file: file.to_owned(), slip: Err(error) });
    }

    /// Takes everything away.
    pub fn clear(&mut self) {
        self.received.clear();
    }

    /// How many things were opened.
    pub fn len(&self) -> usize {
        self.received.len()
    }

    /// Was nothing opened?
    pub fn is_empty(&self) -> bool {
        self.received.is_empty()
    }

    /// Sorts the pile for a lesson. However many slips were pasted together, it takes little more than their number.
    pub fn sorted(&self, lesson: CheckCode) -> Sorted<'_> {
        let slips = || self.received.iter().map(|one| one.slip.as_ref().ok());
        let mut laid = Laid {
            twins: firsts(slips().map(|slip| slip.map(Slip::line).unwrap_or_default()).collect()),
            names: firsts(slips().map(|slip| slip.map(|slip| slip.signed.clone()).unwrap_or_default()).collect()),
            counted: vec![None; self.received.len()],
            namesakes: vec![Vec::new(); self.received.len()],
            aside: Vec::new(),
        };
        for (index, Received { file, slip }) in self.received.iter().enumerate() {
            match slip {
                Ok(slip) if slip.lesson != lesson => {
                    laid.aside.push(Aside { lesson: Some(slip.lesson), ..Aside::of(file, "otherLesson") });
                }
                Ok(slip) if slip.is_blank() => laid.aside.push(Aside::of(file, "blank")),
                Ok(slip) => laid.lay(index, Counted { file, slip, remark: None }),
                Err(error) => {
                    let version = if let LinkError::Newer { version } = error { Some(*version) } else { None };
                    laid.aside.push(Aside { version, ..Aside::of(file, error.key()) });
                }
            }
        }
        Sorted { counted: laid.counted.into_iter().flatten().collect(), aside: laid.aside }
    }
}

/// For each text the place of the first that is the same.
fn firsts(texts: Vec<String>) -> Vec<usize> {
    let mut firsts = vec![0; texts.len()];
    let mut ordered: Vec<(String, usize)> = texts.into_iter().zip(0..).collect();
    ordered.sort_unstable();
    let mut first = 0;
    for (at, (text, place)) in ordered.iter().enumerate() {
        if at == 0 || ordered[at - 1].0 != *text {
            first = *place;
        }
        firsts[*place] = first;
    }
    firsts
}

impl<'a> Counted<'a> {
    /// Whose it is: the name or code that was typed, else the name of the file.
    pub fn who(&self) -> &'a str {
        if self.slip.signed.is_empty() { self.file } else { &self.slip.signed }
    }
}

impl<'a> Aside<'a> {
    fn of(file: &'a str, key: &'static str) -> Aside<'a> {
        Aside { file, key, instead: None, lesson: None, version: None }
    }
}

/// A pile while it is sorted; places are those of what was received.
struct Laid<'a> {
    /// The first of which each is an exact copy.
    twins: Vec<usize>,
    /// The first that was signed with the same name.
    names: Vec<usize>,
    /// What counts, at its own place.
    counted: Vec<Option<Counted<'a>>>,
    /// At the place of the first of a name, what counts of it, in order.
    namesakes: Vec<Vec<usize>>,
    aside: Vec<Aside<'a>>,
}

impl<'a> Laid<'a> {
    /// Counts a slip, unless the same person's is there already.
    fn lay(&mut self, index: usize, mut new: Counted<'a>) {
        let name = self.names[index];
        if let Some(twin) = self.counted[self.twins[index]] {
            if new.slip.is_somebodys() {
                self.aside.push(Aside { instead: Some(twin.file), ..Aside::of(new.file, "duplicate") });
                return;
            }
            // Two people who only chose may well have chosen alike: only the teacher can tell.
            new.remark = Some(("alike", twin.file));
        } else if !new.slip.signed.is_empty()
            && let Some(other) = self.namesakes[name].first().and_then(|first| self.counted[*first])
        {
            if begins_with(new.slip, other.slip) {
                self.aside.push(Aside { instead: Some(new.file), ..Aside::of(other.file, "earlier") });
                let first = self.namesakes[name].remove(0);
                self.counted[first] = None;
            } else if begins_with(other.slip, new.slip) {
                self.aside.push(Aside { instead: Some(other.file), ..Aside::of(new.file, "earlier") });
                return;
            } else {
                new.remark = Some(("sameName", other.file));
            }
        }
        self.namesakes[name].push(index);
        self.counted[index] = Some(new);
    }
}

/// Is the other slip an earlier state of this one?
fn begins_with(slip: &Slip, other: &Slip) -> bool {
    let (entries, earlier): (&[Entry], &[Entry]) = (&slip.entries, &other.entries);
    slip.attempt == other.attempt && entries.starts_with(earlier)
}
