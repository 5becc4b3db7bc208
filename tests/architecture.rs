//! The house keeps its walls: who uses whom, where the outside world may be
//! named, and that no function is called whose last bits differ between
//! machines.
//!
//! The table of rooms is read from DEVELOPERS.md, so that what a newcomer reads
//! is what is enforced. Each check is shown to fail on a small bad sample.

use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
    path::{Path, PathBuf},
    process::Command,
};

/// The heading in DEVELOPERS.md under which the table of rooms stands.
const TABLE_HEADING: &str = "## Who may use whom";

/// Rust's own functions whose results are left to each machine's library.
/// `sqrt`, `abs`, `min`, `max`, `floor` and the like are exact everywhere and
/// so are not here.
const INEXACT: &[&str] = &[
    "exp", "exp2", "exp_m1", "ln", "ln_1p", "log", "log2", "log10", "powi", "powf", "cbrt", "hypot", "sin", "cos",
    "tan", "sin_cos", "asin", "acos", "atan", "atan2", "sinh", "cosh", "tanh", "asinh", "acosh", "atanh", "mul_add",
];

/// Crates that know JavaScript.
const OUTSIDE: &[&str] =
    &["wasm_bindgen", "wasm_bindgen_futures", "js_sys", "web_sys", "serde_wasm_bindgen", "console_error_panic_hook"];

/// The only room that may name them.
const DOOR: &str = "web";

// --- Reading the sources -----------------------------------------------------

