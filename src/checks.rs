//! The verbs of the native command: text in, CSV text out.

mod code;
mod colour;
mod equilibrium;
mod path;
mod table;

pub use code::code;
pub use colour::colour;
pub use equilibrium::equilibrium;
pub use path::path;

/// What is wrong with a file, in words.
pub type Refusal = Box<dyn std::error::Error>;
