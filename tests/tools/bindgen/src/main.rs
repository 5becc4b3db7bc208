//! Makes the JavaScript glue for the compiled core.
//!
//! `bindgen NAME.wasm OUTPUT_DIRECTORY` writes `NAME.js`, `NAME.d.ts` and
//! `NAME_bg.wasm` for a page that loads ES modules. The glue must come from the
//! very version of wasm-bindgen that the core was compiled with; built here, as
//! a member of the workspace, both share one lock file, and no tool need be
//! installed.

use std::{env, process::ExitCode};
use wasm_bindgen_cli_support::Bindgen;

fn main() -> ExitCode {
    let arguments: Vec<String> = env::args().skip(1).collect();
    let [input, directory] = arguments.as_slice() else {
        eprintln!("usage: bindgen NAME.wasm OUTPUT_DIRECTORY");
        return ExitCode::FAILURE;
    };
    match glue(input, directory) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("bindgen: no glue made from {input}: {error:#}");
            ExitCode::FAILURE
        }
    }
}

fn glue(input: &str, directory: &str) -> Result<(), Box<dyn std::error::Error>> {
    Bindgen::new()
        .input_path(input)
        .web(true)?
        .typescript(true)
        // The library's default differs from the published tool's: without the
        // default path the glue cannot find its own .wasm file.
        .omit_default_module_path(false)
        // Function names and the list of tools are dead weight on a phone.
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate(directory)?;
    Ok(())
}
