//! What a teacher alters: doses and questions of their own, through the form, the link and the
//! file. Words stay words in every script; nothing outside the limits comes in.

use proptest::prelude::*;
use serde_json::{Value, json};
use turnback::chemistry::Reagent;
use turnback::lesson::{
    ASKS_MAX, Ask, At, CHOICES, CHOICES_MAX, DOSES_MAX, Dose, Field, LINK_MAX_CHARS, Lesson, LessonFile, Level,
    LinkError, Moment, OwnQuestion, Place, Question, Recipe, RecipeText, Script, Teacher, TreeError,
};

fn file(lesson: &Lesson) -> Value {
    serde_json::to_value(LessonFile::of(lesson)).expect("keys are text")
}

fn read(file: &Value) -> Result<Lesson, TreeError> {
    Lesson::from_tree(file)
}

/// Our scenario's file with one value set at a path such as "/steps/0/asks".
fn with(path: &str, value: Value) -> Value {
    let mut file = file(&Lesson::default());
    let (parent, name) = path.rsplit_once('/').expect("a path");
    file.pointer_mut(parent).expect("there")[name] = value;
    file
}

fn refused(file: &Value) -> Vec<(Place, &'static str)> {
    match read(file) {
        Err(TreeError::Fields(errors)) => errors.iter().map(|error| (error.place, error.key)).collect(),
        other => panic!("not refused field by field: {other:?}"),
    }
}

fn own(text: &str, choices: &[&str]) -> Ask {
    let choices = choices.iter().map(|choice| (*choice).to_owned()).collect();
    Ask::Own(OwnQuestion { text: text.to_owned(), choices })
}

/// The file of our own scenario as it was first written: it must open for ever.
const FIRST_FILE: &str = include_str!("reference/lesson_v1.json");

#[test]
fn the_file_of_our_scenario_is_the_first_one_ever_written() {
    let lesson = Lesson::default();
    let text = serde_json::to_string_pretty(&LessonFile::of(&lesson)).expect("keys are text");
    assert_eq!(text.trim_end(), FIRST_FILE.trim_end());
    let opened: Value = serde_json::from_str(FIRST_FILE).expect("JSON");
    assert_eq!(read(&opened), Ok(lesson));
}

#[test]
fn a_file_is_read_with_numbers_as_text_and_decimal_commas_too() {
    let lesson = read(&with("/recipe/doseMl", json!("1,5"))).expect("a comma");
    assert_eq!(lesson.recipe.value(Field::DoseMl), 1.5);
    assert_eq!(refused(&with("/recipe/doseMl", json!(true))), [(Place::Field(Field::DoseMl), "empty")]);
    assert_eq!(refused(&with("/recipe/waterMl", json!(1e300))), [(Place::Field(Field::WaterMl), "notANumber")]);
    assert_eq!(refused(&with("/recipe/waterMl", json!(1e9))), [(Place::Field(Field::WaterMl), "tooBig")]);
}

#[test]
fn what_is_no_lesson_or_a_newer_one_is_told_as_such() {
    for nothing in
        [json!(null), json!([]), json!("turnback"), json!({}), json!({"turnback": 0}), json!({"turnback": {}})]
    {
        assert_eq!(read(&nothing), Err(TreeError::NotOurs), "{nothing}");
    }
    assert_eq!(read(&with("/turnback", json!(2))), Err(TreeError::Newer { version: 2 }));
}

#[test]
fn doses_decide_over_the_numbers_of_doses() {
    let steps = json!([{"reagent": "acid"}, {"reagent": "base"}, {"reagent": "acid", "volumeMl": "1,0", "restS": 60}]);
    let lesson = read(&with("/steps", steps)).expect("three doses");
    assert_eq!((lesson.recipe.count(Field::AcidDoses), lesson.recipe.count(Field::BaseDoses)), (2, 1));
    let steps = lesson.steps();
    let told: Vec<_> = steps.iter().map(|step| (step.reagent, step.number, step.volume_ml, step.rest_s)).collect();
    let expected = [(Reagent::Acid, 1, 2.0, 300.0), (Reagent::Base, 1, 2.0, 60.0), (Reagent::Acid, 2, 1.0, 60.0)];
    assert_eq!(told, expected);
    assert_eq!(steps[1].moment, Moment::FirstBase);
    assert_eq!(Lesson::from_link(&lesson.link().expect("short")), Ok(lesson));
}

