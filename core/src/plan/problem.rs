//! What is to be planned.

use super::spectrum::Spectrum;
use super::variation::{Variation, Without};
use crate::intermod::{Carrier, Guards, Kind};
use crate::raster::Tuning;
use crate::units::Hertz;

/// Where a link is now.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Present {
    /// Nowhere yet.
    #[default]
    Unset,
    /// On this carrier, and may be moved.
    Movable(Hertz),
    /// On this carrier, and stays.
    Held(Hertz),
}

impl Present {
    /// The carrier it is on.
    pub const fn carrier(self) -> Option<Hertz> {
        match self {
            Present::Unset => None,
            Present::Movable(carrier) | Present::Held(carrier) => Some(carrier),
        }
    }
}

/// One receiver and the transmitters that may feed it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Link<'a> {
    /// What the operator calls it.
    pub label: &'a str,
    /// What its receiver *and* all its transmitters can be set to.
    pub tuning: Tuning,
    /// The width that its carrier fills.
    pub bandwidth: Hertz,
    /// Where it is now.
    pub present: Present,
    /// How many spare carriers it should have.
    pub spares: u8,
}

/// Somebody else's carrier.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Foreign<'a> {
    /// Whose it is.
    pub label: &'a str,
    /// Where it is.
    pub frequency: Hertz,
    /// Whether we promised to keep our products off it.
    pub protected: bool,
}

impl Foreign<'_> {
    /// As the checker sees it.
    pub const fn carrier(&self) -> Carrier {
        Carrier::foreign(self.frequency, self.protected)
    }
}

/// How far apart carriers stand, and how near products may come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rules {
    /// The least distance between two carriers of which one is ours.
    pub spacing: Hertz,
    /// How near a product of each kind may come.
    pub guards: Guards,
}

impl Rules {
    /// 400 kHz apart; products of two transmitters 100 kHz and of three 50 kHz away, so guards just
    /// below. Source: common practice, no published source.
    pub const USUAL: Rules = Rules {
        spacing: Hertz::from_khz(400),
        guards: Guards::third_order(Hertz::new(99_999), Hertz::new(49_999)),
    };
}

impl Rules {
    /// The same rules with everything that is looked at kept so much farther away.
    #[must_use]
    pub(crate) fn widened(&self, extra: Hertz) -> Rules {
        let wider = |h: Hertz| Hertz::new(h.hz().saturating_add(extra.hz()));
        let mut guards = self.guards;
        for kind in Kind::ALL {
            guards = guards.with(kind, guards.get(kind).map(wider));
        }
        Rules { spacing: wider(self.spacing), guards }
    }
}

/// A whole problem: the links, what stands already, and where carriers may go.
#[derive(Debug, Clone, Copy)]
pub struct Problem<'a> {
    /// The links, at most 1 000.
    pub links: &'a [Link<'a>],
    /// Carriers of others.
    pub foreign: &'a [Foreign<'a>],
    /// Where carriers may go.
    pub spectrum: Spectrum<'a>,
    /// How far apart.
    pub rules: Rules,
    /// How the problem is seen differently: [`Variation::NONE`] as it stands.
    pub variation: Variation<'a>,
}

impl<'a> Problem<'a> {
    /// Everything that stands before the search: foreign carriers, then links that stay, in order.
    pub fn standing(&self) -> impl Iterator<Item = (&'a str, Carrier)> + Clone + use<'a> {
        let problem = *self;
        let stay = self.present_links().filter_map(move |(index, link)| {
            let carrier = problem.stays(index, link)?;
            Some((link.label, Carrier::own(carrier)))
        });
        let without = self.variation.without;
        let foreign = (0..=u16::MAX).zip(self.foreign);
        let foreign = foreign.filter(move |&(index, _)| without != Some(Without::Foreign(index)));
        foreign.map(|(_, f)| (f.label, f.carrier())).chain(stay)
    }

    /// Where a link stays, if it does.
    pub(crate) fn stays(&self, index: u16, link: &Link<'_>) -> Option<Hertz> {
        if let Some(spare) = self.variation.spares.carrier(index) {
            return Some(spare);
        }
        match (link.present, self.variation.moving) {
            (Present::Held(carrier), _) => Some(carrier),
            (Present::Movable(carrier), Some(moving)) if !moving.contains(index) => Some(carrier),
            _ => None,
        }
    }

    /// The carriers that a link is limited to, if it is. A link that can tune none of them has no part
    /// in such a set and stays free.
    pub(crate) fn limits(&self, link: &Link<'_>) -> Option<&'a [Hertz]> {
        self.variation.only.filter(|only| only.iter().any(|&carrier| link.tuning.contains(carrier)))
    }

    /// All links but one that is left out.
    pub fn present_links(&self) -> impl Iterator<Item = (u16, &'a Link<'a>)> + Clone + use<'a> {
        let without = self.variation.without;
        (0..=u16::MAX).zip(self.links).filter(move |&(index, _)| without != Some(Without::Link(index)))
    }

    /// The links that need a carrier.
    pub fn free_links(&self) -> impl Iterator<Item = (u16, &'a Link<'a>)> + Clone + use<'a> {
        let problem = *self;
        self.present_links().filter(move |&(index, link)| problem.stays(index, link).is_none())
    }
}
