//! The native twin of the page's facade: what a page can ask for, played through our own
//! scenario. Nothing here may tell of a dose before its guess is locked.

use turnback::lesson::{GuessText, RecipeText};
use turnback::session::{BathText, PourText};
use turnback::view::{COLUMNS, Label, Screen, Told};

fn screen() -> Screen {
    Screen::new().expect("our scenario begins")
}

fn some(text: &str) -> Option<String> {
    Some(text.to_owned())
}

fn some_guess() -> GuessText {
    GuessText {
        at_once: some("red"),
        at_rest: some("violet"),
        clarity: some("cloudy"),
        seconds: some("20"),
        first: some("0"),
        why: some("<b>it melts</b>"),
    }
}

fn play_dose(screen: &mut Screen) {
    assert!(screen.lock(&some_guess()).ok);
    while screen.state().stage == "watch" {
        screen.next_event();
    }
    assert!(screen.see(&GuessText::default()).ok);
}

/// Everything that can be read, at a time, without changing anything.
fn all_that_can_be_read(screen: &mut Screen, time_s: f64) -> Vec<String> {
    let mut read = vec![
        format!("{:?}", screen.state()),
        format!("{:?}", screen.labels(time_s)),
        format!("{:?}", screen.marks()),
        format!("{:?}", screen.explanation()),
        screen.check_code(),
        screen.csv(1.0, false),
    ];
    for beaker in 0..3 {
        read.push(format!("{:?}", screen.paint(beaker, time_s, 60, 68, true)));
        read.push(format!("{:?}", screen.ribbon(beaker, 0.0, time_s.min(400.0), 40, 1)));
        read.push(format!("{:?}", screen.ledger(beaker)));
        for (name, _) in COLUMNS {
            read.push(format!("{:?}", screen.column(name, beaker, 0.0, time_s.min(400.0), 41)));
        }
    }
    read
}

/// The dose that is asked about is 2.0 mL in one screen and 0.5 mL in the other. As long as it
/// is not locked, no method tells the two apart but by the recipe itself.
#[test]
fn capability_1_before_the_lock_nothing_that_can_be_read_depends_on_the_dose_to_come() {
    let asked = |dose_ml: &str| {
        let mut screen = screen();
        let mut typed = typed_recipe(&screen);
        typed.fields.insert("doseMl".to_owned(), dose_ml.to_owned());
        assert!(screen.set_recipe(&typed).ok);
        assert!(screen.go_on().ok);
        screen.tick(1.0);
        screen.next_event();
        let mut read = all_that_can_be_read(&mut screen, 310.0);
        // The state names the dose's volume, the check code its recipe: both are no outcome.
        read.remove(0);
        read.remove(3);
        read
    };
    assert_eq!(asked("2.0"), asked("0.5"));
}

#[test]
fn a_time_beyond_now_reads_as_now_in_every_method() {
    let mut screen = screen();
    screen.go_on();
    screen.lock(&some_guess());
    screen.tick(1.0);
    let now_s = screen.state().now;
    assert_eq!(screen.labels(1e9), screen.labels(now_s));
    assert_eq!(screen.labels(f64::NAN), screen.labels(now_s));
    let shown = screen.paint(1, now_s, 60, 68, false).to_vec();
    assert_eq!(screen.paint(1, 1e9, 60, 68, false), shown);
    let ribbon = screen.ribbon(1, 0.0, 2.0 * now_s, 100, 1);
    assert!(ribbon.chunks(4).take(49).all(|pixel| pixel[3] == 255));
    assert!(ribbon.chunks(4).skip(51).all(|pixel| pixel == [0, 0, 0, 0]));
    let ph = screen.column("ph", 1, 0.0, 2.0 * now_s, 101).expect("a column");
    assert!(ph[..=50].iter().all(|ph| ph.is_finite()) && ph[51..].iter().all(|ph| ph.is_nan()));
    let last_row = screen.csv(1.0, false).lines().last().map(str::to_owned);
    assert!(last_row.is_some_and(|row| row.starts_with("11.0,3,")));
}

fn typed_recipe(screen: &Screen) -> RecipeText {
    let form = screen.fields();
    let beaker = |beaker: &turnback::view::BeakerField| BathText {
        kind: beaker.kind.to_owned(),
        celsius: beaker.celsius.to_string(),
        ice_g: beaker.ice_g.to_string(),
    };
    RecipeText {
        fields: form.fields.iter().map(|field| (field.key.to_owned(), field.value.to_string())).collect(),
        beakers: form.beakers.iter().map(beaker).collect(),
    }
}