/// By hand: with the first dose 6.0 mL (18 mmol) and then 6.00 mmol each, 41.15 mmol are taken
/// up by 1 + (41.15 - 18)/6 = 4.86 doses: the fifth is one too many.
#[test]
fn the_long_card_moves_to_the_dose_that_is_one_too_many() {
    let mut steps = vec![json!({"reagent": "acid", "volumeMl": 6})];
    steps.extend(vec![json!({"reagent": "acid"}); 6]);
    let lesson = read(&with("/steps", json!(steps))).expect("seven doses");
    let moments: Vec<_> = lesson.steps().iter().map(|step| step.moment).collect();
    assert_eq!(moments[..5], [Moment::FirstAcid, Moment::Acid, Moment::ThirdAcid, Moment::Acid, Moment::LastAcid]);
    assert_eq!(lesson.questions(4).len(), 6);
}

#[test]
fn another_recipe_keeps_the_altered_doses_and_their_order() {
    let steps =
        json!([{"reagent": "acid", "restS": 90}, {"reagent": "base"}, {"reagent": "acid"}, {"reagent": "acid"}]);
    let lesson = read(&with("/steps", steps)).expect("four doses");
    let typed = |acid: &str, base: &str| -> RecipeText {
        let mut text = lesson.recipe.to_text();
        text.fields.insert("acidDoses".to_owned(), acid.to_owned());
        text.fields.insert("baseDoses".to_owned(), base.to_owned());
        text
    };
    let order = |acid, base| {
        let other = lesson.with_recipe_text(&typed(acid, base)).expect("within the limits");
        let letter = |dose: &Dose| if dose.reagent == Reagent::Acid { 'a' } else { 'b' };
        (other.doses().iter().map(letter).collect::<String>(), other.doses().first().and_then(|dose| dose.rest_s))
    };
    assert_eq!(order("3", "1"), ("abaa".to_owned(), Some(90.0)));
    assert_eq!(order("4", "2"), ("abbaaa".to_owned(), Some(90.0)));
    assert_eq!(order("1", "0"), ("a".to_owned(), Some(90.0)));
    assert_eq!(order("0", "1"), ("b".to_owned(), None));
}

#[test]
fn alterations_that_alter_nothing_leave_the_link_as_it_was() {
    // The file lists all doses, each as the recipe has it.
    assert_eq!(read(&file(&Lesson::default())).map(|lesson| lesson.script), Ok(Script::default()));
    let short = Lesson::default().link().expect("short");
    assert_eq!(read(&file(&Lesson::default())).map(|lesson| lesson.link()), Ok(Ok(short)));
}

#[test]
fn doses_that_overflow_the_glass_are_refused_with_what_it_would_have_to_hold() {
    // 520 mL and 50.0 mL, and six doses of 2.0 mL less than before with the four of base.
    let errors = read(&with("/steps/0/volumeMl", json!(50))).map_err(|error| match error {
        TreeError::Fields(errors) => errors[0],
        other => panic!("{other:?}"),
    });
    assert_eq!(errors.as_ref().map(|_| ()).map_err(|error| error.key), Ok(()), "590 mL still fit");
    let errors = match read(&with(
        "/steps",
        json!([{"reagent": "acid", "volumeMl": 50}, {"reagent": "acid", "volumeMl": 50}]),
    )) {
        Err(TreeError::Fields(errors)) => errors,
        other => panic!("{other:?}"),
    };
    assert_eq!((errors[0].place, errors[0].key), (Place::Field(Field::VesselMl), "overflow"));
    assert_eq!(errors[0].limits.map(|limits| limits.min), Some(620.0));
}

