//! Small changes to a problem: what would be, if.

use crate::units::Hertz;

/// The most links that [`LinkSet`] tells apart.
const LINKS: usize = 256;

/// A set of links by their index, up to 256.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LinkSet([u64; LINKS / 64]);

impl LinkSet {
    /// No link.
    pub const EMPTY: LinkSet = LinkSet([0; LINKS / 64]);

    /// Adds a link; those beyond the range are not told apart and stay out.
    pub fn insert(&mut self, link: u16) {
        super::bits::insert(&mut self.0, u32::from(link));
    }

    /// Takes a link out.
    pub fn remove(&mut self, link: u16) {
        super::bits::remove(&mut self.0, u32::from(link)..u32::from(link).saturating_add(1));
    }

    /// Whether a link is in it.
    pub fn contains(&self, link: u16) -> bool {
        super::bits::contains(&self.0, u32::from(link))
    }

    /// How many there are.
    pub fn len(&self) -> u16 {
        self.0.iter().fold(0_u16, |sum, word| sum.saturating_add(word.count_ones() as u16))
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }
}

/// One who is left out of a problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Without {
    /// The link with this index.
    Link(u16),
    /// The foreign carrier with this index.
    Foreign(u16),
}

/// More links like one that is there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct More {
    /// The link that the others are like.
    pub like: u16,
    /// How many more.
    pub count: u16,
}

/// How a problem is seen differently, without copying it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Variation<'a> {
    /// Somebody who is looked through.
    pub without: Option<Without>,
    /// Only these links may move; every other that is on a carrier stays there. For repair.
    pub moving: Option<LinkSet>,
    /// More links of a kind. For capacity.
    pub more: Option<More>,
    /// Only these carriers may be used, in ascending order, by links that can tune any of them. For
    /// factory sets.
    pub only: Option<&'a [Hertz]>,
}

impl Variation<'_> {
    /// The problem as it stands.
    pub const NONE: Variation<'static> = Variation { without: None, moving: None, more: None, only: None };
}
