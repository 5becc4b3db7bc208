//! The what-ifs of the free bench, judged by what the beakers do: no stirring, no indicator, a finer solid, half of the
//! water, ice in the beaker; and the torch, which shows what the eye missed.

use turnback::colour::mark_contrast;
use turnback::lesson::{BeakerText, GuessText, RecipeText};
use turnback::session::PourText;
use turnback::view::{Label, Look, Screen};

#[path = "session/guess.rs"]
mod guess;
use guess::some_guess;

fn typed_recipe(screen: &Screen) -> RecipeText {
    let form = screen.fields();
    RecipeText {
        fields: form.fields.iter().map(|field| (field.key.to_owned(), field.value.to_string())).collect(),
        beakers: Vec::new(),
    }
}

/// Three alike beakers on the table, so that only the change differs.
fn three_alike(changes: &[(&str, &str)]) -> Screen {
    let mut screen = Screen::new().expect("our scenario begins");
    let mut typed = typed_recipe(&screen);
    for (key, value) in changes {
        typed.fields.insert((*key).to_owned(), (*value).to_owned());
    }
    let held = BeakerText { kind: "held".to_owned(), celsius: "21".to_owned(), ice_g: String::new() };
    typed.beakers = vec![held.clone(), held.clone(), held];
    assert!(screen.set_recipe(&typed).ok);
    assert!(screen.begin("free").ok);
    screen.set_speed(16);
    screen
}

fn pour(screen: &mut Screen, reagent: &str, volume_ml: &str) {
    let pour = PourText { beakers: vec![0, 1, 2], reagent: reagent.to_owned(), volume_ml: volume_ml.to_owned() };
    let reply = screen.pour(&pour);
    assert!(reply.ok, "{reply:?}");
}

fn wait(screen: &mut Screen, seconds: f64) {
    let until = screen.state().now + seconds;
    while screen.state().now < until - 1e-9 {
        screen.tick(((until - screen.state().now) / 16.0).min(1.0));
    }
}

fn labels(screen: &Screen) -> Vec<Label> {
    screen.labels(screen.state().now)
}

/// Seconds until each beaker turned back after the last pour.
fn turned_back(screen: &Screen) -> Vec<f64> {
    let marks = screen.marks();
    let poured = marks.doses.last().expect("a pour").at;
    (0..3)
        .map(|beaker| {
            let event = marks
                .events
                .iter()
                .find(|event| event.key == "turnedBack" && event.beaker == Some(beaker) && event.at > poured);
            event.map_or(f64::INFINITY, |event| event.at - poured)
        })
        .collect()
}

#[test]
fn capability_25_half_of_the_water_takes_as_many_doses_and_ends_more_acid() {
    let mut screen = three_alike(&[]);
    assert!(screen.change(&[1], "halfWater").ok);
    assert_eq!(screen.state().what_ifs, [vec![], vec!["halfWater"], vec![]]);
    let start = labels(&screen);
    assert!(
        (start[0].volume_ml - start[1].volume_ml - 250.0).abs() < 1.0,
        "{} {}",
        start[0].volume_ml,
        start[1].volume_ml
    );
    for dose in 1..=7 {
        pour(&mut screen, "acid", "2.0");
        wait(&mut screen, 300.0);
        let back = turned_back(&screen);
        let comes = back.iter().all(|seconds| seconds.is_finite());
        assert_eq!(comes, dose <= 6, "dose {dose}: {back:?}");
    }
    let end = labels(&screen);
    // The same 0.85 mmol of acid in 0.529 and 0.279 L: lg(0.529 / 0.279) = 0.278 of pH, less a little for the activity.
    let apart = end[0].ph - end[1].ph;
    assert!((apart - 0.278).abs() < 0.02, "{} and {}", end[0].ph, end[1].ph);
    assert_eq!(screen.ledger(0), screen.ledger(1));
}

#[test]
fn capability_25_a_finer_solid_is_faster_and_neutralises_no_more() {
    let mut screen = three_alike(&[]);
    assert!(screen.change(&[2], "finer").ok);
    pour(&mut screen, "acid", "2.0");
    wait(&mut screen, 300.0);
    let back = turned_back(&screen);
    assert_eq!(back[0], back[1]);
    // Twice the surface would halve the time if surface were all; pour and mixing, some seconds, stay, and so does the film of
    // liquid around flocs that are as large as before.
    assert!(back[2] < 0.85 * back[0] && back[2] > 0.5 * back[0], "{back:?}");
    let rest = labels(&screen);
    assert!((rest[0].solid_g - rest[2].solid_g).abs() < 0.003, "{} {}", rest[0].solid_g, rest[2].solid_g);
    let middle = |screen: &mut Screen, beaker: usize| {
        let picture = screen.paint(beaker, screen.state().now, 300, 340, true);
        let at = 4 * (220 * 300 + 190);
        picture[at..at + 3].iter().map(|&byte| u32::from(byte)).sum::<u32>()
    };
    let (plain, finer) = (middle(&mut screen, 0), middle(&mut screen, 2));
    assert!(finer > plain + 10, "finer solid is paler: {plain} and {finer}");
}

