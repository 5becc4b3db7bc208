//! The stepper on problems with published answers: what it finds, and what that costs.
//!
//! Stiff problems and their end values: Mazzia & Magherini 2008, *Test Set for Initial Value
//! Problem Solvers*, release 2.4, University of Bari, after Hairer & Wanner 1996, *Solving
//! Ordinary Differential Equations II* (problems ROBER, HIRES, VDPOL; reference solutions by
//! RADAU5 in quadruple precision at a tolerance of 1.1e-18). Convergence: Kaps 1981, whose
//! nonlinear problem has a solution in closed form at every stiffness.
//!
//! The cost stands in [`COSTS`], to the last step: a slowdown fails here before anyone
//! times it. After a change that is meant to move it, copy what the failing test prints.

use turnback::numerics::{Cost, Equations, Factored, Step, Stepper, StiffError, Tolerances};

// --- Problems ------------------------------------------------------------------

/// Robertson 1966: three species, rate constants nine orders of magnitude apart.
struct Robertson;

impl Equations<3> for Robertson {
    fn rates(&mut self, y: &[f64; 3]) -> [f64; 3] {
        let (first, second, third) = (0.04 * y[0], 1e4 * y[1] * y[2], 3e7 * y[1] * y[1]);
        [-first + second, first - second - third, third]
    }
    fn linearise(&mut self, y: &[f64; 3], rates: &mut [f64; 3], jacobian: &mut [[f64; 3]; 3]) {
        let (a, b, c) = (1e4 * y[2], 1e4 * y[1], 6e7 * y[1]);
        *rates = self.rates(y);
        *jacobian = [[-0.04, a, b], [0.04, -a - c, -b], [0.0, c, 0.0]];
    }
}

/// HIRES (Schäfer 1975): how a plant's growth answers to strong light, eight species.
struct Hires;

impl Equations<8> for Hires {
    fn rates(&mut self, y: &[f64; 8]) -> [f64; 8] {
        let bound = 280.0 * y[5] * y[7];
        [
            -1.71 * y[0] + 0.43 * y[1] + 8.32 * y[2] + 0.0007,
            1.71 * y[0] - 8.75 * y[1],
            -10.03 * y[2] + 0.43 * y[3] + 0.035 * y[4],
            8.32 * y[1] + 1.71 * y[2] - 1.12 * y[3],
            -1.745 * y[4] + 0.43 * y[5] + 0.43 * y[6],
            -bound + 0.69 * y[3] + 1.71 * y[4] - 0.43 * y[5] + 0.69 * y[6],
            bound - 1.81 * y[6],
            -bound + 1.81 * y[6],
        ]
    }
    fn linearise(&mut self, y: &[f64; 8], rates: &mut [f64; 8], jacobian: &mut [[f64; 8]; 8]) {
        let (a, b) = (280.0 * y[7], 280.0 * y[5]);
        *jacobian = [
            [-1.71, 0.43, 8.32, 0.0, 0.0, 0.0, 0.0, 0.0],
            [1.71, -8.75, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0],
            [0.0, 0.0, -10.03, 0.43, 0.035, 0.0, 0.0, 0.0],
            [0.0, 8.32, 1.71, -1.12, 0.0, 0.0, 0.0, 0.0],
            [0.0, 0.0, 0.0, 0.0, -1.745, 0.43, 0.43, 0.0],
            [0.0, 0.0, 0.0, 0.69, 1.71, -a - 0.43, 0.69, -b],
            [0.0, 0.0, 0.0, 0.0, 0.0, a, -1.81, b],
            [0.0, 0.0, 0.0, 0.0, 0.0, -a, 1.81, -b],
        ];
        *rates = self.rates(y);
    }
}

/// Van der Pol 1926 as Hairer & Wanner scale it: slow drift, then a jump within 1e-6.
struct VanDerPol;
const STIFFNESS: f64 = 1e-6;

