//! Colour against an independent calculation, the CIE white point and the sRGB standard.
//!
//! Files of `tests/reference/colour/` name their source in their first lines.

use turnback::colour::{
    Band, Clarity, Indicator, LinearRgb, Liquid, Surround, TorchSight, TorchView, Xyz, clarity, hiding_solids_g_l,
    is_pale, liquid_xyz, mark_contrast, sharp_contrast, shown, straight_beam, torch_beam_width_cm, torch_contrast,
    torch_sight, white_point,
};

/// The page shows 255 steps; a tristimulus value off by 5e-4 moves a mid-tone by less than a third of a step.
const XYZ_TOLERANCE: f64 = 5e-4;
/// Rounding at the edge between two steps may fall either way.
const SRGB_STEPS: i32 = 1;
/// The reference prints ten figures of fractions, absorption and returned light.
const PRINTED_FIGURES: f64 = 2e-8;

/// The reference calculation's mixture: 5 mL of stock in 600 mL.
fn indicator() -> Indicator {
    Indicator::universal(5.0, 600.0)
}

/// Column names and rows of a reference file, remarks left out.
fn table(file: &str) -> (Vec<String>, Vec<csv::StringRecord>) {
    let path = format!("{}/tests/reference/colour/{file}", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).unwrap();
    let names = reader.headers().unwrap().iter().map(str::to_owned).collect();
    let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
    assert!(!rows.is_empty(), "{file} is empty");
    (names, rows)
}

struct Row<'a>(&'a [String], &'a csv::StringRecord);

impl Row<'_> {
    fn word(&self, name: &str) -> &str {
        let at = self.0.iter().position(|column| column == name);
        &self.1[at.unwrap_or_else(|| panic!("no column {name}"))]
    }
    fn number(&self, name: &str) -> f64 {
        self.word(name).parse().unwrap()
    }
}

fn each(file: &str, mut judge: impl FnMut(Row)) {
    let (names, rows) = table(file);
    for row in &rows {
        judge(Row(&names, row));
    }
}

fn assert_near(got: f64, wanted: f64, tolerance: f64, what: &str) {
    assert!((got - wanted).abs() <= tolerance, "{what}: got {got}, wanted {wanted} ± {tolerance}");
}

#[test]
fn liquids_have_the_colours_of_the_independent_calculation() {
    each("model_cases.csv", |row| {
        let [ph, solids, path] = ["pH", "solids_g_per_L", "path_cm"].map(|name| row.number(name));
        let what = format!("pH {ph}, {solids} g/L, {path} cm");
        let xyz = liquid_xyz(&indicator(), ph, solids, path);
        assert_near(xyz.x, row.number("X"), XYZ_TOLERANCE, &what);
        assert_near(xyz.y, row.number("Y"), XYZ_TOLERANCE, &what);
        assert_near(xyz.z, row.number("Z"), XYZ_TOLERANCE, &what);
        let dimmed = shown(xyz).0;
        let plain = LinearRgb::of_xyz(xyz).encoded().0;
        for (channel, name) in ["R8", "G8", "B8"].into_iter().enumerate() {
            let off = i32::from(plain[channel]) - row.number(name) as i32;
            assert!(off.abs() <= SRGB_STEPS, "{what}: {name} off by {off}");
            let off = i32::from(dimmed[channel]) - row.number(&format!("{name}_gain092")) as i32;
            assert!(off.abs() <= SRGB_STEPS, "{what}: {name} as shown off by {off}");
        }
        assert_eq!(format!("{:?}", Band::of_ph(ph)), row.word("bin"), "{what}");
    });
}

#[test]
fn forms_absorption_scattering_and_returned_light_agree_on_the_way() {
    let forms = ["f_TB_H2", "f_TB_H1", "f_TB_L2", "f_MR_H", "f_MR_M", "f_BTB_H", "f_BTB_B", "f_PP_P2"];
    each("intermediates.csv", |row| {
        let [ph, solids, path] = ["pH", "solids", "path"].map(|name| row.number(name));
        let fractions = Indicator::fractions(ph);
        for (form, name) in forms.into_iter().enumerate() {
            assert_near(fractions[form], row.number(name), 1e-9, &format!("pH {ph} {name}"));
        }
        let liquid = Liquid::new(&indicator(), ph, solids);
        let absorption = liquid.absorption_per_cm();
        let scattering = liquid.reduced_scattering_per_cm();
        let returned = liquid.returned(path);
        // 525, 555 and 615 nm lie between two points of our grid: looked at where both grids have a point.
        let at = (430 - 380) / 10;
        let what = format!("pH {ph}, {solids} g/L at 430 nm");
        assert_near(absorption[at], row.number("mua_430"), PRINTED_FIGURES, &what);
        assert_near(scattering[at], row.number("musp_430"), PRINTED_FIGURES, &what);
        assert_near(returned[at], row.number("Q_430"), PRINTED_FIGURES, &what);
        for nm in [525.0, 555.0, 615.0] {
            let below = ((nm - 380.0) / 10.0_f64).floor() as usize;
            let wanted = row.number(&format!("Q_{nm}"));
            let (low, high) = (returned[below].min(returned[below + 1]), returned[below].max(returned[below + 1]));
            // Between the neighbours, but for the curvature of a band's peak over 10 nm.
            let slack = 0.02;
            assert!(
                wanted > low - slack && wanted < high + slack,
                "pH {ph}, {solids} g/L, {nm} nm: {wanted} outside {low}..{high}"
            );
        }
    });
}

