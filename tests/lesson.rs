//! The lesson's own rules: typed numbers, the recipe's door, the class's bookkeeping, the
//! cards and how an answer compares with the outcome. No chemistry is run here.

use turnback::chemistry::Reagent;
use turnback::colour::{Band, Clarity};
use turnback::lesson::{
    Beaker, Field, First, Guess, GuessText, Ledger, Lesson, Limiting, Match, NumberError, Outcome, Place, Question,
    Recipe, RecipeText, Seconds, Vessel, WHY_MAX_CHARS, match_band, match_clarity, match_first, match_seconds,
    parse_number, subject_beaker,
};

fn ours_with(changes: &[(&str, &str)]) -> RecipeText {
    let mut text = Recipe::default().to_text();
    for (key, value) in changes {
        text.fields.insert((*key).to_owned(), (*value).to_owned());
    }
    text
}

fn keys(text: &RecipeText) -> Vec<(Place, &'static str)> {
    match Recipe::from_text(text) {
        Ok(_) => Vec::new(),
        Err(errors) => errors.iter().map(|error| (error.place, error.key)).collect(),
    }
}

#[test]
fn a_decimal_comma_and_a_decimal_point_are_the_same_number() {
    assert_eq!(parse_number("2,0"), Ok((2.0, 1)));
    assert_eq!(parse_number("2.0"), Ok((2.0, 1)));
    assert_eq!(parse_number(" \u{a0}12,25 "), Ok((12.25, 2)));
    assert_eq!(parse_number("\u{2212}3"), Ok((-3.0, 0)));
    assert_eq!(parse_number(".5"), Ok((0.5, 1)));
    assert_eq!(parse_number("1e9"), Ok((1e9, 0)));
}

#[test]
fn what_is_no_number_is_told_apart_from_what_is_empty() {
    assert_eq!(parse_number("  "), Err(NumberError::Empty));
    for text in ["abc", "NaN", "inf", "-", ".", "1,000.5", "1.2.3", "2 0", "1e999", "e5", "0x10", "٣"] {
        assert_eq!(parse_number(text), Err(NumberError::NotANumber), "{text}");
    }
    assert_eq!(parse_number(&"1".repeat(41)), Err(NumberError::NotANumber));
}

#[test]
fn every_bad_field_is_told_at_once_and_with_its_limits() {
    let mut text = ours_with(&[
        ("waterMl", ""),
        ("doseMl", "abc"),
        ("acidMolL", "-1"),
        ("baseMolL", "1e9"),
        ("stirRpm", "NaN"),
        ("suspensionMl", "0"),
    ]);
    text.beakers[0].celsius = "99".to_owned();
    text.beakers[2].kind = "moon".to_owned();
    let expected = [
        (Place::Field(Field::WaterMl), "empty"),
        (Place::Field(Field::AcidMolL), "tooSmall"),
        (Place::Field(Field::BaseMolL), "tooBig"),
        (Place::Field(Field::DoseMl), "notANumber"),
        (Place::Field(Field::StirRpm), "notANumber"),
        (Place::Beaker { index: 0, key: "celsius" }, "tooBig"),
        (Place::Beaker { index: 2, key: "kind" }, "unknown"),
    ];
    assert_eq!(keys(&text), expected);
    let errors = Recipe::from_text(&text).expect_err("seven bad fields");
    assert!(errors[..6].iter().all(|error| error.limits.is_some()));
}

#[test]
fn a_number_finer_than_is_kept_is_asked_about_and_never_rounded() {
    // A thousand with its comma, or one with three decimals? The field keeps one decimal.
    let text = ours_with(&[("waterMl", "1,000")]);
    assert_eq!(keys(&text), [(Place::Field(Field::WaterMl), "tooSmall")]);
    let text = ours_with(&[("waterMl", "500,000")]);
    assert_eq!(keys(&text), [(Place::Field(Field::WaterMl), "tooFine")]);
    let text = ours_with(&[("acidMolL", "0.1234")]);
    assert_eq!(keys(&text), [(Place::Field(Field::AcidMolL), "tooFine")]);
    assert_eq!(keys(&ours_with(&[("acidMolL", "0,123")])), []);
}

