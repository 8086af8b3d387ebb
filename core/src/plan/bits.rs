//! Sets of places as bits in words that somebody else owns.

use core::ops::Range;

/// Words needed for so many places.
pub(crate) const fn words_for(places: u32) -> usize {
    places.div_ceil(64) as usize
}

/// The lowest place at or above `from`.
#[inline]
pub(crate) fn next(words: &[u64], from: u32) -> Option<u32> {
    let start = (from / 64) as usize;
    let first = words.get(start)? & (u64::MAX << (from % 64));
    if first != 0 {
        return Some((from & !63).wrapping_add(first.trailing_zeros()));
    }
    let rest = words.get(start.wrapping_add(1)..)?;
    let skipped = rest.iter().position(|&w| w != 0)?;
    let word = rest.get(skipped)?;
    let base = (from & !63).wrapping_add(64).wrapping_add((skipped as u32).wrapping_mul(64));
    Some(base.wrapping_add(word.trailing_zeros()))
}

/// Adds one place.
#[inline]
pub(crate) fn insert(words: &mut [u64], place: u32) {
    if let Some(word) = words.get_mut((place / 64) as usize) {
        *word |= 1 << (place % 64);
    }
}

/// Whether a place is in the set.
#[inline]
pub(crate) fn contains(words: &[u64], place: u32) -> bool {
    words.get((place / 64) as usize).is_some_and(|word| word & (1 << (place % 64)) != 0)
}

/// The lowest place at or above `from` that is not in the set; beyond the words none is.
#[inline]
pub(crate) fn next_absent(words: &[u64], from: u32) -> u32 {
    let mut index = (from / 64) as usize;
    let mut mask = u64::MAX << (from % 64);
    while let Some(word) = words.get(index) {
        let absent = !word & mask;
        if absent != 0 {
            return (index as u32).wrapping_mul(64).wrapping_add(absent.trailing_zeros());
        }
        index = index.wrapping_add(1);
        mask = u64::MAX;
    }
    from.max((words.len() as u32).saturating_mul(64))
}

/// The highest place.
pub(crate) fn last(words: &[u64]) -> Option<u32> {
    let (index, word) = words.iter().enumerate().rfind(|(_, word)| **word != 0)?;
    Some((index as u32).wrapping_mul(64).wrapping_add(63_u32.wrapping_sub(word.leading_zeros())))
}

/// Takes a run of places out. What lies beyond the words is not there to be taken.
#[inline]
pub(crate) fn remove(words: &mut [u64], places: Range<u32>) {
    change_run(words, places, |word, run| *word &= !run);
}

/// Adds a run of places. What lies beyond the words is lost.
#[inline]
pub(crate) fn insert_run(words: &mut [u64], places: Range<u32>) {
    change_run(words, places, |word, run| *word |= run);
}

#[inline]
fn change_run(words: &mut [u64], places: Range<u32>, change: impl Fn(&mut u64, u64)) {
    let capacity = (words.len() as u32).saturating_mul(64);
    let end = places.end.min(capacity);
    if places.start >= end {
        return;
    }
    let last = end.wrapping_sub(1);
    let (first_word, last_word) = ((places.start / 64) as usize, (last / 64) as usize);
    let from = u64::MAX << (places.start % 64);
    let to = u64::MAX >> (63_u32.wrapping_sub(last % 64));
    if first_word == last_word {
        if let Some(word) = words.get_mut(first_word) {
            change(word, from & to);
        }
        return;
    }
    let Some(run) = words.get_mut(first_word..=last_word) else { return };
    if let [first, middle @ .., last] = run {
        change(first, from);
        middle.iter_mut().for_each(|word| change(word, u64::MAX));
        change(last, to);
    }
}

/// `into` becomes `from` without the places of `taken` moved up by `up`.
#[inline]
pub(crate) fn remove_shifted(from: &[u64], taken: &[u64], up: u32, into: &mut [u64]) {
    let (skip, moved) = raised(taken, up);
    let (low, high) = into.split_at_mut(skip.min(into.len()));
    for (slot, &word) in low.iter_mut().zip(from) {
        *slot = word;
    }
    for ((slot, &word), moved) in high.iter_mut().zip(from.get(skip..).unwrap_or_default()).zip(moved) {
        *slot = word & !moved;
    }
}

