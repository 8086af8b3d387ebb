//! Chance with a seed.

/// A stream of numbers that a seed decides.
///
/// Source: SplitMix64, G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom number generators",
/// OOPSLA 2014 (from memory).
#[derive(Debug, Clone)]
pub struct Chance(u64);

impl Chance {
    /// The stream of this seed.
    pub fn new(seed: u64) -> Self {
        let mut chance = Chance(seed);
        chance.bits();
        chance
    }

    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// Evenly in 0 to 1, 1 left out.
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Evenly in a range.
    pub fn within(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// True in this share of all cases.
    pub fn happens(&mut self, share: f64) -> bool {
        self.unit() < share
    }

    /// One of `count` places.
    pub fn place(&mut self, count: usize) -> usize {
        ((self.unit() * count as f64) as usize).min(count.saturating_sub(1))
    }

    /// Mean 0, standard deviation 1: a sum of twelve even numbers less six (central limit).
    pub fn normal(&mut self) -> f64 {
        let mut sum = -6.0;
        // Four sums of three 21-bit numbers from each draw: noise is most of the generator's work.
        for _ in 0..4 {
            let bits = self.bits();
            for shift in [0, 21, 42] {
                sum += ((bits >> shift) & 0x1f_ffff) as f64 / f64::from(1 << 21);
            }
        }
        sum
    }
}
