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
//!
//! Fewer carriers first: how little span three carriers need, then four, and so on, is soon found by
//! the same search, and no such number among more carriers can span less. So a search that may be
//! long first [learns](Front::learn) these spans, and a branch dies where they are not left.

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
    /// Words of one set of all places: where the levels begin.
    stride: usize,
    aim: Aim,
    /// While spans of fewer carriers are being learnt: what is to be searched after that.
    after: Option<Aim>,
    /// Nodes at which learning ends.
    learn_to: u64,
    depth: usize,
    pub(crate) nodes: u64,
    pub(crate) state: State,
    /// `shortest[n]`: `n` carriers span no less.
    shortest: [u32; SPANS],
}

/// What is searched for.
#[derive(Debug, Clone, Copy)]
struct Aim {
    total: usize,
    /// The highest place that is open at all.
    top: u32,
    /// Every place up to it is open: whatever fits also fits pushed to the left, and mirrored.
    whole: bool,
}

/// Sets kept a level: the places open ahead, and the distances used.
pub(crate) const SETS: usize = 2;
/// What a level needs to its right is kept in a word behind its sets.
pub(crate) const NEEDS: usize = 1;

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
        let levels = seats_of(group, seating).saturating_mul(level_words(stride));
        let step = group.strips().first().map_or(1, |s| s.raster.step().hz());
        let only_third = Kind::ALL.into_iter().skip(2).all(|kind| rules.guards.get(kind).is_none());
        let distances = Distances::of(rules, step);
        group.strip_count == 1
            && others.iter().all(|other| other.strip_count == 0)
            && memory.words.len() >= levels.saturating_add(stride)
            && only_third
            && problem.standing().next().is_none()
            && distances.two.is_some_and(|two| two < distances.spacing && distances.three <= Some(two))
    }

    /// Starts from what the spectrum allows, in level 0 of the memory.
    pub(crate) fn start(memory: &mut Memory<'_>, rules: &Rules, seating: Seating, stride: usize) -> Front {
        let group = memory.groups.first();
        let strip = group.and_then(|g| g.strips().first());
        let distances = Distances::of(rules, strip.map_or(1, |s| s.raster.step().hz()));
        let allowed = memory.words.get(..stride).unwrap_or_default();
        let count = allowed.iter().fold(0_u32, |sum, word| sum.saturating_add(word.count_ones()));
        let aim = Aim {
            total: group.map_or(0, |g| seats_of(g, seating)),
            top: bits::last(allowed).unwrap_or_default(),
            whole: Some(count) == strip.map(|s| s.raster.len()),
        };
        let shortest = distances.shortest_spans();
        let (nodes, state) = (0, State::Running);
        let mut front =
            Front { distances, stride, aim, after: None, learn_to: 0, depth: 0, nodes, state, shortest };
        front.begin(memory);
        front
    }

    /// The same, but it first learns how much fewer carriers span, for up to so many nodes.
    pub(crate) fn learn(&mut self, memory: &mut Memory<'_>, nodes: u64) {
        const FIRST: usize = 3;
        if self.aim.total > FIRST && self.state == State::Running {
            self.after = Some(self.aim);
            self.learn_to = self.nodes.saturating_add(nodes);
            self.aim = Aim { total: FIRST, top: self.least_span(FIRST), whole: true };
            self.begin(memory);
        }
    }

    /// Seats filled now.
    pub(crate) const fn depth(&self) -> usize {
        if self.after.is_some() { 0 } else { self.depth }
    }

    /// At the root of the search for what is aimed at.
    fn begin(&mut self, memory: &mut Memory<'_>) {
        let set = self.set();
        let (allowed, levels) = memory.words.split_at_mut(self.stride.min(memory.words.len()));
        let level = levels.get_mut(..level_words(set)).unwrap_or_default();
        let (open, used, needs) = parts_of(level, set);
        for (slot, &word) in open.iter_mut().zip(allowed.iter()) {
            *slot = if self.after.is_some() { u64::MAX } else { word };
        }
        used.fill(0);
        needs.fill(u64::from(self.least_span(self.aim.total)));
        if let Some(seat) = memory.seats.first_mut() {
            *seat = Seat::EMPTY;
        }
        self.depth = 0;
        self.state = if self.aim.total == 0 { State::Found } else { State::Running };
    }

    /// Words of a set of all places up to the top.
    fn set(&self) -> usize {
        bits::words_for(self.aim.top.saturating_add(1)).min(self.stride)
    }

    /// Places the next carrier at this level, or goes back one.
    pub(crate) fn advance(&mut self, memory: &mut Memory<'_>) {
        let set = self.set();
        let span = level_words(set);
        let start = self.stride.saturating_add(self.depth.saturating_mul(span));
        let (_, levels) = memory.words.split_at_mut(start.min(memory.words.len()));
        let (level, below) = levels.split_at_mut(span.min(levels.len()));
        let (open, used, needs) = parts_of(level, set);
        let needs = needs.first().map_or(0, |&word| word as u32);

        let (earlier, rest) = memory.seats.split_at_mut(self.depth.min(memory.seats.len()));
        let cursor = rest.first().map_or(0, Seat::after);
        let next = bits::next(open, cursor).filter(|&place| self.can_finish_from(place, needs, earlier));
        let Some(place) = next else {
            match self.depth.checked_sub(1) {
                Some(depth) => self.depth = depth,
                None => self.state = State::Exhausted,
            }
            return self.learnt(memory);
        };
        self.nodes = self.nodes.saturating_add(1);
        if let Some(seat) = rest.first_mut() {
            *seat = Seat::at(0, place);
        }
        self.depth = self.depth.saturating_add(1);
        if self.depth == self.aim.total {
            self.state = State::Found;
            return self.learnt(memory);
        }
        let below = below.get_mut(..span).unwrap_or_default();
        let (open_below, used_below, needs_below) = parts_of(below, set);
        self.lay_off(place, earlier, (open, used), (open_below, used_below));
        let first_gap = earlier.get(1).map_or(place, Seat::place);
        needs_below.fill(u64::from(self.needs(used_below, first_gap)));
        if let Some(seat) = rest.get_mut(1) {
            *seat = Seat::at(0, place);
        }
    }

    /// While learning: what comes after a span is refuted, or found, or the nodes are spent.
    #[inline]
    fn learnt(&mut self, memory: &mut Memory<'_>) {
        if self.after.is_some() && (self.state != State::Running || self.nodes >= self.learn_to) {
            self.learn_next(memory);
        }
    }

    fn learn_next(&mut self, memory: &mut Memory<'_>) {
        let Some(goal) = self.after else { return };
        let Aim { mut total, top, .. } = self.aim;
        let least = if self.state == State::Exhausted { top.saturating_add(1) } else { top };
        if let Some(slot) = self.shortest.get_mut(total) {
            *slot = least.max(*slot);
        }
        // So many carriers, and the rest from the last of them on.
        for count in total..SPANS {
            let split = |part: usize| {
                let rest = count.saturating_add(1).saturating_sub(part);
                self.least_span(part).saturating_add(self.least_span(rest))
            };
            let least = (2..count).map(split).max().unwrap_or_default();
            if let Some(slot) = self.shortest.get_mut(count) {
                *slot = least.max(*slot);
            }
        }
        if self.state == State::Found {
            total = total.saturating_add(1);
        }
        let learns = self.nodes < self.learn_to
            && total < goal.total.min(SPANS)
            && self.least_span(goal.total) <= goal.top;
        if learns {
            self.aim = Aim { total, top: self.least_span(total), whole: true };
        } else {
            (self.aim, self.after) = (goal, None);
        }
        self.begin(memory);
    }

    /// Whether a carrier at `place` leaves enough to its right for those still to come, whatever
    /// they are. If it does not, nor does any place further on.
    #[inline]
    fn can_finish_from(&self, place: u32, needs: u32, earlier: &[Seat]) -> bool {
        let Aim { total, top, whole } = self.aim;
        if place.saturating_add(needs) > top {
            return false;
        }
        if !whole {
            return true;
        }
        // Nothing is closed, so the first carrier may as well be the lowest place, and of a plan and
        // its mirror image one is enough: the one whose first gap is the smaller. The last gap is
        // then at least the first.
        match earlier {
            [] => place == 0,
            [_] if total > 2 => {
                // The second carrier: its gap is repeated or outdone at the far end.
                let between = self.least_span(total.saturating_sub(2));
                place.saturating_mul(2).saturating_add(between) <= top
            }
            _ => true,
        }
    }

    /// The least span of so many carriers.
    fn least_span(&self, count: usize) -> u32 {
        self.shortest.get(count.min(SPANS.saturating_sub(1))).copied().unwrap_or_default()
    }

    /// Steps that a carrier at the present level needs to its right: at least the least span of
    /// those to come, and at least the sum of the smallest gaps that are not used yet; and where the
    /// last gap is at least the first, that beside the others.
    #[inline]
    fn needs(&self, used: &[u64], first_gap: u32) -> u32 {
        let carriers = self.aim.total.saturating_sub(self.depth);
        let mut least = self.least_span(carriers);
        if self.aim.whole && self.depth > 1 && carriers > 1 {
            least = least.max(self.least_span(carriers.saturating_sub(1)).saturating_add(first_gap));
        }
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
        let distance_to = |seat: &Seat| place.saturating_sub(seat.place());
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

/// The sets of a level, and the word behind them.
#[inline]
fn parts_of(level: &mut [u64], set: usize) -> (&mut [u64], &mut [u64], &mut [u64]) {
    let (open, rest) = level.split_at_mut(set.min(level.len()));
    let (used, needs) = rest.split_at_mut(set.min(rest.len()));
    (open, used, needs)
}

/// Words of a level: its sets, of so many words each, and what it needs.
pub(crate) const fn level_words(set: usize) -> usize {
    set.saturating_mul(SETS).saturating_add(NEEDS)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::arithmetic_side_effects)]

    use std::vec::Vec;

    use super::*;
    use crate::intermod::{Carrier, Guards};
    use crate::plan::{Group, Link, NO_CARRIER, Present, Size, Spectrum, Variation};
    use crate::raster::{Raster, Tuning};
    use crate::units::Hertz;

    /// Searches `links` on places of which some may be barred; the places found, if any, and the spans
    /// that are known by then.
    fn searched(
        links: usize,
        allowed: u64,
        top: u32,
        rules: Rules,
        learning: u64,
    ) -> (Option<Vec<u32>>, [u32; SPANS]) {
        let raster = Raster::new(Hertz::ZERO, Hertz::new(top), Hertz::new(1)).unwrap();
        let tuning = Tuning::new(&[raster]).unwrap();
        let link = Link { label: "", tuning, bandwidth: Hertz::ZERO, present: Present::Unset, spares: 0 };
        let links = std::vec![link; links];
        let (foreign, variation) = (&[], Variation::NONE);
        let problem = Problem { links: &links, foreign, spectrum: Spectrum::UNKNOWN, rules, variation };
        let size = Size::of(&problem);
        let (mut words, mut groups) = (std::vec![0; size.words], std::vec![Group::EMPTY; size.groups]);
        let mut seats = std::vec![Seat::EMPTY; size.seats];
        let mut carriers: Vec<Carrier> = std::vec![NO_CARRIER; size.carriers];
        let (words, groups, seats, carriers) = (&mut words, &mut groups, &mut seats, &mut carriers);
        let mut memory = Memory { words, groups, seats, carriers };
        let stride = memory.lay_out_groups(&problem);
        memory.words[0] = allowed & (u64::MAX >> (63 - top));
        assert!(Front::serves(&memory, &problem, &rules, Seating::Links, stride));
        let mut front = Front::start(&mut memory, &rules, Seating::Links, stride);
        front.learn(&mut memory, learning);
        while front.state == State::Running {
            assert_eq!(front.depth(), if front.after.is_some() { 0 } else { front.depth });
            front.advance(&mut memory);
        }
        let seats = memory.seats.iter().take(links.len()).map(Seat::place);
        ((front.state == State::Found).then(|| seats.collect()), front.shortest)
    }

    fn rules(spacing: u32, two: u32, three: Option<u32>) -> Rules {
        let guards = Guards::OFF.with(Kind::TwoTransmitter3, Some(Hertz::new(two)));
        let guards = guards.with(Kind::ThreeTransmitter3, three.map(Hertz::new));
        Rules { spacing: Hertz::new(spacing), guards }
    }

    /// Bounds that are true cut no plan off, so the first found is the same.
    #[test]
    fn what_was_learnt_changes_no_answer() {
        let mut dice = 11_u64;
        let mut roll = |sides: u64| {
            dice = dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (dice >> 33) % sides
        };
        let (mut found, mut refuted) = (0, 0);
        for _ in 0..3_000 {
            let two = roll(3) as u32;
            let three = Some(roll(3) as u32).filter(|&three| three <= two);
            let rules = rules(two + 1 + roll(3) as u32, two, three);
            let allowed = if roll(3) == 0 { u64::MAX } else { u64::MAX ^ (1 << roll(64)) ^ (15 << roll(60)) };
            let (links, top) = (4 + roll(5) as usize, 10 + roll(54) as u32);
            let (plain, _) = searched(links, allowed, top, rules, 0);
            let learning = [3, 40, 1_000_000][roll(3) as usize];
            assert_eq!(
                searched(links, allowed, top, rules, learning).0,
                plain,
                "{links} to {top}, {rules:?}"
            );
            *(if plain.is_some() { &mut found } else { &mut refuted }) += 1;
        }
        assert!(found > 300 && refuted > 300, "{found} found, {refuted} refuted");
    }

    /// OEIS A065825 less one: the spans of carriers without three in progression; and A003022: rulers.
    #[test]
    fn spans_are_learnt_as_they_are_published() {
        let (_, spans) = searched(14, u64::MAX, 36, rules(1, 0, None), u64::MAX);
        assert_eq!(spans[3..14], [3, 4, 8, 10, 12, 13, 19, 23, 25, 29, 31]);
        let (_, spans) = searched(9, u64::MAX, 46, rules(1, 0, Some(0)), u64::MAX);
        assert_eq!(spans[3..9], [3, 6, 11, 17, 25, 34]);
    }
}
