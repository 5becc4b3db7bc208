//! The house keeps its walls: who uses whom, where the outside world may be
//! named, and that no function is called whose last bits differ between
//! machines.
//!
//! The table of rooms is read from DEVELOPERS.md, so that what a newcomer reads
//! is what is enforced. Each check is shown to fail on a small bad sample.

use std::{fs, path::Path};

mod architecture {
    mod bits;
    mod capabilities;
    mod code;
    mod outside;
    mod rooms;
    mod sources;
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The text of DEVELOPERS.md.
fn developers() -> String {
    fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md")
}

fn none(complaints: &[String]) {
    assert!(complaints.is_empty(), "\n{}\n", complaints.join("\n"));
}
