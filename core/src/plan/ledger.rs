//! What is open while carriers come and go: the book that ruin and rebuild keeps.
//!
//! In general a counter for each place tells how many things close it, so that carriers can be taken
//! out again. Where distances alone tell it ([`Field`]), they do, ten times as fast.

use super::bits;
use super::bound::Distances;
use super::closing::closed_by_last;
use super::field::{self, Field};
use super::front::Front;
use super::memory::{Group, Memory, Seat};
use super::problem::{Problem, Rules};
use super::search::Seating;
use crate::intermod::Carrier;
use crate::units::Hertz;

/// Words of counters for a word of places: sixteen bits a place. More than a [`Field`] needs.
pub(crate) const COUNTER_WORDS: usize = 16;
const _: () = assert!(field::SETS <= COUNTER_WORDS);

/// How it is kept; the book itself lies in the words behind what is allowed.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ledger {
    rules: Rules,
    /// Carriers that stand already.
    standing: usize,
    /// Words of one set of places.
    stride: usize,
    way: Way,
}

#[derive(Debug, Clone, Copy)]
enum Way {
    Counters,
    /// By distances; whether something was changed since they were found.
    Field(Distances, bool),
}

impl Ledger {
    /// What is open at the start.
    pub(crate) fn start(
        memory: &mut Memory<'_>,
        problem: &Problem<'_>,
        rules: Rules,
        seating: Seating,
        stride: usize,
    ) -> Ledger {
        let mut ledger = Ledger { rules, standing: 0, stride, way: Way::Counters };
        let strip = memory.groups.first().and_then(|group| group.strips().first());
        let distances = strip.map(|strip| Distances::of(&rules, strip.raster.step().hz()));
        let distances = distances.filter(|d| d.three.is_some());
        if let Some(distances) = distances.filter(|_| Front::serves(memory, problem, &rules, seating, stride))
        {
            ledger.way = Way::Field(distances, true);
            ledger.settle(memory, 0);
            return ledger;
        }
        let (allowed, counters) = memory.words.split_at_mut(stride.min(memory.words.len()));
        let counters = as_counters(counters);
        for (places, &word) in counters.chunks_mut(64).zip(allowed.iter()) {
            for (bit, counter) in (0..64).zip(places) {
                *counter = u16::from(word & (1 << bit) == 0);
            }
        }
        for (_, carrier) in problem.standing() {
            if let Some(slot) = memory.carriers.get_mut(ledger.standing) {
                *slot = carrier;
                ledger.standing = ledger.standing.saturating_add(1);
            }
            ledger.count_last(memory, 0, Count::Up);
        }
        ledger
    }

    /// Brings the book up to date with the first `depth` seats.
    #[inline]
    pub(crate) fn settle(&mut self, memory: &mut Memory<'_>, depth: usize) {
        if let Way::Field(distances, stale @ true) = &mut self.way {
            *stale = false;
            let (allowed, words) = memory.words.split_at_mut(self.stride.min(memory.words.len()));
            let placed = memory.seats.get(..depth).unwrap_or_default();
            Field::within(words, self.stride).find(allowed, distances, placed.iter().map(Seat::place));
        }
    }

    /// How many places of a group are open.
    pub(crate) fn open(&self, memory: &mut Memory<'_>, group: u16) -> u32 {
        let words = memory.words.get_mut(self.stride..).unwrap_or_default();
        let Some(group) = memory.groups.get(usize::from(group)) else { return 0 };
        match self.way {
            Way::Field(..) => {
                let field = Field::within(words, self.stride);
                field.open().iter().fold(0, |sum, word| word.count_ones().wrapping_add(sum))
            }
            Way::Counters => {
                let counters = places_of(group, as_counters(words));
                counters.iter().fold(0, |sum, &c| u32::from(c == 0).wrapping_add(sum))
            }
        }
    }

    /// The open place of a group with so many others below it.
    pub(crate) fn nth_open(&self, memory: &mut Memory<'_>, group: u16, rank: u32) -> Option<u32> {
        let words = memory.words.get_mut(self.stride..)?;
        match self.way {
            Way::Field(..) => bits::nth(Field::within(words, self.stride).open(), rank),
            Way::Counters => {
                let counters = places_of(memory.groups.get(usize::from(group))?, as_counters(words));
                let mut open = (0..).zip(counters).filter(|(_, c)| **c == 0);
                open.nth(rank as usize).map(|(place, _)| place)
            }
        }
    }

