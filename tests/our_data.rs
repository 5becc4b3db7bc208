//! What the page asks of the class's own measurements, natively: rows 16 and 17 of what a teacher would try.

use turnback::lesson::Lesson;
use turnback::measure::Row;
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
    let fit = screen.fit_times(&rows(), &keys(&["acidFactor", "carbonate", "energy"])).unwrap();
    assert_eq!(fit.estimates.iter().map(|told| told.0).collect::<Vec<_>>(), ["acidFactor", "carbonate", "energy"]);
    assert_eq!((fit.points.len(), fit.lines.len(), fit.pairs.len()), (12, 4, 3));
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
    let fit = screen.fit_times(&rows()[..4], &keys(&["acidFactor", "carbonate", "energy"])).unwrap();
    assert_eq!(fit.untold, [["energy", "oneTemperature"]]);
    let mut bad = rows();
    bad[2][3] = "0".to_owned();
    let refused = screen.fit_times(&bad, &keys(&["acidFactor"])).unwrap_err();
    let error = &refused.errors[0];
    assert_eq!((refused.key, error.step, error.field, error.key), ("rows", Some(2), Some("seconds"), "tooSmall"));
    let refused = screen.fit_times(&rows()[..2], &keys(&["acidFactor", "carbonate"])).unwrap_err();
    assert_eq!((refused.key, refused.first, refused.second), ("tooFewPoints", 2.0, 2.0));
    assert!(!Screen::new().unwrap().keep_fit(20_261_125).ok, "nothing was fitted");
}

/// A comma file with points and a semicolon file with decimal commas are laid beside the model alike, by the found doses or by
/// typed seconds; the difference is told in pH and in seconds.
#[test]
fn two_makers_files_of_one_recording_lie_alike_beside_the_model() {
    let told = ["comma-points.csv", "semicolon-commas.csv"].map(|name| {
        let bytes = std::fs::read(format!("{}/tests/probe/files/{name}", env!("CARGO_MANIFEST_DIR"))).unwrap();
        let mut screen = Screen::new().unwrap();
        let probe = screen.read_probe(&bytes, &[]).unwrap();
        assert_eq!(probe.falls, [20.0, 80.0], "{name}");
        let overlay = screen.overlay(&probe.falls, 21.0, 0.0, false).unwrap();
        // The recording is the model's own, rounded to 0.01 and read every two seconds.
        assert!(overlay.rms_ph < 0.05, "{name}: {}", overlay.rms_ph);
        assert!(overlay.back_s.iter().all(|both| (both[0] - both[1]).abs() < 0.2), "{name}: {:?}", overlay.back_s);
        assert_eq!(screen.probe_column("computed").len(), screen.probe_column("ph").len());
        let shifted = screen.overlay(&[26.0, 86.0], 21.0, 0.0, false).unwrap();
        assert!(shifted.rms_ph > 1.0, "typed seconds move the model's curve");
        let lagging = screen.overlay(&probe.falls, 21.0, 6.0, false).unwrap();
        assert!(lagging.back_s[0][1] > overlay.back_s[0][1] + 2.0, "a slow electrode sees it later");
        overlay
    });
    assert_eq!(told[0], told[1]);
}

#[test]
fn nothing_measured_gives_a_lesson_under_way_away() {
    let mut screen = Screen::new().unwrap();
    let none = screen.overlay(&[1.0], 21.0, 0.0, false).unwrap_err();
    assert_eq!(none.key, "noProbe");
    let probe = screen.read_probe(b"0,9\n1,8\n2,7\n3,6\n", &[]).unwrap();
    assert_eq!(probe.rows, 4);
    for doses in [&[][..], &[2.0, 1.0], &[-1.0], &[5.0], &[f64::NAN]] {
        assert_eq!(screen.overlay(doses, 21.0, 0.0, false).unwrap_err().key, "doses", "{doses:?}");
    }
    assert_eq!(screen.overlay(&[1.0], f64::NAN, 0.0, false).unwrap_err().key, "celsius");
    // What cannot be read leaves what was read.
    assert_eq!(screen.read_probe(b"", &[]).unwrap_err().key, "empty");
    assert_eq!(screen.probe_column("ph"), [9.0, 8.0, 7.0, 6.0]);
    assert!(screen.go_on().ok);
    assert!(screen.session().is_under_way());
    assert_eq!(screen.fit_times(&rows(), &keys(&["acidFactor"])).unwrap_err().key, "lessonOpen");
    assert_eq!(screen.overlay(&[1.0], 21.0, 0.0, false).unwrap_err().key, "lessonOpen");
    assert!(!screen.keep_fit(20_261_125).ok && !screen.drop_fit().ok);
}
