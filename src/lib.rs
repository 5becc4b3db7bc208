//! Turnback: an antacid suspension swallows acid, dose after dose.

pub mod chemistry;
pub mod colour;
pub mod constants;
pub mod course;
pub mod data;
pub mod numerics;