#[test]
fn a_beaker_that_would_run_over_is_refused_with_what_it_would_have_to_hold() {
    let errors = Recipe::from_text(&ours_with(&[("vesselMl", "500")])).expect_err("runs over");
    assert_eq!((errors[0].place, errors[0].key), (Place::Field(Field::VesselMl), "overflow"));
    // 500 + 15 + 5 + 11 doses of 2.0 mL.
    assert_eq!(errors[0].limits.map(|limits| limits.min), Some(542.0));
}

#[test]
fn no_solid_no_acid_and_no_indicator_are_recipes_too() {
    let nothing = ours_with(&[("suspensionMl", "0"), ("acidMolL", "0"), ("indicatorMl", "0")]);
    assert_eq!(keys(&nothing), []);
    assert_eq!(keys(&ours_with(&[("acidDoses", "0"), ("baseDoses", "0")])), []);
}

#[test]
fn decimals_shown_follow_the_tool_or_what_was_typed() {
    let dose = Field::DoseMl.limits();
    assert_eq!([2.0, 2.5, 1.25].map(|value| dose.decimals_of(value)), [1, 1, 2]);
    let water = Field::WaterMl.limits();
    assert_eq!([500.0, 250.5].map(|value| water.decimals_of(value)), [0, 1]);
}

/// The table of a class for our scenario, worked by hand: n = 15 mL x 80 mg/mL / 58.32 g/mol
/// = 20.58 mmol; 3.0 mol/L x 2.0 mL = 6.00 mmol a dose, which uses 3.00 mmol of solid.
/// Columns: HCl total, solid used, solid left, all mmol; solid left, g; acid left, mmol.
const BY_HAND: [([&str; 5], Option<Limiting>); 8] = [
    (["0.00", "0.00", "20.58", "1.200", "0.00"], None),
    (["6.00", "3.00", "17.58", "1.025", "0.00"], Some(Limiting::Acid)),
    (["12.00", "6.00", "14.58", "0.850", "0.00"], Some(Limiting::Acid)),
    (["18.00", "9.00", "11.58", "0.675", "0.00"], Some(Limiting::Acid)),
    (["24.00", "12.00", "8.58", "0.500", "0.00"], Some(Limiting::Acid)),
    (["30.00", "15.00", "5.58", "0.325", "0.00"], Some(Limiting::Acid)),
    (["36.00", "18.00", "2.58", "0.150", "0.00"], Some(Limiting::Acid)),
    (["42.00", "20.58", "0.00", "0.000", "0.85"], Some(Limiting::Solid)),
];

#[test]
fn capability_18_the_ledger_equals_the_hand_table_to_the_last_figure() {
    let ledger = Ledger::filled(&Recipe::default());
    for (row, by_hand) in ledger.rows().iter().zip(BY_HAND) {
        let ([hcl, used, left, grams, acid], limiting) = by_hand;
        assert_eq!(format!("{:.2}", row.hcl_mmol), hcl);
        assert_eq!(format!("{:.2}", row.solid_used_mmol), used);
        assert_eq!(format!("{:.2}", row.solid_left_mmol), left);
        assert_eq!(format!("{:.3}", row.solid_left_g), grams);
        assert_eq!(format!("{:.2}", row.hydrogen_left_mmol), acid);
        assert_eq!(row.limiting, limiting, "dose {}", row.dose);
    }
    assert_eq!(ledger.rows().len(), 12);
    // 41.15 mmol / 6.00 mmol.
    assert_eq!(ledger.doses_to_end_point().map(|doses| format!("{doses:.2}")), Some("6.86".into()));
    assert_eq!(ledger.end_point_dose(), Some(7));
}

