//! Sweeps: text from a receiver that went over the spectrum, read piece by piece.
//!
//! Two forms are read, told apart by their first lines:
//!
//! * *columns*: a frequency and a level on each line. The unit of the frequency is taken from a
//!   header (`frequency_hz,level_dbm`, `Frequency (MHz);Level (dBm)`) or from [`Options`]; it is
//!   never guessed from the size of a number.
//! * *hops*: lines as the common software-radio sweep programs write them: date, time, lower edge,
//!   upper edge, bin width (all in hertz), number of samples, then one level per bin. Lines may
//!   interleave; one dialect prints the last level twice. Source: read in the source text of two
//!   open programs, 2025-11 and 2026-06.
//!
//! Comma, semicolon or tab separate; a decimal comma is understood wherever the comma does not
//! separate, or inside quotes. Blank lines and lines that begin with `#` are skipped. A level of `nan`
//! or `-inf` means that nothing was heard there: counted, not an error, and no reading.
//!
//! Hops say when they were made; columns do not ([`Counts::taken`]).
//!
//! A bad line is reported with its place and remedy, and costs only itself.

mod columns;
mod dialect;
mod hops;
mod lines;
mod moment;
mod number;
mod problem;
mod reader;

pub use moment::{Moment, Taken};
pub use problem::{Column, Fault, Problem, Snippet};
pub use reader::{Counts, LONGEST_LINE, LineReader, Options, Reader};

use crate::units::{Hertz, Level};

/// One measured stretch of spectrum.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reading {
    /// Where it begins.
    pub low: Hertz,
    /// Where it ends; this frequency is no longer covered.
    pub high: Hertz,
    /// What was received there.
    pub level: Level,
}

/// What a reader finds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Event {
    /// Something was measured.
    Reading(Reading),
    /// Something could not be used.
    Problem(Problem),
}
