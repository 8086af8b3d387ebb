//! Hits counted instead of listed: hundreds of thousands are no list that anybody reads.

use super::check::Search;
use super::memory::long_enough;
use super::{Carrier, Form, Guards, Hit, Kind, Refused};

/// How many hits there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Summary {
    forms: [u64; 6],
}

impl Summary {
    /// Of one form.
    pub fn of_form(&self, form: Form) -> u64 {
        self.forms.get(form as usize).copied().unwrap_or(0)
    }

    /// Of one kind.
    pub fn of_kind(&self, kind: Kind) -> u64 {
        kind.forms().iter().fold(0, |sum: u64, &form| sum.saturating_add(self.of_form(form)))
    }

    /// Of all.
    pub fn total(&self) -> u64 {
        self.forms.iter().fold(0, |sum, &form| sum.saturating_add(form))
    }
}

/// Counts the hits, and keeps for every carrier, number by number, the worst that strikes it: the
/// one with the smallest miss, of equals always the same one.
///
/// Cheaper than going through [`check::hits`](super::check::hits): carriers whose sums agree are
/// looked at once, not once per hit.
///
/// # Errors
/// [`Refused`] if there are too many carriers, or if `memory` (see
/// [`check::words`](super::check::words)) or `worst` (one for each carrier) is too short.
///
/// ```
/// use spurless::intermod::{Carrier, Guards, Kind, Refused, check};
/// use spurless::units::Hertz;
/// let carriers: Vec<Carrier> = (0..6).map(|i| Carrier::own(Hertz::from_khz(606_000 + 400 * i))).collect();
/// let guards = Guards::third_order(Hertz::ZERO, Hertz::ZERO);
/// let (mut memory, mut worst) = ([0; check::words(6)], [None; 6]);
/// let summary = check::summary(&carriers, &guards, &mut memory, &mut worst)?;
/// // Source: derived for n consecutive steps, 2·floor((n-1)²/4) and n(n-2)(2n-5)/6.
/// assert_eq!(summary.of_kind(Kind::TwoTransmitter3), 12);
/// assert_eq!(summary.of_kind(Kind::ThreeTransmitter3), 28);
/// assert!(worst.iter().all(Option::is_some));
/// # Ok::<(), Refused>(())
/// ```
pub fn summary(
    carriers: &[Carrier],
    guards: &Guards,
    memory: &mut [u32],
    worst: &mut [Option<Hit>],
) -> Result<Summary, Refused> {
    long_enough("worst hits", worst.len(), carriers.len())?;
    for slot in worst.iter_mut() {
        *slot = None;
    }
    let miss = |hit: &Hit| {
        let victim = carriers.get(usize::from(hit.victim)).map_or(0, |carrier| carrier.frequency.wide());
        hit.product_hz.abs_diff(victim)
    };
    let mut search = Search::new(carriers, guards, memory)?;
    let mut summary = Summary::default();
    // As far as the worst hit of the luckiest carrier: what misses by more is only counted.
    let mut loosest = u64::MAX;
    while let Some(found) = search.next() {
        let mut hits: u64 = 0;
        let distance = found.reading(0).map_or(0, |reading| reading.distance());
        if search.all_ours && distance >= loosest {
            hits = found.readings() as u64;
        } else {
            let mut improved = false;
            for reading in (0..4).map_while(|number| found.reading(number)) {
                let Some(hit) = search.hit(reading, carriers) else { continue };
                hits = hits.saturating_add(1);
                let Some(slot) = worst.get_mut(usize::from(reading.victim())) else { continue };
                if slot.as_ref().is_none_or(|worst| distance < miss(worst)) {
                    *slot = Some(hit);
                    improved = true;
                }
            }
            if improved && search.all_ours {
                let misses = worst.iter().take(carriers.len());
                loosest = misses.map(|worst| worst.as_ref().map_or(u64::MAX, miss)).max().unwrap_or(0);
            }
        }
        if let Some(count) = summary.forms.get_mut(found.form as usize) {
            *count = count.saturating_add(hits);
        }
    }
    Ok(summary)
}
