//! What is open beside placed carriers, told from their distances: for one raster with nothing else
//! standing on it, both kinds of third order looked at.
//!
//! A place is closed where a distance that is in use leads from a carrier, up or down: `A + (B-C)`.
//! So two passes over a few words for each carrier tell what is open, however many products there
//! are; and the places that a further carrier would close are counted in three.

use super::bits;
use super::bound::Distances;

/// Sets of places that it keeps: open; distances; the same mirrored; sums, which reach twice as far.
pub(crate) const SETS: usize = 5;

/// The sets, in memory that somebody else owns.
pub(crate) struct Field<'w> {
    open: &'w mut [u64],
    apart: &'w mut [u64],
    mirrored: &'w mut [u64],
    sums: &'w mut [u64],
}

impl<'w> Field<'w> {
    /// In words of so many sets as [`SETS`].
    pub(crate) fn within(words: &'w mut [u64], stride: usize) -> Self {
        let (open, rest) = words.split_at_mut(stride.min(words.len()));
        let (apart, rest) = rest.split_at_mut(stride.min(rest.len()));
        let (mirrored, rest) = rest.split_at_mut(stride.min(rest.len()));
        let sums = rest.get_mut(..stride.saturating_mul(2)).unwrap_or_default();
        Field { open, apart, mirrored, sums }
    }

    /// The open places.
    pub(crate) fn open(&self) -> &[u64] {
        self.open
    }

    /// Finds out what is open of what is allowed, beside carriers on these places.
    ///
    /// Work: the carriers times the words, and the square of the carriers.
    pub(crate) fn find(
        &mut self,
        allowed: &[u64],
        rules: &Distances,
        places: impl Iterator<Item = u32> + Clone,
    ) {
        let Distances { spacing, two, three } = *rules;
        let (two, three) = (two.unwrap_or_default(), three.unwrap_or_default());
        let widened = |place: u32, guard: u32| {
            place.saturating_sub(guard)..place.saturating_add(guard).saturating_add(1)
        };
        self.apart.fill(0);
        self.sums.fill(0);
        bits::insert_run(self.apart, 0..spacing);
        for (slot, &word) in self.open.iter_mut().zip(allowed) {
            *slot = word;
        }
        let mut later = places.clone();
        while let Some(p) = later.next() {
            bits::insert_run(self.sums, widened(p.saturating_mul(2), three));
            for q in later.clone() {
                let (distance, sum) = (p.abs_diff(q), p.saturating_add(q));
                bits::insert_run(self.apart, widened(distance, three));
                bits::insert_run(self.sums, widened(sum, three));
                let between =
                    sum.saturating_sub(two).div_ceil(2)..(sum.saturating_add(two) / 2).saturating_add(1);
                bits::remove(self.open, between);
                if two != three {
                    let (low, high) = (p.min(q), p.max(q));
                    bits::remove(self.open, widened(high.saturating_add(distance), two));
                    if let Some(below) = low.checked_sub(distance) {
                        bits::remove(self.open, widened(below, two));
                    } else {
                        bits::remove(
                            self.open,
                            0..low.saturating_add(two).saturating_add(1).saturating_sub(distance),
                        );
                    }
                }
            }
        }
        for (slot, word) in self.mirrored.iter_mut().zip(self.apart.iter().rev()) {
            *slot = word.reverse_bits();
        }
        for place in places {
            let (skip, raised) = bits::raised(self.apart, place);
            let open = self.open.get_mut(skip..).unwrap_or_default();
            open.iter_mut().zip(raised).for_each(|(slot, taken)| *slot &= !taken);
            let lowered = bits::lowered(self.mirrored, self.mirror_of(place));
            self.open.iter_mut().zip(lowered).for_each(|(slot, taken)| *slot &= !taken);
        }
    }

    /// How many open places a carrier on `place` would close by products of three with two of those
    /// that are there; one that is closed twice counts twice.
    ///
    /// Work: the words.
    pub(crate) fn closes(&self, place: u32) -> u32 {
        let (skip, raised) = bits::raised(self.apart, place);
        let up = shared(self.open.get(skip..).unwrap_or_default(), raised);
        let down = shared(self.open, bits::lowered(self.mirrored, self.mirror_of(place)));
        let sums = shared(self.open, bits::lowered(self.sums, place));
        up.wrapping_add(down).wrapping_add(sums)
    }

    /// How far the mirrored distances are to be lowered so that they lead down from a place.
    fn mirror_of(&self, place: u32) -> u32 {
        (self.mirrored.len() as u32).wrapping_mul(64).wrapping_sub(1).saturating_sub(place)
    }
}

fn shared(open: &[u64], taken: impl Iterator<Item = u64>) -> u32 {
    open.iter().zip(taken).fold(0, |sum, (a, b)| (a & b).count_ones().wrapping_add(sum))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::arithmetic_side_effects)]

    use std::vec::Vec;

    use super::*;

    /// By the definition: every product of the carriers and one more, against all of them.
    fn clear(carriers: &[i64], rules: &Distances) -> bool {
        let (two, three) = (i64::from(rules.two.unwrap()), i64::from(rules.three.unwrap()));
        let each = || carriers.iter().copied().enumerate();
        each().all(|(i, a)| {
            each().filter(|&(j, _)| j != i).all(|(j, b)| {
                (a - b).abs() >= i64::from(rules.spacing)
                    && each().filter(|&(k, _)| k != i && k != j).all(|(k, c)| {
                        (2 * a - b - c).abs() > two
                            && each()
                                .filter(|&(l, _)| ![i, j, k].contains(&l))
                                .all(|(_, d)| (a + b - c - d).abs() > three)
                    })
            })
        })
    }

    #[test]
    fn open_is_what_stays_clear_by_the_definition() {
        const PLACES: u32 = 200;
        let allowed = [u64::MAX, !0xff00, u64::MAX, 0xff];
        let mut dice = 7_u32;
        let mut roll = |sides: u32| {
            dice = dice.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (dice >> 8) % sides
        };
        let mut looked_at = 0;
        for _ in 0..60 {
            let three = roll(3);
            let two = three + roll(3);
            let rules = Distances { spacing: two + 1 + roll(4), two: Some(two), three: Some(three) };
            let mut words = [0; SETS * 4];
            let mut field = Field::within(&mut words, 4);
            let mut carriers: Vec<i64> = Vec::new();
            loop {
                field.find(&allowed, &rules, carriers.iter().map(|&c| c as u32));
                let is_open = |p: &u32| bits::contains(field.open(), *p);
                for place in 0..PLACES {
                    let mut more = carriers.clone();
                    more.push(i64::from(place));
                    let expected = bits::contains(&allowed, place) && clear(&more, &rules);
                    assert_eq!(is_open(&place), expected, "{place} beside {carriers:?}, {rules:?}");
                    looked_at += 1;
                }
                let open: Vec<u32> = (0..PLACES).filter(is_open).collect();
                if open.is_empty() || carriers.len() == 7 {
                    break;
                }
                carriers.push(i64::from(open[roll(open.len() as u32) as usize]));
            }
        }
        assert!(looked_at > 50_000, "{looked_at}");
    }
}
