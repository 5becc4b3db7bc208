use turnback::measure::{student_t, two_sided_probability};

/// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, upper critical values of Student's t: degrees of freedom, then
/// one-sided 0.10, 0.05, 0.025, 0.01, 0.005, 0.001 (a copy of the table in a stored web page; its three decimals).
const TABLE: [(usize, [f64; 6]); 12] = [
    (1, [3.078, 6.314, 12.706, 31.821, 63.657, 318.313]),
    (2, [1.886, 2.920, 4.303, 6.965, 9.925, 22.327]),
    (3, [1.638, 2.353, 3.182, 4.541, 5.841, 10.215]),
    (4, [1.533, 2.132, 2.776, 3.747, 4.604, 7.173]),
    (5, [1.476, 2.015, 2.571, 3.365, 4.032, 5.893]),
    (8, [1.397, 1.860, 2.306, 2.896, 3.355, 4.499]),
    (12, [1.356, 1.782, 2.179, 2.681, 3.055, 3.929]),
    (17, [1.333, 1.740, 2.110, 2.567, 2.898, 3.646]),
    (24, [1.318, 1.711, 2.064, 2.492, 2.797, 3.467]),
    (30, [1.310, 1.697, 2.042, 2.457, 2.750, 3.385]),
    (60, [1.296, 1.671, 2.000, 2.390, 2.660, 3.232]),
    (100, [1.290, 1.660, 1.984, 2.364, 2.626, 3.174]),
];

#[test]
fn the_quantiles_are_those_of_the_published_table() {
    for (freedom, row) in TABLE {
        for (tail, wanted) in [0.10, 0.05, 0.025, 0.01, 0.005, 0.001].into_iter().zip(row) {
            let t = student_t(1.0 - 2.0 * tail, freedom);
            // The handbook's last digit is off in its last column (318.313 stands for 318.309, 4.499 for 4.501).
            let tolerance = if tail == 0.001 { 2e-5 * wanted + 2.5e-3 } else { 5.001e-4 };
            assert!((t - wanted).abs() <= tolerance, "{freedom} {tail}: {t}, not {wanted}");
        }
    }
}

/// scipy 1.17.1, `stats.t.ppf(0.975, freedom)`.
#[test]
fn the_quantiles_are_those_of_a_general_statistics_library() {
    for (freedom, wanted) in [
        (1, 12.706204736174694),
        (2, 4.302652729749462),
        (3, 3.1824463052837078),
        (7, 2.364624251592784),
        (17, 2.1098155778333156),
        (120, 1.9799304050824402),
        (1000, 1.9623390808264083),
    ] {
        let t = student_t(0.95, freedom);
        assert!((t - wanted).abs() < 1e-10 * wanted, "{freedom}: {t}, not {wanted}");
        assert!((two_sided_probability(-wanted, freedom) - 0.95).abs() < 1e-12);
    }
}

#[test]
fn without_a_degree_of_freedom_no_range_is_wide_enough() {
    assert_eq!(student_t(0.95, 0), f64::INFINITY);
}
