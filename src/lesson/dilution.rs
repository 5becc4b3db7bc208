//! From the stock on the shelf to the acid and base of the lesson: c₁V₁ = c₂V₂, a flask that
//! exists, and the order in which things are poured.

use serde::Serialize;

use crate::chemistry::Reagent;

use super::field::Limits;
use super::number::parse_number;

/// A stock as it stands on a school's shelf.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Stock {
    /// Its name at the edge.
    pub key: &'static str,
    /// Its concentration, mol/L; 0 for solid sodium hydroxide.
    pub mol_l: f64,
    /// Its content as labels print it, per cent by mass; 0 where labels give mol/L.
    pub percent: f64,
}

const fn stock(key: &'static str, mol_l: f64, percent: f64) -> Stock {
    Stock { key, mol_l, percent }
}

/// Stocks of hydrochloric acid. 37 % (12.1 mol/L at 1.19 g/mL) and 36 % (11.65 mol/L at
/// 1.18 g/mL) as suppliers' sheets print them; 32 % (10.2 mol/L at 1.16 g/mL) from memory.
pub const ACID_STOCKS: [Stock; 6] = [
    stock("acid37", 12.1, 37.0),
    stock("acid36", 11.65, 36.0),
    stock("acid32", 10.2, 32.0),
    stock("acid6", 6.0, 0.0),
    stock("acid5", 5.0, 0.0),
    stock("acid3", 3.0, 0.0),
];

/// Stocks of sodium hydroxide: the solid, and 50 % (19.4 mol/L at 1.53 g/mL) as suppliers'
/// sheets print it.
pub const BASE_STOCKS: [Stock; 6] = [
    stock("baseSolid", 0.0, 0.0),
    stock("base50", 19.4, 50.0),
    stock("base10", 10.0, 0.0),
    stock("base6", 6.0, 0.0),
    stock("base5", 5.0, 0.0),
    stock("base3", 3.0, 0.0),
];

/// The key under which a stock with a typed concentration goes.
const OTHER: &str = "other";

/// Limits of a stock's concentration, mol/L.
static STOCK_MOL_L: Limits =
    Limits { key: "stock", unit: "mol/L", min: 0.1, max: 20.0, default: 12.1, decimals: 1, finest: 3 };

/// Molar mass of sodium hydroxide with the four figures of a class's table, g/mol.
const NAOH_G_MOL: f64 = 40.00;

/// Volumetric flasks that a school has, mL (from the series of ISO 1042, from memory). More
/// than the largest is made in several fillings of it.
const FLASKS_ML: [f64; 7] = [25.0, 50.0, 100.0, 250.0, 500.0, 1000.0, 2000.0];

/// How much of the flask's volume is water before the stock goes in, at most: about two thirds
/// leave room to swirl. Common practice, no source.
const WATER_FIRST_SHARE: f64 = 0.65;

/// A stock and what is made of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Dilution {
    /// The stock.
    pub stock: Stock,
    /// What is wanted, mol/L.
    pub mol_l: f64,
    /// What the lesson needs of it, mL.
    pub needed_ml: f64,
    /// For 100 mL.
    pub per_100: Mix,
    /// For what is needed, in the next larger flask.
    pub total: Mix,
    /// What is done, in this order.
    pub order: &'static [&'static str],
}

/// One filling of one flask.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Mix {
    /// Volume of the flask, mL.
    pub flask_ml: f64,
    /// How often it is filled.
    pub fillings: u32,
    /// Stock for one filling, mL; 0 for a solid.
    pub stock_ml: f64,
    /// Solid for one filling, g; 0 for a solution.
    pub stock_g: f64,
    /// Water that is in the flask before the stock, mL; the rest fills it up to the mark.
    pub water_first_ml: f64,
}

/// Why there is no dilution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DilutionError {
    /// The stock is weaker than what is wanted.
    StockTooWeak,
    /// The typed stock is no concentration of a stock.
    NotAStock,
}