/// By hand: 42.00 mmol of base meet 42.00 mmol of acid, and all the solid is back.
#[test]
fn base_takes_the_acid_left_and_then_brings_the_solid_down_again() {
    let mut ledger = Ledger::begin(&Recipe::default());
    ledger.pour(Reagent::Acid, 42.0);
    ledger.pour(Reagent::Base, 0.5);
    let row = ledger.rows()[2];
    assert_eq!(format!("{:.2}", row.hydrogen_left_mmol), "0.35");
    assert_eq!((row.solid_left_mmol, row.limiting), (0.0, None));
    ledger.pour(Reagent::Base, 41.5);
    let row = ledger.rows()[3];
    assert_eq!(format!("{:.3}", row.solid_left_g), "1.200");
    assert_eq!((row.hydrogen_left_mmol, row.hydroxide_left_mmol), (0.0, 0.0));
    ledger.pour(Reagent::Base, 3.0);
    assert_eq!(format!("{:.2}", ledger.rows()[4].hydroxide_left_mmol), "3.00");
}

#[test]
fn a_dose_that_uses_up_both_exactly_says_so() {
    // 14.58 mL of 80 mg/mL is 20.00 mmol of solid, which takes up 40.00 mmol: ten doses of
    // 2.0 mL of 2.0 mol/L.
    let text = ours_with(&[("suspensionMl", "14.58"), ("acidMolL", "2"), ("acidDoses", "12")]);
    let recipe = Recipe::from_text(&text).expect("within the limits");
    let ledger = Ledger::filled(&recipe);
    assert_eq!(ledger.rows()[9].limiting, Some(Limiting::Acid));
    assert_eq!(ledger.rows()[10].limiting, Some(Limiting::Both));
    assert_eq!(ledger.rows()[11].limiting, Some(Limiting::Solid));
    assert_eq!(ledger.end_point_dose(), Some(11));
}

#[test]
fn the_long_card_stands_at_doses_1_3_7_and_at_the_first_base_dose() {
    let lesson = Lesson::default();
    let steps = lesson.steps();
    assert_eq!(steps.len(), 11);
    let asked = |step: usize| lesson.questions(step);
    let long: Vec<_> =
        (0..11).filter(|&step| asked(step).len() > 1).map(|step| (steps[step].reagent, steps[step].number)).collect();
    let expected = [(Reagent::Acid, 1), (Reagent::Acid, 3), (Reagent::Acid, 7), (Reagent::Base, 1)];
    assert_eq!(long, expected);
    assert_eq!((steps[0].rest_s, steps[10].rest_s), (300.0, 60.0));
    assert_eq!(asked(1), [Question::AtRest]);
    assert!(asked(0).contains(&Question::First));
    let mut text = Recipe::default().to_text();
    text.beakers.truncate(1);
    let alone = Lesson::of_recipe(Recipe::from_text(&text).expect("within the limits"));
    assert!(!alone.questions(0).contains(&Question::First));
}

#[test]
fn the_questions_are_about_the_beaker_at_room_temperature_or_the_middle_one() {
    assert_eq!(subject_beaker(&Recipe::default()), 1);
    let mut text = Recipe::default().to_text();
    text.beakers[1].kind = "held".to_owned();
    assert_eq!(Recipe::from_text(&text).map(|recipe| subject_beaker(&recipe)), Ok(1));
    text.beakers[2].kind = "room".to_owned();
    assert_eq!(Recipe::from_text(&text).map(|recipe| subject_beaker(&recipe)), Ok(2));
}

fn some(text: &str) -> Option<String> {
    Some(text.to_owned())
}

#[test]
fn a_long_card_must_be_answered_but_for_the_why() {
    let asked = &Lesson::default().questions(0);
    let empty = Guess::from_text(&GuessText::default(), asked, 3, true).expect_err("empty");
    let missing: Vec<_> = empty.iter().map(|error| (error.question.key(), error.key)).collect();
    let expected = ["atOnce", "atRest", "clarity", "seconds", "first"].map(|key| (key, "missing"));
    assert_eq!(missing, expected);

    let text = GuessText {
        at_once: some("red"),
        at_rest: some("violet"),
        clarity: some("milky"),
        seconds: some("12,5"),
        first: some("2"),
        why: some("  "),
    };
    let guess = Guess::from_text(&text, asked, 3, true).expect("complete");
    assert_eq!(guess.seconds, Some(Seconds::After(12.5)));
    assert_eq!((guess.first, guess.why), (Some(First::Beaker(2)), None));
}

