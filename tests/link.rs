//! The strict door: what a link carries comes back, and nothing else comes in.

use proptest::prelude::*;
use turnback::lesson::{
    Beaker, BeakerText, CELSIUS, Field, ICE_G, LINK_MAX_CHARS, Lesson, LinkError, Place, Recipe, RecipeText,
};

/// The first link that this program ever wrote for our own scenario. It stands for every link
/// of version 1 that a teacher has shared: it must open for ever, as the same lesson.
const GOLDEN: &str = "v1.IYgn3AvAPvQDuBe4F8gBCqwC0gHYBAcErAI8AwAUAgDUAmmBZQQ";

/// A link with every kind of surroundings that the first three beakers don't have, and with
/// numbers at their finest; also of the first release.
const GOLDEN_ICE: &str = "v1.I8kT3AvAPvQDfbgXfQqsAsMB2AQHBKwCPAMDzQGlBgTYBAEA-BZobw";

fn typed(fields: &[(&str, &str)], beakers: &[(&str, &str, &str)]) -> RecipeText {
    let mut text = Recipe::default().to_text();
    for (key, value) in fields {
        text.fields.insert((*key).to_owned(), (*value).to_owned());
    }
    if !beakers.is_empty() {
        text.beakers = beakers
            .iter()
            .map(|(kind, celsius, ice_g)| BeakerText {
                kind: (*kind).to_owned(),
                celsius: (*celsius).to_owned(),
                ice_g: (*ice_g).to_owned(),
            })
            .collect();
    }
    text
}

fn link(lesson: &Lesson) -> String {
    lesson.link().expect("short enough")
}

fn lesson_with_ice() -> Lesson {
    let text = typed(
        &[("waterMl", "250,5"), ("acidMolL", "0.125"), ("doseMl", "1.25"), ("roomC", "19.5")],
        &[("ice", "20.5", "80.5"), ("plate", "60", ""), ("held", "0", "")],
    );
    Lesson::of_recipe(Recipe::from_text(&text).expect("within the limits"))
}

#[test]
fn the_link_of_our_scenario_is_the_golden_one() {
    let lesson = Lesson::default();
    assert_eq!(link(&lesson), GOLDEN);
    assert_eq!(Lesson::from_link(GOLDEN), Ok(lesson));
}

#[test]
fn the_link_with_ice_a_plate_and_a_held_beaker_is_the_golden_one() {
    assert_eq!(link(&lesson_with_ice()), GOLDEN_ICE);
    assert_eq!(Lesson::from_link(GOLDEN_ICE), Ok(lesson_with_ice()));
}

/// Under 300 characters, because school platforms cut long addresses.
#[test]
fn the_link_of_our_scenario_is_short() {
    assert!(link(&Lesson::default()).len() < 300);
}

#[test]
fn a_link_may_carry_its_hash_sign() {
    assert_eq!(Lesson::from_link(&format!("#{GOLDEN}")), Ok(Lesson::default()));
}

#[test]
fn every_cut_of_a_link_is_told_as_a_cut() {
    for end in 0..GOLDEN.len() {
        let error = Lesson::from_link(&GOLDEN[..end]).expect_err("a cut link");
        match end {
            0 => assert_eq!(error, LinkError::Empty),
            1 | 2 => assert_eq!(error, LinkError::NotOurs),
            _ => assert!(matches!(error, LinkError::Incomplete { .. }), "{end}: {error:?}"),
        }
    }
}

#[test]
fn a_link_with_a_tail_or_a_lost_middle_is_damaged() {
    for tail in ["A", "AA", "AAAA"] {
        let error = Lesson::from_link(&format!("{GOLDEN}{tail}")).expect_err("a tail");
        assert_eq!(error, LinkError::Damaged);
    }
    for lost in 4..GOLDEN.len() - 1 {
        let text = format!("{}{}", &GOLDEN[..lost], &GOLDEN[lost + 1..]);
        assert!(Lesson::from_link(&text).is_err(), "character {lost} lost");
    }
}

