//! Turnback.

pub mod colour;
pub mod data;
pub mod picture;
