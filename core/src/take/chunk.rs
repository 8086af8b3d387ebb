//! A few milliseconds of all channels, one channel after the other: what the meters work on.

use super::setup::CHANNELS;

/// The most frames of a chunk: at 48 kHz a third of a hundredth of a second.
pub(super) const FRAMES: usize = 160;

/// Sixty decibels over full scale. What is larger, or not a number, is no sound.
const LARGEST: f32 = 1_000.0;

/// Filled before anything is measured, so that the pieces in which samples come do not show in the last bits.
#[derive(Debug, Clone)]
pub(super) struct Chunk {
    samples: [[f32; FRAMES]; CHANNELS],
    /// Whole frames, and how many samples there are of the next.
    frames: usize,
    begun: usize,
    unusable: u64,
}

impl Chunk {
    pub(super) const EMPTY: Chunk =
        Chunk { samples: [[0.0; FRAMES]; CHANNELS], frames: 0, begun: 0, unusable: 0 };

    /// How many whole frames there are.
    pub(super) const fn frames(&self) -> usize {
        self.frames
    }

    /// How many samples since the beginning of the take were no sound, and became silence.
    pub(super) const fn unusable(&self) -> u64 {
        self.unusable
    }

    /// The samples of a channel; those of the frame that is begun are not among them.
    pub(super) fn channel(&self, number: usize) -> &[f32] {
        self.samples.get(number).and_then(|samples| samples.get(..self.frames)).unwrap_or_default()
    }

    /// Forgets the frames, and the one that is begun.
    pub(super) fn clear(&mut self) {
        (self.frames, self.begun) = (0, 0);
    }

    /// Takes interleaved samples until there are `most` frames; returns what it did not take.
    pub(super) fn fill<'s>(&mut self, mut samples: &'s [f32], channels: usize, most: usize) -> &'s [f32] {
        while self.frames < most && !samples.is_empty() {
            let whole = samples.len().checked_div(channels).unwrap_or_default();
            let taken = if self.begun > 0 || whole == 0 {
                self.gather(samples.get(..1).unwrap_or_default(), self.begun, 1);
                self.begun = self.begun.saturating_add(1);
                if self.begun >= channels {
                    self.begun = 0;
                    self.frames = self.frames.saturating_add(1);
                }
                1
            } else {
                let frames = whole.min(most.saturating_sub(self.frames));
                let taken = frames.saturating_mul(channels);
                let now = samples.get(..taken).unwrap_or_default();
                for channel in 0..channels {
                    self.gather(now.get(channel..).unwrap_or_default(), channel, channels);
                }
                self.frames = self.frames.saturating_add(frames);
                taken
            };
            samples = samples.get(taken..).unwrap_or_default();
        }
        samples
    }

    /// Every `stride`th of `from`, behind the whole frames.
    fn gather(&mut self, from: &[f32], channel: usize, stride: usize) {
        let samples = self.samples.get_mut(channel).and_then(|samples| samples.get_mut(self.frames..));
        let mut wrong = 0_u32;
        for (place, &sample) in samples.unwrap_or_default().iter_mut().zip(from.iter().step_by(stride.max(1)))
        {
            let sound = sample.abs() <= LARGEST;
            *place = if sound { sample } else { 0.0 };
            wrong = wrong.wrapping_add(u32::from(!sound));
        }
        self.unusable = self.unusable.saturating_add(u64::from(wrong));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn channels_are_told_apart_and_what_is_no_sound_is_silence() {
        let samples = [1.0, -1.0, f32::NAN, 2.0, 3.0, f32::NEG_INFINITY, 5.0, 6.0];
        for size in 1..=samples.len() {
            let mut chunk = Chunk::EMPTY;
            for piece in samples.chunks(size) {
                chunk.fill(piece, 2, 3);
            }
            assert_eq!((chunk.channel(0), chunk.channel(1)), (&[1.0, 0.0, 3.0][..], &[-1.0, 2.0, 0.0][..]));
            assert_eq!((chunk.unusable(), chunk.channel(2).len(), chunk.channel(8).len()), (2, 3, 0));
        }
        let mut chunk = Chunk::EMPTY;
        assert_eq!(chunk.fill(&samples, 2, 3), [5.0, 6.0]);
    }
}