impl Equations<2> for VanDerPol {
    fn rates(&mut self, y: &[f64; 2]) -> [f64; 2] {
        [y[1], ((1.0 - y[0] * y[0]) * y[1] - y[0]) / STIFFNESS]
    }
    fn linearise(&mut self, y: &[f64; 2], rates: &mut [f64; 2], jacobian: &mut [[f64; 2]; 2]) {
        let slopes = [(-2.0 * y[0] * y[1] - 1.0) / STIFFNESS, (1.0 - y[0] * y[0]) / STIFFNESS];
        *rates = self.rates(y);
        *jacobian = [[0.0, 1.0], slopes];
    }
}

/// Kaps 1981: y = (e^-2t, e^-t) whatever the stiffness 1/ε.
struct Kaps {
    epsilon: f64,
}

impl Kaps {
    fn solution(time: f64) -> [f64; 2] {
        [(-2.0 * time).exp(), (-time).exp()]
    }
}

impl Equations<2> for Kaps {
    fn rates(&mut self, y: &[f64; 2]) -> [f64; 2] {
        [-(1.0 / self.epsilon + 2.0) * y[0] + y[1] * y[1] / self.epsilon, y[0] - y[1] - y[1] * y[1]]
    }
    fn linearise(&mut self, y: &[f64; 2], rates: &mut [f64; 2], jacobian: &mut [[f64; 2]; 2]) {
        *jacobian = [[-(1.0 / self.epsilon + 2.0), 2.0 * y[1] / self.epsilon], [1.0, -1.0 - 2.0 * y[1]]];
        *rates = self.rates(y);
    }
}

/// y' = z y for a complex z = a + bi, as two real equations.
struct Linear {
    real: f64,
    imaginary: f64,
}

impl Equations<2> for Linear {
    fn rates(&mut self, y: &[f64; 2]) -> [f64; 2] {
        [self.real * y[0] - self.imaginary * y[1], self.imaginary * y[0] + self.real * y[1]]
    }
    fn linearise(&mut self, y: &[f64; 2], rates: &mut [f64; 2], jacobian: &mut [[f64; 2]; 2]) {
        *rates = self.rates(y);
        *jacobian = [[self.real, -self.imaginary], [self.imaginary, self.real]];
    }
}

/// y' = y², which leaves the realm of numbers at t = 1.
struct BlowUp;

impl Equations<1> for BlowUp {
    fn rates(&mut self, y: &[f64; 1]) -> [f64; 1] {
        [y[0] * y[0]]
    }
    fn linearise(&mut self, y: &[f64; 1], rates: &mut [f64; 1], jacobian: &mut [[f64; 1]; 1]) {
        *rates = self.rates(y);
        *jacobian = [[2.0 * y[0]]];
    }
}

// --- Following a problem -------------------------------------------------------

/// Integrates from 0 to an end: the last state, the steps, the cost.
fn follow<const N: usize, E: Equations<N>>(
    equations: &mut E,
    start: [f64; N],
    end: f64,
    relative: f64,
    absolute: [f64; N],
) -> Result<([f64; N], Vec<Step<N>>, Cost), StiffError> {
    let mut stepper = Stepper::new(Tolerances { relative: [relative; N], absolute });
    let (mut time, mut y) = (0.0, start);
    let mut steps = Vec::new();
    while time < end {
        let step = stepper.advance(equations, time, &y, end)?;
        (time, y) = (step.end(), step.to);
        steps.push(step);
    }
    Ok((y, steps, stepper.cost()))
}

/// One step of exactly this length, whatever its error.
fn one_step<const N: usize, E: Equations<N>>(equations: &mut E, start: &[f64; N], length: f64) -> Step<N> {
    let mut stepper = Stepper::new(Tolerances { relative: [0.0; N], absolute: [1e300; N] });
    stepper.expect(length);
    let step = stepper.advance(equations, 0.0, start, length).unwrap();
    assert_eq!(step.length, length);
    step
}

