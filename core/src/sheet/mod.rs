//! The run sheet: what whoever holds the second camera, and whoever edits, needs to read.
//!
//! The rows exist once, for screen, print and a spreadsheet. They are made from a [`crate::shoot::Shoot`] and an
//! [`Outcome`], the part of a plan's report that the sheet shows; nothing is kept twice.

mod csv;
mod day;
mod rows;

pub use day::{CellsRow, LevelsRow, LogRow, PairingRow};
pub use rows::{Mind, Outcome, Placed, Row, Sheet, foreign, made_for};
