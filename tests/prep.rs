//! The prep sheet against hand values, each beside its derivation. The scenario is our own
//! (Room 12): three 600 mL beakers, 500 mL water, 15 mL of 80 mg/mL suspension, 5 mL indicator,
//! seven doses of 2.0 mL of 3.0 mol/L acid, four of 3.0 mol/L base.

use turnback::chemistry::Reagent;
use turnback::lesson::{Amounts, Dilution, DilutionError, EndPoint, Freeboard, Lesson, Recipe, Stock, Strength};

fn ours_with(changes: &[(&str, &str)]) -> Lesson {
    let mut text = Recipe::default().to_text();
    for (key, value) in changes {
        text.fields.insert((*key).to_owned(), (*value).to_owned());
    }
    Lesson::of_recipe(Recipe::from_text(&text).expect("within the limits"))
}

fn amounts(lesson: &Lesson, beakers: u32, spare: u32) -> Amounts {
    Amounts::of(&lesson.recipe, &lesson.steps(), beakers, spare)
}

fn end_point(changes: &[(&str, &str)]) -> Option<EndPoint> {
    let lesson = ours_with(changes);
    EndPoint::of(&lesson.recipe, &lesson.steps())
}

fn strength(changes: &[(&str, &str)], counted: u32) -> Option<Strength> {
    let lesson = ours_with(changes);
    Strength::counted(&lesson.recipe, &lesson.steps(), counted)
}

/// 3 x 15 mL; 3 x 500 mL; 3 x 7 x 2.0 mL = 42 mL; with one spare dose each 3 x 8 x 2.0 = 48 mL;
/// base 3 x 4 x 2.0 = 24 mL, with spare 3 x 5 x 2.0 = 30 mL; solid 3 x 15 mL x 0.080 g/mL.
#[test]
fn capability_8_three_beakers_need_what_the_hand_adds_up() {
    let three = amounts(&Lesson::default(), 3, 1);
    assert_eq!((three.suspension_ml, three.water_ml, three.indicator_ml), (45.0, 1500.0, 15.0));
    assert_eq!((three.acid_ml, three.acid_with_spare_ml), (42.0, 48.0));
    assert_eq!((three.base_ml, three.base_with_spare_ml), (24.0, 30.0));
    assert_eq!(format!("{:.2}", three.solid_g), "3.60");
}

#[test]
fn one_beaker_needs_a_third_and_no_spare_adds_nothing() {
    let one = amounts(&Lesson::default(), 1, 0);
    assert_eq!((one.suspension_ml, one.water_ml), (15.0, 500.0));
    assert_eq!((one.acid_ml, one.acid_with_spare_ml, one.base_with_spare_ml), (14.0, 14.0, 8.0));
    // Without a reversal there is no base to spare.
    assert_eq!(amounts(&ours_with(&[("baseDoses", "0")]), 3, 1).base_with_spare_ml, 0.0);
}

/// c1 V1 = c2 V2: 3.0 mol/L x 100 mL / 12.1 mol/L = 24.8 mL; for 48 mL the next flask is 50 mL,
/// which takes 12.4 mL of stock.
#[test]
fn capability_8_a_hundred_millilitres_of_the_acid_take_24_8_of_the_stock() {
    let stock = Stock::from_text(Reagent::Acid, "acid37").expect("a stock");
    let acid = Dilution::of(Reagent::Acid, stock, 3.0, 48.0).expect("strong enough").expect("needed");
    assert_eq!(format!("{:.1}", acid.per_100.stock_ml), "24.8");
    assert_eq!((acid.total.flask_ml, acid.total.fillings), (50.0, 1));
    assert_eq!(format!("{:.1}", acid.total.stock_ml), "12.4");
    assert_eq!(acid.order[..2], ["waterFirst", "acidIntoWater"]);
}

