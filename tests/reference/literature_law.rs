//! The plain literature law (one area for both branches, no factor, no carbonate) against
//! the reference calculation's tables: what it gives, and why it is not the default bottle.

use turnback::chemistry::{Action, Bottle, Mixture, Parameters, Pour, Reagent, equilibrate};
use turnback::constants::CELSIUS_ZERO_K;
use turnback::course::Course;

/// 518 g of water with 1.600 g of solid.
const WATER_KG: f64 = 0.518;
const SOLID_MOL: f64 = 1.600 / 58.3197;
const DOSE_S: f64 = 5.0;

fn acid(volume_ml: f64, celsius: f64) -> Action {
    Action::Pour(Pour {
        reagent: Reagent::Acid,
        volume_ml,
        concentration_mol_l: 3.0,
        duration_s: 1.0,
        temperature_k: celsius + CELSIUS_ZERO_K,
    })
}

fn law(area_m2_g: f64) -> Parameters {
    let bottle = Bottle { acid_area_m2_g: area_m2_g, neutral_area_m2_g: area_m2_g, ..Bottle::LITERATURE };
    Parameters { bottle, held: true, ..Parameters::REFERENCE }
}

fn beaker(parameters: Parameters, celsius: f64) -> Course {
    Course::of_parameters(parameters, WATER_KG, SOLID_MOL, celsius + CELSIUS_ZERO_K, 0.0, None)
}

/// Seconds from one dose of 3 mL of 3 mol/L to a pH.
fn seconds(parameters: Parameters, celsius: f64, ph: f64) -> f64 {
    let mut course = beaker(parameters, celsius);
    course.act(DOSE_S, acid(3.0, celsius)).unwrap();
    course.reach(DOSE_S + 500.0).unwrap();
    course.turned_back_s(ph, DOSE_S + 1.0, DOSE_S + 500.0).unwrap() - DOSE_S
}

/// The tables were read off samples a quarter of a second apart, so late by up to that, and
/// printed in tenths of a second.
fn assert_sampled(found: f64, printed: f64, what: &str) {
    assert!((printed - 0.31..=printed + 0.06).contains(&found), "{what}: {found:.3} s, the table has {printed}");
}

#[test]
fn one_dose_takes_the_seconds_of_the_reference_at_every_area_and_temperature() {
    // Reactive area, m²/g; seconds to pH 7 and to pH 8.5 at 1, 20, 21 and 35 °C
    // (Python, scipy LSODA at rtol 1e-7, two zones).
    let table = [
        (54.0, [(382.8, 385.8), (74.0, 79.0), (68.2, 73.5), (24.5, 31.8)]),
        (85.0, [(244.2, 246.0), (48.0, 51.0), (44.2, 47.5), (16.2, 21.2)]),
        (100.0, [(208.0, 209.8), (41.0, 43.8), (38.0, 40.8), (14.2, 18.2)]),
        (150.0, [(139.8, 140.8), (28.2, 30.0), (26.2, 28.0), (10.5, 13.2)]),
    ];
    for (area, row) in table {
        for (celsius, (to_7, to_8_5)) in [1.0, 20.0, 21.0, 35.0].into_iter().zip(row) {
            for (ph, printed) in [(7.0, to_7), (8.5, to_8_5)] {
                let what = format!("{area} m²/g, {celsius} °C, pH {ph}");
                assert_sampled(seconds(law(area), celsius, ph), printed, &what);
            }
        }
    }
}

#[test]
fn the_film_around_the_flocs_costs_a_second_and_larger_flocs_ten() {
    let law = law(85.0);
    assert_sampled(seconds(Parameters { sherwood: None, ..law }, 21.0, 7.0), 43.2, "no film");
    assert_sampled(seconds(law, 21.0, 7.0), 44.2, "flocs of 10 µm");
    assert_sampled(seconds(Parameters { floc_diameter_m: 30e-6, ..law }, 21.0, 7.0), 53.0, "flocs of 30 µm");
}

