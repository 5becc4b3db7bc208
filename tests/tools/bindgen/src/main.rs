//! Makes the JavaScript glue for the compiled core, and lays the core into two files.
//!
//! `bindgen glue NAME.wasm OUTPUT_DIRECTORY` writes `NAME.js`, `NAME.d.ts` and
//! `NAME_bg.wasm` for a page that loads ES modules. The glue must come from the
//! very version of wasm-bindgen that the core was compiled with; built here, as
//! a member of the workspace, both share one lock file, and no tool need be
//! installed.
//!
//! `bindgen part OUTPUT_DIRECTORY NAME CLASS` lays `NAME_bg.wasm` of that
//! directory into itself and `NAME_CLASS.wasm`, which holds what only the
//! methods of a class call, and adds to the glue how the second file is started.

mod parts;

use std::{env, error::Error, fs, path::Path, process::ExitCode};
use wasm_bindgen_cli_support::Bindgen;

fn main() -> ExitCode {
    let arguments: Vec<String> = env::args().skip(1).collect();
    let done = match arguments.iter().map(String::as_str).collect::<Vec<_>>().as_slice() {
        ["glue", input, directory] => glue(input, directory),
        ["part", directory, name, class] => part(Path::new(directory), name, class),
        _ => {
            eprintln!(
                "usage: bindgen glue NAME.wasm OUTPUT_DIRECTORY\n       bindgen part OUTPUT_DIRECTORY NAME CLASS"
            );
            return ExitCode::FAILURE;
        }
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("bindgen {}: {error:#}", arguments.join(" "));
            ExitCode::FAILURE
        }
    }
}

fn glue(input: &str, directory: &str) -> Result<(), Box<dyn Error>> {
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

fn part(directory: &Path, name: &str, class: &str) -> Result<(), Box<dyn Error>> {
    let first = directory.join(format!("{name}_bg.wasm"));
    let second = directory.join(format!("{name}_{class}.wasm"));
    // As wasm-bindgen names the methods of a class, and what frees one.
    let prefixes = [format!("{class}_"), format!("__wbg_{class}_")];
    let is_second = |export: &str| prefixes.iter().any(|prefix| export.starts_with(prefix));
    let [one, other] = parts::two_files(&fs::read(&first)?, is_second)?;
    fs::write(first, one)?;
    fs::write(second, other)?;

    let glue = directory.join(format!("{name}.js"));
    let mut script = fs::read_to_string(&glue)?;
    for known in ["let wasmModule, wasmInstance, wasm;", "function __wbg_get_imports()", "async function __wbg_load("] {
        if script.matches(known).count() != 1 {
            return Err(format!("the glue has no {known:?}: this version of wasm-bindgen writes another one").into());
        }
    }
    script.push_str(&format!(
        "
/** Starts the file of the class {class}, whose exports join the core's. */
export async function startPart(response) {{
    const {{ instance }} = await __wbg_load(response, {{ ...__wbg_get_imports(), {FIRST}: wasm }});
    wasm = {{ ...wasm, ...instance.exports }};
}}
",
        FIRST = parts::FIRST
    ));
    fs::write(glue, script)?;
    let types = directory.join(format!("{name}.d.ts"));
    let declared = "\n/** Starts the second file, whose exports join the core's. */\nexport function startPart(response: Response | BufferSource): Promise<void>;\n";
    fs::write(&types, fs::read_to_string(&types)? + declared)?;
    Ok(())
}
