//! Turnback: an antacid suspension swallows acid, dose after dose.

pub mod chemistry;
pub mod colour;
pub mod constants;
pub mod course;
pub mod data;
pub mod decimal;
pub mod lesson;
pub mod measure;
pub mod numerics;
pub mod picture;
pub mod record;
pub mod session;
pub mod view;
#[cfg(target_arch = "wasm32")]
pub mod web;
