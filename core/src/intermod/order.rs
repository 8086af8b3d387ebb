//! Putting numbers in order, each with what belongs to it.
//!
//! Written here because the standard sorts carry a panic for orders that contradict themselves,
//! and the firmware must link without one.

/// A number to sort by, and what belongs to it.
pub(super) type Entry = [u32; 2];

/// Sorts by key, whatever the order before. Heap sort: `n log n` always, in place, not stable.
pub(super) fn sort(entries: &mut [Entry]) {
    let count = entries.len();
    for parent in (0..count / 2).rev() {
        sift(entries, parent, count);
    }
    for end in (1..count).rev() {
        exchange(entries, 0, end);
        sift(entries, 0, end);
    }
}

/// Sorts by key what is nearly in order already. Insertion sort: linear if nothing is far from its
/// place, quadratic at worst.
pub(super) fn settle(entries: &mut [Entry]) {
    let mut before = 0;
    for next in 0..entries.len() {
        let [key, _] = entry(entries, next);
        if key < before {
            sink(entries, next);
        } else {
            before = key;
        }
    }
}

/// Moves one entry down to its place among those before it.
fn sink(entries: &mut [Entry], from: usize) {
    let sinking = entry(entries, from);
    let mut place = from;
    while let Some(lower) = place.checked_sub(1) {
        let other = entry(entries, lower);
        if other[0] <= sinking[0] {
            break;
        }
        set(entries, place, other);
        place = lower;
    }
    set(entries, place, sinking);
}

/// Restores the heap below `parent`; the largest key is the parent of all.
fn sift(entries: &mut [Entry], mut parent: usize, end: usize) {
    loop {
        let mut child = parent.saturating_mul(2).saturating_add(1);
        if child >= end {
            return;
        }
        let other = child.saturating_add(1);
        if other < end && entry(entries, other)[0] > entry(entries, child)[0] {
            child = other;
        }
        if entry(entries, child)[0] <= entry(entries, parent)[0] {
            return;
        }
        exchange(entries, parent, child);
        parent = child;
    }
}

/// Swaps two entries. (The slice's own `swap` can panic.)
fn exchange(entries: &mut [Entry], one: usize, other: usize) {
    let kept = entry(entries, one);
    set(entries, one, entry(entries, other));
    set(entries, other, kept);
}

#[inline]
fn entry(entries: &[Entry], index: usize) -> Entry {
    entries.get(index).copied().unwrap_or_default()
}

/// Writes an entry, if there is such a place.
#[inline]
pub(super) fn set(entries: &mut [Entry], index: usize, entry: Entry) {
    if let Some(slot) = entries.get_mut(index) {
        *slot = entry;
    }
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

    /// Scrambled by steps of 7 in a ring of 101; every key twice but the last; values follow them.
    #[allow(clippy::arithmetic_side_effects)]
    fn scrambled() -> Vec<Entry> {
        (0..101).map(|i| i * 7 % 101 / 2).map(|key| [key, key + 1_000]).collect()
    }

    #[test]
    fn both_ways_put_keys_in_order_and_keep_values_with_them() {
        for way in [sort, settle] {
            let mut entries = scrambled();
            way(&mut entries);
            let expected: Vec<Entry> = (0..101).map(|i| [i / 2, i / 2 + 1_000]).collect();
            assert_eq!(entries, expected);
        }
    }

    #[test]
    fn nothing_and_one_are_in_order() {
        for way in [sort, settle] {
            way(&mut []);
            let mut one = [[5, 6]];
            way(&mut one);
            assert_eq!(one, [[5, 6]]);
        }
    }
}