#[test]
fn absorptivities_are_the_sums_of_their_bands() {
    let forms = ["TB_H2", "TB_H1", "TB_L2", "MR_H", "MR_M", "BTB_H", "BTB_B", "PP_P2"];
    let mut at = 0;
    each("dye_eps_10nm.csv", |row| {
        for (form, name) in forms.into_iter().enumerate() {
            let wanted = row.number(name);
            // Six figures are printed.
            let got = Liquid::molar_absorptivities()[at][form];
            assert_near(got, wanted, 2e-5 * wanted, &format!("{name}, row {at}"));
        }
        at += 1;
    });
    assert_eq!(at, 41);
}

#[test]
fn xyz_becomes_srgb_as_the_standard_says() {
    each("srgb_check.csv", |row| {
        let xyz = Xyz { x: row.number("X"), y: row.number("Y"), z: row.number("Z") };
        let linear = LinearRgb::of_xyz(xyz);
        let encoded = linear.encoded().0;
        for (channel, name) in ["R", "G", "B"].into_iter().enumerate() {
            assert_near(linear.0[channel], row.number(&format!("{name}_lin")), 1e-8, name);
            let off = i32::from(encoded[channel]) - row.number(&format!("{name}8")) as i32;
            assert_eq!(off, 0, "{name} of {xyz:?}");
        }
    });
}

/// IEC 61966-2-1:1999, 5.2: the curve is 12.92 v up to 0.0031308 and 1.055 v^(1/2.4) - 0.055 above.
/// 0.214041 is the linear light of the middle code 127.5/255 by its inverse.
#[test]
fn the_encoding_has_the_standards_fixed_points() {
    let code = |v: f64| LinearRgb([v, v, v]).encoded().0[0];
    assert_eq!(code(0.0), 0);
    assert_eq!(code(1.0), 255);
    assert_eq!(code(0.003_130_8), 10, "12.92 x 0.0031308 x 255 = 10.31");
    assert_eq!(code(0.214_041 - 1e-4), 127);
    assert_eq!(code(0.214_041 + 1e-4), 128);
    assert_eq!(code(-0.2), 0);
    assert_eq!(code(1.4), 255);
    assert_eq!(code(f64::NAN), 0);
}

/// ISO/CIE 11664-2: D65 for the 2° observer has x = 0.31272, y = 0.32903 (X 0.95047, Y 1, Z 1.08883). Those
/// are sums over 5 nm; on our grid of 10 nm the narrow z̄ comes out 7e-4 lower.
#[test]
fn the_white_point_is_d65() {
    let white = white_point();
    assert_near(white.x, 0.95047, 5e-4, "X");
    assert_near(white.y, 1.0, 1e-12, "Y");
    assert_near(white.z, 1.08883, 8e-4, "Z");
    let sum = white.x + white.y + white.z;
    assert_near(white.x / sum, 0.31272, 2e-4, "x");
    assert_near(white.y / sum, 0.32903, 2e-4, "y");
}

#[test]
fn without_dye_any_cloud_is_as_white_as_the_paper() {
    for solids in [0.0, 0.01, 1.0, 5.0] {
        let xyz = liquid_xyz(&Indicator::none(), 7.0, solids, 9.0);
        assert_near(xyz.y, 1.0, 1e-9, "Y");
        assert_near(xyz.x, white_point().x, 1e-9, "X");
    }
}

#[test]
fn a_clear_liquid_follows_beer_and_lambert() {
    let liquid = Liquid::new(&indicator(), 8.2, 0.0);
    let through = liquid.returned(9.0);
    let half = liquid.returned(4.5);
    for (whole, half) in through.iter().zip(half) {
        assert_near(*whole, half * half, 1e-12, "twice the path squares the share");
    }
}

#[test]
fn a_line_of_sight_through_two_clear_liquids_multiplies_their_shares() {
    let acid = Liquid::new(&indicator(), 2.0, 0.0);
    let base = Liquid::new(&indicator(), 10.0, 0.0);
    let both = acid.mixed_into(&base, 0.25).returned(8.0);
    let (first, second) = (acid.returned(2.0), base.returned(6.0));
    for at in 0..both.len() {
        assert_near(both[at], first[at] * second[at], 1e-12, "product");
    }
}

