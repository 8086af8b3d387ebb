//! Products by name: who strikes whom, and where the others lie.

use core::fmt;

use super::reason::{Named, Sum};
use super::why::Peer;
use crate::intermod::{Carrier, Form, Guards, Hit, Role, naive};
use crate::units::{Hertz, Offset};

/// A product that lands on a carrier, with names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Strike<'a> {
    /// The product.
    pub product: Sum,
    /// Who makes it: A, B, and C where there are three.
    pub sources: [Named<'a>; 3],
    /// Who is struck.
    pub victim: Named<'a>,
    /// How far off the victim it is.
    pub miss: Offset,
    /// The guard that it is within.
    pub guard: Hertz,
}

impl<'a> Strike<'a> {
    /// A hit among `peers`, whose indices it carries; `None` if it is not one of theirs.
    ///
    /// ```
    /// use spurless::intermod::{Carrier, Form, Guards, Hit};
    /// use spurless::plan::{Peer, Strike};
    /// use spurless::units::Hertz;
    /// let peers = [("L1", 544_000), ("L2", 544_800), ("L3", 545_625)]
    ///     .map(|(label, khz)| Peer { label, carrier: Carrier::own(Hertz::from_khz(khz)) });
    /// let guards = Guards::third_order(Hertz::from_khz(75), Hertz::from_khz(25));
    /// let hit = Hit { form: Form::TwoAMinusB, sources: [1, 0, 0], victim: 2, product_hz: 545_600_000 };
    /// assert_eq!(
    ///     Strike::of(&hit, &peers, &guards).unwrap().to_string(),
    ///     "2 x 544.800 - 544.000 = 545.600 lands 25 kHz from L3 (545.625); 75 kHz or less counts as a hit"
    /// );
    /// ```
    pub fn of(hit: &Hit, peers: &[Peer<'a>], guards: &Guards) -> Option<Strike<'a>> {
        let named = |index: u16| {
            let peer = peers.get(usize::from(index))?;
            Some(Named { label: peer.label, frequency: peer.carrier.frequency })
        };
        let [a, b, c] = hit.sources.map(named);
        let sources = [a?, b?, c?];
        let victim = named(hit.victim)?;
        Some(Strike {
            product: Sum { form: hit.form, sources: sources.map(|s| s.frequency) },
            sources,
            victim,
            miss: Offset::new(hit.product_hz.saturating_sub(victim.frequency.wide())),
            guard: guards.get(hit.form.kind())?,
        })
    }

    /// The sources without repetition.
    pub fn sources(&self) -> &[Named<'a>] {
        self.sources.get(..self.product.form.sources()).unwrap_or(&self.sources)
    }
}

impl fmt::Display for Strike<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Strike { product, victim, miss, guard, .. } = self;
        if miss.hz() == 0 {
            write!(f, "{product} lands exactly on {victim}")
        } else {
            write!(f, "{product} lands {miss} from {victim}; {guard} or less counts as a hit")
        }
    }
}

/// A product in a stretch of spectrum, for drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tick {
    /// The arithmetic.
    pub form: Form,
    /// Where it lies.
    pub frequency: Hertz,
    /// How far the nearest carrier is that must be kept clear of it; `None` if there is none.
    pub nearest: Option<Offset>,
    /// Whether that is within the guard.
    pub hit: bool,
}

impl Tick {
    /// Nothing, to fill memory with.
    pub const NONE: Tick = Tick { form: Form::TwoAMinusB, frequency: Hertz::ZERO, nearest: None, hit: false };
}

/// Writes the products that lie in `low ..= high`, simplest forms first, until `into` is full; says
/// how many it wrote.
///
/// Work: every product of the guarded kinds, N³ with three-transmitter kinds on, and N for each
/// that is written.
pub fn ticks(carriers: &[Carrier], guards: &Guards, low: Hertz, high: Hertz, into: &mut [Tick]) -> usize {
    let mut written: usize = 0;
    naive::each_product(carriers, guards, |form, sources, product_hz| {
        let Some(frequency) = Hertz::from_wide(product_hz).filter(|f| (low..=high).contains(f)) else {
            return;
        };
        let Some(slot) = into.get_mut(written) else { return };
        let used = sources.get(..form.sources()).unwrap_or(&sources);
        let nearest = nearest_victim(carriers, used, frequency);
        let within =
            |miss: Offset| guards.get(form.kind()).is_some_and(|g| miss.distance() <= u64::from(g.hz()));
        *slot = Tick { form, frequency, nearest, hit: nearest.is_some_and(within) };
        written = written.saturating_add(1);
    });
    written
}

/// The nearest carrier that must be kept clear of a product with these sources.
fn nearest_victim(carriers: &[Carrier], used: &[u16], product: Hertz) -> Option<Offset> {
    let ours = used.iter().filter_map(|&s| carriers.get(usize::from(s))).any(|c| c.is_own());
    let kept = |role| match role {
        Role::Own => true,
        Role::Protected => ours,
        Role::Foreign => false,
    };
    let victims = (0..=u16::MAX).zip(carriers).filter(|(index, c)| kept(c.role) && !used.contains(index));
    victims.map(|(_, c)| product.above(c.frequency)).min_by_key(|miss| miss.distance())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn khz(khz: u32) -> Hertz {
        Hertz::from_khz(khz)
    }

    /// The two products of two carriers, by hand: 543.200 and 545.600.
    #[test]
    fn a_tick_names_the_nearest_that_must_be_kept_clear() {
        let guards = Guards::third_order(khz(75), khz(25));
        let mut ticks = [Tick::NONE; 4];
        let mut shown = |carriers: &[Carrier]| {
            let count = super::ticks(carriers, &guards, khz(540_000), khz(545_650), &mut ticks);
            ticks[..count]
                .iter()
                .map(|t| (t.frequency, t.nearest.map(Offset::hz), t.hit))
                .collect::<std::vec::Vec<_>>()
        };
        let ours = [Carrier::own(khz(544_000)), Carrier::own(khz(544_800))];
        assert_eq!(shown(&ours), [(khz(543_200), None, false), (khz(545_600), None, false)]);
        // A third one 50 kHz beside: products with it as a source appear as well, until it is full.
        let three = [ours[0], ours[1], Carrier::own(khz(545_650))];
        let near = shown(&three);
        assert_eq!(near.len(), 4);
        assert!(near.contains(&(khz(545_600), Some(-50_000), true)));
        // A foreign carrier need not be kept clear; a protected one must, since the sources are ours.
        let beside = |protected| [ours[0], ours[1], Carrier::foreign(khz(545_500), protected)];
        let at = |ticks: &[(Hertz, Option<i64>, bool)]| ticks.iter().find(|t| t.0 == khz(545_600)).copied();
        assert_eq!(at(&shown(&beside(false))), Some((khz(545_600), None, false)));
        assert_eq!(at(&shown(&beside(true))), Some((khz(545_600), Some(100_000), false)));
    }
}
