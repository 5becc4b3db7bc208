//! Turnback.

pub mod colour;
pub mod data;
