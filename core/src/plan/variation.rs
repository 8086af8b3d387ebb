//! Small changes to a problem: what would be, if.

use crate::units::Hertz;

/// A set of links by their index, up to 256.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LinkSet([u64; LinkSet::MOST / 64]);

impl LinkSet {
    /// The most links that are told apart.
    pub const MOST: usize = 256;

    /// No link.
    pub const EMPTY: LinkSet = LinkSet([0; LinkSet::MOST / 64]);

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

    /// Its links, ascending.
    pub fn iter(&self) -> impl Iterator<Item = u16> {
        let words = self.0;
        let mut from = 0;
        core::iter::from_fn(move || {
            let link = super::bits::next(&words, from)?;
            from = link.saturating_add(1);
            u16::try_from(link).ok()
        })
    }

    /// Those of this and of another.
    #[must_use]
    pub fn union(&self, other: &LinkSet) -> LinkSet {
        let mut both = *self;
        both.0.iter_mut().zip(other.0).for_each(|(word, more)| *word |= more);
        both
    }

    /// Those that are in both.
    #[must_use]
    pub fn common(&self, other: &LinkSet) -> LinkSet {
        let mut both = *self;
        both.0.iter_mut().zip(other.0).for_each(|(word, other)| *word &= other);
        both
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

/// A carrier that was agreed on beforehand as a way out for a link: a spare of the plan in use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spare {
    /// The link.
    pub link: u16,
    /// Where it may go.
    pub carrier: Hertz,
}

/// Links that are on a spare of theirs, whatever else was said of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct OnSpares<'a> {
    /// All spares, of which the first 256 count.
    pub spares: &'a [Spare],
    /// Which of them are in use, by their place in the list.
    pub taken: LinkSet,
}

impl OnSpares<'_> {
    /// The spare that a link is on.
    pub fn carrier(&self, link: u16) -> Option<Hertz> {
        let mut listed = (0..=u16::MAX).zip(self.spares);
        let found = listed.find(|(place, spare)| spare.link == link && self.taken.contains(*place));
        found.map(|(_, spare)| spare.carrier)
    }
}

/// How a problem is seen differently, without copying it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Variation<'a> {
    /// Somebody who is looked through.
    pub without: Option<Without>,
    /// Only these links may move; every other that is on a carrier stays there. For repair.
    pub moving: Option<LinkSet>,
    /// Links that went to a spare. For repair.
    pub spares: OnSpares<'a>,
    /// More links of a kind. For capacity.
    pub more: Option<More>,
    /// Only these carriers may be used, in ascending order, by links that can tune any of them. For
    /// factory sets.
    pub only: Option<&'a [Hertz]>,
}

impl Variation<'_> {
    /// The problem as it stands.
    pub const NONE: Variation<'static> = Variation {
        without: None,
        moving: None,
        spares: OnSpares { spares: &[], taken: LinkSet::EMPTY },
        more: None,
        only: None,
    };
}
