//! What is to be planned.

use super::spectrum::Spectrum;
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
    /// Somebody who is looked through, to learn what leaving them out would bring.
    pub without: Option<Without>,
}

/// One who is left out of a problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Without {
    /// The link with this index.
    Link(u16),
    /// The foreign carrier with this index.
    Foreign(u16),
}

impl<'a> Problem<'a> {
    /// Everything that stands before the search: foreign carriers, then held links, in order.
    pub fn standing(&self) -> impl Iterator<Item = (&'a str, Carrier)> + Clone + use<'a> {
        let held = self.present_links().filter_map(|(_, link)| match link.present {
            Present::Held(carrier) => Some((link.label, Carrier::own(carrier))),
            _ => None,
        });
        let without = self.without;
        let foreign = (0..=u16::MAX).zip(self.foreign);
        let foreign = foreign.filter(move |&(index, _)| without != Some(Without::Foreign(index)));
        foreign.map(|(_, f)| (f.label, f.carrier())).chain(held)
    }

    /// All links but one that is left out.
    pub fn present_links(&self) -> impl Iterator<Item = (u16, &'a Link<'a>)> + Clone + use<'a> {
        let without = self.without;
        (0..=u16::MAX).zip(self.links).filter(move |&(index, _)| without != Some(Without::Link(index)))
    }

    /// The links that need a carrier.
    pub fn free_links(&self) -> impl Iterator<Item = (u16, &'a Link<'a>)> + Clone + use<'a> {
        self.present_links().filter(|(_, link)| !matches!(link.present, Present::Held(_)))
    }
}
