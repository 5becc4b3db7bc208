use turnback::colour::Band;
use turnback::measure::{Row, Timing, pasted, timings};

fn row(cells: [&str; 6]) -> Row {
    cells.map(str::to_owned)
}

#[test]
fn a_typed_row_becomes_a_timing_whatever_its_decimal_mark() {
    let rows = [
        row(["2", "21,5", "21.9", "34,5", "teal", "3"]),
        row(["", "", "", "", "", ""]),
        row(["1", "2", "", "1:05", "", ""]),
        row(["1", "2", " ", "60", "G", "1"]),
    ];
    let found = timings(&rows, 7).unwrap();
    let teal = Timing { dose: 2, beaker: Some(3), start_c: 21.5, end_c: Some(21.9), seconds: 34.5, finish: Band::Teal };
    assert_eq!(found[0], (0, teal));
    assert_eq!((found[1].0, found[1].1.seconds, found[1].1.finish, found[1].1.beaker), (2, 65.0, Band::Green, None));
    assert_eq!((found[2].0, found[2].1.end_c), (3, None));
    assert!((teal.celsius() - 21.7).abs() < 1e-12);
    assert_eq!((teal.finish_ph(), found[1].1.finish_ph()), (7.4, 7.0));
}

/// A time of 0, a time of a week, and the other things that hands type.
#[test]
fn every_bad_cell_is_named_at_once() {
    let rows = [
        row(["1", "21", "", "0", "", ""]),
        row(["1", "21", "", "604800", "", ""]),
        row(["8", "61", "-3", "abc", "purple", "x"]),
        row(["1.5", "", "", "", "red", "0"]),
    ];
    let troubles: Vec<(usize, &str, &str)> =
        timings(&rows, 7).unwrap_err().iter().map(|trouble| (trouble.row, trouble.field, trouble.key)).collect();
    assert_eq!(
        troubles,
        [
            (0, "seconds", "tooSmall"),
            (1, "seconds", "tooBig"),
            (2, "dose", "tooBig"),
            (2, "start", "tooBig"),
            (2, "end", "tooSmall"),
            (2, "seconds", "notANumber"),
            (2, "beaker", "notANumber"),
            (2, "finish", "unknown"),
            (3, "dose", "notANumber"),
            (3, "start", "empty"),
            (3, "seconds", "empty"),
            (3, "beaker", "tooSmall"),
            (3, "finish", "unknown"),
        ]
    );
}

#[test]
fn a_pasted_table_finds_its_columns() {
    let wanted = vec![row(["1", "2,0", "2,4", "53", "", "1"]), row(["2", "2,4", "2,6", "70", "", "1"])];
    for text in [
        "Dose\tstart °C\tend °C\tseconds\tfinish\tbeaker\n1\t2,0\t2,4\t53\t\t1\n2\t2,4\t2,6\t70\t\t1",
        "Beaker;Temp. before;Temp. after;Time (s);Dose\r\n1;2,0;2,4;53;1\r\n1;2,4;2,6;70;2\r\n\r\n",
        "vaso\tdosis\tinicial °C\tfinal °C\ttiempo\n1\t1\t2,0\t2,4\t53\n1\t2\t2,4\t2,6\t70\n",
        "1\t2,0\t2,4\t53\t\t1\n2\t2,4\t2,6\t70\t\t1",
    ] {
        assert_eq!(pasted(text), wanted, "{text}");
    }
    assert_eq!(pasted("1,21,15\n2,21,20"), [row(["1", "21", "", "15", "", ""]), row(["2", "21", "", "20", "", ""])]);
    assert!(pasted("what | is | this").is_empty());
    // Empty quotes between spaces are a head without a name.
    assert_eq!(pasted("\"\" \"\"\n1 21 15"), [row(["1", "21", "", "15", "", ""])]);
    assert!(pasted("").is_empty());
}
