//! A bottle that a class fitted to its own beakers is kept with the lesson, and the lesson computes with it.

use turnback::lesson::{Field, Fitted, Lesson, LessonFile};
use turnback::measure::{Timing, Values, computed_times};
use turnback::session::expected;

/// The link of our scenario, of the first release (tests/link.rs).
const GOLDEN: &str = "v1.IYgn3AvAPvQDuBe4F8gBCqwC0gHYBAcErAI8AwAUAgDUAmmBZQQ";
/// The same with a fitted bottle, of the release that first kept one. It opens for ever.
const GOLDEN_FITTED: &str = "v1.Logn3AvAPvQDuBe4F8gBCqwC0gHYBAcErAI8AwAUAgDUAgIQjSGzGO8qEoXS1AnI-8hC";

fn fitted() -> Lesson {
    let values =
        Values { acid_factor: 4.2371, carbonate: 0.00312345, energy_factor: 0.93, ..Values::of(&Lesson::default()) };
    let fitted = values.fitted(18, 20_261_125).expect("within the limits");
    Lesson { fitted: Some(fitted), ..Lesson::default() }
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
        Fitted { acid_factor: 4.237, carbonate: 0.003123, energy_kj_mol: 54.87, measurements: 18, date: 20_261_125 }
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
        assert!(Fitted::of(bad).is_err(), "{index} {number}");
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