#[test]
fn capability_25_without_indicator_the_same_happens_and_no_colour_tells_of_it() {
    let mut screen = three_alike(&[]);
    assert!(screen.change(&[0], "noIndicator").ok);
    pour(&mut screen, "acid", "2.0");
    wait(&mut screen, 120.0);
    let now = labels(&screen);
    assert!(!now[0].dyed && now[1].dyed);
    assert_eq!(now[0].ph, now[1].ph, "the dye is no part of the chemistry");
    let back = turned_back(&screen);
    assert_eq!(back[0], back[1]);
    let marks = screen.marks();
    assert!(
        marks.events.iter().all(|event| event.beaker != Some(0) || event.key != "band"),
        "no colour, no name of it"
    );
    assert!(marks.events.iter().any(|event| event.beaker == Some(1) && event.key == "band"));
    let time = screen.state().now;
    let picture = screen.paint(0, time, 300, 340, true);
    let at = 4 * (220 * 300 + 190);
    let [r, g, b] = [picture[at], picture[at + 1], picture[at + 2]].map(i32::from);
    assert!((r - g).abs() <= 2 && (g - b).abs() <= 2, "white or grey: {r} {g} {b}");
}

#[test]
fn capability_25_ice_in_the_beaker_cools_it_melts_and_dilutes() {
    let mut screen = three_alike(&[]);
    assert!(screen.change(&[0], "ice").ok);
    let start = labels(&screen);
    assert!(start[0].ice_g > 40.0 && start[1].ice_g == 0.0);
    wait(&mut screen, 900.0);
    let end = labels(&screen);
    assert!(end[0].ice_g < 1.0, "{}", end[0].ice_g);
    // A held beaker is isothermal by definition, so the cooling is looked at on the table.
    let mut screen = three_alike(&[]);
    let room = BeakerText { kind: "room".to_owned(), ..BeakerText::default() };
    for beaker in 0..3 {
        assert!(screen.set_bath(beaker, &room).ok);
    }
    assert!(screen.change(&[0], "ice").ok);
    let mut typed = typed_recipe(&screen);
    typed.beakers = vec![room.clone(), room.clone(), room];
    assert!(screen.set_recipe(&typed).ok);
    assert!(screen.begin("free").ok);
    screen.set_speed(16);
    assert!(screen.change(&[0], "ice").ok);
    wait(&mut screen, 600.0);
    let cooled = labels(&screen);
    // By hand: 50 g x 334 J/g of melting and 50 g x 4.18 J/(g K) of warming come out of 515 g x 4.18 J/(g K) and 200 J/K of
    // glass: 21 °C falls to (2353 x 21 - 16678) / (2353 + 209) = 12.8 °C; the room gives some back.
    assert!((12.0..15.0).contains(&cooled[0].celsius), "{}", cooled[0].celsius);
    assert!((cooled[1].celsius - 21.0).abs() < 0.1);
    assert!(cooled[0].volume_ml > cooled[1].volume_ml + 45.0);
    pour(&mut screen, "acid", "2.0");
    wait(&mut screen, 200.0);
    let back = turned_back(&screen);
    assert!(back[0] > 1.2 * back[1], "cold is slower: {back:?}");
}

#[test]
fn capability_25_without_stirring_the_solid_settles_and_the_top_clears() {
    let mut screen = three_alike(&[]);
    assert!(screen.set_stirrer(0, "0").ok);
    let time = screen.state().now;
    let before = screen.paint(0, time, 300, 340, true).to_vec();
    wait(&mut screen, 1800.0);
    let time = screen.state().now;
    let reading = screen.session().reading(0, time);
    // The smoke test of the model: 45 % settled in half an hour.
    assert!((0.35..0.55).contains(&reading.clear_layer()), "{}", reading.clear_layer());
    assert_eq!(screen.session().reading(1, time).clear_layer(), 0.0);
    // Just below the surface the liquid is clear and dark now, below the front as pale as it was.
    let light = |picture: &[u8], row: usize| {
        let at = 4 * (row * 300 + 190);
        picture[at..at + 3].iter().map(|&byte| u32::from(byte)).sum::<u32>()
    };
    let after = screen.paint(0, time, 300, 340, true).to_vec();
    let (top, low) = (150, 265);
    assert!(light(&after, top) + 60 < light(&before, top), "{} {}", light(&before, top), light(&after, top));
    assert!(light(&after, low) + 30 > light(&before, low));
    // Stirring again takes it up.
    assert!(screen.set_stirrer(0, "300").ok);
    wait(&mut screen, 20.0);
    assert!(screen.session().reading(0, screen.state().now).clear_layer() < 0.01);
}

