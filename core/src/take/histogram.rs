//! Levels counted by size: what a take of any length has to remember for its gates and percentiles.

/// What is known of the levels in one bin.
#[derive(Debug, Clone, Copy)]
struct Bin {
    count: u32,
    /// The sum of their places in the bin, in parts.
    sum: u32,
    /// The places of the least and the greatest.
    least: u8,
    most: u8,
}

/// A bin is this many parts wide.
const PARTS: f64 = 256.0;

impl Bin {
    const EMPTY: Bin = Bin { count: 0, sum: 0, least: u8::MAX, most: 0 };

    fn add(&mut self, part: u8) {
        self.count = self.count.saturating_add(1);
        self.sum = self.sum.saturating_add(u32::from(part));
        (self.least, self.most) = (self.least.min(part), self.most.max(part));
    }

    /// The mean place, in bins.
    fn mean(&self) -> f64 {
        (f64::from(self.sum) / f64::from(self.count.max(1)) + 0.5) / PARTS
    }

    /// Which share of the levels is above a place, in bins, and where the middle of those is. They are taken
    /// to lie evenly from the least to the greatest: exact where all are alike.
    fn above(&self, place: f64) -> (f64, f64) {
        let least = (f64::from(self.least) + 0.5) / PARTS;
        let most = (f64::from(self.most) + 0.5) / PARTS;
        if place < least {
            (1.0, self.mean())
        } else if place >= most {
            (0.0, most)
        } else {
            ((most - place) / (most - least), (most + place) / 2.0)
        }
    }

    /// Where the level of a rank is, 0 for the least, in bins.
    fn ranked(&self, rank: u32) -> f64 {
        let span = f64::from(self.most.saturating_sub(self.least));
        let last = f64::from(self.count.saturating_sub(1).max(1));
        (f64::from(self.least) + 0.5 + span * (f64::from(rank) / last)) / PARTS
    }
}

/// Levels in bins of equal width from `low` on. What is below is not counted, what is above falls into the last.
#[derive(Debug, Clone)]
pub(super) struct Histogram<const BINS: usize> {
    low: f64,
    width: f64,
    bins: [Bin; BINS],
}

impl<const BINS: usize> Histogram<BINS> {
    pub(super) const fn new(low: f64, width: f64) -> Self {
        Histogram { low, width, bins: [Bin::EMPTY; BINS] }
    }

    /// Counts a level, unless it is at the lower end or below.
    pub(super) fn add(&mut self, level: f64) {
        let place = (level - self.low) / self.width;
        if place > 0.0 {
            // A cast saturates.
            let number = (place as usize).min(BINS.saturating_sub(1));
            let part = ((place - number as f64) * PARTS) as u8;
            if let Some(bin) = self.bins.get_mut(number) {
                bin.add(part);
            }
        }
    }

    /// The filled bins with their lower ends.
    fn filled(&self) -> impl DoubleEndedIterator<Item = (f64, &Bin)> {
        let edge = |number: usize| self.low + self.width * number as f64;
        let bins = self.bins.iter().enumerate();
        bins.filter(|(_, bin)| bin.count > 0).map(move |(number, bin)| (edge(number), bin))
    }

    /// How many levels are above `gate`, and the mean of what `value` makes of them.
    pub(super) fn mean_above(&self, gate: f64, value: impl Fn(f64) -> f64) -> Option<f64> {
        let (mut count, mut sum) = (0.0, 0.0);
        for (low, bin) in self.filled() {
            let (share, middle) = bin.above((gate - low) / self.width);
            let above = share * f64::from(bin.count);
            count += above;
            if above > 0.0 {
                sum += above * value(low + middle * self.width);
            }
        }
        (count > 0.0).then(|| sum / count)
    }

