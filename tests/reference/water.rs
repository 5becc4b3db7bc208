//! Water, the constants that move with the temperature, and the saturated suspension.

use turnback::chemistry::{Thermal, density_kg_m3, pkw, pkw_at, saturate};
use turnback::constants::{CELSIUS_ZERO_K, LN_10};

use super::table::Table;
use super::worst::Worst;

/// The published check values have six decimals.
const PKW_CHECK: f64 = 1e-6;
/// Handbook tables come from other measurements than IAPWS's equation: Harned & Owen's
/// differs from it by 0.003 at most.
const PKW_HANDBOOK: f64 = 0.005;

#[test]
fn pkw_meets_the_check_values_of_iapws() {
    let table = Table::read("chemistry/kw.csv");
    let (temperature, density, pkw) = (table.words("T_K"), table.words("rho_g_cm3"), table.numbers("pKw"));
    let mut worst = Worst::default();
    let mut rows = 0;
    for (i, kind) in table.words("kind").iter().enumerate() {
        // IAPWS R11-07(2019), table 3; the checks of the later R11-24 belong to its own constants.
        if *kind == "check_R11-07" {
            let found = pkw_at(temperature[i].parse().unwrap(), density[i].parse().unwrap());
            worst.see(found - pkw[i], || format!("{} K, {} g/cm³", temperature[i], density[i]));
            rows += 1;
        }
    }
    assert_eq!(rows, 5);
    worst.within(PKW_CHECK, "pKw, check values");
}

#[test]
fn pkw_agrees_with_handbook_tables_from_0_to_60_degrees() {
    let table = Table::read("chemistry/kw.csv");
    let (temperature, value) = (table.numbers("T_K"), table.numbers("pKw"));
    let (mut harned, mut crc) = (Worst::default(), Worst::default());
    let mut rows = 0;
    for (i, kind) in table.words("kind").iter().enumerate() {
        let departure = pkw(temperature[i]) - value[i];
        match *kind {
            "harned_owen" => harned.see(departure, || format!("{} K", temperature[i])),
            "crc" => crc.see(departure, || format!("{} K", temperature[i])),
            _ => continue,
        }
        rows += 1;
    }
    assert_eq!(rows, 26);
    harned.within(PKW_HANDBOOK, "pKw, Harned & Owen");
    // Two decimals: half of the last one on top.
    crc.within(PKW_HANDBOOK + 0.005, "pKw, two-decimal handbook table");
    // CRC Handbook of Chemistry and Physics, online edition (2025), "Ionization Constant of
    // Normal and Heavy Water", 0.1 MPa: three decimals of the same IAPWS equation.
    for (celsius, wanted) in [(0.0, 14.946), (25.0, 13.995), (50.0, 13.264)] {
        let found = pkw(celsius + CELSIUS_ZERO_K);
        assert!((found - wanted).abs() <= 6e-4, "{celsius} °C: {found}, wanted {wanted}");
    }
}

#[test]
fn water_is_as_dense_and_as_thick_as_iapws_says() {
    // IAPWS-95 and IAPWS 2008 (viscosity) at one atmosphere.
    for (celsius, kg_m3) in [(0.0, 999.84), (20.0, 998.21), (40.0, 992.22), (60.0, 983.20)] {
        let found = density_kg_m3(celsius + CELSIUS_ZERO_K);
        // The formula is good to 4e-3, the table is rounded to 5e-3.
        assert!((found - kg_m3).abs() <= 0.01, "{celsius} °C: {found} kg/m³, wanted {kg_m3}");
    }
    let viscosities =
        [(0.0, 1.792, 0.023), (10.0, 1.306, 0.006), (20.0, 1.0016, 0.001), (30.0, 0.797, 0.001), (60.0, 0.466, 0.007)];
    for (celsius, mpa_s, part) in viscosities {
        let found = Thermal::of(celsius + CELSIUS_ZERO_K).viscosity * 1e3;
        // The formula's own claims; it only sets how fast flocs sink and H⁺ crosses a film.
        assert!((found / mpa_s - 1.0).abs() <= part, "{celsius} °C: {found} mPa s, wanted {mpa_s}");
    }
}

#[test]
fn debye_and_hueckels_slopes_are_phreeqcs() {
    // Four decimals of A and B as PHREEQC computes them (constants of its database format
    // after Truesdell & Jones 1974, permittivity after Bradley & Pitzer 1979).
    let rows = [
        (0.0, 0.4908, 0.3246),
        (20.0, 0.5057, 0.3277),
        (25.0, 0.5100, 0.3285),
        (40.0, 0.5241, 0.3310),
        (60.0, 0.5459, 0.3345),
    ];
    for (celsius, a, b) in rows {
        let thermal = Thermal::of(celsius + CELSIUS_ZERO_K);
        assert!((thermal.debye_a / LN_10 - a).abs() <= 6e-5, "A at {celsius} °C: {}", thermal.debye_a / LN_10);
        assert!((thermal.debye_b - b).abs() <= 6e-5, "B at {celsius} °C: {}", thermal.debye_b);
    }
}