#[test]
fn every_refused_value_is_named_with_its_place() {
    let steps = json!([
        {"reagent": "salt"},
        {"reagent": "acid", "volumeMl": "51", "restS": "5", "asks": ["atRest", "atRest", "3.ranOut", "9.nothing"]},
        {"reagent": "base", "asks": [{"text": " \u{7} ", "choices": ["yes", ""]}]}
    ]);
    let mut file = with("/steps", steps);
    file["brief"] = json!(["atRest"]);
    file["level"] = json!(6);
    file["minutes"] = json!(45.5);
    let ask = |at, ask, choice| Place::Ask { at, ask, choice };
    let expected = [
        (Place::Step { index: 0, key: "reagent" }, "unknown"),
        (Place::Step { index: 1, key: "volumeMl" }, "tooBig"),
        (Place::Step { index: 1, key: "restS" }, "tooSmall"),
        (ask(At::Step(1), 1, None), "twice"),
        (ask(At::Step(1), 3, None), "unknown"),
        (ask(At::Step(2), 0, None), "empty"),
        (ask(At::Step(2), 0, Some(1)), "empty"),
        (ask(At::Brief, 0, None), "notHere"),
        (Place::Lesson { key: "minutes" }, "tooFine"),
        (Place::Lesson { key: "level" }, "unknown"),
    ];
    let found = refused(&file);
    for place in expected {
        assert!(found.contains(&place), "{place:?} in {found:?}");
    }
    assert_eq!(found.len(), expected.len());
}

#[test]
fn a_question_of_5000_characters_is_refused_with_its_limit() {
    for sign in ["a", "é", "\u{1f9ea}", "\u{5d0}"] {
        let file = with("/steps/0/asks", json!([{"text": sign.repeat(5000)}]));
        let Err(TreeError::Fields(errors)) = read(&file) else { panic!("let in") };
        assert_eq!((errors[0].key, errors[0].limits.map(|limits| limits.max)), ("tooLong", Some(400.0)));
        let file = with("/steps/0/asks", json!([{"text": sign.repeat(400)}]));
        assert!(read(&file).is_ok(), "{sign}");
    }
}

#[test]
fn too_many_doses_questions_and_choices_are_refused_before_they_are_read() {
    let dose = json!({"reagent": "acid"});
    let file = with("/steps", json!(vec![dose.clone(); DOSES_MAX + 1]));
    assert!(refused(&file).contains(&(Place::Lesson { key: "steps" }, "tooBig")));
    // The glass holds them, but a recipe counts thirty of a reagent at most.
    let mut file = with("/steps", json!(vec![dose; 31]));
    file["recipe"]["vesselMl"] = json!(6000);
    assert_eq!(refused(&file), [(Place::Field(Field::AcidDoses), "tooBig")]);
    let question = |n: usize| json!({"text": format!("Question {n}")});
    let many: Vec<Value> = (0..=ASKS_MAX).map(question).collect();
    assert_eq!(refused(&with("/end", json!(many))), [(Place::Lesson { key: "end" }, "tooBig")]);
    let choices: Vec<String> = (0..=CHOICES_MAX).map(|n| n.to_string()).collect();
    let file = with("/end", json!([{"text": "Which?", "choices": choices}]));
    assert_eq!(refused(&file), [(Place::Ask { at: At::End, ask: 0, choice: None }, "tooBig")]);
}

