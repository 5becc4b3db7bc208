//! The code that a class points its cameras at: read back by another author's decoder from the
//! very SVG that is shown, with its quiet zone and its error level.

use proptest::prelude::*;
use turnback::lesson::{LINK_MAX_CHARS, Lesson};
use turnback::view::QrView;

/// Pixels of one module when the SVG is laid out.
const SCALE: usize = 4;

/// The picture of a code's SVG: true is dark. Reads the two paths that it is made of, and
/// nothing else may be in it.
fn picture(view: &QrView) -> (usize, Vec<bool>) {
    let side = view.modules as usize;
    let head = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {side} {side}\" shape-rendering=\"crispEdges\">\
         <path fill=\"#fff\" d=\"M0 0h{side}v{side}H0z\"/><path d=\""
    );
    let runs = view.svg.strip_prefix(&head).and_then(|rest| rest.strip_suffix("\"/></svg>")).expect("two paths");
    let mut dark = vec![false; side * side];
    for run in runs.split_terminator('z') {
        let (x, rest) = run.strip_prefix('M').and_then(|run| run.split_once(' ')).expect("a place");
        let (y, rest) = rest.split_once('h').expect("a width");
        let (width, back) = rest.split_once("v1h-").expect("a height of one");
        assert_eq!(width, back);
        let [x, y, width] = [x, y, width].map(|number| number.parse::<usize>().expect("a number"));
        dark[y * side + x..][..width].fill(true);
    }
    (side, dark)
}

fn decoded(view: &QrView) -> (String, u16) {
    let (side, dark) = picture(view);
    let at = |x: usize, y: usize| if dark[(y / SCALE) * side + x / SCALE] { 0 } else { 255 };
    let mut image = rqrr::PreparedImage::prepare_from_greyscale(side * SCALE, side * SCALE, at);
    let grids = image.detect_grids();
    assert_eq!(grids.len(), 1);
    let (meta, text) = grids[0].decode().expect("readable");
    (text, meta.ecc_level)
}

#[test]
fn the_link_of_our_scenario_is_read_back_from_its_code() {
    let link = Lesson::default().link().expect("short");
    let address = format!("https://turnback.example/room-12/#{link}");
    let view = QrView::of(&address).expect("short enough");
    // Error level M is 0 in the format bits (ISO/IEC 18004, table 12).
    assert_eq!(decoded(&view), (address, 0));
    assert_eq!(view.reads, "board");
}

#[test]
fn four_modules_around_a_code_are_light() {
    let view = QrView::of("https://turnback.example/").expect("short enough");
    let (side, dark) = picture(&view);
    for y in 0..side {
        for x in 0..side {
            let quiet = x < 4 || y < 4 || x >= side - 4 || y >= side - 4;
            assert!(!(quiet && dark[y * side + x]));
        }
    }
    // The corner of the first finder pattern stands right behind it.
    assert!(dark[4 * side + 4]);
}

/// ISO/IEC 18004: version 10 holds 213 bytes at level M, version 15 412, version 40 2,331.
#[test]
fn a_longer_address_is_read_from_nearer_and_one_too_long_is_refused() {
    let reads = |bytes| QrView::of(&"x".repeat(bytes)).map(|view| view.reads).map_err(|reply| reply.key);
    assert_eq!([reads(213), reads(214), reads(412), reads(413)], [Ok("board"), Ok("paper"), Ok("paper"), Ok("close")]);
    assert_eq!((reads(2331), reads(2332)), (Ok("close"), Err(Some("tooLong"))));
    let longest = "x".repeat(LINK_MAX_CHARS);
    assert_eq!(decoded(&QrView::of(&longest).expect("fits")).0, longest);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn any_address_is_read_back(tail in "[A-Za-z0-9_-]{0,600}") {
        let address = format!("https://turnback.example/#v1.{tail}");
        prop_assert_eq!(decoded(&QrView::of(&address).expect("short enough")).0, address);
    }
}
