//! What several tests and the terminal tools share: shoots and sweeps from files, memory for a planner.
#![allow(clippy::arithmetic_side_effects)]

pub mod faults;
pub mod files;
pub mod planning;
pub mod speech;
