//! Ruin and rebuild: for plans too large to search through.
//!
//! A counter for each place tells how many things close it, so that carriers can be taken out
//! again. Links are placed at random open places, the one that closes least of a few; when nothing
//! is open any more, some are taken out and placed anew. A result no worse than the last is kept;
//! after many failures a worse one is. It proves nothing, but finds what exact search would not live
//! to see. The dice are seeded: the same problem takes the same course everywhere.

use super::bound::Distances;
use super::closing::closed_by_last;
use super::memory::{Group, Memory, Seat};
use super::problem::{Problem, Rules};
use super::search::{Seating, State, seats_of};
use super::sidon::Sidon;
use crate::intermod::Carrier;

/// Fewer seats than this are left to exact search alone.
pub(crate) const FEWEST_SEATS: usize = 12;
/// Words of counters for a word of places: sixteen bits a place.
pub(crate) const COUNTER_WORDS: usize = 16;
/// Failures until a worse plan is taken as the new mark.
const PATIENCE: u32 = 300;
/// How many places are looked at for one link, in turn.
const LOOKS: [u32; 4] = [1, 3, 6, 10];
/// Any number but zero.
const SEED: u64 = 0x5eed_0f5b_0a7e_55ed;

/// The state between steps.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Local {
    rules: Rules,
    seating: Seating,
    standing: usize,
    total: usize,
    pub(crate) depth: usize,
    /// Carriers of the plan that the next is measured against.
    mark: usize,
    failures: u32,
    rounds: u32,
    dice: u64,
    /// Ways to start that are still being tried.
    start: Option<Sidon>,
    pub(crate) nodes: u64,
    pub(crate) state: State,
}

/// Fewer seats than this start from nothing: there ruin and rebuild does better by itself.
const FEWEST_FOR_SIDON: usize = 24;
/// How many ways to start are tried.
const WAYS: u64 = 200_000;

impl Local {
    /// Whether the memory holds what is needed.
    pub(crate) fn serves(memory: &Memory<'_>, seating: Seating, stride: usize) -> bool {
        let seats: usize = memory.groups.iter().map(|g| seats_of(g, seating)).sum();
        seats >= FEWEST_SEATS
            && memory.words.len() >= stride.saturating_mul(COUNTER_WORDS.saturating_add(1))
            && memory.seats.len() >= seats.saturating_mul(3)
    }

    /// Starts from what the spectrum allows, in level 0 of the memory.
    pub(crate) fn start(
        memory: &mut Memory<'_>,
        problem: &Problem<'_>,
        rules: Rules,
        seating: Seating,
        stride: usize,
    ) -> Local {
        let (allowed, counters) = memory.words.split_at_mut(stride.min(memory.words.len()));
        let counters = as_counters(counters);
        for (places, &word) in counters.chunks_mut(64).zip(allowed.iter()) {
            for (bit, counter) in (0..64).zip(places) {
                *counter = u16::from(word & (1 << bit) == 0);
            }
        }
        let mut standing: usize = 0;
        for (_, carrier) in problem.standing() {
            if let Some(slot) = memory.carriers.get_mut(standing) {
                *slot = carrier;
                standing = standing.saturating_add(1);
            }
            let placed = memory.carriers.get(..standing).unwrap_or_default();
            count(memory.groups, counters, placed, &rules, Count::Up);
        }
        let total: usize = memory.groups.iter().map(|g| seats_of(g, seating)).sum();
        let start = if total >= FEWEST_FOR_SIDON { good_start(memory, &rules, stride) } else { None };
        let state = if total == 0 { State::Found } else { State::Running };
        Local {
            rules,
            seating,
            standing,
            total,
            depth: 0,
            mark: 0,
            failures: 0,
            rounds: 0,
            dice: SEED,
            start,
            nodes: 0,
            state,
        }
    }

    /// Places one carrier, or takes some out.
    pub(crate) fn advance(&mut self, memory: &mut Memory<'_>, stride: usize) {
        if let Some(start) = &mut self.start {
            self.nodes = self.nodes.saturating_add(1);
            let more = start.advance(open_at_start(memory.words, stride));
            if !more || self.nodes >= WAYS {
                self.take_start(memory, stride);
            }
            return;
        }
        match self.next_group(memory, stride) {
            Some((group, open)) => {
                let look = LOOKS.get((self.rounds & 3) as usize).copied().unwrap_or(1);
                let seat = self.best_place(memory, stride, group, open, look);
                self.place(memory, stride, seat);
                if self.depth == self.total {
                    self.state = State::Found;
                }
            }
            None => self.ruin(memory, stride),
        }
    }

