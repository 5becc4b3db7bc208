//! Water as a solvent at one atmosphere, 0 to 60 °C: density, viscosity, relative
//! permittivity, the Debye-Hückel slopes and the ionisation product.

use crate::constants::{CELSIUS_ZERO_K, LN_10};

/// Density ρ, kg/m³. Kell 1975, *J. Chem. Eng. Data* 20, 97 (formula from memory; within
/// 4e-3 kg/m³ of IAPWS-95 from 0 to 60 °C).
pub fn density_kg_m3(temperature_k: f64) -> f64 {
    let t = temperature_k - CELSIUS_ZERO_K;
    let upper = 999.83952
        + t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12))));
    upper / (1.0 + 16.879850e-3 * t)
}

/// Dynamic viscosity η, Pa s: 2.414e-5 · 10^(247.8/(T-140)) (Vogel form, a handbook
/// approximation; -2.2 % at 0 °C, within 0.6 % from 10 to 60 °C of IAPWS 2008).
pub fn viscosity_pa_s(temperature_k: f64) -> f64 {
    2.414e-5 * libm::exp(LN_10 * 247.8 / (temperature_k - 140.0))
}

/// Relative permittivity ε at 1 bar. Bradley & Pitzer 1979, *J. Phys. Chem.* 83, 1599
/// (coefficients as PHREEQC has them).
pub fn relative_permittivity(temperature_k: f64) -> f64 {
    let t = temperature_k;
    let at_1000_bar = 3.4279e2 * libm::exp(-5.0866e-3 * t + 9.4690e-7 * t * t);
    let c = -2.0525 + 3.1159e3 / (-1.8289e2 + t);
    let b = -8.0325e3 + 4.2142e6 / t + 2.1417 * t;
    at_1000_bar + c * libm::log((b + 1.01325) / (b + 1000.0))
}

/// Slopes A (kg½/mol½) and B (kg½/(mol½ Å)) of the Debye-Hückel law, for decadic
/// logarithms. Truesdell & Jones 1974, *J. Res. U.S. Geol. Surv.* 2, 233.
pub fn debye_hueckel(temperature_k: f64) -> (f64, f64) {
    let root_density = (density_kg_m3(temperature_k) / 1000.0).sqrt();
    let et = relative_permittivity(temperature_k) * temperature_k;
    let root_et = et.sqrt();
    (1.82483e6 * root_density / (et * root_et), 50.2916 * root_density / root_et)
}

/// pKw = -log₁₀ of the ionisation product, molal, from density in g/cm³ and temperature.
/// IAPWS R11-07(2019) = Bandura & Lvov 2006, *J. Phys. Chem. Ref. Data* 35, 15;
/// 0 to 800 °C, 0 to 1000 MPa. Superseded in 2024 (differs by 5e-4 here at most).
pub fn pkw_at(temperature_k: f64, density_g_cm3: f64) -> f64 {
    let t = temperature_k;
    let cube_root = libm::cbrt(density_g_cm3);
    let z = density_g_cm3 * libm::exp(-0.864671 + 8659.19 / t - 22786.2 / (t * t) * cube_root * cube_root);
    let gas = 0.61415 + 48251.33 / t - 67707.93 / (t * t) + 10102100.0 / (t * t * t);
    let bound =
        libm::log10(1.0 + z) - z / (1.0 + z) * density_g_cm3 * (0.642044 - 56.8534 / t - 0.375754 * density_g_cm3);
    -12.0 * bound + gas + 2.0 * libm::log10(18.015268e-3)
}

/// pKw of liquid water at one atmosphere.
pub fn pkw(temperature_k: f64) -> f64 {
    pkw_at(temperature_k, density_kg_m3(temperature_k) / 1000.0)
}
