//! The fast checker: the hits of [`naive`](super::naive), without looking at every product.
//!
//! Two transmitters: `n²` steps. Three: `n²` sums in ascending order, a band at a time. Both plus
//! the hits; [`naive`](super::naive) needs `n³` and `n⁴`. The memory is the caller's, [`words`] of
//! it, and grows with `n`, not with the products.
//!
//! ```
//! use spurless::intermod::{Carrier, Form, Guards, check};
//! use spurless::units::Hertz;
//! // 0 1 4 6 is free of third order products. Source: OEIS A003022, optimal Golomb rulers.
//! let mut carriers = [606_000, 606_300, 607_200, 607_800].map(|khz| Carrier::own(Hertz::from_khz(khz)));
//! let guards = Guards::third_order(Hertz::from_khz(50), Hertz::from_khz(50));
//! let mut memory = [0; check::words(4)];
//! assert_eq!(check::hits(&carriers, &guards, &mut memory)?.count(), 0);
//! // Moved by one step too many, the last makes the differences 300 and 900 kHz appear twice.
//! carriers[3] = Carrier::own(Hertz::from_khz(607_500));
//! let forms: Vec<Form> = check::hits(&carriers, &guards, &mut memory)?.map(|hit| hit.form).collect();
//! assert_eq!(forms, [Form::APlusBMinusC; 4]);
//! # Ok::<(), spurless::intermod::Refused>(())
//! ```

use super::bands::Bands;
use super::memory::Store;
pub use super::memory::{MOST_CARRIERS, words};
use super::order::at;
use super::pairs::Pairs;
use super::rows::Coincidence;
pub use super::summary::{Summary, summary};
use super::{Carrier, Form, Guards, Hit, Refused, Role};
use crate::units::Hertz;

/// Every hit, as [`naive::each_hit`](super::naive::each_hit) defines it: form by form in the order
/// of [`Form::ALL`], within a form in an order that is always the same but means nothing.
///
/// Carriers need not be sorted and may repeat.
///
/// # Errors
/// [`Refused`] if there are too many carriers, or if `memory` is shorter than [`words`] says.
pub fn hits<'a>(
    carriers: &'a [Carrier],
    guards: &Guards,
    memory: &'a mut [u32],
) -> Result<Hits<'a>, Refused> {
    Ok(Hits { search: Search::new(carriers, guards, memory)?, carriers, found: None, reading: 0 })
}

/// The hits, one at a time. See [`hits`].
#[derive(Debug)]
pub struct Hits<'a> {
    search: Search<'a>,
    carriers: &'a [Carrier],
    /// What was found last, and how many of its readings have been looked at.
    found: Option<Found>,
    reading: usize,
}

impl Iterator for Hits<'_> {
    type Item = Hit;

    fn next(&mut self) -> Option<Hit> {
        loop {
            while let Some(reading) = self.found.as_ref().and_then(|found| found.reading(self.reading)) {
                self.reading = self.reading.wrapping_add(1);
                if let Some(hit) = self.search.hit(reading, self.carriers) {
                    return Some(hit);
                }
            }
            self.found = Some(self.search.next()?);
            self.reading = 0;
        }
    }
}

impl core::iter::FusedIterator for Hits<'_> {}

/// A carrier that takes part.
#[derive(Debug, Clone, Copy)]
struct Part {
    number: u16,
    frequency: Hertz,
}

/// Carriers whose sums nearly agree: one to four hits, depending on which is taken as the victim.
#[derive(Debug, Clone, Copy)]
pub(super) struct Found {
    pub(super) form: Form,
    parts: [Part; 4],
}

/// One way to read the sums as a product of A, B and C and the carrier that it strikes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reading {
    form: Form,
    parts: [Part; 4],
}

impl Found {
    /// How many ways there are.
    pub(super) fn readings(&self) -> usize {
        match self.form {
            Form::APlusBMinusC => 4,
            Form::TwoAPlusBMinusTwoC => 2,
            // 3A-D against B+C: the other two readings come as sums of their own.
            _ => 1,
        }
    }

