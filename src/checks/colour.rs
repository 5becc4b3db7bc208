//! `colour FILE`: what the eye sees of a dyed suspension.

use std::fmt::Write as _;

use turnback::colour::{Band, Indicator, Srgb, liquid_xyz, shown};

use super::Refusal;
use super::table::Table;

/// The indicator in the liquid, mL in mL: our scenario's 5 mL in a full 600 mL beaker.
const INDICATOR_ML: f64 = 5.0;
const LIQUID_ML: f64 = 600.0;
/// What a pH, a suspension (g/L) and a path of light (cm) can be.
const PH: (f64, f64) = (-2.0, 16.0);
const MOST_SOLIDS_G_L: f64 = 1e4;
const LONGEST_PATH_CM: f64 = 1e4;

/// Tristimulus values (white surround: Y = 1), the shown colour with the display gain, and
/// the name of the pH's band.
pub fn colour(text: &str) -> Result<String, Refusal> {
    let table = Table::read(text)?;
    let ph = table.needed("pH")?;
    let solids = table.needed("solids_g_per_L")?;
    let path = table.needed("path_cm")?;
    let indicator = Indicator::universal(INDICATOR_ML, LIQUID_ML);
    let mut out = String::from("X,Y,Z,R8,G8,B8,bin\n");
    for row in table.rows() {
        let ph = ph.number(row, PH.0, PH.1)?;
        let solids_g_l = solids.number(row, 0.0, MOST_SOLIDS_G_L)?;
        let path_cm = path.number(row, 0.0, LONGEST_PATH_CM)?;
        let xyz = liquid_xyz(&indicator, ph, solids_g_l, path_cm);
        let Srgb([red, green, blue]) = shown(xyz);
        let band = Band::of_ph(ph);
        writeln!(out, "{:.10},{:.10},{:.10},{red},{green},{blue},{band:?}", xyz.x, xyz.y, xyz.z)?;
    }
    Ok(out)
}
