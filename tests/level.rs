//! The five levels: what each asks and shows, that none alters a run, and that every answer finds
//! what is right and the idea behind what is not.

use turnback::lesson::{
    Ask, At, CHOICES, Field, GuessText, IDEAS, INSTRUMENTS, Lesson, Level, Moment, Question, Recipe, Told,
};
use turnback::session::{Session, SessionError, Stage};
use turnback::view::{LevelView, PlaceKey, Screen};

fn at_level(number: u8) -> Lesson {
    Lesson { level: Level::of_number(number).expect("a level"), ..Lesson::default() }
}

#[test]
fn every_question_with_choices_has_one_right_choice_and_known_ideas() {
    for question in &CHOICES {
        let right = question.choices.iter().filter(|choice| choice.told == Told::Right).count();
        // What ran out is right by the bookkeeping of its dose.
        assert_eq!(right, usize::from(question.key != "3.ranOut"), "{}", question.key);
        assert!(question.choices.len() >= 3);
        for choice in question.choices {
            if let Told::Idea(tag) = choice.told {
                assert!(IDEAS.contains(&tag), "{tag}");
            }
        }
        let level: u8 = question.key.split('.').next().and_then(|n| n.parse().ok()).expect("a level's number");
        let plan = Level::of_number(level).expect("a level").plan();
        let asked = Moment::ALL.into_iter().any(|moment| plan.choices(moment).any(|asked| asked.key == question.key));
        assert!(asked, "{} is asked by its own level", question.key);
    }
}

#[test]
fn every_idea_stands_behind_some_choice_or_some_guess() {
    let by_choice =
        |tag| CHOICES.iter().flat_map(|question| question.choices).any(|choice| choice.told == Told::Idea(tag));
    // These two come from predictions alone.
    let by_guess = ["baseAtOnce", "warmthNoMatter"];
    for tag in IDEAS {
        assert!(by_choice(tag) != by_guess.contains(&tag), "{tag}");
    }
}

#[test]
fn a_level_asks_for_a_prediction_before_every_dose() {
    for level in Level::ALL {
        let lesson = Lesson { level, ..Lesson::default() };
        for step in 0..11 {
            let questions = lesson.questions(step);
            assert!(
                questions.iter().any(|question| *question != Question::Why),
                "level {}, dose {step}",
                level.number()
            );
        }
        assert!(!lesson.asks(At::Brief).is_empty());
    }
}

#[test]
fn a_higher_level_shows_no_fewer_instruments() {
    let shown: Vec<_> = Level::ALL.into_iter().map(|level| level.plan().shows).collect();
    assert!(shown.windows(2).all(|two| two[1].starts_with(two[0])));
    assert_eq!(shown[4], INSTRUMENTS);
    assert!(!shown[0].contains(&"ph") && shown[1].contains(&"ph"));
}

fn complete() -> GuessText {
    let some = |text: &str| Some(text.to_owned());
    GuessText {
        at_once: some("red"),
        at_rest: some("blue"),
        clarity: some("milky"),
        seconds: some("20"),
        first: some("2"),
        why: None,
    }
}

fn run(session: &mut Session) {
    session.go_on().expect("from the brief");
    while session.stage() == Stage::Ask {
        session.lock(&complete()).expect("complete");
        while session.stage() == Stage::Watch {
            session.next_event().expect("runs");
        }
        session.see(&GuessText::default()).expect("at rest");
        session.go_on().expect("explained");
    }
}

#[test]
fn the_check_code_of_a_run_does_not_change_with_the_level() {
    let codes: Vec<_> = (1..=5)
        .map(|level| {
            let mut session = Session::new(at_level(level)).expect("begins");
            run(&mut session);
            session.check_code().to_string()
        })
        .collect();
    assert!(codes.iter().all(|code| *code == codes[0]), "{codes:?}");
}

