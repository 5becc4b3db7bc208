//! The Ledger's rows as far as was poured.

use serde::Serialize;

use crate::chemistry::Reagent;
use crate::lesson::{Ledger, LedgerRow, Lesson, Limiting, parse_number};

use super::Screen;

/// Decimals of amounts (mmol) and masses (g): those of a class's table.
const DECIMALS: Decimals = Decimals { mmol: 2, g: 3 };

/// One row; amounts are totals since the start.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct LedgerFigures {
    /// Doses so far; 0 is the start.
    pub dose: u32,
    /// What this dose was.
    pub reagent: Option<&'static str>,
    /// Acid poured, mmol.
    pub hcl_mmol: f64,
    /// Base poured, mmol.
    pub naoh_mmol: f64,
    /// Solid used, mmol.
    pub solid_used_mmol: f64,
    /// Solid left, mmol.
    pub solid_left_mmol: f64,
    /// Solid left, g.
    pub solid_left_g: f64,
    /// Acid left, mmol.
    pub hydrogen_left_mmol: f64,
    /// Base left, mmol.
    pub hydroxide_left_mmol: f64,
    /// acid, solid or both: what ran out.
    pub limiting: Option<&'static str>,
    /// Decimals that the figures are shown with.
    pub decimals: Decimals,
}

/// How many decimals.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Decimals {
    /// Of amounts in mmol.
    pub mmol: u32,
    /// Of masses in g.
    pub g: u32,
}

impl LedgerFigures {
    /// The books of one beaker for all doses of a lesson.
    pub(super) fn of_lesson(lesson: &Lesson) -> Vec<LedgerFigures> {
        let mut ledger = Ledger::begin(&lesson.computed_recipe());
        for step in lesson.steps() {
            ledger.pour(step.reagent, step.amount_mmol());
        }
        ledger.rows().iter().map(LedgerFigures::of).collect()
    }

    fn of(row: &LedgerRow) -> LedgerFigures {
        LedgerFigures {
            dose: row.dose,
            reagent: row.reagent.map(Reagent::key),
            hcl_mmol: row.hcl_mmol,
            naoh_mmol: row.naoh_mmol,
            solid_used_mmol: row.solid_used_mmol,
            solid_left_mmol: row.solid_left_mmol,
            solid_left_g: row.solid_left_g,
            hydrogen_left_mmol: row.hydrogen_left_mmol,
            hydroxide_left_mmol: row.hydroxide_left_mmol,
            limiting: row.limiting.map(Limiting::key),
            decimals: DECIMALS,
        }
    }
}

/// How far a figure that was worked out with rounded figures may be off, in units of its last decimal.
const ROUNDING_UNITS: f64 = 1.0;
/// A figure off by no more than this share of itself was rounded too early.
const NEAR_SHARE: f64 = 0.02;

impl LedgerFigures {
    /// The figure of a column and its decimals; none for a name that is not there.
    fn figure(&self, column: &str) -> Option<(f64, u32)> {
        let mmol = |amount| Some((amount, self.decimals.mmol));
        match column {
            "hclMmol" => mmol(self.hcl_mmol),
            "naohMmol" => mmol(self.naoh_mmol),
            "solidUsedMmol" => mmol(self.solid_used_mmol),
            "solidLeftMmol" => mmol(self.solid_left_mmol),
            "solidLeftG" => Some((self.solid_left_g, self.decimals.g)),
            "hydrogenLeftMmol" => mmol(self.hydrogen_left_mmol),
            _ => None,
        }
    }

    /// What is to be said of a column's figure as typed.
    fn check(&self, column: &str, typed: &str) -> &'static str {
        if typed.trim().is_empty() {
            return "empty";
        }
        if column == "limiting" {
            return if typed == self.limiting.unwrap_or("none") { "right" } else { "other" };
        }
        let (Ok((value, _)), Some((figure, decimals))) = (parse_number(typed), self.figure(column)) else {
            return "notANumber";
        };
        let unit = (0..decimals).fold(1.0, |unit, _| unit / 10.0);
        // Against the figure as the table has it, for that is what a hand can find.
        let off = (value - unit * (figure / unit + 0.5).floor()).abs();
        // The last bits of the difference must not decide.
        if off <= ROUNDING_UNITS * unit * 1.000_001 {
            "right"
        } else if off <= NEAR_SHARE * figure.abs() {
            "near"
        } else {
            "other"
        }
    }
}

impl Screen {
    /// One beaker's bookkeeping as far as was poured; no rows for a beaker that is not there.
    pub fn ledger(&self, beaker: usize) -> Vec<LedgerFigures> {
        if beaker >= self.session.bench().len() {
            return Vec::new();
        }
        self.ledger_rows(beaker).iter().map(LedgerFigures::of).collect()
    }

    /// What is to be said of one figure as somebody typed it: right (within one unit of the last decimal), near, other, empty
    /// or notANumber; "other" where there is no such row yet.
    pub fn check_ledger(&self, beaker: usize, row: usize, column: &str, typed: &str) -> &'static str {
        self.ledger(beaker).get(row).map_or("other", |figures| figures.check(column, typed))
    }

    pub(super) fn ledger_rows(&self, beaker: usize) -> Vec<LedgerRow> {
        let mut ledger = Ledger::begin(&self.session.lesson().computed_recipe());
        let now_s = self.session.clock().now_s();
        for (_, pour) in self.session.bench().pours(beaker, now_s) {
            ledger.pour(pour.reagent, pour.volume_ml * pour.concentration_mol_l);
        }
        ledger.rows().to_vec()
    }
}
