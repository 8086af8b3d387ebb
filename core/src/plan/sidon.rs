//! A good start for large plans with three-transmitter products.
//!
//! On a lattice whose step is just above the guard, a product that does not strike exactly misses by
//! more than the guard. So a set of whole numbers with all differences distinct, a Sidon set, is
//! clear when its numbers are taken as places of that lattice; multiplied, shifted or thinned out it
//! stays one. Over many multipliers and shifts, take the one of which most numbers fall on open
//! places; ruin and rebuild then adds to it.
//!
//! The set: for a prime `p` with primitive root `g`, the `p-1` numbers modulo `p(p-1)` that are `i`
//! modulo `p-1` and `g^i` modulo `p`. Source: I. Ruzsa, Acta Arithmetica 65, 1993 (from memory).

use super::bits;
use super::bound::Distances;

/// Places of the raster between neighbours of the coarse lattice, and the set to be laid on it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sidon {
    /// Raster places a step of the coarse lattice.
    coarse: u32,
    prime: u32,
    root: u32,
    /// The next multiplier, shift and phase to try.
    multiplier: u32,
    shift: u32,
    phase: u32,
    /// The best so far, with its number of open places.
    best: (u32, Laid),
}

/// One way to lay the set on the raster.
#[derive(Debug, Clone, Copy, Default)]
struct Laid {
    multiplier: u32,
    shift: u32,
    phase: u32,
}

/// Shifts are tried this far apart in a first look, so that many multipliers get their turn.
const SHIFT_STRIDE: u32 = 31;

impl Sidon {
    /// A start for a raster of so many places, if both kinds of third order are looked at.
    pub(crate) fn new(distances: &Distances, places: u32) -> Option<Sidon> {
        let coarse = distances.two?.max(distances.three?).checked_add(1)?;
        let length = places.checked_div(coarse)?;
        // The smallest set whose modulus spans the lattice.
        let prime =
            (5..2_000_u32).find(|&p| is_prime(p) && p.saturating_mul(p.saturating_sub(1)) >= length)?;
        let root = (2..prime).find(|&g| is_primitive_root(g, prime))?;
        Some(Sidon { coarse, prime, root, multiplier: 1, shift: 0, phase: 0, best: (0, Laid::default()) })
    }

    fn modulus(&self) -> u32 {
        self.prime.saturating_mul(self.prime.saturating_sub(1))
    }

    /// Tries one more way; `false` when all have been tried.
    pub(crate) fn advance(&mut self, open: &[u64]) -> bool {
        let laid = Laid { multiplier: self.multiplier, shift: self.shift, phase: self.phase };
        let count = self
            .places(laid)
            .fold(0_u32, |sum, place| sum.wrapping_add(u32::from(bits::contains(open, place))));
        if count > self.best.0 {
            self.best = (count, laid);
        }
        self.phase = self.phase.saturating_add(1);
        if self.phase == self.coarse {
            self.phase = 0;
            self.shift = self.shift.saturating_add(SHIFT_STRIDE);
            if self.shift >= self.modulus() {
                self.shift = 0;
                // A multiplier and its negative give mirror images.
                let next = self.multiplier.saturating_add(1)..self.modulus() / 2;
                let Some(next) = next.into_iter().find(|&m| gcd(m, self.modulus()) == 1) else {
                    return false;
                };
                self.multiplier = next;
            }
        }
        true
    }

    /// The lowest open place of the best way found at or above `from`.
    pub(crate) fn next_place(&self, open: &[u64], from: u32) -> Option<u32> {
        self.places(self.best.1).filter(|&place| place >= from && bits::contains(open, place)).min()
    }

    /// The raster places of the set as laid, in no order.
    fn places(&self, laid: Laid) -> impl Iterator<Item = u32> + use<> {
        let (p, modulus, coarse) = (u64::from(self.prime), u64::from(self.modulus()), u64::from(self.coarse));
        let (multiplier, shift, phase) =
            (u64::from(laid.multiplier), u64::from(laid.shift), u64::from(laid.phase));
        let root = u64::from(self.root);
        let mut power = 1_u64;
        (1..p).map(move |i| {
            power = power.wrapping_mul(root).checked_rem(p).unwrap_or_default();
            // p*i - (p-1)*g^i is i modulo p-1 and g^i modulo p.
            let member = p
                .wrapping_mul(i)
                .wrapping_add(modulus)
                .wrapping_sub(p.wrapping_sub(1).wrapping_mul(power).checked_rem(modulus).unwrap_or_default());
            let moved = member.wrapping_mul(multiplier).wrapping_add(shift);
            let place =
                moved.checked_rem(modulus).unwrap_or_default().wrapping_mul(coarse).wrapping_add(phase);
            u32::try_from(place).unwrap_or(u32::MAX)
        })
    }
}

fn is_prime(n: u32) -> bool {
    n >= 2 && (2..n).take_while(|d| d.saturating_mul(*d) <= n).all(|d| !n.is_multiple_of(d))
}

fn is_primitive_root(g: u32, p: u32) -> bool {
    let mut power = u64::from(g);
    let mut order: u32 = 1;
    while power != 1 && order < p {
        power = power.wrapping_mul(u64::from(g)).checked_rem(u64::from(p)).unwrap_or(1);
        order = order.saturating_add(1);
    }
    order.saturating_add(1) == p
}

fn gcd(mut a: u32, mut b: u32) -> u32 {
    while let Some(rest) = a.checked_rem(b) {
        (a, b) = (b, rest);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A Sidon set by definition: no two differences modulo p(p-1) are the same.
    #[test]
    fn the_set_has_all_differences_distinct() {
        let distances = Distances { spacing: 1, two: Some(0), three: Some(0) };
        for places in [20, 110, 500, 3_000] {
            let sidon = Sidon::new(&distances, places).unwrap();
            let members: std::vec::Vec<u32> =
                sidon.places(Laid { multiplier: 1, shift: 0, phase: 0 }).collect();
            let modulus = sidon.modulus();
            let mut seen = std::collections::BTreeSet::new();
            for a in &members {
                for b in members.iter().filter(|b| *b != a) {
                    assert!(seen.insert((a + modulus - b) % modulus), "{a} - {b} modulo {modulus}");
                }
            }
            assert_eq!(members.len() as u32, sidon.prime - 1);
        }
    }
}
