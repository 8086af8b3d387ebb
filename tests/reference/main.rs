//! Published values, each with its source beside it.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects
)]

mod active_level;
mod battery;
mod reach;

mod classes;
mod memory;
mod television;
mod trouble;

mod plan;

mod closed;
mod findings;
mod rules;

mod heard;
mod intermod;
mod survey;
mod survey_tool;
mod sweep;
mod units;

mod chain;

mod loudness;
mod peaks;
mod shoots;

mod speech;
