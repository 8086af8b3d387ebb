//! What is measured of one channel.
// Levels are floats, which do not overflow into a panic.
#![allow(clippy::arithmetic_side_effects)]

use super::chunk::FRAMES;
use super::filters::{Energy, Filters, Views};
use super::level;
use super::noise::Noise;
use super::peak::Peak;
use super::reading::ChannelReading;
use super::speech::{Pace, Speech};

/// What depends on the sampling rate only.
#[derive(Debug, Clone)]
pub(super) struct Tuning {
    pub(super) filters: Filters,
    pub(super) pace: Pace,
}

#[derive(Debug, Clone)]
pub(super) struct Channel {
    peak: Peak,
    views: Views,
    speech: Speech,
    noise: Noise,
    /// Of the slice at work.
    slice: Energy,
    /// Sum of squares without what is below hearing, up to the slice at work.
    heard: f64,
}

impl Channel {
    pub(super) const fn new() -> Self {
        Channel {
            peak: Peak::new(),
            views: Views::new(),
            speech: Speech::new(),
            noise: Noise::new(),
            slice: Energy { weighted: 0.0, heard: 0.0 },
            heard: 0.0,
        }
    }

    /// Samples from frame `at` on.
    pub(super) fn push(&mut self, tuning: &Tuning, samples: &[f32], at: u64) {
        self.peak.push(samples, at);
        let mut room = [0.0; FRAMES];
        let energy = self.views.push(&tuning.filters, samples, &mut room);
        self.slice.weighted += energy.weighted;
        self.slice.heard += energy.heard;
        self.speech.push(&tuning.pace, room.get(..samples.len()).unwrap_or_default());
    }

    /// A slice of so many frames is complete. Returns its largest sample and its mean powers.
    pub(super) fn end_slice(&mut self, frames: u32) -> (f32, Energy) {
        let frames = f64::from(frames.max(1));
        self.heard += self.slice.heard;
        let mean = Energy { weighted: self.slice.weighted / frames, heard: self.slice.heard / frames };
        self.slice = Energy::default();
        self.noise.push(mean.heard);
        (self.peak.end_slice(), mean)
    }

    pub(super) fn read(&self, tuning: &Tuning, frames: u64) -> ChannelReading {
        let count = frames.max(1) as f64;
        let speech = self.speech.read(&tuning.pace, self.heard + self.slice.heard, frames);
        let noise_floor = self.noise.floor();
        ChannelReading {
            sample_peak: level::of_amplitude(f64::from(self.peak.sample)),
            sample_peak_at: self.peak.sample_at,
            true_peak: level::of_amplitude(f64::from(self.peak.true_peak())),
            rms: level::of_power(self.peak.squares / count),
            dc: self.peak.sum / count,
            speech,
            noise_floor,
            speech_to_noise: speech.zip(noise_floor).map(|(speech, noise)| speech.level - noise),
        }
    }
}
