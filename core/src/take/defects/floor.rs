//! How loud the pauses and the talking are: parts of a histogram of powers.

/// Ticks that are summed up to one value: 20 ms.
const TICKS: u32 = 40;
/// Before so many of them, half a second, nothing is known.
const LEAST: u32 = 25;
/// The first power that is told apart, 2^-40, as the upper bits of an `f32`: exponent and two bits after it.
const LOWEST: u32 = (127 - 40) << 2;
/// Up to 4, in steps of about 1 dB.
const STEPS: usize = 168;

/// How often which power was heard.
#[derive(Debug, Clone)]
pub(super) struct Powers {
    sum: f32,
    ticks: u32,
    counts: [u32; STEPS],
    total: u32,
}

impl Powers {
    pub(super) const fn new() -> Self {
        Powers { sum: 0.0, ticks: 0, counts: [0; STEPS], total: 0 }
    }

    /// Takes the power of a tick; returns that of 20 ms when it is complete.
    pub(super) fn add(&mut self, power: f32) -> Option<f32> {
        self.sum += power;
        self.ticks = self.ticks.saturating_add(1);
        if self.ticks < TICKS {
            return None;
        }
        let mean = self.sum / TICKS as f32;
        let place = ((mean.to_bits() >> 21).saturating_sub(LOWEST) as usize).min(STEPS.saturating_sub(1));
        if let Some(count) = self.counts.get_mut(place) {
            *count = count.saturating_add(1);
        }
        self.total = self.total.saturating_add(1);
        (self.sum, self.ticks) = (0.0, 0);
        Some(mean)
    }

    /// Whether enough was heard to say anything.
    pub(super) const fn is_known(&self) -> bool {
        self.total >= LEAST
    }

    /// What a share of all values, in hundredths, does not exceed; the quietest step counts as silence.
    pub(super) fn part(&self, hundredths: u32) -> Option<f32> {
        let wanted = u64::from(self.total).saturating_mul(u64::from(hundredths)) / 100;
        let mut left = wanted;
        let place = self.counts.iter().position(|&count| {
            let here = u64::from(count) > left;
            left = left.saturating_sub(u64::from(count));
            here
        })?;
        let bits = (place as u32).saturating_add(LOWEST) << 21;
        (self.is_known() && place > 0).then(|| f32::from_bits(bits))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_of_the_powers_is_where_it_was_put() {
        let mut powers = Powers::new();
        for slice in 0..100 {
            let power = if slice % 4 == 0 { 1e-6 } else { 1e-2 };
            (0..TICKS).for_each(|_| {
                powers.add(power);
            });
        }
        let near = |part, wanted: f32| (powers.part(part).unwrap() / wanted).log10().abs() < 0.11;
        assert!(near(5, 1e-6) && near(24, 1e-6) && near(26, 1e-2) && near(97, 1e-2));
        assert_eq!(Powers::new().part(5), None);
    }
}
