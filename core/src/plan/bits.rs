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

/// Takes a run of places out.
#[inline]
pub(crate) fn remove(words: &mut [u64], places: Range<u32>) {
    if places.is_empty() {
        return;
    }
    let last = places.end.wrapping_sub(1);
    let (first_word, last_word) = ((places.start / 64) as usize, (last / 64) as usize);
    let keep_below = !(u64::MAX << (places.start % 64));
    let keep_above = !(u64::MAX >> (63_u32.wrapping_sub(last % 64)));
    if first_word == last_word {
        if let Some(word) = words.get_mut(first_word) {
            *word &= keep_below | keep_above;
        }
        return;
    }
    let Some(run) = words.get_mut(first_word..=last_word) else { return };
    if let [first, middle @ .., last] = run {
        *first &= keep_below;
        middle.fill(0);
        *last &= keep_above;
    }
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
}
