//! What the model computes with, told row by row: read from where the engine reads it, so that no number is copied.

use serde::Serialize;

use crate::chemistry;
use crate::colour;
use crate::constants::Quoted;

/// One number of the model.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct ConstantRow {
    /// Its group: chemistry, colour, dye.
    pub group: &'static str,
    /// Its name; the words are the page's.
    pub key: &'static str,
    /// Which dye, and which of its steps or forms; empty but in the group dye.
    pub of: String,
    /// Its value.
    pub value: f64,
    /// Its unit, empty for a pure number.
    pub unit: &'static str,
    /// How well it is known: defined, published, computed, remembered, fitted, calibrated, invented, or compiled where its
    /// source says so.
    pub standing: &'static str,
    /// Where it comes from.
    pub source: &'static str,
}

impl ConstantRow {
    fn of(group: &'static str, of: String, quoted: Quoted) -> ConstantRow {
        let Quoted { key, value, unit, standing, source } = quoted;
        ConstantRow { group, key, of, value, unit, standing: standing.key(), source }
    }
}

/// Every number of the model.
pub fn constants() -> Vec<ConstantRow> {
    let rows = |group, quoted: Vec<Quoted>| {
        quoted.into_iter().map(move |quoted| ConstantRow::of(group, String::new(), quoted))
    };
    let dyes = colour::quoted_dyes().into_iter().map(|(of, quoted)| ConstantRow::of("dye", of, quoted));
    rows("chemistry", chemistry::quoted()).chain(rows("colour", colour::quoted())).chain(dyes).collect()
}