#[test]
fn capability_26_the_torch_finds_what_the_eye_missed() {
    // 2 mL of suspension, 160 mg, need 5.5 mmol of acid; a dose brings 6.0, and the last of the solid goes slowly. The dye would
    // swallow most of the light of a torch, so it is left out.
    let mut screen = three_alike(&[("suspensionMl", "2")]);
    assert!(screen.change(&[0, 1, 2], "noIndicator").ok);
    screen.set_speed(1);
    pour(&mut screen, "acid", "2.0");
    let mut left = labels(&screen)[0];
    while left.clarity != "clear" {
        screen.tick(0.5);
        left = labels(&screen)[0];
    }
    assert!(left.solid_g > 0.0005, "the liquid looks clear and is not: {} g", left.solid_g);
    assert_eq!(left.torch, None, "the lamp is on");
    screen.set_look(Look { mark: true, torch: true });
    let lit = labels(&screen)[0];
    assert_eq!(lit.torch, Some("beam"), "{} g in {} mL", lit.solid_g, lit.volume_ml);
    // The mark behind 9 cm, by which the eye judged: more than 0.8 is called clear.
    assert!(mark_contrast(lit.solid_g / lit.volume_ml * 1000.0, 9.0) > 0.8);
    // Later there is no solid: the light passes unseen.
    screen.set_speed(16);
    wait(&mut screen, 600.0);
    assert_eq!(labels(&screen)[0].torch, Some("nothing"));
    // In milk the beam dissolves.
    let mut milk = three_alike(&[]);
    milk.set_look(Look { mark: true, torch: true });
    assert_eq!(labels(&milk)[0].torch, Some("glow"));
}

#[test]
fn a_change_is_refused_where_it_can_not_be() {
    let mut screen = Screen::new().expect("our scenario begins");
    let reply = screen.change(&[0], "finer");
    assert_eq!((reply.ok, reply.key), (false, Some("notNow")), "not in a guided lesson");
    let mut screen = three_alike(&[]);
    let errors = |reply: &turnback::view::Reply| reply.errors.iter().map(|error| error.key).collect::<Vec<_>>();
    assert_eq!(errors(&screen.change(&[0], "wet")), ["unknown"]);
    assert_eq!(errors(&screen.change(&[7], "finer")), ["unknown"]);
    assert_eq!(errors(&screen.change(&[], "finer")), ["empty"]);
    // 600 mL of glass, 590 mL in it: 50 g of ice find no room, and the error says how much there is.
    let mut full = three_alike(&[("waterMl", "540"), ("acidDoses", "1"), ("baseDoses", "0")]);
    let reply = full.change(&[0], "ice");
    assert_eq!(errors(&reply), ["overflow"]);
    assert_eq!(reply.errors[0].max, Some(40.0));
    assert_eq!(full.state().what_ifs, [vec![""; 0], vec![], vec![]], "nothing has changed");
}

#[test]
fn changes_add_up_stay_and_are_taken_back() {
    let mut screen = three_alike(&[]);
    let plain = screen.check_code();
    assert!(screen.change(&[0, 2], "finer").ok);
    assert!(screen.change(&[0], "noIndicator").ok);
    assert_eq!(screen.state().what_ifs, [vec!["noIndicator", "finer"], vec![], vec!["finer"]]);
    assert_ne!(screen.check_code(), plain, "another run has another code");
    assert!(screen.begin("free").ok, "fresh beakers");
    assert_eq!(screen.state().what_ifs[0], ["noIndicator", "finer"]);
    assert!(screen.change(&[0, 1, 2], "none").ok);
    assert_eq!(screen.check_code(), plain);
    assert!(screen.change(&[1], "halfWater").ok);
    assert!(screen.begin("guided").ok);
    assert_eq!(screen.state().what_ifs, [vec![""; 0], vec![], vec![]], "the lesson runs as its recipe says");
}