// --- Published end values, and what it costs to find them --------------------------

/// Steps, rejected steps, right-hand sides, Jacobians.
type Counts = [u64; 4];

/// What each run costs today.
const COSTS: [(&str, Counts); 8] = [
    ("Robertson to 40, 1e-4", [39, 2, 244, 39]),
    ("Robertson to 40, 1e-7", [174, 2, 1054, 174]),
    ("Robertson to 1e11, 1e-4", [134, 2, 814, 134]),
    ("Robertson to 1e11, 1e-7", [734, 2, 4414, 734]),
    ("HIRES, 1e-4", [88, 3, 543, 88]),
    ("HIRES, 1e-7", [849, 3, 5109, 849]),
    ("van der Pol, 1e-4", [317, 68, 2242, 317]),
    ("van der Pol, 1e-7", [2194, 15, 13239, 2194]),
];

/// Runs a problem and fails when it errs by more than was asked for. Gives its cost as it
/// would stand in [`COSTS`] where that has moved. The error is measured as the stepper is asked to: root mean square over the
/// components, each in units of what it may err by.
fn judge<const N: usize, E: Equations<N>>(
    name: &str,
    equations: &mut E,
    start: [f64; N],
    end: f64,
    wanted: [f64; N],
    relative: f64,
    absolute: [f64; N],
) -> Option<String> {
    let (found, _, cost) = follow(equations, start, end, relative, absolute).unwrap();
    let counts = [cost.steps, cost.rejected_steps, cost.right_hand_sides, cost.jacobians];
    let mut sum = 0.0;
    for i in 0..N {
        let part = (found[i] - wanted[i]) / (absolute[i] + relative * wanted[i].abs());
        sum += part * part;
    }
    let error = (sum / N as f64).sqrt();
    println!("{name}: {counts:?}, error {error:.3} of the tolerance");
    assert!(error <= 1.0, "{name}: {error} times the tolerance; found {found:?}, wanted {wanted:?}");
    let frozen = COSTS.iter().find(|(known, _)| *known == name);
    let as_frozen = frozen.is_some_and(|(_, frozen)| *frozen == counts);
    (!as_frozen).then(|| format!("(\"{name}\", {counts:?}),"))
}

/// Fails when a cost has moved, with the lines that would have to stand in [`COSTS`].
fn assert_none_moved(moved: &[String]) {
    assert!(moved.is_empty(), "the cost has moved; today it is\n{}", moved.join("\n"));
}

/// Tolerances that each problem is run at.
const LOOSE: f64 = 1e-4;
const TIGHT: f64 = 1e-7;

#[test]
fn robertson_ends_at_the_published_values_for_the_tolerance_asked_for() {
    // t = 40: Taylor series of order 30 in 30-digit arithmetic, run for this test; the first
    // figures are those that every solver's manual prints for this problem.
    let at_40 = [0.715_827_068_719_405_1, 9.185_534_764_557_764e-6, 0.284_163_745_745_830_35];
    // t = 1e11: Test Set, ROBER.
    let at_1e11 = [0.208_334_014_970_125_5e-7, 0.833_336_077_033_471_3e-13, 0.999_999_979_166_505];
    let mut moved = Vec::new();
    for (end, wanted) in [(40.0, at_40), (1e11, at_1e11)] {
        for relative in [LOOSE, TIGHT] {
            // The second species is never more than 4e-5 and 1e-13 at the end.
            let absolute = [relative * 1e-6, relative * 1e-10, relative * 1e-6];
            let name = format!("Robertson to {}, {relative:e}", if end < 100.0 { "40" } else { "1e11" });
            moved.extend(judge(&name, &mut Robertson, [1.0, 0.0, 0.0], end, wanted, relative, absolute));
        }
    }
    assert_none_moved(&moved);
}

