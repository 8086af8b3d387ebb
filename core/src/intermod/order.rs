//! Putting numbers in order, each with what belongs to it.
//!
//! Written here because the standard sorts carry a panic for orders that contradict themselves,
//! and the firmware must link without one.

/// Sorts by key, whatever the order before. Heap sort: `n log n` always, in place, not stable.
pub(super) fn sort(keys: &mut [u32], values: &mut [u32]) {
    let count = keys.len().min(values.len());
    for parent in (0..count / 2).rev() {
        sift(keys, values, parent, count);
    }
    for end in (1..count).rev() {
        exchange(keys, 0, end);
        exchange(values, 0, end);
        sift(keys, values, 0, end);
    }
}

/// Sorts by key what is nearly in order already. Insertion sort: linear if nothing is far from its
/// place, quadratic at worst.
pub(super) fn settle(keys: &mut [u32], values: &mut [u32]) {
    let mut before = 0;
    for next in 0..keys.len().min(values.len()) {
        let key = at(keys, next);
        if key < before {
            sink(keys, values, next);
        } else {
            before = key;
        }
    }
}

/// Moves one entry down to its place among those before it.
fn sink(keys: &mut [u32], values: &mut [u32], from: usize) {
    let (key, value) = (at(keys, from), at(values, from));
    let mut place = from;
    while let Some(lower) = place.checked_sub(1) {
        if at(keys, lower) <= key {
            break;
        }
        put(keys, place, at(keys, lower));
        put(values, place, at(values, lower));
        place = lower;
    }
    put(keys, place, key);
    put(values, place, value);
}

/// Restores the heap below `parent`; the largest key is the parent of all.
fn sift(keys: &mut [u32], values: &mut [u32], mut parent: usize, end: usize) {
    loop {
        let mut child = parent.saturating_mul(2).saturating_add(1);
        if child >= end {
            return;
        }
        let other = child.saturating_add(1);
        if other < end && at(keys, other) > at(keys, child) {
            child = other;
        }
        if at(keys, child) <= at(keys, parent) {
            return;
        }
        exchange(keys, parent, child);
        exchange(values, parent, child);
        parent = child;
    }
}

/// Swaps two entries. (The slice's own `swap` can panic.)
fn exchange(words: &mut [u32], one: usize, other: usize) {
    let kept = at(words, one);
    put(words, one, at(words, other));
    put(words, other, kept);
}

/// The entry at `index`. Callers stay inside the slice; outside it there is nothing but zero.
#[inline]
pub(super) fn at(words: &[u32], index: usize) -> u32 {
    words.get(index).copied().unwrap_or(0)
}

/// The entry at `index` as an index.
#[inline]
pub(super) fn index_at(words: &[u32], index: usize) -> usize {
    at(words, index) as usize
}

/// Writes the entry at `index`, if there is one.
#[inline]
pub(super) fn put(words: &mut [u32], index: usize, word: u32) {
    if let Some(slot) = words.get_mut(index) {
        *slot = word;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Scrambled by steps of 7 in a ring of 101; values follow their keys.
    #[allow(clippy::arithmetic_side_effects)]
    fn scrambled() -> (Vec<u32>, Vec<u32>) {
        let keys: Vec<u32> = (0..101).map(|i| i * 7 % 101 / 2).collect();
        let values = keys.iter().map(|key| key + 1_000).collect();
        (keys, values)
    }

    #[test]
    fn both_ways_put_keys_in_order_and_keep_values_with_them() {
        for way in [sort, settle] {
            let (mut keys, mut values) = scrambled();
            way(&mut keys, &mut values);
            let expected: Vec<u32> = (0..101).map(|i| i / 2).collect();
            assert_eq!(keys, expected);
            assert!(keys.iter().zip(&values).all(|(key, value)| key + 1_000 == *value));
        }
    }

    #[test]
    fn nothing_and_one_are_in_order() {
        for way in [sort, settle] {
            way(&mut [], &mut []);
            let mut one = [5];
            way(&mut one, &mut [0]);
            assert_eq!(one, [5]);
        }
    }
}