#[test]
fn a_dose_is_asked_before_its_lock_and_told_when_it_is_explained() {
    let mut screen = Screen::new().expect("begins");
    assert!(screen.set_level(3).ok);
    let state = screen.state();
    assert_eq!((state.level, state.stage, state.asks[0].key), (3, "brief", Some("3.whichExcess")));
    assert!(screen.choose(0, "bigger").ok);
    screen.go_on();
    let asks = screen.state().asks;
    let (ask, keys) = (asks[0].ask, asks[0].choices.clone());
    assert_eq!((asks[0].key, keys), (Some("3.ranOut"), vec!["acid", "solid", "both", "neither"]));
    assert_eq!(screen.choose(ask, "water").errors[0].key, "unknown");
    assert!(screen.choose(ask, "both").ok && screen.choose(ask, "solid").ok);
    assert_eq!(screen.state().asks[0].answer.as_deref(), Some("solid"));
    assert!(screen.lock(&complete()).ok);
    // Locked: it stands, and nothing is told yet.
    assert_eq!(screen.choose(ask, "acid").key, Some("notNow"));
    assert_eq!(screen.told_answers(), []);
    while screen.state().stage == "watch" {
        screen.next_event();
    }
    assert_eq!(screen.told_answers(), []);
    screen.see(&GuessText::default());
    let told = screen.explanation().expect("explained").choices;
    // Worked by hand, level 3, dose 1: the acid runs out.
    assert_eq!((told[0].right, told[0].idea), (Some("acid"), Some("strongerWins")));
    assert_eq!(told[0].at, PlaceKey::Step(0));
    // The brief is told at the end only: it is about the whole lesson.
    assert_eq!(screen.told_answers().len(), 1);
}

#[test]
fn the_seventh_dose_makes_the_solid_the_right_answer() {
    let mut session = Session::new(at_level(3)).expect("begins");
    session.go_on().expect("from the brief");
    let ran_out = |session: &Session, step| {
        let asks = session.lesson().asks(At::Step(step));
        asks.iter().position(|ask| matches!(ask, Ask::Choice(question) if question.key == "3.ranOut"))
    };
    assert!(ran_out(&session, 6).is_some() && ran_out(&session, 1).is_none());
    let mut screen = Screen::new().expect("begins");
    screen.set_level(3);
    screen.go_on();
    for dose in 0..7 {
        if let Some(ask) = ran_out(&session, dose) {
            assert!(screen.choose(ask, "solid").ok);
        }
        assert!(screen.lock(&complete()).ok);
        while screen.state().stage == "watch" {
            screen.next_event();
        }
        screen.see(&GuessText::default());
        if dose == 6 {
            let told = screen.explanation().expect("explained").choices;
            assert_eq!((told[0].right, told[0].idea), (Some("solid"), None));
        }
        screen.go_on();
    }
}

#[test]
fn a_wrong_prediction_points_to_its_idea_and_a_right_one_to_none() {
    let ideas = |change: &dyn Fn(&mut GuessText)| {
        let mut screen = Screen::new().expect("begins");
        screen.go_on();
        let mut guess = complete();
        change(&mut guess);
        assert!(screen.lock(&guess).ok);
        while screen.state().stage == "watch" {
            screen.next_event();
        }
        screen.see(&GuessText::default());
        screen.explanation().expect("explained").ideas
    };
    let some = |text: &str| Some(text.to_owned());
    assert!(ideas(&|_| ()).is_empty());
    assert_eq!(ideas(&|guess| guess.at_rest = some("red")), ["strongerWins"]);
    assert_eq!(ideas(&|guess| guess.seconds = some("never")), ["strongerWins"]);
    assert_eq!(ideas(&|guess| guess.at_rest = some("green")), ["endsAt7"]);
    assert_eq!(ideas(&|guess| guess.at_once = some("blue")), ["baseAtOnce"]);
    assert_eq!(ideas(&|guess| guess.first = some("same")), ["warmthNoMatter"]);
    assert_eq!(ideas(&|guess| guess.first = some("0")), ["warmthNoMatter"]);
}

