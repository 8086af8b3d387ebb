//! The memory of a search: the caller owns it, this file divides it.

use core::fmt;

use super::bits::words_for;
use super::front::level_words;
use super::local;
use super::problem::{Link, Problem};
use crate::intermod::Carrier;
use crate::raster::{PIECES, Raster, Tuning};
use crate::units::Hertz;

/// Links that tune alike and fill the same width: interchangeable, so searched as one group.
#[derive(Debug, Clone, Copy)]
pub struct Group {
    /// The first link of the group stands for all.
    pub(crate) link: u16,
    /// Links that need a carrier.
    pub(crate) links: u16,
    /// Spare carriers wanted for the group.
    pub(crate) spares: u16,
    /// Where its bits start, in words.
    pub(crate) offset: u32,
    /// How many words it has.
    pub(crate) words: u32,
    pub(crate) strips: [Strip; PIECES],
    pub(crate) strip_count: u8,
}

/// One raster of a group and the place where its bits start.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Strip {
    pub(crate) raster: Raster,
    pub(crate) first_place: u32,
}

impl Group {
    /// A group of nothing, to fill memory with.
    pub const EMPTY: Group = Group {
        link: 0,
        links: 0,
        spares: 0,
        offset: 0,
        words: 0,
        strips: [Strip { raster: Raster::single(Hertz::ZERO), first_place: 0 }; PIECES],
        strip_count: 0,
    };

    fn new(link: u16, tuning: &Tuning, offset: u32) -> Group {
        let mut group = Group { link, offset, ..Group::EMPTY };
        let mut places: u32 = 0;
        for (strip, raster) in group.strips.iter_mut().zip(tuning.rasters()) {
            *strip = Strip { raster: *raster, first_place: places };
            places = places.saturating_add(raster.len());
            group.strip_count = group.strip_count.saturating_add(1);
        }
        group.words = words_for(places) as u32;
        group
    }

    #[inline]
    pub(crate) fn strips(&self) -> &[Strip] {
        self.strips.get(..usize::from(self.strip_count)).unwrap_or(&self.strips)
    }

    /// The carrier at a place.
    pub(crate) fn carrier(&self, place: u32) -> Option<Hertz> {
        self.strips().iter().find_map(|s| s.raster.at(place.checked_sub(s.first_place)?))
    }

    /// Its bits within one level.
    #[inline]
    pub(crate) fn range(&self) -> core::ops::Range<usize> {
        let start = self.offset as usize;
        start..start.saturating_add(self.words as usize)
    }
}

/// One placed carrier: which group it serves, and where it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Seat {
    pub(crate) group: u16,
    /// The place after it, which is the next to try: low half, high half.
    after: [u16; 2],
}

impl Seat {
    /// Nobody, to fill memory with.
    pub const EMPTY: Seat = Seat { group: 0, after: [0; 2] };

    /// A search for a place in a group, from the first on.
    pub(crate) const fn first_of(group: u16) -> Seat {
        Seat { group, ..Seat::EMPTY }
    }

    /// In a place of a group.
    #[inline]
    pub(crate) const fn at(group: u16, place: u32) -> Seat {
        let after = place.saturating_add(1);
        Seat { group, after: [after as u16, (after >> 16) as u16] }
    }

    /// The next place to try.
    #[inline]
    pub(crate) const fn after(&self) -> u32 {
        let [low, high] = self.after;
        (high as u32) << 16 | low as u32
    }

    /// Where it is.
    #[inline]
    pub(crate) const fn place(&self) -> u32 {
        self.after().saturating_sub(1)
    }

    /// As plain numbers.
    pub(crate) const fn packed(self) -> [u16; 3] {
        let [low, high] = self.after;
        [self.group, low, high]
    }

    /// What was packed.
    pub(crate) const fn unpacked([group, low, high]: [u16; 3]) -> Seat {
        Seat { group, after: [low, high] }
    }
}

/// Copies of the seats that are kept.
const SHARES: usize = 2;

/// A carrier slot to fill memory with.
pub const NO_CARRIER: Carrier = Carrier::foreign(Hertz::ZERO, false);

