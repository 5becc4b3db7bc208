//! The prep sheet, the safety card and what a counted end point says.

use serde::Serialize;

use crate::chemistry::Reagent;
use crate::lesson::{
    Amounts, Dilution, EndPoint, Field, FieldError, Freeboard, Place, SPARE_MAX, SafetyCard, Stock, Strength,
    parse_number,
};

use super::Screen;
use super::bottle::BottleView;
use super::reply::Reply;

/// The prep sheet.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct PrepView {
    /// True.
    pub ok: bool,
    /// Spare doses for each beaker.
    pub spare: u32,
    /// What one beaker, three, and the beakers of this lesson need.
    pub one: Amounts,
    /// See `one`.
    pub three: Amounts,
    /// See `one`.
    pub bench: Amounts,
    /// Ice in all beakers, g.
    pub ice_g: f64,
    /// How the acid is made for the beakers of this lesson.
    pub acid: DilutionView,
    /// How the base is made.
    pub base: DilutionView,
    /// How full the fullest beaker gets.
    pub freeboard: Freeboard,
    /// The end point by the bookkeeping.
    pub end_point: Option<EndPoint>,
    /// The same for the fitted strength, where there is one.
    pub fitted_end: Option<EndPoint>,
    /// The bottle, where a class has fitted it.
    pub bottle: Option<BottleView>,
}

/// A dilution, or why there is none, with the stocks there are.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct DilutionView {
    /// stockTooWeak or notAStock.
    pub key: Option<&'static str>,
    /// None where nothing of it is needed, or `key` says why.
    pub dilution: Option<Dilution>,
    /// The stocks to choose from.
    pub stocks: &'static [Stock],
}

impl Screen {
    /// The prep sheet of the lesson with so many spare doses for each beaker, from these stocks:
    /// a key, a concentration as typed, or nothing for the usual one.
    pub fn prep(&self, spare: u32, acid_stock: &str, base_stock: &str) -> PrepView {
        let lesson = self.session.lesson();
        let (recipe, steps) = (&lesson.recipe, lesson.steps());
        let spare = spare.min(SPARE_MAX);
        let amounts = |beakers| Amounts::of(recipe, &steps, beakers, spare);
        let bench = amounts(recipe.beakers().len() as u32);
        let dilution = |reagent, typed: &str, concentration: Field| {
            let made = Stock::from_text(reagent, typed).and_then(|stock| {
                Dilution::of(reagent, stock, recipe.value(concentration), bench.of_reagent_ml(reagent))
            });
            let stocks = Stock::all(reagent);
            match made {
                Ok(dilution) => DilutionView { key: None, dilution, stocks },
                Err(error) => DilutionView { key: Some(error.key()), dilution: None, stocks },
            }
        };
        PrepView {
            ok: true,
            spare,
            one: amounts(1),
            three: amounts(3),
            bench,
            ice_g: recipe.beakers().iter().map(|beaker| beaker.ice_g()).sum(),
            acid: dilution(Reagent::Acid, acid_stock, Field::AcidMolL),
            base: dilution(Reagent::Base, base_stock, Field::BaseMolL),
            freeboard: Freeboard::of(recipe, &steps),
            end_point: EndPoint::of(recipe, &steps),
            fitted_end: EndPoint::as_fitted(lesson),
            bottle: BottleView::of(lesson),
        }
    }

    /// The safety card of the lesson, and of the stocks it is made from where those are named.
    pub fn safety(&self, acid_stock: Option<&str>, base_stock: Option<&str>) -> SafetyCard {
        let lesson = self.session.lesson();
        let named = [(Reagent::Acid, acid_stock), (Reagent::Base, base_stock)].into_iter();
        let stocks: Vec<_> =
            named.filter_map(|(reagent, typed)| Some((reagent, Stock::from_text(reagent, typed?).ok()?))).collect();
        SafetyCard::of(&lesson.recipe, &lesson.steps(), &stocks)
    }

    /// The strength of a suspension of which the typed number of doses was the first to stay.
    ///
    /// # Errors
    /// notANumber; saysNothing where there is no acid, no suspension, or dose 0.
    pub fn counted(&self, typed: &str) -> Result<Strength, Reply> {
        let lesson = self.session.lesson();
        let whole = |(value, _): &(f64, u32)| value.fract() == 0.0 && (0.0..=1000.0).contains(value);
        let (counted, _) = parse_number(typed)
            .ok()
            .filter(whole)
            .ok_or_else(|| Reply::of_fields(&[FieldError::bare(Place::Lesson { key: "counted" }, "notANumber")]))?;
        Strength::counted(&lesson.recipe, &lesson.steps(), counted as u32).ok_or_else(|| Reply::refused("saysNothing"))
    }
}
