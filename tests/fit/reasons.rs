use turnback::colour::Band;
use turnback::measure::{CAUSES, Shape, Timing};

/// Invented times that lie by such a share above computed ones.
fn shape(slower: impl Fn(u32, f64) -> f64) -> Shape {
    let (mut timings, mut computed) = (Vec::new(), Vec::new());
    for start_c in [2.0, 21.0, 34.0] {
        for dose in 1..=5 {
            let shake = if (dose + start_c as u32).is_multiple_of(2) { 0.02 } else { -0.02 };
            let seconds = 30.0 * (slower(dose, start_c) + shake).exp();
            timings.push(Timing { dose, beaker: None, start_c, end_c: None, seconds, finish: Band::Green });
            computed.push(30.0);
        }
    }
    Shape::of_times(&timings, &computed)
}

fn first(shape: &Shape) -> &'static str {
    shape.causes()[0].key
}

#[test]
fn the_sign_and_the_shape_of_a_difference_order_its_causes() {
    assert!(shape(|_, _| 0.0).causes().is_empty(), "what agrees needs no cause");
    assert_eq!(first(&shape(|_, _| 0.3)), "coarseSolid");
    assert_eq!(first(&shape(|_, _| -0.3)), "fineSolid");
    assert_eq!(first(&shape(|dose, _| 0.1 * (f64::from(dose) - 2.5))), "moreCarbonate");
    assert_eq!(first(&shape(|dose, _| -0.1 * (f64::from(dose) - 2.5))), "lessCarbonate");
    assert_eq!(first(&shape(|_, celsius| 0.01 * (celsius - 19.0))), "bathNotBeaker");
    assert_eq!(first(&shape(|_, celsius| 0.01 * (celsius - 2.0))), "slowStirring");
    assert_eq!(first(&Shape { at_rest: 6.0, ..Shape::default() }), "probeHigh");
    // A cause of the other sign is not in the list at all.
    assert!(shape(|_, _| 0.3).causes().iter().all(|cause| cause.key != "fineSolid" && cause.key != "smallDoses"));
}

#[test]
fn a_curve_has_a_shape_too() {
    let slow = [[Some(20.0), Some(14.0)], [Some(29.0), Some(20.0)], [Some(37.0), Some(26.0)], [None, Some(40.0)]];
    assert_eq!(first(&Shape::of_curve(&slow, &[0.01, -0.01, 0.0])), "coarseSolid");
    let high = [[Some(14.1), Some(14.0)], [Some(19.9), Some(20.0)]];
    assert_eq!(first(&Shape::of_curve(&high, &[0.3, 0.28, 0.31])), "probeHigh");
    assert!(Shape::of_curve(&[], &[]).causes().is_empty());
}

#[test]
fn no_cause_is_named_twice() {
    let mut keys = CAUSES.map(|cause| cause.key);
    keys.sort_unstable();
    assert!(keys.windows(2).all(|two| two[0] != two[1]));
}
