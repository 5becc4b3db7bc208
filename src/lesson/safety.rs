//! The safety card: cautions that follow from what is on the bench, as keys with numbers.
//!
//! Labels follow two published schemes, because they differ: the limits by mass of the
//! European Union for these two substances, and the general limits for mixtures that many
//! sheets in the United States follow. Neither replaces the bottle's own sheet.
//!
//! | scheme | source |
//! |---|---|
//! | `eu` | Regulation (EC) No 1272/2008, Annex VI, table 3: sodium hydroxide 011-002-00-6 (seen as quoted by the producers' association), hydrochloric acid 017-002-01-X (from memory) |
//! | `us` | 29 CFR 1910.1200 (2012), Appendix A.2 and A.3, mixtures with an ingredient of skin category 1 (from memory; producers' sheets of 10 % acid agree) |
//!
//! H290 is on producers' sheets of either solution from 0.1 mol/L on; no limit is published.

use serde::Serialize;

use crate::chemistry::Reagent;

use super::beaker::Beaker;
use super::dilution::Stock;
use super::field::Field;
use super::ledger::Ledger;
use super::recipe::Recipe;
use super::steps::Step;

/// Said on every card, whatever is on the bench, in this order.
pub const ALWAYS: [&str; 14] = [
    "guidance",
    "sheets",
    "localRules",
    "supervision",
    "trial",
    "eyes",
    "clothes",
    "acidIntoWater",
    "noBleach",
    "splash",
    "spill",
    "disposal",
    "notAtHome",
    "notMedical",
];

/// What a card names as its sources; the page has their titles and years.
pub const SOURCES: [&str; 10] =
    ["clp2008", "osha1200", "osha133", "ansiZ87", "ansiZ358", "en16321", "acs2001", "nstaEyes", "cleapss2022", "asta3"];

/// A card for one recipe.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct SafetyCard {
    /// Keys of what is always said.
    pub always: &'static [&'static str],
    /// What is handled, each with its labels and cautions.
    pub materials: Vec<Material>,
    /// What one beaker holds when the lesson is over, to be made neutral before it goes away.
    pub left: Left,
    /// Keys of the sources.
    pub sources: &'static [&'static str],
}

/// Something that is handled.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Material {
    /// acid, base, stockAcid, stockBase, suspension, indicator, glass, stirrer, ice, warm or plate.
    pub key: &'static str,
    /// Its concentration, mol/L; 0 where it has none.
    pub mol_l: f64,
    /// The same in per cent by mass; 0 where it has none.
    pub percent: f64,
    /// Its label by each scheme; none for what needs no label.
    pub labels: Vec<Label>,
    /// Keys of its cautions.
    pub cautions: Vec<&'static str>,
}

/// A label by one scheme.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Label {
    /// eu or us.
    pub scheme: &'static str,
    /// danger or warning; none where the scheme asks for no statement.
    pub signal: Option<&'static str>,
    /// Hazard statements, with the category where one statement has several: "H314 1A".
    pub statements: Vec<&'static str>,
}

/// What is left in one beaker by the bookkeeping.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Left {
    /// Acid, mmol.
    pub hydrogen_mmol: f64,
    /// Base, mmol.
    pub hydroxide_mmol: f64,
    /// Solid, g.
    pub solid_g: f64,
}

/// One line of a scheme: a statement from one content (per cent by mass) up to another.
struct Line(Reagent, &'static str, f64, f64, &'static str);

const EVER: f64 = 101.0;
const EU: &str = "eu";
const US: &str = "us";

/// In the order of a label: the gravest first.
static LINES: [Line; 15] = [
    Line(Reagent::Acid, EU, 25.0, EVER, "H314 1B"),
    Line(Reagent::Acid, EU, 10.0, 25.0, "H315"),
    Line(Reagent::Acid, EU, 10.0, 25.0, "H319"),
    Line(Reagent::Acid, EU, 10.0, EVER, "H335"),
    Line(Reagent::Acid, US, 5.0, EVER, "H314"),
    Line(Reagent::Acid, US, 3.0, EVER, "H318"),
    Line(Reagent::Acid, US, 1.0, 5.0, "H315"),
    Line(Reagent::Base, EU, 5.0, EVER, "H314 1A"),
    Line(Reagent::Base, EU, 2.0, 5.0, "H314 1B"),
    Line(Reagent::Base, EU, 0.5, 2.0, "H315"),
    Line(Reagent::Base, EU, 0.5, 2.0, "H319"),
    Line(Reagent::Base, US, 5.0, EVER, "H314"),
    Line(Reagent::Base, US, 3.0, EVER, "H318"),
    Line(Reagent::Base, US, 1.0, 5.0, "H315"),
    Line(Reagent::Base, US, 1.0, 3.0, "H319"),
];

/// From this concentration on producers' sheets carry H290, mol/L.
const METAL_MOL_L: f64 = 0.1;

/// Above these concentrations (mol/L) the lesson gains nothing that more of a weaker solution
/// would not give, and only the adult pours: this program's choice, no source.
const ADULT_POURS_MOL_L: [f64; 2] = [3.0, 1.0];

/// Below this a bath is cold to the hand, above that it is warm, °C: this program's choice.
const COLD_C: f64 = 10.0;
const WARM_C: f64 = 30.0;

