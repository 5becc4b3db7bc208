//! A bottle that a class fitted to its own beakers is kept with the lesson, and the lesson computes with it.

use turnback::lesson::{EndPoint, Field, Fitted, Lesson, LessonFile, Moment};
use turnback::measure::{Timing, Values, computed_times};
use turnback::session::expected;

/// The link of our scenario, of the first release (tests/link.rs).
const GOLDEN: &str = "v1.IYgn3AvAPvQDuBe4F8gBCqwC0gHYBAcErAI8AwAUAgDUAmmBZQQ";
/// The same with a fitted bottle, of the release that first kept one. It opens for ever.
const GOLDEN_FITTED: &str = "v1.Logn3AvAPvQDuBe4F8gBCqwC0gHYBAcErAI8AwAUAgDUAgIQjSGzGO8qEoXS1AnI-8hC";

/// The same with a fitted strength, of the release that first kept one. It opens for ever.
const GOLDEN_STRENGTH: &str = "v1.MIgn3AvAPvQDuBe4F8gBCqwC0gHYBAcErAI8AwAUAgDUAgIwjSGzGO8qEoXS1AnTN2UyMxs";

fn fitted() -> Lesson {
    kept(&Values { acid_factor: 4.2371, carbonate: 0.00312345, energy_factor: 0.93, ..Values::of(&Lesson::default()) })
}

fn with_strength(strength_mg_ml: f64) -> Lesson {
    kept(&Values { strength_mg_ml, ..Values::of(&fitted()) })
}

fn kept(values: &Values) -> Lesson {
    let lesson = Lesson::default();
    let fitted = values.fitted(&lesson.recipe, 18, 20_261_125).expect("within the limits");
    Lesson { fitted: Some(fitted), ..lesson }
}

#[test]
fn a_link_carries_the_fitted_bottle_and_old_links_open_as_ever() {
    let lesson = fitted();
    let link = lesson.link().unwrap();
    assert_eq!(Lesson::from_link(&link), Ok(lesson.clone()));
    assert_eq!(link, GOLDEN_FITTED);
    assert_eq!(Lesson::from_link(GOLDEN), Ok(Lesson::default()));
    assert_eq!(Lesson::default().link().unwrap(), GOLDEN);
    // Nothing that another number could stand for.
    assert_eq!(
        lesson.fitted.unwrap(),
        Fitted {
            acid_factor: 4.237,
            carbonate: 0.003123,
            energy_kj_mol: 54.87,
            measurements: 18,
            date: 20_261_125,
            strength_mg_ml: None
        }
    );
    for end in 4..link.len() {
        assert!(Lesson::from_link(&link[..end]).is_err());
    }
}

#[test]
fn a_file_carries_it_with_its_date_and_number() {
    let lesson = fitted();
    let file = serde_json::to_value(LessonFile::of(&lesson)).unwrap();
    assert_eq!(file["fitted"]["energy"], 54.87);
    assert_eq!((&file["fitted"]["measurements"], &file["fitted"]["date"]), (&18.into(), &20_261_125.into()));
    assert_eq!(Lesson::from_tree(&file), Ok(lesson));
    // A person may write the day with hyphens; what is no day, or no bottle, is refused.
    let mut mended = file.clone();
    mended["fitted"]["date"] = "2026-11-25".into();
    assert_eq!(Lesson::from_tree(&mended), Ok(fitted()));
    for (key, value) in
        [("date", "20261345"), ("acidFactor", "0"), ("acidFactor", "1e9"), ("carbonate", "-1"), ("energy", "x")]
    {
        let mut bad = file.clone();
        bad["fitted"][key] = value.into();
        assert!(Lesson::from_tree(&bad).is_err(), "{key} {value}");
    }
    assert!(serde_json::to_value(LessonFile::of(&Lesson::default())).unwrap().get("fitted").is_none());
}

#[test]
fn a_bottle_out_of_its_limits_has_no_link() {
    let numbers = fitted().fitted.unwrap().numbers();
    for (index, number) in [(0, f64::NAN), (0, 1e4), (1, 0.3), (2, 300.0), (3, 0.0), (4, 20_261_300.0), (4, 0.0)] {
        let mut bad = numbers;
        bad[index] = number;
        assert!(Fitted::of(bad, None).is_err(), "{index} {number}");
    }
    for strength in [f64::NAN, 0.0, -1.0, 400.01] {
        assert!(Fitted::of(numbers, Some(strength)).is_err(), "{strength} mg/mL");
    }
}

