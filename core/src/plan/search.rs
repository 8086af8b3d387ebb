//! Exact search: depth first, smallest group first, ascending inside a group.
//!
//! Each level of the search holds, for every group, the set of places that are still open. Placing
//! a carrier copies the set and takes out what the carrier closes ([`super::closing`]). Links of a
//! group are interchangeable, so inside a group carriers are placed in ascending order: what lies
//! below the last one is closed too. A branch dies when some group cannot seat its remaining links
//! even if only the spacing counted. When every branch has died, that is a proof.

use super::bits;
use super::closing::closed_by_last;
use super::memory::{Group, Memory, Seat};
use super::problem::{Problem, Rules};
use crate::intermod::Carrier;
use crate::units::Level;

/// What the search has come to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum State {
    /// Not finished: give it more nodes.
    Running,
    /// Every seat is taken.
    Found,
    /// Every possibility was tried: it cannot be done.
    Exhausted,
}

/// Whether spares get seats of their own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Seating {
    Links,
    LinksAndSpares,
}

/// The state of a search between steps; all else lives in [`Memory`].
#[derive(Debug, Clone, Copy)]
pub(crate) struct Search {
    rules: Rules,
    seating: Seating,
    /// Words of one level.
    stride: usize,
    /// Carriers that stand before the search.
    standing: usize,
    /// Seats to fill.
    total: usize,
    /// Seats filled.
    pub(crate) depth: usize,
    /// Seats that were filled when the last carrier was placed, even if the search then stepped back.
    pub(crate) reached: usize,
    /// Carriers tried.
    pub(crate) nodes: u64,
    pub(crate) state: State,
}

/// Level 0 of the words: what the spectrum allows.
const ALLOWED: usize = 0;

impl Search {
    /// Writes into level 0 of the memory what the spectrum allows each group, up to a ceiling of
    /// noise if there is one.
    pub(crate) fn allow(memory: &mut Memory<'_>, problem: &Problem<'_>, ceiling: Option<Level>) {
        for group in memory.groups.iter() {
            let Some(link) = problem.links.get(usize::from(group.link)) else { continue };
            let Some(open) = memory.words.get_mut(group.range()) else { continue };
            open.fill(0);
            let limits = problem.limits(link);
            for strip in group.strips() {
                for index in 0..strip.raster.len() {
                    let Some(carrier) = strip.raster.at(index) else { break };
                    if limits.is_none_or(|only| only.binary_search(&carrier).is_ok())
                        && problem.spectrum.allows(carrier, link.bandwidth)
                        && ceiling.is_none_or(|c| problem.spectrum.noise(carrier, link.bandwidth) <= c)
                    {
                        bits::insert(open, strip.first_place.saturating_add(index));
                    }
                }
            }
        }
    }

    /// Starts: level 1 becomes what is allowed less what the standing carriers close.
    pub(crate) fn start(
        memory: &mut Memory<'_>,
        problem: &Problem<'_>,
        rules: Rules,
        seating: Seating,
        stride: usize,
    ) -> Search {
        let standing = Search::stand(memory, problem.standing().map(|(_, c)| c), &rules, stride);
        let total = memory.groups.iter().map(|g| seats_of(g, seating)).sum();
        let mut search = Search {
            rules,
            seating,
            stride,
            standing,
            total,
            depth: 0,
            reached: 0,
            nodes: 0,
            state: State::Running,
        };
        search.enter(memory);
        search
    }

    /// Writes into level 1 of the memory what is allowed less what the standing carriers close, and
    /// says how many of these there are.
    pub(crate) fn stand(
        memory: &mut Memory<'_>,
        standing: impl Iterator<Item = Carrier>,
        rules: &Rules,
        stride: usize,
    ) -> usize {
        let (allowed, open) = two_levels(memory.words, ALLOWED, stride);
        copy(allowed, open);
        let mut count: usize = 0;
        for carrier in standing {
            if let Some(slot) = memory.carriers.get_mut(count) {
                *slot = carrier;
                count = count.saturating_add(1);
            }
            Search::close(memory, count, rules, stride);
        }
        count
    }

    /// Takes out of level 1 what the last of the first `count` carriers closes.
    pub(crate) fn close(memory: &mut Memory<'_>, count: usize, rules: &Rules, stride: usize) {
        let (open, _) = two_levels(memory.words, ALLOWED.saturating_add(1), stride);
        if let Some(placed) = memory.carriers.get(..count) {
            take_out(memory.groups, open, placed, rules);
        }
    }