#[test]
fn the_form_says_what_may_be_typed_and_takes_back_what_it_shows() {
    let mut screen = screen();
    let form = screen.fields();
    assert_eq!(form.fields.len(), 15);
    assert_eq!(form.beakers.iter().map(|beaker| beaker.celsius).collect::<Vec<_>>(), [2.0, 21.0, 34.0]);
    assert!(screen.set_recipe(&typed_recipe(&screen)).ok);
    assert_eq!(screen.fields(), form);
}

#[test]
fn a_refused_recipe_changes_nothing_and_names_every_field() {
    let mut screen = screen();
    screen.go_on();
    let before = (screen.state(), screen.link());
    let mut typed = typed_recipe(&screen);
    typed.fields.insert("waterMl".to_owned(), "1e9".to_owned());
    typed.beakers[2].celsius = String::new();
    let reply = screen.set_recipe(&typed);
    let named: Vec<_> = reply.errors.iter().map(|error| (error.field, error.beaker, error.key)).collect();
    assert_eq!(named, [(Some("waterMl"), None, "tooBig"), (Some("celsius"), Some(2), "empty")]);
    assert_eq!((reply.ok, reply.errors[0].max, reply.errors[0].unit), (false, Some(5000.0), Some("mL")));
    assert_eq!((screen.state(), screen.link()), before);
}

#[test]
fn a_good_link_opens_and_a_damaged_one_leaves_everything_as_it_was() {
    let mut screen = screen();
    let ours = screen.link();
    let mut typed = typed_recipe(&screen);
    typed.fields.insert("doseMl".to_owned(), "1,5".to_owned());
    screen.set_recipe(&typed);
    let other = screen.link();
    assert_ne!(other, ours);
    let damaged = other.replace("v1.I", "v1.J");
    assert_eq!(screen.open_link(&damaged).key, Some("incomplete"));
    assert_eq!(screen.open_link("v3.AAAA").version, Some(3));
    assert_eq!(screen.link(), other);
    assert!(screen.open_link(&ours).ok);
    assert_eq!((screen.link(), screen.state().stage), (ours, "brief"));
}

#[test]
fn the_words_of_the_room_beaker_follow_a_dose() {
    let mut screen = screen();
    let room = |screen: &Screen, time_s| -> Label { screen.labels(time_s)[1] };
    let before = room(&screen, f64::NAN);
    assert_eq!((before.band, before.clarity, before.since_dose_s), ("violet", "milky", None));
    assert_eq!((before.bath_kind, before.stir_rpm), ("room", 300.0));
    screen.go_on();
    screen.lock(&some_guess());
    for _ in 0..5 {
        screen.tick(1.0);
    }
    let red = room(&screen, f64::NAN);
    assert_eq!((red.band, red.band_letter, red.pale, red.since_dose_s), ("red", 'R', true, Some(5.0)));
    // Looking back tells what was.
    assert_eq!(room(&screen, 10.0).band, "violet");
    assert_eq!(room(&screen, 9.0).since_dose_s, None);
}

#[test]
fn a_guess_is_pinned_on_the_beaker_and_the_time_it_was_about() {
    let mut screen = screen();
    screen.go_on();
    play_dose(&mut screen);
    let marks = screen.marks();
    let guess = marks.guesses[0];
    assert_eq!((guess.dose, guess.beaker, guess.at, guess.letter), (0, 1, Some(30.0), 'V'));
    assert_eq!(marks.doses.len(), 1);
    assert_eq!((marks.doses[0].at, marks.doses[0].number, marks.doses[0].beakers.len()), (10.0, 1, 3));
    let turned: Vec<_> = marks.events.iter().filter(|event| event.key == "turnedBack").collect();
    assert_eq!(turned.iter().map(|event| event.beaker).collect::<Vec<_>>(), [Some(2), Some(1), Some(0)]);
}

