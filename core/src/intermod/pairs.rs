//! Two transmitters: every product, with the victims found by walking and not by searching.

use super::Form;
use super::order::at;

/// Finds the hits of `2A-B`, `3A-2B` and `4A-3B` among ascending frequencies.
///
/// For one A the product falls as B rises, so the place where its victims start only moves down:
/// `n²` steps and the hits, no memory.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pairs {
    a: usize,
    b: usize,
    /// The first carrier not below the product by more than the guard.
    start: usize,
    /// The carrier that is looked at.
    victim: usize,
    /// What a carrier may reach at most to be struck by the product of A and B.
    reach: i64,
}

impl Pairs {
    /// Before the first product.
    pub(super) fn new(count: usize) -> Self {
        Pairs { a: 0, b: usize::MAX, start: count, victim: count, reach: i64::MIN }
    }

    /// The places of A, B and the carrier that is struck.
    pub(super) fn next(&mut self, form: Form, guard: i64, frequencies: &[u32]) -> Option<[usize; 3]> {
        let [weight_a, weight_b, _] = form.factors();
        let count = frequencies.len();
        loop {
            while self.victim < count && i64::from(at(frequencies, self.victim)) <= self.reach {
                let victim = self.victim;
                self.victim = victim.saturating_add(1);
                if victim != self.a && victim != self.b {
                    return Some([self.a, self.b, victim]);
                }
            }
            self.b = self.b.wrapping_add(1);
            if self.b >= count {
                self.a = self.a.saturating_add(1);
                self.b = 0;
                self.start = count;
            }
            if self.a >= count {
                return None;
            }
            if self.a == self.b {
                self.reach = i64::MIN;
                continue;
            }
            let a = i64::from(at(frequencies, self.a));
            let b = i64::from(at(frequencies, self.b));
            let product = a.wrapping_mul(weight_a).wrapping_add(b.wrapping_mul(weight_b));
            self.reach = product.saturating_add(guard);
            let least = product.saturating_sub(guard);
            while let Some(lower) = self.start.checked_sub(1) {
                if i64::from(at(frequencies, lower)) < least {
                    break;
                }
                self.start = lower;
            }
            self.victim = self.start;
        }
    }
}
