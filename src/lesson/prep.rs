//! The prep sheet: what to take off the shelf, how to dilute it, how full the glass gets, and
//! how many doses a bottle of that label takes. Bookkeeping by hand stoichiometry, no model.

use serde::Serialize;

use crate::chemistry::Reagent;

use super::Lesson;
use super::field::Field;
use super::ledger::{HAND_MOLAR_MASS_G_MOL, doses_to_take_up, first_dose_over};
use super::recipe::Recipe;
use super::steps::Step;

/// What a bottle may hold, as shares of its label: 90.0 to 115.0 % by the monograph Milk of
/// Magnesia of the United States Pharmacopeia (public copies; the edition was not seen).
pub const LABEL_SHARES: [f64; 2] = [0.90, 1.15];

/// Fullest that a beaker should be, as a share of its nominal volume: stirring, a splash and
/// the hand that lifts it want the rest. Common practice, no source.
pub const FULLEST_SHARE: f64 = 0.80;

/// Most spare doses for each beaker.
pub const SPARE_MAX: u32 = 10;

/// Nominal volumes of low-form beakers, mL (series of ISO 3819, from memory).
const BEAKERS_ML: [f64; 11] = [50.0, 100.0, 150.0, 250.0, 400.0, 600.0, 800.0, 1000.0, 2000.0, 3000.0, 5000.0];

/// What so many beakers need.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Amounts {
    /// How many beakers.
    pub beakers: u32,
    /// Water in the beakers, mL.
    pub water_ml: f64,
    /// Suspension, mL.
    pub suspension_ml: f64,
    /// Magnesium hydroxide in that suspension by its label, g.
    pub solid_g: f64,
    /// Indicator, mL.
    pub indicator_ml: f64,
    /// Acid for the doses of the lesson, mL.
    pub acid_ml: f64,
    /// The same with the spare doses, mL.
    pub acid_with_spare_ml: f64,
    /// Base for the doses of the lesson, mL.
    pub base_ml: f64,
    /// The same with the spare doses, mL; none is spared where the lesson pours none.
    pub base_with_spare_ml: f64,
}

impl Amounts {
    /// What so many beakers need for these doses and so many spare ones each.
    pub fn of(recipe: &Recipe, steps: &[Step], beakers: u32, spare: u32) -> Amounts {
        let count = f64::from(beakers);
        let poured = |reagent| steps.iter().filter(|step| step.reagent == reagent).map(|step| step.volume_ml).sum();
        let spare_ml = f64::from(spare.min(SPARE_MAX)) * recipe.value(Field::DoseMl);
        let (acid_ml, base_ml): (f64, f64) = (poured(Reagent::Acid), poured(Reagent::Base));
        let with_spare = |doses_ml: f64| if doses_ml > 0.0 { doses_ml + spare_ml } else { 0.0 };
        Amounts {
            beakers,
            water_ml: count * recipe.value(Field::WaterMl),
            suspension_ml: count * recipe.value(Field::SuspensionMl),
            solid_g: count * recipe.solid_g(),
            indicator_ml: count * recipe.value(Field::IndicatorMl),
            acid_ml: count * acid_ml,
            acid_with_spare_ml: count * with_spare(acid_ml),
            base_ml: count * base_ml,
            base_with_spare_ml: count * with_spare(base_ml),
        }
    }

    /// Acid or base with the spare doses, mL.
    pub fn of_reagent_ml(&self, reagent: Reagent) -> f64 {
        match reagent {
            Reagent::Acid => self.acid_with_spare_ml,
            Reagent::Base => self.base_with_spare_ml,
        }
    }
}

/// How full each beaker gets.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Freeboard {
    /// Nominal volume of the beaker, mL.
    pub vessel_ml: f64,
    /// Held before the first dose, mL; ice counts as its water.
    pub start_ml: f64,
    /// Held after the acid, without the reversal, mL.
    pub acid_ml: f64,
    /// Held after the last dose, with the reversal, mL.
    pub end_ml: f64,
    /// Fullest that it should be, mL: [`FULLEST_SHARE`] of the nominal volume.
    pub fullest_ml: f64,
    /// Is it too full without the reversal?
    pub warns_without_reversal: bool,
    /// Is it too full with the reversal?
    pub warns_with_reversal: bool,
    /// Smallest beaker of the usual sizes that is not too full in the end, mL.
    pub enough_vessel_ml: Option<f64>,
}

impl Freeboard {
    /// How full the fullest beaker of a recipe gets by these doses.
    pub fn of(recipe: &Recipe, steps: &[Step]) -> Freeboard {
        let vessel_ml = recipe.value(Field::VesselMl);
        let start_ml = recipe.start_ml() + recipe.most_ice_g();
        let poured = |counts: fn(&Step) -> bool| -> f64 {
            steps.iter().filter(|step| counts(step)).map(|step| step.volume_ml).sum()
        };
        let acid_ml = start_ml + poured(|step| step.reagent == Reagent::Acid);
        let end_ml = start_ml + poured(|_| true);
        let fullest_ml = FULLEST_SHARE * vessel_ml;
        Freeboard {
            vessel_ml,
            start_ml,
            acid_ml,
            end_ml,
            fullest_ml,
            warns_without_reversal: acid_ml > fullest_ml,
            warns_with_reversal: end_ml > fullest_ml,
            enough_vessel_ml: BEAKERS_ML.into_iter().find(|&size_ml| end_ml <= FULLEST_SHARE * size_ml),
        }
    }
}

