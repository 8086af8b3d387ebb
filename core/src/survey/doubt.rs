//! What speaks against a survey itself.

use core::fmt;

use super::SurveyView;
use crate::television::Television;
use crate::units::{Decibels, Hertz, Level};

/// A reason not to trust a survey as it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Doubt<'a> {
    /// Somebody was heard exactly where one of our own links is set.
    OwnLive {
        /// The link.
        label: &'a str,
        /// Its carrier.
        carrier: Hertz,
    },
    /// The floor itself rose in at least one pass: everything together.
    RoseTogether {
        /// How much further than noise explains.
        by: Decibels,
    },
    /// A weak carrier stands where the receiver itself mixes two strong ones to.
    Mixed {
        /// The weak one.
        carrier: Hertz,
        /// Twice the first less the second is the weak one.
        strong: [Hertz; 2],
    },
    /// Even the quietest fifth of the survey stands above the floor: hardly any noise to measure it by.
    Crowded {
        /// What a fifth of the heard cells does not exceed.
        fifth: Level,
        /// The floor.
        floor: Level,
    },
}

impl fmt::Display for Doubt<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Doubt::OwnLive { label, carrier } => write!(
                f,
                "something was on {} MHz, where {label} is set: if that was your own, it is not somebody else; switch \
                 all own transmitters off and sweep again",
                carrier.megahertz()
            ),
            Doubt::RoseTogether { by } => write!(
                f,
                "everything rose together by {by} in at least one pass: the receiver was overloaded or its gain changed; \
                 sweep again farther from strong transmitters, or with less gain"
            ),
            Doubt::Mixed { carrier, strong: [one, other] } => write!(
                f,
                "the weak carrier on {} MHz stands where the receiver itself mixes {} and {} MHz to: it may not be there; \
                 sweep again with less gain and see whether it stays",
                carrier.megahertz(),
                one.megahertz(),
                other.megahertz()
            ),
            Doubt::Crowded { fifth, floor } => write!(
                f,
                "more than four fifths of what was swept is occupied ({fifth}, where the floor is taken for {floor}): the \
                 floor is less sure, sweep a wider stretch"
            ),
        }
    }
}

impl SurveyView<'_> {
    /// Tells what speaks against the survey, given the links of our own that have a carrier.
    pub fn doubts<'l>(
        self,
        own: impl Iterator<Item = (&'l str, Hertz)>,
        margin: Decibels,
        television: Option<Television>,
        tell: impl FnMut(Doubt<'l>),
    ) {
        let _ = (own, margin, television, tell);
    }
}
