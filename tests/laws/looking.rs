//! Nobody changes a path by looking: how often, how far ahead, or at which frame rate.

use turnback::course::{Course, Reading};

use super::lessons::{Draw, Kind, Lesson};

/// All numbers of a reading, to the last bit: written out, each comes back as the number it was.
fn bits(reading: &Reading) -> String {
    format!("{reading:?}")
}

/// Every tenth of the lesson and around each action.
fn all_bits(lesson: &Lesson, course: &Course) -> Vec<String> {
    lesson.readings(course).iter().map(bits).collect()
}

/// Follows a lesson and does something with the course before each action and at the end.
fn follow_with(lesson: &Lesson, mut between: impl FnMut(&mut Course, f64, f64)) -> Course {
    let mut course = Course::begin(lesson.setup).unwrap();
    let mut from_s = 0.0;
    for (at_s, action) in &lesson.actions {
        between(&mut course, from_s, *at_s);
        course.act(*at_s, *action).unwrap();
        from_s = *at_s;
    }
    between(&mut course, from_s, lesson.end_s);
    course.reach(lesson.end_s).unwrap();
    course
}

const LESSONS: u32 = 200;

#[test]
fn frames_of_any_length_show_the_same_path() {
    for number in 0..LESSONS {
        let lesson = Lesson::draw(number, Kind::Any);
        let wanted = all_bits(&lesson, &lesson.follow());
        for frame_s in [1.0 / 60.0, 0.7, 16.0] {
            // At most 500 frames between two actions, so that the test is quick.
            let course = follow_with(&lesson, |course, from_s, to_s| {
                for frame in 1..=500 {
                    let now_s = from_s + frame_s * f64::from(frame);
                    if now_s >= to_s {
                        break;
                    }
                    course.reach(now_s).unwrap();
                    course.reading(now_s);
                }
            });
            assert_eq!(all_bits(&lesson, &course), wanted, "lesson {number}, frames of {frame_s} s");
        }
    }
}

#[test]
fn looking_ahead_and_back_changes_nothing() {
    for number in 0..LESSONS {
        let lesson = Lesson::draw(number, Kind::Any);
        let wanted = all_bits(&lesson, &lesson.follow());
        let mut draw = Draw::new(number);
        let course = follow_with(&lesson, |course, from_s, to_s| {
            // Far beyond the next action, and back at moments in no order.
            course.reach(to_s + draw.by_size(0.1, 5000.0)).unwrap();
            for _ in 0..5 {
                course.reading(draw.between(0.0, 2.0 * to_s));
                course.turned_back_s(7.0, from_s, draw.between(from_s, to_s));
            }
        });
        assert_eq!(all_bits(&lesson, &course), wanted, "lesson {number}");
    }
}

#[test]
fn a_clone_goes_its_own_way() {
    for number in 0..50 {
        let lesson = Lesson::draw(number, Kind::Any);
        let wanted = all_bits(&lesson, &lesson.follow());
        let course = follow_with(&lesson, |course, _, to_s| {
            // What would have been: another beaker's future, kept apart.
            let mut other = course.clone();
            other.reach(to_s + 100.0).unwrap();
            *course = course.clone();
        });
        assert_eq!(all_bits(&lesson, &course), wanted, "lesson {number}");
    }
}

#[test]
fn the_second_run_is_the_first_bit_by_bit() {
    for number in 0..LESSONS {
        let lesson = Lesson::draw(number, Kind::Any);
        assert_eq!(all_bits(&lesson, &lesson.follow()), all_bits(&lesson, &lesson.follow()), "lesson {number}");
    }
}

#[test]
fn the_time_of_turning_back_does_not_depend_on_how_far_one_has_looked() {
    let mut found = 0;
    for number in 0..LESSONS {
        let lesson = Lesson::draw(number, Kind::Any);
        let mut near = lesson.follow();
        let back = near.turned_back_s(7.0, 0.0, lesson.end_s);
        found += u32::from(back.is_some());
        near.reach(lesson.end_s * 10.0 + 1000.0).unwrap();
        let again = near.turned_back_s(7.0, 0.0, lesson.end_s);
        assert_eq!(back.map(f64::to_bits), again.map(f64::to_bits), "lesson {number}: {back:?}, {again:?}");
        if let Some(back_s) = back {
            // It is where the reading passes 7.
            assert!(near.reading(back_s - 1e-3).ph < 7.0 && near.reading(back_s + 1e-3).ph >= 7.0, "lesson {number}");
        }
    }
    assert!(found > 20, "only {found} lessons turn back");
}
