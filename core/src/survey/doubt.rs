//! What speaks against a survey itself.

use core::fmt;

use super::SurveyView;
use super::floor::quietest;
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
    /// Noise and carriers rose or fell together from one pass to another.
    RoseTogether {
        /// How far.
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
                "everything rose or fell together by {by} between two passes: the receiver was overloaded or its gain changed; \
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

/// Carriers that are compared with each other.
const CARRIERS: usize = 48;
/// How near counts as the same place: the step of portable kit (common practice, no published source).
const SAME_HZ: u64 = 25_000;
/// How much stronger both sources of a product must be, in hundredths of a decibel. No published source.
const STRONGER: i16 = 2_000;

impl SurveyView<'_> {
    /// Tells what speaks against the survey, given our own links that have a carrier. That everything rose
    /// together, only [`super::Watch`] can see.
    ///
    /// Up to 48 carriers are compared with each other; the cost is the cube of their number.
    pub fn doubts<'l>(
        self,
        own: &[(&'l str, Hertz)],
        margin: Decibels,
        television: Option<Television>,
        mut tell: impl FnMut(Doubt<'l>),
    ) {
        let same = SAME_HZ.max(u64::from(self.grid().step().hz()));
        let mut heard: heapless::Vec<(Hertz, Level), CARRIERS> = heapless::Vec::new();
        for carrier in self.carriers(margin, television) {
            let at = |(_, hz): &&(&'l str, Hertz)| carrier.frequency.above(*hz).distance() <= same;
            if let Some(&(label, carrier)) = own.iter().find(at) {
                tell(Doubt::OwnLive { label, carrier });
            }
            let _ = heard.push((carrier.frequency, carrier.loudest));
        }
        for &(weak, level) in &heard {
            let strong = || {
                let limit = level.plus_hundredths(STRONGER);
                heard.iter().filter(move |&&(_, level)| level >= limit).map(|&(hz, _)| hz)
            };
            let makes = |one: Hertz, other: Hertz| {
                let product = one.wide().saturating_mul(2).saturating_sub(other.wide());
                product.abs_diff(weak.wide()) <= same
            };
            let pair = strong().find_map(|one| {
                strong().find(|&other| one != other && makes(one, other)).map(|other| [one, other])
            });
            if let Some(strong) = pair {
                tell(Doubt::Mixed { carrier: weak, strong });
            }
        }
        if let (Some(fifth), Some(floor)) = (self.quietest_fifth(), self.floor())
            && fifth.hundredths().saturating_sub(floor.hundredths()) > CROWDED
        {
            tell(Doubt::Crowded { fifth, floor });
        }
    }

    /// What a fifth of the heard cells does not exceed: another view of the floor, on the scale of the
    /// loudest readings. Below it as long as less than four fifths are occupied.
    ///
    /// Source: Rec. ITU-R SM.1753-2, 10.3, takes the lowest 20 % of samples (contents read).
    pub fn quietest_fifth(&self) -> Option<Level> {
        let heard = || self.cells().iter().filter_map(|cell| cell.heard());
        quietest(heard, heard().count().div_ceil(5))
    }
}

/// How far the quietest fifth may stand over the floor, in hundredths of a decibel. No published source.
const CROWDED: i16 = 200;
