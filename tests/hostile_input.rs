//! Every seed and every crash that fuzzing has found, read once more: `tests/fuzz/seeds/READER/`. The fuzzing itself is
//! `./build.sh fuzz`.

#[path = "fuzz/readers.rs"]
mod readers;

use std::time::Duration;

use readers::{LONGEST_READ, READERS, is_slow};
use turnback::colour::Band;
use turnback::lesson::{Act, Entry, Guess, Lesson, Pile, Reached, SLIP_MAX_CHARS, Slip};

#[test]
fn every_seed_of_every_reader_is_read_in_time_and_without_a_panic() {
    for (name, reader) in READERS {
        let folder = format!("{}/tests/fuzz/seeds/{name}", env!("CARGO_MANIFEST_DIR"));
        let seeds = std::fs::read_dir(&folder).unwrap_or_else(|error| panic!("{folder}: {error}"));
        let mut read = 0;
        for seed in seeds {
            let path = seed.expect("a readable folder").path();
            let bytes = std::fs::read(&path).expect("a readable seed");
            assert!(!is_slow(reader, &bytes), "{} takes longer than {LONGEST_READ:?}", path.display());
            read += 1;
        }
        assert!(read >= 3, "{folder} has only {read} seeds");
        println!("{name}: {read} seeds");
    }
}

#[test]
fn a_file_of_the_longest_length_that_is_read_does_no_harm() {
    // Bytes that make each reader of text work longest: opened and never closed, one long line, only ends of lines.
    for (name, reader) in READERS {
        let longest = if name == "probe" { turnback::measure::PROBE_MAX_BYTES - 1 } else { 1 << 20 };
        for unit in ["[", "\"", "1,", "1;7\n", "\n", "9", "{\"a\":", ":", "v1.", "slip1.A ", "run1.", "\t"] {
            let bytes: Vec<u8> = unit.bytes().cycle().take(longest).collect();
            reader(&bytes);
            println!("{name}: {longest} bytes of {unit:?}");
        }
    }
}

#[test]
fn a_reader_that_takes_too_long_is_told() {
    fn dawdling(_: &[u8]) {
        for count in 0..1_000_000_000_u64 {
            std::hint::black_box(count);
        }
    }
    assert!(is_slow(dawdling, b""));
    assert!(!is_slow(|_| (), b""));
}

/// A text full of slips, no two alike and all of one lesson: as many as may be pasted at once.
#[test]
fn a_pile_of_as_many_slips_as_may_be_pasted_is_sorted_in_time() {
    let code = Lesson::default().code();
    let guess = Guess { at_once: Some(Band::Red), ..Guess::default() };
    let (mut text, mut count) = (String::new(), 0);
    loop {
        let entries = vec![Entry { at_ds: 0, room_ds: 0, act: Act::Lock(guess.clone()) }];
        let (reached, signed) = (Reached { code, now_ds: count }, format!("{count}"));
        let line = Slip { lesson: code, reached, attempt: 1, signed, note: String::new(), entries }.line();
        if text.len() + line.len() >= SLIP_MAX_CHARS {
            break;
        }
        text.push_str(&line);
        text.push('\n');
        count += 1;
    }
    let mut pile = Pile::default();
    let before = readers::processor_time();
    pile.add("all", &text);
    let read = readers::processor_time() - before;
    let counted = pile.sorted(code).counted.len();
    let sorted = readers::processor_time() - before - read;
    println!("{count} slips: read in {read:?}, sorted in {sorted:?}");
    assert_eq!((pile.len(), counted), (count as usize, count as usize));
    assert!(sorted < Duration::from_millis(500), "{sorted:?}");
}
