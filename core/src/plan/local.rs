//! Ruin and rebuild: for plans too large to search through.
//!
//! Links are placed at random open places, the one that closes least of a few; when nothing is open
//! any more, some are taken out and placed anew. A result no worse than the last is kept; after many
//! failures a worse one is. It proves nothing, but finds what exact search would not live to see. The
//! dice are seeded: the same problem takes the same course everywhere.

use super::bits;
use super::bound::Distances;
use super::ledger::{COUNTER_WORDS, Ledger};
use super::memory::{Memory, Seat};
use super::problem::{Problem, Rules};
use super::search::{Seating, State, seats_of};
use super::sidon::Sidon;
use crate::units::Hertz;

/// Fewer seats than this are left to exact search alone.
pub(crate) const FEWEST_SEATS: usize = 12;

/// Words that are needed for so many seats, beside what is allowed, where ruin and rebuild serves.
pub(crate) const fn words(stride: usize, seats: usize) -> usize {
    if seats < FEWEST_SEATS {
        0
    } else {
        stride.saturating_mul(COUNTER_WORDS).saturating_add(mark_words(seats))
    }
}

/// Words that keep so many seats packed.
const fn mark_words(seats: usize) -> usize {
    seats.div_ceil(4).saturating_mul(3)
}

/// Failures until a worse plan is taken as the new mark.
const PATIENCE: u32 = 300;
/// How many places are looked at for one link, in turn.
const LOOKS: [u32; 4] = [1, 3, 6, 10];
/// Any number but zero.
const SEED: u64 = 0x5eed_0f5b_0a7e_55ed;