#[test]
fn the_explanation_sets_each_guess_beside_what_happened() {
    let mut screen = screen();
    screen.go_on();
    assert_eq!(screen.explanation(), None);
    play_dose(&mut screen);
    let told = screen.explanation().expect("explained");
    let near: Vec<_> = told.questions.iter().map(|compared| (compared.question, compared.near)).collect();
    let expected = [
        ("atOnce", Some("same")),
        ("atRest", Some("same")),
        ("clarity", Some("near")),
        ("seconds", Some("near")),
        ("first", Some("other")),
        ("why", None),
    ];
    assert_eq!(near, expected);
    // Words stay words: nothing is taken out of them or added.
    assert_eq!(told.questions[5].guess, Told::Words("<b>it melts</b>".to_owned()));
    let why: Vec<_> = told.why.iter().map(|reason| reason.key).collect();
    assert_eq!(why, ["acidFirst", "acidUsedUp", "warmFirst"]);
    // Worked by hand: 6.00 mmol of acid, 3.00 mmol of solid used, 1.025 g left.
    let numbers = &told.why[1].numbers;
    assert_eq!((numbers["doseMmol"], numbers["solidUsedMmol"], numbers["solidLeftG"]), (6.0, 3.0, 1.025));
    // Worked by hand: 0.115 mmol of hydroxide are dissolved at 25 °C in pure water by the
    // handbook's Ksp 5.61e-12; ours is 7.1e-12, hence a little more.
    assert!((0.11..0.14).contains(&told.why[0].numbers["hydroxideMmol"]));
}

#[test]
fn each_dose_gives_the_reasons_that_belong_to_it() {
    let mut screen = screen();
    screen.go_on();
    let mut reasons = Vec::new();
    while screen.state().stage == "ask" {
        play_dose(&mut screen);
        let told = screen.explanation().expect("explained");
        reasons.push(told.why.iter().map(|reason| reason.key).collect::<Vec<_>>().join(" "));
        screen.go_on();
    }
    let later = "acidUsedUp warmFirst slower lessBlue";
    assert_eq!(reasons[0], "acidFirst acidUsedUp warmFirst");
    assert_eq!(reasons[1..6], [later; 5]);
    assert_eq!(reasons[6], "solidUsedUp sameAmount");
    assert_eq!(reasons[7..], ["solidBack"; 4]);
}

#[test]
fn the_ledger_fills_row_by_row_as_the_doses_fall() {
    let mut screen = screen();
    screen.go_on();
    // product.md: solid left before the first and after doses 1 to 6, g.
    let by_hand = ["1.200", "1.025", "0.850", "0.675", "0.500", "0.325", "0.150"];
    for dose in 0..6 {
        assert_eq!(screen.ledger(0).len(), dose + 1);
        play_dose(&mut screen);
        screen.go_on();
    }
    for (row, by_hand) in screen.ledger(2).iter().zip(by_hand) {
        assert_eq!(format!("{:.*}", row.decimals.g as usize, row.solid_left_g), by_hand);
    }
    assert_eq!(screen.ledger(3), []);
}

#[test]
fn the_free_bench_tells_why_it_refuses() {
    let mut screen = screen();
    let pour = |volume_ml: &str| PourText { beakers: vec![0], reagent: "acid".into(), volume_ml: volume_ml.into() };
    let reply = screen.pour(&pour("2"));
    assert_eq!((reply.ok, reply.key, reply.stage), (false, Some("notNow"), Some("brief")));
    screen.go_on();
    assert_eq!(screen.begin("free").key, Some("lessonOpen"));
    assert_eq!(screen.begin("party").key, Some("unknown"));
    assert!(screen.begin("guided").ok && screen.begin("free").ok);
    assert!(screen.pour(&pour("2,0")).ok);
    let reply = screen.pour(&pour("2,0"));
    assert_eq!((reply.key, reply.until), (Some("stillPouring"), Some(11.0)));
    assert!(screen.set_stirrer(-1, "0").ok);
    let bath = BathText { kind: "bath".into(), celsius: "40".into(), ..BathText::default() };
    assert!(screen.set_bath(1, &bath).ok);
    assert_eq!(screen.labels(f64::NAN)[1].bath_kind, "bath");
    assert_eq!(screen.labels(f64::NAN)[2].stir_rpm, 0.0);
}

#[test]
fn a_beaker_or_a_column_that_is_not_there_reads_as_nothing() {
    let mut screen = screen();
    assert!(screen.paint(3, 0.0, 10, 10, false).is_empty());
    assert!(screen.ribbon(3, 0.0, 10.0, 10, 1).is_empty());
    assert_eq!(screen.column("ph", 3, 0.0, 10.0, 3), None);
    assert_eq!(screen.column("joy", 0, 0.0, 10.0, 3), None);
    assert_eq!(screen.paint(0, 0.0, 0, 0, false).len(), 4);
    assert_eq!(screen.ribbon(0, f64::NAN, f64::NAN, 3, 2).len(), 24);
}

