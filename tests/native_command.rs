//! The native command from outside: what it prints for good files, and that it answers
//! awkward ones with a sentence and a failure, never with a panic.

#[path = "reference/table.rs"]
mod table;

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use table::Table;
use turnback::lesson::{Lesson, Recipe};
use turnback::session::{PourText, Session};

fn turnback(verb: &str, file: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_turnback")).arg(verb).arg(file).output().unwrap()
}

fn reference(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference").join(name)
}

/// A file of this test's own with the given content.
fn written(name: &str, content: &[u8]) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, content).unwrap();
    path
}

/// Header and rows of what was printed; the command must have succeeded in silence.
fn printed(verb: &str, file: &Path) -> (String, Vec<Vec<String>>) {
    let output = turnback(verb, file);
    let complaint = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success() && complaint.is_empty(), "{verb} {}: {complaint}", file.display());
    let text = String::from_utf8(output.stdout).unwrap();
    let mut lines = text.lines();
    let header = lines.next().unwrap().to_owned();
    let rows = lines.map(|line| line.split(',').map(str::to_owned).collect()).collect();
    (header, rows)
}

/// The command must refuse with one sentence that holds this part, and print nothing.
fn refused(verb: &str, file: &Path, sentence: &str) {
    let output = turnback(verb, file);
    let complaint = String::from_utf8_lossy(&output.stderr);
    let what = format!("{verb} {}: {complaint}", file.display());
    assert_eq!(output.status.code(), Some(1), "{what}");
    assert!(output.stdout.is_empty(), "{what}: something was printed");
    assert!(complaint.contains(sentence), "{what}: wanted '{sentence}'");
    assert!(complaint.starts_with(&file.display().to_string()), "{what}: the file is not named");
    assert_eq!(complaint.lines().count(), 1, "{what}: one sentence");
}

fn number(cell: &str) -> f64 {
    cell.parse().unwrap()
}

const PATH_HEADER: &str = "t_s,pH_bulk,pH_plume,T_K,W_kg,S_total_mol,Mg_diss_total_mol,I_bulk,Omega_bulk,m_ice_kg";

#[test]
fn path_prints_the_reference_trajectories_row_by_row() {
    for name in ["chemistry/traj_21C_room.csv", "chemistry/traj_carbonate_34C.csv"] {
        let (header, rows) = printed("path", &reference(name));
        assert_eq!(header, PATH_HEADER);
        let table = Table::read(name);
        let (time, ph, solid) = (table.numbers("t_s"), table.numbers("pH_bulk"), table.numbers("S_total_mol"));
        assert_eq!(rows.len(), table.len(), "{name}");
        for (i, row) in rows.iter().enumerate() {
            assert_eq!(number(&row[0]), time[i], "{name}");
            // The bars of tests/reference.rs; here they say that the columns are what they are called.
            assert!((number(&row[1]) - ph[i]).abs() <= 2e-3, "{name} at {} s", row[0]);
            assert!((number(&row[5]) - solid[i]).abs() <= 1e-7, "{name} at {} s", row[0]);
        }
    }
}

const CASE: &str = r##"# case {"W0_kg": 0.5184, "n_solid_mol": 0.0274, "T0_K": 294.15, "doses": "t_s,reagent,mL,mol/L,duration_s; dose at T0", "dose_list": [[10, "hcl", 4.0, 3.0, 1.0]]}"##;

#[test]
fn path_takes_absent_parameters_as_the_first_reference_files_have_them() {
    let bare = written("bare.csv", format!("{CASE}\nt_s,pH_bulk\n0,1\n20,1\n").as_bytes());
    let full = format!(
        "{CASE}\n# params {}\nt_s\n20\n",
        r#"{"f_acid": 1, "S_eff": 85, "S_neut": 85, "x_c": 0, "phi": 0.06, "tau_mix": 2, "mt": true, "nuc": 1, "iso": false, "kL": 0}"#
    );
    let full = written("full.csv", full.as_bytes());
    let other = written("other.csv", format!("{CASE}\n# params {{\"f_acid\": 6}}\nt_s\n20\n").as_bytes());
    let bare = printed("path", &bare);
    assert_eq!(bare, printed("path", &full));
    assert_eq!(bare.1.len(), 41, "every half second from 0 to 20 s");
    assert_ne!(bare, printed("path", &other), "a parameter that is given counts");
}

