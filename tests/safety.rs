//! The safety card follows the chosen concentrations, and says on every card what is always
//! true. Percentages by hand: 100 c M / (1000 density), densities of handbook tables.

use turnback::chemistry::Reagent;
use turnback::lesson::{ALWAYS, Beaker, BeakerText, Lesson, Material, Recipe, SOURCES, SafetyCard, Stock};

fn card(changes: &[(&str, &str)], stocks: &[(Reagent, Stock)]) -> SafetyCard {
    let mut text = Recipe::default().to_text();
    for (key, value) in changes {
        text.fields.insert((*key).to_owned(), (*value).to_owned());
    }
    let lesson = Lesson::of_recipe(Recipe::from_text(&text).expect("within the limits"));
    SafetyCard::of(&lesson.recipe, &lesson.steps(), stocks)
}

fn material<'a>(card: &'a SafetyCard, key: &str) -> &'a Material {
    card.materials.iter().find(|material| material.key == key).expect("on the card")
}

fn statements(card: &SafetyCard, key: &str, scheme: usize) -> String {
    let label = &material(card, key).labels[scheme];
    format!("{}: {}", label.signal.unwrap_or("none"), label.statements.join(", "))
}

/// 3.0 mol/L: 10.4 % (1.0474 g/mL); 6.0 mol/L: 19.9 % (1.098 g/mL). Regulation 1272/2008,
/// Annex VI: 10 % and more is irritant and H335, 25 % and more corrosive.
#[test]
fn capability_9_six_molar_acid_changes_the_card_of_three_molar() {
    let (three, six) = (card(&[], &[]), card(&[("acidMolL", "6")], &[]));
    assert_eq!(format!("{:.1}", material(&three, "acid").percent), "10.4");
    assert_eq!(format!("{:.1}", material(&six, "acid").percent), "19.9");
    for card in [&three, &six] {
        assert_eq!(statements(card, "acid", 0), "warning: H315, H319, H335, H290");
        assert_eq!(statements(card, "acid", 1), "danger: H314, H318, H290");
    }
    assert!(!material(&three, "acid").cautions.contains(&"adultPours"));
    assert!(material(&six, "acid").cautions.contains(&"adultPours"));
}

/// 1.0 mol/L: 3.8 % (1.038 g/mL), category 1B from 2 %; 3.0 mol/L: 10.8 % (1.113 g/mL), category
/// 1A from 5 %.
#[test]
fn capability_9_three_molar_base_changes_the_card_of_one_molar() {
    let (one, three) = (card(&[("baseMolL", "1")], &[]), card(&[], &[]));
    assert_eq!(statements(&one, "base", 0), "danger: H314 1B, H290");
    assert_eq!(statements(&three, "base", 0), "danger: H314 1A, H290");
    assert!(!material(&one, "base").cautions.contains(&"adultPours"));
    assert!(material(&three, "base").cautions.contains(&"adultPours"));
}

/// 0.1 mol/L of either is 0.4 %: below every limit but that of H290. 0.05 mol/L: no label.
#[test]
fn dilute_solutions_lose_their_statements_one_by_one() {
    let weak = card(&[("acidMolL", "0.1"), ("baseMolL", "0.05")], &[]);
    assert_eq!(statements(&weak, "acid", 0), "warning: H290");
    assert_eq!(statements(&weak, "base", 0), "none: ");
    // 1.0 mol/L acid is 3.6 %: no irritant in the one scheme, grave for eyes in the other.
    let one = card(&[("acidMolL", "1")], &[]);
    assert_eq!(statements(&one, "acid", 0), "warning: H290");
    assert_eq!(statements(&one, "acid", 1), "danger: H318, H315, H290");
    // 0.2 mol/L base is 0.8 %.
    let base = card(&[("baseMolL", "0.2")], &[]);
    assert_eq!(statements(&base, "base", 0), "warning: H315, H319, H290");
}