#[test]
fn hires_ends_at_the_published_values_for_the_tolerance_asked_for() {
    // Test Set, HIRES.
    let wanted = [
        0.737_131_257_332_566_8e-3,
        0.144_248_572_631_618_5e-3,
        0.588_872_974_096_757_5e-4,
        0.117_565_134_328_314_9e-2,
        0.238_635_619_883_133_1e-2,
        0.623_896_825_274_279_6e-2,
        0.284_999_839_518_576_9e-2,
        0.285_000_160_481_423_1e-2,
    ];
    let mut start = [0.0; 8];
    (start[0], start[7]) = (1.0, 0.0057);
    let moved: Vec<String> = [LOOSE, TIGHT]
        .into_iter()
        .filter_map(|relative| {
            let name = format!("HIRES, {relative:e}");
            judge(&name, &mut Hires, start, 321.8122, wanted, relative, [relative * 1e-4; 8])
        })
        .collect();
    assert_none_moved(&moved);
}

#[test]
fn van_der_pol_ends_at_the_published_values_for_the_tolerance_asked_for() {
    // Test Set, VDPOL: ε = 1e-6, t = 2.
    let wanted = [0.170_616_773_217_048_3e1, -0.892_809_701_024_797_5];
    let moved: Vec<String> = [LOOSE, TIGHT]
        .into_iter()
        .filter_map(|relative| {
            let name = format!("van der Pol, {relative:e}");
            judge(&name, &mut VanDerPol, [2.0, 0.0], 2.0, wanted, relative, [relative; 2])
        })
        .collect();
    assert_none_moved(&moved);
}

// --- Order --------------------------------------------------------------------------

/// Slope of log error over log step length between the first and the last.
fn order(lengths: &[f64], errors: &[f64]) -> f64 {
    let last = errors.len() - 1;
    (errors[0] / errors[last]).ln() / (lengths[0] / lengths[last]).ln()
}

/// Largest departure from Kaps's solution at a time.
fn departure(y: &[f64; 2], time: f64) -> f64 {
    let solution = Kaps::solution(time);
    (0..2).map(|i| (y[i] - solution[i]).abs()).fold(0.0, f64::max)
}

/// Error at t = 1 after equal steps.
fn error_at_1(problem: &mut Kaps, steps: u32) -> f64 {
    let length = 1.0 / f64::from(steps);
    let mut y = Kaps::solution(0.0);
    for _ in 0..steps {
        y = one_step(problem, &y, length).to;
    }
    departure(&y, 1.0)
}

/// Errors of one step's end, and the largest inside it.
fn errors_of_one_step(problem: &mut Kaps, length: f64) -> (f64, f64) {
    let step = one_step(problem, &Kaps::solution(0.0), length);
    let inside = (1..20).map(|i| length * f64::from(i) / 20.0).map(|t| departure(&step.at(t), t));
    (departure(&step.to, length), inside.fold(0.0, f64::max))
}

/// Order of the method (Hairer & Wanner 1996, section IV.7), and of its dense output.
const ORDER: f64 = 4.0;
const DENSE_ORDER: f64 = 3.0;
/// What is measured at steps that are not infinitely short differs from a whole number.
const ORDER_MARGIN: f64 = 0.2;

#[test]
fn halving_the_step_divides_the_error_as_the_methods_order_says() {
    // Coarse enough that rounding (1e-16) does not show, fine enough for the leading term.
    let steps = [16, 32, 64];
    let errors = steps.map(|n| error_at_1(&mut Kaps { epsilon: 1.0 }, n));
    let found = order(&steps.map(|n| 1.0 / f64::from(n)), &errors);
    println!("order {found:.3}: {errors:?}");
    assert!((found - ORDER).abs() <= ORDER_MARGIN, "order {found}: {errors:?}");
}