/// Words in Arabic and Hebrew, emoji of several signs joined, HTML, and every control character.
#[test]
fn words_stay_words_in_every_script_and_control_characters_go() {
    let kept = [
        "ما لون السائل الآن؟",
        "מה הצבע עכשיו? \u{200f}(pH 7)\u{200e}",
        "\u{2068}abc\u{2069} and \u{1f469}\u{200d}\u{1f52c}\u{1f3fd} \u{2764}\u{fe0f}",
        "<img src=x onerror=alert(1)> & \"quoted\" </script>",
        "¿Qué pasó? 2\u{a0}mL",
    ];
    for text in kept {
        let lesson = read(&with("/steps/0/asks", json!([{"text": text, "choices": [text]}]))).expect("kept");
        assert_eq!(lesson.asks(At::Step(0)), [own(text, &[text])]);
        assert_eq!(Lesson::from_link(&lesson.link().expect("short")).as_ref(), Ok(&lesson));
        assert_eq!(read(&file(&lesson)), Ok(lesson));
    }
    let controls: String = (0..0x20_u32).chain(0x7f..0xa0).filter_map(char::from_u32).collect();
    let typed = format!("\u{202e}one{controls}two\u{2028}three\u{202c}");
    let lesson = read(&with("/title", json!(typed))).expect("cleaned");
    let words: Vec<&str> = lesson.title.split(' ').filter(|word| !word.is_empty()).collect();
    assert_eq!(words, ["one", "two", "three"]);
    assert!(!lesson.title.chars().any(char::is_control));
}

#[test]
fn what_is_the_teachers_own_is_in_the_file_and_in_no_link() {
    let mut file = with("/notes", json!("Mind the\r\nthird row.\u{0}"));
    file["minutes"] = json!("45");
    let lesson = read(&file).expect("read");
    assert_eq!(lesson.teacher, Teacher { minutes: 45, notes: "Mind the\nthird row.".to_owned() });
    assert_eq!(lesson.link(), Lesson::default().link());
    assert_eq!(Lesson::from_link(&lesson.link().expect("short")).map(|lesson| lesson.teacher), Ok(Teacher::default()));
    let kept = serde_json::to_string(&LessonFile::of(&lesson)).expect("keys are text");
    assert!(kept.contains("Mind the\\nthird row."));
}

/// 1.33 characters of base64 for each byte: 5 questions of 400 letters do not fit into 2,000.
#[test]
fn a_lesson_with_too_many_words_has_a_file_and_no_link() {
    let question = |n: usize| json!({"text": format!("{n}{}", "x".repeat(399))});
    let asks: Vec<Value> = (0..5).map(question).collect();
    let lesson = read(&with("/steps/0/asks", json!(asks))).expect("within the limits");
    let too_long = lesson.link().expect_err("too long");
    assert!(too_long.chars >= LINK_MAX_CHARS, "{too_long:?}");
    assert_eq!(read(&file(&lesson)), Ok(lesson));
    let asks: Vec<Value> = (0..3).map(question).collect();
    let lesson = read(&with("/steps/0/asks", json!(asks))).expect("within the limits");
    assert!(lesson.link().is_ok_and(|link| link.len() < LINK_MAX_CHARS));
}

#[test]
fn every_level_of_our_scenario_has_a_short_link_of_its_own() {
    for level in Level::ALL {
        let lesson = Lesson { level, ..Lesson::default() };
        let link = lesson.link().expect("short");
        assert!(link.len() < 300, "{link}");
        assert_eq!(Lesson::from_link(&link), Ok(lesson));
    }
}

/// A link with alterations of the first release that knew them: it must open for ever.
const GOLDEN_ALTERED: &str = "v1.oAGIJ9wLwD70A7gXuBfIAQqsAtIB2AQHBKwCPAMAFAIA1AIDDxBSb29tIDEyLCBUdWVzZGF5AAsADpYBeAIDHAAAAAAAAQEBCQH_\
    HldoZXJlIGRpZCB0aGUgY2xvdWQgY29tZSBmcm9tPwMIdGhlIGJhc2UNdGhlIG1hZ25lc2l1bQRib3RoAv8Wwr9RdcOpIHRlIHNvcnByZW5kacOzPwAdU_IivQ";

fn altered() -> Lesson {
    let mut file = with("/title", json!("Room 12, Tuesday"));
    file["level"] = json!(3);
    file["steps"][1] = json!({"reagent": "acid", "volumeMl": 1.5, "restS": 120, "asks": ["seconds", "3.moreWater"]});
    file["steps"][10]["asks"] =
        json!([{"text": "Where did the cloud come from?", "choices": ["the base", "the magnesium", "both"]}]);
    file["brief"] = json!([]);
    file["end"] = json!([{"text": "¿Qué te sorprendió?"}, "3.endPh"]);
    read(&file).expect("within the limits")
}