    /// Places the best start as far as it is open.
    fn take_start(&mut self, memory: &mut Memory<'_>, stride: usize) {
        let Some(start) = self.start.take() else { return };
        let mut from = 0;
        while self.depth < self.total {
            let Some(place) = start.next_place(open_at_start(memory.words, stride), from) else { break };
            from = place.saturating_add(1);
            let Some(group) = memory.groups.first() else { break };
            let carrier = group.carrier(place);
            let counters = as_counters(memory.words.get_mut(stride..).unwrap_or_default());
            let open = places_of(group, counters).get(place as usize) == Some(&0);
            if let Some(carrier) = carrier.filter(|_| open) {
                self.place(memory, stride, Seat { group: 0, carrier, ..Seat::EMPTY });
            }
        }
        if self.depth == self.total {
            self.state = State::Found;
        }
    }

    /// The group with least open places for each link still to be seated, of those that have any.
    fn next_group(&self, memory: &mut Memory<'_>, stride: usize) -> Option<(u16, u32)> {
        let counters = as_counters(memory.words.get_mut(stride..).unwrap_or_default());
        let taken = memory.seats.get(..self.depth).unwrap_or_default();
        let mut tightest: Option<(u64, u64, u16, u32)> = None;
        for (index, group) in (0..=u16::MAX).zip(memory.groups.iter()) {
            let seated = taken.iter().filter(|s| s.group == index).count();
            let wanted = seats_of(group, self.seating).saturating_sub(seated) as u64;
            if wanted == 0 {
                continue;
            }
            let places = places_of(group, counters);
            let open = places.iter().fold(0_u32, |sum, &c| sum.wrapping_add(u32::from(c == 0)));
            let room = u64::from(open);
            let tighter = tightest.is_none_or(|(r, w, ..)| room.saturating_mul(w) < r.saturating_mul(wanted));
            if open > 0 && tighter {
                tightest = Some((room, wanted, index, open));
            }
        }
        tightest.map(|(.., group, open)| (group, open))
    }

    /// Of a few random open places of a group the one that closes fewest others.
    fn best_place(
        &mut self,
        memory: &mut Memory<'_>,
        stride: usize,
        index: u16,
        open: u32,
        looks: u32,
    ) -> Seat {
        let mut best = (u32::MAX, Seat::EMPTY);
        for _ in 0..looks {
            let rank = self.roll(open);
            let counters = as_counters(memory.words.get_mut(stride..).unwrap_or_default());
            let Some(group) = memory.groups.get(usize::from(index)) else { break };
            let mut open_places = (0_u32..).zip(places_of(group, counters)).filter(|(_, c)| **c == 0);
            let Some(carrier) = open_places.nth(rank as usize).and_then(|(p, _)| group.carrier(p)) else {
                break;
            };
            let seat = Seat { group: index, carrier, ..Seat::EMPTY };
            if looks == 1 {
                return seat;
            }
            let count_to = self.standing.saturating_add(self.depth).saturating_add(1);
            if let Some(slot) = memory.carriers.get_mut(count_to.saturating_sub(1)) {
                *slot = Carrier::own(carrier);
            }
            let placed = memory.carriers.get(..count_to).unwrap_or_default();
            self.nodes = self.nodes.saturating_add(1);
            let closes = count(memory.groups, counters, placed, &self.rules, Count::Open);
            if closes < best.0 {
                best = (closes, seat);
            }
        }
        best.1
    }

    fn place(&mut self, memory: &mut Memory<'_>, stride: usize, seat: Seat) {
        self.nodes = self.nodes.saturating_add(1);
        if let Some(slot) = memory.seats.get_mut(self.depth) {
            *slot = seat;
        }
        self.depth = self.depth.saturating_add(1);
        let count_to = self.standing.saturating_add(self.depth);
        if let Some(slot) = memory.carriers.get_mut(count_to.saturating_sub(1)) {
            *slot = Carrier::own(seat.carrier);
        }
        self.count_last(memory, stride, Count::Up);
    }

    /// Takes out the carrier in a seat; the last one moves into its place.
    fn take_out(&mut self, memory: &mut Memory<'_>, stride: usize, seat: usize) {
        self.nodes = self.nodes.saturating_add(1);
        let last = self.depth.saturating_sub(1);
        if seat < memory.seats.len() && last < memory.seats.len() {
            memory.seats.swap(seat, last);
        }
        let (a, b) = (self.standing.saturating_add(seat), self.standing.saturating_add(last));
        if a < memory.carriers.len() && b < memory.carriers.len() {
            memory.carriers.swap(a, b);
        }
        self.count_last(memory, stride, Count::Down);
        self.depth = last;
    }