/// What a search works in. The caller owns it and may hand it to the next search.
///
/// How much of each is needed for a problem, [`Size::of`] tells.
#[derive(Debug)]
pub struct Memory<'m> {
    /// Bits: which places are open at each level of the search.
    pub words: &'m mut [u64],
    /// One a group.
    pub groups: &'m mut [Group],
    /// Two a seat: the search's own, and the best found.
    pub seats: &'m mut [Seat],
    /// One a standing carrier and one a seat.
    pub carriers: &'m mut [Carrier],
}

/// How much memory a problem needs.
///
/// Bytes for links on 1 680 carriers (42 MHz at 25 kHz), and how many of them are words, nearly all
/// sets of places; the rest is seats, groups and carriers. Links alone are searched in the quick form,
/// which keeps two sets a link; the other form keeps one.
///
/// | links | alone on the air | of that words | beside six others | of that words |
/// | --- | --- | --- | --- | --- |
/// | 8 | 3 976 | 3 736 | 2 232 | 1 944 |
/// | 16 | 7 656 | 7 256 | 4 216 | 3 768 |
/// | 32 | 15 016 | 14 296 | 7 896 | 7 128 |
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    /// Words of 64 bits.
    pub words: usize,
    /// Groups.
    pub groups: usize,
    /// Seats.
    pub seats: usize,
    /// Carriers.
    pub carriers: usize,
}

/// One of the parts of the memory is too short.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TooSmall {
    /// What is needed.
    pub needed: Size,
}

impl fmt::Display for TooSmall {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Size { words, groups, seats, carriers } = self.needed;
        write!(
            f,
            "the memory given is too small; needed are {words} words, {groups} groups, {seats} seats and {carriers} carriers"
        )
    }
}

impl core::error::Error for TooSmall {}

impl Size {
    /// What the problem needs, to the word.
    pub fn of(problem: &Problem<'_>) -> Size {
        let mut groups: usize = 0;
        let mut words: usize = 0;
        let mut seats: usize = 0;
        seats = seats.saturating_add(problem.free_links().count());
        for (index, link) in served_links(problem) {
            if is_first_of_its_group(problem, index) {
                groups = groups.saturating_add(1);
                words = words.saturating_add(words_for(link.tuning.len()));
                seats = seats.saturating_add(usize::from(spares_wanted(problem, index)));
                seats = seats.saturating_add(usize::from(more_wanted(problem, index)));
            }
        }
        Self::for_seats(words, groups, seats, problem.standing().count())
    }

    /// At most what is needed for so many links and spares that tune `steps` carriers in all
    /// `groups` groups together, beside `standing` carriers of others.
    ///
    /// ```
    /// use spurless::plan::Size;
    /// // Eight links on 1 681 carriers (42 MHz at 25 kHz), nothing else: what a microcontroller holds.
    /// assert!(Size::most(8, 1_681, 1, 0).bytes() < 4_100);
    /// ```
    pub const fn most(seats: usize, steps: u32, groups: usize, standing: usize) -> Size {
        // Each group may waste most of a word at its end.
        let words = words_for(steps).saturating_add(groups.saturating_sub(1));
        Self::for_seats(words, groups, seats, standing)
    }

    const fn for_seats(words: usize, groups: usize, seats: usize, standing: usize) -> Size {
        // What is open at each seat, and what is used where the quick form of the search serves.
        let quick = groups == 1 && standing == 0;
        let levels = seats.saturating_mul(if quick { level_words(words) } else { words });
        let rebuild = local::words(words, seats);
        let clash = match super::bound::words(standing) {
            0 => 0,
            scratch => words.saturating_add(scratch),
        };
        let most = if levels < rebuild { rebuild } else { levels };
        let most = if most < clash { clash } else { most };
        Size {
            // What is allowed at all comes first.
            words: words.saturating_add(most),
            groups,
            seats: seats.saturating_mul(SHARES),
            carriers: standing.saturating_add(seats),
        }
    }

    /// All of it in bytes, on this machine.
    pub const fn bytes(&self) -> usize {
        self.words
            .saturating_mul(size_of::<u64>())
            .saturating_add(self.groups.saturating_mul(size_of::<Group>()))
            .saturating_add(self.seats.saturating_mul(size_of::<Seat>()))
            .saturating_add(self.carriers.saturating_mul(size_of::<Carrier>()))
    }
}

