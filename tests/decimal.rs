//! Our own reader and writer of plain numbers beside the standard library's.

use proptest::prelude::*;
use turnback::decimal::{read, write, write_briefly};

#[test]
fn what_is_no_plain_number_is_none() {
    for text in
        ["", " ", "-", ".", "+.", "e5", "1e", "1e+", "1.2.3", "1,5", "--1", "0x10", "inf", "NaN", "1 000", "1_000", "٣"]
    {
        assert_eq!(read(text), None, "{text:?}");
    }
}

#[test]
fn signs_points_and_exponents_are_read() {
    for text in ["0", "-0.5", "+7", ".5", "5.", "007.250", "1e9", "2.5E-3", "-1e+22", "6.02214076e23"] {
        let expected: f64 = text.parse().expect("the standard library reads it");
        let found = read(text).expect("a number");
        assert!((found - expected).abs() <= 1e-15 * expected.abs(), "{text}: {found}");
    }
    assert_eq!(read("1e400"), Some(f64::INFINITY));
    assert_eq!(read("1e-999999999999"), Some(0.0));
    assert_eq!(read("0e999"), Some(0.0));
}

#[test]
fn a_number_is_written_with_its_decimals_and_no_sign_before_zero() {
    assert_eq!(write(1.25, 1), "1.2");
    assert_eq!(write(1.35, 1), "1.4");
    assert_eq!(write(-0.04, 1), "0.0");
    assert_eq!(write(-2.5, 3), "-2.500");
    assert_eq!(write(600.0, 0), "600");
    assert_eq!(write(f64::NAN, 2), "");
    assert_eq!(write(1e300, 2), "");
    assert_eq!(write_briefly(600.0, 1), "600");
    assert_eq!(write_briefly(2.5, 3), "2.5");
    assert_eq!(write_briefly(100.0, 0), "100");
}

#[test]
fn every_number_of_the_compiled_in_tables_is_read_to_the_last_bit() {
    let mut read_alike = 0;
    for entry in std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/src/data")).expect("src/data") {
        let path = entry.expect("an entry").path();
        if path.extension().is_none_or(|extension| extension != "csv") {
            continue;
        }
        let table = std::fs::read_to_string(&path).expect("a table");
        for cell in table.lines().filter(|line| !line.starts_with('#')).flat_map(|line| line.split(',')) {
            if let Ok(expected) = cell.parse::<f64>() {
                assert_eq!(read(cell).map(f64::to_bits), Some(expected.to_bits()), "{cell} in {}", path.display());
                read_alike += 1;
            }
        }
    }
    assert!(read_alike > 200, "only {read_alike} numbers were found");
}

proptest! {
    /// 15 digits and a power of ten within 22: the range in which the reader promises every bit.
    #[test]
    fn up_to_fifteen_digits_are_read_to_the_last_bit(digits in 0_u64..1_000_000_000_000_000, point in 0_usize..22, negative: bool) {
        let sign = if negative { "-" } else { "" };
        let text = format!("{sign}{digits}e-{point}");
        let expected: f64 = text.parse().expect("a number");
        prop_assert_eq!(read(&text).map(f64::to_bits), Some(expected.to_bits()));
    }

    #[test]
    fn any_number_is_read_within_a_few_units_in_the_last_place(value in -1e250_f64..1e250, small in -1e-3_f64..1e-3) {
        for number in [value, small] {
            let found = read(&format!("{number:e}")).expect("a number");
            prop_assert!((found - number).abs() <= 1e-14 * number.abs(), "{number:e} {found:e}");
        }
    }

    #[test]
    fn what_is_written_is_what_the_standard_library_writes(steps in -1_000_000_000_i64..1_000_000_000, decimals in 0_usize..6) {
        // Numbers on the grid of their decimals, as those of a form are: no halves to round.
        let value = steps as f64 / 10_f64.powi(decimals as i32);
        let expected = format!("{value:.decimals$}");
        let expected = if steps == 0 { expected.trim_start_matches('-').to_owned() } else { expected };
        prop_assert_eq!(write(value, decimals), expected);
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in ".{0,60}") {
        let _ = read(&text);
    }
}