/// The concentrations are those of the reference's constants (5 mL in 600 mL): 0.4465, 2.4756, 4.0040, 9.1627 µmol/L.
#[test]
fn the_stock_is_diluted() {
    let wanted = [4.46501925316302e-7, 2.475553905186286e-6, 4.003971940164643e-6, 9.162687442405965e-6];
    for (got, wanted) in indicator().concentrations_mol_l().into_iter().zip(wanted) {
        assert_near(got, wanted, 1e-9 * wanted, "mol/L");
    }
    for (stock, total) in [(5.0, 0.0), (-1.0, 600.0), (f64::NAN, 600.0), (f64::INFINITY, 600.0)] {
        assert_eq!(Indicator::universal(stock, total), Indicator::none());
    }
}

#[test]
fn a_ph_beyond_all_change_or_not_a_number_still_gives_a_colour() {
    for ph in [f64::NEG_INFINITY, -30.0, -2.0, 16.0, 400.0, f64::INFINITY, f64::NAN] {
        let xyz = liquid_xyz(&indicator(), ph, 1.0, 9.0);
        assert!(xyz.x.is_finite() && xyz.y.is_finite() && xyz.z.is_finite(), "pH {ph}");
    }
}

/// Worked from C = 0.9 exp(-9 c z) by hand: contrast 2 % (5 %) through 1 cm at 0.42 (0.32) g/L, through 9 cm at 0.047
/// (0.036) g/L; and exp(-12 x 0.01 x 9) = 34 %.
#[test]
fn marks_bars_and_beams_fade_as_worked_by_hand() {
    assert_near(hiding_solids_g_l(1.0, 0.02), 0.42, 0.005, "1 cm, 2 %");
    assert_near(hiding_solids_g_l(1.0, 0.05), 0.32, 0.005, "1 cm, 5 %");
    assert_near(hiding_solids_g_l(9.0, 0.02), 0.047, 5e-4, "9 cm, 2 %");
    assert_near(hiding_solids_g_l(9.0, 0.05), 0.036, 5e-4, "9 cm, 5 %");
    assert_near(mark_contrast(0.047, 9.0), 0.02, 5e-4, "contrast at the limit");
    assert_near(straight_beam(0.01, 9.0), 0.34, 0.005, "beam");
    assert_eq!(mark_contrast(0.0, 9.0), 0.9);
    assert_eq!(mark_contrast(-1.0, 9.0), 0.9);
    for solids in [0.0, 0.01, 0.1, 1.0] {
        assert!(sharp_contrast(solids, 9.0) <= mark_contrast(solids, 9.0));
    }
}

/// In a dim room before black card (20 times the room's light, background 0.05) 0.005 g/L shows with contrast 0.17; in a lit
/// room before white paper (5, 1) never above 0.004. Beam 1 cm wide, 4.5 cm in, 4.5 cm away, no dye.
#[test]
fn a_torch_finds_little_solid_in_the_dark_and_none_in_the_light() {
    let mut view = TorchView {
        solids_g_l: 0.005,
        absorption_per_cm: 0.0,
        beam_cm: 4.5,
        sight_cm: 4.5,
        beam_width_cm: 1.0,
        torch_over_room: 20.0,
        background: 0.05,
    };
    assert_near(torch_contrast(&view), 0.17, 0.03, "dark");
    view.torch_over_room = 5.0;
    view.background = 1.0;
    for solids in [0.001, 0.005, 0.012, 0.02, 0.1, 1.0] {
        view.solids_g_l = solids;
        assert!(torch_contrast(&view) <= 0.004, "{solids} g/L in the light");
    }
    assert_eq!(torch_beam_width_cm(1.0, 0.0, 9.0), 1.0);
    assert!(torch_beam_width_cm(1.0, 0.1, 9.0) > 1.0);
}

/// The limits of sight by the same formula: without a dye a beam shows from 0.001 g/L (0.04 to 0.05) and dissolves where
/// µs' x reaches a half, 0.11 g/L in the middle of 9 cm; the bar behind 9 cm is lost at 0.047 g/L, some fifty times as much.
#[test]
fn a_torch_tells_nothing_beam_and_glow_apart() {
    assert_eq!(torch_sight(0.0, 0.0, 9.0), TorchSight::Nothing);
    assert_eq!(torch_sight(0.0005, 0.0, 9.0), TorchSight::Nothing);
    assert_eq!(torch_sight(0.001, 0.0, 9.0), TorchSight::Beam);
    assert_eq!(torch_sight(0.02, 0.0, 9.0), TorchSight::Beam);
    assert_eq!(torch_sight(0.10, 0.0, 9.0), TorchSight::Beam);
    assert_eq!(torch_sight(0.12, 0.0, 9.0), TorchSight::Glow);
    assert_eq!(torch_sight(2.3, 0.0, 9.0), TorchSight::Glow);
    assert_eq!(torch_sight(0.001, 0.5, 9.0), TorchSight::Nothing, "a dye swallows it");
}

