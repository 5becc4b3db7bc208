//! Turnback.
