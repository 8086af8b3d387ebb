//! A few milliseconds of all channels, one channel after the other: what the meters work on.

use super::setup::CHANNELS;

/// The most frames of a chunk: a third of a hundredth of a second at 48 kHz.
pub(super) const FRAMES: usize = 160;

/// Sixty decibels over full scale. What is larger, or not a number, is no sound.
const LARGEST: f32 = 1_000.0;

#[derive(Debug, Clone)]
pub(super) struct Chunk {
    samples: [[f32; FRAMES]; CHANNELS],
    frames: usize,
}

impl Chunk {
    pub(super) const EMPTY: Chunk = Chunk { samples: [[0.0; FRAMES]; CHANNELS], frames: 0 };

    /// The samples of a channel; nothing for a channel that is not there.
    pub(super) fn channel(&self, number: usize) -> &[f32] {
        self.samples.get(number).and_then(|samples| samples.get(..self.frames)).unwrap_or_default()
    }

    /// Takes over whole frames, at most [`FRAMES`]. What is no sound becomes silence; returns how many
    /// samples that were.
    pub(super) fn fill(&mut self, interleaved: &[f32], channels: usize) -> u64 {
        let mut unusable = 0_u64;
        self.frames = interleaved.len().checked_div(channels).unwrap_or_default().min(FRAMES);
        for (number, samples) in self.samples.iter_mut().take(channels).enumerate() {
            let wrong = gather(samples, interleaved.get(number..).unwrap_or_default(), channels);
            unusable = unusable.saturating_add(u64::from(wrong));
        }
        unusable
    }
}

/// Every `stride`th of `from`.
fn gather(samples: &mut [f32; FRAMES], from: &[f32], stride: usize) -> u32 {
    let mut wrong = 0_u32;
    for (place, &sample) in samples.iter_mut().zip(from.iter().step_by(stride.max(1))) {
        let sound = sample.abs() <= LARGEST;
        *place = if sound { sample } else { 0.0 };
        wrong = wrong.wrapping_add(u32::from(!sound));
    }
    wrong
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn channels_are_told_apart_and_what_is_no_sound_is_silence() {
        let mut chunk = Chunk::EMPTY;
        let wrong = chunk.fill(&[1.0, -1.0, f32::NAN, 2.0, 3.0, f32::NEG_INFINITY], 2);
        assert_eq!((chunk.channel(0), chunk.channel(1)), (&[1.0, 0.0, 3.0][..], &[-1.0, 2.0, 0.0][..]));
        assert_eq!((wrong, chunk.channel(2).len(), chunk.channel(8).len()), (2, 3, 0));
    }
}
