//! The sources of the core, file by file.

use std::{
    collections::BTreeSet,
    fs,
    path::{Path, PathBuf},
};

use super::code::{code_of, tokens};
use crate::root;

/// One source file below `src/`.
pub struct Source {
    /// As it is named in messages, e.g. `src/colour/srgb.rs`.
    pub name: String,
    /// Its top-level module: `colour`; `lib` and `main` for the two roots.
    pub room: String,
    /// How many steps `super::` takes to the root of the crate.
    pub depth: usize,
    pub text: String,
}

pub fn sources() -> Vec<Source> {
    fn walk(directory: &Path, found: &mut Vec<PathBuf>) {
        for entry in fs::read_dir(directory).expect("src can be read") {
            let path = entry.expect("src can be listed").path();
            if path.is_dir() {
                walk(&path, found);
            } else if path.extension().is_some_and(|extension| extension == "rs") {
                found.push(path);
            }
        }
    }
    let base = root().join("src");
    let mut files = Vec::new();
    walk(&base, &mut files);
    files.sort();
    files
        .into_iter()
        .map(|path| {
            let below = path.strip_prefix(&base).expect("a file of src").with_extension("");
            let mut steps: Vec<String> = below.iter().map(|step| step.to_string_lossy().into_owned()).collect();
            if steps.last().is_some_and(|step| step == "mod") {
                steps.pop();
            }
            Source {
                name: format!("src/{}.rs", below.display()),
                room: steps[0].clone(),
                depth: steps.len(),
                text: fs::read_to_string(&path).expect("a source file is text"),
            }
        })
        .collect()
}

/// The modules of the native commands. They belong to another crate, which has
/// nothing of the core but what the core gives to everybody.
pub fn modules_of_main(sources: &[Source]) -> BTreeSet<String> {
    let main = sources.iter().find(|source| source.room == "main").expect("src/main.rs");
    let tokens = tokens(&code_of(&main.text));
    tokens.windows(2).filter(|two| two[0].1 == "mod").map(|two| two[1].1.clone()).collect()
}

/// A file of a room, so many steps below the root of the crate, that shows whether a check can fail.
pub fn sample(room: &str, depth: usize, text: &str) -> Source {
    Source { name: format!("{room}.rs"), room: room.to_owned(), depth, text: text.to_owned() }
}
