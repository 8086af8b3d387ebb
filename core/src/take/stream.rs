//! The frame that all meters stand in: samples in, chunk by chunk, readings out.

use super::channel::{Channel, Tuning};
use super::chunk::{Chunk, FRAMES};
use super::filters::Filters;
use super::format::Decoder;
use super::loudness::Loudness;
use super::reading::Reading;
use super::setup::{CHANNELS, HIGHEST_RATE_HZ, LOWEST_RATE_HZ, SetupError, Weight};
use super::speech::Pace;
use super::trace::{Point, Trace};

/// Slices a second: what is looked at again and again is summed up over 10 ms.
pub(super) const SLICES_PER_SECOND: u32 = 100;

/// A recording under analysis. Knows all that it needs of what went by, and keeps no sound.
#[derive(Debug, Clone)]
pub struct Take {
    rate_hz: u32,
    channels: usize,
    weights: [Weight; CHANNELS],
    tuning: Tuning,
    meters: [Channel; CHANNELS],
    loudness: Loudness,
    trace: Trace,
    frames: u64,
    /// How many frames the slice at work has in all, and still wants; slices follow the rate as closely as
    /// whole frames can.
    slice_frames: u32,
    slice_wants: u32,
    /// What is left over of the rate, in hundredths of a frame.
    slice_rest: u32,
    chunk: Chunk,
}

impl Take {
    /// A take of nothing yet.
    ///
    /// # Errors
    /// [`SetupError`] for a rate outside 8 to 192 kHz, or other than 1 to 8 channels.
    pub fn new(rate_hz: u32, channels: usize) -> Result<Self, SetupError> {
        if !(LOWEST_RATE_HZ..=HIGHEST_RATE_HZ).contains(&rate_hz) {
            return Err(SetupError::Rate(rate_hz));
        }
        if !(1..=CHANNELS).contains(&channels) {
            return Err(SetupError::Channels(channels));
        }
        let mut take = Take {
            rate_hz,
            channels,
            weights: [Weight::Front; CHANNELS],
            tuning: Tuning { filters: Filters::new(rate_hz), pace: Pace::new(rate_hz) },
            meters: [const { Channel::new() }; CHANNELS],
            loudness: Loudness::new(),
            trace: Trace::new(),
            frames: 0,
            slice_frames: 0,
            slice_wants: 0,
            slice_rest: 0,
            chunk: Chunk::EMPTY,
        };
        take.begin_slice();
        Ok(take)
    }

    /// Says how much a channel counts in the loudness of all together, from now on. Nothing happens for a
    /// channel that is not there.
    pub fn weigh(&mut self, channel: usize, weight: Weight) {
        if let Some(place) = self.weights.get_mut(channel) {
            *place = weight;
        }
    }

    /// Samples a second of a channel.
    pub const fn rate_hz(&self) -> u32 {
        self.rate_hz
    }

    /// How many channels there are.
    pub const fn channels(&self) -> usize {
        self.channels
    }

    /// How many samples of each channel were measured so far.
    pub const fn frames(&self) -> u64 {
        self.frames
    }

    /// Takes in samples, channel after channel, frame after frame, full scale at 1. A piece may end inside
    /// a frame.
    ///
    /// Cost: linear in the samples; no loop over what went by. The last few milliseconds wait for
    /// those that follow, or for [`Take::finish`].
    pub fn push(&mut self, mut samples: &[f32]) {
        while !samples.is_empty() {
            let most = FRAMES.min(self.slice_wants as usize);
            samples = self.chunk.fill(samples, self.channels, most);
            if self.chunk.frames() >= most {
                self.end_chunk();
            }
        }
    }

    /// Takes in the bytes of a recording, as `decoder` reads them, in pieces of any size.
    pub fn push_bytes(&mut self, decoder: &mut Decoder, mut bytes: &[u8]) {
        let mut room = [0.0; 256];
        while !bytes.is_empty() {
            let samples = decoder.decode(&mut bytes, &mut room);
            self.push(samples);
        }
    }

    /// Nothing more will come: what waited for more is settled. A frame that is not complete is dropped.
    pub fn finish(&mut self) {
        self.end_chunk();
        // Here: what waits for the end, such as an open run.
    }

    /// What it says so far. Cheap, and changes nothing: a meter on a page reads as often as it draws.
    pub fn read(&self) -> Reading {
        Reading {
            rate_hz: self.rate_hz,
            frames: self.frames,
            unusable: self.chunk.unusable(),
            loudness: self.loudness.read(),
            channels: self
                .meters
                .iter()
                .take(self.channels)
                .map(|meter| meter.read(&self.tuning, self.frames))
                .collect(),
        }
    }

