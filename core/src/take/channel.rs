//! What is measured of one channel.

use super::level;
use super::reading::ChannelReading;

#[derive(Debug, Clone)]
pub(super) struct Channel {
    sum: f64,
    squares: f64,
    peak: f32,
    peak_at: u64,
}

impl Channel {
    pub(super) const fn new() -> Self {
        Channel { sum: 0.0, squares: 0.0, peak: 0.0, peak_at: 0 }
    }

    /// Samples from frame `at` on.
    pub(super) fn push(&mut self, samples: &[f32], at: u64) {
        for (&sample, at) in samples.iter().zip(at..) {
            self.sum += f64::from(sample);
            self.squares += f64::from(sample) * f64::from(sample);
            if sample.abs() > self.peak {
                (self.peak, self.peak_at) = (sample.abs(), at);
            }
        }
    }

    pub(super) fn read(&self, frames: u64) -> ChannelReading {
        let peak = level::of_amplitude(f64::from(self.peak));
        ChannelReading {
            sample_peak: peak,
            sample_peak_at: self.peak_at,
            true_peak: peak,
            rms: level::of_power(self.squares / frames.max(1) as f64),
            dc: self.sum / frames.max(1) as f64,
            ..ChannelReading::default()
        }
    }
}