/// The state between steps.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Local {
    ledger: Ledger,
    seating: Seating,
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
        seats >= FEWEST_SEATS && memory.words.len() >= stride.saturating_add(words(stride, seats))
    }

    /// Starts from what the spectrum allows, in level 0 of the memory.
    pub(crate) fn start(
        memory: &mut Memory<'_>,
        problem: &Problem<'_>,
        rules: Rules,
        seating: Seating,
        stride: usize,
    ) -> Local {
        let ledger = Ledger::start(memory, problem, rules, seating, stride);
        let total: usize = memory.groups.iter().map(|g| seats_of(g, seating)).sum();
        let start =
            if total >= FEWEST_FOR_SIDON { good_start(memory, &ledger, &rules, stride, total) } else { None };
        let state = if total == 0 { State::Found } else { State::Running };
        Local {
            ledger,
            seating,
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
        self.ledger.settle(memory, self.depth);
        match self.next_group(memory) {
            Some((group, open)) => {
                let look = LOOKS.get((self.rounds & 3) as usize).copied().unwrap_or(1);
                let (seat, carrier) = self.best_place(memory, group, open, look);
                self.place(memory, seat, carrier);
                if self.depth == self.total {
                    self.state = State::Found;
                }
            }
            None => self.ruin(memory),
        }
    }

    /// Places the best start as far as it is open.
    fn take_start(&mut self, memory: &mut Memory<'_>, stride: usize) {
        let Some(start) = self.start.take() else { return };
        let mut from = 0;
        while self.depth < self.total {
            let Some(place) = start.next_place(open_at_start(memory.words, stride), from) else { break };
            from = place.saturating_add(1);
            self.ledger.settle(memory, self.depth);
            let seat = Seat::at(0, place);
            let carrier = memory.carrier(&seat).filter(|_| self.ledger.is_open(memory, place));
            if let Some(carrier) = carrier {
                self.place(memory, seat, carrier);
            }
        }
        if self.depth == self.total {
            self.state = State::Found;
        }
    }

    /// The group with least open places for each link still to be seated, of those that have any.
    fn next_group(&self, memory: &mut Memory<'_>) -> Option<(u16, u32)> {
        let mut tightest: Option<(u64, u64, u16, u32)> = None;
        for index in 0..u16::try_from(memory.groups.len()).unwrap_or(u16::MAX) {
            let taken = memory.seats.get(..self.depth).unwrap_or_default();
            let seated = taken.iter().filter(|s| s.group == index).count();
            let seats = memory.groups.get(usize::from(index)).map_or(0, |g| seats_of(g, self.seating));
            let wanted = seats.saturating_sub(seated) as u64;
            if wanted == 0 {
                continue;
            }
            let open = self.ledger.open(memory, index);
            let room = u64::from(open);
            let tighter = tightest.is_none_or(|(r, w, ..)| room.saturating_mul(w) < r.saturating_mul(wanted));
            if open > 0 && tighter {
                tightest = Some((room, wanted, index, open));
            }
        }
        tightest.map(|(.., group, open)| (group, open))
    }

    /// Of a few random open places of a group the one that closes fewest others.
    fn best_place(&mut self, memory: &mut Memory<'_>, group: u16, open: u32, looks: u32) -> (Seat, Hertz) {
        let mut best = (u32::MAX, (Seat::EMPTY, Hertz::ZERO));
        for _ in 0..looks {
            let rank = self.roll(open);
            let Some(place) = self.ledger.nth_open(memory, group, rank) else { break };
            let seat = Seat::at(group, place);
            let Some(carrier) = memory.carrier(&seat) else { break };
            if looks == 1 {
                return (seat, carrier);
            }
            self.nodes = self.nodes.saturating_add(1);
            let closes = self.ledger.closes(memory, self.depth, seat, carrier);
            if closes < best.0 {
                best = (closes, (seat, carrier));
            }
        }
        best.1
    }

    fn place(&mut self, memory: &mut Memory<'_>, seat: Seat, carrier: Hertz) {
        self.nodes = self.nodes.saturating_add(1);
        if let Some(slot) = memory.seats.get_mut(self.depth) {
            *slot = seat;
        }
        self.depth = self.depth.saturating_add(1);
        self.ledger.place(memory, self.depth, carrier);
    }

    /// Takes out the carrier in a seat; the last one moves into its place.
    fn take_out(&mut self, memory: &mut Memory<'_>, seat: usize) {
        self.nodes = self.nodes.saturating_add(1);
        let last = self.depth.saturating_sub(1);
        if seat < memory.seats.len() && last < memory.seats.len() {
            memory.seats.swap(seat, last);
        }
        self.ledger.take_out(memory, self.depth, seat);
        self.depth = last;
    }

    /// Nothing is open: measure the plan against the mark, then take some of it out.
    fn ruin(&mut self, memory: &mut Memory<'_>) {
        self.rounds = self.rounds.wrapping_add(1);
        let better = self.depth > self.mark;
        self.failures = if better { 0 } else { self.failures.saturating_add(1) };
        if self.depth >= self.mark || self.failures >= PATIENCE {
            self.mark = self.depth;
            self.failures = 0;
            for (slot, seat) in
                mark_of(memory.words, self.total).iter_mut().zip(&*memory.seats).take(self.depth)
            {
                *slot = seat.packed();
            }
        } else {
            self.restore(memory);
        }
        let most = (self.depth / 3).max(1);
        let out = self.roll(u32::try_from(most).unwrap_or(u32::MAX)).saturating_add(1);
        for _ in 0..out {
            if self.depth > 0 {
                let seat = self.roll(u32::try_from(self.depth).unwrap_or(u32::MAX));
                self.take_out(memory, seat as usize);
            }
        }
        // Even where nothing can be placed or taken out, time goes by.
        self.nodes = self.nodes.saturating_add(1);
    }

    /// Goes back to the marked plan.
    fn restore(&mut self, memory: &mut Memory<'_>) {
        let mut seat = self.depth;
        while let Some(below) = seat.checked_sub(1) {
            seat = below;
            let mark = mark_of(memory.words, self.total);
            let marked = mark.get(..self.mark).unwrap_or_default();
            if memory.seats.get(seat).is_some_and(|s| !marked.contains(&s.packed())) {
                self.take_out(memory, seat);
            }
        }
        for index in 0..self.mark {
            let Some(&wanted) = mark_of(memory.words, self.total).get(index) else { break };
            let wanted = Seat::unpacked(wanted);
            let placed = memory.seats.get(..self.depth).unwrap_or_default();
            let carrier = memory.carrier(&wanted).filter(|_| !placed.contains(&wanted));
            if let Some(carrier) = carrier {
                self.place(memory, wanted, carrier);
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
fn good_start(
    memory: &mut Memory<'_>,
    ledger: &Ledger,
    rules: &Rules,
    stride: usize,
    seats: usize,
) -> Option<Sidon> {
    let [group, others @ ..] = &*memory.groups else { return None };
    let [strip] = group.strips() else { return None };
    let raster = strip.raster;
    let needed = stride.saturating_add(words(stride, seats)).saturating_add(stride);
    if others.iter().any(|other| !other.strips().is_empty()) || memory.words.len() < needed {
        return None;
    }
    for place in 0..raster.len() {
        let open = ledger.is_open(memory, place);
        let places = open_at_start(memory.words, stride);
        if place == 0 {
            places.fill(0);
        }
        if open {
            bits::insert(places, place);
        }
    }
    Sidon::new(&Distances::of(rules, raster.step().hz()), raster.len())
}

/// The places that were open at the start: they lie behind the counters.
fn open_at_start(words: &mut [u64], stride: usize) -> &mut [u64] {
    let from = stride.saturating_mul(COUNTER_WORDS.saturating_add(1));
    words.get_mut(from..from.saturating_add(stride)).unwrap_or_default()
}

/// The seats of the mark, packed: at the end of the words.
fn mark_of(words: &mut [u64], seats: usize) -> &mut [[u16; 3]] {
    let from = words.len().saturating_sub(mark_words(seats));
    bytemuck::try_cast_slice_mut(words.get_mut(from..).unwrap_or_default()).unwrap_or_default()
}
