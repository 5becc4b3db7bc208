//! Turnback: an antacid suspension swallows acid, dose after dose.

pub mod chemistry;
pub mod constants;
pub mod course;
pub mod numerics;
