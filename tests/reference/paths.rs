//! Two-zone paths against an independent integration of the same equations: Python, scipy's
//! Radau at rtol 1e-10 or 1e-11, checked there against BDF.

use turnback::chemistry::{Action, Bottle, Parameters, Pour, Reagent};
use turnback::course::{Course, Reading};

use super::table::Table;
use super::worst::Worst;

/// The readout shows hundredths of pH; in the jump, where the pH moves by 2 in a second,
/// 2e-3 is a millisecond.
const PH: f64 = 2e-3;
/// A thousandth of a percent of the suspension.
const SOLID_MOL: f64 = 1e-7;
/// The readout shows tenths of a kelvin.
const TEMPERATURE_K: f64 = 1e-4;
/// Water and ice: a milligram. (The carbonate files leave out the water that H⁺ + OH⁻ make,
/// up to 3e-6 kg.)
const WATER_KG: f64 = 1e-6;
const WATER_WITHOUT_NEUTRALISATION_KG: f64 = 3e-6;
/// Ionic strength, mol/kg.
const IONIC_STRENGTH: f64 = 1e-6;
/// Dissolved carbonate, mol, in 4e-5 mol. (The carbonate files take 998 kg/m³ for water's
/// density where ours moves with the temperature: 0.4 % of what the air takes up.)
const CARBON_MOL: f64 = 2e-8;

/// Heat exchange of the first three files.
const BATH_W_K: f64 = 6.0;

/// The parameters that a file's `# params` line gives, by hand.
fn parameters(file: &str) -> Parameters {
    let plain = Parameters::REFERENCE;
    match file {
        "traj_01C_ice" | "traj_21C_room" => plain,
        "traj_35C_bath" => Parameters { bath_w_k: BATH_W_K, bath_k: 308.15, ..plain },
        _ => Parameters {
            bottle: Bottle { acid_factor: 6.0, neutral_area_m2_g: 40.0, carbonate_mol_per_mol: 0.002, ..plain.bottle },
            gas_transfer_m_s: 2e-5,
            held: true,
            ..plain
        },
    }
}

/// The file's beaker, followed to its last row.
fn course(file: &str, table: &Table, relative_tolerance: Option<f64>) -> Course {
    let case = table.json("case");
    let number = |name: &str| case[name].as_f64().unwrap_or_else(|| panic!("no number {name}"));
    let start_k = number("T0_K");
    let mut course = Course::of_parameters(
        parameters(file),
        number("W0_kg"),
        number("n_solid_mol"),
        start_k,
        number("m_ice0_kg"),
        relative_tolerance,
    );
    let temperature_k = if case["doses"].as_str().unwrap().contains("dose at T0") { start_k } else { 294.15 };
    for dose in case["dose_list"].as_array().unwrap() {
        assert_eq!(dose[1], "hcl");
        let number = |i: usize| dose[i].as_f64().unwrap();
        let (volume_ml, concentration_mol_l, duration_s) = (number(2), number(3), number(4));
        let pour = Pour { reagent: Reagent::Acid, volume_ml, concentration_mol_l, duration_s, temperature_k };
        course.act(number(0), Action::Pour(pour)).unwrap();
    }
    course.reach(*table.numbers("t_s").last().unwrap()).unwrap();
    course
}

/// The largest departure of a column.
fn departure(table: &Table, course: &Course, column: &str, read: impl Fn(&Reading) -> f64) -> Worst {
    let mut worst = Worst::default();
    for (time_s, wanted) in table.numbers("t_s").into_iter().zip(table.numbers(column)) {
        worst.see(read(&course.reading(time_s)) - wanted, || format!("at {time_s} s, {wanted}"));
    }
    worst
}

const FILES: [(&str, usize); 6] = [
    ("traj_01C_ice", 1221),
    ("traj_21C_room", 1221),
    ("traj_35C_bath", 1221),
    ("traj_carbonate_02C", 4211),
    ("traj_carbonate_21C", 1691),
    ("traj_carbonate_34C", 1271),
];

#[test]
fn paths_follow_the_reference_at_the_products_own_tolerance() {
    for (file, rows) in FILES {
        let table = Table::read(&format!("chemistry/{file}.csv"));
        assert_eq!(table.len(), rows, "{file}");
        let course = course(file, &table, None);
        println!("{file}: {:?}", course.cost());
        let bar = |column: &str, bar: f64, read: &dyn Fn(&Reading) -> f64| {
            departure(&table, &course, column, read).within(bar, &format!("{file}, {column}"));
        };
        bar("pH_bulk", PH, &|r| r.ph);
        bar("S_total_mol", SOLID_MOL, &|r| r.solid_mol());
        if table.has("C_total_mol") {
            bar("C_total_mol", CARBON_MOL, &|r| r.carbon_mol);
            bar("W_kg", WATER_WITHOUT_NEUTRALISATION_KG, &|r| r.water_kg);
        } else {
            bar("T_K", TEMPERATURE_K, &|r| r.temperature_k);
            bar("pH_plume", PH, &|r| r.plume_ph);
            bar("W_kg", WATER_KG, &|r| r.water_kg);
            bar("Mg_diss_total_mol", SOLID_MOL, &|r| r.magnesium_mol);
            bar("I_bulk", IONIC_STRENGTH, &|r| r.ionic_strength);
            // A part of Ω by which the pH would err by a tenth of its own bar.
            bar("Omega_bulk", 5e-4, &|r| r.saturation_ratio);
            bar("m_ice_kg", WATER_KG, &|r| r.ice_kg);
        }
    }
}

#[test]
fn a_thousand_times_tighter_the_equations_themselves_are_seen_to_agree() {
    // What a tight integration still differs by is no step's error but the equations'.
    for (file, ph, kelvin) in
        [("traj_01C_ice", 1e-5, 2e-6), ("traj_21C_room", 1e-5, 2e-6), ("traj_35C_bath", 1e-5, 2e-6)]
    {
        let table = Table::read(&format!("chemistry/{file}.csv"));
        let course = course(file, &table, Some(1e-9));
        departure(&table, &course, "pH_bulk", |r| r.ph).within(ph, &format!("{file}, pH, tight"));
        departure(&table, &course, "T_K", |r| r.temperature_k).within(kelvin, &format!("{file}, T, tight"));
        departure(&table, &course, "S_total_mol", |r| r.solid_mol()).within(5e-10, &format!("{file}, solid, tight"));
    }
}
