//! What a carrier, once placed, closes for the next.
//!
//! Everything that a further carrier `D` must avoid is a union of intervals: around each carrier
//! (spacing), around each product of placed carriers, and wherever `D` itself would make a product
//! that lands on a placed carrier. Solving each kind's equation for each place that `D` can take
//! gives them all, so a plan built this way is clear by construction.
//!
//! Third order with three transmitters needs no second case: `D+B-C` on `V` is the same equation as
//! `V+C-B` on `D`. Only where `D` counts more than once (`2D-B` on `V`, `3D-2B` on `V`, ...) is
//! there an interval of its own, and it counts only if somebody must keep that victim clear.

// Frequencies are below 2^32 and factors at most 4: nothing here comes near the ends of `i64`.
#![allow(clippy::arithmetic_side_effects)]

use super::problem::Rules;
use crate::intermod::{Carrier, Kind, Role};

/// Calls `close(low_hz, high_hz)`, both inclusive, for everything that the last of `carriers`
/// closes together with those before it.
///
/// Work: linear in the carriers for two-transmitter kinds, quadratic for three.
#[inline]
pub(crate) fn closed_by_last(carriers: &[Carrier], rules: &Rules, mut close: impl FnMut(i64, i64)) {
    let Some((&newest, earlier)) = carriers.split_last() else { return };
    let x = newest.frequency.wide();
    let x_kept = newest.role != Role::Foreign;

    let reach = i64::from(rules.spacing.hz().max(1)).wrapping_sub(1);
    close(x.wrapping_sub(reach), x.wrapping_add(reach));

    let guard = |kind| rules.guards.get(kind).map(|g| g.wide());
    if let Some(g) = guard(Kind::TwoTransmitter3) {
        for other in earlier {
            let p = other.frequency.wide();
            around(2 * x - p, g, &mut close);
            around(2 * p - x, g, &mut close);
            if x_kept || other.role != Role::Foreign {
                shared(2, x + p, g, &mut close);
            }
        }
    }
    if let Some(g) = guard(Kind::ThreeTransmitter3) {
        each_pair(earlier, |p, q, _| {
            around(x + p - q, g, &mut close);
            around(x + q - p, g, &mut close);
            around(p + q - x, g, &mut close);
        });
    }
    if let Some(g) = guard(Kind::TwoTransmitter5) {
        for other in earlier {
            let p = other.frequency.wide();
            for (a, b, b_kept) in [(x, p, other.role != Role::Foreign), (p, x, x_kept)] {
                around(3 * a - 2 * b, g, &mut close);
                if b_kept {
                    shared(3, 2 * a + b, g, &mut close);
                    shared(2, 3 * a - b, g, &mut close);
                }
            }
        }
    }
    if let Some(g) = guard(Kind::ThreeTransmitter5) {
        each_pair(earlier, |p, q, pair_kept| {
            let any_kept = x_kept || pair_kept != [false, false];
            if any_kept {
                shared(3, x + p + q, g, &mut close);
            }
            around(3 * x - p - q, g, &mut close);
            around(3 * p - x - q, g, &mut close);
            around(3 * q - x - p, g, &mut close);
            let [p_kept, q_kept] = pair_kept;
            each_order([(x, x_kept), (p, p_kept), (q, q_kept)], |(a, _), (b, b_kept), (c, c_kept)| {
                around(2 * a + b - 2 * c, g, &mut close);
                if b_kept || c_kept {
                    shared(2, 2 * a + b - c, g, &mut close);
                }
            });
        });
    }
    if let Some(g) = guard(Kind::TwoTransmitter7) {
        for other in earlier {
            let p = other.frequency.wide();
            for (a, b, b_kept) in [(x, p, other.role != Role::Foreign), (p, x, x_kept)] {
                around(4 * a - 3 * b, g, &mut close);
                if b_kept {
                    shared(4, 3 * a + b, g, &mut close);
                    shared(3, 4 * a - b, g, &mut close);
                }
            }
        }
    }
}

/// `D` itself within `guard` of `product`.
#[inline]
fn around(product: i64, guard: i64, close: &mut impl FnMut(i64, i64)) {
    close(product - guard, product + guard);
}

/// `times * D` within `guard` of `sum`.
#[inline]
fn shared(times: i64, sum: i64, guard: i64, close: &mut impl FnMut(i64, i64)) {
    let low = (sum - guard + times - 1).div_euclid(times);
    close(low, (sum + guard).div_euclid(times));
}

/// Every pair of earlier carriers, and which of the two must be kept clear.
#[inline]
fn each_pair(earlier: &[Carrier], mut with: impl FnMut(i64, i64, [bool; 2])) {
    let mut rest = earlier;
    while let Some((first, others)) = rest.split_first() {
        for second in others {
            let kept = [first.role != Role::Foreign, second.role != Role::Foreign];
            with(first.frequency.wide(), second.frequency.wide(), kept);
        }
        rest = others;
    }
}

/// The six orders of three.
#[inline]
fn each_order<T: Copy>([a, b, c]: [T; 3], mut with: impl FnMut(T, T, T)) {
    with(a, b, c);
    with(a, c, b);
    with(b, a, c);
    with(b, c, a);
    with(c, a, b);
    with(c, b, a);
}