/// Monotone in the concentration: a stronger solution never gets a milder signal word.
#[test]
fn no_stronger_solution_has_a_milder_signal() {
    let grade = |signal: Option<&str>| match signal {
        None => 0,
        Some("warning") => 1,
        _ => 2,
    };
    for (field, key) in [("acidMolL", "acid"), ("baseMolL", "base")] {
        for scheme in 0..2 {
            let signals = (1..=60).map(|tenths| {
                let typed = (f64::from(tenths) / 10.0).to_string();
                grade(material(&card(&[(field, &typed)], &[]), key).labels[scheme].signal)
            });
            assert!(signals.collect::<Vec<_>>().is_sorted(), "{field}");
        }
    }
}

#[test]
fn capability_9_every_card_says_what_is_always_true_and_names_its_sources() {
    for card in [card(&[], &[]), card(&[("acidMolL", "0"), ("suspensionMl", "0"), ("baseDoses", "0")], &[])] {
        assert_eq!((card.always, card.sources), (&ALWAYS[..], &SOURCES[..]));
        for key in
            ["eyes", "acidIntoWater", "noBleach", "disposal", "localRules", "sheets", "supervision", "notMedical"]
        {
            assert!(card.always.contains(&key), "{key}");
        }
    }
}

#[test]
fn what_is_not_on_the_bench_is_not_on_the_card() {
    let keys = |card: &SafetyCard| card.materials.iter().map(|material| material.key).collect::<Vec<_>>();
    assert_eq!(keys(&card(&[], &[])), ["acid", "base", "suspension", "indicator", "glass", "stirrer", "ice", "warm"]);
    let bare = card(&[("acidMolL", "0"), ("baseDoses", "0"), ("indicatorMl", "0"), ("stirRpm", "0")], &[]);
    assert_eq!(keys(&bare), ["suspension", "glass", "ice", "warm"]);
    let mut text = Recipe::default().to_text();
    text.beakers = vec![BeakerText { kind: "plate".to_owned(), celsius: "40".to_owned(), ..BeakerText::default() }];
    let recipe = Recipe::from_text(&text).expect("within the limits");
    assert!(matches!(recipe.beakers(), [Beaker::Plate { .. }]));
    assert!(keys(&SafetyCard::of(&recipe, &[], &[])).contains(&"plate"));
}

/// Acid of 37 % is above 25 %: H314 1B and H335 by the one scheme, H314 by the other.
#[test]
fn the_stock_has_a_card_of_its_own() {
    let stock = |reagent, key| (reagent, Stock::from_text(reagent, key).expect("a stock"));
    let both = card(&[], &[stock(Reagent::Acid, "acid37"), stock(Reagent::Base, "baseSolid")]);
    assert_eq!(statements(&both, "stockAcid", 0), "danger: H314 1B, H335, H290");
    assert_eq!(statements(&both, "stockBase", 0), "danger: H314 1A, H290");
    assert!(material(&both, "stockAcid").cautions.contains(&"hood"));
    assert!(material(&both, "stockBase").cautions.contains(&"pelletsInPortions"));
}

/// By hand: 42.00 mmol of acid less 24.00 mmol of base are 18.00 mmol, which use 9.00 mmol of the
/// 20.58 mmol of solid: 11.58 mmol x 58.32 g/mol = 0.675 g are left, and no acid. Without the
/// reversal 42.00 - 41.15 = 0.85 mmol of acid are left.
#[test]
fn the_card_says_what_is_left_to_be_made_neutral() {
    let ours = card(&[], &[]).left;
    assert_eq!((ours.hydrogen_mmol, ours.hydroxide_mmol), (0.0, 0.0));
    assert_eq!(format!("{:.3}", ours.solid_g), "0.675");
    let acid = card(&[("baseDoses", "0")], &[]).left;
    assert_eq!(format!("{:.2}", acid.hydrogen_mmol), "0.85");
}
