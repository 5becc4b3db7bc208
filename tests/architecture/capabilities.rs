//! Every capability that DEVELOPERS.md lists has a test that bears its number.

use std::collections::BTreeSet;
use std::fs;

use crate::{developers, none, root};

/// The heading in DEVELOPERS.md under which it stands what a teacher would test.
const CAPABILITIES: &str = "## What a teacher would test";

/// The numbers of the table's rows for which no test bears the number: `capability 8: ...` or `capability_8_...`, where
/// several share a test joined by `and`.
fn untested(developers: &str, tests: &str) -> Vec<String> {
    let after = developers.split_once(CAPABILITIES).map_or("", |(_, after)| after);
    let section = after.split("\n## ").next().unwrap_or("");
    let numbers = section.lines().filter_map(|line| line.strip_prefix("| ")?.split(' ').next()?.parse::<u32>().ok());
    let words = tests.replace('_', " ");
    let borne: BTreeSet<u32> = words
        .split("capability ")
        .skip(1)
        .flat_map(|rest| {
            rest.split([':', ' '])
                .map_while(|word| if word == "and" { Some(None) } else { word.parse().ok().map(Some) })
        })
        .flatten()
        .collect();
    numbers.filter(|number| !borne.contains(number)).map(|number| format!("capability {number} has no test")).collect()
}

#[test]
fn every_capability_has_a_test_that_bears_its_number() {
    let mut tests = String::new();
    // This room's own samples prove nothing, and lie in none of these.
    for directory in ["tests", "tests/browser", "tests/session"] {
        for entry in fs::read_dir(root().join(directory)).expect("tests can be read") {
            let path = entry.expect("tests can be listed").path();
            if path.is_file() {
                tests += &fs::read_to_string(&path).unwrap_or_default();
            }
        }
    }
    let developers = developers();
    assert!(developers.contains(CAPABILITIES));
    none(&untested(&developers, &tests));
    let sample =
        "## What a teacher would test\n\n| # | a |\n|---|---|\n| 1 | x |\n| 2 | y |\n| 7 | z |\n\n## Next\n| 9 | q |";
    assert_eq!(untested(sample, "capability_2_and_7_six_doses"), ["capability 1 has no test"]);
    assert!(untested(sample, "\"capability 1: a\" \"capability 2 and 7: b\"").is_empty());
}
