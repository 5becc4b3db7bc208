//! The files in `tests/probe/files` are one recording, computed by this program (our scenario at 21 °C, doses at 20 s and
//! 80 s, a reading every 2 s), written as one maker or another would; and files that hold no recording.

use std::fs;
use std::path::{Path, PathBuf};
use turnback::measure::{Probe, ProbeError, Wishes};

/// What must come out: name, encoding, delimiter, decimal mark, unit of time, columns of time and pH, rows passed over.
type Wanted = (&'static str, [&'static str; 4], [usize; 2], usize);

const FILES: [Wanted; 26] = [
    ("blank-and-broken.csv", ["utf8", "comma", "point", "seconds"], [0, 1], 6),
    ("byte-order-mark.csv", ["utf8", "comma", "point", "seconds"], [0, 1], 0),
    ("clock.csv", ["utf8", "comma", "point", "clock"], [0, 1], 0),
    ("comma-and-space.csv", ["utf8", "comma", "point", "seconds"], [0, 1], 0),
    ("comma-points.csv", ["utf8", "comma", "point", "seconds"], [0, 1], 0),
    ("hours.csv", ["utf8", "semicolon", "comma", "hours"], [0, 1], 0),
    ("iso-dates.csv", ["utf8", "semicolon", "point", "seconds"], [1, 3], 0),
    ("latin-1.csv", ["latin1", "semicolon", "comma", "seconds"], [0, 2], 0),
    ("midnight.csv", ["utf8", "comma", "point", "clock"], [0, 1], 0),
    ("no-header.csv", ["utf8", "comma", "point", "seconds"], [0, 1], 0),
    ("old-line-ends.csv", ["utf8", "comma", "point", "seconds"], [0, 1], 0),
    ("one-jump-back.csv", ["utf8", "comma", "point", "seconds"], [0, 1], 1),
    ("ph-first.csv", ["utf8", "comma", "point", "seconds"], [1, 0], 0),
    ("quoted-commas.csv", ["utf8", "comma", "comma", "seconds"], [0, 1], 0),
    ("reading-number.csv", ["utf8", "semicolon", "point", "seconds"], [1, 2], 0),
    ("semicolon-commas.csv", ["utf8", "semicolon", "comma", "seconds"], [0, 1], 0),
    ("sep-line.csv", ["utf8", "semicolon", "point", "seconds"], [0, 1], 0),
    ("spaces-commas.txt", ["utf8", "space", "comma", "seconds"], [0, 1], 0),
    ("stopwatch.csv", ["utf8", "semicolon", "comma", "clock"], [0, 1], 0),
    ("tab-commas.txt", ["utf8", "tab", "comma", "seconds"], [0, 1], 0),
    ("tab-points.txt", ["utf8", "tab", "point", "seconds"], [0, 1], 0),
    ("three-probes.csv", ["utf8", "comma", "point", "seconds"], [0, 1], 0),
    ("unit-row.csv", ["utf8", "comma", "point", "minutes"], [0, 2], 0),
    ("utf-16-big.csv", ["utf16", "semicolon", "comma", "seconds"], [0, 1], 0),
    ("utf-16-little.csv", ["utf16", "tab", "point", "seconds"], [0, 1], 0),
    ("utf-16-unmarked.csv", ["utf16", "comma", "point", "seconds"], [0, 1], 0),
];

const REFUSED: [(&str, &str); 10] = [
    ("refused-a-week.csv", "tooLong"),
    ("refused-backwards.csv", "backwards"),
    ("refused-blank.csv", "empty"),
    ("refused-empty.csv", "empty"),
    ("refused-millivolts.csv", "notPh"),
    ("refused-no-number.csv", "noNumbers"),
    ("refused-no-time.csv", "oneRow"),
    ("refused-one-column.csv", "oneColumn"),
    ("refused-one-row.csv", "oneRow"),
    ("refused-picture.csv", "noNumbers"),
];

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/probe/files")
}

pub fn bytes(name: &str) -> Vec<u8> {
    fs::read(folder().join(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

pub fn read(name: &str) -> Probe {
    Probe::read(&bytes(name), &Wishes::default()).unwrap_or_else(|error| panic!("{name}: {error:?}"))
}

#[test]
fn every_file_gives_the_same_recording_and_tells_what_was_assumed() {
    let plain = read("comma-points.csv");
    assert_eq!((plain.time_s.len(), plain.time_s[60], plain.ph[11], plain.ph[60]), (61, 120.0, 2.47, 8.55));
    for (name, keys, columns, passed_over) in FILES {
        let probe = read(name);
        let assumed = &probe.assumed;
        let told = [assumed.encoding.key(), assumed.delimiter.key(), assumed.mark.key(), assumed.time_unit.key()];
        assert_eq!(told, keys, "{name}");
        assert_eq!([assumed.time_column, assumed.ph_column], columns, "{name}");
        assert_eq!(assumed.passed_over, passed_over, "{name}");
        let rows = if name == "one-jump-back.csv" { 60 } else { 61 };
        assert_eq!((probe.time_s.len(), probe.ph.len()), (rows, rows), "{name}");
        let shift = if name == "three-probes.csv" { 0.5 } else { 0.0 };
        for index in 0..rows {
            let of = if rows == 60 && index >= 40 { index + 1 } else { index };
            let (time_s, ph) = (plain.time_s[of], plain.ph[of] + shift);
            // Minutes with four decimals and hours with six were written.
            assert!((probe.time_s[index] - time_s).abs() < 0.004, "{name}: {} s", probe.time_s[index]);
            assert!((probe.ph[index] - ph).abs() < 1e-9, "{name}: {}", probe.ph[index]);
        }
    }
}

#[test]
fn what_holds_no_recording_is_refused_with_its_reason() {
    for (name, key) in REFUSED {
        let refused = Probe::read(&bytes(name), &Wishes::default()).map(|probe| probe.time_s.len());
        assert_eq!(refused.map_err(ProbeError::key), Err(key), "{name}");
    }
    let refused = Probe::read(&bytes("refused-millivolts.csv"), &Wishes::default());
    assert_eq!(refused.unwrap_err(), ProbeError::NotPh { low: 246.0, high: 1053.0 });
    let refused = Probe::read(&bytes("refused-backwards.csv"), &Wishes::default());
    assert_eq!(refused.unwrap_err(), ProbeError::Backwards { line: 3 });
}

#[test]
fn every_file_of_the_folder_is_tried() {
    let mut there: Vec<String> =
        fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    there.sort();
    let mut tried: Vec<&str> = FILES.iter().map(|file| file.0).chain(REFUSED.iter().map(|file| file.0)).collect();
    tried.sort_unstable();
    assert_eq!(there, tried);
}

#[test]
fn the_first_line_passed_over_is_named_and_the_columns_are_offered() {
    let broken = read("blank-and-broken.csv");
    assert_eq!(broken.assumed.first_passed_over, Some(15));
    let names: Vec<String> = read("iso-dates.csv").assumed.columns.into_iter().map(|column| column.name).collect();
    assert_eq!(names, ["timestamp", "seconds", "mV", "pH"]);
    let names: Vec<String> = read("unit-row.csv").assumed.columns.into_iter().map(|column| column.name).collect();
    assert_eq!(names, ["Time min", "Temperature °C", "pH", "Remark"]);
    assert_eq!(read("latin-1.csv").assumed.columns[1].name, "Température (°C)");
}
