//! One reader under libFuzzer: the one that READER names.
#![no_main]

#[path = "../readers.rs"]
mod readers;

use std::sync::LazyLock;

use libfuzzer_sys::fuzz_target;
use readers::{LONGEST_READ, READERS, Reader, is_slow};

static READER: LazyLock<Reader> = LazyLock::new(|| {
    let name = std::env::var("READER").unwrap_or_default();
    let known = READERS.iter().find(|(known, _)| *known == name);
    known.unwrap_or_else(|| panic!("READER={name} is none of {:?}", READERS.map(|(known, _)| known))).1
});

fuzz_target!(|bytes: &[u8]| {
    assert!(!is_slow(*READER, bytes), "{} bytes take longer than {LONGEST_READ:?}", bytes.len());
});