#[test]
fn the_altered_link_is_the_golden_one() {
    assert_eq!(altered().link().as_deref(), Ok(GOLDEN_ALTERED));
    assert_eq!(Lesson::from_link(GOLDEN_ALTERED), Ok(altered()));
}

#[test]
fn every_cut_and_every_flipped_bit_of_an_altered_link_is_refused() {
    let link = altered().link().expect("short");
    for end in 0..link.len() {
        assert!(Lesson::from_link(&link[..end]).is_err());
        for bit in 0..7 {
            let mut bytes = link.clone().into_bytes();
            bytes[end] ^= 1 << bit;
            let text = String::from_utf8(bytes).expect("seven bits stay ASCII");
            assert!(Lesson::from_link(&text).is_err(), "{text}");
        }
    }
}

/// A body behind a right length and checksum: whoever writes links must keep the limits too.
fn link_of(body: &[u8]) -> String {
    use base64::Engine;
    use base64::engine::general_purpose::URL_SAFE_NO_PAD;
    let mut summed = Vec::new();
    let mut length = body.len();
    while length >= 128 {
        summed.push((length & 127) as u8 | 128);
        length >>= 7;
    }
    summed.push(length as u8);
    summed.extend_from_slice(body);
    let mut sum = crc32fast::Hasher::new();
    sum.update(b"v1.");
    sum.update(&summed);
    summed.extend(sum.finalize().to_le_bytes());
    format!("v1.{}", URL_SAFE_NO_PAD.encode(summed))
}

#[test]
fn alterations_that_no_door_lets_in_are_refused_from_a_link_too() {
    let recipe = Recipe::default().bytes();
    let behind = |tail: &[u8]| Lesson::from_link(&link_of(&[recipe.as_slice(), tail].concat()));
    assert!(behind(&[]).is_ok() && behind(&[3, 0]).is_ok());
    // The default level is never written, and no part is written empty.
    assert_eq!(behind(&[2, 0]), Err(LinkError::Damaged));
    assert!(behind(&[3, 1, 0]).is_err());
    // A fitted strength stands only behind a fitted bottle.
    assert_eq!(behind(&[3, 32]), Err(LinkError::Damaged));
    // A level, a flag, a question and a dose's flag of a later release.
    for tail in [&[6, 0][..], &[3, 64], &[3, 2, 1, 6], &[3, 2, 1, 16 + CHOICES.len() as u8], &[3, 4, 1, 16], &[3, 0, 0]]
    {
        assert_eq!(behind(tail), Err(LinkError::Newer { version: 1 }), "{tail:?}");
    }
    // A title with a control character, one that is no UTF-8, one that ends early.
    for tail in [&[3, 1, 2, b'a', 7][..], &[3, 1, 2, b'a', 0xc3], &[3, 1, 200, b'a'], &[3, 1, 2, b' ', b'a']] {
        assert_eq!(behind(tail), Err(LinkError::Damaged), "{tail:?}");
    }
    // A prediction in the brief, a question twice, too many questions, doses as the recipe has them.
    for tail in
        [&[3, 2, 1, 0][..], &[3, 2, 2, 20, 20], &[3, 2, 9], &[3, 4, 11, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1], &[3, 4, 61]]
    {
        assert_eq!(behind(tail), Err(LinkError::Damaged), "{tail:?}");
    }
    // A dose of 51 mL: 5,100 hundredths.
    let error = behind(&[3, 4, 1, 2, 0xec, 0x27]).expect_err("too much");
    assert!(matches!(error, LinkError::OutOfLimits(error) if error.place == Place::Step { index: 0, key: "volumeMl" }));
    // A title of 81 letters.
    let error = behind(&[&[3, 1, 81][..], &[b'a'; 81]].concat()).expect_err("too long");
    assert!(matches!(error, LinkError::OutOfLimits(error) if error.key == "tooLong"));
}

