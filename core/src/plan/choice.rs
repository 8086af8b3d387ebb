//! Which links of many are let go: every choice once, those of fewest links first.

/// Choices of places out of `of`, in the order in which repair tries them.
#[derive(Debug)]
pub(crate) struct Choice {
    of: u16,
    /// Ascending.
    places: heapless::Vec<u16, 256>,
}

impl Choice {
    /// The choice of nobody.
    pub(crate) const fn none(of: u16) -> Choice {
        Choice { of, places: heapless::Vec::new() }
    }

    /// The places chosen.
    pub(crate) fn places(&self) -> &[u16] {
        &self.places
    }

    /// The first choice of so many; `false` if there are not so many.
    pub(crate) fn first_of(&mut self, count: u16) -> bool {
        self.places.clear();
        count <= self.of && (0..count).all(|place| self.places.push(place).is_ok())
    }

    /// The next choice of as many, in lexicographic order; `false` after the last.
    pub(crate) fn next(&mut self) -> bool {
        let count = self.places.len();
        for index in (0..count).rev() {
            let after = u16::try_from(count.saturating_sub(index)).unwrap_or(u16::MAX);
            let Some(&here) = self.places.get(index) else { break };
            if here.saturating_add(after) < self.of {
                for (slot, value) in self.places.iter_mut().skip(index).zip(here.saturating_add(1)..) {
                    *slot = value;
                }
                return true;
            }
        }
        false
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::vec::Vec;

    use super::*;

    #[test]
    fn every_choice_comes_once_in_order() {
        for of in 0..8_u16 {
            let mut choice = Choice::none(of);
            let mut seen: Vec<Vec<u16>> = Vec::new();
            for count in 0..=of {
                let mut more = choice.first_of(count);
                while more {
                    seen.push(choice.places().to_vec());
                    more = choice.next();
                }
            }
            assert!(!choice.first_of(of + 1));
            assert!(seen.iter().all(|places| places.is_sorted() && places.iter().all(|&p| p < of)));
            assert!(seen.is_sorted_by_key(|places| (places.len(), places.clone())));
            assert_eq!(seen.iter().collect::<BTreeSet<_>>().len(), 1 << of);
        }
    }
}
