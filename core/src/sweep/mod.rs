//! Sweeps: text from a receiver that went over the spectrum, read piece by piece.

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
