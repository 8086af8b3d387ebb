//! What can be proved before any search.

use super::bits;
use super::memory::{Group, Memory};
use super::outcome::{Bound, Proof};
use super::problem::{Problem, Rules};
use super::search::{Seating, room, seats_of};
use crate::intermod::{Kind, check, naive};
use crate::units::Hertz;

/// The rules in steps of one raster.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Distances {
    /// Carriers stand at least so many steps apart.
    pub(crate) spacing: u32,
    /// `2A-B` hits within so many steps.
    pub(crate) two: Option<u32>,
    /// `A+B-C` hits within so many steps.
    pub(crate) three: Option<u32>,
}

/// How many carriers the table of least spans goes up to.
pub(crate) const SPANS: usize = 65;

impl Distances {
    pub(crate) fn of(rules: &Rules, step_hz: u32) -> Distances {
        let steps = |kind| rules.guards.get(kind).and_then(|g| g.hz().checked_div(step_hz));
        Distances {
            spacing: rules.spacing.hz().max(1).div_ceil(step_hz.max(1)),
            two: steps(Kind::TwoTransmitter3),
            three: steps(Kind::ThreeTransmitter3),
        }
    }

    /// For each number of carriers the least span, in steps, that the rules leave them; a lower
    /// bound.
    ///
    /// With both kinds of third order on, all distances of index distance up to `r` differ by more
    /// than the smaller guard, and the least of them is the spacing; their sum is on the other hand
    /// limited by the span. The best `r` is taken; `r = 1` is the bound by adjacent gaps.
    /// Source: derived; the idea is that of N. F. Maxemchuk, L. Schiff, IEEE Trans. Communications
    /// 25(9), 1977 (abstract seen).
    ///
    /// With two-transmitter products only, neighbouring gaps differ by more than the guard.
    pub(crate) fn shortest_spans(&self) -> [u32; SPANS] {
        let mut shortest = [0; SPANS];
        for count in 2..SPANS {
            let known = shortest.get(..count).unwrap_or_default();
            let span = match (self.two, self.three) {
                (Some(two), Some(three)) => self.by_gap_sums(count as u64, known, two.min(three)),
                (Some(two), None) => self.by_neighbours(count as u64, two),
                _ => u64::from(self.spacing).saturating_mul((count as u64).saturating_sub(1)),
            };
            if let Some(slot) = shortest.get_mut(count) {
                *slot = u32::try_from(span).unwrap_or(u32::MAX);
            }
        }
        shortest
    }

    /// The same by the gaps between neighbours alone: they all differ by more than the guard.
    fn by_adjacent_gaps(&self) -> [u32; SPANS] {
        let apart = match (self.two, self.three) {
            (Some(two), Some(three)) => u64::from(two.min(three)).saturating_add(1),
            _ => 0,
        };
        let mut shortest = [0; SPANS];
        for (slot, gaps) in shortest.iter_mut().skip(2).zip(1_u64..) {
            let pairs = gaps.saturating_mul(gaps.saturating_sub(1)) / 2;
            let span =
                gaps.saturating_mul(u64::from(self.spacing)).saturating_add(pairs.saturating_mul(apart));
            *slot = u32::try_from(span).unwrap_or(u32::MAX);
        }
        shortest
    }

    fn by_neighbours(&self, count: u64, guard: u32) -> u64 {
        let gaps = count.saturating_sub(1);
        let apart = u64::from(guard).saturating_add(1);
        gaps.saturating_mul(u64::from(self.spacing)).saturating_add((gaps / 2).saturating_mul(apart))
    }

    fn by_gap_sums(&self, count: u64, known: &[u32], guard: u32) -> u64 {
        let apart = u64::from(guard).saturating_add(1);
        let spacing = u64::from(self.spacing);
        let mut best = 0;
        // Twice the spans of the t+1 outermost carriers, for all t below j, for all j up to r.
        let mut ends: u64 = 0;
        let mut one_row: u64 = 0;
        for r in 1..count {
            if r >= 2 {
                let span = known.get(r as usize).copied().unwrap_or_default();
                one_row = one_row.saturating_add(u64::from(span).saturating_mul(2));
                ends = ends.saturating_add(one_row);
            }
            let triangle = r.saturating_mul(r.saturating_add(1)) / 2;
            let differences = r.saturating_mul(count).saturating_sub(triangle);
            let pairs = differences.saturating_mul(differences.saturating_sub(1)) / 2;
            let sum = differences
                .saturating_mul(spacing)
                .saturating_add(pairs.saturating_mul(apart))
                .saturating_add(ends);
            best = best.max(sum.div_ceil(triangle.max(1)));
        }
        best
    }
}

/// A proof that the links cannot be placed, if one is to be had without searching.
///
/// Expects a search of the links just started: level 1 of the memory holds what is open.
pub(crate) fn impossible(problem: &Problem<'_>, memory: &mut Memory<'_>, stride: usize) -> Option<Proof> {
    if standing_clash(problem, memory, stride) {
        return Some(Proof::StandingClash);
    }
    let open = memory.words.get(stride..stride.saturating_mul(2)).unwrap_or_default();
    for group in memory.groups.iter() {
        let wanted = seats_of(group, Seating::Links);
        if wanted == 0 {
            continue;
        }
        let fit = room(group, open.get(group.range()).unwrap_or_default(), &problem.rules);
        if fit == 0 {
            return Some(Proof::NoCarrier { link: group.link });
        }
        if (fit as usize) < wanted {
            let room = u16::try_from(fit).unwrap_or(u16::MAX);
            return Some(Proof::Room { link: group.link, wanted: group.links, room });
        }
        if let Some(proof) = too_short(group, open.get(group.range()).unwrap_or_default(), &problem.rules) {
            return Some(proof);
        }
    }
    None
}