#[test]
fn the_seventh_dose_of_three_millilitres_and_the_fifth_of_four_leave_clear_acid() {
    let run = |volume_ml: f64, doses: u32| {
        let mut course = beaker(law(85.0), 21.0);
        for number in 0..doses {
            course.act(DOSE_S + 300.0 * f64::from(number), acid(volume_ml, 21.0)).unwrap();
        }
        let end_s = DOSE_S + 300.0 * f64::from(doses);
        course.reach(end_s).unwrap();
        course.reading(end_s)
    };
    // 1.600 g wants 54.87 mmol: 3 mL doses bring 9 mmol, 4 mL doses 12.
    let six = run(3.0, 6);
    assert!((six.solid_mol() / SOLID_MOL - 0.016).abs() <= 1e-3, "solid left {}", six.solid_mol() / SOLID_MOL);
    assert!((six.ph - 4.4).abs() <= 0.05, "pH {}", six.ph);
    let seven = run(3.0, 7);
    assert!(seven.solid_mol() <= 1e-9 && (seven.ph - 1.9).abs() <= 0.05, "pH {}", seven.ph);
    let five = run(4.0, 5);
    assert!(five.solid_mol() <= 1e-5 && (five.ph - 2.1).abs() <= 0.05, "pH {}, {}", five.ph, five.solid_mol());
}

#[test]
fn the_common_ion_holds_the_ph_at_rest_lower() {
    // At 21 °C the suspension stands at pH 10.53; after 9 mmol of acid in 0.52 kg it can only
    // come back to 9.71, and near the end of the doses to 9.4 (reference calculation,
    // saturation; the figures as printed there).
    let rest = |magnesium_mol: f64| {
        let mixture =
            Mixture { water_kg: 0.52, brucite_mol: 1e-3, magnesium_chloride_mol: magnesium_mol, ..Mixture::default() };
        equilibrate(&mixture, 21.0 + CELSIUS_ZERO_K).speciation.ph()
    };
    assert!((rest(0.0) - 10.53).abs() <= 0.005, "pH {}", rest(0.0));
    assert!((rest(4.5e-3) - 9.71).abs() <= 0.005, "pH {}", rest(4.5e-3));
    assert!((rest(24e-3) - 9.4).abs() <= 0.05, "pH {}", rest(24e-3));
    // A beaker gets there by itself, in its own time.
    let mut course = beaker(law(85.0), 21.0);
    course.act(DOSE_S, acid(3.0, 21.0)).unwrap();
    course.reach(7200.0).unwrap();
    let end = course.reading(7200.0);
    assert!((end.saturation_ratio - 1.0).abs() <= 1e-3, "Ω {}", end.saturation_ratio);
    assert!((end.ph - rest(4.5e-3)).abs() <= 0.01, "pH {}", end.ph);
}

#[test]
fn doses_warm_the_beaker_by_the_heat_of_neutralisation() {
    // One 9 mmol dose in 0.52 kg: +0.22 K; five 12 mmol doses: +1.2 K. By hand 57 kJ per mole
    // of H⁺ over 2.38 kJ/K where nothing is lost to the room; two figures.
    let free = Parameters { held: false, room_w_k: 0.0, ..law(85.0) };
    let mut one = beaker(free, 21.0);
    one.act(DOSE_S, acid(3.0, 21.0)).unwrap();
    one.reach(DOSE_S + 60.0).unwrap();
    let risen = one.reading(DOSE_S + 60.0).temperature_k - 294.15;
    assert!((risen - 0.22).abs() <= 0.005, "{risen} K");
    let mut five = beaker(Parameters { held: false, ..law(85.0) }, 21.0);
    for number in 0..5 {
        five.act(DOSE_S + 120.0 * f64::from(number), acid(4.0, 21.0)).unwrap();
    }
    five.reach(DOSE_S + 600.0).unwrap();
    let risen = five.reading(DOSE_S + 600.0).temperature_k - 294.15;
    assert!((risen - 1.2).abs() <= 0.05, "{risen} K");
}
