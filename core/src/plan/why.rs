//! Why a carrier is, or is not, available to a link, beside the others as they stand.

use super::problem::Problem;
use super::reason::{Named, Reason, Sum};
use crate::intermod::{Carrier, Role, naive};
use crate::units::{Hertz, Offset};

/// Somebody who is on the air beside the link in question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Peer<'a> {
    /// Whose it is.
    pub label: &'a str,
    /// Where, and whose to us.
    pub carrier: Carrier,
}

impl<'a> Peer<'a> {
    fn named(&self) -> Named<'a> {
        Named { label: self.label, frequency: self.carrier.frequency }
    }
}

/// Everything that speaks against `carrier` for a link, given who else is on the air.
///
/// Reasons come in the order tuning, law, blocked, television, air, spacing, products; `tell` is
/// called once for each, and not at all if the carrier is available.
///
/// Work: cubic in the peers with three-transmitter kinds on.
pub fn why_not<'a>(
    problem: &Problem<'a>,
    link: u16,
    carrier: Hertz,
    peers: &[Peer<'a>],
    mut tell: impl FnMut(Reason<'a>),
) {
    if let Some(wanted) = problem.links.get(usize::from(link)) {
        match wanted.tuning.ends() {
            None => tell(Reason::EndsNeverMeet),
            Some((low, high)) if carrier < low || carrier > high => tell(Reason::OutOfReach { low, high }),
            Some(_) if !wanted.tuning.contains(carrier) => {
                let (below, above) = wanted.tuning.around(carrier);
                tell(Reason::OffRaster { below, above });
            }
            Some(_) => {}
        }
        problem.spectrum.against(carrier, wanted.bandwidth).for_each(&mut tell);
    }
    let spacing = problem.rules.spacing;
    for peer in peers {
        let distance = carrier.above(peer.carrier.frequency);
        if distance.distance() < u64::from(spacing.hz().max(1)) {
            tell(Reason::TooClose { to: peer.named(), distance, spacing });
        }
    }
    products_against(problem, carrier, peers, &mut tell);
}

fn products_against<'a>(
    problem: &Problem<'a>,
    carrier: Hertz,
    peers: &[Peer<'a>],
    tell: &mut impl FnMut(Reason<'a>),
) {
    let guards = &problem.rules.guards;
    // The carrier in question goes first; peers follow.
    let carriers = Candidate { carrier: Carrier::own(carrier), peers };
    naive::each_product_of(
        peers.len().saturating_add(1),
        |i| carriers.get(i),
        guards,
        |form, sources, product_hz| {
            let Some(guard) = guards.get(form.kind()) else { return };
            let hits = |at: Hertz| product_hz.abs_diff(at.wide()) <= u64::from(guard.hz());
            let product = Sum { form, sources: sources.map(|s| carriers.get(s).frequency) };
            let used = sources.get(..form.sources()).unwrap_or(&sources);
            if !used.contains(&0) {
                if hits(carrier) {
                    let miss = Offset::new(product_hz.saturating_sub(carrier.wide()));
                    tell(Reason::Struck { product, miss, guard });
                }
                return;
            }
            for (index, victim) in (1..=u16::MAX).zip(peers) {
                if victim.carrier.role != Role::Foreign
                    && hits(victim.carrier.frequency)
                    && !used.contains(&index)
                {
                    let miss = Offset::new(product_hz.saturating_sub(victim.carrier.frequency.wide()));
                    tell(Reason::Strikes { victim: victim.named(), product, miss, guard });
                }
            }
        },
    );
}

struct Candidate<'p, 'a> {
    carrier: Carrier,
    peers: &'p [Peer<'a>],
}

impl Candidate<'_, '_> {
    fn get(&self, index: u16) -> Carrier {
        let peer = usize::from(index).checked_sub(1).and_then(|i| self.peers.get(i));
        peer.map_or(self.carrier, |p| p.carrier)
    }
}
