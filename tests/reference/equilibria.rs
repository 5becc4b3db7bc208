//! Mixtures at rest against PHREEQC (Parkhurst & Appelo 2013, *U.S. Geological Survey
//! Techniques and Methods* 6-A43) with the databases that come with it.

use turnback::chemistry::{Equilibrium, Mixture, equilibrate};
use turnback::constants::CELSIUS_ZERO_K;

use super::table::Table;
use super::worst::Worst;

/// How far the pH may be from each database's, on every row, and why that far.
const BARS: [(&str, f64); 4] = [
    // The same activity model and the same brucite: what is left is water's constant (pKw
    // of IAPWS here, an older fit there).
    ("phreeqc.dat", 0.003),
    // The same family of activity coefficients, another MgOH⁺ and another enthalpy.
    ("wateq4f.dat", 0.010),
    // Pitzer's equations instead of ion sizes.
    ("pitzer.dat", 0.020),
    // Davies' equation, known to differ by 0.03 at an ionic strength of 0.2.
    ("minteq.v4.dat", 0.035),
];
/// llnl.dat is in the file but under no bar: its brucite is 3.5 times less soluble (log K
/// 16.30 against 16.84), so that it answers another question.
const OTHER_SOLUBILITY: &str = "llnl.dat";
/// With carbonate: PHREEQC also pairs carbonate with sodium, and its water differs as above.
const CARBONATE_BAR: f64 = 0.006;

/// The mixtures of a file at rest, one a row.
fn at_rest(table: &Table) -> Vec<Equilibrium> {
    let numbers = |name: &str| table.numbers(name);
    let or_none = |name: &str, there: bool| if there { table.numbers(name) } else { vec![0.0; table.len()] };
    let with_carbon = table.has("CO2_mol");
    let (temperature, water, brucite) = (numbers("T_C"), numbers("W_kg"), numbers("brucite_mol"));
    let (acid, base) = (numbers("HCl_mol"), numbers("NaOH_mol"));
    let (chloride, carbon) = (or_none("MgCl2_mol", !with_carbon), or_none("CO2_mol", with_carbon));
    (0..table.len())
        .map(|i| {
            let mixture = Mixture {
                water_kg: water[i],
                brucite_mol: brucite[i],
                acid_mol: acid[i],
                base_mol: base[i],
                magnesium_chloride_mol: chloride[i],
                carbon_dioxide_mol: carbon[i],
            };
            equilibrate(&mixture, temperature[i] + CELSIUS_ZERO_K)
        })
        .collect()
}

#[test]
fn mixtures_come_to_rest_at_phreeqcs_ph_with_four_databases() {
    let table = Table::read("chemistry/equilibria.csv");
    let (ids, databases, ph) = (table.words("id"), table.words("database"), table.numbers("pH"));
    let found = at_rest(&table);
    for (database, bar) in BARS {
        let mut worst = Worst::default();
        let mut rows = 0;
        for i in (0..table.len()).filter(|&i| databases[i].starts_with(database)) {
            worst.see(found[i].speciation.ph() - ph[i], || format!("mixture {}", ids[i]));
            rows += 1;
        }
        assert_eq!(rows, 22, "{database}");
        worst.within(bar, &format!("pH at rest, {database}"));
    }
    let known = |name: &str| name.starts_with(OTHER_SOLUBILITY) || BARS.iter().any(|(bar, _)| name.starts_with(bar));
    assert!(databases.iter().all(|name| known(name)), "a database without a bar");
}

#[test]
fn as_much_solid_is_left_as_phreeqc_says() {
    let table = Table::read("chemistry/equilibria.csv");
    let databases = table.words("database");
    let (left, magnesium, strength, water) = (
        table.numbers("brucite_left_mol"),
        table.numbers("Mg_molkgw"),
        table.numbers("mu_molkgw"),
        table.numbers("water_kg"),
    );
    let found = at_rest(&table);
    let mut worst = [(); 4].map(|()| Worst::default());
    for i in (0..table.len()).filter(|&i| databases[i].starts_with("phreeqc.dat")) {
        let at = || format!("row {i}");
        worst[0].see(found[i].brucite_left_mol - left[i], at);
        worst[1].see((found[i].magnesium_molality - magnesium[i]) / magnesium[i].max(1e-3), at);
        worst[2].see((found[i].speciation.ionic_strength - strength[i]) / strength[i].max(1e-3), at);
        worst[3].see(found[i].water_kg - water[i], at);
    }
    // 0.003 in pH is 0.7 % of the OH⁻ that the solid sets free, at most 2e-6 mol of it here.
    worst[0].within(2e-6, "solid left, mol");
    worst[1].within(2e-3, "dissolved magnesium, part");
    // At 1 °C the two values of pKw differ by 0.005, and with them the little that the bare
    // suspension dissolves.
    worst[2].within(5e-3, "ionic strength, part");
    // The water that neutralisation makes: 0.4 g in the strongest of these mixtures.
    worst[3].within(1e-6, "water, kg");
}

#[test]
fn mixtures_with_carbonate_come_to_rest_at_phreeqcs_ph() {
    let table = Table::read("chemistry/carbonate_equilibria.csv");
    let (ph, found) = (table.numbers("pH"), at_rest(&table));
    let species: Vec<Vec<f64>> =
        ["m_CO2", "m_HCO3", "m_CO3", "m_MgCO3", "m_MgHCO3"].iter().map(|name| table.numbers(name)).collect();
    let carbon = table.numbers("C_molkgw");
    let (mut worst, mut shares) = (Worst::default(), Worst::default());
    for i in 0..table.len() {
        worst.see(found[i].speciation.ph() - ph[i], || format!("mixture {i}"));
        let s = &found[i].speciation.species;
        let forms = [s.carbon_dioxide, s.hydrogencarbonate, s.carbonate, s.mgco3, s.mghco3];
        for (form, wanted) in forms.iter().zip(&species) {
            shares.see((form - wanted[i]) / carbon[i], || format!("mixture {i}, {form:e} and {:e}", wanted[i]));
        }
    }
    assert_eq!(table.len(), 16);
    worst.within(CARBONATE_BAR, "pH at rest with carbonate");
    // PHREEQC also pairs carbonate with sodium: 1.9 % of it in mixture 11, where nothing but
    // sodium is there to pair with.
    shares.within(0.02, "share of a carbonate form");
}