#[test]
fn brucite_dissolves_as_the_databases_say() {
    let log_k = |celsius: f64| Thermal::of(celsius + CELSIUS_ZERO_K).ln_brucite / LN_10;
    // minteq.v4.dat and wateq4f.dat, Mg(OH)2 + 2 H+ = Mg+2 + 2 H2O at 25 °C: 16.84.
    assert!((log_k(25.0) - 16.84).abs() <= 1e-9);
    // Enthalpy: minteq.v4.dat -113.996 kJ/mol; wateq4f.dat -27.1 kcal/mol, 0.5 % less. Over
    // 25 K that makes 0.01 in log K, over 35 K 0.012.
    for celsius in [0.0, 60.0] {
        let kelvin = celsius + CELSIUS_ZERO_K;
        let wateq4f = 16.84 + 27.1e3 * 4.184 / (8.314462618 * LN_10) * (1.0 / kelvin - 1.0 / 298.15);
        assert!((log_k(celsius) - wateq4f).abs() <= 0.012, "{celsius} °C: {} and {wateq4f}", log_k(celsius));
        // Thermoddem 1.10 has another solubility, but its analytic form says how it moves:
        // van 't Hoff's straight line costs 0.018 at most.
        let thermoddem =
            |t: f64| -356.41635 - 5.3167189e-2 * t + 24317.829 / t + 128.73122 * t.log10() - 952868.82 / (t * t);
        let moved = thermoddem(kelvin) - thermoddem(298.15);
        assert!((log_k(celsius) - 16.84 - moved).abs() <= 0.02, "{celsius} °C: {} and {moved}", log_k(celsius) - 16.84);
    }
    // As a solubility product: log Ksp -11.15 (minteq.v4.dat).
    assert!((log_k(25.0) - 2.0 * pkw(298.15) + 11.15).abs() <= 0.005);
    // phreeqc.dat: Mg+2 + H2O = MgOH+ + H+, log K -11.44, 15.952 kcal/mol.
    let mgoh = |kelvin: f64| Thermal::of(kelvin).ln_mgoh / LN_10;
    assert!((mgoh(298.15) + 11.44).abs() <= 1e-9);
    let slope = (mgoh(300.15) - mgoh(296.15)) / (1.0 / 296.15 - 1.0 / 300.15) * 8.314462618 * LN_10;
    assert!((slope - 15.952e3 * 4.184).abs() <= 1.0, "{slope} J/mol");
}

#[test]
fn carbonic_acid_has_plummer_and_busenbergs_constants() {
    // Plummer & Busenberg 1982, table of log K at 25 °C: K1 -6.352, K2 -10.329, KH -1.468.
    let thermal = Thermal::of(298.15);
    let first = (thermal.ln_carbon_dioxide - thermal.ln_hydrogencarbonate) / LN_10;
    assert!((first - 6.352).abs() <= 6e-4, "{first}");
    assert!((thermal.ln_hydrogencarbonate / LN_10 - 10.329).abs() <= 6e-4);
    assert!((thermal.henry.log10() + 1.468).abs() <= 6e-4);
}

#[test]
fn the_suspension_is_the_more_basic_the_colder_it_is() {
    // The reference calculation's equilibrium for 1.600 g of solid in 518 g of water, three
    // decimals (an independent program for the same equations; PHREEQC agrees with it within
    // 0.003, see equilibria).
    let rows = [
        (0.0, 11.318),
        (1.0, 11.277),
        (10.0, 10.925),
        (20.0, 10.564),
        (25.0, 10.394),
        (35.0, 10.074),
        (50.0, 9.638),
        (60.0, 9.373),
    ];
    for (celsius, ph) in rows {
        let rest = saturate(0.518, 1.600 / 58.3197, celsius + CELSIUS_ZERO_K);
        let found = rest.speciation.ph();
        assert!((found - ph).abs() <= 6e-4, "{celsius} °C: pH {found}, wanted {ph}");
        // Hardly more dissolves in the cold or the warm: it is water's pKw that moves.
        assert!((1.22e-4..=1.35e-4).contains(&rest.magnesium_molality), "{celsius} °C: {}", rest.magnesium_molality);
        assert!((rest.speciation.saturation_ratio - 1.0).abs() <= 1e-6);
    }
}