#[test]
fn what_moves_of_itself_is_as_calm_at_every_speed() {
    // At rest nothing changes but what turns: a second of watching shows the same turn, however fast the lesson runs.
    let watched = |speed: u32| {
        let mut screen = three_alike(&[]);
        screen.set_speed(speed);
        for _ in 0..12 {
            screen.tick(0.1);
        }
        let now = screen.state().now;
        screen.paint(0, now, 300, 340, false).to_vec()
    };
    let slow = watched(1);
    assert!(slow == watched(16), "the bar lies elsewhere at speed 16");
    let mut still = three_alike(&[]);
    let now = still.state().now;
    assert!(still.paint(0, now, 300, 340, false) != slow, "the bar does turn");
}

/// The hands of the guided lesson.
fn play_dose(screen: &mut Screen) {
    let reply = screen.lock(&some_guess());
    assert!(reply.ok, "{reply:?}");
    while screen.state().stage == "watch" {
        screen.next_event();
    }
    assert!(screen.see(&GuessText::default()).ok);
    assert!(screen.go_on().ok);
}

/// 7 acid doses of 6.00 mmol and 7 base doses of 6.00 mmol: 42.0 mmol of base for 42.0 mmol of acid, and the bottle's 1.20 g
/// are back (teaching notes, level 5).
#[test]
fn capability_20_as_much_base_as_acid_returns_the_solid() {
    let mut screen = Screen::new().expect("our scenario begins");
    let mut typed = typed_recipe(&screen);
    typed.fields.insert("baseDoses".to_owned(), "7".to_owned());
    typed.fields.insert("baseRestS".to_owned(), "600".to_owned());
    let held =
        |celsius: &str| BeakerText { kind: "held".to_owned(), celsius: celsius.to_owned(), ice_g: String::new() };
    typed.beakers = vec![held("2"), held("21"), held("34")];
    assert!(screen.set_recipe(&typed).ok);
    assert!(screen.go_on().ok);
    for _ in 0..7 {
        play_dose(&mut screen);
    }
    for label in labels(&screen) {
        assert!(label.solid_g < 2e-3, "all dissolved: {} g", label.solid_g);
    }
    for _ in 0..7 {
        play_dose(&mut screen);
    }
    for label in labels(&screen) {
        assert!((label.solid_g / 1.20 - 1.0).abs() < 0.01, "{} °C: {} g", label.celsius, label.solid_g);
    }
    let row = *screen.ledger(0).last().expect("rows");
    assert_eq!((row.naoh_mmol, row.hcl_mmol), (42.0, 42.0));
}

/// The pH at rest falls dose by dose, the dissolved magnesium does it, and the four terms add up.
#[test]
fn capability_21_the_common_ion_takes_the_ph_at_rest_down_dose_by_dose() {
    let mut screen = Screen::new().expect("our scenario begins");
    assert!(screen.go_on().ok);
    let start_s = screen.state().now;
    let mut rest = vec![screen.labels(start_s)[1].ph];
    for dose in 1..=6 {
        let before_s = screen.state().now;
        play_dose(&mut screen);
        let now_s = screen.state().now;
        rest.push(screen.labels(now_s)[1].ph);
        let shift = screen.ph_shift(1, start_s, now_s).expect("magnesium is dissolved");
        let sum = shift.common_ion + shift.activity + shift.saturation + shift.temperature;
        assert!((sum - (shift.now - shift.before)).abs() < 1e-9, "dose {dose}: {shift:?}");
        // By hand: free magnesium goes from 1.2e-4 mol/L at the start to dose x 3.00 mmol in about half a litre; -½ lg of it.
        let label = screen.labels(now_s)[1];
        let molar = label.dissolved_mmol / label.volume_ml;
        let start = screen.labels(start_s)[1];
        let by_hand = -0.5 * (molar / (start.dissolved_mmol / start.volume_ml)).log10();
        assert!((shift.common_ion - by_hand).abs() < 0.03, "dose {dose}: {} and {by_hand}", shift.common_ion);
        // It outweighs every other cause as long as there is solid enough to come near to saturation.
        let others = [shift.activity, shift.saturation, shift.temperature].map(f64::abs);
        assert!(others.iter().all(|other| *other < shift.common_ion.abs()), "dose {dose}: {shift:?}");
        let step = screen.ph_shift(1, before_s, now_s).expect("magnesium is dissolved");
        assert!(step.common_ion < 0.0);
    }
    assert!(rest.windows(2).all(|pair| pair[1] < pair[0]), "{rest:?}");
}