/// One source file below `src/`.
struct Source {
    /// As it is named in messages, e.g. `src/colour/srgb.rs`.
    name: String,
    /// Its top-level module: `colour`; `lib` and `main` for the two roots.
    room: String,
    /// How many steps `super::` takes to the root of the crate.
    depth: usize,
    text: String,
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn sources() -> Vec<Source> {
    fn walk(directory: &Path, found: &mut Vec<PathBuf>) {
        for entry in fs::read_dir(directory).expect("src can be read") {
            let path = entry.expect("src can be listed").path();
            if path.is_dir() {
                walk(&path, found);
            } else if path.extension().is_some_and(|extension| extension == "rs") {
                found.push(path);
            }
        }
    }
    let base = root().join("src");
    let mut files = Vec::new();
    walk(&base, &mut files);
    files.sort();
    files
        .into_iter()
        .map(|path| {
            let below = path.strip_prefix(&base).expect("a file of src").with_extension("");
            let mut steps: Vec<String> = below.iter().map(|step| step.to_string_lossy().into_owned()).collect();
            if steps.last().is_some_and(|step| step == "mod") {
                steps.pop();
            }
            Source {
                name: format!("src/{}.rs", below.display()),
                room: steps[0].clone(),
                depth: steps.len(),
                text: fs::read_to_string(&path).expect("a source file is text"),
            }
        })
        .collect()
}

/// The modules of the native commands. They belong to another crate, which has
/// nothing of the core but what the core gives to everybody.
fn modules_of_main(sources: &[Source]) -> BTreeSet<String> {
    let main = sources.iter().find(|source| source.room == "main").expect("src/main.rs");
    let tokens = tokens(&code_of(&main.text));
    tokens.windows(2).filter(|two| two[0].1 == "mod").map(|two| two[1].1.clone()).collect()
}

/// The source with everything but code blanked out: comments, and what stands
/// in strings and characters. Lines stay where they are.
fn code_of(source: &str) -> String {
    let text: Vec<char> = source.chars().collect();
    let mut code = String::with_capacity(source.len());
    let mut at = 0;
    let blank = |code: &mut String, from: usize, to: usize| {
        code.extend(text[from..to].iter().map(|&c| if c == '\n' { '\n' } else { ' ' }));
    };
    while at < text.len() {
        let from = at;
        let rest = &text[at..];
        if rest.starts_with(&['/', '/']) {
            at += rest.iter().position(|&c| c == '\n').unwrap_or(rest.len());
            blank(&mut code, from, at);
        } else if rest.starts_with(&['/', '*']) {
            let mut open = 0;
            while at < text.len() {
                if text[at..].starts_with(&['/', '*']) {
                    open += 1;
                    at += 2;
                } else if text[at..].starts_with(&['*', '/']) {
                    open -= 1;
                    at += 2;
                    if open == 0 {
                        break;
                    }
                } else {
                    at += 1;
                }
            }
            blank(&mut code, from, at);
        } else if let Some(hashes) = raw_string(rest).filter(|_| !continues_a_word(&text, at)) {
            let close: Vec<char> = std::iter::once('"').chain(std::iter::repeat_n('#', hashes)).collect();
            at += 2 + hashes;
            while at < text.len() && !text[at..].starts_with(&close) {
                at += 1;
            }
            at = (at + close.len()).min(text.len());
            blank(&mut code, from, at);
        } else if rest[0] == '"' || (rest[0] == '\'' && is_character(rest)) {
            at += 1;
            while at < text.len() && text[at] != rest[0] {
                at += if text[at] == '\\' { 2 } else { 1 };
            }
            at = (at + 1).min(text.len());
            blank(&mut code, from, at);
        } else {
            code.push(text[at]);
            at += 1;
        }
    }
    code
}

/// The number of `#` of a raw string that begins here.
fn raw_string(rest: &[char]) -> Option<usize> {
    if rest[0] != 'r' {
        return None;
    }
    let hashes = rest[1..].iter().take_while(|&&c| c == '#').count();
    (rest.get(1 + hashes) == Some(&'"')).then_some(hashes)
}

fn continues_a_word(text: &[char], at: usize) -> bool {
    at > 0 && (text[at - 1].is_alphanumeric() || text[at - 1] == '_') && text[at - 1] != 'b'
}

/// Whether a quotation mark opens a character rather than a lifetime.
fn is_character(rest: &[char]) -> bool {
    rest.get(1) == Some(&'\\') || rest.get(2) == Some(&'\'')
}

/// Words and signs of the code with their line numbers; `::` is one sign.
fn tokens(code: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    for (number, line) in code.lines().enumerate() {
        let mut rest = line;
        while let Some(first) = rest.chars().next() {
            let word = rest.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(rest.len());
            let length = match word {
                0 if rest.starts_with("::") => 2,
                0 => first.len_utf8(),
                length => length,
            };
            if !first.is_whitespace() {
                found.push((number + 1, rest[..length].to_owned()));
            }
            rest = &rest[length..];
        }
    }
    found
}

/// A name that a file takes from the root of the crate.
struct FromRoot {
    line: usize,
    name: String,
    /// Written `crate::`. A chain of `super::` in an inner module, such as
    /// `tests`, may stop short of the root.
    certain: bool,
}

/// The names that the code takes from the root of the crate, with their lines:
/// from `crate::name`, `crate::{name, ...}` and `super::` chains that climb as
/// far as the root.
fn names_from_root(code: &str, depth: usize) -> Vec<FromRoot> {
    let tokens = tokens(code);
    let sign = |at: usize| tokens.get(at).map_or("", |(_, token)| token.as_str());
    let mut names = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        let mut after = at;
        let certain = sign(at) == "crate";
        let mut take = |at: usize| {
            if let Some((line, name)) = tokens.get(at) {
                names.push(FromRoot { line: *line, name: name.clone(), certain });
            }
        };
        let reaches_root = match sign(at) {
            "crate" if sign(at + 1) == "::" => {
                after += 2;
                true
            }
            "super" if sign(at + 1) == "::" => {
                let mut climbed = 0;
                while sign(after) == "super" && sign(after + 1) == "::" {
                    climbed += 1;
                    after += 2;
                }
                climbed >= depth
            }
            _ => false,
        };
        if !reaches_root {
            at = after.max(at + 1);
            continue;
        }
        if sign(after) == "{" {
            let mut open = 0;
            let mut begins = false;
            loop {
                match sign(after) {
                    "{" => {
                        open += 1;
                        begins = open == 1;
                    }
                    "}" => open -= 1,
                    "," => begins = open == 1,
                    "" => break,
                    _ if begins => {
                        take(after);
                        begins = false;
                    }
                    _ => {}
                }
                after += 1;
                if open == 0 {
                    break;
                }
            }
        } else {
            take(after);
        }
        at = after.max(at + 1);
    }
    names
}

// --- The checks ---------------------------------------------------------------

/// For each room, those that it may use.
type Rooms = BTreeMap<String, BTreeSet<String>>;