#[test]
fn stiffness_does_not_take_the_order_away() {
    // A stiffly accurate method keeps its order on an index-1 problem, the limit ε → 0.
    let steps = [16, 32, 64];
    let errors = steps.map(|n| error_at_1(&mut Kaps { epsilon: 1e-9 }, n));
    let found = order(&steps.map(|n| 1.0 / f64::from(n)), &errors);
    println!("stiff: order {found:.3}: {errors:?}");
    assert!(found >= ORDER - ORDER_MARGIN, "order {found}: {errors:?}");
}

#[test]
fn one_step_and_its_dense_output_have_their_orders() {
    // In one step a method of order p errs by a multiple of h^(p+1).
    let lengths = [0.05, 0.025, 0.0125];
    let (ends, insides): (Vec<f64>, Vec<f64>) =
        lengths.iter().map(|&h| errors_of_one_step(&mut Kaps { epsilon: 1.0 }, h)).unzip();
    let (end, inside) = (order(&lengths, &ends) - 1.0, order(&lengths, &insides) - 1.0);
    println!("order {end:.3} at the end, {inside:.3} inside: {ends:?} {insides:?}");
    assert!((end - ORDER).abs() <= ORDER_MARGIN, "order {end} at the end: {ends:?}");
    assert!((inside - DENSE_ORDER).abs() <= ORDER_MARGIN, "order {inside} inside: {insides:?}");
}

#[test]
fn dense_output_begins_and_ends_where_the_step_does() {
    let (_, steps, _) = follow(&mut Hires, [1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0057], 10.0, 1e-5, [1e-9; 8]).unwrap();
    for step in steps {
        assert_eq!(step.at(step.start), step.from);
        for (end, to) in step.at(step.end()).iter().zip(step.to) {
            assert!((end - to).abs() <= 1e-13, "{end} and {to}");
        }
    }
}

// --- Stability -------------------------------------------------------------------------

/// |R(z)|: by how much one step of length 1 stretches a solution of y' = z y.
fn growth(real: f64, imaginary: f64) -> f64 {
    let [a, b] = one_step(&mut Linear { real, imaginary }, &[1.0, 0.0], 1.0).to;
    a.hypot(b)
}

#[test]
fn nothing_that_decays_ever_grows() {
    // A-stable: |R| ≤ 1 in the left half of the plane, its edge included.
    for power in -20..=60 {
        let size = 10f64.powf(f64::from(power) / 10.0);
        for degrees in [90.0f64, 89.0, 75.0, 45.0, 10.0, 0.0] {
            let (real, imaginary) = (-size * degrees.to_radians().cos(), size * degrees.to_radians().sin());
            let grown = growth(real.min(0.0), imaginary);
            assert!(grown <= 1.0 + 1e-9, "|R| = {grown} at {size} e^±i(180-{degrees})°");
        }
    }
}

#[test]
fn what_decays_at_once_is_gone_after_one_step() {
    // L-stable: R falls like 1/z.
    for z in [1e3, 1e5, 1e7, 1e9] {
        let left = growth(-z, 0.0);
        assert!(left <= 20.0 / z, "|R(-{z:e})| = {left:e}");
    }
    // And what decays slowly is followed: e^-0.1.
    assert!((growth(-0.1, 0.0) - (-0.1f64).exp()).abs() <= 1e-7);
}

// --- Behaviour --------------------------------------------------------------------------

#[test]
fn sums_that_the_equations_keep_are_kept() {
    let (_, steps, _) = follow(&mut Robertson, [1.0, 0.0, 0.0], 1e11, 1e-6, [1e-12, 1e-16, 1e-12]).unwrap();
    for step in &steps {
        let sum: f64 = step.to.iter().sum();
        // A few units in the last place a step.
        assert!((sum - 1.0).abs() <= 1e-13, "sum {sum} at {}", step.end());
    }
}

#[test]
fn the_same_run_gives_the_same_bits() {
    let run = || follow(&mut VanDerPol, [2.0, 0.0], 2.0, 1e-5, [1e-5; 2]).unwrap();
    let (first, _, first_cost) = run();
    let (second, _, second_cost) = run();
    assert_eq!(first.map(f64::to_bits), second.map(f64::to_bits));
    assert_eq!(first_cost, second_cost);
}

