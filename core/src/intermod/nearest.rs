//! The pair of carriers whose weighted sum comes nearest to a target.

use super::memory::Ascending;
use super::order::at;

/// Two carriers and how far their sum lies from the target.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Near {
    /// Places of the first and the second carrier.
    pub(super) places: [usize; 2],
    /// Sum - target.
    pub(super) miss_hz: i64,
}

impl Near {
    /// The nearer of two; of equals the one found first.
    pub(super) fn nearer(one: Option<Near>, other: Option<Near>) -> Option<Near> {
        match (one, other) {
            (Some(a), Some(b)) if b.miss_hz.unsigned_abs() < a.miss_hz.unsigned_abs() => Some(b),
            (None, b) => b,
            (a, _) => a,
        }
    }
}

/// `first·x + second·y` over carriers x and y that differ from each other and are not `taken`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sum {
    pub(super) first: i64,
    pub(super) second: i64,
    pub(super) taken: [usize; 2],
}

impl Sum {
    /// The nearest sum, x only among the carriers that `may_be_first` lets through.
    ///
    /// As x rises y has to fall, so y is found by walking down once: `n` steps. Both weights are
    /// positive.
    pub(super) fn nearest(
        self,
        target: i64,
        order: &Ascending<'_>,
        may_be_first: impl Fn(usize) -> bool,
    ) -> Option<Near> {
        let count = order.len();
        let sum = |x: usize, y: usize| {
            let (x, y) = (i64::from(at(order.frequencies, x)), i64::from(at(order.frequencies, y)));
            x.wrapping_mul(self.first).wrapping_add(y.wrapping_mul(self.second))
        };
        // The lowest y whose sum with x is not below the target.
        let mut above = count;
        let mut best = None;
        for x in (0..count).filter(|x| !self.taken.contains(x)) {
            while let Some(lower) = above.checked_sub(1) {
                if sum(x, lower) < target {
                    break;
                }
                above = lower;
            }
            if !may_be_first(x) {
                continue;
            }
            let allowed = |y: &usize| *y != x && !self.taken.contains(y);
            let over = (above..count).find(allowed);
            let under = (0..above).rev().find(allowed);
            for y in [over, under].into_iter().flatten() {
                let near = Near { places: [x, y], miss_hz: sum(x, y).wrapping_sub(target) };
                best = Near::nearer(best, Some(near));
            }
        }
        best
    }
}
