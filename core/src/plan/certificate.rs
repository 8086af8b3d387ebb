//! The worst cases of a plan, found by the checker and nothing that the search uses: by plain
//! enumeration up to `ENUMERATED` carriers, above that by the fast one, which finds the same.

use super::problem::Rules;
use crate::intermod::{Carrier, Form, Guards, Kind, Role, check, clearance, naive};
use crate::units::Offset;

/// What an independent check of a set of carriers found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Certificate {
    /// Products that land on a carrier.
    pub hits: u32,
    /// Pairs of carriers closer than the spacing.
    pub breaches: u32,
    /// Links on a carrier that they cannot tune, or that the spectrum does not allow.
    pub barred: u32,
    /// The smallest distance between two carriers of which one is ours.
    pub nearest_carrier: Option<Offset>,
    /// For each of [`Kind::ALL`], how near the nearest product comes to a carrier; `None` where the
    /// kind is not looked at or makes no product.
    pub nearest_product: [Option<Offset>; 5],
}

impl Certificate {
    /// Nothing is wrong.
    pub const fn is_clear(&self) -> bool {
        self.hits == 0 && self.breaches == 0 && self.barred == 0
    }

    /// How near the nearest product of a kind comes.
    pub fn nearest(&self, kind: Kind) -> Option<Offset> {
        self.nearest_product.get(kind.index()).copied().flatten()
    }
}

/// Checks a set of carriers against the rules by looking at every product and every carrier.
///
/// Work N⁴ with three-transmitter kinds on, N³ without: for hundreds of carriers use
/// [`crate::intermod::check`]. [`super::Planner::certificate`] does so above 40.
///
/// ```
/// use spurless::intermod::Carrier;
/// use spurless::plan::{Rules, verify};
/// use spurless::units::Hertz;
/// let khz = |k| Carrier::own(Hertz::from_khz(k));
/// // 2 x 544.800 - 544.000 = 545.600: empty on the air, evenly spaced, and wrong.
/// let trap = verify(&[khz(544_000), khz(544_800), khz(545_600)], &Rules::USUAL);
/// assert_eq!((trap.hits, trap.is_clear()), (2, false));
/// ```
pub fn verify(carriers: &[Carrier], rules: &Rules) -> Certificate {
    let mut found = pairs(carriers, rules);
    naive::each_hit(carriers, &rules.guards, |_| found.hits = found.hits.saturating_add(1));
    nearest_products(carriers, &rules.guards, &mut found.nearest_product);
    found
}

/// Carriers up to which a plan is checked by plain enumeration: a few milliseconds.
const ENUMERATED: usize = 40;

/// The same as [`verify`], by the fast checker where there are many carriers and `memory` holds
/// what it needs.
pub(crate) fn verify_within(carriers: &[Carrier], rules: &Rules, memory: &mut [u32]) -> Certificate {
    if carriers.len() <= ENUMERATED {
        return verify(carriers, rules);
    }
    let hits = check::hits(carriers, &rules.guards, memory).map(Iterator::count);
    let kinds = Kind::ALL.into_iter().filter(|&kind| rules.guards.get(kind).is_some());
    let kinds: heapless::Vec<Kind, 5> = kinds.collect();
    match (hits, clearance::worst(carriers, &kinds, memory)) {
        (Ok(hits), Ok(worst)) => {
            let mut found = pairs(carriers, rules);
            found.hits = u32::try_from(hits).unwrap_or(u32::MAX);
            for (slot, kind) in found.nearest_product.iter_mut().zip(Kind::ALL) {
                *slot = worst.of(kind).map(|n| Offset::new(n.miss.hz().saturating_abs()));
            }
            found
        }
        _ => verify(carriers, rules),
    }
}

/// What needs no products: the distances between carriers.
fn pairs(carriers: &[Carrier], rules: &Rules) -> Certificate {
    let mut found = Certificate::default();
    naive::each_breach(carriers, rules.spacing, |_, _| found.breaches = found.breaches.saturating_add(1));
    for (index, a) in carriers.iter().enumerate() {
        for b in carriers.iter().skip(index.saturating_add(1)).filter(|b| a.is_own() || b.is_own()) {
            let distance = Offset::new(a.frequency.above(b.frequency).distance() as i64);
            found.nearest_carrier = Some(found.nearest_carrier.map_or(distance, |d| d.min(distance)));
        }
    }
    found
}

fn nearest_products(carriers: &[Carrier], guards: &Guards, nearest: &mut [Option<Offset>; 5]) {
    naive::each_product(carriers, guards, |form: Form, sources, product_hz| {
        let used = sources.get(..form.sources()).unwrap_or(&sources);
        let ours = used.iter().filter_map(|&s| carriers.get(usize::from(s))).any(|c| c.is_own());
        let Some(best) = nearest.get_mut(form.kind().index()) else { return };
        for (index, victim) in (0..=u16::MAX).zip(carriers) {
            let counts = match victim.role {
                Role::Own => true,
                Role::Protected => ours,
                Role::Foreign => false,
            };
            if counts && !used.contains(&index) {
                let miss = Offset::new(product_hz.saturating_sub(victim.frequency.wide()).saturating_abs());
                *best = Some(best.map_or(miss, |b| b.min(miss)));
            }
        }
    });
}