impl SafetyCard {
    /// The card of a recipe poured in these steps; with the stocks that it is made from, where
    /// those are on the bench too.
    pub fn of(recipe: &Recipe, steps: &[Step], stocks: &[(Reagent, Stock)]) -> SafetyCard {
        let mut materials = Vec::new();
        for reagent in [Reagent::Acid, Reagent::Base] {
            let mol_l = recipe.value(match reagent {
                Reagent::Acid => Field::AcidMolL,
                Reagent::Base => Field::BaseMolL,
            });
            let poured = steps.iter().any(|step| step.reagent == reagent);
            if poured && mol_l > 0.0 {
                materials.push(solution(reagent, mol_l));
            }
        }
        materials.extend(stocks.iter().map(|&(reagent, stock)| of_stock(reagent, stock)));
        materials.extend(bench(recipe));
        SafetyCard { always: &ALWAYS, materials, left: left(recipe, steps), sources: &SOURCES }
    }
}

fn solution(reagent: Reagent, mol_l: f64) -> Material {
    let percent = reagent.mass_percent(mol_l);
    let (key, own, most_mol_l): (_, &[&str], _) = match reagent {
        Reagent::Acid => ("acid", &["treatAsHarmful", "smallBottle"], ADULT_POURS_MOL_L[0]),
        Reagent::Base => ("base", &["worseForEyes", "slippery", "smallBottle"], ADULT_POURS_MOL_L[1]),
    };
    let mut cautions = own.to_vec();
    if mol_l > most_mol_l {
        cautions.insert(0, "adultPours");
    }
    Material { key, mol_l, percent, labels: labels(reagent, mol_l, percent), cautions }
}

fn of_stock(reagent: Reagent, stock: Stock) -> Material {
    let percent = match stock.percent {
        _ if stock.is_solid() => 100.0,
        0.0 => reagent.mass_percent(stock.mol_l).min(100.0),
        printed => printed,
    };
    let (key, cautions): (_, &[&str]) = match (reagent, stock.is_solid()) {
        (Reagent::Acid, _) => ("stockAcid", &["adultOnly", "hood", "shield", "acidIntoWater"]),
        (Reagent::Base, true) => ("stockBase", &["adultOnly", "shield", "pelletsInPortions", "heats"]),
        (Reagent::Base, false) => ("stockBase", &["adultOnly", "shield", "heats"]),
    };
    // A solid has no concentration; the strongest solution's label stands for it.
    let mol_l = stock.mol_l;
    let labels = labels(reagent, if stock.is_solid() { METAL_MOL_L } else { mol_l }, percent);
    Material { key, mol_l, percent, labels, cautions: cautions.to_vec() }
}

fn labels(reagent: Reagent, mol_l: f64, percent: f64) -> Vec<Label> {
    let label = |scheme: &'static str| {
        let here = |line: &&Line| line.0 == reagent && line.1 == scheme && percent >= line.2 && percent < line.3;
        let mut statements: Vec<_> = LINES.iter().filter(here).map(|line| line.4).collect();
        if mol_l >= METAL_MOL_L {
            statements.push("H290");
        }
        let grave = statements.iter().any(|statement| statement.starts_with("H314") || *statement == "H318");
        let signal = match (grave, statements.is_empty()) {
            (true, _) => Some("danger"),
            (false, false) => Some("warning"),
            (false, true) => None,
        };
        Label { scheme, signal, statements }
    };
    vec![label(EU), label(US)]
}

/// What stands on the bench besides the reagents.
fn bench(recipe: &Recipe) -> Vec<Material> {
    let plate = recipe.beakers().iter().any(|beaker| matches!(beaker, Beaker::Plate { .. }));
    let baths = recipe.beakers().iter().filter_map(|beaker| match *beaker {
        Beaker::Bath { celsius } | Beaker::Held { celsius } => Some(celsius),
        Beaker::Room | Beaker::Ice { .. } | Beaker::Plate { .. } => None,
    });
    let cold = recipe.most_ice_g() > 0.0 || baths.clone().any(|celsius| celsius < COLD_C);
    let warm = baths.clone().any(|celsius| celsius > WARM_C);
    let there: [(bool, &'static str, &'static [&'static str]); 7] = [
        (recipe.value(Field::SuspensionMl) > 0.0, "suspension", &["noMedicine", "plainKind", "readForBleach"]),
        (recipe.value(Field::IndicatorMl) > 0.0, "indicator", &["flammable", "beforeHeat", "stains"]),
        (true, "glass", &["cracks", "label"]),
        (recipe.value(Field::StirRpm) > 0.0, "stirrer", &["slideBar", "startSlow"]),
        (cold, "ice", &["grip", "wetFloor"]),
        (warm, "warm", &["waterBath", "cordAndWater"]),
        (plate, "plate", &["heatProof", "noFlame", "cordAndWater"]),
    ];
    let material = |key, cautions: &[&'static str]| Material {
        key,
        mol_l: 0.0,
        percent: 0.0,
        labels: if key == "indicator" { flammable() } else { Vec::new() },
        cautions: cautions.to_vec(),
    };
    there.into_iter().filter(|(is, ..)| *is).map(|(_, key, cautions)| material(key, cautions)).collect()
}

/// Indicator in alcohol, by producers' sheets: H225 (H226 where it is dilute) and often H319.
fn flammable() -> Vec<Label> {
    vec![Label { scheme: "sheet", signal: Some("danger"), statements: vec!["H225", "H319"] }]
}

fn left(recipe: &Recipe, steps: &[Step]) -> Left {
    let mut ledger = Ledger::begin(recipe);
    for step in steps {
        ledger.pour(step.reagent, step.amount_mmol());
    }
    let row = ledger.rows()[ledger.rows().len() - 1];
    Left { hydrogen_mmol: row.hydrogen_left_mmol, hydroxide_mmol: row.hydroxide_left_mmol, solid_g: row.solid_left_g }
}