#[test]
fn an_answer_that_does_not_exist_is_refused_by_name() {
    let asked = &Lesson::default().questions(0);
    let text = GuessText {
        at_once: some("pink"),
        at_rest: some("VIOLET"),
        clarity: some("murky"),
        seconds: some("3601"),
        first: some("3"),
        why: Some("a".repeat(WHY_MAX_CHARS + 1)),
    };
    let errors = Guess::from_text(&text, asked, 3, true).expect_err("six bad answers");
    let keys: Vec<_> = errors.iter().map(|error| error.key).collect();
    assert_eq!(keys, ["unknown", "unknown", "unknown", "tooBig", "unknown", "tooLong"]);
    // The same text on a short card: only the question that was asked is looked at.
    let short = Guess::from_text(&text, &[Question::AtRest], 3, true).expect_err("one");
    assert_eq!(short.len(), 1);
}

#[test]
fn the_neighbouring_colour_is_near_only_within_a_fifth_of_a_unit() {
    // Edges of Green by the table of bins: pH 6.8 and 7.4.
    assert_eq!(match_band(Band::Green, 7.1), Match::Same);
    assert_eq!(match_band(Band::Lime, 6.95), Match::Near);
    assert_eq!(match_band(Band::Lime, 7.05), Match::Other);
    assert_eq!(match_band(Band::Teal, 7.25), Match::Near);
    assert_eq!(match_band(Band::Teal, 7.15), Match::Other);
}

#[test]
fn times_are_compared_as_a_stopwatch_would() {
    use Seconds::{After, Never};
    assert_eq!(match_seconds(After(12.0), After(15.0)), Match::Same);
    assert_eq!(match_seconds(After(100.0), After(120.0)), Match::Same);
    assert_eq!(match_seconds(After(8.0), After(15.0)), Match::Near);
    assert_eq!(match_seconds(After(60.0), After(15.0)), Match::Other);
    assert_eq!(match_seconds(Never, Never), Match::Same);
    assert_eq!(match_seconds(Never, After(15.0)), Match::Other);
    assert_eq!(match_seconds(After(0.0), Never), Match::Other);
}

#[test]
fn the_first_beaker_is_the_fastest_or_none_or_all_together() {
    let outcome = |turned_back_s: &[Option<f64>]| Outcome {
        ph_at_once: 2.0,
        ph_at_rest: 9.0,
        clarity: Clarity::Milky,
        turned_back_s: turned_back_s.to_vec(),
        subject: 0,
    };
    assert_eq!(outcome(&[Some(52.0), Some(15.0), Some(10.0)]).first(), First::Beaker(2));
    assert_eq!(outcome(&[None, Some(15.0), None]).first(), First::Beaker(1));
    assert_eq!(outcome(&[None, None, None]).first(), First::None);
    assert_eq!(outcome(&[Some(15.0), Some(15.4), Some(14.9)]).first(), First::Same);
    assert_eq!(outcome(&[Some(15.0)]).first(), First::Beaker(0));
    assert_eq!(match_first(First::Same, First::Beaker(0)), Match::Other);
    assert_eq!(match_clarity(Clarity::Cloudy, Clarity::Milky), Match::Near);
    assert_eq!(match_clarity(Clarity::Clear, Clarity::Milky), Match::Other);
}

/// A 600 mL beaker of 9 cm inside diameter: 515 mL stand 8.10 cm high (515 / 63.6 cm2).
#[test]
fn the_glass_has_the_lengths_of_its_volume() {
    let glass = Vessel { nominal_ml: 600.0 };
    assert_eq!(format!("{:.2}", glass.diameter_cm()), "9.00");
    assert_eq!(format!("{:.2}", glass.depth_m(515.0) * 100.0), "8.10");
    assert_eq!(format!("{:.1}", glass.surface_m2() * 1e4), "63.6");
    let small = Vessel { nominal_ml: 75.0 };
    assert_eq!(format!("{:.2}", small.diameter_cm()), "4.50");
}

#[test]
fn a_beaker_knows_where_it_begins() {
    assert_eq!(Beaker::Room.start_c(19.5), 19.5);
    assert_eq!(Beaker::Ice { celsius: 20.0, ice_g: 80.0 }.start_c(19.5), 20.0);
    assert_eq!(Beaker::Bath { celsius: 2.0 }.ice_g(), 0.0);
}
