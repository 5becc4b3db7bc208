use super::files::{bytes, read};
use std::time::Instant;
use turnback::measure::{Delimiter, Mark, PROBE_MAX_BYTES, PROBE_MAX_ROWS, Probe, ProbeError, TimeUnit, Wishes};

fn rows(count: usize) -> Vec<u8> {
    let mut text = String::from("Time;pH\n");
    for row in 0..count {
        text += &format!("{},{};{},{:02}\n", row / 10, row % 10, 7 + row % 3, row % 100);
    }
    text.into_bytes()
}

#[test]
fn a_hundred_thousand_rows_are_read_and_more_are_refused_before_anything_is_kept() {
    let many = rows(100_000);
    let begin = Instant::now();
    let probe = Probe::read(&many, &Wishes::default()).unwrap();
    println!("100,000 rows in {:.0} ms", begin.elapsed().as_secs_f64() * 1e3);
    assert_eq!((probe.ph.len(), probe.time_s[99_999]), (100_000, 9999.9));
    let refused = Probe::read(&rows(PROBE_MAX_ROWS), &Wishes::default());
    assert_eq!(refused.unwrap_err(), ProbeError::TooManyRows { rows: PROBE_MAX_ROWS + 1 });
    let refused = Probe::read(&vec![b'7'; PROBE_MAX_BYTES + 1], &Wishes::default());
    assert_eq!(refused.unwrap_err(), ProbeError::TooLarge { bytes: PROBE_MAX_BYTES + 1 });
}

#[test]
fn what_is_assumed_can_be_said_otherwise() {
    let three = Wishes { ph_column: Some(3), ..Wishes::default() };
    let probe = Probe::read(&bytes("three-probes.csv"), &three).unwrap();
    assert_eq!((probe.assumed.ph_column, probe.ph[0]), (3, 10.23));
    let minutes = Wishes { time_unit: Some(TimeUnit::Minutes), ..Wishes::default() };
    assert_eq!(Probe::read(&bytes("comma-points.csv"), &minutes).unwrap().time_s[60], 7200.0);
    let clock = Wishes { time_column: Some(0), ..Wishes::default() };
    let probe = Probe::read(&bytes("iso-dates.csv"), &clock).unwrap();
    assert_eq!((probe.assumed.time_unit, probe.time_s[60]), (TimeUnit::Clock, 120.0));
    let marked = Wishes { delimiter: Some(Delimiter::Semicolon), mark: Some(Mark::Comma), ..Wishes::default() };
    assert_eq!(Probe::read(&bytes("semicolon-commas.csv"), &marked).unwrap(), read("semicolon-commas.csv"));
    // Said wrongly, it says what is wrong, and nothing else happens.
    let wrong = Wishes { mark: Some(Mark::Point), ..Wishes::default() };
    assert!(Probe::read(&bytes("semicolon-commas.csv"), &wrong).is_err());
    let absent = Wishes { ph_column: Some(99), time_column: Some(98), ..Wishes::default() };
    let _ = Probe::read(&bytes("comma-points.csv"), &absent);
}

/// Every cut and many a torn byte of the awkward files: an answer, and no panic.
#[test]
fn torn_files_are_answered() {
    for name in ["unit-row.csv", "utf-16-big.csv", "latin-1.csv", "midnight.csv", "blank-and-broken.csv"] {
        let whole = bytes(name);
        for end in (0..whole.len()).step_by(7) {
            let _ = Probe::read(&whole[..end], &Wishes::default());
        }
        for at in (0..whole.len()).step_by(11) {
            for other in [0, b'"', b',', b';', b'\n', b':', 0xFF] {
                let mut torn = whole.clone();
                torn[at] = other;
                let _ = Probe::read(&torn, &Wishes::default());
            }
        }
    }
}