/// Reads the rows ``| `room` | `other`, `another` |`` under the heading.
fn table_of(developers: &str) -> Rooms {
    let (_, below) = developers.split_once(TABLE_HEADING).expect("DEVELOPERS.md has the table of rooms");
    below
        .lines()
        .skip(1)
        .take_while(|line| !line.starts_with("## "))
        .filter(|line| line.starts_with("| `"))
        .map(|line| {
            let mut columns = line.trim_matches('|').split('|');
            let mut quoted = || -> Vec<String> {
                let column = columns.next().expect("a row has two columns");
                column.split('`').skip(1).step_by(2).map(str::to_owned).collect()
            };
            let [room] = quoted().try_into().expect("a row begins with one room");
            (room, quoted().into_iter().collect())
        })
        .collect()
}

/// Where a file takes something from a room that the table does not grant.
fn forbidden_uses(source: &Source, rooms: &Rooms) -> Vec<String> {
    let Some(granted) = rooms.get(&source.room) else {
        return vec![format!("{}: the room `{}` has no row in DEVELOPERS.md", source.name, source.room)];
    };
    names_from_root(&code_of(&source.text), source.depth)
        .into_iter()
        .filter(|FromRoot { name, .. }| *name != source.room && !granted.contains(name))
        .filter(|FromRoot { name, certain, .. }| *certain || rooms.contains_key(name))
        .map(|FromRoot { line, name, .. }| format!("{}:{line}: `{}` uses `{name}`", source.name, source.room))
        .collect()
}

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

/// Where a file names the world outside.
fn outside_named(source: &Source) -> Vec<String> {
    if source.room == DOOR {
        return Vec::new();
    }
    tokens(&code_of(&source.text))
        .into_iter()
        .filter(|(_, name)| OUTSIDE.contains(&name.as_str()))
        .map(|(line, name)| format!("{}:{line}: `{name}` may be named in `{DOOR}` only", source.name))
        .collect()
}

fn none(complaints: &[String]) {
    assert!(complaints.is_empty(), "\n{}\n", complaints.join("\n"));
}

