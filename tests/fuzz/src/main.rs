//! One reader under libFuzzer: the one that READER names.
#![no_main]

#[path = "../readers.rs"]
mod readers;

use std::sync::LazyLock;
use std::time::Instant;

use libfuzzer_sys::fuzz_target;
use readers::{LONGEST_READ, READERS, Reader};

static READER: LazyLock<Reader> = LazyLock::new(|| {
    let name = std::env::var("READER").unwrap_or_default();
    let known = READERS.iter().find(|(known, _)| *known == name);
    known.unwrap_or_else(|| panic!("READER={name} is none of {:?}", READERS.map(|(known, _)| known))).1
});

fuzz_target!(|bytes: &[u8]| {
    // The machine does other things too: slow is what is slow every time.
    let slow = (0..5).all(|_| {
        let started = Instant::now();
        READER(bytes);
        started.elapsed() > LONGEST_READ
    });
    assert!(!slow, "{} bytes took longer than {LONGEST_READ:?}, five times", bytes.len());
});
