//! Spares that are clear only while their link is off its own carrier.

use core::ops::Range;

use super::bits;
use super::memory::{Memory, tune_alike};
use super::problem::Problem;
use super::search::Search;
use crate::intermod::Carrier;
use crate::units::{Hertz, Level};

/// Levels that differ by less are equally quiet.
const NOISE_CLASS_HUNDREDTHS: i16 = 300;

/// Writes carriers that `link` could move to while every other link stays where it is.
///
/// `kept` are the seats of the plan. Quietest first, then
/// farthest from the carrier that the link is on, since what disturbs one carrier often disturbs
/// its neighbours.
pub(crate) fn one_at_a_time(
    memory: &mut Memory<'_>,
    problem: &Problem<'_>,
    stride: usize,
    link: u16,
    kept: Range<usize>,
    own: Hertz,
    into: &mut [Hertz],
) -> usize {
    let Some(wanted) = problem.links.get(usize::from(link)) else { return 0 };
    Search::allow(memory, problem, None);
    let standing = Search::stand(memory, problem.standing().map(|(_, c)| c), &problem.rules, stride);
    let mut count = standing;
    for seat in kept {
        let seat = memory.seats.get(seat).and_then(|seat| memory.carrier(seat));
        let Some(carrier) = seat.filter(|&carrier| carrier != own) else { continue };
        if let Some(slot) = memory.carriers.get_mut(count) {
            *slot = Carrier::own(carrier);
            count = count.saturating_add(1);
        }
    }
    for placed in standing.saturating_add(1)..=count {
        Search::close(memory, placed, &problem.rules, stride);
    }
    let alike = |index: u16| problem.links.get(usize::from(index)).is_some_and(|l| tune_alike(l, wanted));
    let Some(group) = memory.groups.iter().find(|g| alike(g.link)) else { return 0 };
    let open = memory.words.get(stride..).and_then(|level| level.get(group.range())).unwrap_or_default();

    let apart = u64::from(problem.rules.spacing.hz().max(1));
    let mut found: usize = 0;
    while found < into.len() {
        let chosen = into.get(..found).unwrap_or_default();
        let mut best: Option<(i16, u64, Hertz)> = None;
        let mut from = 0;
        while let Some(place) = bits::next(open, from) {
            from = place.saturating_add(1);
            let Some(carrier) = group.carrier(place) else { continue };
            let distance = carrier.above(own).distance();
            if distance < apart || chosen.iter().any(|c| c.above(carrier).distance() < apart) {
                continue;
            }
            let noise = class(problem.spectrum.noise(carrier, wanted.bandwidth));
            if best.is_none_or(|(n, d, _)| (noise, d) < (n, distance)) {
                best = Some((noise, distance, carrier));
            }
        }
        let (Some((.., carrier)), Some(slot)) = (best, into.get_mut(found)) else { break };
        *slot = carrier;
        found = found.saturating_add(1);
    }
    found
}

fn class(level: Level) -> i16 {
    level.hundredths().div_euclid(NOISE_CLASS_HUNDREDTHS)
}