#[test]
fn every_single_character_that_differs_is_refused() {
    const ALPHABET: &str = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_.~ é";
    for golden in [GOLDEN, GOLDEN_ICE] {
        for at in 0..golden.len() {
            for other in ALPHABET.chars().filter(|&c| !golden[at..].starts_with(c)) {
                let text = format!("{}{other}{}", &golden[..at], &golden[at + 1..]);
                assert!(Lesson::from_link(&text).is_err(), "{text}");
            }
        }
    }
}

#[test]
fn a_newer_version_is_told_as_newer_and_nonsense_as_not_ours() {
    assert_eq!(Lesson::from_link("v2.AAAA"), Err(LinkError::Newer { version: 2 }));
    assert_eq!(Lesson::from_link("v17."), Err(LinkError::Newer { version: 17 }));
    for text in ["v0.AAAA", "v.AAAA", "v-1.AAAA", "v99999999.AAAA", "bench", "top", "1.AAAA"] {
        assert_eq!(Lesson::from_link(text), Err(LinkError::NotOurs), "{text}");
    }
}

#[test]
fn a_character_that_no_link_has_is_named_with_its_place() {
    assert_eq!(Lesson::from_link("v1.AB~D"), Err(LinkError::BadCharacter { at: 5 }));
    assert_eq!(Lesson::from_link("v1.é"), Err(LinkError::BadCharacter { at: 3 }));
}

#[test]
fn a_link_beyond_the_hard_stop_is_not_even_read() {
    let text = "v1.".to_owned() + &"A".repeat(LINK_MAX_CHARS);
    assert_eq!(Lesson::from_link(&text), Err(LinkError::TooLong { chars: LINK_MAX_CHARS + 3 }));
}

/// The writer of a link is not this page alone: bytes with a right checksum must still hold
/// what the form may hold. The layout is the one that the head of link.rs describes.
#[test]
fn a_whole_link_with_a_number_outside_its_limits_names_the_field() {
    let too_much_acid = rewritten(|body| body[9] = 0x7f);
    let error = Lesson::from_link(&too_much_acid).expect_err("outside");
    let LinkError::OutOfLimits(field) = error else { panic!("{error:?}") };
    // 0x38 + 128 * 0x7f = 16,312 thousandths of a mole per litre.
    assert_eq!((field.place, field.key), (Place::Field(Field::AcidMolL), "tooBig"));
}

#[test]
fn what_a_later_release_adds_is_told_as_newer() {
    let link = rewritten(|body| body.push(0));
    assert_eq!(Lesson::from_link(&link), Err(LinkError::Newer { version: 1 }));
    let unknown_kind = rewritten(|body| {
        let kind = body.len() - 3;
        body[kind] = 9;
    });
    assert_eq!(Lesson::from_link(&unknown_kind), Err(LinkError::Newer { version: 1 }));
}

#[test]
fn a_body_that_ends_early_or_counts_too_many_beakers_is_damaged() {
    let short = rewritten(|body| body.truncate(5));
    assert_eq!(Lesson::from_link(&short), Err(LinkError::Damaged));
    let many = rewritten(|body| {
        let count = body.len() - 7;
        assert_eq!(body[count], 3, "the number of beakers");
        body[count] = 200;
    });
    assert_eq!(Lesson::from_link(&many), Err(LinkError::Damaged));
}

/// Our scenario's link with its body altered and its length and checksum made right again.
fn rewritten(alter: impl FnOnce(&mut Vec<u8>)) -> String {
    use base64::Engine;
    use base64::engine::general_purpose::URL_SAFE_NO_PAD;
    let bytes = URL_SAFE_NO_PAD.decode(&GOLDEN[3..]).expect("base64url");
    let mut body = bytes[1..bytes.len() - 4].to_vec();
    alter(&mut body);
    let mut summed = vec![body.len() as u8];
    summed.extend_from_slice(&body);
    let mut sum = crc32fast::Hasher::new();
    sum.update(b"v1.");
    sum.update(&summed);
    summed.extend(sum.finalize().to_le_bytes());
    format!("v1.{}", URL_SAFE_NO_PAD.encode(summed))
}