#[test]
fn every_room_uses_only_what_the_table_grants() {
    let rooms = table_of(&fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md"));
    let sources = sources();
    let of_main = modules_of_main(&sources);
    let complaints: Vec<String> = sources
        .iter()
        .filter(|source| source.room != "lib" && source.room != "main" && !of_main.contains(&source.room))
        .flat_map(|source| forbidden_uses(source, &rooms))
        .collect();
    none(&complaints);
    let gone: Vec<&String> = rooms.keys().filter(|room| !sources.iter().any(|source| source.room == **room)).collect();
    assert!(gone.is_empty(), "DEVELOPERS.md has rows for rooms that are not in src/: {gone:?}");
}

/// The heading in DEVELOPERS.md under which it stands what a teacher would test.
const CAPABILITIES: &str = "## What a teacher would test";

/// The numbers of the table's rows for which no test bears the number: `capability 8: ...` or `capability_8_...`, where
/// several share a test joined by `and`.
fn untested(developers: &str, tests: &str) -> Vec<String> {
    let after = developers.split_once(CAPABILITIES).map_or("", |(_, after)| after);
    let section = after.split("\n## ").next().unwrap_or("");
    let numbers = section.lines().filter_map(|line| line.strip_prefix("| ")?.split(' ').next()?.parse::<u32>().ok());
    let words = tests.replace('_', " ");
    let borne: BTreeSet<u32> = words
        .split("capability ")
        .skip(1)
        .flat_map(|rest| {
            rest.split([':', ' '])
                .map_while(|word| if word == "and" { Some(None) } else { word.parse().ok().map(Some) })
        })
        .flatten()
        .collect();
    numbers.filter(|number| !borne.contains(number)).map(|number| format!("capability {number} has no test")).collect()
}

#[test]
fn every_capability_has_a_test_that_bears_its_number() {
    let mut tests = String::new();
    for directory in ["tests", "tests/browser"] {
        for entry in fs::read_dir(root().join(directory)).expect("tests can be read") {
            let path = entry.expect("tests can be listed").path();
            // This file's own samples prove nothing.
            if path.is_file() && !path.ends_with("architecture.rs") {
                tests += &fs::read_to_string(&path).unwrap_or_default();
            }
        }
    }
    let developers = fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md");
    assert!(developers.contains(CAPABILITIES));
    none(&untested(&developers, &tests));
    let sample =
        "## What a teacher would test\n\n| # | a |\n|---|---|\n| 1 | x |\n| 2 | y |\n| 7 | z |\n\n## Next\n| 9 | q |";
    assert_eq!(untested(sample, "capability_2_and_7_six_doses"), ["capability 1 has no test"]);
    assert!(untested(sample, "\"capability 1: a\" \"capability 2 and 7: b\"").is_empty());
}

#[test]
fn the_table_has_no_circle() {
    let mut rooms = table_of(&fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md"));
    while !rooms.is_empty() {
        let free: Vec<String> = rooms
            .iter()
            .filter(|(_, granted)| !granted.iter().any(|other| rooms.contains_key(other)))
            .map(|(room, _)| room.clone())
            .collect();
        assert!(!free.is_empty(), "these rooms use each other in a circle: {:?}", rooms.keys());
        for room in free {
            rooms.remove(&room);
        }
    }
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
fn only_one_room_knows_javascript() {
    none(&sources().iter().flat_map(outside_named).collect::<Vec<_>>());
}

#[test]
fn a_native_build_holds_nothing_of_javascript() {
    let tree = |target: &[&str]| {
        let output = Command::new(env!("CARGO"))
            .args(["tree", "--locked", "--package", "turnback", "--prefix", "none", "--edges", "normal,build,dev"])
            .args(target)
            .current_dir(root())
            .output()
            .expect("cargo");
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).expect("names of crates are text")
    };
    assert!(tree(&[]).contains("libm"), "the tree lists the crates");
    assert!(!tree(&[]).contains("wasm-bindgen"), "a native build holds wasm-bindgen");
    // The same search finds it where it belongs.
    assert!(tree(&["--target", "wasm32-unknown-unknown"]).contains("wasm-bindgen"));
}

// --- Each check can fail --------------------------------------------------------

fn sample(room: &str, depth: usize, text: &str) -> Source {
    Source { name: format!("{room}.rs"), room: room.to_owned(), depth, text: text.to_owned() }
}

fn small_table() -> Rooms {
    table_of(&format!(
        "# House\n{TABLE_HEADING}\n\n| room | may use |\n|---|---|\n| `numerics` | nothing |\n| `chemistry` | `numerics` |\n\n## Next\n| `colour` | |\n"
    ))
}

#[test]
fn the_table_is_read_as_far_as_its_section_goes() {
    let rooms = small_table();
    assert_eq!(rooms.keys().collect::<Vec<_>>(), ["chemistry", "numerics"]);
    assert!(rooms["numerics"].is_empty());
    assert!(rooms["chemistry"].contains("numerics"));
}

#[test]
fn a_use_that_is_not_granted_is_found_however_it_is_written() {
    let rooms = small_table();
    for text in [
        "use crate::chemistry::Pour;",
        "use crate::{\n    numerics::Step,\n    chemistry::{Pour, Setup},\n};",
        "fn f() { crate::chemistry::pour() }",
        "use super::chemistry;",
        "use super::{numerics, chemistry};",
        "use crate::Pour;",
        "use crate::{\n    Pour,\n};",
    ] {
        assert_eq!(forbidden_uses(&sample("numerics", 1, text), &rooms).len(), 1, "{text}");
    }
    assert_eq!(forbidden_uses(&sample("numerics", 2, "use super::super::chemistry;"), &rooms).len(), 1);
    assert_eq!(forbidden_uses(&sample("cellar", 1, ""), &rooms).len(), 1);
}

#[test]
fn a_granted_use_is_let_through() {
    let rooms = small_table();
    for text in [
        "use crate::numerics::{Step, chemistry_free};",
        "use crate::chemistry::water;",
        "// use crate::colour::Srgb;\nconst WORDS: &str = \"use crate::colour\";",
        "pub(crate) fn f<'a>(x: &'a str) -> char { 'c' }",
        "mod tests { use super::*; }",
        "const RAW: &str = r#\"crate::colour \"quoted\" \"#; /* crate::colour /* nested */ */",
    ] {
        none(&forbidden_uses(&sample("chemistry", 1, text), &rooms));
    }
    // One step up from a file of the room is still the room.
    none(&forbidden_uses(&sample("chemistry", 2, "use super::numerics_like;"), &rooms));
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

#[test]
fn the_outside_is_found_where_it_does_not_belong() {
    assert_eq!(outside_named(&sample("view", 1, "use wasm_bindgen::prelude::*;")).len(), 1);
    none(&outside_named(&sample("web", 2, "use wasm_bindgen::prelude::*;")));
    none(&outside_named(&sample("view", 1, "// wasm_bindgen is for `web`")));
}