    fn count_last(&self, memory: &mut Memory<'_>, stride: usize, what: Count) {
        let counters = as_counters(memory.words.get_mut(stride..).unwrap_or_default());
        let placed = memory.carriers.get(..self.standing.saturating_add(self.depth)).unwrap_or_default();
        count(memory.groups, counters, placed, &self.rules, what);
    }

    /// Nothing is open: measure the plan against the mark, then take some of it out.
    fn ruin(&mut self, memory: &mut Memory<'_>, stride: usize) {
        self.rounds = self.rounds.wrapping_add(1);
        let better = self.depth > self.mark;
        self.failures = if better { 0 } else { self.failures.saturating_add(1) };
        if self.depth >= self.mark || self.failures >= PATIENCE {
            self.mark = self.depth;
            self.failures = 0;
            let (live, mark) = marks(memory.seats);
            for (slot, seat) in mark.iter_mut().zip(live.iter()).take(self.depth) {
                *slot = *seat;
            }
        } else {
            self.restore(memory, stride);
        }
        let most = (self.depth / 3).max(1);
        let out = self.roll(u32::try_from(most).unwrap_or(u32::MAX)).saturating_add(1);
        for _ in 0..out {
            if self.depth > 0 {
                let seat = self.roll(u32::try_from(self.depth).unwrap_or(u32::MAX));
                self.take_out(memory, stride, seat as usize);
            }
        }
        // Even where nothing can be placed or taken out, time goes by.
        self.nodes = self.nodes.saturating_add(1);
    }

    /// Goes back to the marked plan.
    fn restore(&mut self, memory: &mut Memory<'_>, stride: usize) {
        let mut seat = self.depth;
        while let Some(below) = seat.checked_sub(1) {
            seat = below;
            let (live, mark) = marks(memory.seats);
            let marked = mark.get(..self.mark).unwrap_or_default();
            if live.get(seat).is_some_and(|s| !marked.iter().any(|m| m.carrier == s.carrier)) {
                self.take_out(memory, stride, seat);
            }
        }
        for index in 0..self.mark {
            let (live, mark) = marks(memory.seats);
            let Some(&wanted) = mark.get(index) else { break };
            let placed = live.get(..self.depth).unwrap_or_default();
            if !placed.iter().any(|s| s.carrier == wanted.carrier) {
                self.place(memory, stride, wanted);
            }
        }
    }

    /// A number below `sides`. Source: Marsaglia's xorshift (from memory); scaled, not reduced.
    fn roll(&mut self, sides: u32) -> u32 {
        self.dice ^= self.dice << 13;
        self.dice ^= self.dice >> 7;
        self.dice ^= self.dice << 17;
        ((self.dice >> 32).wrapping_mul(u64::from(sides)) >> 32) as u32
    }
}

/// A start for one group of one raster, where the memory has room for one more set of open places,
/// which is written there.
fn good_start(memory: &mut Memory<'_>, rules: &Rules, stride: usize) -> Option<Sidon> {
    let [group, others @ ..] = &*memory.groups else { return None };
    let [strip] = group.strips() else { return None };
    if others.iter().any(|other| !other.strips().is_empty()) {
        return None;
    }
    let (counters, open) =
        memory.words.get_mut(stride..)?.split_at_mut_checked(stride.checked_mul(COUNTER_WORDS)?)?;
    for (word, places) in open.get_mut(..stride)?.iter_mut().zip(as_counters(counters).chunks(64)) {
        *word = (0..64).zip(places).filter(|(_, c)| **c == 0).fold(0, |set, (bit, _)| set | 1 << bit);
    }
    Sidon::new(&Distances::of(rules, strip.raster.step().hz()), strip.raster.len())
}

/// The places that were open at the start: they lie behind the counters.
fn open_at_start(words: &[u64], stride: usize) -> &[u64] {
    let from = stride.saturating_mul(COUNTER_WORDS.saturating_add(1));
    words.get(from..from.saturating_add(stride)).unwrap_or_default()
}

/// The seats of the search, and those of its mark: the first and the last third.
fn marks(seats: &mut [Seat]) -> (&mut [Seat], &mut [Seat]) {
    let third = seats.len() / 3;
    let (live, rest) = seats.split_at_mut(third);
    let (_, mark) = rest.split_at_mut(third.min(rest.len()));
    (live, mark)
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
