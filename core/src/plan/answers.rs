//! What is read from a planner: carriers, spares, the certificate, what is in the way.

use super::certificate::{Certificate, verify_within};
use super::memory::{Seat, tune_alike};
use super::outcome::{Proof, Spares, Status};
use super::planner::Planner;
use super::problem::Problem;
use super::variation::LinkSet;
use crate::intermod::Carrier;
use crate::units::Hertz;

impl Planner<'_, '_> {
    /// The carrier of a link in the best plan: its own if it is held, `None` if it has none.
    ///
    /// Inside a group, links get their carriers in ascending order.
    pub fn carrier(&self, link: u16) -> Option<Hertz> {
        let wanted = self.problem.links.get(usize::from(link))?;
        if let Some(carrier) = self.problem.stays(link, wanted) {
            return Some(carrier);
        }
        let before = self.problem.free_links().take_while(|&(index, _)| index < link);
        let rank = before.filter(|(_, other)| tune_alike(other, wanted)).count();
        let group = self.group_of(link)?;
        self.seats(group).nth(rank).and_then(|seat| self.memory.carrier(seat))
    }

    /// Writes the spares of a link, best first, and says how many there are.
    ///
    /// With [`Spares::OneAtATime`] they are worked out here: carriers that are clear if this link
    /// alone leaves its own.
    pub fn spares(&mut self, link: u16, into: &mut [Hertz]) -> usize {
        let Some(wish) = self.problem.links.get(usize::from(link)).map(|l| usize::from(l.spares)) else {
            return 0;
        };
        let length = wish.min(into.len());
        let into = into.get_mut(..length).unwrap_or_default();
        match self.spares_kind() {
            Spares::NotAsked => 0,
            Spares::Together => self.shared_spares(link, into),
            Spares::OneAtATime => self.single_spares(link, into),
        }
    }

    /// Checks the best plan independently of the search, see [`super::verify`]: links, spares that
    /// may be used together, and everything that stands.
    ///
    /// Use it once the planner is done: it works in the memory of the search.
    pub fn certificate(&mut self) -> Certificate {
        let seats = self.memory.seats.get(self.memory.kept_range(self.best)).unwrap_or_default();
        let groups = &*self.memory.groups;
        let at = |seat: &Seat| groups.get(usize::from(seat.group))?.carrier(seat.place());
        let own = seats.iter().filter_map(at).map(Carrier::own);
        let mut count: usize = 0;
        for (slot, carrier) in
            self.memory.carriers.iter_mut().zip(self.problem.standing().map(|(_, c)| c).chain(own))
        {
            *slot = carrier;
            count = count.saturating_add(1);
        }
        let scratch = bytemuck::try_cast_slice_mut(self.memory.words).unwrap_or_default();
        let all = self.memory.carriers.get(..count).unwrap_or_default();
        let mut found = verify_within(all, &self.problem.rules, scratch);
        let Problem { links, spectrum, .. } = &self.problem;
        let out_of_place = (0..=u16::MAX).zip(links.iter()).filter(|&(index, link)| {
            self.carrier(index)
                .is_some_and(|c| !link.tuning.contains(c) || !spectrum.allows(c, link.bandwidth))
        });
        found.barred = u32::try_from(out_of_place.count()).unwrap_or(u32::MAX);
        found
    }

    /// The carriers that leave a link no place, where that is the proof: by their place in
    /// [`Problem::standing`], and no more of them than it takes. Empty if the spectrum alone does.
    ///
    /// Use it once the planner is done: it works in the memory of the search.
    pub fn cover(&mut self) -> LinkSet {
        match self.status {
            Status::Infeasible(Proof::NoCarrier { link }) => {
                super::cover::cover(&self.problem, &mut self.memory, self.stride, link)
            }
            _ => LinkSet::EMPTY,
        }
    }

    fn shared_spares(&self, link: u16, into: &mut [Hertz]) -> usize {
        let Some(group) = self.group_of(link) else { return 0 };
        let links = self.memory.groups.get(usize::from(group)).map_or(0, |g| usize::from(g.links));
        let spares = self.seats(group).skip(links);
        into.iter_mut()
            .zip(spares.filter_map(|seat| self.memory.carrier(seat)))
            .map(|(slot, c)| *slot = c)
            .count()
    }

    fn single_spares(&mut self, link: u16, into: &mut [Hertz]) -> usize {
        let Some(own) = self.carrier(link) else { return 0 };
        let kept = self.memory.kept_range(self.best);
        super::spares::one_at_a_time(&mut self.memory, &self.problem, self.stride, link, kept, own, into)
    }

    /// Seats of a group in the best plan: links first, then spares.
    fn seats(&self, group: u16) -> impl Iterator<Item = &Seat> {
        let best = self.memory.seats.get(self.memory.kept_range(self.best)).unwrap_or_default();
        best.iter().filter(move |seat| seat.group == group)
    }

    pub(super) fn group_of(&self, link: u16) -> Option<u16> {
        let wanted = self.problem.links.get(usize::from(link))?;
        let alike = |g: &super::memory::Group| {
            self.problem.links.get(usize::from(g.link)).is_some_and(|first| tune_alike(first, wanted))
        };
        (0..=u16::MAX).zip(self.memory.groups.iter()).find(|(_, g)| alike(g)).map(|(index, _)| index)
    }
}