/// Pellets: 3.0 mol/L x 0.050 L x 40.00 g/mol = 6.00 g.
#[test]
fn base_from_pellets_is_weighed() {
    let stock = Stock::from_text(Reagent::Base, "").expect("the usual one");
    let base = Dilution::of(Reagent::Base, stock, 3.0, 30.0).expect("a solid").expect("needed");
    assert_eq!((base.stock.key, format!("{:.2}", base.total.stock_g)), ("baseSolid", "6.00".to_owned()));
    assert_eq!((base.total.flask_ml, base.total.stock_ml), (50.0, 0.0));
    assert_eq!(base.order[1], "pelletsIntoWater");
}

/// 5.2 L: three fillings of the 2 L flask; each takes 6.0 x 2000 / 12.1 = 991.7 mL.
#[test]
fn more_than_the_largest_flask_is_made_in_several_fillings() {
    let stock = Stock::from_text(Reagent::Acid, "12,1").expect("a typed stock");
    let acid = Dilution::of(Reagent::Acid, stock, 6.0, 5200.0).expect("strong enough").expect("needed");
    assert_eq!((acid.stock.key, acid.total.flask_ml, acid.total.fillings), ("other", 2000.0, 3));
    assert_eq!(format!("{:.1}", acid.total.stock_ml), "991.7");
}

#[test]
fn water_and_stock_stay_below_the_mark_for_every_stock_and_strength() {
    for reagent in [Reagent::Acid, Reagent::Base] {
        for stock in Stock::all(reagent) {
            for mol_l in [0.1, 1.0, 2.9, 6.0] {
                let Ok(Some(dilution)) = Dilution::of(reagent, *stock, mol_l, 80.0) else { continue };
                for mix in [dilution.per_100, dilution.total] {
                    assert!(mix.water_first_ml + mix.stock_ml <= mix.flask_ml, "{stock:?} to {mol_l}");
                    assert!(mix.water_first_ml >= 0.0);
                    // What goes in is what comes out.
                    let mmol = if stock.is_solid() { mix.stock_g / 40.00 * 1000.0 } else { mix.stock_ml * stock.mol_l };
                    assert!((mmol - mix.flask_ml * mol_l).abs() < 1e-9 * mmol);
                }
            }
        }
    }
}

#[test]
fn a_stock_weaker_than_the_lesson_is_refused_and_one_as_strong_is_used_as_it_is() {
    let stock = |typed| Stock::from_text(Reagent::Acid, typed);
    let weak = stock("2").expect("a stock");
    assert_eq!(Dilution::of(Reagent::Acid, weak, 3.0, 48.0), Err(DilutionError::StockTooWeak));
    let same = Dilution::of(Reagent::Acid, stock("acid3").expect("a stock"), 3.0, 48.0);
    assert_eq!(same.expect("as strong").expect("needed").order, ["asItIs", "label"]);
    for typed in ["0", "21", "-3", "abc", "NaN", "base50", "acid38"] {
        assert_eq!(stock(typed), Err(DilutionError::NotAStock), "{typed}");
    }
    assert_eq!(Dilution::of(Reagent::Acid, weak, 0.0, 48.0), Ok(None));
    assert_eq!(Dilution::of(Reagent::Acid, weak, 1.0, 0.0), Ok(None));
}

/// 1.20 g / 58.32 g/mol = 20.576 mmol take up 41.152 mmol: 41.152 / 6.00 = 6.859 doses, so the
/// seventh stays. At 90 % of the label 6.173, the seventh; at 115 % 7.888, the eighth.
#[test]
fn capability_2_the_end_point_is_seven_perhaps_eight() {
    let end = end_point(&[]).expect("acid");
    let shown = [end.exact, end.least_exact, end.most_exact].map(|doses| format!("{doses:.2}"));
    assert_eq!(shown, ["6.86", "6.17", "7.89"]);
    assert_eq!((end.least_dose, end.dose, end.most_dose, end.reached), (7, 7, 8, true));
}