/// The open places of a group of one raster span less than its links need whatever is closed.
fn too_short(group: &Group, open: &[u64], rules: &Rules) -> Option<Proof> {
    let [strip] = group.strips() else { return None };
    let step = strip.raster.step();
    let spans = bits::last(open)?.saturating_sub(bits::next(open, 0)?);
    let distances = Distances::of(rules, step.hz());
    let least =
        |spans: &[u32; SPANS]| spans.get(usize::from(group.links).min(SPANS.saturating_sub(1))).copied();
    let needs = least(&distances.shortest_spans())?;
    if needs <= spans {
        return None;
    }
    let hertz = |steps: u32| Hertz::new(steps.saturating_mul(step.hz()));
    let (needs, spans_hz) = (hertz(needs), hertz(spans));
    let alone = least(&distances.by_adjacent_gaps())? > spans;
    let bound = if alone { Bound::AdjacentGaps } else { Bound::GapSum };
    Some(Proof::Span { link: group.link, wanted: group.links, needs, spans: spans_hz, bound })
}

/// Whether carriers that must stay break the rules among themselves.
///
/// Expects a search just started: the memory holds what stands, and what is open in two sets of so many
/// words. Works behind these.
pub(crate) fn standing_clash(problem: &Problem<'_>, memory: &mut Memory<'_>, stride: usize) -> bool {
    let standing = memory.carriers.get(..problem.standing().count()).unwrap_or_default();
    if !standing.iter().any(|c| c.is_own()) {
        return false;
    }
    let mut clash = false;
    naive::each_breach(standing, problem.rules.spacing, |_, _| clash = true);
    let scratch = memory.words.get_mut(stride.saturating_mul(2)..).unwrap_or_default();
    let scratch = bytemuck::try_cast_slice_mut(scratch).unwrap_or_default();
    clash
        || match check::hits(standing, &problem.rules.guards, scratch) {
            Ok(mut hits) => hits.next().is_some(),
            // There are few, or there would be room.
            Err(_) => naive::count(standing, &problem.rules.guards) > 0,
        }
}

/// Carriers that may stand without memory for the fast checker: for these enumeration takes no time.
const ENUMERATED: usize = 24;

/// Words, behind what is allowed and what is open, in which the fast checker looks at what stands.
pub(crate) const fn words(standing: usize) -> usize {
    if standing > ENUMERATED { check::words(standing).div_ceil(2) } else { 0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// References: the printed values of the gap-sum bound for spacing and guard of one step, n = 2..28.
    #[test]
    fn the_gap_sum_bound_gives_its_printed_values() {
        const PRINTED: [u32; 27] = [
            1, 3, 6, 10, 16, 23, 31, 41, 52, 65, 80, 96, 113, 132, 153, 175, 199, 225, 252, 281, 312, 344,
            378, 413, 450, 489, 530,
        ];
        let spans = Distances { spacing: 1, two: Some(0), three: Some(0) }.shortest_spans();
        assert_eq!(spans[2..29], PRINTED);
    }

    /// References, section 3: shortest spans in 25 kHz steps at 300 kHz spacing and 50 kHz guard are met
    /// exactly by adjacent gaps up to nine carriers; ten need at least 216 (and in truth 219).
    /// At 400 and 100 kHz: 37 63 94 130 171 217.
    #[test]
    fn the_bounds_by_spacing_and_guard_give_their_printed_values() {
        let narrow = Distances { spacing: 12, two: Some(2), three: Some(2) };
        assert_eq!(narrow.shortest_spans()[3..11], [27, 45, 66, 90, 117, 147, 180, 216]);
        assert_eq!(narrow.by_adjacent_gaps()[3..10], [27, 45, 66, 90, 117, 147, 180]);
        let wide = Distances { spacing: 16, two: Some(4), three: Some(4) };
        assert_eq!(wide.shortest_spans()[3..9], [37, 63, 94, 130, 171, 217]);
        // Two transmitters only, 300 and 50 kHz: the exact values for 3 and 4; never above the exact ones.
        let two_only = Distances { spacing: 12, two: Some(2), three: None };
        const EXACT: [u32; 14] = [27, 39, 57, 69, 84, 96, 117, 132, 144, 159, 174, 189, 201, 216];
        let bound = two_only.shortest_spans();
        assert_eq!(bound[3..5], EXACT[..2]);
        assert!(bound[3..17].iter().zip(EXACT).all(|(&b, exact)| b <= exact));
    }

    /// References, section 3: the most links in whole windows at 25 kHz, nothing blocked.
    #[test]
    fn the_most_links_of_whole_windows_are_as_printed() {
        const PRINTED: [(u32, u32, u32, usize); 6] = [
            (24, 50, 300, 21),
            (24, 100, 400, 16),
            (42, 50, 300, 27),
            (42, 100, 400, 22),
            (75, 50, 300, 36),
            (75, 100, 400, 29),
        ];
        for (mhz, guard, spacing, most) in PRINTED {
            let guard = Some(guard / 25);
            let spans = Distances { spacing: spacing / 25, two: guard, three: guard }.shortest_spans();
            let fit = (0..SPANS).filter(|&n| spans[n] <= mhz * 40).max();
            assert_eq!(fit, Some(most), "{mhz} MHz, {spacing} kHz apart");
        }
    }
}
