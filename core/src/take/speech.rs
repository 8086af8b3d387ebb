//! How loud speech is, pauses left out.
//!
//! Source: ITU-T P.56, method B, as in the ITU-T software tool library (G.191): an envelope by two filters of
//! 30 ms in a row, held against thresholds a factor of two apart; what is above one counts as active, and
//! 0.2 s after it; the level is where the mean over the active time stands 15.9 dB above the threshold.

use super::reading::SpeechReading;
use crate::maths;
use crate::units::Dbfs;

/// From 2^4 down to 2^-24 of full scale: floats above it, the noise of 24 bits below. The library has fifteen,
/// from a half down, for 16 bits; more of them change nothing where those sufficed.
const THRESHOLDS: usize = 29;
const HIGHEST: f64 = 16.0;
/// 20·log10(2): from one threshold to the next, in decibels.
const STEP: f64 = 6.020_599_913_279_624;
/// How far the level stands above the threshold, in decibels.
const MARGIN: f64 = 15.9;
/// Seconds.
const ENVELOPE: f64 = 0.03;
const HANGOVER: f64 = 0.2;
/// The envelope moves once in so many parts of a second: a hundredth of its time constant.
const STEPS_PER_SECOND: u32 = 3_000;

/// What depends on the sampling rate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pace {
    /// Samples to a step of the envelope.
    samples: usize,
    /// How much of the envelope stays from one step to the next.
    stays: f64,
    /// Steps that speech lasts after it fell below a threshold.
    hangover: u64,
}

impl Pace {
    pub(super) fn new(rate_hz: u32) -> Self {
        let samples = rate_hz.checked_div(STEPS_PER_SECOND).unwrap_or_default().max(1);
        let steps = f64::from(rate_hz) / f64::from(samples);
        Pace {
            samples: samples as usize,
            stays: maths::exp10(-core::f64::consts::LOG10_E / (steps * ENVELOPE)),
            hangover: (HANGOVER * steps + 0.5) as u64,
        }
    }
}

/// How long the envelope was at a threshold or above, in steps.
#[derive(Debug, Clone, Copy)]
struct Active {
    /// Up to the step `since`.
    steps: u64,
    /// The step at which the envelope last crossed it, either way.
    since: u64,
    /// Whether it was ever reached.
    reached: bool,
}

impl Active {
    /// What followed `since` and counts, up to step `now`.
    fn until(&self, now: u64, above: bool, hangover: u64) -> u64 {
        let gone = now.saturating_sub(self.since);
        match (self.reached, above) {
            (false, _) => 0,
            (true, true) => self.steps.saturating_add(gone),
            (true, false) => self.steps.saturating_add(gone.min(hangover)),
        }
    }
}

/// The speech of one channel so far.
#[derive(Debug, Clone)]
pub(super) struct Speech {
    /// Sum and number of the absolute values of the step at work.
    step: f32,
    step_samples: usize,
    steps: u64,
    envelope: [f64; 2],
    /// How many thresholds the envelope is at or above, and in which range of it that stays so.
    above: usize,
    stays_from: f64,
    stays_below: f64,
    /// From the lowest threshold up.
    active: [Active; THRESHOLDS],
}

/// The lowest threshold.
const LOWEST: f64 = HIGHEST / (1_u64 << (THRESHOLDS - 1)) as f64;

impl Speech {
    pub(super) const fn new() -> Self {
        Speech {
            step: 0.0,
            step_samples: 0,
            steps: 0,
            envelope: [0.0; 2],
            above: 0,
            stays_from: 0.0,
            stays_below: LOWEST,
            active: [Active { steps: 0, since: 0, reached: false }; THRESHOLDS],
        }
    }

    pub(super) fn push(&mut self, pace: &Pace, mut samples: &[f32]) {
        while !samples.is_empty() {
            let wanted = pace.samples.saturating_sub(self.step_samples).min(samples.len());
            let (now, rest) = samples.split_at_checked(wanted).unwrap_or_default();
            samples = rest;
            self.step += absolute(now);
            self.step_samples = self.step_samples.saturating_add(wanted);
            if self.step_samples >= pace.samples {
                self.end_step(pace);
            }
        }
    }

    /// Within a step the absolute values count as if they were all alike: the filters are a hundred times
    /// slower.
    fn end_step(&mut self, pace: &Pace) {
        let mean = f64::from(self.step) / pace.samples as f64;
        (self.step, self.step_samples) = (0.0, 0);
        let [first, second] = &mut self.envelope;
        *first = pace.stays * *first + (1.0 - pace.stays) * mean;
        *second = pace.stays * *second + (1.0 - pace.stays) * *first;
        let envelope = *second;
        if envelope < self.stays_from || envelope >= self.stays_below {
            self.cross(pace, envelope);
        }
        self.steps = self.steps.saturating_add(1);
    }

    /// The envelope has crossed thresholds.
    fn cross(&mut self, pace: &Pace, envelope: f64) {
        let (mut threshold, mut above) = (LOWEST, 0_usize);
        self.stays_from = 0.0;
        self.stays_below = f64::INFINITY;
        for (number, active) in self.active.iter_mut().enumerate() {
            let (was, is) = (number < self.above, envelope >= threshold);
            if was != is {
                active.steps = active.until(self.steps, was, pace.hangover);
                (active.since, active.reached) = (self.steps, true);
            }
            if is {
                above = above.saturating_add(1);
                self.stays_from = threshold;
            } else {
                self.stays_below = self.stays_below.min(threshold);
            }
            threshold *= 2.0;
        }
        self.above = above;
    }

    /// How loud, given the sum of squares of all samples and their number. `None` if there was nothing that
    /// stands 15.9 dB above the lowest threshold.
    pub(super) fn read(&self, pace: &Pace, squares: f64, frames: u64) -> Option<SpeechReading> {
        let mut below: Option<(f64, f64)> = None;
        for (number, active) in self.active.iter().enumerate() {
            let steps = active.until(self.steps, number < self.above, pace.hangover);
            if steps == 0 {
                return None;
            }
            let mean = 10.0 * maths::log10(squares / (steps as f64 * pace.samples as f64));
            let threshold = 20.0 * maths::log10(LOWEST) + STEP * number as f64;
            let excess = mean - threshold - MARGIN;
            if excess > 0.0 {
                below = Some((mean, excess));
                continue;
            }
            // Between two thresholds, in a straight line.
            let (lower_mean, lower_excess) = below?;
            let level = lower_mean + (mean - lower_mean) * (lower_excess / (lower_excess - excess));
            let long_term = 10.0 * maths::log10(squares / frames.max(1) as f64);
            let activity = maths::exp10((long_term - level) / 10.0).min(1.0);
            return Dbfs::new(level).ok().map(|level| SpeechReading { level, activity });
        }
        None
    }
}

fn absolute(samples: &[f32]) -> f32 {
    let mut lanes = [0.0_f32; 4];
    let fours = samples.chunks_exact(4);
    let rest = fours.remainder();
    for four in fours.chain((!rest.is_empty()).then_some(rest)) {
        for (lane, sample) in lanes.iter_mut().zip(four) {
            *lane += sample.abs();
        }
    }
    lanes.iter().sum()
}
