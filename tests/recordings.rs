//! What the page asks of a class's pH recordings, natively: row 17 of what a teacher would try, and several curves in one fit.

use std::time::Instant;
use turnback::lesson::Lesson;
use turnback::measure::{Probe, Run, Values, Wishes};
use turnback::view::{Laying, Placed, RECORDINGS_MAX, Screen};

const ALL: Laying = Laying { lag_s: 0.0, fitted: false, most: usize::MAX };

fn keys(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

fn placed(slot: usize, celsius: f64, doses_s: &[f64]) -> Placed {
    Placed { slot, celsius, doses_s: doses_s.to_vec() }
}

fn csv(time_s: impl Iterator<Item = f64>, ph: &[f64]) -> Vec<u8> {
    let rows: Vec<String> = time_s.zip(ph).map(|(time_s, ph)| format!("{time_s},{ph:.4}")).collect();
    format!("s,pH\n{}", rows.join("\n")).into_bytes()
}

/// A recording that the model itself made with these values, a reading each second, shaken by a fixed little pattern.
fn recorded(values: &Values, celsius: f64, doses_s: &[f64]) -> Vec<u8> {
    let blank: Vec<f64> = vec![7.0; 700];
    let second = || (0..700).map(f64::from);
    let probe = Probe::read(&csv(second(), &blank), &Wishes::default()).unwrap();
    let run = Run { probe: &probe, doses_s, celsius };
    let mut shown = run.overlay(&Lesson::default(), values, usize::MAX).unwrap().computed;
    for (index, ph) in shown.iter_mut().enumerate() {
        *ph += 0.02 * (((index * 7919) % 13) as f64 / 6.0 - 1.0);
    }
    csv(second(), &shown)
}

/// A comma file with points and a semicolon file with decimal commas are laid beside the model alike, by the found doses or by
/// typed seconds; the difference is told in pH and in seconds.
#[test]
fn two_makers_files_of_one_recording_lie_alike_beside_the_model() {
    let told = ["comma-points.csv", "semicolon-commas.csv"].map(|name| {
        let bytes = std::fs::read(format!("{}/tests/probe/files/{name}", env!("CARGO_MANIFEST_DIR"))).unwrap();
        let mut screen = Screen::new().unwrap();
        let probe = screen.read_probe(0, &bytes, &[]).unwrap();
        assert_eq!(probe.falls, [20.0, 80.0], "{name}");
        let found = placed(0, 21.0, &probe.falls);
        let overlay = screen.overlay(&found, ALL).unwrap();
        // The recording is the model's own, rounded to 0.01 and read every two seconds.
        assert!(overlay.rms_ph < 0.05, "{name}: {}", overlay.rms_ph);
        assert!(overlay.back_s.iter().all(|both| (both[0] - both[1]).abs() < 0.2), "{name}: {:?}", overlay.back_s);
        assert_eq!(screen.probe_column(0, "computed").len(), screen.probe_column(0, "ph").len());
        let shifted = screen.overlay(&placed(0, 21.0, &[26.0, 86.0]), ALL).unwrap();
        assert!(shifted.rms_ph > 1.0, "typed seconds move the model's curve");
        let lagging = screen.overlay(&found, Laying { lag_s: 6.0, ..ALL }).unwrap();
        assert!(lagging.back_s[0][1] > overlay.back_s[0][1] + 2.0, "a slow electrode sees it later");
        overlay
    });
    assert_eq!(told[0], told[1]);
}

/// Beakers at 2 and 34 °C, recorded with one electrode: each alone says nothing of the energy, both together do.
#[test]
fn recordings_of_two_temperatures_tell_the_energy_that_went_into_them() {
    let truth =
        Values { acid_factor: 4.5, carbonate: 0.003, energy_factor: 1.1, lag_s: 4.0, ..Values::of(&Lesson::default()) };
    let mut screen = Screen::new().unwrap();
    // Their slots need not follow each other: one between them was put away.
    let both = [placed(1, 2.0, &[20.0, 300.0]), placed(4, 34.0, &[30.0, 200.0, 400.0])];
    for place in &both {
        screen.read_probe(place.slot, &recorded(&truth, place.celsius, &place.doses_s), &[]).unwrap();
    }
    let wanted = keys(&["acidFactor", "carbonate", "energy", "lag"]);
    let alone = screen.fit_probes(&both[..1], &wanted).unwrap();
    assert_eq!(alone.untold, [["energy", "oneTemperature"]]);
    let begin = Instant::now();
    let fit = screen.fit_probes(&both, &wanted).unwrap();
    println!("two curves, four numbers: {:.0} ms", begin.elapsed().as_secs_f64() * 1e3);
    assert!(fit.untold.is_empty(), "{:?}", fit.untold);
    let energy = truth.energy_factor * fit.estimates[2].1[3];
    for ((key, numbers), truth) in fit.estimates.iter().zip([4.5, 0.003, energy, 4.0]) {
        let [value, low, high, _] = numbers[..] else { panic!("{key}") };
        assert!(low < truth && truth < high, "{key}: {value} ({low} to {high}), went in: {truth}");
        assert!(high / low < 1.2, "{key}: {value} ({low} to {high})");
    }
    // Slower and with more carbonate it is; the slow electrode alone accounts for the rest.
    let keys: Vec<&str> = fit.causes.iter().map(|cause| cause[0]).collect();
    assert!(keys.contains(&"coarseSolid") && !keys.contains(&"fineSolid"), "{keys:?}");
    // Each point tells its recording and its second; the residuals of both are told apart by that.
    let slots: Vec<f64> = fit.points.iter().map(|point| point[5]).collect();
    assert_eq!((slots[0], slots[slots.len() - 1]), (1.0, 4.0));
    let changes = slots.windows(2).filter(|two| two[0] != two[1]).count();
    assert_eq!(changes, 1, "one recording after the other");
    assert!(fit.points.windows(2).filter(|two| two[0][5] == two[1][5]).all(|two| two[1][6] > two[0][6]));
    for place in &both {
        let after = screen.overlay(place, Laying { lag_s: fit.estimates[3].1[0], fitted: true, ..ALL }).unwrap();
        assert!(after.rms_ph < 0.05, "{} °C: {}", place.celsius, after.rms_ph);
    }
}

/// A reading that was bumped stands out in its own recording.
#[test]
fn a_reading_that_does_not_fit_is_flagged_with_its_recording_and_its_second() {
    let truth = Values::of(&Lesson::default());
    let mut screen = Screen::new().unwrap();
    let both = [placed(0, 21.0, &[20.0, 260.0]), placed(1, 34.0, &[20.0, 260.0])];
    for place in &both {
        let mut file = String::from_utf8(recorded(&truth, place.celsius, &place.doses_s)).unwrap();
        if place.slot == 1 {
            let line = file.lines().find(|line| line.starts_with("150,")).unwrap().to_owned();
            file = file.replace(&line, "150,5.0");
        }
        screen.read_probe(place.slot, file.as_bytes(), &[]).unwrap();
    }
    let fit = screen.fit_probes(&both, &keys(&["acidFactor", "carbonate"])).unwrap();
    let flagged: Vec<[f64; 2]> =
        fit.points.iter().filter(|point| point[4] == 1.0).map(|point| [point[5], point[6]]).collect();
    assert!(flagged.contains(&[1.0, 150.0]), "{flagged:?}");
    assert!(flagged.len() < 12, "{flagged:?}");
}

/// While a hand moves the doses, few readings are compared: the difference comes at once and is nearly that of all.
#[test]
fn few_readings_tell_nearly_what_all_tell() {
    let doses_s = [20.0, 260.0, 480.0];
    let file = recorded(&Values::of(&Lesson::default()), 21.0, &doses_s);
    let mut screen = Screen::new().unwrap();
    screen.read_probe(0, &file, &[]).unwrap();
    let moved = placed(0, 21.0, &doses_s.map(|at_s| at_s + 3.0));
    let all = screen.overlay(&moved, ALL).unwrap();
    let few = screen.overlay(&moved, Laying { most: 250, ..ALL }).unwrap();
    assert_eq!((all.every, few.every), (1, 3));
    assert_eq!(screen.probe_column(0, "computed").len(), 700_usize.div_ceil(3));
    assert!((few.mean_ph - all.mean_ph).abs() < 0.05 && (few.rms_ph - all.rms_ph).abs() < 0.1, "{few:?} {all:?}");
    for (few, all) in few.back_s.iter().zip(&all.back_s) {
        assert!((few[0] - all[0]).abs() < 1.0 && (few[1] - all[1]).abs() < 1.0, "{few:?} {all:?}");
    }
}

/// What a laying costs, in what a reader can compare: printed, not judged, since machines differ.
#[test]
fn a_hundred_thousand_readings_are_laid() {
    let time_s = || (0..100_000).map(|row| 0.1 * f64::from(row));
    let ph: Vec<f64> = (0..100_000).map(|row| 7.0 + f64::from(row % 100) / 100.0).collect();
    let mut screen = Screen::new().unwrap();
    screen.read_probe(0, &csv(time_s(), &ph), &[]).unwrap();
    let place = placed(0, 21.0, &[20.0, 260.0, 480.0]);
    for (most, lag_s) in [(600, 0.0), (600, 5.0), (12_000, 0.0), (12_000, 5.0), (usize::MAX, 0.0)] {
        let begin = Instant::now();
        let overlay = screen.overlay(&place, Laying { lag_s, most, ..ALL }).unwrap();
        println!("every {}, lag {lag_s} s: {:.1} ms", overlay.every, begin.elapsed().as_secs_f64() * 1e3);
        assert_eq!(screen.probe_column(0, "computed").len(), 100_000_usize.div_ceil(overlay.every));
    }
}

#[test]
fn one_bad_recording_loses_nothing_of_the_others() {
    let mut screen = Screen::new().unwrap();
    assert_eq!(screen.overlay(&placed(0, 21.0, &[1.0]), ALL).unwrap_err().key, "noProbe");
    assert_eq!(screen.fit_probes(&[], &keys(&["acidFactor"])).unwrap_err().key, "noProbe");
    let good = b"0,9\n1,8\n2,7\n3,6\n";
    assert_eq!(screen.read_probe(0, good, &[]).unwrap().rows, 4);
    for doses in [&[][..], &[2.0, 1.0], &[-1.0], &[5.0], &[f64::NAN]] {
        assert_eq!(screen.overlay(&placed(0, 21.0, doses), ALL).unwrap_err().key, "doses", "{doses:?}");
    }
    assert_eq!(screen.overlay(&placed(0, f64::NAN, &[1.0]), ALL).unwrap_err().key, "celsius");
    assert_eq!(screen.overlay(&placed(usize::MAX, 21.0, &[1.0]), ALL).unwrap_err().key, "noProbe");
    // What cannot be read leaves what was read, in its own slot and in the others.
    for slot in [0, 1] {
        assert_eq!(screen.read_probe(slot, b"", &[]).unwrap_err().key, "empty");
    }
    let full = screen.read_probe(RECORDINGS_MAX, good, &[]).unwrap_err();
    assert_eq!((full.key, full.first), ("tooManyRecordings", RECORDINGS_MAX as f64));
    assert_eq!(screen.probe_column(0, "ph"), [9.0, 8.0, 7.0, 6.0]);
    assert!(screen.probe_column(1, "ph").is_empty());
    screen.read_probe(1, good, &[]).unwrap();
    screen.drop_probe(0);
    screen.drop_probe(RECORDINGS_MAX);
    assert!(screen.probe_column(0, "ph").is_empty());
    assert_eq!(screen.probe_column(1, "ph").len(), 4);
    let refused = screen.fit_probes(&[placed(1, 21.0, &[1.0]), placed(0, 21.0, &[1.0])], &keys(&["acidFactor"]));
    assert_eq!(refused.unwrap_err().key, "noProbe");
}

#[test]
fn nothing_recorded_gives_a_lesson_under_way_away() {
    let mut screen = Screen::new().unwrap();
    screen.read_probe(0, b"0,9\n1,8\n2,7\n3,6\n", &[]).unwrap();
    assert!(screen.go_on().ok);
    assert_eq!(screen.overlay(&placed(0, 21.0, &[1.0]), ALL).unwrap_err().key, "lessonOpen");
    assert_eq!(screen.fit_probes(&[placed(0, 21.0, &[1.0])], &keys(&["acidFactor"])).unwrap_err().key, "lessonOpen");
}
