//! Who of those on the air cannot stay together: found once, so that a choice of links that leaves
//! them together is passed over without a search.

use super::memory::Memory;
use super::problem::Problem;
use crate::intermod::{check, naive};

/// As many are kept; a choice that only another would refute is refuted by its search.
const MOST: usize = 64;
/// As many hits are looked at.
const LOOKED_AT: usize = 1_024;
/// Somebody who stays.
const NOBODY: u16 = u16::MAX;

/// Sets of up to four, by what `who` called them, of which one must go.
#[derive(Debug)]
pub(crate) struct Conflicts(heapless::Vec<[u16; 4], MOST>);

impl Conflicts {
    /// Those of everything that stands, found by the fast checker; it works in the memory of a search.
    /// If that is too short, none are known. `who` gives a place in [`Problem::standing`] its name, if
    /// it may go.
    pub(crate) fn find(
        problem: &Problem<'_>,
        memory: &mut Memory<'_>,
        who: impl Fn(u16) -> Option<u16>,
    ) -> Conflicts {
        let mut found = Conflicts(heapless::Vec::new());
        let mut count: usize = 0;
        for (slot, (_, carrier)) in memory.carriers.iter_mut().zip(problem.standing()) {
            *slot = carrier;
            count = count.saturating_add(1);
        }
        let air = memory.carriers.get(..count).unwrap_or_default();
        naive::each_breach(air, problem.rules.spacing, |a, b| found.add([a, b, a, b], &who));
        let scratch = bytemuck::try_cast_slice_mut(memory.words).unwrap_or_default();
        if let Ok(hits) = check::hits(air, &problem.rules.guards, scratch) {
            for hit in hits.take(LOOKED_AT) {
                let [a, b, c] = hit.sources;
                found.add([a, b, c, hit.victim], &who);
            }
        }
        found
    }

    fn add(&mut self, members: [u16; 4], who: impl Fn(u16) -> Option<u16>) {
        let mut members = members.map(|member| who(member).unwrap_or(NOBODY));
        members.sort_unstable();
        if !self.0.contains(&members) {
            let _ = self.0.push(members);
        }
    }

    /// Whether somebody of each goes.
    pub(crate) fn all_end(&self, goes: impl Fn(u16) -> bool) -> bool {
        self.0.iter().all(|members| members.iter().any(|&member| member != NOBODY && goes(member)))
    }
}
