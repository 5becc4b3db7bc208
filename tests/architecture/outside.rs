//! Where the outside world may be named: in one room, and in nothing that is built natively.

use std::process::Command;

use super::code::{code_of, tokens};
use super::sources::{Source, sample, sources};
use crate::{none, root};

/// Crates that know JavaScript.
const OUTSIDE: &[&str] =
    &["wasm_bindgen", "wasm_bindgen_futures", "js_sys", "web_sys", "serde_wasm_bindgen", "console_error_panic_hook"];

/// The only room that may name them.
const DOOR: &str = "web";

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

#[test]
fn the_outside_is_found_where_it_does_not_belong() {
    assert_eq!(outside_named(&sample("view", 1, "use wasm_bindgen::prelude::*;")).len(), 1);
    none(&outside_named(&sample("web", 2, "use wasm_bindgen::prelude::*;")));
    none(&outside_named(&sample("view", 1, "// wasm_bindgen is for `web`")));
}