#[test]
fn path_takes_doses_in_any_order_and_leaves_out_those_after_the_end() {
    let case = |doses: &str| {
        format!(r##"# case {{"W0_kg": 0.5, "n_solid_mol": 0.02, "T0_K": 294.15, "dose_list": [{doses}]}}"##)
            + "\nt_s\n40\n"
    };
    let one = written("one.csv", case(r#"[5, "hcl", 2, 3, 1], [20, "NaOH", 2, 3, 1]"#).as_bytes());
    let two =
        written("two.csv", case(r#"[20, "NaOH", 2, 3, 1], [5, "HCl", 2, 3, 1], [90, "hcl", 2, 3, 1]"#).as_bytes());
    assert_eq!(printed("path", &one), printed("path", &two));
}

#[test]
fn equilibrium_prints_a_row_for_each_mixture() {
    // Wide enough for every database in the first file, llnl.dat with its other Ksp too.
    for (name, bar) in [("chemistry/equilibria.csv", 0.35), ("chemistry/carbonate_equilibria.csv", 6e-3)] {
        let (header, rows) = printed("equilibrium", &reference(name));
        assert_eq!(header, "pH,I,Mg_molkgw,brucite_left_mol");
        let table = Table::read(name);
        let (ph, left) = (table.numbers("pH"), table.numbers("brucite_left_mol"));
        assert_eq!(rows.len(), table.len());
        for (i, row) in rows.iter().enumerate() {
            assert!((number(&row[0]) - ph[i]).abs() <= bar, "{name}, row {i}: {row:?}");
            assert!((number(&row[3]) - left[i]).abs() <= 1e-4, "{name}, row {i}: {row:?}");
        }
    }
}

#[test]
fn colour_prints_what_the_independent_calculation_found() {
    let name = "colour/model_cases.csv";
    let (header, rows) = printed("colour", &reference(name));
    assert_eq!(header, "X,Y,Z,R8,G8,B8,bin");
    let table = Table::read(name);
    let columns = ["X", "Y", "Z", "R8_gain092", "G8_gain092", "B8_gain092"].map(|column| table.numbers(column));
    let bins = table.words("bin");
    assert_eq!(rows.len(), table.len());
    for (i, row) in rows.iter().enumerate() {
        for (at, column) in columns.iter().enumerate() {
            // The bars of tests/colour.rs.
            let bar = if at < 3 { 5e-4 } else { 1.0 };
            assert!((number(&row[at]) - column[i]).abs() <= bar, "row {i}: {row:?}");
        }
        assert_eq!(row[6], bins[i], "row {i}");
    }
}

/// Good text for each verb.
fn good(verb: &str) -> String {
    match verb {
        "path" => format!("{CASE}\nt_s,pH_bulk\n0,10.5\n20,7\n"),
        "equilibrium" => "T_C,W_kg,brucite_mol,HCl_mol,NaOH_mol\n21,0.5,0.02,0.01,0\n".to_owned(),
        _ => "pH,solids_g_per_L,path_cm\n7,0.5,9\n".to_owned(),
    }
}

const VERBS: [&str; 3] = ["path", "equilibrium", "colour"];

#[test]
fn line_ends_byte_order_mark_quotes_and_other_columns_change_nothing() {
    for verb in VERBS {
        let plain = good(verb);
        let wanted = printed(verb, &written(&format!("{verb}-plain.csv"), plain.as_bytes()));
        let (comments, rows): (Vec<&str>, Vec<&str>) = plain.lines().partition(|line| line.starts_with('#'));
        let quoted: Vec<String> = rows
            .iter()
            .map(|row| {
                row.split(',').map(|cell| format!("\"{cell}\"")).collect::<Vec<_>>().join(",") + ",\"a, \"\"b\"\"\""
            })
            .collect();
        let dressed =
            format!("\u{feff}{}\r\n# a remark, with commas\r\n{}\r\n\r\n", comments.join("\r\n"), quoted.join("\r\n"));
        // The heading of the added column is like any other cell: only its name matters.
        assert_eq!(wanted, printed(verb, &written(&format!("{verb}-dressed.csv"), dressed.as_bytes())), "{dressed}");
    }
}

#[test]
fn awkward_files_get_a_sentence_and_a_failure() {
    for verb in VERBS {
        let file = |name: &str, content: &[u8]| written(&format!("{verb}-{name}"), content);
        refused(verb, Path::new("/no/such/file.csv"), "cannot be read");
        refused(verb, Path::new(env!("CARGO_TARGET_TMPDIR")), "cannot be read");
        refused(verb, &file("latin.csv", b"T_C,\xe9\n1,2\n"), "UTF-8");
        refused(verb, &file("utf16.csv", b"\xff\xfeT\0_\0C\0"), "UTF-8");
        let empty = if verb == "path" { "# case" } else { "no table" };
        refused(verb, &file("empty.csv", b""), empty);
        refused(verb, &file("remarks.csv", b"# nothing\n# more\n"), empty);
        let comma = good(verb)
            .replace("\n20,7", "\n\"20,5\",7")
            .replace("\n21,0.5", "\n\"21,5\",0.5")
            .replace("\n7,0.5", "\n\"7,2\",0.5");
        refused(verb, &file("comma.csv", comma.as_bytes()), "is not a number");
        let word = comma.replace("20,5", "NaN").replace("21,5", "nan").replace("7,2", "inf");
        refused(verb, &file("nan.csv", word.as_bytes()), "is not between");
        let short = good(verb).replace("\n20,7", "\n,").replace(",0.01,0\n", "\n").replace(",9\n", "\n");
        refused(verb, &file("short.csv", short.as_bytes()), "a number is missing");
        let lost = good(verb).replace("t_s", "x").replace("NaOH_mol", "x").replace("path_cm", "x");
        let (headless, name) = match verb {
            "path" => (lost.replace("x,reagent", "t_s,reagent"), "t_s"),
            "equilibrium" => (lost, "NaOH_mol"),
            _ => (lost, "path_cm"),
        };
        refused(verb, &file("headless.csv", headless.as_bytes()), &format!("there is no column {name}"));
    }
}

#[test]
fn the_line_with_a_bad_cell_is_named() {
    let text = "# one\npH,solids_g_per_L,path_cm\n7,0.5,9\n# two\n7,much,9\n";
    refused("colour", &written("named.csv", text.as_bytes()), "line 5, solids_g_per_L: 'much' is not a number");
}

#[test]
fn impossible_beakers_and_doses_are_refused() {
    let with = |from: &str, to: &str| CASE.replace(from, to) + "\nt_s\n20\n";
    let cases = [
        ("no-water", with("0.5184", "0"), "W0_kg is 0, not between"),
        ("no-number", with("0.5184", "\"half\""), "W0_kg is not a number"),
        ("absent", with("W0_kg", "W_kg"), "does not give W0_kg"),
        ("cold", with("294.15", "21"), "T0_K is 21, not between"),
        ("negative", with("0.0274", "-1"), "n_solid_mol is -1, not between"),
        ("json", with("{\"W0", "\"W0"), "is not JSON"),
        ("list", with("{\"W0", "[{\"W0").replace("1.0]]}", "1.0]]}]"), "holds no object"),
        ("reagent", with("hcl", "vinegar"), "neither hcl nor naoh"),
        ("volume", with("4.0, 3.0", "-4.0, 3.0"), "the volume cannot be -4"),
        ("word", with("4.0, 3.0", "\"four\", 3.0"), "entry 2 is not a number"),
        ("instant", with("3.0, 1.0", "3.0, 0.0"), "the duration cannot be 0"),
        ("early", with("[[10", "[[-10"), "an action at -10 s"),
        ("overlap", with("1.0]]", "1.0], [10.5, \"hcl\", 1, 1, 1]]"), "the pour under way ends at 11 s"),
        ("dose_list", with("[[10, \"hcl\", 4.0, 3.0, 1.0]]", "7"), "dose_list is no list"),
        ("temperature", with("dose at T0", "dose at noon"), "is no temperature"),
        ("rows", format!("{CASE}\nt_s\n"), "no row"),
        ("long", format!("{CASE}\nt_s\n1e12\n"), "not between 0 and 86400"),
        ("param", format!("{CASE}\n# params {{\"tau_mix\": 0}}\nt_s\n20\n"), "tau_mix is 0, not between"),
        ("share", format!("{CASE}\n# params {{\"phi\": 1}}\nt_s\n20\n"), "phi is 1, not between"),
        ("text", format!("{CASE}\n# params {{\"S_eff\": \"big\"}}\nt_s\n20\n"), "S_eff is not a number"),
    ];
    for (name, text, sentence) in cases {
        refused("path", &written(&format!("impossible-{name}.csv"), text.as_bytes()), sentence);
    }
    let mixture = |row: &str| format!("T_C,W_kg,brucite_mol,HCl_mol,NaOH_mol\n{row}\n");
    refused("equilibrium", &written("dry.csv", mixture("21,0,0,0,0").as_bytes()), "W_kg: 0 is not between");
    refused("equilibrium", &written("hot.csv", mixture("500,1,0,0,0").as_bytes()), "T_C: 500 is not between");
}

#[test]
fn extreme_mixtures_are_answered_or_refused_but_never_hang() {
    let rows = [
        "21,0.5,0,0,0",
        "0,0.5,1e-12,0,0",
        "60,0.5,1e6,0,0",
        "21,1e6,1e-9,1e-9,1e-9",
        "21,1e-3,1,50,0",
        "21,1,1,0,20",
        "21,0.5,0.02,1e-300,0",
        "-5,1,1,1,1",
        "100,1,1,1,1",
    ];
    for (i, row) in rows.iter().enumerate() {
        let text = format!("T_C,W_kg,brucite_mol,HCl_mol,NaOH_mol\n{row}\n");
        let output = turnback("equilibrium", &written(&format!("extreme-{i}.csv"), text.as_bytes()));
        let complaint = String::from_utf8_lossy(&output.stderr);
        match output.status.code() {
            Some(0) => assert!(!String::from_utf8(output.stdout).unwrap().contains("NaN"), "{row}"),
            Some(1) => assert!(complaint.contains("too strong"), "{row}: {complaint}"),
            other => panic!("{row}: {other:?} {complaint}"),
        }
    }
}

#[test]
fn a_wrong_call_shows_how_to_call_it() {
    for arguments in [&[][..], &["path"], &["bake", "file"], &["path", "a", "b"]] {
        let output = Command::new(env!("CARGO_BIN_EXE_turnback")).args(arguments).output().unwrap();
        assert_eq!(output.status.code(), Some(2));
        assert!(String::from_utf8_lossy(&output.stderr).contains("usage: turnback VERB FILE"));
        assert!(output.stdout.is_empty());
    }
}

#[test]
fn a_reader_that_has_seen_enough_is_no_error() {
    let file = reference("chemistry/traj_21C_room.csv");
    let mut child = Command::new(env!("CARGO_BIN_EXE_turnback"))
        .arg("path")
        .arg(file)
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success() && output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
}

#[test]
fn code_plays_kept_lessons_anew_and_says_which_line_is_none() {
    let mut bench = Session::new(Lesson::of_recipe(Recipe::default())).unwrap();
    let start = bench.kept_text();
    let pour = PourText { beakers: vec![0, 2], reagent: "acid".to_owned(), volume_ml: "3.5".to_owned() };
    bench.begin(true).unwrap();
    bench.pour(&pour).unwrap();
    bench.tick(0.7).unwrap();
    bench.set_stirrer(&[1], "0").unwrap();
    bench.tick(0.9).unwrap();
    let kept = written("kept.txt", format!("{start}\r\n\n{}\n", bench.kept_text()).as_bytes());
    let (header, rows) = printed("code", &kept);
    assert_eq!(header, "now_s,acts,code");
    assert_eq!(rows.len(), 2);
    assert_eq!(rows[1][2], bench.check_code().to_string());
    assert_eq!(number(&rows[1][0]), bench.clock().now_s());
    assert_ne!(rows[0][2], rows[1][2]);
    refused("code", &written("no-kept.txt", format!("{start}\nkept1.AAAA\n").as_bytes()), "line 2");
}