#[test]
fn a_column_at_times_gives_what_the_same_column_gives_at_equal_steps_and_nothing_of_later() {
    let mut screen = screen();
    screen.go_on();
    play_dose(&mut screen);
    let now_s = screen.state().now;
    let times: Vec<f64> = (0..=20).map(|at| now_s * f64::from(at) / 20.0).collect();
    for (name, _) in COLUMNS {
        let even = screen.column(name, 1, 0.0, now_s, 21).expect("a column");
        let asked = screen.column_at(name, 1, &times).expect("the same column");
        for ((time_s, even), asked) in times.iter().zip(even).zip(asked) {
            assert!((even - asked).abs() <= 1e-6 * (1.0 + even.abs()), "{name} at {time_s} s: {even} and {asked}");
        }
        assert!(screen.column_at(name, 1, &[-1.0, now_s + 0.1, f64::NAN]).expect("three").iter().all(|v| v.is_nan()));
    }
    assert_eq!(screen.column_at("joy", 0, &[0.0]), None);
    assert_eq!(screen.column_at("ph", 3, &[0.0]), None);
    // The colour's place among all is that of the words.
    let band = screen.column_at("band", 1, &[now_s]).expect("a colour")[0] as usize;
    assert_eq!(turnback::colour::Band::ALL[band].key(), screen.labels(now_s)[1].band);
}

/// Times from a stated energy: t = exp(E/RT) with E = 44 kJ/mol, R = 8.314 462 618 J/(mol K) (CODATA 2018).
#[test]
fn the_line_through_rates_finds_the_energy_that_made_them() {
    let seconds = |celsius: f64| libm::exp(44_000.0 / 8.314_462_618 / (celsius + 273.15) - 15.0);
    let pairs = [2.0, 21.0, 34.0].map(|celsius| [celsius, seconds(celsius)]).concat();
    let line = turnback::view::arrhenius(&pairs);
    assert!((line[2] - 44.0).abs() < 1e-6, "{line:?}");
    assert!((line[0] + 44_000.0 / 8.314_462_618).abs() < 1e-3, "{line:?}");
    assert!(line[3] <= line[2] && line[2] <= line[4] && line[4] - line[3] < 1e-6, "{line:?}");
    // Two pairs give a slope and no range; one temperature gives none.
    assert!(turnback::view::arrhenius(&pairs[..4])[3].is_nan());
    assert!(turnback::view::arrhenius(&pairs[..2]).is_empty());
    assert!(turnback::view::arrhenius(&[21.0, 15.0, 21.0, 16.0]).is_empty());
}

/// After dose 3 of our scenario, by hand (product.md): 18.00 mmol poured, 9.00 used, 11.58 left = 0.675 g.
#[test]
fn a_typed_ledger_is_judged_to_the_last_figure_and_no_closer() {
    let mut screen = screen();
    screen.go_on();
    for _ in 0..3 {
        play_dose(&mut screen);
        screen.go_on();
    }
    for (column, typed, said) in [
        ("hclMmol", "18.00", "right"),
        ("hclMmol", "18", "right"),
        ("hclMmol", " 18,0 ", "right"),
        ("solidLeftMmol", "11.58", "right"),
        ("solidLeftMmol", "11,57", "right"),
        ("solidLeftMmol", "11.6", "near"),
        ("solidLeftMmol", "9", "other"),
        ("solidLeftG", "0.675", "right"),
        ("solidLeftG", "0.674", "right"),
        ("solidLeftG", "0.68", "near"),
        ("solidLeftG", "0.7", "other"),
        ("solidLeftG", "675", "other"),
        ("hydrogenLeftMmol", "0", "right"),
        ("hydrogenLeftMmol", "0.2", "other"),
        ("hydrogenLeftMmol", "", "empty"),
        ("naohMmol", "none", "notANumber"),
        ("limiting", "acid", "right"),
        ("limiting", "solid", "other"),
        ("joy", "1", "notANumber"),
    ] {
        assert_eq!(screen.check_ledger(0, 3, column, typed), said, "{column}: {typed:?}");
    }
    assert_eq!(screen.check_ledger(0, 0, "limiting", "none"), "right");
    // Nothing is said of a dose that was not poured yet.
    assert_eq!(screen.check_ledger(0, 4, "hclMmol", "24"), "other");
    assert_eq!(screen.check_ledger(7, 0, "hclMmol", "0"), "other");
}
