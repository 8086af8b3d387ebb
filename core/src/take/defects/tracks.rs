//! What two tracks have in common.

use crate::take::chunk::Chunk;
use crate::take::setup::CHANNELS;

/// Pairs of channels.
const PAIRS: usize = CHANNELS * (CHANNELS - 1) / 2;

/// Compares steps from sample to sample, 2 000 times a second: that says as much of a likeness as all samples
/// do, and neither hum nor an offset makes two tracks alike.
#[derive(Debug, Clone)]
pub(super) struct Tracks {
    /// How many frames until the next look.
    wait: usize,
    every: usize,
    looks: u64,
    powers: [f64; CHANNELS],
    /// Sums of power by time: when a track was loud.
    moments: [f64; CHANNELS],
    products: [f64; PAIRS],
}

/// How alike two tracks are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Likeness {
    /// What differs, as a part of the power.
    pub(super) differs: f64,
    /// Whether one is upside down.
    pub(super) inverted: bool,
}

impl Tracks {
    pub(super) fn new(every: usize) -> Self {
        Tracks {
            wait: 1,
            every: every.max(1),
            looks: 0,
            powers: [0.0; CHANNELS],
            moments: [0.0; CHANNELS],
            products: [0.0; PAIRS],
        }
    }

    pub(super) fn push(&mut self, chunk: &Chunk, channels: usize) {
        let frames = chunk.channel(0).len();
        while self.wait < frames {
            // The first frame of a chunk has none before it: take the next.
            self.look(chunk, channels, self.wait.max(1));
            self.wait = self.wait.saturating_add(self.every);
        }
        self.wait = self.wait.saturating_sub(frames);
    }

    fn look(&mut self, chunk: &Chunk, channels: usize, at: usize) {
        let mut steps = [0.0_f64; CHANNELS];
        for (number, step) in steps.iter_mut().enumerate().take(channels) {
            let samples = chunk.channel(number);
            let sample = |at: usize| samples.get(at).copied().unwrap_or_default();
            *step = f64::from(sample(at) - sample(at.saturating_sub(1)));
        }
        self.looks = self.looks.saturating_add(1);
        let now = self.looks as f64;
        for ((power, moment), step) in self.powers.iter_mut().zip(&mut self.moments).zip(&steps) {
            *power += step * step;
            *moment += step * step * now;
        }
        let mut products = self.products.iter_mut();
        for (second, later) in steps.iter().enumerate().take(channels) {
            for first in steps.iter().take(second) {
                if let Some(product) = products.next() {
                    *product += first * later;
                }
            }
        }
    }

    /// How alike two channels are, the first with the lower number; `None` if one is silent.
    pub(super) fn likeness(&self, first: usize, second: usize) -> Option<Likeness> {
        let place = second.saturating_mul(second.saturating_sub(1)) / 2;
        let product = self.products.get(place.saturating_add(first))?;
        let powers = self.powers.get(first)? * self.powers.get(second)?;
        (powers > 0.0).then(|| {
            let differs = 1.0 - product * product / powers;
            Likeness { differs: if differs > 0.0 { differs } else { 0.0 }, inverted: *product < 0.0 }
        })
    }

    /// When a channel was loud, on average, in looks; `None` if it was silent.
    pub(super) fn moment(&self, channel: usize) -> Option<f64> {
        let power = *self.powers.get(channel)?;
        (power > 0.0).then(|| self.moments.get(channel).map(|moment| moment / power))?
    }
}
