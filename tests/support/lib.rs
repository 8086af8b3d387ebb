//! What several tests and the terminal tools share: loaders, seeds, the one table of tolerances.
#![allow(clippy::arithmetic_side_effects)]

pub mod files;
pub mod planning;
