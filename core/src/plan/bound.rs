//! What can be proved before any search.

use super::memory::Memory;
use super::planner::Proof;
use super::problem::Problem;
use super::search::{Seating, room, seats_of};
use crate::intermod::naive;

/// A proof that the links cannot be placed, if one is to be had without searching.
///
/// Expects a search of the links just started: level 1 of the memory holds what is open.
pub(crate) fn impossible(problem: &Problem<'_>, memory: &Memory<'_>, stride: usize) -> Option<Proof> {
    let standing = memory.carriers.get(..problem.standing().count())?;
    if standing.iter().any(|c| c.is_own()) {
        let mut clashes: usize = naive::count(standing, &problem.rules.guards);
        naive::each_breach(standing, problem.rules.spacing, |_, _| clashes = clashes.saturating_add(1));
        if clashes > 0 {
            return Some(Proof::StandingClash);
        }
    }
    let open = memory.words.get(stride..stride.saturating_mul(2)).unwrap_or_default();
    for group in memory.groups.iter() {
        let wanted = seats_of(group, Seating::Links);
        let fit = room(group, open.get(group.range()).unwrap_or_default(), &problem.rules);
        if fit == 0 {
            return Some(Proof::NoCarrier { link: group.link });
        }
        if (fit as usize) < wanted {
            let room = u16::try_from(fit).unwrap_or(u16::MAX);
            return Some(Proof::Room { link: group.link, wanted: group.links, room });
        }
    }
    None
}