    /// One of the ways; `None` after the last.
    #[inline]
    pub(super) fn reading(&self, number: usize) -> Option<Reading> {
        if number >= self.readings() {
            return None;
        }
        let [a, b, c, d] = self.parts;
        let parts = match (self.form, number) {
            (Form::ThreeAMinusBMinusC, _) => [a, c, d, b],
            (_, 0) => [a, b, c, d],
            (Form::TwoAPlusBMinusTwoC, _) | (_, 2) => [c, d, a, b],
            (_, 1) => [a, b, d, c],
            _ => [c, d, b, a],
        };
        Some(Reading { form: self.form, parts })
    }
}

impl Reading {
    /// Which carrier is struck.
    #[inline]
    pub(super) fn victim(&self) -> u16 {
        let [.., victim] = self.parts;
        victim.number
    }

    #[inline]
    fn product_hz(&self) -> i64 {
        let [a, b, c, _] = self.parts;
        self.form.frequency(a.frequency, b.frequency, c.frequency)
    }

    /// How far the product misses the victim: as far in every reading.
    #[inline]
    pub(super) fn distance(&self) -> u64 {
        let [.., victim] = self.parts;
        self.product_hz().abs_diff(victim.frequency.wide())
    }
}

/// The walk through all forms, to whatever may be a hit.
#[derive(Debug)]
pub(super) struct Search<'a> {
    guards: Guards,
    pub(super) store: Store<'a>,
    forms: core::slice::Iter<'static, Form>,
    walk: Walk,
    /// All carriers are ours: then every victim counts.
    pub(super) all_ours: bool,
}

/// Where the walk is.
#[derive(Debug, Clone, Copy)]
enum Walk {
    Two(Form, i64, Pairs),
    Three(Form, Bands),
    Done,
}

impl<'a> Search<'a> {
    /// Before the first.
    pub(super) fn new(carriers: &[Carrier], guards: &Guards, memory: &'a mut [u32]) -> Result<Self, Refused> {
        let store = Store::new(carriers, memory)?;
        let all_ours = carriers.iter().all(|carrier| carrier.is_own());
        Ok(Search { guards: *guards, store, forms: Form::ALL.iter(), walk: Walk::Done, all_ours })
    }

    /// The next carriers whose sums nearly agree.
    #[inline]
    pub(super) fn next(&mut self) -> Option<Found> {
        loop {
            match &mut self.walk {
                Walk::Two(form, guard, pairs) => {
                    if let Some([a, b, victim]) = pairs.next(*form, *guard, self.store.order.frequencies) {
                        let form = *form;
                        return Some(Found { form, parts: self.parts([a, b, b, victim]) });
                    }
                }
                Walk::Three(form, bands) => {
                    if let Some(Coincidence { one: [a, b], other: [c, d] }) = bands.next(&mut self.store) {
                        let form = *form;
                        return Some(Found { form, parts: self.parts([a, b, c, d]) });
                    }
                }
                Walk::Done => {}
            }
            self.walk = Walk::Done;
            let form = *self.forms.next()?;
            if let Some(guard) = self.guards.of_form(form) {
                self.walk = match form.sources() {
                    2 => Walk::Two(form, guard, Pairs::new(self.store.order.len())),
                    _ => Walk::Three(form, Bands::new(form, guard, &mut self.store)),
                };
            }
        }
    }

    #[inline]
    fn parts(&self, places: [usize; 4]) -> [Part; 4] {
        let order = &self.store.order;
        places.map(|place| Part {
            number: order.number(place),
            frequency: Hertz::new(at(order.frequencies, place)),
        })
    }

    /// The hit that a reading is, unless nobody promised to keep its victim clear of it.
    #[inline]
    pub(super) fn hit(&self, reading: Reading, carriers: &[Carrier]) -> Option<Hit> {
        let form = reading.form;
        let [a, b, c, victim] = reading.parts.map(|part| part.number);
        if !self.all_ours {
            let role = |number: u16| carriers.get(usize::from(number)).map(|carrier| carrier.role);
            let clear = match role(victim)? {
                Role::Own => true,
                Role::Protected => [a, b, c].iter().any(|&source| role(source) == Some(Role::Own)),
                Role::Foreign => false,
            };
            if !clear {
                return None;
            }
        }
        let sources = form.in_order([a, b, c]);
        Some(Hit { form, sources, victim, product_hz: reading.product_hz() })
    }
}
