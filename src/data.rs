//! The only reader of tables: rows of `src/data/*.csv`, compiled into the program.
//!
//! Each file is named for its publication, or `Dye...` where it is a compilation whose rows name their own sources;
//! `src/data/sources.md` tells the rest. Lines that begin with `#` are remarks; the first other line names the columns.
//! The last column of a compilation is its source.
//!
//! # Panics
//! A table that does not parse is a mistake in the program, not in anybody's input: the readers panic, and the tests
//! read every table.

/// One wavelength of the standard observer and of standard illuminant D65 (ISO/CIE 11664-1 and -2).
#[derive(Clone, Copy, Debug)]
pub struct ObserverRow {
    /// Wavelength, nm.
    pub wavelength_nm: f64,
    /// Colour-matching functions x̄, ȳ, z̄ of the CIE 1931 2° observer, dimensionless.
    pub matching: [f64; 3],
    /// Relative spectral power of D65, 100 at 560 nm.
    pub d65: f64,
}

/// One Gaussian band of one form of a dye, over wavenumber.
#[derive(Clone, Copy, Debug)]
pub struct BandRow {
    /// The dye, as in [`StockRow::dye`].
    pub dye: &'static str,
    /// The form that absorbs, for instance `HL-`.
    pub form: &'static str,
    /// Decadic molar absorptivity at the centre, L/(mol cm).
    pub molar_absorptivity: f64,
    /// Centre, cm⁻¹.
    pub centre_per_cm: f64,
    /// Standard deviation below the centre (towards red), cm⁻¹.
    pub sigma_red_per_cm: f64,
    /// Standard deviation above the centre (towards blue), cm⁻¹.
    pub sigma_blue_per_cm: f64,
    /// Where the band comes from.
    pub source: &'static str,
}

/// One acid step of a dye.
#[derive(Clone, Copy, Debug)]
pub struct StepRow {
    /// The dye, as in [`StockRow::dye`].
    pub dye: &'static str,
    /// 1 for the first proton that leaves.
    pub step: usize,
    /// pKa of the step at ionic strength near 0.1 mol/L.
    pub pka: f64,
    /// Where the pKa comes from.
    pub source: &'static str,
}

/// One dye in the indicator stock.
#[derive(Clone, Copy, Debug)]
pub struct StockRow {
    /// The dye's name, the key of the other tables.
    pub dye: &'static str,
    /// Molar mass, g/mol.
    pub molar_mass_g_mol: f64,
    /// Mass concentration in the stock, g/L.
    pub stock_g_l: f64,
    /// Where both come from.
    pub source: &'static str,
}

/// The observer and the illuminant, 380 to 780 nm, every 10 nm.
pub fn observer() -> impl Iterator<Item = ObserverRow> {
    rows(include_str!("data/Cie11664.csv")).map(|mut cells| ObserverRow {
        wavelength_nm: number(cells.next()),
        matching: [number(cells.next()), number(cells.next()), number(cells.next())],
        d65: number(cells.next()),
    })
}

/// The absorption bands of the dyes.
pub fn dye_bands() -> impl Iterator<Item = BandRow> {
    rows(include_str!("data/DyeBands.csv")).map(|mut cells| BandRow {
        dye: word(cells.next()),
        form: word(cells.next()),
        molar_absorptivity: number(cells.next()),
        centre_per_cm: number(cells.next()),
        sigma_red_per_cm: number(cells.next()),
        sigma_blue_per_cm: number(cells.next()),
        source: word(cells.next()),
    })
}

/// The acid steps of the dyes.
pub fn dye_steps() -> impl Iterator<Item = StepRow> {
    rows(include_str!("data/DyeSteps.csv")).map(|mut cells| StepRow {
        dye: word(cells.next()),
        step: number(cells.next()) as usize,
        pka: number(cells.next()),
        source: word(cells.next()),
    })
}

/// The dyes of the indicator stock.
pub fn dye_stock() -> impl Iterator<Item = StockRow> {
    rows(include_str!("data/DyeStock.csv")).map(|mut cells| StockRow {
        dye: word(cells.next()),
        molar_mass_g_mol: number(cells.next()),
        stock_g_l: number(cells.next()),
        source: word(cells.next()),
    })
}

/// The cells of every data row: remarks and the line of column names are passed over.
fn rows(table: &'static str) -> impl Iterator<Item = std::str::Split<'static, char>> {
    table.lines().filter(|line| !line.starts_with('#') && !line.is_empty()).skip(1).map(|line| line.split(','))
}

fn word(cell: Option<&'static str>) -> &'static str {
    cell.expect("a row of a compiled-in table is too short")
}

fn number(cell: Option<&'static str>) -> f64 {
    crate::decimal::read(word(cell)).expect("a cell of a compiled-in table is not a number")
}
