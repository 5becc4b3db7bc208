use super::nist;
use turnback::measure::{Apparent, Common, Line, LineError};

fn near(found: f64, wanted: f64, tolerance: f64) {
    assert!((found - wanted).abs() <= tolerance * wanted.abs(), "{found} is not {wanted}");
}

/// NIST StRD, Norris (36 points, lower level of difficulty): certified values of the file, to the digits that f64 can give.
#[test]
fn the_line_is_that_of_nists_norris() {
    let text = nist::text("Norris.dat");
    let (y, x) = nist::data(&text);
    assert_eq!(y.len(), 36);
    let line = Line::through(&x, &y).unwrap();
    let certified = |name: &str| {
        let row = text.lines().find(|line| line.trim_start().starts_with(name)).expect(name);
        let numbers: Vec<f64> = row.split_whitespace().skip(1).map(|word| word.parse().unwrap()).collect();
        [numbers[0], numbers[1]]
    };
    let ([intercept, intercept_error], [slope, slope_error]) = (certified("B0 "), certified("B1 "));
    near(line.slope, slope, 1e-13);
    near(line.slope_error.unwrap(), slope_error, 1e-11);
    near(line.intercept, intercept, 1e-11);
    near(line.intercept_error.unwrap(), intercept_error, 1e-11);
    near(line.residual_deviation.unwrap(), nist::certified(&text, "Standard Deviation"), 1e-11);
    near(line.r_squared, nist::certified(&text, "R-Squared"), 1e-14);
}

/// An Arrhenius line through six invented times at three temperatures: scipy 1.17.1, `stats.linregress(1/T, log(1/t))` and
/// `stats.t.ppf(0.975, 4)`, of the same doubles.
#[test]
fn an_arrhenius_line_is_that_of_a_general_statistics_library() {
    let celsius = [2.0, 2.4, 21.0, 21.3, 34.2, 33.8];
    let seconds = [70.0, 68.0, 20.0, 21.0, 12.0, 12.5];
    let x = celsius.map(|c: f64| 1.0 / (c + 273.15));
    let y = seconds.map(|t: f64| (1.0 / t).ln());
    let line = Line::through(&x, &y).unwrap();
    near(line.slope, -4655.9553242843485, 1e-11);
    near(line.intercept, 12.709603333127358, 1e-11);
    near(line.slope_error.unwrap(), 218.37563442574915, 1e-10);
    near(line.intercept_error.unwrap(), 0.7494569850028305, 1e-10);
    near(line.r_squared, 0.9912774002063847, 1e-11);
    let [low, high] = line.slope_range().unwrap();
    near(low, -5262.263285580182, 1e-10);
    near(high, -4049.6473629885145, 1e-10);
    // Where the x are on the average the line's range is narrowest: s t/√n.
    let middle = x.iter().sum::<f64>() / 6.0;
    let [low, high] = line.range_at(middle).unwrap();
    near(high - low, 2.0 * 2.7764451051977934 * line.residual_deviation.unwrap() / 6f64.sqrt(), 1e-9);
}

#[test]
fn two_points_give_a_line_but_no_range() {
    let line = Line::through(&[1.0, 3.0], &[5.0, 1.0]).unwrap();
    assert_eq!((line.slope, line.intercept, line.at(2.0)), (-2.0, 7.0, 3.0));
    assert_eq!((line.slope_range(), line.intercept_range(), line.range_at(2.0)), (None, None, None));
}

#[test]
fn what_leaves_a_line_open_is_refused_with_its_reason() {
    assert_eq!(Line::through(&[], &[]), Err(LineError::TooFew { points: 0 }));
    assert_eq!(Line::through(&[1.0, 2.0], &[1.0]), Err(LineError::TooFew { points: 1 }));
    assert_eq!(Line::through(&[0.1, 0.1, 0.1], &[1.0, 2.0, 3.0]), Err(LineError::OneX));
    assert_eq!(Line::through(&[1.0, 2.0, f64::NAN], &[1.0, 2.0, 3.0]), Err(LineError::NotANumber));
    assert_eq!(Line::through(&[1.0, 2.0], &[1.0, f64::INFINITY]), Err(LineError::NotANumber));
    // The same height everywhere is a line, and a perfect one.
    let flat = Line::through(&[1.0, 2.0, 3.0], &[4.0, 4.0, 4.0]).unwrap();
    assert_eq!((flat.slope, flat.r_squared), (0.0, 1.0));
}

/// Three doses at several temperatures, lines of one slope: scipy 1.17.1 and numpy 2.4.6, `lstsq` with a column of ones for each
/// dose, its covariance, and `t.ppf(0.975, 4)`; energies are -R times the slope.
#[test]
fn the_slope_that_lines_share_is_that_of_a_general_library() {
    let lines = [
        vec![(2.0, 64.0), (21.0, 18.6), (34.0, 12.4)],
        vec![(2.0, 88.0), (21.0, 25.4), (34.0, 15.2)],
        vec![(21.0, 31.8), (34.0, 19.6)],
    ];
    let common = Common::through(&lines).unwrap();
    let [low, high] = common.range.unwrap();
    for (found, wanted) in
        [(common.energy_kj_mol, 37.280374999205975), (low, 29.936673152383424), (high, 44.62407684602853)]
    {
        assert!((found / wanted - 1.0).abs() < 1e-9, "{found} {wanted}");
    }
    // One line alone is the straight line through it.
    let alone = Apparent::through(&lines[0]).unwrap();
    let one = Common::through(&lines[..1]).unwrap();
    assert!((one.energy_kj_mol - alone.energy_kj_mol).abs() < 1e-9);
    for (one, alone) in one.range.unwrap().into_iter().zip(alone.range.unwrap()) {
        assert!((one - alone).abs() < 1e-7, "{one} {alone}");
    }
    assert_eq!(Common::through(&lines[2..]).unwrap().range, None, "two points have no range");
    assert_eq!(Common::through(&[vec![(2.0, 64.0)], vec![(21.0, 18.6)]]), None, "each dose at one temperature");
}