    /// The level at a share of those above `gate`, 0 for the least, 1 for the greatest.
    pub(super) fn percentile_above(&self, gate: f64, share: f64) -> Option<f64> {
        let above = |(low, bin): (f64, &Bin)| {
            // Rounded to whole levels.
            (bin.above((gate - low) / self.width).0 * f64::from(bin.count) + 0.5) as u32
        };
        let count = self.filled().map(above).fold(0_u32, u32::saturating_add);
        let rank = (f64::from(count.checked_sub(1)?) * share + 0.5) as u32;
        // From the greatest down: the gate only takes away at the other end.
        let mut still = count.saturating_sub(1).saturating_sub(rank);
        for (low, bin) in self.filled().rev() {
            if still < bin.count {
                let rank = bin.count.saturating_sub(1).saturating_sub(still);
                return Some(low + bin.ranked(rank) * self.width);
            }
            still = still.saturating_sub(bin.count);
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ten thousand levels between -75 and -5, unevenly; by sorting and adding, and by bins.
    #[test]
    fn bins_know_gates_and_percentiles_as_if_every_level_were_kept() {
        let power = |level: f64| 10_f64.powf(level / 10.0);
        for round in 1..=20_u32 {
            let mut state = round;
            let mut chance = || {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                f64::from(state >> 8) / 16_777_216.0
            };
            let (wide, power_of) = (30.0 + 40.0 * chance(), 1.0 + 2.0 * chance());
            let levels: Vec<f64> = (0..10_000).map(|_| -5.0 - wide * chance().powf(power_of)).collect();
            let mut bins = Histogram::<640>::new(-70.0, 0.125);
            levels.iter().for_each(|&level| bins.add(level));
            for gate in [-70.0, -41.3, -22.22] {
                let mut kept: Vec<f64> = levels.iter().copied().filter(|&level| level > gate).collect();
                kept.sort_by(f64::total_cmp);
                let mean = 10.0 * (kept.iter().copied().map(power).sum::<f64>() / kept.len() as f64).log10();
                let found = 10.0 * bins.mean_above(gate, power).unwrap().log10();
                assert!((found - mean).abs() < 0.01, "round {round}, gate {gate}: {found}, {mean}");
                for share in [0.0, 0.1, 0.5, 0.95, 1.0] {
                    let expected = kept[((kept.len() - 1) as f64 * share).round() as usize];
                    let found = bins.percentile_above(gate, share).unwrap();
                    assert!(
                        (found - expected).abs() < 0.06,
                        "round {round}, gate {gate}, {share}: {found}, {expected}"
                    );
                }
            }
        }
    }

    #[test]
    fn levels_that_are_all_alike_are_exact_whatever_the_gate() {
        let mut bins = Histogram::<640>::new(-70.0, 0.125);
        (0..100).for_each(|_| bins.add(-23.07));
        (0..900).for_each(|_| bins.add(-33.03));
        // The gate falls between them and the lower end of their bin, then above them in the same bin.
        for (gate, expected) in [(-33.2, -33.03), (-33.01, -23.07)] {
            assert!((bins.percentile_above(gate, 0.0).unwrap() - expected).abs() < 0.001);
        }
        assert_eq!(bins.percentile_above(-20.0, 0.5), None);
        assert_eq!(bins.mean_above(-20.0, |level| level), None);
    }

    #[test]
    fn a_gate_inside_a_bin_leaves_the_upper_part_of_it() {
        // 0.5, 0.6 .. 9.5 in a bin from 0 to 10: above 5 they are 45, and their mean is 7.3 (arithmetic).
        let mut bins = Histogram::<2>::new(0.0, 10.0);
        (5..=95).for_each(|tenths| bins.add(f64::from(tenths) / 10.0));
        assert!((bins.mean_above(5.0, |level| level).unwrap() - 7.3).abs() < 0.1);
        assert!((bins.percentile_above(5.0, 0.0).unwrap() - 5.1).abs() < 0.2);
    }

    #[test]
    fn every_rank_falls_into_its_own_bin() {
        let mut bins = Histogram::<2>::new(0.0, 10.0);
        [1.0, 3.0, 11.0].into_iter().for_each(|level| bins.add(level));
        for (share, expected) in [(0.0, 1.0), (0.5, 3.0), (1.0, 11.0)] {
            assert!((bins.percentile_above(0.0, share).unwrap() - expected).abs() < 0.05, "{share}");
        }
    }

    #[test]
    fn what_is_below_does_not_count_and_what_is_above_is_held_at_the_end() {
        let mut bins = Histogram::<4>::new(0.0, 1.0);
        for level in [f64::NEG_INFINITY, f64::NAN, -1.0, 0.0] {
            bins.add(level);
        }
        assert_eq!(bins.percentile_above(0.0, 0.5), None);
        bins.add(1e9);
        assert!((bins.percentile_above(0.0, 0.5).unwrap() - 4.0).abs() < 0.01);
    }
}