/// A number as typed, anywhere within the limits of a field and as fine as it is kept.
fn typed_number(min: f64, max: f64, finest: u32) -> impl Strategy<Value = String> {
    let scale = 10_f64.powi(finest as i32);
    let steps = (min * scale).ceil() as u32..=(max * scale).floor() as u32;
    steps.prop_map(move |step| format!("{}", f64::from(step) / scale))
}

fn any_beaker() -> impl Strategy<Value = BeakerText> {
    let celsius = typed_number(CELSIUS.min, CELSIUS.max, CELSIUS.finest);
    let ice = typed_number(ICE_G.min, 30.0, ICE_G.finest);
    (prop::sample::select(turnback::lesson::KINDS.to_vec()), celsius, ice)
        .prop_map(|(kind, celsius, ice_g)| BeakerText { kind: kind.to_owned(), celsius, ice_g })
}

/// Any recipe that a form can hold. The vessel is the largest, so that nothing overflows
/// unless the water alone fills it.
fn any_recipe() -> impl Strategy<Value = Recipe> {
    let fields: Vec<_> = Field::ALL
        .into_iter()
        .map(|field| {
            let limits = field.limits();
            let max = match field {
                Field::WaterMl => 2000.0,
                _ => limits.max,
            };
            let min = if field == Field::VesselMl { limits.max } else { limits.min };
            typed_number(min, max, limits.finest)
        })
        .collect();
    (fields, prop::collection::vec(any_beaker(), 1..=3)).prop_map(|(fields, beakers)| {
        let keys = Field::ALL.into_iter().map(|field| field.key().to_owned());
        let text = RecipeText { fields: keys.zip(fields).collect(), beakers };
        Recipe::from_text(&text).expect("within the limits")
    })
}

proptest! {
    #[test]
    fn any_recipe_comes_back_from_its_link_to_the_last_bit(recipe in any_recipe()) {
        let lesson = Lesson::of_recipe(recipe);
        let link = link(&lesson);
        prop_assert!(link.len() < 300);
        prop_assert_eq!(Lesson::from_link(&link), Ok(lesson));
    }

    #[test]
    fn any_recipe_comes_back_from_its_own_text(recipe in any_recipe()) {
        let text = recipe.to_text();
        prop_assert_eq!(Recipe::from_text(&text), Ok(recipe));
    }

    #[test]
    fn any_cut_and_any_flipped_bit_of_any_link_is_refused(
        recipe in any_recipe(), at in any::<prop::sample::Index>(), bit in 0..7_u32,
    ) {
        let link = link(&Lesson::of_recipe(recipe));
        let at = at.index(link.len());
        prop_assert!(Lesson::from_link(&link[..at]).is_err());
        let mut bytes = link.into_bytes();
        bytes[at] ^= 1 << bit;
        let text = String::from_utf8(bytes).expect("seven bits stay ASCII");
        prop_assert!(Lesson::from_link(&text).is_err());
    }

    #[test]
    fn no_text_at_all_makes_the_door_panic(text in ".{0,80}") {
        let _ = Lesson::from_link(&text);
        let _ = Lesson::from_link(&format!("v1.{text}"));
    }

    #[test]
    fn no_bytes_behind_a_right_checksum_make_the_door_panic(
        body in prop::collection::vec(any::<u8>(), 0..120),
    ) {
        let link = rewritten(|old| *old = body);
        if let Ok(lesson) = Lesson::from_link(&link) {
            for field in Field::ALL {
                let limits = field.limits();
                prop_assert!((limits.min..=limits.max).contains(&lesson.recipe.value(field)));
            }
        }
    }
}

#[test]
fn a_recipe_without_beakers_or_with_four_is_refused() {
    let place = |count| {
        let row = vec![("room", "", ""); count];
        let mut text = typed(&[], &row);
        text.beakers.truncate(count);
        Recipe::from_text(&text).map(|recipe| recipe.beakers().to_vec())
    };
    assert!(place(4).is_err_and(|errors| errors[0].place == Place::Beakers));
    assert_eq!(place(1), Ok(vec![Beaker::Room]));
    let mut none = Recipe::default().to_text();
    none.beakers.clear();
    assert!(Recipe::from_text(&none).is_err_and(|errors| errors[0].key == "tooSmall"));
}