/// Worked by hand, 41.15 mmol: acid of 1, 2 and 6 mol/L takes 20.6, 10.3 and 3.4 doses.
#[test]
fn other_strengths_move_the_end_point_in_proportion() {
    let exact = |mol_l: &str| end_point(&[("acidMolL", mol_l)]).map(|end| format!("{:.1}", end.exact));
    assert_eq!([exact("1"), exact("2"), exact("6")].map(Option::unwrap), ["20.6", "10.3", "3.4"]);
    assert_eq!(end_point(&[("acidMolL", "0")]), None);
    assert_eq!(end_point(&[("acidMolL", "2")]).map(|end| end.reached), Some(false));
    // No solid: the first dose stays.
    assert_eq!(end_point(&[("suspensionMl", "0")]).map(|end| (end.exact, end.dose)), Some((0.0, 1)));
}

/// 520 mL at the start, 534 mL after seven doses (89 % of 600 mL), 542 mL after the reversal
/// (90 %); 80 % of 600 mL is 480 mL. Of the usual sizes 800 mL is enough: 80 % of it is 640 mL.
#[test]
fn capability_8_the_600_ml_beaker_is_too_full() {
    let lesson = Lesson::default();
    let board = Freeboard::of(&lesson.recipe, &lesson.steps());
    assert_eq!((board.start_ml, board.acid_ml, board.end_ml, board.fullest_ml), (520.0, 534.0, 542.0, 480.0));
    assert_eq!((board.warns_without_reversal, board.warns_with_reversal), (true, true));
    assert_eq!(board.enough_vessel_ml, Some(800.0));
    // 460 + 20 = 480 mL are 80.0 % of 600 mL: 14 mL of acid are too much only with the base.
    let lesson = ours_with(&[("waterMl", "446")]);
    let board = Freeboard::of(&lesson.recipe, &lesson.steps());
    assert_eq!((board.acid_ml, board.warns_without_reversal), (480.0, false));
    assert!(board.warns_with_reversal);
}

/// The seventh dose was the first to stay: the bottle takes up 36.0 mmol and not 42.0 mmol, so
/// it holds 36.0/2 x 58.32/15 = 69.98 to 42.0/2 x 58.32/15 = 81.65 mg/mL, 87.5 to 102.1 % of 80.
#[test]
fn a_count_of_seven_agrees_with_the_label_and_nine_does_not() {
    let seven = strength(&[], 7).expect("says something");
    assert_eq!(format!("{:.2} {:.2}", seven.low_mg_ml, seven.high_mg_ml), "69.98 81.65");
    assert_eq!(format!("{:.1} {:.1}", seven.low_percent, seven.high_percent), "87.5 102.1");
    assert_eq!((seven.middle_mg_ml, seven.label_agrees), (75.82, true));
    // 48 to 54 mmol: 93.31 to 104.98 mg/mL; the label's 80 lies below.
    let nine = strength(&[], 9).expect("says something");
    assert_eq!(format!("{:.2} {:.2}", nine.low_mg_ml, nine.high_mg_ml), "93.31 104.98");
    assert!(!nine.label_agrees);
}

#[test]
fn a_count_says_nothing_without_a_dose_a_suspension_or_acid() {
    assert_eq!(strength(&[], 0), None);
    assert_eq!(strength(&[("acidMolL", "0")], 7), None);
    assert_eq!(strength(&[("suspensionMl", "0")], 7), None);
    assert_eq!(strength(&[("suspensionMgMl", "0")], 7), None);
}

/// The corrected strength is itself a bottle whose end point is the counted dose.
#[test]
fn the_corrected_strength_gives_the_counted_dose_back() {
    for counted in 1..=20 {
        let middle = strength(&[], counted).expect("says something").middle_mg_ml.to_string();
        let end = end_point(&[("suspensionMgMl", &middle)]).expect("acid");
        assert_eq!(end.dose, counted);
    }
}
