//! How far a straight line of ln(1/t) against 1/T lies below the energy that the model computes with, and why: the figures
//! that the page tells (`data.whyLines`). The model's own, no outside source; the energies of the branches are those of
//! Palandri & Kharaka 2004, USGS OFR 2004-1068, table 32.

use turnback::colour::Band;
use turnback::lesson::{Lesson, Recipe, RecipeText};
use turnback::measure::{Apparent, Timing, Values, computed_times};

/// Energy of the line through dose 1 at our scenario's temperatures, kJ/mol.
fn line_kj_mol(changes: &[(&str, &str)], carbonate: f64) -> f64 {
    let mut text: RecipeText = Recipe::default().to_text();
    for (key, value) in changes {
        text.fields.insert((*key).to_owned(), (*value).to_owned());
    }
    let lesson = Lesson::of_recipe(Recipe::from_text(&text).unwrap());
    let temperatures = [2.0, 21.0, 34.0];
    let timing = |start_c| Timing { dose: 1, beaker: None, start_c, end_c: None, seconds: 20.0, finish: Band::Green };
    let values = Values { carbonate, ..Values::of(&lesson) };
    let times = computed_times(&lesson, &values, &temperatures.map(timing)).unwrap();
    let points: Vec<(f64, f64)> = temperatures.into_iter().zip(times).collect();
    Apparent::through(&points).unwrap().energy_kj_mol
}

#[test]
fn the_models_own_line_lies_below_its_energy_by_pouring_mixing_carbonate_and_the_neutral_branch() {
    let swift = [("pourS", "0.5"), ("stirRpm", "1200")];
    let lines = [line_kj_mol(&[], 0.002), line_kj_mol(&swift, 0.002), line_kj_mol(&swift, 0.0)];
    println!("dose 1: {lines:.1?} kJ/mol as it comes, poured and mixed swiftly, and without carbonate as well");
    for (line, told) in lines.into_iter().zip([38.0, 43.0, 46.0]) {
        assert!((line - told).abs() < 0.6, "the page tells {told} kJ/mol, it is {line:.2}");
    }
}