#[test]
fn the_end_is_answered_once_and_told_at_once_and_the_brief_with_it() {
    let mut session = Session::new(at_level(1)).expect("begins");
    session.choose(0, "oneLiquid").expect("asked");
    session.choose(0, "").expect("taken back");
    session.choose(0, "bits").expect("asked");
    run(&mut session);
    session.choose(0, "gone").expect("asked");
    assert!(matches!(session.choose(0, "inWater"), Err(SessionError::NotNow { stage: Stage::End })));
    assert_eq!(session.chosen().len(), 2);
    assert!(session.may_tell(At::Brief) && session.may_tell(At::End));
}

#[test]
fn a_low_level_leaves_out_the_reasons_that_it_has_no_words_for() {
    let told = |level| {
        let mut screen = Screen::new().expect("begins");
        screen.set_level(level);
        screen.go_on();
        let mut reasons = Vec::new();
        for _ in 0..2 {
            screen.lock(&complete());
            while screen.state().stage == "watch" {
                screen.next_event();
            }
            screen.see(&GuessText::default());
            reasons = screen.explanation().expect("explained").why.iter().map(|reason| reason.key).collect();
            screen.go_on();
        }
        reasons
    };
    assert_eq!(told(1), ["acidUsedUp", "warmFirst", "slower"]);
    assert_eq!(told(5), ["acidUsedUp", "warmFirst", "slower", "lessBlue"]);
}

#[test]
fn a_level_is_chosen_by_its_number_and_keeps_the_recipe() {
    let mut screen = Screen::new().expect("begins");
    let mut typed = Recipe::default().to_text();
    typed.fields.insert("doseMl".to_owned(), "1.5".to_owned());
    assert!(screen.set_recipe(&typed).ok && screen.set_level(4).ok);
    assert_eq!(screen.session().lesson().recipe.value(Field::DoseMl), 1.5);
    assert_eq!(screen.state().level, 4);
    for number in [0, 6, 255, 257] {
        assert_eq!(screen.set_level(number).key, Some("unknown"));
    }
    assert!(screen.set_recipe(&typed).ok);
    assert_eq!(screen.state().level, 4, "a recipe leaves the level as it is");
    assert_eq!(LevelView::all().len(), 5);
}

fn words() -> serde_json::Map<String, serde_json::Value> {
    serde_json::from_str(include_str!("../www/locales/en.json")).expect("JSON")
}

#[test]
fn the_page_has_words_for_every_level_question_choice_idea_and_instrument_and_for_no_other() {
    let words = words();
    let mut wanted = Vec::new();
    for level in Level::ALL {
        let (number, plan) = (level.number(), level.plan());
        wanted.extend(["name", "goal", "lead"].map(|part| format!("level.{number}.{part}")));
        wanted.extend((1..=plan.expected).map(|line| format!("level.{number}.expect.{line}")));
    }
    for question in &CHOICES {
        wanted.push(format!("level.{}", question.key));
        wanted.push(format!("level.{}.because", question.key));
        wanted.extend(question.choices.iter().map(|choice| format!("level.{}.{}", question.key, choice.key)));
    }
    for tag in IDEAS {
        wanted.extend(["name", "idea", "followUp"].map(|part| format!("misconception.{tag}.{part}")));
    }
    wanted.extend(INSTRUMENTS.iter().map(|instrument| format!("shows.{instrument}")));
    for key in &wanted {
        assert!(words.get(key).is_some_and(|text| text.as_str().is_some_and(|text| !text.is_empty())), "{key}");
    }
    // What no level asks for is a reason or a line of the end in a level's own words, or a source.
    for key in words.keys().filter(|key| ["level.", "misconception."].iter().any(|room| key.starts_with(room))) {
        let reason = key.split_once(".why.").is_some_and(|(level, reason)| {
            let number = level.strip_prefix("level.").and_then(|number| number.parse().ok());
            number.and_then(Level::of_number).is_some_and(|level| level.plan().reasons.contains(&reason))
        });
        let end = key.split_once(".end.").is_some_and(|(_, line)| words.contains_key(&format!("end.{line}")));
        assert!(wanted.contains(key) || reason || end || key.ends_with(".source"), "{key} is of no use");
    }
}
