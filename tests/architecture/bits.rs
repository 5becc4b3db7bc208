//! No function is called whose last bits differ between machines.

use std::process::Command;

use super::code::{code_of, tokens};
use super::sources::{Source, sample, sources};
use crate::none;

/// Rust's own functions whose results are left to each machine's library.
/// `sqrt`, `abs`, `min`, `max`, `floor` and the like are exact everywhere and
/// so are not here.
const INEXACT: &[&str] = &[
    "exp", "exp2", "exp_m1", "ln", "ln_1p", "log", "log2", "log10", "powi", "powf", "cbrt", "hypot", "sin", "cos",
    "tan", "sin_cos", "asin", "acos", "atan", "atan2", "sinh", "cosh", "tanh", "asinh", "acosh", "atanh", "mul_add",
];

/// Where a file calls a function whose last bits depend on the machine.
fn inexact_calls(source: &Source) -> Vec<String> {
    let tokens = tokens(&code_of(&source.text));
    let sign = |at: usize| tokens.get(at).map_or("", |(_, token)| token.as_str());
    (1..tokens.len())
        .filter(|&at| INEXACT.contains(&sign(at)))
        .filter(|&at| match sign(at - 1) {
            // `log` takes a base; a `log()` without one is somebody's record.
            "." => sign(at + 1) == "(" && (sign(at) != "log" || sign(at + 2) != ")"),
            "::" => at > 1 && matches!(sign(at - 2), "f64" | "f32"),
            _ => false,
        })
        .map(|at| {
            let (line, name) = &tokens[at];
            format!("{}:{line}: `{name}`: call libm's instead", source.name)
        })
        .collect()
}

#[test]
fn no_function_is_called_whose_bits_depend_on_the_machine() {
    none(&sources().iter().flat_map(inexact_calls).collect::<Vec<_>>());
}

/// The same, seen from the other side: what the linker had to look for in the
/// system's mathematical library. It would also find a call that a dependency
/// makes, or one that a macro hides.
#[test]
fn the_native_program_asks_the_system_for_no_mathematical_function() {
    let program = env!("CARGO_BIN_EXE_turnback");
    let symbols = Command::new("nm").args(["--dynamic", "--undefined-only", program]).output().expect("nm (binutils)");
    assert!(symbols.status.success(), "nm could not read {program}");
    let symbols = String::from_utf8_lossy(&symbols.stdout);
    // Were nothing undefined at all, the reading would have failed silently.
    assert!(symbols.contains("memcpy"), "nm listed nothing of {program}");
    none(&system_mathematics(&symbols));
}

/// Among undefined symbols, those that are functions of the system's library of
/// mathematics.
fn system_mathematics(symbols: &str) -> Vec<String> {
    const NAMES: &[&str] = &[
        "exp", "exp2", "expm1", "log", "log1p", "log2", "log10", "pow", "cbrt", "hypot", "sin", "cos", "tan", "sincos",
        "asin", "acos", "atan", "atan2", "sinh", "cosh", "tanh", "asinh", "acosh", "atanh", "fma",
    ];
    symbols
        .lines()
        .filter_map(|line| line.split_whitespace().last())
        .map(|symbol| symbol.split('@').next().unwrap_or(symbol))
        .filter(|symbol| {
            NAMES.contains(&symbol.strip_suffix('f').filter(|_| *symbol != "f").unwrap_or(symbol))
                || NAMES.contains(symbol)
        })
        .map(|symbol| format!("`{symbol}` comes from the system"))
        .collect()
}

#[test]
fn an_inexact_call_is_found_however_it_is_written() {
    for text in ["x.exp()", "x\n    .powi (2)", "f64::ln(x)", "xs.map(f64::tanh)", "a.mul_add(b, c)", "1f64.sin()"] {
        assert_eq!(inexact_calls(&sample("colour", 1, text)).len(), 1, "{text}");
    }
    for text in [
        "libm::exp(x)",
        "session.log()",
        "x.sqrt()",
        "x.exponent()",
        "exp(x)",
        "// x.exp()",
        "\"x.ln()\"",
        "dual.exponential()",
    ] {
        none(&inexact_calls(&sample("colour", 1, text)));
    }
}

#[test]
fn a_symbol_of_the_system_is_found() {
    let listed = "                 U memcpy@GLIBC_2.14\n                 U exp@GLIBC_2.29\n                 U powf@GLIBC_2.27\n                 U expect_nothing\n";
    assert_eq!(system_mathematics(listed).len(), 2);
}
