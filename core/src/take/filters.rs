//! Two views of a channel: K-weighted as loudness wants it, and freed of what is below hearing.

use core::f64::consts::{PI, SQRT_2};

use super::chunk::FRAMES;
use crate::maths;

/// A filter of second order. What is common to its numerator is in `gain`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Biquad {
    b: [f64; 3],
    a: [f64; 2],
}

#[derive(Debug, Clone, Copy)]
struct State([f64; 2]);

impl State {
    /// One sample, in the transposed direct form: the fewest roundings that wait for each other.
    #[inline(always)]
    fn step(&mut self, filter: &Biquad, x: f64) -> f64 {
        let ([b0, b1, b2], [a1, a2], [first, second]) = (filter.b, filter.a, self.0);
        let y = b0 * x + first;
        self.0 = [b1 * x + second - a1 * y, b2 * x - a2 * y];
        y
    }

    /// What has died away becomes nothing: numbers near the smallest make processors slow.
    fn settle(&mut self) {
        for value in &mut self.0 {
            if value.abs() < 1e-30 {
                *value = 0.0;
            }
        }
    }
}

/// The filters for a sampling rate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Filters {
    shelf: Biquad,
    high_pass: Biquad,
    hearing: Biquad,
}

impl Filters {
    /// Both stages of the K-weighting at any rate come from one analogue prototype by the bilinear transform.
    ///
    /// Source: Rec. ITU-R BS.1770-5, Tables 1 and 2, which give 48 kHz and ask for the same response at other
    /// rates. The prototype's figures are those of public open-source loudness libraries; they reproduce both
    /// tables to 1e-13. The numerator of stage 2 is scaled so that its gain far above the corner is what the
    /// table's is.
    ///
    /// `hearing` is a Butterworth high-pass at 20 Hz, the lower edge of what ITU-T P.56 wants measured.
    pub(super) fn new(rate_hz: u32) -> Self {
        let (gain, middle) = (maths::exp10(3.999_843_853_973_347 / 20.0), 0.499_666_774_154_541_6);
        let middle = maths::exp10(3.999_843_853_973_347 / 20.0 * middle);
        Filters {
            shelf: Corner::new(1_681.974_450_955_533, 0.707_175_236_955_419_6, rate_hz).shelf(gain, middle),
            high_pass: Corner::new(38.135_470_876_024_44, 0.500_327_037_323_877_3, rate_hz)
                .high_pass(1.004_994_898_714_688_4),
            hearing: Corner::new(20.0, SQRT_2 / 2.0, rate_hz).high_pass(1.0),
        }
    }
}

/// A corner frequency, warped for the bilinear transform.
struct Corner {
    k: f64,
    q: f64,
}

impl Corner {
    fn new(hz: f64, q: f64, rate_hz: u32) -> Self {
        Corner { k: maths::tan(PI * hz / f64::from(rate_hz)), q }
    }

    fn a0(&self) -> f64 {
        1.0 + self.k / self.q + self.k * self.k
    }

    fn biquad(&self, b: [f64; 3]) -> Biquad {
        let (k, a0) = (self.k, self.a0());
        Biquad { b: b.map(|b| b / a0), a: [2.0 * (k * k - 1.0) / a0, (1.0 - k / self.q + k * k) / a0] }
    }

    /// Gains of voltage far above the corner and at it.
    fn shelf(&self, high: f64, middle: f64) -> Biquad {
        let (square, slope) = (self.k * self.k, middle * self.k / self.q);
        self.biquad([high + slope + square, 2.0 * (square - high), high - slope + square])
    }

    fn high_pass(&self, gain: f64) -> Biquad {
        self.biquad([gain, -2.0 * gain, gain])
    }
}

/// The filters' memory of one channel.
#[derive(Debug, Clone)]
pub(super) struct Views {
    shelf: State,
    high_pass: State,
    hearing: State,
}

/// Sums of squares of a chunk.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Energy {
    pub(super) weighted: f64,
    pub(super) heard: f64,
}

impl Views {
    pub(super) const fn new() -> Self {
        const EMPTY: State = State([0.0; 2]);
        Views { shelf: EMPTY, high_pass: EMPTY, hearing: EMPTY }
    }

    /// Filters samples; `heard` gets them without what is below 20 Hz. One loop for all three filters: each
    /// alone would wait for its own last sample most of the time.
    pub(super) fn push(&mut self, filters: &Filters, samples: &[f32], heard: &mut [f32; FRAMES]) -> Energy {
        let (mut shelf, mut high_pass, mut hearing) = (self.shelf, self.high_pass, self.hearing);
        let mut energy = Energy::default();
        for (&sample, heard) in samples.iter().zip(heard) {
            let sample = f64::from(sample);
            let weighted = high_pass.step(&filters.high_pass, shelf.step(&filters.shelf, sample));
            energy.weighted += weighted * weighted;
            let above = hearing.step(&filters.hearing, sample);
            energy.heard += above * above;
            *heard = above as f32;
        }
        (self.shelf, self.high_pass, self.hearing) = (shelf, high_pass, hearing);
        for state in [&mut self.shelf, &mut self.high_pass, &mut self.hearing] {
            state.settle();
        }
        energy
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn at_48_khz_the_weighting_is_the_published_one() {
        // Source: Rec. ITU-R BS.1770-5, Tables 1 and 2.
        let published = [
            [1.535_124_859_586_97, -2.691_696_189_406_38, 1.198_392_810_852_85],
            [-1.690_659_293_182_41, 0.732_480_774_215_85, 0.0],
            [1.0, -2.0, 1.0],
            [-1.990_047_454_833_98, 0.990_072_250_366_21, 0.0],
        ];
        let Filters { shelf, high_pass, .. } = Filters::new(48_000);
        let ours =
            [shelf.b, [shelf.a[0], shelf.a[1], 0.0], high_pass.b, [high_pass.a[0], high_pass.a[1], 0.0]];
        for (ours, published) in ours.iter().flatten().zip(published.iter().flatten()) {
            assert!((ours - published).abs() < 1e-12, "{ours}, published {published}");
        }
    }

    #[test]
    fn silence_leaves_no_tail_behind() {
        let (filters, mut views) = (Filters::new(8_000), Views::new());
        views.push(&filters, &[1.0; FRAMES], &mut [0.0; FRAMES]);
        for _ in 0..5_000 {
            views.push(&filters, &[0.0; FRAMES], &mut [0.0; FRAMES]);
        }
        for State(values) in [views.shelf, views.high_pass, views.hearing] {
            assert_eq!(values, [0.0, 0.0]);
        }
    }
}
