//! Columns for charts and files: one number per time, never from later than now.

use crate::colour::Band;
use crate::constants::CELSIUS_ZERO_K;
use crate::course::Reading;
use crate::record::{Cells, Column, Dialect, to_csv};
use crate::session::clarity_of;

use super::Screen;
use super::labels::dissolved_mmol;

type Reader = fn(&Reading) -> f64;

/// The columns there are, by name.
pub const COLUMNS: [(&str, Reader); 13] = [
    ("timeS", |reading| reading.time_s),
    ("ph", |reading| reading.ph),
    ("plumePh", |reading| reading.plume_ph),
    // The colour's place among all, from 0.
    ("band", |reading| f64::from(Band::of_ph(reading.ph) as u8)),
    ("temperatureC", |reading| reading.temperature_k - CELSIUS_ZERO_K),
    ("solidG", Reading::solid_g),
    ("suspendedGL", Reading::suspended_bulk_g_l),
    ("dissolvedMmol", dissolved_mmol),
    ("carbonMmol", |reading| reading.carbon_mol * 1000.0),
    ("ionicStrength", |reading| reading.ionic_strength),
    ("saturationRatio", |reading| reading.saturation_ratio),
    ("volumeMl", |reading| reading.volume_l() * 1000.0),
    ("iceG", |reading| reading.ice_kg * 1000.0),
];

/// Most rows of one column: a wide screen has fewer pixels.
const MAX_ROWS: usize = 20_000;

impl Screen {
    /// `n` values of a column at equal steps from one time to another, both included; NaN where
    /// the time has not come yet. None for a name or a beaker that is not there.
    pub fn column(&self, name: &str, beaker: usize, from_s: f64, to_s: f64, n: usize) -> Option<Vec<f64>> {
        self.values(name, beaker, times(from_s, to_s, n.min(MAX_ROWS)))
    }

    /// The values of a column at these times, at most 20,000; NaN where the time has not come yet. None for a name or a
    /// beaker that is not there.
    pub fn column_at(&self, name: &str, beaker: usize, times_s: &[f64]) -> Option<Vec<f64>> {
        self.values(name, beaker, times_s.iter().copied().take(MAX_ROWS))
    }

    fn values(&self, name: &str, beaker: usize, times_s: impl Iterator<Item = f64>) -> Option<Vec<f64>> {
        let (_, reader) = COLUMNS.into_iter().find(|(known, _)| *known == name)?;
        if beaker >= self.session.bench().len() {
            return None;
        }
        let now_s = self.session.clock().now_s();
        let value = |time_s: f64| {
            let come = time_s >= 0.0 && time_s <= now_s;
            if come { reader(&self.session.reading(beaker, time_s)) } else { f64::NAN }
        };
        Some(times_s.map(value).collect())
    }

    /// The run up to now as CSV, a row every `every_s` for each beaker; with semicolons and
    /// decimal commas if asked for.
    pub fn csv(&self, every_s: f64, decimal_comma: bool) -> String {
        let now_s = self.session.clock().now_s();
        let every_s = if every_s > 0.0 { every_s.max(now_s / MAX_ROWS as f64) } else { 1.0 };
        let rows = (now_s / every_s).floor() as usize + 1;
        let mut table = RunTable::default();
        for row in 0..rows {
            for beaker in 0..self.session.bench().len() {
                self.add_row(&mut table, beaker, row as f64 * every_s);
            }
        }
        let dialect = if decimal_comma { Dialect::SemicolonComma } else { Dialect::CommaPoint };
        to_csv(&table.columns(), dialect)
    }

    fn add_row(&self, table: &mut RunTable, beaker: usize, time_s: f64) {
        let reading = self.session.reading(beaker, time_s);
        let bench = self.session.bench();
        table.time_s.push(time_s);
        table.beaker.push(beaker as f64 + 1.0);
        table.temperature_c.push(reading.temperature_k - CELSIUS_ZERO_K);
        table.dose.push(bench.pours(beaker, time_s).count() as f64);
        table.ph.push(reading.ph);
        table.colour.push(Band::of_ph(reading.ph).key().to_owned());
        table.cloudy.push(clarity_of(&reading, bench.path_cm()).key().to_owned());
        table.solid_g.push(reading.solid_g());
    }
}

/// The columns that a class's own spreadsheet wants.
#[derive(Default)]
struct RunTable {
    time_s: Vec<f64>,
    beaker: Vec<f64>,
    temperature_c: Vec<f64>,
    dose: Vec<f64>,
    ph: Vec<f64>,
    colour: Vec<String>,
    cloudy: Vec<String>,
    solid_g: Vec<f64>,
}

impl RunTable {
    fn columns(self) -> Vec<Column<'static>> {
        let numbers = |name, values, decimals| Column { name, cells: Cells::Numbers { values, decimals } };
        let words = |name, words| Column { name, cells: Cells::Words(words) };
        vec![
            numbers("time_s", self.time_s, 1),
            numbers("beaker", self.beaker, 0),
            numbers("temperature_C", self.temperature_c, 2),
            numbers("dose", self.dose, 0),
            numbers("pH", self.ph, 3),
            words("colour", self.colour),
            words("cloudy", self.cloudy),
            numbers("solid_g", self.solid_g, 4),
        ]
    }
}

/// `n` times at equal steps, both ends included; a single one stands at the start.
fn times(from_s: f64, to_s: f64, n: usize) -> impl Iterator<Item = f64> {
    let last = n.saturating_sub(1).max(1) as f64;
    (0..n).map(move |at| from_s + (to_s - from_s) * (at as f64 / last))
}