/// The lesson that was fitted runs as the fit computed it: the same seconds, to the search's tolerance.
#[test]
fn the_lesson_computes_with_its_fitted_bottle() {
    let lesson = fitted();
    let beaker = 1;
    let runs = expected(&lesson, beaker).unwrap();
    let plain = expected(&Lesson::default(), beaker).unwrap();
    let celsius = lesson.recipe.value(Field::RoomC);
    for dose in 1..=4u32 {
        let timing = Timing {
            dose,
            beaker: None,
            start_c: celsius,
            end_c: None,
            seconds: 60.0,
            finish: turnback::colour::Band::Green,
        };
        let wanted = computed_times(&lesson, &Values::of(&lesson), &[timing]).unwrap()[0];
        let [found, before] = [&runs, &plain].map(|runs| runs[dose as usize - 1].turned_back_s.unwrap());
        // The room's beaker warms by a few tenths of a kelvin, which the fit takes from the class's thermometer.
        assert!((found / wanted - 1.0).abs() < 0.06, "dose {dose}: {found} s, not {wanted} s");
        assert!((found / before - 1.0).abs() > 0.15, "dose {dose}: {found} s as before");
    }
}

#[test]
fn a_fitted_strength_is_kept_beside_the_labels() {
    let lesson = with_strength(71.234);
    assert_eq!(lesson.fitted.unwrap().strength_mg_ml, Some(71.23));
    assert_eq!(lesson.recipe, Lesson::default().recipe, "the label stays what it says");
    assert_eq!(lesson.computed_recipe().value(Field::SuspensionMgMl), 71.23);
    let link = lesson.link().unwrap();
    assert_eq!(link, GOLDEN_STRENGTH);
    assert_eq!(Lesson::from_link(&link), Ok(lesson.clone()));
    assert_eq!(Lesson::from_link(GOLDEN_FITTED).unwrap().fitted.unwrap().strength_mg_ml, None);
    for end in 4..link.len() {
        assert!(Lesson::from_link(&link[..end]).is_err());
    }
    let file = serde_json::to_value(LessonFile::of(&lesson)).unwrap();
    assert_eq!((&file["fitted"]["strength"], &file["recipe"]["suspensionMgMl"]), (&71.23.into(), &80.into()));
    assert_eq!(Lesson::from_tree(&file), Ok(lesson));
    for strength in ["0", "401", "71.234", "x"] {
        let mut bad = file.clone();
        bad["fitted"]["strength"] = strength.into();
        assert!(Lesson::from_tree(&bad).is_err(), "{strength}");
    }
    // A strength that is the label's was not fitted.
    assert_eq!(with_strength(80.0), fitted());
}

/// By hand: 15 mL of 60 mg/mL hold 15 x 60 / 58.32 = 15.43 mmol, which take 30.86 mmol of acid: 5.14 doses of 6.00 mmol.
#[test]
fn the_books_and_the_beakers_go_by_the_fitted_strength_and_the_label_is_told_beside_it() {
    let (lesson, label) = (with_strength(60.0), Lesson::default());
    let end = EndPoint::as_fitted(&lesson).unwrap();
    assert!((end.exact - 30.864 / 6.0).abs() < 1e-3 && end.dose == 6, "{end:?}");
    assert_eq!(EndPoint::as_fitted(&label), None);
    let by_label = EndPoint::of(&lesson.recipe, &lesson.steps()).unwrap();
    assert_eq!(by_label.dose, 7);
    let last = |lesson: &Lesson| {
        let steps = lesson.steps();
        steps.iter().find(|step| step.moment == Moment::LastAcid).map(|step| step.number)
    };
    assert_eq!((last(&lesson), last(&label)), (Some(6), Some(7)));
    let runs = expected(&lesson, 1).unwrap();
    assert!(runs[4].turned_back_s.is_some() && runs[5].turned_back_s.is_none(), "the sixth dose stays");
    // 15.43 mmol less 3.00 used; what is dissolved besides is 0.3 % of it.
    assert!((runs[0].solid_g / (12.43e-3 * 58.32) - 1.0).abs() < 0.01, "{} g", runs[0].solid_g);
}
