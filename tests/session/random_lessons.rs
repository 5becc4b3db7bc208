//! Lessons drawn at random, guided and free: whatever is asked of a beaker, it has an answer in numbers.

use proptest::prelude::*;
use turnback::lesson::{BeakerText, Field, Lesson, Recipe, RecipeText};
use turnback::session::Session;

use crate::{play_all, pour};

/// A number within a field's limits, and now and then one of the two limits.
fn typed(field: Field) -> impl Strategy<Value = String> {
    let limits = *field.limits();
    let scale = 10_f64.powi(limits.finest as i32);
    // Many long doses take long; what they could break, few break too.
    let max = match field {
        Field::AcidDoses | Field::BaseDoses => 4.0,
        Field::RestS | Field::BaseRestS => 200.0,
        Field::WaterMl => 3000.0,
        _ => limits.max,
    };
    let (low, high) = ((limits.min * scale) as u32, (max * scale) as u32);
    let steps = prop_oneof![1 => Just(low), 1 => Just(high), 6 => low..=high];
    steps.prop_map(move |step| (f64::from(step) / scale).to_string())
}

fn recipe() -> impl Strategy<Value = Recipe> {
    let fields: Vec<_> = Field::ALL.into_iter().map(typed).collect();
    let beaker = (prop::sample::select(turnback::lesson::KINDS.to_vec()), 0..=600_u32, 0..=2000_u32).prop_map(
        |(kind, tenths_c, tenths_g)| BeakerText {
            kind: kind.to_owned(),
            celsius: (f64::from(tenths_c) / 10.0).to_string(),
            ice_g: (f64::from(tenths_g) / 10.0).to_string(),
        },
    );
    (fields, prop::collection::vec(beaker, 1..=2)).prop_map(|(fields, beakers)| {
        let keys = Field::ALL.into_iter().map(|field| field.key().to_owned());
        let mut text = RecipeText { fields: keys.zip(fields).collect(), beakers };
        // The largest vessel holds whatever the others ask for.
        text.fields.insert("vesselMl".to_owned(), "6000".to_owned());
        Recipe::from_text(&text).expect("within the limits")
    })
}

fn check(session: &Session) -> Result<(), TestCaseError> {
    for beaker in 0..session.bench().len() {
        for point in 0..=60 {
            let time_s = session.clock().now_s() * f64::from(point) / 60.0;
            let reading = session.reading(beaker, time_s);
            prop_assert!((-2.0..16.0).contains(&reading.ph), "{:?}", reading);
            prop_assert!((250.0..400.0).contains(&reading.temperature_k), "{:?}", reading);
            prop_assert!(reading.water_kg > 0.0 && reading.solid_mol() >= 0.0, "{:?}", reading);
            // Dissolved magnesium is a small difference of large amounts. A step may err by 2e-4 of
            // what the plume holds and 2e-5 of what the bulk holds (`chemistry/error.rs`): where
            // strong base leaves no magnesium, it is known to less than this part of the salt.
            // What is shown stops at zero.
            let known_to_mol = 1e-4 * (reading.chloride_mol + reading.sodium_mol) + 1e-9;
            prop_assert!(reading.magnesium_mol > -known_to_mol && reading.ice_kg >= 0.0, "{:?}", reading);
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn any_lesson_runs_to_its_end_without_a_nan(recipe in recipe()) {
        let mut session = Session::new(Lesson::of_recipe(recipe)).expect("begins");
        play_all(&mut session);
        check(&session)?;
    }

    #[test]
    fn anything_done_on_the_free_bench_runs_without_a_nan(
        recipe in recipe(),
        deeds in prop::collection::vec((0..3_u32, 0..1200_u32, 0.0..30.0_f64), 1..12),
    ) {
        let mut session = Session::new(Lesson::of_recipe(recipe)).expect("begins");
        session.begin(true).expect("nothing is under way");
        session.set_speed(16);
        for (deed, amount, wait_s) in deeds {
            let _ = match deed {
                0 => session.pour(&pour(&[0], "acid", &(f64::from(amount) / 20.0).to_string())),
                1 => session.pour(&pour(&[0], "base", &(f64::from(amount) / 20.0).to_string())),
                _ => session.set_stirrer(&[0], &amount.to_string()),
            };
            for _ in 0..=(wait_s as u32) {
                session.tick(wait_s / 16.0).expect("runs");
            }
        }
        check(&session)?;
    }
}
