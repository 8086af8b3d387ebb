//! The definition, enumerated: every product against every carrier.
//!
//! It is the truth that everything faster is measured against, and what `plan::verify`
//! uses, so it is kept as plain as the definition. Work N³ for two, N⁴ for three transmitters.

use super::{Carrier, Form, Guards, Hit};
use crate::units::Hertz;

/// Calls `found` for every hit, by form, then sources, then victim, in ascending index order.
///
/// At most 65 535 carriers are looked at.
pub fn each_hit(carriers: &[Carrier], guards: &Guards, mut found: impl FnMut(Hit)) {
    each_product(carriers, guards, |form, sources, product_hz| {
        let Some(guard) = guards.of_form(form) else { return };
        for (victim, carrier) in numbered(carriers) {
            let miss = product_hz.abs_diff(carrier.frequency.wide());
            if miss <= guard.unsigned_abs() && is_victim(carriers, form, sources, victim, carrier) {
                found(Hit { form, sources, victim, product_hz });
            }
        }
    });
}

/// How many hits there are.
///
/// ```
/// use spurless::intermod::{Carrier, Guards, naive};
/// use spurless::units::Hertz;
/// // Even spacing is the classic error: six carriers every 400 kHz.
/// let carriers: Vec<Carrier> = (0..6).map(|i| Carrier::own(Hertz::from_khz(606_000 + 400 * i))).collect();
/// let exact = Guards::third_order(Hertz::ZERO, Hertz::ZERO);
/// assert_eq!(naive::count(&carriers, &exact), 40);
/// ```
pub fn count(carriers: &[Carrier], guards: &Guards) -> usize {
    let mut hits: usize = 0;
    each_hit(carriers, guards, |_| hits = hits.saturating_add(1));
    hits
}

/// Calls `found` for every pair closer than `spacing` in which at least one is ours, lower index
/// first. Two carriers on one frequency are always too close.
pub fn each_breach(carriers: &[Carrier], spacing: Hertz, mut found: impl FnMut(u16, u16)) {
    let least = u64::from(spacing.hz().max(1));
    for (i, a) in numbered(carriers) {
        for (j, b) in numbered(carriers).skip(usize::from(i).saturating_add(1)) {
            if (a.is_own() || b.is_own()) && a.frequency.above(b.frequency).distance() < least {
                found(i, j);
            }
        }
    }
}

/// Every product of the guarded kinds, with its sources.
pub(crate) fn each_product(carriers: &[Carrier], guards: &Guards, found: impl FnMut(Form, [u16; 3], i64)) {
    let none = Carrier::foreign(Hertz::ZERO, false);
    each_product_of(carriers.len(), |i| carriers.get(usize::from(i)).copied().unwrap_or(none), guards, found);
}

/// The same for carriers that do not lie in one slice.
pub(crate) fn each_product_of(
    count: usize,
    carrier: impl Fn(u16) -> Carrier,
    guards: &Guards,
    mut found: impl FnMut(Form, [u16; 3], i64),
) {
    let count = u16::try_from(count).unwrap_or(u16::MAX);
    let at = |index| carrier(index).frequency;
    for form in Form::ALL.into_iter().filter(|&f| guards.of_form(f).is_some()) {
        for i in 0..count {
            for j in (0..count).filter(|&j| j != i) {
                if form.sources() == 2 {
                    found(form, [i, j, j], form.frequency(at(i), at(j), at(j)));
                    continue;
                }
                for k in (0..count).filter(|&k| k != i && k != j) {
                    let repeats = match form {
                        Form::APlusBMinusC => j < i,
                        Form::ThreeAMinusBMinusC => k < j,
                        _ => false,
                    };
                    if !repeats {
                        found(form, [i, j, k], form.frequency(at(i), at(j), at(k)));
                    }
                }
            }
        }
    }
}

/// None of the product's own sources, and promised to be kept clear of it.
fn is_victim(carriers: &[Carrier], form: Form, sources: [u16; 3], victim: u16, carrier: Carrier) -> bool {
    let used = sources.iter().take(form.sources());
    if used.clone().any(|&s| s == victim) {
        return false;
    }
    match carrier.role {
        super::Role::Own => true,
        super::Role::Protected => {
            used.filter_map(|&s| carriers.get(usize::from(s))).any(|source| source.is_own())
        }
        super::Role::Foreign => false,
    }
}

fn numbered(carriers: &[Carrier]) -> impl Iterator<Item = (u16, Carrier)> + Clone + '_ {
    (0..=u16::MAX).zip(carriers.iter().copied())
}
