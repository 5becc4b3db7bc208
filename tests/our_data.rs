//! What the page asks of the class's own measurements, natively: row 16 of what a teacher would try.

use turnback::lesson::Lesson;
use turnback::measure::{Row, Timing, Values, computed_times};
use turnback::view::Screen;

/// Invented times of a class at its three baths, doses 1 to 4 (the model's of a slower bottle, roughly).
const TIMES: &str = "dose\tstart\tend\tseconds\tfinish\tbeaker
1\t2\t2,2\t71\tgreen\t1
2\t2,2\t2,4\t88\tgreen\t1
3\t2,4\t2,5\t108\tgreen\t1
4\t2,5\t2,6\t139\tgreen\t1
1\t21\t21,2\t18,4\tgreen\t2
2\t21,2\t21,4\t23,5\tgreen\t2
3\t21,4\t21,5\t30\tgreen\t2
4\t21,5\t21,6\t38,5\tgreen\t2
1\t34\t34\t10,9\tgreen\t3
2\t34\t34\t13,6\tgreen\t3
3\t34\t34\t17\tgreen\t3
4\t34\t34\t21,9\tgreen\t3";

fn keys(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

fn rows() -> Vec<Row> {
    turnback::measure::pasted(TIMES)
}

#[test]
fn pasted_times_are_fitted_kept_and_opened_from_the_link() {
    let mut screen = Screen::new().unwrap();
    let fit = screen.fit_times(&rows(), &keys(&["acidFactor", "carbonate", "energy"]), false).unwrap();
    assert_eq!(fit.estimates.iter().map(|told| told.0).collect::<Vec<_>>(), ["acidFactor", "carbonate", "energy"]);
    // A straight line for each dose, and the slope that they share.
    assert_eq!((fit.points.len(), fit.lines.len(), fit.pairs.len()), (12, 4 + 1, 3));
    for (key, numbers) in &fit.estimates {
        let [value, low, high, _] = numbers[..] else { panic!("{key}") };
        assert!(low < value && value < high, "{key} {numbers:?}");
    }
    assert!(!fit.causes.is_empty(), "slower than the lesson's own bottle");
    assert!(screen.keep_fit(20_261_125).ok);
    let mut next_year = Screen::new().unwrap();
    assert!(next_year.open_link(&screen.link()).ok);
    let kept = next_year.session().lesson().fitted.unwrap();
    assert_eq!((kept.measurements, kept.date), (12, 20_261_125));
    assert!((kept.acid_factor - fit.estimates[0].1[0]).abs() < 1e-3);
    assert!(next_year.drop_fit().ok);
    assert_eq!(*next_year.session().lesson(), Lesson::default());
}

#[test]
fn one_temperature_says_no_energy_and_bad_cells_are_named() {
    let mut screen = Screen::new().unwrap();
    let fit = screen.fit_times(&rows()[..4], &keys(&["acidFactor", "carbonate", "energy"]), false).unwrap();
    assert_eq!(fit.untold, [["energy", "oneTemperature"]]);
    let mut bad = rows();
    bad[2][3] = "0".to_owned();
    let refused = screen.fit_times(&bad, &keys(&["acidFactor"]), false).unwrap_err();
    let error = &refused.errors[0];
    assert_eq!((refused.key, error.step, error.field, error.key), ("rows", Some(2), Some("seconds"), "tooSmall"));
    let refused = screen.fit_times(&rows()[..2], &keys(&["acidFactor", "carbonate"]), false).unwrap_err();
    assert_eq!((refused.key, refused.first, refused.second), ("tooFewPoints", 2.0, 2.0));
    assert!(!Screen::new().unwrap().keep_fit(20_261_125).ok, "nothing was fitted");
}

#[test]
fn a_lesson_under_way_is_not_given_away_by_measured_times() {
    let mut screen = Screen::new().unwrap();
    assert!(screen.go_on().ok);
    assert!(screen.session().is_under_way());
    assert_eq!(screen.fit_times(&rows(), &keys(&["acidFactor"]), false).unwrap_err().key, "lessonOpen");
    assert!(!screen.keep_fit(20_261_125).ok && !screen.drop_fit().ok);
}

/// The strength comes out of late doses, is kept with the rest, and next year's class finds the label beside it.
#[test]
fn a_fitted_strength_is_kept_with_its_day_and_the_label_stays() {
    let mut screen = Screen::new().unwrap();
    let strong = Values { strength_mg_ml: 88.0, ..Values::of(&Lesson::default()) };
    let timing = |dose: u32, start_c: f64| Timing {
        dose,
        beaker: None,
        start_c,
        end_c: None,
        seconds: 60.0,
        finish: turnback::colour::Band::Green,
    };
    let doses: Vec<_> = (1..=6).flat_map(|dose| [2.0, 21.0, 34.0].map(|celsius| timing(dose, celsius))).collect();
    let seconds = computed_times(&Lesson::default(), &strong, &doses).unwrap();
    let row = |(index, (timing, seconds)): (usize, (&Timing, f64))| {
        // Hands err by a few per cent.
        let typed = seconds * [1.02, 0.99, 0.98, 1.01, 1.00][index % 5];
        [
            timing.dose.to_string(),
            timing.start_c.to_string(),
            String::new(),
            format!("{typed:.1}"),
            String::new(),
            String::new(),
        ]
    };
    let rows: Vec<Row> = doses.iter().zip(seconds).enumerate().map(row).collect();
    let fit = screen.fit_times(&rows, &keys(&["acidFactor", "strength"]), false).unwrap();
    let (_, told) = fit.estimates.iter().find(|(key, _)| *key == "strength").unwrap();
    assert!(told[1] < 88.0 && 88.0 < told[2] && (told[3] - 80.0).abs() < 1e-9, "{told:?}");
    assert!(screen.keep_fit(20_261_130).ok);
    let mut next_year = Screen::new().unwrap();
    assert!(next_year.open_link(&screen.link()).ok);
    let lesson = next_year.session().lesson();
    let kept = lesson.fitted.unwrap();
    assert!((kept.strength_mg_ml.unwrap() - told[0]).abs() < 0.01 && kept.measurements == 18, "{kept:?}");
    assert_eq!(lesson.recipe, Lesson::default().recipe);
    // Fitted again without the strength, it stays as it was fitted.
    let again = next_year.fit_times(&rows, &keys(&["acidFactor"]), false).unwrap();
    assert!(again.estimates.len() == 1 && next_year.keep_fit(20_271_130).ok);
    assert_eq!(next_year.session().lesson().fitted.unwrap().strength_mg_ml, kept.strength_mg_ml);
}
