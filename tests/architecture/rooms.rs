//! Who may use whom: the table of rooms in DEVELOPERS.md, and every use that the sources make of one another.

use std::collections::{BTreeMap, BTreeSet};

use super::code::{FromRoot, code_of, names_from_root};
use super::sources::{Source, modules_of_main, sample, sources};
use crate::{developers, none};

/// The heading in DEVELOPERS.md under which the table of rooms stands.
const TABLE_HEADING: &str = "## Who may use whom";

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

#[test]
fn every_room_uses_only_what_the_table_grants() {
    let rooms = table_of(&developers());
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

#[test]
fn the_table_has_no_circle() {
    let mut rooms = table_of(&developers());
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