/// Before a black card a clear liquid shows the card through its dye, and a suspension throws back what the room sends: as
/// thick as it is white, R tends to y/(x+y+z) of the front's light and nothing of the card is left.
#[test]
fn before_black_card_clear_is_dark_and_milk_is_lit_from_the_front() {
    let dark = Surround { front: 0.3, behind: 0.05 };
    let clear = Liquid::new(&Indicator::none(), 7.0, 0.0).seen_in(dark);
    assert_near(clear.xyz(9.0).y, 0.05, 1e-6, "clear");
    let milk = Liquid::new(&Indicator::none(), 7.0, 50.0).seen_in(dark);
    assert_near(milk.xyz(9.0).y, 0.3, 0.01, "milk");
    let white = Surround { front: 1.0, behind: 1.0 };
    let lit = Liquid::new(&indicator(), 9.0, 1.0);
    assert_eq!(lit.seen_in(white).xyz(9.0), lit.xyz(9.0));
}

/// Mie theory, per g/L at 550 nm: 1.17 cm⁻¹ for 1 µm and 0.79 for 2 µm.
#[test]
fn half_the_size_scatters_one_and_a_half_times_as_much() {
    let liquid = Liquid::new(&Indicator::none(), 7.0, 1.0);
    let at_550 = |liquid: &Liquid| liquid.reduced_scattering_per_cm()[17];
    assert_near(at_550(&liquid.of_fineness(2.0)) / at_550(&liquid), 1.17 / 0.79, 0.05, "half the size");
    assert_eq!(at_550(&liquid.of_fineness(1.0)), at_550(&liquid));
}

#[test]
fn bands_change_at_their_edges_and_stand_from_acid_to_base() {
    let edges = [4.3, 5.4, 6.3, 6.8, 7.4, 8.5, 9.4];
    for (at, edge) in edges.into_iter().enumerate() {
        assert_eq!(Band::of_ph(edge - 1e-9), Band::ALL[at]);
        assert_eq!(Band::of_ph(edge), Band::ALL[at + 1]);
    }
    for band in Band::ALL {
        assert_eq!(Band::of_ph(band.sample_ph()), band);
        assert_eq!(Band::of_key(band.key()), Some(band));
        assert_eq!(band.letter().to_lowercase().next(), band.key().chars().next());
    }
    assert_eq!(Band::of_ph(-3.0), Band::Red);
    assert_eq!(Band::of_ph(15.0), Band::Violet);
    assert_eq!(Band::of_key("mauve"), None);
}

/// Sample colours of the bands at 9 cm as shown, clear and with 1 and 4 g/L: from the same independent
/// calculation as `model_cases.csv`.
#[test]
fn chips_have_their_computed_colours() {
    let wanted = [
        [0xff7966, 0xff8981, 0xfcaba9],
        [0xff9e59, 0xffa17b, 0xfcbaa6],
        [0xf3ca52, 0xecc377, 0xeacfa4],
        [0xc2c561, 0xbbbd7f, 0xc9cba8],
        [0x7db078, 0x8bac8b, 0xadc1af],
        [0x1c9593, 0x659a9a, 0x97b6b8],
        [0x277199, 0x66859e, 0x95aaba],
        [0x531483, 0x745d91, 0x9c8cb4],
    ];
    for (band, wanted) in Band::ALL.into_iter().zip(wanted) {
        for (solids, wanted) in [0.0, 1.0, 4.0].into_iter().zip(wanted) {
            let got = shown(liquid_xyz(&indicator(), band.sample_ph(), solids, 9.0)).0;
            for (channel, got) in got.into_iter().enumerate() {
                let wanted = (wanted >> (16 - 8 * channel)) & 0xff;
                let off = i32::from(got) - wanted;
                assert!(off.abs() <= SRGB_STEPS, "{band:?} {solids} g/L channel {channel}: {off}");
            }
        }
    }
}

#[test]
fn words_for_clearness_follow_the_contrast() {
    assert_eq!(clarity(0.9), Clarity::Clear);
    assert_eq!(clarity(0.8), Clarity::Hazy);
    assert_eq!(clarity(0.3), Clarity::Cloudy);
    assert_eq!(clarity(0.05), Clarity::Cloudy);
    assert_eq!(clarity(0.049), Clarity::Milky);
    assert!(!is_pale(0.49) && is_pale(0.5));
    for word in Clarity::ALL {
        assert_eq!(Clarity::of_key(word.key()), Some(word));
    }
}