impl DilutionError {
    /// The name at the edge.
    pub fn key(self) -> &'static str {
        match self {
            DilutionError::StockTooWeak => "stockTooWeak",
            DilutionError::NotAStock => "notAStock",
        }
    }
}

impl Stock {
    /// The stocks of a reagent, the usual one first.
    pub fn all(reagent: Reagent) -> &'static [Stock] {
        match reagent {
            Reagent::Acid => &ACID_STOCKS,
            Reagent::Base => &BASE_STOCKS,
        }
    }

    /// Reads a stock: one of the keys, or a typed concentration in mol/L; the usual stock
    /// where nothing is typed.
    ///
    /// # Errors
    /// [`DilutionError::NotAStock`].
    pub fn from_text(reagent: Reagent, typed: &str) -> Result<Stock, DilutionError> {
        let stocks = Stock::all(reagent);
        let typed = typed.trim();
        if typed.is_empty() {
            return Ok(stocks[0]);
        }
        if let Some(&stock) = stocks.iter().find(|stock| stock.key == typed) {
            return Ok(stock);
        }
        let within = |mol_l: f64| (STOCK_MOL_L.min..=STOCK_MOL_L.max).contains(&mol_l);
        match parse_number(typed) {
            Ok((mol_l, _)) if within(mol_l) => Ok(stock(OTHER, mol_l, 0.0)),
            _ => Err(DilutionError::NotAStock),
        }
    }

    /// Is it a solid that is weighed?
    pub fn is_solid(&self) -> bool {
        self.mol_l == 0.0
    }
}

impl Dilution {
    /// How to make so much (mL) of a concentration (mol/L) from a stock; none where nothing is
    /// needed.
    ///
    /// # Errors
    /// [`DilutionError::StockTooWeak`].
    pub fn of(reagent: Reagent, stock: Stock, mol_l: f64, needed_ml: f64) -> Result<Option<Dilution>, DilutionError> {
        if !(mol_l > 0.0 && needed_ml > 0.0) {
            return Ok(None);
        }
        if !stock.is_solid() && stock.mol_l < mol_l {
            return Err(DilutionError::StockTooWeak);
        }
        let order: &[&str] = match (reagent, stock.is_solid()) {
            _ if stock.mol_l == mol_l => &["asItIs", "label"],
            (Reagent::Acid, _) => &["waterFirst", "acidIntoWater", "swirl", "cool", "toTheMark", "mix", "label"],
            (Reagent::Base, true) => &["waterFirst", "pelletsIntoWater", "swirl", "cool", "toTheMark", "mix", "label"],
            (Reagent::Base, false) => &["waterFirst", "baseIntoWater", "swirl", "cool", "toTheMark", "mix", "label"],
        };
        let largest_ml = FLASKS_ML[FLASKS_ML.len() - 1];
        let flask_ml = FLASKS_ML.into_iter().find(|&flask_ml| needed_ml <= flask_ml).unwrap_or(largest_ml);
        let fillings = (needed_ml / flask_ml).ceil() as u32;
        Ok(Some(Dilution {
            stock,
            mol_l,
            needed_ml,
            per_100: Mix::of(stock, mol_l, 100.0, 1),
            total: Mix::of(stock, mol_l, flask_ml, fillings),
            order,
        }))
    }
}

impl Mix {
    fn of(stock: Stock, mol_l: f64, flask_ml: f64, fillings: u32) -> Mix {
        let (stock_ml, stock_g) = if stock.is_solid() {
            (0.0, mol_l * flask_ml / 1000.0 * NAOH_G_MOL)
        } else {
            (mol_l * flask_ml / stock.mol_l, 0.0)
        };
        // Where much stock is needed, less water first: both together stay below the mark.
        let water_first_ml = (WATER_FIRST_SHARE * flask_ml).min(0.9 * (flask_ml - stock_ml));
        Mix { flask_ml, fillings, stock_ml, stock_g, water_first_ml }
    }
}
