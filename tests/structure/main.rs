//! The shape of the project, read from its files: which module may use which, what the core may not contain,
//! what lies at the top, what no file may name.
//!
//! Source of the rules: DEVELOPERS.md, "The layers". Each check is a function over text, so that it can be
//! shown to see what it looks for before it is let loose on the project.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::arithmetic_side_effects
)]

mod code;
mod contents;
mod layers;
mod names;
mod tree;
