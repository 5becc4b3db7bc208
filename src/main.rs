//! The native command for those who check the model from outside:
//! `turnback path|equilibrium|colour FILE` prints CSV on standard output.

#![cfg(not(target_arch = "wasm32"))]

mod checks;

use std::process::ExitCode;

const USAGE: &str = "usage: turnback VERB FILE
  path FILE         a reference trajectory: reads its '# case' and '# params' lines,
                    prints the beaker's path every 0.5 s to the file's last time
  equilibrium FILE  T_C,W_kg,brucite_mol,HCl_mol,NaOH_mol[,MgCl2_mol][,CO2_mol]
  colour FILE       pH,solids_g_per_L,path_cm
All print CSV on standard output; see DEVELOPERS.md.";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [verb, file] = arguments.as_slice() else {
        eprintln!("{USAGE}");
        return ExitCode::from(2);
    };
    let text = match std::fs::read_to_string(file) {
        Ok(text) => text,
        Err(error) => {
            eprintln!("cannot read {file}: {error}");
            return ExitCode::FAILURE;
        }
    };
    let result = match verb.as_str() {
        "path" => checks::path(&text),
        "equilibrium" => checks::equilibrium(&text),
        _ => {
            eprintln!("no verb '{verb}'\n{USAGE}");
            return ExitCode::from(2);
        }
    };
    match result {
        Ok(csv) => {
            print!("{csv}");
            ExitCode::SUCCESS
        }
        Err(error) => {
            eprintln!("{file}: {error}");
            ExitCode::FAILURE
        }
    }
}
