//! Peaks at the samples and between them, mean and effective value.

use super::chunk::FRAMES;

/// Values between two samples are looked at where so many samples stand around them, half on each side.
const TAPS: usize = 16;
/// So many places between samples are looked at in one go.
const GROUP: usize = 16;

/// Weights of the samples around a quarter, half and three quarters of the way from one to the next:
/// with the samples themselves, four times the rate.
///
/// Derived: least squared error over 0 to 0.42 of the sampling rate, where each is within 0.05 dB (0.12 dB for the
/// half). Rec. ITU-R BS.1770-5, Annex 2, asks for four times the rate at least and gives one such filter as
/// an example; this one has 16 instead of 12 samples around, and less ripple.
const BETWEEN: [[f32; TAPS]; 3] = [
    [
        -0.003_504_274,
        0.008_197_855,
        -0.015_892_69,
        0.028_074_39,
        -0.047_759_55,
        0.083_133_59,
        -0.168_741_4,
        0.895_233_5,
        0.298_689_5,
        -0.120_869_9,
        0.068_344_1,
        -0.041_676_79,
        0.025_350_78,
        -0.014_684,
        0.007_707_576,
        -0.003_346_073,
    ],
    [
        -0.004_830_33,
        0.011_210_6,
        -0.021_538_14,
        0.037_593_51,
        -0.062_805_5,
        0.105_848_9,
        -0.198_738_3,
        0.632_029_7,
        0.632_029_7,
        -0.198_738_3,
        0.105_848_9,
        -0.062_805_5,
        0.037_593_51,
        -0.021_538_14,
        0.011_210_6,
        -0.004_830_33,
    ],
    [
        -0.003_346_073,
        0.007_707_576,
        -0.014_684,
        0.025_350_78,
        -0.041_676_79,
        0.068_344_1,
        -0.120_869_9,
        0.298_689_5,
        0.895_233_5,
        -0.168_741_4,
        0.083_133_59,
        -0.047_759_55,
        0.028_074_39,
        -0.015_892_69,
        0.008_197_855,
        -0.003_504_274,
    ],
];

/// A value between samples is at most so many times the largest sample around: the sum of the absolute
/// weights is 2.1492 for the half.
const MOST: f32 = 2.15;

/// Samples that are kept until the next chunk: those around, and the rest of a group.
const KEPT: usize = TAPS - 1 + GROUP - 1;

/// The peaks and sums of one channel.
#[derive(Debug, Clone)]
pub(super) struct Peak {
    pub(super) sum: f64,
    pub(super) squares: f64,
    pub(super) sample: f32,
    pub(super) sample_at: u64,
    /// The largest sample since [`Peak::end_slice`].
    slice: f32,
    between: f32,
    kept: [f32; KEPT],
    /// How many of them are in use; never fewer than those around.
    have: usize,
}

impl Peak {
    pub(super) const fn new() -> Self {
        Peak {
            sum: 0.0,
            squares: 0.0,
            sample: 0.0,
            sample_at: 0,
            slice: 0.0,
            between: 0.0,
            kept: [0.0; KEPT],
            have: TAPS - 1,
        }
    }

    /// The largest value between the samples, and at them. The last few samples have no value between
    /// them yet: it depends on what follows.
    pub(super) fn true_peak(&self) -> f32 {
        self.between.max(self.sample)
    }

    /// The largest sample since the last call.
    pub(super) fn end_slice(&mut self) -> f32 {
        core::mem::take(&mut self.slice)
    }

    /// Samples from frame `at` on, at most [`FRAMES`].
    pub(super) fn push(&mut self, samples: &[f32], at: u64) {
        let Sums { sum, squares, largest } = Sums::of(samples);
        self.sum += f64::from(sum);
        self.squares += f64::from(squares);
        self.slice = self.slice.max(largest);
        if largest > self.sample {
            let place = samples.iter().position(|sample| sample.abs() == largest).unwrap_or_default();
            (self.sample, self.sample_at) = (largest, at.saturating_add(place as u64));
        }
        self.look_between(samples);
    }

    fn look_between(&mut self, samples: &[f32]) {
        // What was kept and what is new, in one piece.
        let mut room = [0.0; KEPT + FRAMES];
        let (old, new) = room.split_at_mut_checked(self.have).unwrap_or_default();
        copy(old, &self.kept);
        copy(new, samples);
        let all = room.get(..self.have.saturating_add(samples.len())).unwrap_or_default();

        let mut known = self.true_peak();
        let mut rest = all;
        let mut largest_here = largest(rest.first_chunk().unwrap_or(&[0.0; GROUP]));
        while let Some(around) = rest.first_chunk::<{ GROUP + TAPS - 1 }>() {
            rest = rest.get(GROUP..).unwrap_or_default();
            // The next group, as far as it is around: the last of its samples is not.
            let next = match rest.first_chunk() {
                Some(next) => largest(next),
                None => rest.iter().fold(0.0, |largest: f32, sample| largest.max(sample.abs())),
            };
            if largest_here.max(next) * MOST > known {
                known = known.max(between(around));
            }
            largest_here = next;
        }
        self.between = known;
        copy(&mut self.kept, rest);
        self.have = rest.len();
    }
}