#[test]
fn a_solution_that_leaves_the_realm_of_numbers_is_reported_where_it_does() {
    let Err(StiffError::StepTooSmall { time, length }) = follow(&mut BlowUp, [1.0], 2.0, 1e-6, [1e-6]).map(|(y, ..)| y)
    else {
        panic!("a singularity was stepped over");
    };
    assert!((time - 1.0).abs() <= 1e-6, "at {time}");
    assert!(length <= 1e-12);
}

// --- Linear systems -----------------------------------------------------------------------

/// Numbers between -1 and 1 that look random and are the same in every run (Knuth's MMIX
/// generator).
fn scattered(state: &mut u64) -> f64 {
    *state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    (*state >> 11) as f64 / (1u64 << 52) as f64 - 1.0
}

#[test]
fn linear_systems_of_the_beakers_size_are_solved() {
    let mut state = 1;
    for _ in 0..200 {
        let matrix: [[f64; 15]; 15] = core::array::from_fn(|i| {
            core::array::from_fn(|j| {
                // Half zeros and rows of very different size, as the beaker's have.
                let entry = scattered(&mut state);
                if entry > 0.0 && i != j { 0.0 } else { entry * 10f64.powi(i as i32 % 5 * 3) }
            })
        });
        let wanted: [f64; 15] = core::array::from_fn(|_| scattered(&mut state));
        let right = core::array::from_fn(|i| (0..15).map(|j| matrix[i][j] * wanted[j]).sum());
        let Some(factored) = Factored::new(&matrix) else { continue };
        let found = factored.solve(&right, 0);
        for i in 0..15 {
            // Backward stable: the residual is rounding, whatever the matrix's condition.
            let (mut residual, mut scale) = (-right[i], f64::MIN_POSITIVE);
            for j in 0..15 {
                residual += matrix[i][j] * found[j];
                scale += (matrix[i][j] * found[j]).abs();
            }
            assert!(residual.abs() <= 1e-11 * scale, "row {i}: residual {residual} of {scale}");
        }
    }
}

#[test]
fn hilberts_matrix_is_inverted_as_far_as_it_can_be() {
    // Condition 1.5e4 for 4 by 4: twelve figures are left. Its inverse is whole numbers
    // (Choi 1983, Amer. Math. Monthly 90, 301).
    let hilbert: [[f64; 4]; 4] = core::array::from_fn(|i| core::array::from_fn(|j| 1.0 / (i + j + 1) as f64));
    let factored = Factored::new(&hilbert).unwrap();
    let wanted = [
        [16.0, -120.0, 240.0, -140.0],
        [-120.0, 1200.0, -2700.0, 1680.0],
        [240.0, -2700.0, 6480.0, -4200.0],
        [-140.0, 1680.0, -4200.0, 2800.0],
    ];
    for (j, column) in wanted.iter().enumerate() {
        let mut unit = [0.0; 4];
        unit[j] = 1.0;
        for (found, wanted) in factored.solve(&unit, 0).iter().zip(column) {
            assert!((found - wanted).abs() <= 1e-8, "{found}, wanted {wanted}");
        }
    }
}

#[test]
fn matrices_that_are_singular_or_no_numbers_are_refused() {
    assert!(Factored::new(&[[0.0; 3]; 3]).is_none());
    assert!(Factored::new(&[[1.0, 2.0, 3.0], [2.0, 4.0, 8.0], [3.0, 6.0, 5.0]]).is_none());
    for place in 0..9 {
        let mut matrix = [[2.0, 1.0, 0.0], [1.0, 3.0, 1.0], [0.0, 1.0, 4.0]];
        matrix[place / 3][place % 3] = f64::NAN;
        assert!(Factored::new(&matrix).is_none(), "{matrix:?}");
    }
}
