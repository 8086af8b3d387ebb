//! Laws: what must hold for any input, with brute force as the judge on small cases.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects
)]

mod air;
mod battery;
mod capacity;
mod chain;
mod findings;
mod intermod;
mod judge;
mod pairing;
mod plan;
mod reach;
mod repair;
mod rounds;
mod small;
mod sweep;
mod trouble;
