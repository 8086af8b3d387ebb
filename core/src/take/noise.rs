//! What is left in the pauses.

use super::histogram::Histogram;
use super::level;
use crate::units::Dbfs;

/// Effective values of 20 ms, in bins of a decibel.
///
/// The floor is their tenth percentile: common practice, no published source.
#[derive(Debug, Clone)]
pub(super) struct Noise {
    levels: Histogram<140>,
    /// Mean power of the first half of a frame of 20 ms.
    half: Option<f64>,
    frames: u32,
    /// How many of them were digital silence.
    silent: u32,
}

/// The quietest that is counted, in dBFS.
const LOWEST: f64 = -140.0;
/// Which share of the frames is at or below the floor.
const SHARE: f64 = 0.1;
/// Half a second: with fewer frames a tenth of them says nothing.
const ENOUGH: u32 = 25;

impl Noise {
    pub(super) const fn new() -> Self {
        Noise { levels: Histogram::new(LOWEST, 1.0), half: None, frames: 0, silent: 0 }
    }

    /// The mean power of the next 10 ms.
    pub(super) fn push(&mut self, power: f64) {
        let Some(half) = self.half.take() else {
            self.half = Some(power);
            return;
        };
        self.frames = self.frames.saturating_add(1);
        match level::of_power((half + power) / 2.0) {
            Some(level) if level.value() > LOWEST => self.levels.add(level.value()),
            _ => self.silent = self.silent.saturating_add(1),
        }
    }

    /// `None` if a tenth of the take or more is digital silence: that is no noise that could be measured.
    pub(super) fn floor(&self) -> Option<Dbfs> {
        if self.frames < ENOUGH {
            return None;
        }
        // Rank by rank as if the silent ones stood below the others.
        let (frames, silent) = (f64::from(self.frames), f64::from(self.silent));
        let among = (frames * SHARE - silent) / (frames - silent).max(1.0);
        if among < 0.0 {
            return None;
        }
        self.levels.percentile_above(LOWEST, among).and_then(|level| Dbfs::new(level).ok())
    }
}