    /// Level over time for a picture: at most [`POINTS`](super::POINTS) points, each [`Take::point_ms`] long.
    ///
    /// ```
    /// use spurless::take::Take;
    /// // Half a minute of silence, and in its last second a tone: a square of -20 dBFS.
    /// let mut take = Take::new(8_000, 1)?;
    /// take.push(&[0.0; 8_000 * 29]);
    /// take.push(&[0.1, -0.1].repeat(4_000));
    /// take.finish();
    /// assert_eq!((take.trace().count(), take.point_ms()), (375, 80));
    /// let last = take.trace().last().unwrap();
    /// assert!((last.peak.unwrap().value() - -20.0).abs() < 0.01);
    /// assert!((last.rms.unwrap().value() - -20.0).abs() < 0.01);
    /// # Ok::<(), spurless::take::SetupError>(())
    /// ```
    pub fn trace(&self) -> impl Iterator<Item = Point> {
        self.trace.points()
    }

    /// How long a point of the trace is, in milliseconds: 10, and twice as long each time the points are used up.
    pub const fn point_ms(&self) -> u32 {
        self.trace.slices().saturating_mul(1_000 / SLICES_PER_SECOND)
    }

    /// What has come is measured: [`FRAMES`] frames, or fewer where a slice ends.
    fn end_chunk(&mut self) {
        for (number, meter) in self.meters.iter_mut().enumerate().take(self.channels) {
            meter.push(&self.tuning, self.chunk.channel(number), self.frames);
        }
        // Here: what compares channels, chunk by chunk.
        let frames = self.chunk.frames();
        self.chunk.clear();
        self.frames = self.frames.saturating_add(frames as u64);
        self.slice_wants = self.slice_wants.saturating_sub(frames as u32);
        if self.slice_wants == 0 {
            self.end_slice();
            self.begin_slice();
        }
    }

    /// A hundredth of a second is complete.
    fn end_slice(&mut self) {
        let (mut weighted, mut loudest, mut peak) = (0.0, 0.0_f64, 0.0_f32);
        for (meter, weight) in self.meters.iter_mut().zip(self.weights).take(self.channels) {
            let (largest, power) = meter.end_slice(self.slice_frames);
            weighted += weight.factor() * power.weighted;
            (loudest, peak) = (loudest.max(power.heard), peak.max(largest));
        }
        self.loudness.push(weighted);
        self.trace.push(peak, loudest);
    }

    fn begin_slice(&mut self) {
        self.slice_rest = self.slice_rest.saturating_add(self.rate_hz);
        self.slice_frames = self.slice_rest.checked_div(SLICES_PER_SECOND).unwrap_or_default();
        self.slice_wants = self.slice_frames;
        self.slice_rest = self.slice_rest.checked_rem(SLICES_PER_SECOND).unwrap_or_default();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_take_says_what_it_cannot_be() {
        assert_eq!(Take::new(7_999, 1).err(), Some(SetupError::Rate(7_999)));
        assert_eq!(Take::new(192_001, 1).err(), Some(SetupError::Rate(192_001)));
        assert_eq!(Take::new(48_000, 0).err(), Some(SetupError::Channels(0)));
        assert_eq!(Take::new(48_000, 9).err(), Some(SetupError::Channels(9)));
    }

    #[test]
    fn the_pieces_of_a_take_do_not_matter() {
        let samples: Vec<f32> = (0..3_000_u32).map(|n| ((n * n) % 1_009) as f32 / 1_009.0 - 0.5).collect();
        for channels in 1..=CHANNELS {
            let mut whole = Take::new(11_025, channels).unwrap();
            whole.push(&samples);
            whole.finish();
            for size in [1, 7, 333] {
                let mut pieces = Take::new(11_025, channels).unwrap();
                samples.chunks(size).for_each(|piece| pieces.push(piece));
                pieces.finish();
                assert_eq!(whole.read(), pieces.read(), "{channels} channels in pieces of {size}");
                assert_eq!(whole.slice_wants, pieces.slice_wants);
            }
            assert_eq!(whole.frames(), (3_000 / channels) as u64);
        }
    }

    #[test]
    fn a_take_is_as_large_as_its_page_says() {
        assert!((45_000..55_000).contains(&size_of::<Take>()), "{}", size_of::<Take>());
    }

    #[test]
    fn slices_keep_step_with_the_rate() {
        let mut take = Take::new(11_025, 1).unwrap();
        let mut lengths = [0; 100];
        for length in &mut lengths {
            *length = take.slice_wants;
            take.push(&vec![0.0; take.slice_wants as usize]);
        }
        assert_eq!(lengths.iter().sum::<u32>(), 11_025);
        assert!(lengths.iter().all(|length| (110..=111).contains(length)));
    }
}
