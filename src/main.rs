//! The native command for those who check the model from outside:
//! `turnback path|equilibrium|colour|code FILE` prints CSV on standard output.

#![cfg(not(target_arch = "wasm32"))]

mod checks;

use std::io::{ErrorKind, Write as _};
use std::process::ExitCode;

const USAGE: &str = "usage: turnback VERB FILE
  path FILE         a reference trajectory: reads its '# case' and '# params' lines,
                    prints the beaker's path every 0.5 s to the file's last time
  equilibrium FILE  T_C,W_kg,brucite_mol,HCl_mol,NaOH_mol[,MgCl2_mol][,CO2_mol]
  colour FILE       pH,solids_g_per_L,path_cm
  code FILE         texts that a device keeps of its lessons, one a line: plays each anew
                    and prints its check code
All print CSV on standard output; see DEVELOPERS.md.";

fn main() -> ExitCode {
    let arguments: Vec<std::ffi::OsString> = std::env::args_os().skip(1).collect();
    let [verb, file] = arguments.as_slice() else {
        eprintln!("{USAGE}");
        return ExitCode::from(2);
    };
    let (verb, file) = (verb.to_string_lossy(), std::path::Path::new(file));
    let check = match verb.as_ref() {
        "path" => checks::path,
        "equilibrium" => checks::equilibrium,
        "colour" => checks::colour,
        "code" => checks::code,
        _ => {
            eprintln!("no verb '{verb}'\n{USAGE}");
            return ExitCode::from(2);
        }
    };
    match read(file).and_then(|text| check(&text)) {
        Ok(csv) => print(&csv),
        Err(error) => {
            eprintln!("{}: {error}", file.display());
            ExitCode::FAILURE
        }
    }
}

/// A file's text without the byte order mark that spreadsheets put before it.
fn read(file: &std::path::Path) -> Result<String, checks::Refusal> {
    let bytes = std::fs::read(file).map_err(|error| format!("cannot be read: {error}"))?;
    let text = String::from_utf8(bytes).map_err(|_| "is not text in UTF-8; save it as that")?;
    Ok(text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text))
}

/// Prints to the end, or to where the reader (a pager, `head`) has seen enough.
fn print(text: &str) -> ExitCode {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            eprintln!("standard output: {error}");
            ExitCode::FAILURE
        }
        _ => ExitCode::SUCCESS,
    }
}
