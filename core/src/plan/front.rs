//! Exact search from left to right, for one raster with nothing standing on it.
//!
//! If every carrier is placed to the right of all others, only two things close a place ahead: the
//! distances between carriers already placed, laid off from the last one, and the spacing. For
//! `R = X + Y - Z` with `Y` the latest of the three is `R - Y = X - Z`, and `X - Z` was known when
//! `Y` was the last. So a level keeps two sets: the places still open, and the distances used,
//! widened by the guard. A node costs two passes over a few words, whatever the number of carriers.
//!
//! Third order only, and the two-transmitter guard must not be the smaller: a distance that shares a
//! carrier with its equal is a two-transmitter product, one that shares none a three-transmitter one.

use super::bits;
use super::bound::{Distances, SPANS};
use super::memory::{Memory, Seat};
use super::problem::{Problem, Rules};
use super::search::{Seating, State, seats_of};
use crate::intermod::Kind;

/// The state of a search between steps.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Front {
    distances: Distances,
    /// Places of the raster, in words.
    stride: usize,
    total: usize,
    pub(crate) depth: usize,
    pub(crate) nodes: u64,
    pub(crate) state: State,
    /// The highest place that is open at all.
    top: u32,
    /// Every place is open: whatever fits also fits pushed to the left, and mirrored.
    whole: bool,
    /// `shortest[n]`: the least span of `n` carriers.
    shortest: [u32; SPANS],
}

/// Sets kept a level: the places open ahead, and the distances used.
pub(crate) const SETS: usize = 2;

impl Front {
    /// Whether this form serves the problem.
    pub(crate) fn serves(
        memory: &Memory<'_>,
        problem: &Problem<'_>,
        rules: &Rules,
        seating: Seating,
        stride: usize,
    ) -> bool {
        // Groups beyond those of the problem are empty.
        let [group, others @ ..] = &*memory.groups else { return false };
        let levels = seats_of(group, seating).saturating_mul(SETS).saturating_add(1);
        let step = group.strips().first().map_or(1, |s| s.raster.step().hz());
        let only_third = Kind::ALL.into_iter().skip(2).all(|kind| rules.guards.get(kind).is_none());
        let distances = Distances::of(rules, step);
        group.strip_count == 1
            && others.iter().all(|other| other.strip_count == 0)
            && memory.words.len() >= stride.saturating_mul(levels)
            && only_third
            && problem.standing().next().is_none()
            && distances.two.is_some_and(|two| two < distances.spacing && distances.three <= Some(two))
    }

    /// Starts from what the spectrum allows, in level 0 of the memory.
    pub(crate) fn start(memory: &mut Memory<'_>, rules: &Rules, seating: Seating, stride: usize) -> Front {
        let group = memory.groups.first();
        let step = group.and_then(|g| g.strips().first()).map_or(1, |s| s.raster.step().hz());
        let places = group.and_then(|g| g.strips().first()).map_or(0, |s| s.raster.len());
        let total = group.map_or(0, |g| seats_of(g, seating));
        let distances = Distances::of(rules, step);
        let (allowed, levels) = memory.words.split_at_mut(stride.min(memory.words.len()));
        let open = levels.get_mut(..stride).unwrap_or_default();
        let mut count: u32 = 0;
        for (slot, &word) in open.iter_mut().zip(allowed.iter()) {
            *slot = word;
            count = count.saturating_add(word.count_ones());
        }
        if let Some(used) = levels.get_mut(stride..stride.saturating_mul(SETS)) {
            used.fill(0);
        }
        let front = Front {
            distances,
            stride,
            total,
            depth: 0,
            nodes: 0,
            state: if total == 0 { State::Found } else { State::Running },
            top: bits::last(allowed).unwrap_or_default(),
            whole: count == places,
            shortest: distances.shortest_spans(),
        };
        if let Some(seat) = memory.seats.first_mut() {
            *seat = Seat { needs: front.least_span(total), ..Seat::EMPTY };
        }
        front
    }