impl<'m> Memory<'m> {
    /// Exactly as much of each part as the problem needs.
    pub(crate) fn cut(self, problem: &Problem<'_>) -> Result<Memory<'m>, TooSmall> {
        let needed = Size::of(problem);
        let short = || TooSmall { needed };
        Ok(Memory {
            words: self.words.get_mut(..needed.words).ok_or_else(short)?,
            groups: self.groups.get_mut(..needed.groups).ok_or_else(short)?,
            seats: self.seats.get_mut(..needed.seats).ok_or_else(short)?,
            carriers: self.carriers.get_mut(..needed.carriers).ok_or_else(short)?,
        })
    }

    /// Where among the seats the best plan is kept: the first share is the search's own.
    pub(crate) fn kept_range(&self, count: usize) -> core::ops::Range<usize> {
        let share = self.seats.len() / SHARES;
        share..share.saturating_add(count.min(share))
    }

    /// The carrier of a seat.
    pub(crate) fn carrier(&self, seat: &Seat) -> Option<Hertz> {
        self.groups.get(usize::from(seat.group))?.carrier(seat.place())
    }

    /// Copies the first `count` seats of the search to where the best plan is kept.
    pub(crate) fn keep(&mut self, count: usize) {
        let share = self.seats.len() / SHARES;
        let (live, kept) = self.seats.split_at_mut(share);
        for (slot, seat) in kept.iter_mut().zip(live.iter()).take(count) {
            *slot = *seat;
        }
    }

    /// Writes the groups and returns the words of one level.
    pub(crate) fn lay_out_groups(&mut self, problem: &Problem<'_>) -> usize {
        let mut offset: u32 = 0;
        // Memory may have room for more groups than this variation of the problem has.
        self.groups.fill(Group::EMPTY);
        let firsts = served_links(problem).filter(|&(index, _)| is_first_of_its_group(problem, index));
        for (slot, (index, link)) in self.groups.iter_mut().zip(firsts) {
            *slot = Group::new(index, &link.tuning, offset);
            offset = offset.saturating_add(slot.words);
            slot.spares = spares_wanted(problem, index);
            let alike = problem.free_links().filter(|(_, other)| tune_alike(link, other)).count();
            slot.links = u16::try_from(alike).unwrap_or(u16::MAX).saturating_add(more_wanted(problem, index));
        }
        offset as usize
    }
}

pub(crate) fn tune_alike(a: &Link<'_>, b: &Link<'_>) -> bool {
    a.bandwidth == b.bandwidth && a.tuning == b.tuning
}

/// The links that a search has to seat something for: a carrier, spares, or more links like it.
fn served_links<'a>(problem: &Problem<'a>) -> impl Iterator<Item = (u16, &'a Link<'a>)> + use<'a> {
    let problem = *problem;
    let more_like =
        move |index| problem.variation.more.is_some_and(|more| more.like == index && more.count > 0);
    problem.present_links().filter(move |&(index, link)| {
        link.spares > 0 || more_like(index) || problem.stays(index, link).is_none()
    })
}

fn is_first_of_its_group(problem: &Problem<'_>, index: u16) -> bool {
    let Some(link) = problem.links.get(usize::from(index)) else { return false };
    !served_links(problem).any(|(other, l)| other < index && tune_alike(l, link))
}

/// Links to be added to the group that this one is the first of.
fn more_wanted(problem: &Problem<'_>, index: u16) -> u16 {
    let Some(more) = problem.variation.more else { return 0 };
    let link = |i: u16| problem.links.get(usize::from(i));
    match (link(more.like), link(index)) {
        (Some(like), Some(first)) if tune_alike(like, first) => more.count,
        _ => 0,
    }
}

/// A spare serves every link of a group, so the group needs as many as its neediest link.
fn spares_wanted(problem: &Problem<'_>, index: u16) -> u16 {
    let Some(link) = problem.links.get(usize::from(index)) else { return 0 };
    let alike = problem.present_links().map(|(_, l)| l).filter(|other| tune_alike(link, other));
    u16::from(alike.map(|l| l.spares).max().unwrap_or_default())
}
