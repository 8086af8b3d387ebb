//! What several tests and the terminal tools share: shoots and sweeps from files, memory for a planner,
//! sounds.
#![allow(clippy::arithmetic_side_effects)]

// Generators of test data: a place out of range is a mistake in it, and should stop the test.
#[allow(clippy::indexing_slicing)]
pub mod air;
#[allow(clippy::indexing_slicing)]
pub mod faults;
pub mod files;
pub mod hunts;
pub mod loudness;
pub mod planning;
#[allow(clippy::indexing_slicing)]
pub mod rounds;
#[allow(clippy::indexing_slicing)]
pub mod speech;
#[allow(clippy::indexing_slicing)]
pub mod trials;
