//! What the page tells of the model is what the model computes with, and all of it.

use std::fs;
use std::path::Path;

use turnback::chemistry::{Bottle, Parameters};
use turnback::constants::{BRUCITE_ENTHALPY_J_MOL, GAS_CONSTANT};
use turnback::data;
use turnback::view::{ConstantRow, constants};

fn source(path: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).expect("a source file")
}

fn row(key: &str) -> ConstantRow {
    constants().into_iter().find(|row| row.key == key).unwrap_or_else(|| panic!("no row {key}"))
}

#[test]
fn the_rows_hold_the_very_numbers_of_the_engine() {
    assert_eq!(row("gasConstant").value, GAS_CONSTANT);
    assert_eq!(row("heatBrucite").value, BRUCITE_ENTHALPY_J_MOL);
    assert_eq!(row("acidFactor").value, Bottle::default().acid_factor);
    assert_eq!(row("neutralArea").value, Bottle::default().neutral_area_m2_g);
    assert_eq!(row("carbonate").value, Bottle::default().carbonate_mol_per_mol);
    assert_eq!(row("nucleation").value, Parameters::REFERENCE.nucleation_mol_kg_s);
    // IAPWS R11-07(2019) at 25 °C and 1 atm, as two independent libraries give it: 13.9945.
    assert!((row("pkw").value - 13.9945).abs() < 5e-5, "{}", row("pkw").value);
    // Plummer & Busenberg 1982 as in phreeqc.dat at 25 °C: 16.681 and 10.329; Henry's constant -1.468.
    assert!((row("logKCarbonDioxide").value - 16.681).abs() < 1e-3);
    assert!((row("logKHydrogencarbonate").value - 10.329).abs() < 1e-3);
    assert!((row("henry").value.log10() + 1.468).abs() < 1e-3);
}

#[test]
fn every_dye_row_of_the_tables_is_told_with_its_source() {
    let rows = constants();
    let dyes = rows.iter().filter(|row| row.group == "dye").count();
    assert_eq!(dyes, data::dye_stock().count() + data::dye_steps().count() + data::dye_bands().count());
    for table in ["DyeBands", "DyeSteps", "DyeStock"] {
        for line in source(&format!("src/data/{table}.csv")).lines().filter(|line| !line.starts_with('#')).skip(1) {
            // The source is all that follows the last comma: one with a comma of its own would be told cut.
            let told = line.rsplit(',').next().expect("a cell");
            assert!(rows.iter().any(|row| row.source == told), "{table}: \"{told}\" is not told");
            let columns = source(&format!("src/data/{table}.csv"))
                .lines()
                .find(|line| !line.starts_with('#'))
                .map_or(0, |header| header.split(',').count());
            assert_eq!(line.split(',').count(), columns, "{table}: {line}");
        }
    }
}

/// Constants that no row tells, each with its reason.
const NOT_TOLD: [(&str, &str); 13] = [
    ("REFERENCE_K", "the temperature of tables, named in the rows"),
    ("LN_10", "mathematics"),
    ("SLOPE_STEP_K", "numerics"),
    ("FIRST_K", "numerics"),
    ("SPACING_K", "numerics"),
    ("WATER_KG_ML", "density of water, computed elsewhere to more digits"),
    ("SUSPENSION_WATER_KG_ML", "the same"),
    ("SOLID_G_ML", "the solid's density again, in g/mL"),
    ("FASTEST_MIXING_S", "bound of the mixing time"),
    ("SLOWEST_MIXING_S", "bound of the mixing time"),
    ("GLOW_FROM", "word for a picture"),
    ("WIDTH_CM", "the torch's width, a choice"),
    ("LEAST_ABSORPTION", "numerics"),
];

#[test]
fn no_constant_of_the_model_is_kept_back() {
    let files = ["constants", "chemistry/thermal", "chemistry/setup", "colour/visibility", "colour/liquid"];
    for file in files {
        let text = source(&format!("src/{file}.rs"));
        let elsewhere = source("src/chemistry/parameters.rs") + &source("src/chemistry/thermal.rs");
        for line in text.lines().map(str::trim_start) {
            let Some((before, _)) = line.split_once(": f64 =") else { continue };
            let Some(name) = before.split("const ").nth(1) else { continue };
            let excused = NOT_TOLD.iter().any(|(known, _)| *known == name);
            assert!(tells(&text, name) || tells(&elsewhere, name) || excused, "src/{file}.rs: {name} is not told");
        }
    }
}

/// Whether a file lists a constant as told: it stands before its unit, in a line of its own or not.
fn tells(text: &str, name: &str) -> bool {
    [", \"", ",\n"]
        .iter()
        .any(|after| text.contains(&format!(" {name}{after}")) || text.contains(&format!("::{name}{after}")))
}

#[test]
fn a_constant_that_is_only_used_is_not_taken_for_told() {
    assert!(!tells("const KEPT_BACK: f64 = 1.0; let x = KEPT_BACK * 2.0;", "KEPT_BACK"));
    assert!(tells("Quoted::new(\"told\", TOLD, \"m\", Defined, \"\")", "TOLD"));
}

#[test]
fn every_row_says_how_well_it_is_known_or_where_it_comes_from() {
    for row in constants() {
        let needs_source = matches!(row.standing, "defined" | "published" | "computed" | "fitted" | "compiled");
        assert!(!needs_source || !row.source.is_empty(), "{} names no source", row.key);
        assert!(row.value.is_finite());
    }
    let mut named: Vec<String> = constants().into_iter().map(|row| format!("{} {}", row.key, row.of)).collect();
    let count = named.len();
    named.sort();
    named.dedup();
    // Two bands of one form may share a place to the nanometre.
    assert!(count - named.len() <= 1, "a name is told twice");
}
