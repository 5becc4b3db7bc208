//! The chemistry against values from outside: published tables, PHREEQC, and an independent
//! integration of the same equations.
//!
//! The files of `tests/reference/chemistry/` name their sources in their first lines. Bars
//! are named and reasoned where they stand; `cargo test --test reference -- --nocapture`
//! prints what was reached beside each.

mod reference {
    mod equilibria;
    mod kinetics;
    mod literature_law;
    mod paths;
    mod scenario;
    mod table;
    mod water;
    mod worst;
}
