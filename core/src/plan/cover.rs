//! Which of the carriers that stand leave a link no place?

use super::bits;
use super::memory::{Group, Memory, tune_alike};
use super::problem::Problem;
use super::search::Search;
use super::variation::LinkSet;

/// Standing carriers beyond this are not thinned out one by one: all of them are named.
const THINNED: u16 = 64;

/// The standing carriers, by their place in [`Problem::standing`], that together close every place
/// the spectrum allows a link. Without any one of them a place would be open. Empty if the spectrum
/// alone leaves no place.
///
/// Expects the memory of a planner that is done with it. Work: cubic in the standing carriers for
/// two-transmitter kinds, to the fourth power for three.
pub(crate) fn cover(problem: &Problem<'_>, memory: &mut Memory<'_>, stride: usize, link: u16) -> LinkSet {
    Search::allow(memory, problem, None);
    let mut covering = LinkSet::EMPTY;
    if !has_place(problem, memory, stride, link, &covering) {
        return covering;
    }
    let count = u16::try_from(problem.standing().count()).unwrap_or(u16::MAX);
    (0..count).for_each(|place| covering.insert(place));
    for place in 0..count.min(THINNED) {
        let mut fewer = covering;
        fewer.remove(place);
        if !has_place(problem, memory, stride, link, &fewer) {
            covering = fewer;
        }
    }
    covering
}

/// Whether the link has a place when only these standing carriers are there.
fn has_place(
    problem: &Problem<'_>,
    memory: &mut Memory<'_>,
    stride: usize,
    link: u16,
    standing: &LinkSet,
) -> bool {
    let present = (0..=u16::MAX).zip(problem.standing()).filter(|&(place, _)| standing.contains(place));
    Search::stand(memory, present.map(|(_, (_, carrier))| carrier), &problem.rules, stride);
    let Some(wanted) = problem.links.get(usize::from(link)) else { return false };
    let serves = |group: &&Group| {
        group.links > 0 && problem.links.get(usize::from(group.link)).is_some_and(|l| tune_alike(l, wanted))
    };
    let group = memory.groups.iter().find(serves);
    let open = group.and_then(|g| memory.words.get(stride..).and_then(|level| level.get(g.range())));
    open.is_some_and(|places| bits::next(places, 0).is_some())
}
