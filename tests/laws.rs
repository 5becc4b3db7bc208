//! Laws that hold in every lesson, whatever the recipe and whatever is done: nothing is lost,
//! nothing is negative, what is at rest is saturated, and nobody changes a path by looking.
//!
//! The lessons are drawn by a generator of our own, so that every run tests the same ones
//! and a failure is named by its number.

mod laws {
    mod balances;
    mod conservation;
    mod dosing;

    mod hostile;
    mod lessons;
    mod looking;
    mod stirring;
    #[path = "../reference/worst.rs"]
    mod worst;
}