    /// Whether a place of the first group is open.
    pub(crate) fn is_open(&self, memory: &mut Memory<'_>, place: u32) -> bool {
        let words = memory.words.get_mut(self.stride..).unwrap_or_default();
        match self.way {
            Way::Field(..) => bits::contains(Field::within(words, self.stride).open(), place),
            Way::Counters => as_counters(words).get(place as usize) == Some(&0),
        }
    }

    /// How much a carrier would close beside the first `depth` seats.
    pub(crate) fn closes(&self, memory: &mut Memory<'_>, depth: usize, seat: Seat, carrier: Hertz) -> u32 {
        match self.way {
            Way::Field(..) => {
                let words = memory.words.get_mut(self.stride..).unwrap_or_default();
                Field::within(words, self.stride).closes(seat.place())
            }
            Way::Counters => {
                self.write(memory, depth, carrier);
                self.count_last(memory, depth.saturating_add(1), Count::Open)
            }
        }
    }

    /// A carrier comes to the seats, as the last of `depth`.
    pub(crate) fn place(&mut self, memory: &mut Memory<'_>, depth: usize, carrier: Hertz) {
        match &mut self.way {
            Way::Field(_, stale) => *stale = true,
            Way::Counters => {
                self.write(memory, depth.saturating_sub(1), carrier);
                self.count_last(memory, depth, Count::Up);
            }
        }
    }

    /// The carrier of a seat is to go; that of the last seat, of `depth`, moves into its place.
    pub(crate) fn take_out(&mut self, memory: &mut Memory<'_>, depth: usize, seat: usize) {
        match &mut self.way {
            Way::Field(_, stale) => *stale = true,
            Way::Counters => {
                let last = self.standing.saturating_add(depth.saturating_sub(1));
                let seat = self.standing.saturating_add(seat);
                if seat < memory.carriers.len() && last < memory.carriers.len() {
                    memory.carriers.swap(seat, last);
                }
                self.count_last(memory, depth, Count::Down);
            }
        }
    }

    fn write(&self, memory: &mut Memory<'_>, seat: usize, carrier: Hertz) {
        if let Some(slot) = memory.carriers.get_mut(self.standing.saturating_add(seat)) {
            *slot = Carrier::own(carrier);
        }
    }

    fn count_last(&self, memory: &mut Memory<'_>, depth: usize, what: Count) -> u32 {
        let counters = as_counters(memory.words.get_mut(self.stride..).unwrap_or_default());
        let placed = memory.carriers.get(..self.standing.saturating_add(depth)).unwrap_or_default();
        count(memory.groups, counters, placed, &self.rules, what)
    }
}

fn as_counters(words: &mut [u64]) -> &mut [u16] {
    bytemuck::try_cast_slice_mut(words).unwrap_or_default()
}

fn places_of<'c>(group: &Group, counters: &'c [u16]) -> &'c [u16] {
    let range = group.range();
    counters.get(range.start.saturating_mul(64)..range.end.saturating_mul(64)).unwrap_or_default()
}

/// What is done with the counter of every place that is closed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Count {
    /// One thing more closes it.
    Up,
    /// One thing fewer.
    Down,
    /// Nothing; the open ones are counted.
    Open,
}

/// Does so with every place that the last of `placed` closes, once for each thing that closes it,
/// and says how many of them were open.
fn count(groups: &[Group], counters: &mut [u16], placed: &[Carrier], rules: &Rules, what: Count) -> u32 {
    let mut open: u32 = 0;
    closed_by_last(placed, rules, |low, high| {
        for group in groups {
            let base = group.range().start.saturating_mul(64);
            for strip in group.strips() {
                let places = strip.raster.places_within(low, high);
                let first = base.wrapping_add(strip.first_place as usize);
                let run = first.wrapping_add(places.start as usize)..first.wrapping_add(places.end as usize);
                for counter in counters.get_mut(run).unwrap_or_default() {
                    match what {
                        Count::Up => *counter = counter.wrapping_add(1),
                        Count::Down => *counter = counter.wrapping_sub(1),
                        Count::Open => open = open.wrapping_add(u32::from(*counter == 0)),
                    }
                }
            }
        }
    });
    open
}
