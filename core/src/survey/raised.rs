//! What stands out and is neither a multiplex nor narrow.

use super::SurveyView;
use crate::television::Television;
use crate::units::{Decibels, Hertz, Level};

/// A stretch wider than a carrier that stands out of the floor and is no multiplex that was
/// recognised: a machine's noise, a lamp's, another service, the slope of a strong multiplex.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Raised {
    /// Where it begins.
    pub low: Hertz,
    /// Where it ends.
    pub high: Hertz,
    /// The power in all of it, averaged over the passes.
    pub level: Level,
    /// How far its loudest cell stands over the floor.
    pub over: Decibels,
}

impl<'a> SurveyView<'a> {
    /// The wide stretches that stand `margin` or more over the floor, lowest frequency first, without
    /// the multiplexes of `television`.
    pub fn raised(
        self,
        margin: Decibels,
        television: Option<Television>,
    ) -> impl Iterator<Item = Raised> + use<'a> {
        let _ = (margin, television);
        core::iter::empty()
    }
}