/// The words of a set moved up, and how many words lie below the first of them.
#[inline]
pub(crate) fn raised(set: &[u64], up: u32) -> (usize, impl Iterator<Item = u64>) {
    let bits = up % 64;
    let mut carried = 0;
    let words = set.iter().map(move |&word| {
        let moved = (word << bits) | carried;
        // The part that crosses into the next word; a shift by 64 would be none.
        carried = (word >> 1) >> (63_u32.wrapping_sub(bits));
        moved
    });
    ((up / 64) as usize, words)
}

/// The words of a set moved down; what falls below the first place is lost.
#[inline]
pub(crate) fn lowered(set: &[u64], down: u32) -> impl Iterator<Item = u64> {
    let (skip, bits) = ((down / 64) as usize, down % 64);
    let words = set.get(skip..).unwrap_or_default();
    let above = words.iter().skip(1).chain(core::iter::once(&0));
    words
        .iter()
        .zip(above)
        .map(move |(&word, &above)| (word >> bits) | ((above << 1) << (63_u32.wrapping_sub(bits))))
}

/// The place with so many others below it.
pub(crate) fn nth(words: &[u64], mut rank: u32) -> Option<u32> {
    for (index, &word) in (0_u32..).zip(words) {
        let count = word.count_ones();
        if rank < count {
            let mut rest = word;
            for _ in 0..rank {
                rest &= rest.wrapping_sub(1);
            }
            return Some(index.wrapping_mul(64).wrapping_add(rest.trailing_zeros()));
        }
        rank = rank.wrapping_sub(count);
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_run_is_taken_out_and_nothing_else() {
        for start in 0..200_u32 {
            for end in start..200 {
                let mut words = [u64::MAX; 4];
                remove(&mut words, start..end);
                let left = |place: u32| words[place as usize / 64] & (1 << (place % 64)) != 0;
                assert!((0..256).all(|p| left(p) != (start..end).contains(&p)), "{start}..{end}");
            }
        }
    }

    #[test]
    fn the_next_place_is_the_lowest_at_or_above() {
        let mut words = [0; 4];
        for place in [3, 64, 127, 200] {
            insert(&mut words, place);
        }
        let walk: std::vec::Vec<u32> = (0..256).filter_map(|from| next(&words, from)).collect();
        let expected: std::vec::Vec<u32> =
            (0..256).filter_map(|from| [3, 64, 127, 200].into_iter().find(|&p| p >= from)).collect();
        assert_eq!(walk, expected);
        assert_eq!(next(&words, 201), None);
        assert_eq!(next(&words, 100_000), None);
    }

    #[test]
    fn a_set_is_taken_out_wherever_it_is_moved() {
        let from = [0xdead_beef_0123_4567, u64::MAX, 0x0f0f_0f0f_0f0f_0f0f, 1];
        let taken = [0x8000_0000_0000_0101, 3, 0, 0];
        let has = |words: &[u64], place: u32| words[place as usize / 64] & (1 << (place % 64)) != 0;
        for up in 0..256_u32 {
            let mut into = [0; 4];
            remove_shifted(&from, &taken, up, &mut into);
            for place in 0..256_u32 {
                let gone = place.checked_sub(up).is_some_and(|p| has(&taken, p));
                assert_eq!(has(&into, place), has(&from, place) && !gone, "{place} moved by {up}");
            }
        }
    }

    #[test]
    fn a_set_moved_down_loses_what_falls_below() {
        let set = [0xdead_beef_0123_4567, u64::MAX, 0x0f0f_0f0f_0f0f_0f0f, 0x8000_0000_0000_0001];
        let has = |words: &[u64], place: u32| {
            words.get(place as usize / 64).is_some_and(|word| word & (1 << (place % 64)) != 0)
        };
        for down in 0..300_u32 {
            let moved: std::vec::Vec<u64> = lowered(&set, down).collect();
            assert!((0..256).all(|p| has(&moved, p) == has(&set, p + down)), "by {down}");
        }
    }

    #[test]
    fn a_place_is_found_by_those_below_it() {
        let set = [0, 0x8000_0000_0000_0105, 0, 3];
        let places: std::vec::Vec<u32> = (0..).map_while(|rank| nth(&set, rank)).collect();
        assert_eq!(places, [64, 66, 72, 127, 192, 193]);
    }

    #[test]
    fn runs_that_leave_the_words_are_cut() {
        let mut words = [0; 2];
        insert_run(&mut words, 120..400);
        assert_eq!(words, [0, 0xff00_0000_0000_0000]);
        insert_run(&mut words, 300..400);
        remove(&mut words, 124..u32::MAX);
        assert_eq!(words, [0, 0x0f00_0000_0000_0000]);
        assert_eq!((last(&words), last(&[0, 0])), (Some(123), None));
    }
}
