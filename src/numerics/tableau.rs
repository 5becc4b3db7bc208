//! Coefficients of Rodas5P, a stiffly accurate, L-stable Rosenbrock method of order 5
//! with an embedded method of order 4 and a dense output of order 4.
//!
//! Source: Steinebach 2023, *BIT Numerical Mathematics* 63, 27 ("Construction of
//! Rosenbrock-Wanner method Rodas5P and numerical benchmarks within the Julia
//! Differential Equations package"), in the transformed form of Hairer & Wanner 1996,
//! *Solving Ordinary Differential Equations II*, eq. IV.7.25. That the numbers were
//! copied right is checked in `tests/stiff_problems.rs`: the order of the step and of
//! the dense output is measured, and published end values are met.

/// Stages of the method.
pub const STAGES: usize = 8;

/// The diagonal coefficient γ.
pub const GAMMA: f64 = 0.21193756319429014;

/// A[i][j]: share of stage j in the point where stage i evaluates the right-hand side.
/// The last three rows are the sixth with ones appended (stiff accuracy).
pub const A: [[f64; 5]; 6] = [
    [0.0, 0.0, 0.0, 0.0, 0.0],
    [3.0, 0.0, 0.0, 0.0, 0.0],
    [2.849394379747939, 0.45842242204463923, 0.0, 0.0, 0.0],
    [-6.954028509809101, 2.489845061869568, -10.358996098473584, 0.0, 0.0],
    [2.8029986275628964, 0.5072464736228206, -0.3988312541770524, -0.04721187230404641, 0.0],
    [-7.502846399306121, 2.561846144803919, -11.627539656261098, -0.18268767659942256, 0.030198172008377946],
];

/// C[i][j] / h: weight of stage j on the right-hand side of stage i's linear system.
pub const C: [[f64; 7]; 8] = [
    [0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0],
    [-14.155112264123755, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0],
    [-17.97296035885952, -2.859693295451294, 0.0, 0.0, 0.0, 0.0, 0.0],
    [147.12150275711716, -1.41221402718213, 71.68940251302358, 0.0, 0.0, 0.0, 0.0],
    [165.43517024871676, -0.4592823456491126, 42.90938336958603, -5.961986721573306, 0.0, 0.0, 0.0],
    [24.854864614690072, -3.0009227002832186, 47.4931110020768, 5.5814197821558125, -0.6610691825249471, 0.0, 0.0],
    [
        30.91273214028599,
        -3.1208243349937974,
        77.79954646070892,
        34.28646028294783,
        -19.097331116725623,
        -28.087943162872662,
        0.0,
    ],
    [
        37.80277123390563,
        -3.2571969029072276,
        112.26918849496327,
        66.9347231244047,
        -40.06618937091002,
        -54.66780262877968,
        -9.48861652309627,
    ],
];

/// Rows of the dense output: y(θ) = (1-θ) y0 + θ (y1 + (1-θ)(d1 + θ (d2 + θ d3))),
/// with d_r = sum of H[r][j] times stage j.
pub const H: [[f64; STAGES]; 3] = [
    [
        25.948786856663858,
        -2.5579724845846235,
        10.433815404888879,
        -2.3679251022685204,
        0.524948541321073,
        1.1241088310450404,
        0.4272876194431874,
        -0.17202221070155493,
    ],
    [
        -9.91568850695171,
        -0.9689944594115154,
        3.0438037242978453,
        -24.495224566215796,
        20.176138334709044,
        15.98066361424651,
        -6.789040303419874,
        -6.710236069923372,
    ],
    [
        11.419903575922262,
        2.8879645146136994,
        72.92137995996029,
        80.12511834622643,
        -52.072871366152654,
        -59.78993625266729,
        -0.15582684282751913,
        4.883087185713722,
    ],
];