fn copy(to: &mut [f32], from: &[f32]) {
    for (to, &from) in to.iter_mut().zip(from) {
        *to = from;
    }
}

/// The largest value between the samples: in front of the middle of `around`'s first [`TAPS`], and of the next
/// ones.
fn between(around: &[f32; GROUP + TAPS - 1]) -> f32 {
    let mut peak = 0.0;
    for weights in &BETWEEN {
        let mut values = [0.0; GROUP];
        for (&weight, from) in weights.iter().zip(0..) {
            if let Some(samples) = around.get(from..).and_then(|samples| samples.first_chunk::<GROUP>()) {
                for (value, &sample) in values.iter_mut().zip(samples) {
                    *value += weight * sample;
                }
            }
        }
        peak = largest(&values).max(peak);
    }
    peak
}

/// Four lanes: so the order of the sums is one that every processor can keep, several at a time.
const LANES: usize = 4;

fn largest(samples: &[f32; GROUP]) -> f32 {
    let mut lanes = [0.0_f32; LANES];
    for four in samples.chunks_exact(LANES) {
        for (lane, sample) in lanes.iter_mut().zip(four) {
            // Not `max`: none of them is a NaN, and so it is one instruction.
            *lane = if sample.abs() > *lane { sample.abs() } else { *lane };
        }
    }
    lanes.iter().fold(0.0, |largest, &lane| if lane > largest { lane } else { largest })
}

/// What a chunk adds up to.
struct Sums {
    sum: f32,
    squares: f32,
    largest: f32,
}

impl Sums {
    fn of(samples: &[f32]) -> Self {
        let (mut sum, mut squares, mut largest) = ([0.0; LANES], [0.0; LANES], [0.0_f32; LANES]);
        let fours = samples.chunks_exact(LANES);
        let rest = fours.remainder();
        for four in fours.chain((!rest.is_empty()).then_some(rest)) {
            for (((sum, squares), largest), &sample) in
                sum.iter_mut().zip(&mut squares).zip(&mut largest).zip(four)
            {
                *sum += sample;
                *squares += sample * sample;
                *largest = if sample.abs() > *largest { sample.abs() } else { *largest };
            }
        }
        Sums {
            sum: sum.iter().sum(),
            squares: squares.iter().sum(),
            largest: largest.iter().fold(0.0, |largest, &lane| largest.max(lane)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn peak(samples: &[f32], size: usize) -> Peak {
        let mut peak = Peak::new();
        let mut at = 0;
        for piece in samples.chunks(size) {
            peak.push(piece, at);
            at = at.saturating_add(piece.len() as u64);
        }
        peak
    }

    #[test]
    fn the_weights_keep_the_bound() {
        for weights in &BETWEEN {
            assert!(weights.iter().map(|weight| weight.abs()).sum::<f32>() <= MOST);
        }
    }

    /// Every place between samples, without leaving out what cannot be a peak.
    #[test]
    fn leaving_out_what_cannot_be_a_peak_changes_nothing() {
        let mut state = 1_u32;
        let mut noise = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 8) as f32 / 16_777_216.0 - 0.5
        };
        for round in 0..30 {
            // Bursts of different size, so that most of it can be left out.
            let samples: Vec<f32> =
                (0..3_000).map(|n| noise() * if (n / 97) % 7 == round % 7 { 1.0 } else { 0.2 }).collect();
            let groups = (samples.len() + TAPS - 1 - (TAPS - 1)) / GROUP * GROUP;
            let padded: Vec<f32> =
                std::iter::repeat_n(0.0, TAPS - 1).chain(samples.iter().copied()).collect();
            let expected = padded
                .windows(TAPS)
                .take(groups)
                .flat_map(|around| {
                    BETWEEN
                        .map(|weights| weights.iter().zip(around).fold(0.0, |sum, (w, s)| sum + w * s).abs())
                })
                .chain(samples.iter().map(|sample| sample.abs()))
                .fold(0.0, f32::max);
            for size in [FRAMES, 7, 100] {
                assert_eq!(peak(&samples, size).true_peak(), expected, "round {round}, pieces of {size}");
            }
        }
    }

    /// Half way between two alike the value is 2 · 0.6320 of theirs, and they stand out in their group alone.
    #[test]
    fn a_peak_is_found_in_every_place_of_a_group() {
        for place in 20..60 {
            let mut samples = [0.0; FRAMES];
            (samples[place], samples[place + 1]) = (0.5, 0.5);
            assert!((peak(&samples, FRAMES).true_peak() - 0.632_03).abs() < 1e-5, "at {place}");
        }
    }

    #[test]
    fn the_first_of_the_largest_samples_is_where_the_peak_is() {
        let mut samples = [0.1_f32; 500];
        (samples[321], samples[322], samples[400]) = (-0.9, 0.5, 0.9);
        for size in [1, 3, FRAMES] {
            let peak = peak(&samples, size);
            assert_eq!((peak.sample, peak.sample_at), (0.9, 321));
            assert!((peak.sum - (497.0 * 0.1 + 0.5)).abs() < 1e-3);
            assert!((peak.squares - (497.0 * 0.01 + 2.0 * 0.81 + 0.25)).abs() < 1e-3);
        }
    }
}