fn any_words(most: usize) -> impl Strategy<Value = String> {
    // Any signs at all, so that what is taken out is there to be taken out.
    prop::collection::vec(any::<char>(), 1..=most).prop_map(|signs| signs.into_iter().collect())
}

fn any_ask(card: bool) -> impl Strategy<Value = Value> {
    let choice = (0..CHOICES.len()).prop_map(|number| json!(CHOICES[number].key));
    let card = (0..6_usize)
        .prop_map(move |number| if card { json!(Question::ALL[number].key()) } else { json!(CHOICES[number].key) });
    let own = (any_words(40), prop::collection::vec(any_words(12), 0..3))
        .prop_map(|(text, choices)| json!({"text": format!("q{text}"), "choices": choices.iter().map(|c| format!("c{c}")).collect::<Vec<_>>()}));
    prop_oneof![choice, card, own]
}

fn any_asks(card: bool) -> impl Strategy<Value = Option<Value>> {
    let distinct = |asks: Vec<Value>| {
        let mut kept: Vec<Value> = Vec::new();
        for ask in asks {
            if !kept.contains(&ask) {
                kept.push(ask);
            }
        }
        json!(kept)
    };
    prop::option::of(prop::collection::vec(any_ask(card), 0..4).prop_map(distinct))
}

fn any_dose() -> impl Strategy<Value = Value> {
    (any::<bool>(), prop::option::of(10..5000_u32), prop::option::of(10..=1800_u32), any_asks(true)).prop_map(
        |(base, volume, rest, asks)| {
            let mut dose = json!({"reagent": if base { "base" } else { "acid" }});
            if let Some(volume) = volume {
                dose["volumeMl"] = json!(f64::from(volume) / 100.0);
            }
            if let Some(rest) = rest {
                dose["restS"] = json!(rest);
            }
            if let Some(asks) = asks {
                dose["asks"] = asks;
            }
            dose
        },
    )
}

/// Any lesson that the page's form can hold, read as the form is read.
fn any_lesson() -> impl Strategy<Value = Lesson> {
    let doses = prop::option::of(prop::collection::vec(any_dose(), 0..20));
    (doses, 1..=5_u8, any_words(40), any_asks(false), any_asks(false), any_words(200), 0..=480_u32).prop_map(
        |(doses, level, title, brief, end, notes, minutes)| {
            let mut lesson = file(&Lesson::default());
            lesson["recipe"]["vesselMl"] = json!(6000);
            lesson["level"] = json!(level);
            lesson["title"] = json!(title);
            lesson["notes"] = json!(notes);
            lesson["minutes"] = json!(minutes);
            for (name, value) in [("steps", doses.map(Value::from)), ("brief", brief), ("end", end)] {
                if let Some(value) = value {
                    lesson[name] = value;
                }
            }
            read(&lesson).expect("within the limits")
        },
    )
}

proptest! {
    #[test]
    fn any_lesson_comes_back_from_its_file_text(lesson in any_lesson()) {
        let text = serde_json::to_string_pretty(&LessonFile::of(&lesson)).expect("keys are text");
        let opened: Value = serde_json::from_str(&text).expect("JSON");
        prop_assert_eq!(read(&opened), Ok(lesson));
    }

    #[test]
    fn any_lesson_comes_back_from_its_link_but_for_what_is_the_teachers(lesson in any_lesson()) {
        let for_students = Lesson { teacher: Teacher::default(), ..lesson.clone() };
        match lesson.link() {
            Ok(link) => {
                prop_assert!(link.len() < LINK_MAX_CHARS);
                prop_assert_eq!(Lesson::from_link(&link), Ok(for_students));
            }
            Err(too_long) => prop_assert!(too_long.chars >= LINK_MAX_CHARS),
        }
    }

    #[test]
    fn no_bytes_behind_a_recipe_make_the_door_panic(tail in prop::collection::vec(any::<u8>(), 0..60)) {
        let link = link_of(&[Recipe::default().bytes(), tail].concat());
        // What comes in writes the very same link again.
        if let Ok(lesson) = Lesson::from_link(&link) {
            prop_assert_eq!(lesson.link(), Ok(link));
        }
    }
}
