//! A pH probe's files: a folder of awkward ones, each with what must come out.

#[path = "probe/doses.rs"]
mod doses;
#[path = "probe/files.rs"]
mod files;
#[path = "probe/limits.rs"]
mod limits;