    /// Places the next carrier at this level, or goes back one.
    pub(crate) fn advance(&mut self, memory: &mut Memory<'_>) {
        let (open, below) = two_levels(memory.words, self.depth.saturating_add(1), self.stride);
        let next = memory.seats.get(self.depth).and_then(|seat| {
            let group = memory.groups.get(usize::from(seat.group))?;
            let place = bits::next(open.get(group.range())?, seat.after())?;
            Some((seat.group, group, place, group.carrier(place)?))
        });
        let Some((index, group, place, carrier)) = next else {
            match self.depth.checked_sub(1) {
                Some(depth) => self.depth = depth,
                None => self.state = State::Exhausted,
            }
            return;
        };
        self.nodes = self.nodes.saturating_add(1);
        let seat = Seat::at(index, place);
        if let Some(slot) = memory.seats.get_mut(self.depth) {
            *slot = seat;
        }
        let count = self.standing.saturating_add(self.depth).saturating_add(1);
        if let Some(slot) = memory.carriers.get_mut(count.saturating_sub(1)) {
            *slot = Carrier::own(carrier);
        }
        self.depth = self.depth.saturating_add(1);
        self.reached = self.depth;
        if self.depth == self.total {
            self.state = State::Found;
            return;
        }
        copy(open, below);
        if let Some(own) = below.get_mut(group.range()) {
            bits::remove(own, 0..seat.after());
        }
        if let Some(placed) = memory.carriers.get(..count) {
            take_out(memory.groups, below, placed, &self.rules);
        }
        self.enter(memory);
    }

    /// Chooses the group to serve at this level; steps back if some group cannot be seated.
    fn enter(&mut self, memory: &mut Memory<'_>) {
        if self.total == 0 {
            self.state = State::Found;
            return;
        }
        let (open, _) = two_levels(memory.words, self.depth.saturating_add(1), self.stride);
        let taken = memory.seats.get(..self.depth).unwrap_or_default();
        // Least room for each link still to be seated.
        let mut tightest: Option<(u64, u64, u16)> = None;
        for (index, group) in (0..=u16::MAX).zip(memory.groups.iter()) {
            let seated = taken.iter().filter(|s| s.group == index).count();
            let wanted = seats_of(group, self.seating).saturating_sub(seated);
            if wanted == 0 {
                continue;
            }
            let room = room(group, open.get(group.range()).unwrap_or_default(), &self.rules);
            if (room as usize) < wanted {
                match self.depth.checked_sub(1) {
                    Some(depth) => self.depth = depth,
                    None => self.state = State::Exhausted,
                }
                return;
            }
            let (room, wanted) = (u64::from(room), wanted as u64);
            let tighter = tightest.is_none_or(|(r, w, _)| room.saturating_mul(w) < r.saturating_mul(wanted));
            if tighter {
                tightest = Some((room, wanted, index));
            }
        }
        if let (Some((.., group)), Some(slot)) = (tightest, memory.seats.get_mut(self.depth)) {
            *slot = Seat::first_of(group);
        }
    }
}

/// How many carriers the group needs.
pub(crate) fn seats_of(group: &Group, seating: Seating) -> usize {
    match seating {
        Seating::Links => usize::from(group.links),
        Seating::LinksAndSpares => usize::from(group.links).saturating_add(usize::from(group.spares)),
    }
}

/// At most how many carriers could stand in the open places if only the spacing counted: walk up
/// and take every place at least one spacing after the last. Exact for one raster.
pub(crate) fn room(group: &Group, open: &[u64], rules: &Rules) -> u32 {
    let mut seats: u32 = 0;
    for strip in group.strips() {
        let apart = rules.spacing.hz().max(1).div_ceil(strip.raster.step().hz().max(1));
        let end = strip.first_place.saturating_add(strip.raster.len());
        let mut from = strip.first_place;
        while let Some(place) = bits::next(open, from).filter(|&p| p < end) {
            seats = seats.saturating_add(1);
            from = place.saturating_add(apart);
        }
    }
    seats
}

/// Takes out of every group what the last of `placed` closes.
fn take_out(groups: &[Group], open: &mut [u64], placed: &[Carrier], rules: &Rules) {
    match groups {
        // One group of one raster is by far the commonest: no loop inside the innermost.
        [group, others @ ..] if group.strip_count == 1 && others.iter().all(|o| o.strip_count == 0) => {
            let Some(strip) = group.strips().first() else { return };
            closed_by_last(placed, rules, |low, high| {
                bits::remove(open, strip.raster.places_within(low, high))
            });
        }
        _ => closed_by_last(placed, rules, |low, high| {
            for group in groups {
                let Some(own) = open.get_mut(group.range()) else { continue };
                for strip in group.strips() {
                    let places = strip.raster.places_within(low, high);
                    if !places.is_empty() {
                        let first = strip.first_place;
                        bits::remove(own, first.wrapping_add(places.start)..first.wrapping_add(places.end));
                    }
                }
            }
        }),
    }
}

/// `copy_from_slice` without its panic.
#[inline]
fn copy(from: &[u64], to: &mut [u64]) {
    for (slot, &word) in to.iter_mut().zip(from) {
        *slot = word;
    }
}

/// A level and the one below it; either is empty where the memory ends.
fn two_levels(words: &mut [u64], level: usize, stride: usize) -> (&mut [u64], &mut [u64]) {
    let start = level.saturating_mul(stride).min(words.len());
    let (_, from) = words.split_at_mut(start);
    let (this, rest) = from.split_at_mut(stride.min(from.len()));
    let (below, _) = rest.split_at_mut(stride.min(rest.len()));
    (this, below)
}