/// Doses of acid until one is too many for the solid.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct EndPoint {
    /// By the label, as a decimal number of doses.
    pub exact: f64,
    /// The first dose that leaves acid over, by the label.
    pub dose: u32,
    /// As `exact`, for a bottle of 90 % of its label.
    pub least_exact: f64,
    /// As `exact`, for a bottle of 115 % of its label.
    pub most_exact: f64,
    /// As `dose`, for a bottle of 90 % of its label.
    pub least_dose: u32,
    /// As `dose`, for a bottle of 115 % of its label: "7, perhaps 8" where it differs.
    pub most_dose: u32,
    /// Do the doses of the lesson reach it, by the label?
    pub reached: bool,
}

impl EndPoint {
    /// The end point of a recipe poured in these doses; further ones are taken as the recipe's.
    /// None where a dose carries no acid.
    pub fn of(recipe: &Recipe, steps: &[Step]) -> Option<EndPoint> {
        let exact = |share: f64| doses_to_take_up(share * capacity_mmol(recipe), recipe, steps);
        let [least, most] = LABEL_SHARES;
        let (least_exact, exact, most_exact) = (exact(least)?, exact(1.0)?, exact(most)?);
        let dose = first_dose_over(exact)?;
        let acid_doses = steps.iter().filter(|step| step.reagent == Reagent::Acid).count();
        Some(EndPoint {
            exact,
            dose,
            least_exact,
            most_exact,
            least_dose: first_dose_over(least_exact)?,
            most_dose: first_dose_over(most_exact)?,
            reached: dose as usize <= acid_doses,
        })
    }

    /// The same for a lesson's fitted strength, in place of the label's; none where no strength was fitted.
    pub fn as_fitted(lesson: &Lesson) -> Option<EndPoint> {
        lesson.fitted?.strength_mg_ml?;
        EndPoint::of(&lesson.computed_recipe(), &lesson.steps())
    }
}

/// What a counted end point says of the bottle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Strength {
    /// Weakest suspension that takes up all doses but the last, mg/mL.
    pub low_mg_ml: f64,
    /// Strongest that can't take up the last dose as well, mg/mL.
    pub high_mg_ml: f64,
    /// Middle of the two, mg/mL, as fine as the recipe keeps it.
    pub middle_mg_ml: f64,
    /// The weakest in per cent of the label.
    pub low_percent: f64,
    /// The strongest in per cent of the label.
    pub high_percent: f64,
    /// Does the label lie between the two?
    pub label_agrees: bool,
}

impl Strength {
    /// The strength of a suspension whose `counted`-th dose of acid was the first to stay.
    /// None where that says nothing: dose 0, no suspension, no label strength, no acid.
    pub fn counted(recipe: &Recipe, steps: &[Step], counted: u32) -> Option<Strength> {
        let label_mg_ml = recipe.value(Field::SuspensionMgMl);
        let suspension_ml = recipe.value(Field::SuspensionMl);
        let last_mmol = acid_after_mmol(recipe, steps, counted);
        let all_but_last_mmol = acid_after_mmol(recipe, steps, counted.checked_sub(1)?);
        if !(suspension_ml > 0.0 && label_mg_ml > 0.0 && last_mmol > all_but_last_mmol) {
            return None;
        }
        let strength = |acid_mmol: f64| acid_mmol / 2.0 * HAND_MOLAR_MASS_G_MOL / suspension_ml;
        let (low_mg_ml, high_mg_ml) = (strength(all_but_last_mmol), strength(last_mmol));
        let limits = Field::SuspensionMgMl.limits();
        Some(Strength {
            low_mg_ml,
            high_mg_ml,
            middle_mg_ml: limits.step(limits.steps((0.5 * (low_mg_ml + high_mg_ml)).min(limits.max))),
            low_percent: low_mg_ml / label_mg_ml * 100.0,
            high_percent: high_mg_ml / label_mg_ml * 100.0,
            label_agrees: low_mg_ml <= label_mg_ml && label_mg_ml <= high_mg_ml,
        })
    }
}

/// Acid that the solid of one beaker takes up by its label, mmol.
fn capacity_mmol(recipe: &Recipe) -> f64 {
    2.0 * recipe.solid_g() / HAND_MOLAR_MASS_G_MOL * 1000.0
}

/// Acid poured in the first doses of acid, mmol; beyond the steps the recipe's doses go on.
fn acid_after_mmol(recipe: &Recipe, steps: &[Step], doses: u32) -> f64 {
    let acid = steps.iter().filter(|step| step.reagent == Reagent::Acid);
    let poured: Vec<f64> = acid.take(doses as usize).map(Step::amount_mmol).collect();
    let further = f64::from(doses) - poured.len() as f64;
    poured.iter().sum::<f64>() + further * recipe.value(Field::DoseMl) * recipe.value(Field::AcidMolL)
}
