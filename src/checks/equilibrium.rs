//! `equilibrium FILE`: mixtures brought to rest.

use std::fmt::Write as _;

use turnback::chemistry::{Mixture, equilibrate};
use turnback::constants::CELSIUS_ZERO_K;

use super::Refusal;
use super::table::Table;

/// Temperatures, °C, at which water is liquid; the constants are trusted from 0 to 60.
const TEMPERATURES_C: (f64, f64) = (-5.0, 100.0);
/// Water, kg, and amounts, mol: far past any beaker, and short of what numbers can hold.
const WATER_KG: (f64, f64) = (1e-6, 1e6);
const MOST_MOL: f64 = 1e6;

/// Brings each row's mixture to rest.
pub fn equilibrium(text: &str) -> Result<String, Refusal> {
    let table = Table::read(text)?;
    let temperature = table.needed("T_C")?;
    let water = table.needed("W_kg")?;
    let brucite = table.needed("brucite_mol")?;
    let acid = table.needed("HCl_mol")?;
    let base = table.needed("NaOH_mol")?;
    let chloride = table.optional("MgCl2_mol", 0.0);
    let carbon = table.optional("CO2_mol", 0.0);
    let mut out = String::from("pH,I,Mg_molkgw,brucite_left_mol\n");
    for row in table.rows() {
        let mixture = Mixture {
            water_kg: water.number(row, WATER_KG.0, WATER_KG.1)?,
            brucite_mol: brucite.number(row, 0.0, MOST_MOL)?,
            acid_mol: acid.number(row, 0.0, MOST_MOL)?,
            base_mol: base.number(row, 0.0, MOST_MOL)?,
            magnesium_chloride_mol: chloride.number(row, 0.0, MOST_MOL)?,
            carbon_dioxide_mol: carbon.number(row, 0.0, MOST_MOL)?,
        };
        let celsius = temperature.number(row, TEMPERATURES_C.0, TEMPERATURES_C.1)?;
        let rest = equilibrate(&mixture, celsius + CELSIUS_ZERO_K);
        let found =
            [rest.speciation.ph(), rest.speciation.ionic_strength, rest.magnesium_molality, rest.brucite_left_mol];
        if !found.iter().all(|number| number.is_finite()) {
            return Err(format!("line {}: the mixture is too strong for the equations", row.line).into());
        }
        let [ph, ionic_strength, magnesium, left] = found;
        writeln!(out, "{ph:.8},{ionic_strength:.8e},{magnesium:.8e},{left:.8e}")?;
    }
    Ok(out)
}