    /// Places the next carrier at this level, or goes back one.
    pub(crate) fn advance(&mut self, memory: &mut Memory<'_>) {
        let span = self.stride.saturating_mul(SETS);
        let start = self.stride.saturating_add(self.depth.saturating_mul(span));
        let (_, levels) = memory.words.split_at_mut(start.min(memory.words.len()));
        let (level, below) = levels.split_at_mut(span.min(levels.len()));
        let (open, used) = level.split_at(self.stride.min(level.len()));

        let (earlier, rest) = memory.seats.split_at_mut(self.depth.min(memory.seats.len()));
        let group = memory.groups.first();
        let seat = rest.first().copied().unwrap_or(Seat::EMPTY);
        let next = bits::next(open, seat.cursor);
        let next = next.filter(|&place| self.can_finish_from(place, seat.needs, earlier));
        let Some((place, carrier)) = next.and_then(|place| Some((place, group?.carrier(place)?))) else {
            match self.depth.checked_sub(1) {
                Some(depth) => self.depth = depth,
                None => self.state = State::Exhausted,
            }
            return;
        };
        self.nodes = self.nodes.saturating_add(1);
        // The cursor is the place after this one: it tells where this one is, too.
        let after = place.saturating_add(1);
        if let Some(seat) = rest.first_mut() {
            *seat = Seat { cursor: after, carrier, ..*seat };
        }
        self.depth = self.depth.saturating_add(1);
        if self.depth == self.total {
            self.state = State::Found;
            return;
        }
        let (open_below, used_below) = below.split_at_mut(self.stride.min(below.len()));
        let used_below = used_below.get_mut(..self.stride).unwrap_or_default();
        self.lay_off(place, earlier, (open, used), (open_below, used_below));
        if let Some(seat) = rest.get_mut(1) {
            let needs = self.needs(used_below);
            *seat = Seat { cursor: after, needs, ..Seat::EMPTY };
        }
    }

    /// Whether a carrier at `place` leaves enough to its right for those still to come, whatever
    /// they are. If it does not, nor does any place further on.
    #[inline]
    fn can_finish_from(&self, place: u32, needs: u32, earlier: &[Seat]) -> bool {
        if place.saturating_add(needs) > self.top {
            return false;
        }
        if !self.whole {
            return true;
        }
        // Nothing is closed, so the first carrier may as well be the lowest place, and of a plan and
        // its mirror image one is enough: the one whose first gap is the smaller. The last gap is
        // then at least the first.
        match earlier {
            [] => place == 0,
            [_] if self.total > 2 => {
                // The second carrier: its gap is repeated or outdone at the far end.
                let between = self.least_span(self.total.saturating_sub(2));
                place.saturating_mul(2).saturating_add(between) <= self.top
            }
            _ => true,
        }
    }

    /// The least span of so many carriers.
    fn least_span(&self, count: usize) -> u32 {
        self.shortest.get(count.min(SPANS.saturating_sub(1))).copied().unwrap_or_default()
    }

    /// Steps that a carrier at the present level needs to its right: at least the least span of
    /// those to come, and at least the sum of the smallest gaps that are not used yet.
    #[inline]
    fn needs(&self, used: &[u64]) -> u32 {
        let carriers = self.total.saturating_sub(self.depth);
        let least = self.least_span(carriers);
        let Distances { spacing, three: Some(guard), .. } = self.distances else { return least };
        let mut sum: u32 = 0;
        let mut gap = spacing;
        for _ in 1..carriers {
            gap = bits::next_absent(used, gap);
            sum = sum.saturating_add(gap);
            gap = gap.saturating_add(guard).saturating_add(1);
        }
        least.max(sum)
    }

    /// Lays off every distance from the new carrier.
    #[inline]
    fn lay_off(
        &self,
        place: u32,
        earlier: &[Seat],
        (open, used): (&[u64], &[u64]),
        (open_below, used_below): (&mut [u64], &mut [u64]),
    ) {
        let Distances { spacing, two, three } = self.distances;
        for (slot, &word) in used_below.iter_mut().zip(used) {
            *slot = word;
        }
        let distance_to = |seat: &Seat| place.saturating_add(1).saturating_sub(seat.cursor);
        if let Some(guard) = three {
            for seat in earlier {
                let distance = distance_to(seat);
                bits::insert_run(
                    used_below,
                    distance.saturating_sub(guard)..distance.saturating_add(guard).saturating_add(1),
                );
            }
        }
        bits::remove_shifted(open, used_below, place, open_below);
        if let Some(guard) = two.filter(|_| two != three) {
            for seat in earlier {
                let ahead = place.saturating_add(distance_to(seat));
                bits::remove(
                    open_below,
                    ahead.saturating_sub(guard)..ahead.saturating_add(guard).saturating_add(1),
                );
            }
        }
        bits::remove(open_below, 0..place.saturating_add(spacing));
    }
}
